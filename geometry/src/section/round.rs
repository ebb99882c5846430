//! Cutting round bars by a plane.

use glam::{DVec2, DVec3};

use super::trace::trace;
use super::{CHORD, PARALLEL};

/// The cut face of a bar with flat ends along the third axis, by the points
/// whose product with `normal` is `height`.
///
/// Seen along the bar the cut is a disc, cut off where the plane leaves
/// through an end.
pub(super) fn cut_cylinder(
    radius: f64,
    half_length: f64,
    normal: DVec3,
    height: f64,
) -> Vec<DVec3> {
    let lean = normal.truncate().length();
    let (ahead, aside) = if lean > PARALLEL {
        let ahead = normal.truncate() / lean;
        (ahead, ahead.perp())
    } else {
        (DVec2::X, DVec2::Y)
    };
    if normal.z.abs() <= PARALLEL {
        let off = height / lean;
        if off.abs() >= radius {
            return Vec::new();
        }
        let chord = aside * ((radius - off) * (radius + off)).sqrt();
        let middle = ahead * off;
        return vec![
            (middle - chord).extend(-half_length),
            (middle + chord).extend(-half_length),
            (middle + chord).extend(half_length),
            (middle - chord).extend(half_length),
        ];
    }
    // Where along `ahead` the plane passes the two ends.
    let ends = half_length * normal.z.abs();
    let (low, high) = if lean > PARALLEL {
        let (low, high) = ((height - ends) / lean, (height + ends) / lean);
        (low.max(-radius), high.min(radius))
    } else if height.abs() < ends {
        (-radius, radius)
    } else {
        return Vec::new();
    };
    if low >= high {
        return Vec::new();
    }
    let raise = |x: f64, y: f64| (ahead * x + aside * y).extend((height - lean * x) / normal.z);
    in_plane(normal, |way| {
        // Product with `way` as it changes with x and y on the plane.
        let per_x = way.truncate().dot(ahead) - way.z * lean / normal.z;
        let per_y = way.truncate().dot(aside);
        let x = radius * per_x / per_x.hypot(per_y).max(f64::MIN_POSITIVE);
        let x = x.clamp(low, high);
        let y = ((radius - x) * (radius + x))
            .max(0.0)
            .sqrt()
            .copysign(per_y);
        raise(x, y)
    })
}

/// The cut face of a bar with round ends along the third axis, by the points
/// whose product with `normal` is `height`.
///
/// Every ball along the bar is cut in a disc (or not at all); the face is all
/// these discs together.
pub(super) fn cut_capsule(radius: f64, half_length: f64, normal: DVec3, height: f64) -> Vec<DVec3> {
    // Centre z of the balls the plane meets.
    let (mut low, mut high) = (-half_length, half_length);
    if normal.z.abs() > PARALLEL {
        let (one, other) = ((height - radius) / normal.z, (height + radius) / normal.z);
        low = low.max(one.min(other));
        high = high.min(one.max(other));
        if low > high {
            return Vec::new();
        }
    } else if height.abs() >= radius {
        return Vec::new();
    }
    in_plane(normal, |way| {
        // Along `way` the disc of the ball at z reaches
        // way.z z + sqrt(radius² - off²), off = height - normal.z z,
        // which is greatest where its slope is 0.
        let z = if normal.z.abs() > PARALLEL {
            let slope = way.z / normal.z;
            let off = -radius * slope / 1.0f64.hypot(slope);
            (height - off) / normal.z
        } else {
            half_length.copysign(way.z)
        };
        let z = z.clamp(low, high);
        let off = height - normal.z * z;
        let disc = ((radius - off) * (radius + off)).max(0.0).sqrt();
        DVec3::Z * z + normal * off + way * disc
    })
}

/// The outline of a convex face that lies square to `normal`, known by its
/// furthest points along directions in its plane.
fn in_plane(normal: DVec3, furthest: impl Fn(DVec3) -> DVec3) -> Vec<DVec3> {
    let (u, v) = normal.any_orthonormal_pair();
    let point = |way: DVec2| furthest(u * way.x + v * way.y);
    let some = point(DVec2::X);
    let on_plane = normal * some.dot(normal);
    let flat = trace(CHORD, |way| {
        let point = point(way);
        DVec2::new(point.dot(u), point.dot(v))
    });
    let back = |c: DVec2| u * c.x + v * c.y + on_plane;
    flat.into_iter().map(back).collect()
}

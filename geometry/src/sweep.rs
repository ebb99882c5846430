//! How far a solid slides in before it meets another.

use glam::{DMat3, DVec3};

use crate::distance::{Convex, Core, facing, nearest_of};
use crate::solids::Solid;

/// A solid that comes no more than this closer than its clear passes, mm.
/// It is there for rounding: sides that touch must not catch.
pub const GLIDE: f64 = 1e-9;

/// The search for where a solid stops ends this close to it, mm.
const NEAR: f64 = 1e-11;

/// Enough steps for the slowest case, a ball that barely grazes another.
const MOST_STEPS: usize = 200;

/// Where a sliding solid first comes too close to one that stays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// How far it still stands out from its seat when it meets, mm; negative:
    /// it reaches its seat and could go that much further.
    pub travel: f64,
    /// The nearest point of the moving solid, given where that point is with
    /// the solid *at its seat*, mm. Where they meet it stands `travel` further out.
    pub on_moving: DVec3,
    /// The nearest point of the fixed solid, mm.
    pub on_fixed: DVec3,
}

/// Where a solid sliding straight in from far out first comes as close as
/// `clear` to one that stays; `None` when it passes.
///
/// Gliding past at exactly `clear` is passing, and with `clear` 0 so is
/// touching: it must come closer by more than [`GLIDE`]. The travel is right
/// to 1e-8 mm, except where the two only just graze: there it is uncertain by
/// 1e-11 mm divided by the slope at which they close in.
///
/// * `moving`: the sliding solid, placed at its seat
/// * `fixed`: the solid that stays
/// * `direction`: unit vector along which it slides in
/// * `clear`: room it must keep, mm, 0 or more
pub fn stop_along(moving: &Solid, fixed: &Solid, direction: DVec3, clear: f64) -> Option<Meeting> {
    let mut first: Option<(f64, Convex, Convex)> = None;
    for slider in Convex::pieces(moving) {
        for stay in Convex::pieces(fixed) {
            let travel = travel(&slider, &stay, direction, clear);
            let Some(travel) = travel else { continue };
            if first.is_none_or(|(known, ..)| travel > known) {
                first = Some((travel, slider, stay));
            }
        }
    }
    let (travel, slider, stay) = first?;
    let nearest = nearest_of(&out(&slider, direction, travel), &stay);
    Some(Meeting {
        travel,
        on_moving: nearest.on_a + direction * travel,
        on_fixed: nearest.on_b,
    })
}

/// The same convex solid pulled out against the direction it slides in.
fn out<'a>(solid: &Convex<'a>, direction: DVec3, travel: f64) -> Convex<'a> {
    Convex {
        at: solid.at - direction * travel,
        ..*solid
    }
}

/// How far out a convex solid stops.
///
/// The distance to a convex solid along a line is a convex function of the
/// travel. Newton's steps on it, taken from far out, therefore never overshoot.
fn travel(moving: &Convex, fixed: &Convex, direction: DVec3, clear: f64) -> Option<f64> {
    if let Some(answer) = upright_blocks(moving, fixed, direction, clear) {
        return answer;
    }
    // Further out than `far` or further in than `near`, they are certainly
    // `clear` apart: their extents along the direction are.
    let ahead = fixed.least(direction) - moving.most(direction);
    let behind = moving.least(direction) - fixed.most(direction);
    let (far, near) = (clear - ahead, behind - clear);
    // Signed distance above `clear` and how fast it grows with the travel.
    let above = |travel: f64| {
        let moved = out(moving, direction, travel);
        let face = facing(&moved, fixed);
        let slope = face.direction(&moved, fixed).dot(direction);
        (face.distance - clear, slope)
    };
    let mut travel = far;
    for _ in 0..MOST_STEPS {
        let (excess, slope) = above(travel);
        if slope > 0.0 && excess > 0.0 {
            travel -= excess / slope;
        }
        if excess <= NEAR {
            break;
        }
        if slope <= 0.0 || travel <= near {
            return None;
        }
    }
    comes_closer(above, near, travel).then_some(travel)
}

/// Whether the excess falls below `-GLIDE` anywhere between `low` and `high`,
/// by halving on the sign of its slope.
fn comes_closer(above: impl Fn(f64) -> (f64, f64), mut low: f64, mut high: f64) -> bool {
    let mut probe = high - 1.0;
    while high - low > NEAR {
        if probe <= low {
            probe = 0.5 * (low + high);
        }
        let (excess, slope) = above(probe);
        if excess < -GLIDE {
            return true;
        }
        if slope > 0.0 {
            high = probe;
        } else if slope < 0.0 {
            low = probe;
        } else {
            return false;
        }
        probe = 0.5 * (low + high);
    }
    false
}

/// The closed form for two upright blocks, one sliding along an axis; the
/// outer `None` when they are not.
fn upright_blocks(
    moving: &Convex,
    fixed: &Convex,
    direction: DVec3,
    clear: f64,
) -> Option<Option<f64>> {
    let (Core::Block { half: a }, Core::Block { half: b }) = (moving.core, fixed.core) else {
        return None;
    };
    let along = direction.abs();
    let upright = moving.axes == DMat3::IDENTITY && fixed.axes == DMat3::IDENTITY;
    if !upright || ![DVec3::X, DVec3::Y, DVec3::Z].contains(&along) {
        return None;
    }
    let between = fixed.at - moving.at;
    let gaps = between.abs() - a - b;
    // The gap beside the line of travel; negative when they overlap there.
    let beside = DVec3::select(along.cmpeq(DVec3::ZERO), gaps, DVec3::NEG_INFINITY);
    let widest = beside.max_element();
    let side_gap = if widest <= 0.0 {
        widest
    } else {
        beside.max(DVec3::ZERO).length()
    };
    if side_gap >= clear - GLIDE {
        return Some(None);
    }
    let side_gap = side_gap.max(0.0);
    let gap_along = ((clear - side_gap) * (clear + side_gap)).sqrt();
    let ahead = between.dot(direction) - (a + b).dot(along);
    Some(Some(gap_along - ahead))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::DEPTH;
    use approx::assert_abs_diff_eq;

    fn block(min: [f64; 3], max: [f64; 3]) -> Solid {
        Solid::block(min.into(), max.into())
    }

    /// A unit 100 deep whose back is at depth 100, and a rib behind it.
    fn unit() -> Solid {
        block([-50., 0., -25.], [50., 100., 25.])
    }

    #[test]
    fn a_rib_in_the_way_holds_the_unit_out_by_what_is_short() {
        let rib = block([-5., 90., -60.], [5., 95., -20.]);
        let meeting = stop_along(&unit(), &rib, DEPTH, 0.0).unwrap();
        assert_abs_diff_eq!(meeting.travel, 10.0, epsilon = 1e-12);
        assert_abs_diff_eq!(meeting.on_moving.y, 100.0, epsilon = 1e-9);
        assert_abs_diff_eq!(meeting.on_fixed.y, 90.0, epsilon = 1e-9);
        let meeting = stop_along(&unit(), &rib, DEPTH, 3.0).unwrap();
        assert_abs_diff_eq!(meeting.travel, 13.0, epsilon = 1e-12);
    }

    #[test]
    fn what_lies_behind_gives_the_depth_to_spare() {
        let beam = Solid::cylinder(DVec3::new(-99., 130., 0.), DVec3::new(99., 130., 0.), 20.0);
        let meeting = stop_along(&unit(), &beam, DEPTH, 5.0).unwrap();
        assert_abs_diff_eq!(meeting.travel, -15.0, epsilon = 1e-9);
    }

    #[test]
    fn gliding_at_exactly_the_clear_is_passing() {
        for clear in [0.0, 3.0] {
            let beside = block([50. + clear, 20., -9.], [70., 30., 9.]);
            assert_eq!(stop_along(&unit(), &beside, DEPTH, clear), None);
            let bar = Solid::cylinder(
                DVec3::new(56. + clear, 40., -9.),
                DVec3::new(56. + clear, 40., 9.),
                12.0,
            );
            assert_eq!(stop_along(&unit(), &bar, DEPTH, clear), None);
            let a_hair_nearer = bar.shifted(DVec3::new(-1e-6, 0., 0.));
            let meeting = stop_along(&unit(), &a_hair_nearer, DEPTH, clear).unwrap();
            // The bar's flank reaches 1e-6 mm into the way: half a chord of its circle.
            let chord = (2.0f64 * (6.0 + clear) * 1e-6).sqrt();
            assert_abs_diff_eq!(meeting.travel, 60.0 + chord, epsilon = 1e-6);
        }
    }

    #[test]
    fn a_corner_is_kept_clear_of_in_the_round() {
        // 3 mm beside and 4 mm along make a clear of 5 mm.
        let rib = block([53., 120., -9.], [60., 130., 9.]);
        let meeting = stop_along(&unit(), &rib, DEPTH, 5.0).unwrap();
        assert_abs_diff_eq!(meeting.travel, -16.0, epsilon = 1e-12);
        let turned = rib.posed(&crate::Pose::turned_about(
            glam::DQuat::from_rotation_y(1e-3),
            DVec3::new(53., 120., 0.),
        ));
        let meeting = stop_along(&unit(), &turned, DEPTH, 5.0).unwrap();
        assert_abs_diff_eq!(meeting.travel, -16.0, epsilon = 0.1);
    }
}

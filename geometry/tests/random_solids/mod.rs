//! Seeded random solids of every kind, and the same solids for the oracle.

use std::f64::consts::TAU;

use geometry::{Outline, Plane, Pose, Shape, Solid};
use glam::{DQuat, DVec2, DVec3};
use parry3d_f64::math::{Pose3, Rot3, Vec3};
use parry3d_f64::shape::{Capsule, ConvexPolyhedron, Cuboid, Cylinder, SharedShape};

/// SplitMix64: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable
/// pseudorandom number generators", 2014.
pub struct Seeded(pub u64);

impl Seeded {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform in `low..high`.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Uniform in 0..count.
    pub fn below(&mut self, count: usize) -> usize {
        (self.bits() % count as u64) as usize
    }

    /// A point in a cube of half size `reach`.
    pub fn point(&mut self, reach: f64) -> DVec3 {
        DVec3::from_array([(); 3].map(|()| self.within(-reach, reach)))
    }

    /// A unit vector.
    pub fn direction(&mut self) -> DVec3 {
        loop {
            let point = self.point(1.0);
            let square = point.length_squared();
            if (0.01..=1.0).contains(&square) {
                return point / square.sqrt();
            }
        }
    }

    /// A turn about a random axis.
    pub fn turn(&mut self) -> DQuat {
        let axis = self.direction();
        DQuat::from_axis_angle(axis, self.within(0.0, TAU))
    }

    /// A size: mostly tens of millimetres, now and then a thin sheet or a long bar.
    pub fn size(&mut self) -> f64 {
        match self.below(6) {
            0 => self.within(0.5, 3.0),
            1 => self.within(50.0, 200.0),
            _ => self.within(5.0, 50.0),
        }
    }
}

/// The kinds of convex solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Block,
    Cylinder,
    Capsule,
    Prism,
    Hull,
}

pub const KINDS: [Kind; 5] = [
    Kind::Block,
    Kind::Cylinder,
    Kind::Capsule,
    Kind::Prism,
    Kind::Hull,
];

/// A random convex solid of a kind around the origin, turned anyhow.
pub fn solid(kind: Kind, seeded: &mut Seeded) -> Solid {
    let upright = match kind {
        Kind::Block => {
            let half = 0.5 * DVec3::new(seeded.size(), seeded.size(), seeded.size());
            Solid::block(-half, half)
        }
        Kind::Cylinder => {
            let end = DVec3::Z * 0.5 * seeded.size();
            Solid::cylinder(-end, end, seeded.size())
        }
        Kind::Capsule => {
            let end = DVec3::Z * 0.5 * seeded.size();
            Solid::capsule(-end, end, seeded.within(1.0, 20.0))
        }
        Kind::Prism => {
            let long = 0.5 * seeded.size();
            let plane = [Plane::AcrossUp, Plane::AcrossDepth, Plane::DepthUp][seeded.below(3)];
            Solid::prism(&round_outline(seeded), plane, [-long, long])
        }
        Kind::Hull => {
            let reach = DVec3::new(seeded.size(), seeded.size(), seeded.size());
            let count = 4 + seeded.below(7);
            Solid::hull((0..count).map(|_| reach * seeded.point(0.5)).collect())
        }
    };
    upright.posed(&Pose {
        turn: seeded.turn(),
        shift: DVec3::ZERO,
    })
}

/// A convex outline with its corners on an ellipse.
pub fn round_outline(seeded: &mut Seeded) -> Outline {
    let count = 3 + seeded.below(6);
    let size = DVec2::new(seeded.size(), seeded.size());
    let step = TAU / count as f64;
    let corner = |i: usize| {
        let angle = step * (i as f64 + seeded.within(-0.4, 0.4));
        0.5 * size * DVec2::from_angle(angle)
    };
    Outline::new((0..count).map(corner).collect()).expect("corners in order round an ellipse")
}

/// The same convex solid for the oracle.
pub fn parry(solid: &Solid) -> (Pose3, SharedShape) {
    let vec = |v: DVec3| Vec3::new(v.x, v.y, v.z);
    let pose = solid.pose();
    let turn = pose.turn;
    let turn = Rot3::from_xyzw(turn.x, turn.y, turn.z, turn.w);
    let place = Pose3::from_parts(vec(pose.shift), turn);
    // Round bars run along its second axis there.
    let bar = Rot3::from_axis_angle(Vec3::X, std::f64::consts::FRAC_PI_2);
    match solid.shape() {
        Shape::Block { half } => (place, SharedShape::new(Cuboid::new(vec(*half)))),
        Shape::Cylinder {
            radius,
            half_length,
        } => {
            let place = Pose3::from_parts(vec(pose.shift), turn * bar);
            (
                place,
                SharedShape::new(Cylinder::new(*half_length, *radius)),
            )
        }
        Shape::Capsule {
            radius,
            half_length,
        } => (
            place,
            SharedShape::new(Capsule::new_z(*half_length, *radius)),
        ),
        Shape::Prism { .. } | Shape::Hull(_) => {
            let corners: Vec<Vec3> = solid.corners().into_iter().map(vec).collect();
            let hull = ConvexPolyhedron::from_convex_hull(&corners).expect("a solid hull");
            (Pose3::IDENTITY, SharedShape::new(hull))
        }
    }
}

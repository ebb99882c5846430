//! What holds the nodes of a mesh.

use glam::DVec2;

use super::{Held, Hold, RibFault};

/// A node nearer than this to a held stretch is held, mm.
const ON: f64 = 1e-6;

/// Directions nearer than this to parallel are so: the sine between them.
const PARALLEL: f64 = 1e-9;

/// What a vector at a node (its movement in the plane, the slope of its
/// deflection) is kept from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Grip {
    Free,
    /// Held along this unit vector, free square to it.
    Along(DVec2),
    Fixed,
}

impl Grip {
    fn with(self, other: Grip) -> Grip {
        match (self, other) {
            (Grip::Free, grip) | (grip, Grip::Free) => grip,
            (Grip::Along(a), Grip::Along(b)) if a.perp_dot(b).abs() < PARALLEL => self,
            _ => Grip::Fixed,
        }
    }
}

/// What is held at each node: its vector, and its deflection out of the plane.
#[derive(Clone, Debug)]
pub(super) struct Grips {
    pub vector: Vec<Grip>,
    pub deflection: Vec<bool>,
}

impl Grips {
    pub fn new(nodes: &[DVec2], held: &[Held]) -> Result<Grips, RibFault> {
        let mut grips = Grips {
            vector: vec![Grip::Free; nodes.len()],
            deflection: vec![false; nodes.len()],
        };
        for stretch in held {
            let run = stretch.to - stretch.from;
            let Some(along) = run.try_normalize() else {
                return Err(RibFault::NotANumber);
            };
            let grip = match stretch.how {
                Hold::Simple => Grip::Along(along),
                Hold::Mirrored => Grip::Along(along.perp()),
                Hold::Clamped => Grip::Fixed,
            };
            for (node, place) in nodes.iter().enumerate() {
                let from = *place - stretch.from;
                let far = from.dot(along);
                if along.perp_dot(from).abs() < ON && far > -ON && far < run.length() + ON {
                    grips.vector[node] = grips.vector[node].with(grip);
                    grips.deflection[node] |= stretch.how != Hold::Mirrored;
                }
            }
        }
        Ok(grips)
    }

    /// Holds one more node where all are held in one direction only, so that
    /// the rib does not slide the other way: the node nearest the middle of
    /// the first stretch.
    pub fn pin(&mut self, nodes: &[DVec2], held: &[Held]) {
        let mut all = Grip::Free;
        for grip in &self.vector {
            all = all.with(*grip);
        }
        if let (Grip::Along(_), Some(first)) = (all, held.first()) {
            let middle = 0.5 * (first.from + first.to);
            let distance = |i: &usize| nodes[*i].distance_squared(middle);
            let nearest = (0..nodes.len()).min_by(|a, b| distance(a).total_cmp(&distance(b)));
            if let Some(nearest) = nearest {
                self.vector[nearest] = Grip::Fixed;
            }
        }
    }
}

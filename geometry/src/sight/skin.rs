//! The outside of one solid or lead, with its edges.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::section::Facet;

/// Facets that meet at less than this (cosine) meet at an edge; flatter, they
/// stand for one round surface.
const EDGE: f64 = 0.86;

/// Corners nearer to each other than this are one, mm.
const SAME: f64 = 1e-4;

/// An outside: flat facets and the edges between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Skin {
    /// The facets.
    pub facets: Vec<Facet>,
    /// The edges between them.
    pub(super) edges: Vec<Edge>,
}

/// A side shared by two facets, or the rim of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edge {
    /// Its ends, mm.
    pub ends: [DVec3; 2],
    /// The facets on both sides, by number; the same twice at a rim.
    pub sides: [usize; 2],
    /// Whether they meet at an angle rather than follow a round surface.
    pub sharp: bool,
}

impl Skin {
    /// Finds the edges of facets.
    pub fn of(facets: Vec<Facet>) -> Skin {
        let mut sides: BTreeMap<[[i64; 3]; 2], (usize, [DVec3; 2])> = BTreeMap::new();
        let mut edges = Vec::new();
        for (number, facet) in facets.iter().enumerate() {
            let next = facet.corners.iter().cycle().skip(1);
            for (&from, &to) in facet.corners.iter().zip(next) {
                let mut key = [cell(from), cell(to)];
                key.sort_unstable();
                if key[0] == key[1] {
                    continue;
                }
                match sides.remove(&key) {
                    Some((other, ends)) => edges.push(Edge {
                        ends,
                        sides: [other, number],
                        sharp: facets[other].normal.dot(facet.normal) < EDGE,
                    }),
                    None => {
                        sides.insert(key, (number, [from, to]));
                    }
                }
            }
        }
        edges.extend(sides.into_values().map(|(number, ends)| Edge {
            ends,
            sides: [number, number],
            sharp: true,
        }));
        Skin { facets, edges }
    }
}

fn cell(point: DVec3) -> [i64; 3] {
    (point / SAME).round().to_array().map(|at| at as i64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::facets;
    use crate::solids::Solid;

    #[test]
    fn a_block_has_twelve_edges_and_a_bar_two_rims() {
        let sharp = |solid: &Solid| {
            let skin = Skin::of(facets(solid));
            assert!(skin.edges.iter().all(|edge| edge.sides[0] != edge.sides[1]));
            let sharp = skin.edges.iter().filter(|edge| edge.sharp).count();
            (sharp, skin.edges.len() - sharp)
        };
        assert_eq!(sharp(&Solid::block(DVec3::ZERO, DVec3::ONE * 9.0)), (12, 0));
        let (rims, along) = sharp(&Solid::cylinder(DVec3::ZERO, DVec3::Y * 50.0, 20.0));
        assert_eq!(rims, 2 * along);
    }
}

//! Forces on the nodes of a mesh.

use glam::{DVec2, DVec3};

use super::chains::{Chains, SAME};
use super::mesh::Mesh;
use super::{Edge, Load, Notch, Push, RibFault};

/// Forces on nodes: each with a part for every unknown of its node.
pub(super) type Forces<const D: usize> = Vec<(usize, [f64; D])>;

/// The pushes that make up a load.
#[derive(Clone, Debug)]
pub(super) struct Pushes {
    pub each: Vec<Push>,
    /// Whether they are spread over the height out of the plane too.
    spread: bool,
}

impl Load {
    /// Its pushes. A unit push has both directions: in the plane and out of it
    /// are judged apart.
    pub(super) fn pushes(&self, chains: &Chains, notches: &[Notch]) -> Result<Pushes, RibFault> {
        let unit = |x: f64| {
            let at = chains.point(Edge::Lower, x);
            let each = vec![Push {
                at,
                force: DVec3::new(0.0, 1.0, 1.0),
            }];
            Ok(Pushes { each, spread: true })
        };
        match self {
            Load::AtCentre => unit(chains.middle()),
            Load::AtNotch(number) => {
                let notch = notches.get(*number).ok_or(RibFault::NoSuchNotch(*number))?;
                unit(notch.middle())
            }
            Load::Own(pushes) | Load::Spread(pushes) => {
                if !pushes
                    .iter()
                    .all(|push| push.at.is_finite() && push.force.is_finite())
                {
                    return Err(RibFault::NotANumber);
                }
                Ok(Pushes {
                    each: pushes.clone(),
                    spread: matches!(self, Load::Spread(_)),
                })
            }
        }
    }
}

impl Pushes {
    /// How much force they have in the plane, N.
    pub fn in_plane(&self) -> f64 {
        self.each
            .iter()
            .map(|push| push.force.truncate().length())
            .sum()
    }

    /// How much force they have square to it, N.
    pub fn out_of_plane(&self) -> f64 {
        self.each.iter().map(|push| push.force.z.abs()).sum()
    }

    /// The x's they act at, mm.
    pub fn along(&self) -> Vec<f64> {
        self.each.iter().map(|push| push.at.x).collect()
    }

    /// Their forces in the plane, on nodes.
    pub fn flat(&self, mesh: &Mesh) -> Result<Forces<2>, RibFault> {
        let mut forces = Vec::new();
        for (number, push) in self.each.iter().enumerate() {
            let nodes = spread(&mesh.across(push.at.x)).ok_or(RibFault::LoadOff(number))?;
            let [x, y, _] = push.force.to_array();
            forces.extend(
                nodes
                    .iter()
                    .map(|(node, share)| (*node, [x * share, y * share])),
            );
        }
        Ok(forces)
    }

    /// Their forces out of the plane, on nodes.
    pub fn square(&self, mesh: &Mesh) -> Result<Forces<3>, RibFault> {
        let mut forces = Vec::new();
        for (number, push) in self.each.iter().enumerate() {
            let cuts = mesh.across(push.at.x);
            let nodes = if self.spread {
                spread(&cuts)
            } else {
                at(&cuts, push.at.y)
            };
            let nodes = nodes.ok_or(RibFault::LoadOff(number))?;
            forces.extend(
                nodes
                    .iter()
                    .map(|(node, share)| (*node, [push.force.z * share, 0.0, 0.0])),
            );
        }
        Ok(forces)
    }
}

/// Where a line across the rib meets a side of an element: its height, and what
/// the side's two nodes have of it.
type Meeting = (f64, [(usize, f64); 2]);

/// The piece of a line within one element, from its lower meeting to its upper.
type Cut = [Meeting; 2];

impl Mesh {
    /// The pieces of the line across the rib at an x, element by element.
    fn across(&self, x: f64) -> Vec<Cut> {
        let cuts = |before: &dyn Fn(f64) -> bool| {
            self.quads
                .iter()
                .filter_map(|quad| cut(&self.nodes, quad, x, before))
                .collect()
        };
        // A line that runs along sides belongs to the elements right of it, but
        // at the right end to those left of it.
        let right: Vec<Cut> = cuts(&|at| at <= x + SAME);
        if right.is_empty() {
            cuts(&|at| at < x - SAME)
        } else {
            right
        }
    }
}

/// Where a line across meets an element, if it does.
fn cut(nodes: &[DVec2], quad: &[usize; 4], x: f64, before: &dyn Fn(f64) -> bool) -> Option<Cut> {
    let side = quad.map(|node| before(nodes[node].x));
    let mut met = [None; 2];
    let mut count = 0;
    for i in 0..4 {
        let next = (i + 1) % 4;
        if side[i] != side[next] && count < 2 {
            let (from, to) = (nodes[quad[i]], nodes[quad[next]]);
            let share = (x - from.x) / (to.x - from.x);
            let height = from.y + (to.y - from.y) * share;
            met[count] = Some((height, [(quad[i], 1.0 - share), (quad[next], share)]));
            count += 1;
        }
    }
    let [one, other]: [Meeting; 2] = [met[0]?, met[1]?];
    Some(if one.0 <= other.0 {
        [one, other]
    } else {
        [other, one]
    })
}

/// A force of 1 spread evenly along a line, by node.
fn spread(cuts: &[Cut]) -> Option<Vec<(usize, f64)>> {
    let length: f64 = cuts.iter().map(|[low, high]| high.0 - low.0).sum();
    if length <= 0.0 {
        return None;
    }
    let halves = cuts.iter().flat_map(|[low, high]| {
        let half = 0.5 * (high.0 - low.0) / length;
        low.1
            .into_iter()
            .chain(high.1)
            .map(move |(node, share)| (node, share * half))
    });
    Some(halves.collect())
}

/// A force of 1 at a height on a line, by node.
fn at(cuts: &[Cut], height: f64) -> Option<Vec<(usize, f64)>> {
    let off = |[low, high]: &Cut| (low.0 - height).max(height - high.0);
    let [low, high] = cuts.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    if (low.0 - height).max(height - high.0) > 1e-6 {
        return None;
    }
    let length = high.0 - low.0;
    let share = if length > 0.0 {
        ((height - low.0) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let part = |(_, nodes): &Meeting, part: f64| nodes.map(|(node, share)| (node, share * part));
    let both = part(low, 1.0 - share).into_iter().chain(part(high, share));
    Some(both.collect())
}

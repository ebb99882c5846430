//! The outline of a rib as cut.

use glam::DVec2;

use super::chains::{Chains, Wall};
use super::holes::holes;
use super::{Edge, Notch, Rib, RibFault};
use crate::Outline;

/// How far a chord may stand off a round corner, mm.
const CHORD: f64 = 0.02;

/// The outline of a rib with its notches cut. Round corners become chords that
/// stand off the true arc by at most 0.02 mm, on the side of the notch: the
/// outline holds no less than the rib.
///
/// # Errors
/// See [`RibFault`].
pub fn cut(rib: &Rib, notches: &[Notch]) -> Result<Outline, RibFault> {
    cut_within(rib, notches, CHORD)
}

/// The same with chords that stand off by at most `chord`, mm.
///
/// # Errors
/// See [`RibFault`].
pub fn cut_within(rib: &Rib, notches: &[Notch], chord: f64) -> Result<Outline, RibFault> {
    let chains = Chains::new(&rib.outline)?;
    holes(&chains, notches)?;
    let mut corners = edge(&chains, notches, Edge::Lower, chord);
    let mut upper = edge(&chains, notches, Edge::Upper, chord);
    upper.reverse();
    corners.append(&mut upper);
    Outline::new(corners).map_err(RibFault::Outline)
}

/// One edge with its notches, left to right.
fn edge(chains: &Chains, notches: &[Notch], edge: Edge, chord: f64) -> Vec<DVec2> {
    let mut cuts: Vec<&Notch> = notches.iter().filter(|notch| notch.edge == edge).collect();
    cuts.sort_by(|a, b| a.along[0].total_cmp(&b.along[0]));
    let mut rest = chains.edge(edge).iter().peekable();
    let mut corners = Vec::new();
    for notch in cuts {
        while let Some(corner) = rest.next_if(|corner| corner.x <= notch.along[1]) {
            if corner.x < notch.along[0] {
                corners.push(*corner);
            }
        }
        corners.extend(wall(&Wall::new(chains, notch), chord));
    }
    corners.extend(rest);
    corners
}

/// The corners of a notch's wall, left to right.
pub(super) fn wall(wall: &Wall, chord: f64) -> Vec<DVec2> {
    let mut corners = vec![wall.point(0.0, 0.0)];
    if wall.radius > 0.0 {
        let angle = 2.0 * (1.0 - (chord / wall.radius).min(1.0)).acos();
        let steps = (std::f64::consts::FRAC_PI_2 / angle).ceil().max(1.0);
        let share = |step: usize| step as f64 / steps;
        let steps = steps as usize;
        corners.extend((0..=steps).map(|step| wall.arc(share(step), false)));
        corners.extend((0..=steps).rev().map(|step| wall.arc(share(step), true)));
    } else {
        corners.push(wall.point(0.0, wall.depth));
        corners.push(wall.point(wall.width, wall.depth));
    }
    corners.push(wall.point(wall.width, 0.0));
    corners.dedup_by(|next, kept| next.distance(*kept) < super::chains::SAME);
    corners
}

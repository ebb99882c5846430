//! Bringing what is dragged to the edges and middles of what lies around.

use glam::DVec3;

use super::Handle;
use crate::desk::edit::Target;
use crate::desk::model::{Model, Part};

/// A place along an axis that others come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The axis.
    pub axis: usize,
    /// Where it lies along it, mm.
    pub at: f64,
    /// What it is: "screw boss", "middle of the screw boss".
    pub name: String,
    /// What it belongs to: lowest and highest corner, mm.
    pub room: [DVec3; 2],
}

/// Everything that `handle` may come to.
pub fn stops(model: &Model, handle: &Handle) -> Vec<Stop> {
    let mut stops = Vec::new();
    let mut add = |name: &str, room: [DVec3; 2]| {
        for axis in 0..3 {
            let [low, high] = room.map(|corner| corner[axis]);
            let middle = format!("middle of the {name}");
            for (at, name) in [(low, name), (high, name), (0.5 * (low + high), &middle)] {
                stops.push(Stop {
                    axis,
                    at,
                    name: name.to_owned(),
                    room,
                });
            }
        }
    };
    for thing in &model.things {
        // A plug goes with its socket, and so does the chassis.
        let goes_along = thing.target == handle.target
            || (handle.target == Target::Unit && thing.part != Part::Fixed);
        if !goes_along {
            let bounds = thing.solid.bounds();
            add(&thing.name, [bounds.min, bounds.max]);
        }
    }
    for hole in model.holes.iter().filter(|it| it.target != handle.target) {
        add(&hole.name, [hole.centre; 2]);
    }
    if let Some(layout) = &model.layout {
        let half = layout.opening_half;
        let corner = DVec3::new(half.x, 0.0, half.y);
        add("opening", [-corner, corner]);
    }
    stops
}

/// What a displacement along one axis comes to: how much further, and at which
/// stop; the nearest within `reach` mm, the first of equals.
pub fn nearest<'a>(
    stops: &'a [Stop],
    handle: &Handle,
    axis: usize,
    by: f64,
    reach: f64,
) -> Option<(f64, &'a Stop)> {
    let mut best: Option<(f64, &Stop)> = None;
    for stop in stops.iter().filter(|stop| stop.axis == axis) {
        for place in handle.places(axis) {
            let further = stop.at - (place + by);
            let nearer = best.is_none_or(|(other, _)| further.abs() < other.abs() - 1e-9);
            if further.abs() <= reach && nearer {
                best = Some((further, stop));
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::super::{Held, Piece};
    use super::*;

    fn face(at: f64) -> Handle {
        Handle {
            held: Held::Obstacle(0, Piece::Face(1, false)),
            target: Target::Obstacle("R1".to_owned()),
            name: "rib: near face".to_owned(),
            room: [DVec3::new(-50.0, at, 0.0), DVec3::new(50.0, at, 30.0)],
            free: [false, true, false],
            outward: -DVec3::Y,
            readings: Vec::new(),
        }
    }

    fn stop(axis: usize, at: f64) -> Stop {
        Stop {
            axis,
            at,
            name: "boss".to_owned(),
            room: [DVec3::ZERO; 2],
        }
    }

    #[test]
    fn the_nearest_stop_within_reach_is_taken_exactly() {
        let stops = [stop(1, 206.0), stop(1, 209.0), stop(0, 210.0)];
        let face = face(212.0);
        let (further, to) = nearest(&stops, &face, 1, -2.2, 2.0).expect("one is near");
        assert_eq!(to.at, 209.0);
        assert!((212.0 - 2.2 + further - 209.0).abs() < 1e-12);
        assert!(nearest(&stops, &face, 1, 4.0, 2.0).is_none());
    }
}

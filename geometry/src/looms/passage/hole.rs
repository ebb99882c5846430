//! A hole that leads pass.

use glam::DVec2;

use super::room::Room;
use super::touch::largest;
use crate::job::{Exit, ExitShape};
use crate::looms::conduit;

/// A hole, drawn square to the way through it, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Hole {
    /// A round one by its diameter, about the origin.
    Round(f64),
    /// Any simple polygon by its corners in order, either way round.
    Polygon(Vec<DVec2>),
}

impl Hole {
    /// The hole of an exit, about the exit's centre.
    pub fn of(exit: &Exit) -> Hole {
        match &exit.shape {
            ExitShape::Round(diameter) => Hole::Round(*diameter),
            ExitShape::Rectangle(_) | ExitShape::Polygon(_) => Hole::Polygon(exit.outline()),
        }
    }

    /// A rectangle about the origin.
    pub fn rectangle(width: f64, height: f64) -> Hole {
        let half = 0.5 * DVec2::new(width, height);
        let corner = |x: f64, y: f64| half * DVec2::new(x, y);
        Hole::Polygon(vec![
            corner(-1.0, -1.0),
            corner(1.0, -1.0),
            corner(1.0, 1.0),
            corner(-1.0, 1.0),
        ])
    }

    /// The largest circle in it: its centre and its diameter, exact to rounding.
    /// `None` when it encloses nothing.
    pub fn largest_round(&self) -> Option<(DVec2, f64)> {
        let (centre, radius) = largest(&Room::of(self)?, &[])?;
        Some((centre, 2.0 * radius))
    }

    /// Its area, mm².
    pub fn area(&self) -> f64 {
        match self {
            Hole::Round(diameter) => conduit::area(*diameter),
            Hole::Polygon(corners) => {
                let cross = |i: usize| corners[i].perp_dot(corners[(i + 1) % corners.len()]);
                0.5 * (0..corners.len()).map(cross).sum::<f64>().abs()
            }
        }
    }
}

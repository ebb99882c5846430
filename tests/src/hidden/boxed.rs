//! A path with the boxes around its pieces, which say at once what is far from it.

use std::ops::Range;

use geometry::{Bounds, Path, Piece, Solid, closer_than, paths_closer_than};

/// A path and the boxes around its pieces.
pub struct Boxed<'a> {
    /// The path.
    pub path: &'a Path,
    boxes: Vec<Bounds>,
}

impl<'a> Boxed<'a> {
    /// A path with its boxes.
    pub fn new(path: &'a Path) -> Boxed<'a> {
        Boxed {
            path,
            boxes: path.pieces.iter().map(Piece::bounds).collect(),
        }
    }

    /// Whether it comes nearer to a solid than `room` mm from its middle.
    ///
    /// * `pieces`: the pieces that are asked
    /// * `around`: the box around the solid
    pub fn comes_near(
        &self,
        pieces: Range<usize>,
        solid: &Solid,
        around: &Bounds,
        room: f64,
    ) -> bool {
        let Some(boxes) = self.boxes.get(pieces.clone()) else {
            return false;
        };
        if boxes.iter().all(|one| one.gap(around) >= room) {
            return false;
        }
        if pieces == (0..self.boxes.len()) {
            return closer_than(self.path, solid, room).is_some();
        }
        let part = Path {
            pieces: self.path.pieces[pieces].to_vec(),
        };
        closer_than(&part, solid, room).is_some()
    }

    /// Whether two paths come nearer to each other than `room` mm.
    pub fn meets(&self, other: &Boxed, room: f64) -> bool {
        let near = |one: &Bounds| other.boxes.iter().any(|two| one.gap(two) < room);
        self.boxes.iter().any(near) && paths_closer_than(self.path, other.path, room).is_some()
    }
}

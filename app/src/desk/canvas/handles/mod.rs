//! Things moved by hand on the drawing.
//!
//! A [`Handle`] is a place where the hand can take hold of something: a whole
//! box, one of its faces, a wall, a socket. It says what it is called, where it
//! lies, and along which axes it may go; [`Held`] says which lengths of the
//! job go with it, and makes the edit. Everything else is the same for all of
//! them: [`hand`] hits, drags, nudges, [`snap`] brings to what lies near,
//! [`draw`] puts marks and the changing dimension on the paper.
//!
//! To make something new movable: a variant of [`Held`], its arm in
//! [`Held::moved`], and its handles in [`of`]. A variant never computes
//! geometry; it changes lengths as they were typed
//! ([`profiles::Length::moved`]), so that a ± stays. Moving is measuring anew,
//! so what is never cut may be moved like anything else.

mod boxes;
pub mod draw;
pub mod hand;
mod places;
pub mod snap;
mod walls;

use glam::DVec3;
use profiles::schema::JobFile;
use profiles::{Length, Library};

use super::camera::View;
use crate::desk::edit::{Edit, Target};
use crate::desk::model::Model;

pub use boxes::Piece;
pub use hand::Hand;
pub use walls::Wall;

/// The three axes, as they are counted in arrays.
pub const AXES: [&str; 3] = ["across", "depth", "up"];

/// Whose lengths the hand moves. Numbers count from 0 in the job's lists.
#[derive(Clone, Debug, PartialEq)]
pub enum Held {
    /// An obstacle, or a piece of it.
    Obstacle(usize, Piece),
    /// A pinned module, as a whole: it keeps its size.
    Module(usize),
    /// A pocket, or a face of it.
    Pocket(usize, Piece),
    /// An exit.
    Exit(usize),
    /// A wall of a cross-section, or its depth.
    Station(usize, Wall),
    /// A socket of the unit, by its id.
    Socket(String),
}

/// A place where the hand can take hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// What is moved.
    pub held: Held,
    /// What it belongs to.
    pub target: Target,
    /// What it is called: "rear cross rib: near face".
    pub name: String,
    /// What it covers: lowest and highest corner, mm. Flat for a face.
    pub room: [DVec3; 2],
    /// Along which axes it may go (across, depth, up).
    pub free: [bool; 3],
    /// The way out of what it belongs to, for a face; else nought.
    pub outward: DVec3,
    /// The lengths it goes by, as they stand.
    pub readings: Vec<Reading>,
}

/// A length that has changed under the hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What is measured: "near face".
    pub name: String,
    /// The length as it is now written.
    pub length: Length,
    /// The axis it is measured along.
    pub axis: usize,
    /// From where to where it is measured along that axis, mm; for a socket
    /// from the middle or the front of the chassis.
    pub from_to: [f64; 2],
}

/// What a move comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The change of the document.
    pub edit: Edit,
    /// The lengths that change.
    pub readings: Vec<Reading>,
}

/// What handles are made from.
#[derive(Clone, Copy)]
pub struct Source<'a> {
    /// The job as written.
    pub job: &'a JobFile,
    /// Parts it names.
    pub library: &'a Library,
    /// What it comes to.
    pub model: &'a Model,
}

impl Held {
    /// What comes of moving it by so many mm from where the job has it;
    /// `None` where a length that would change was never measured.
    pub fn moved(&self, job: &JobFile, library: &Library, by: DVec3) -> Option<Moved> {
        match self {
            Held::Obstacle(at, piece) => boxes::obstacle(job, *at, *piece, by),
            Held::Module(at) => boxes::module(job, *at, by),
            Held::Pocket(at, piece) => boxes::pocket(job, *at, *piece, by),
            Held::Exit(at) => places::exit(job, *at, by),
            Held::Station(at, wall) => walls::station(job, *at, *wall, by),
            Held::Socket(id) => places::socket(job, library, id, by),
        }
    }
}

/// All handles of a target.
pub fn of(source: Source, target: &Target) -> Vec<Handle> {
    let mut handles = match target {
        Target::Obstacle(_) => boxes::of_obstacle(source, target),
        Target::Module(_) => boxes::of_module(source, target),
        Target::Pocket(_) => boxes::of_pocket(source, target),
        Target::Exit(_) => places::of_exit(source, target),
        Target::Walls => walls::of_walls(source),
        Target::Unit => places::of_sockets(source, |_| true),
        Target::Lead(id) => {
            let lead = source.job.leads.iter().find(|lead| lead.id == *id);
            let socket = lead.and_then(|lead| lead.socket.clone());
            places::of_sockets(source, |id| socket.as_deref() == Some(id))
        }
        _ => Vec::new(),
    };
    // What was never measured has no place that one could move.
    handles.retain_mut(|handle| {
        let as_is = handle.held.moved(source.job, source.library, DVec3::ZERO);
        let known = as_is.is_some();
        handle.readings = as_is.map(|moved| moved.readings).unwrap_or_default();
        known
    });
    handles
}

impl Handle {
    /// Whether it can be moved in a view: it can go along an axis of the sheet,
    /// and is no face seen from before or behind.
    pub fn shows_in(&self, view: View) -> bool {
        let on_sheet = axes_of(view);
        let free = on_sheet.iter().any(|&axis| self.free[axis]);
        let sight = line_of_sight(view);
        free && self.outward.abs().dot(unit(sight)) < 0.5
    }

    /// Where it may go from a displacement on the sheet.
    pub fn allowed(&self, by: DVec3) -> DVec3 {
        let free = |axis: usize| if self.free[axis] { 1.0 } else { 0.0 };
        by * DVec3::new(free(0), free(1), free(2))
    }

    /// The places along an axis that snap to others: its ends and its middle.
    pub fn places(&self, axis: usize) -> [f64; 3] {
        let [low, high] = self.room.map(|corner| corner[axis]);
        [low, 0.5 * (low + high), high]
    }
}

/// A unit vector along an axis.
pub fn unit(axis: usize) -> DVec3 {
    DVec3::AXES[axis]
}

/// The two axes of a view's sheet.
pub fn axes_of(view: View) -> [usize; 2] {
    match view {
        View::LookingIn => [0, 2],
        View::FromAbove => [0, 1],
        View::FromSide => [1, 2],
    }
}

/// The axis a view looks along.
pub fn line_of_sight(view: View) -> usize {
    match view {
        View::LookingIn => 1,
        View::FromAbove => 2,
        View::FromSide => 0,
    }
}

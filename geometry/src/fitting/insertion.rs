//! Sliding in: every piece of the unit past every solid, straight along depth.

use glam::{DVec2, DVec3};

use crate::fit::{Stop, StopKind, WALL};
use crate::frame::DEPTH;
use crate::layout::{Layout, Sliding, SlidingClass};
use crate::solids::{Bounds, Solid};
use crate::sweep::stop_along;

/// Where one sliding piece meets one solid.
#[derive(Clone, Copy, Debug)]
pub struct Contact {
    /// Which sliding piece (index into [`Layout::sliding`]).
    pub piece: usize,
    /// What it meets.
    pub against: Against,
    /// How far out the piece stands then, mm; negative when there is depth to spare.
    pub travel: f64,
    /// Where they meet, on the solid, mm.
    pub at: DVec3,
}

/// What a sliding piece meets.
#[derive(Clone, Copy, Debug)]
pub enum Against {
    /// Index into [`Layout::fixed`].
    Fixed(usize),
    /// Index into [`Layout::walls`].
    Wall(usize),
}

impl Contact {
    /// The contact as a stop, in words.
    pub fn stop(&self, layout: &Layout) -> Stop {
        let piece = &layout.sliding[self.piece];
        let (against, against_id) = match self.against {
            Against::Fixed(i) => (&layout.fixed[i].name, layout.fixed[i].id.as_str()),
            Against::Wall(i) => (&layout.walls[i].name, WALL),
        };
        Stop {
            what: if piece.is_plug() {
                StopKind::Plug
            } else {
                StopKind::Unit
            },
            piece: piece.name.clone(),
            part: piece.part().to_owned(),
            piece_id: piece.id.clone(),
            against: against.clone(),
            against_id: against_id.to_owned(),
            short: self.travel,
            at: self.at,
        }
    }
}

/// Room the pieces keep from the walls, mm.
#[derive(Clone, Copy, Debug)]
pub struct WallRoom {
    /// The unit and its mount.
    pub unit: f64,
    /// Plugs.
    pub plug: f64,
}

/// Every meeting of a sliding piece with a solid, the worst first.
pub fn contacts(layout: &Layout, wall_room: WallRoom) -> Vec<Contact> {
    let fixed: Vec<Bounds> = layout
        .fixed
        .iter()
        .map(|fixed| fixed.solid.bounds())
        .collect();
    let walls: Vec<Bounds> = layout
        .walls
        .iter()
        .map(|wall| wall.solid.bounds())
        .collect();
    let mut contacts = Vec::new();
    for (index, piece) in layout.sliding.iter().enumerate() {
        let mover = Mover {
            piece,
            bounds: piece.solid.bounds(),
            fed_in_first: is_fed_in_first(layout, piece),
            rear: layout.chassis_rear,
        };
        let mut meet = |against: Against, solid: &Solid, bounds: &Bounds, clear: f64| {
            if let Some((travel, at)) = mover.meets(solid, bounds, clear) {
                contacts.push(Contact {
                    piece: index,
                    against,
                    travel,
                    at,
                });
            }
        };
        for (i, fixed) in layout.fixed.iter().zip(&fixed).enumerate() {
            meet(Against::Fixed(i), &fixed.0.solid, fixed.1, fixed.0.clear);
        }
        if piece.is_in_front() {
            continue; // judged against the finished face and the opening
        }
        let room = if piece.is_plug() {
            wall_room.plug
        } else {
            wall_room.unit
        };
        for (i, wall) in layout.walls.iter().zip(&walls).enumerate() {
            meet(Against::Wall(i), &wall.0.solid, wall.1, room);
        }
    }
    contacts.sort_by(|a, b| b.travel.total_cmp(&a.travel));
    contacts
}

/// A sliding piece on its way in.
struct Mover<'a> {
    piece: &'a Sliding,
    bounds: Bounds,
    /// Whether it is a plug that reaches past the outline of the chassis, and
    /// is therefore led through the opening before the unit.
    fed_in_first: bool,
    /// Depth of the chassis rear at the seat, mm.
    rear: f64,
}

/// Whether a piece is a plug that reaches past the outline of the chassis, and
/// is therefore led through the opening before the unit. What ends in front of
/// the chassis' rear at its seat is not in its way.
pub(crate) fn is_fed_in_first(layout: &Layout, piece: &Sliding) -> bool {
    piece.is_plug() && reaches_past(&piece.solid, layout.chassis_face)
}

/// Whether a plug reaches past the outline of the chassis (lower left and
/// upper right corner, mm).
fn reaches_past(plug: &Solid, chassis: [DVec2; 2]) -> bool {
    let bounds = plug.bounds();
    let [low, high] = chassis;
    bounds.min.x < low.x - TOUCH
        || bounds.min.z < low.y - TOUCH
        || bounds.max.x > high.x + TOUCH
        || bounds.max.z > high.y + TOUCH
}

impl Mover<'_> {
    /// How far out it stands when it meets a solid, and where, mm.
    fn meets(&self, solid: &Solid, bounds: &Bounds, clear: f64) -> Option<(f64, DVec3)> {
        let gap = (bounds.min - self.bounds.max).max(self.bounds.min - bounds.max);
        if gap.x >= clear || gap.z >= clear {
            return None; // passes beside it
        }
        if self.fed_in_first && bounds.max.y <= self.rear {
            return None; // the chassis is past it already
        }
        let meeting = stop_along(&self.piece.solid, solid, DEPTH, clear)?;
        // What stands in front of the dash goes no deeper than its seat: what
        // it would meet beyond that is no depth to spare.
        let counts = meeting.travel > 0.0 || !self.piece.is_in_front();
        counts.then_some((meeting.travel, meeting.on_fixed))
    }
}

/// How much each sliding piece is too wide or too high for the opening, worst first.
///
/// * `opening_half`: half the opening's size, mm
/// * `corner_radius`: of the opening's corners, mm
/// * `slide_gap`: room the pieces keep from its edge, mm
/// * `nose_enters`: whether the nose has to go in as well
pub fn opening_stops(
    layout: &Layout,
    corner_radius: f64,
    slide_gap: f64,
    nose_enters: bool,
) -> Vec<Stop> {
    let half = layout.opening_half;
    let mut stops = Vec::new();
    for piece in &layout.sliding {
        let goes_in = match piece.class {
            SlidingClass::Chassis | SlidingClass::Bracket | SlidingClass::ScrewHead => true,
            SlidingClass::Nose => nose_enters,
            _ => false,
        };
        if !goes_in {
            continue;
        }
        let bounds = piece.solid.bounds();
        let over = DVec3::new(
            bounds.max.x.max(-bounds.min.x) - half.x,
            0.0,
            bounds.max.z.max(-bounds.min.z) - half.y,
        );
        let square = over.x.max(over.z);
        let short = square.max(corner_over(over, corner_radius)) + slide_gap;
        if short > TOUCH {
            let at = DVec3::new(
                if over.x >= over.z { half.x } else { 0.0 },
                0.0,
                if over.x >= over.z { 0.0 } else { half.y },
            );
            stops.push(Stop {
                what: StopKind::Opening,
                piece: piece.name.clone(),
                part: String::new(),
                piece_id: piece.id.clone(),
                against: "edge of the opening".to_owned(),
                against_id: crate::fit::OPENING.to_owned(),
                short,
                at,
            });
        }
    }
    stops.sort_by(|a, b| b.short.total_cmp(&a.short));
    stops
}

/// Overlaps smaller than this only touch, mm.
const TOUCH: f64 = 1e-9;

/// How far a square corner stands past a rounded one, mm; `over` is how far
/// its two sides stand past the opening's.
fn corner_over(over: DVec3, radius: f64) -> f64 {
    let (x, z) = (over.x + radius, over.z + radius);
    if x > 0.0 && z > 0.0 {
        x.hypot(z) - radius
    } else {
        f64::NEG_INFINITY
    }
}

//! The pieces of the unit and its mount that slide in.

use glam::{DVec2, DVec3};

use super::Seat;
use crate::frame::Side;
use crate::job::{Hold, Hole, Job, RearStyle, SideBracket};
use crate::layout::{Sliding, SlidingClass};
use crate::measure::Harm;
use crate::solids::Solid;

/// Thickness of a rear strap, mm. Common practice, no source.
const STRAP_THICKNESS: f64 = 2.0;

/// Chassis, nose, overhang, brackets or sleeve, screw heads, rear support.
pub fn pieces(job: &Job, seat: &Seat) -> Vec<Sliding> {
    let mut pieces = vec![piece(
        "chassis",
        "chassis",
        SlidingClass::Chassis,
        around(seat.centre, seat.half, [seat.front, seat.rear]),
    )];
    pieces.push(nose(job, seat));
    pieces.extend(overhang(job, seat));
    match &job.mount.hold {
        Hold::FactoryBrackets {
            bracket,
            holes,
            screw_head_height,
            screw_head_diameter,
        } => {
            pieces.extend(side_brackets(bracket, seat, "side bracket"));
            let head = [*screw_head_height, *screw_head_diameter];
            pieces.extend(screw_heads(job, bracket, holes, head, seat));
        }
        Hold::Sleeve { wall, depth } => {
            pieces.extend(sleeve(
                job,
                wall.at(seat.reading, Harm::Larger),
                *depth,
                seat,
            ));
        }
        Hold::KitPocket { bracket, .. } => {
            pieces.extend(side_brackets(bracket, seat, "side plate"));
        }
    }
    pieces.extend(rear_support(job, seat));
    pieces
}

fn piece(id: &str, name: &str, class: SlidingClass, solid: Solid) -> Sliding {
    Sliding {
        id: id.to_owned(),
        name: name.to_owned(),
        class,
        solid,
    }
}

/// An upright box around a centre, from one depth to another.
fn around(centre: DVec2, half: DVec2, depth: [f64; 2]) -> Solid {
    let (low, high) = (centre - half, centre + half);
    Solid::block(
        DVec3::new(low.x, depth[0], low.y),
        DVec3::new(high.x, depth[1], high.y),
    )
}

fn nose(job: &Job, seat: &Seat) -> Sliding {
    let nose = &job.unit.nose;
    let size = |measure: &crate::Measure| measure.at(seat.reading, Harm::Larger);
    let half = 0.5 * DVec2::new(size(&nose.width), size(&nose.height));
    let depth = [seat.front - size(&nose.thickness), seat.front];
    piece(
        "nose",
        "nose",
        SlidingClass::Nose,
        around(seat.centre, half, depth),
    )
}

fn overhang(job: &Job, seat: &Seat) -> Option<Sliding> {
    let face = job.unit.overhang.as_ref()?;
    let half = 0.5
        * DVec2::new(
            face.width.at(seat.reading, Harm::Larger),
            face.height.at(seat.reading, Harm::Larger),
        );
    let back = seat.front - face.stands_off.at(seat.reading, Harm::Smaller);
    let depth = [back - face.thickness.at(seat.reading, Harm::Larger), back];
    let solid = around(seat.centre + face.offset, half, depth);
    Some(piece(
        "overhang",
        "floating face",
        SlidingClass::Overhang,
        solid,
    ))
}

fn side_brackets(bracket: &SideBracket, seat: &Seat, name: &str) -> Vec<Sliding> {
    let thickness = bracket.thickness.at(seat.reading, Harm::Larger);
    if thickness <= 0.0 {
        return Vec::new();
    }
    [Side::Left, Side::Right]
        .into_iter()
        .map(|side| {
            let sign = side.outward().x;
            let centre = seat.centre + DVec2::new(sign * (seat.half.x + 0.5 * thickness), 0.0);
            let half = 0.5 * DVec2::new(thickness, bracket.height);
            let depth = [seat.front, seat.front + bracket.length];
            let name = format!("{} {name}", side.word());
            piece(
                "brackets",
                &name,
                SlidingClass::Bracket,
                around(centre, half, depth),
            )
        })
        .collect()
}

/// The head of a screw in every bracket hole. `head`: its height and diameter, mm.
fn screw_heads(
    job: &Job,
    bracket: &SideBracket,
    holes: &[Hole],
    head: [f64; 2],
    seat: &Seat,
) -> Vec<Sliding> {
    let [height, diameter] = head;
    if height <= 0.0 || diameter <= 0.0 {
        return Vec::new();
    }
    let thickness = bracket.thickness.at(seat.reading, Harm::Larger);
    let seat_plane = job.cavity.seat_plane.at(seat.reading, Harm::Larger);
    let mut heads = Vec::new();
    for hole in holes {
        for side in [Side::Left, Side::Right] {
            if hole.side.is_some_and(|only| only != side) {
                continue;
            }
            let sign = side.outward().x;
            let from = DVec3::new(
                seat.centre.x + sign * (seat.half.x + thickness),
                seat_plane + hole.depth,
                seat.centre.y + hole.up,
            );
            let to = from + height * side.outward();
            let name = format!("{} screw head {}", side.word(), hole.id);
            let solid = Solid::cylinder(from, to, diameter);
            heads.push(piece("brackets", &name, SlidingClass::ScrewHead, solid));
        }
    }
    heads
}

/// The four walls of a sleeve around the chassis.
fn sleeve(job: &Job, wall: f64, length: f64, seat: &Seat) -> Vec<Sliding> {
    let from = job.cavity.seat_plane.at(seat.reading, Harm::Larger);
    let outer = seat.half + DVec2::splat(wall);
    Side::ALL
        .into_iter()
        .map(|side| {
            let out = DVec2::new(side.outward().x, side.outward().z);
            let centre = seat.centre + out * (seat.half + DVec2::splat(0.5 * wall));
            let half = if out.x == 0.0 {
                DVec2::new(outer.x, 0.5 * wall)
            } else {
                DVec2::new(0.5 * wall, outer.y)
            };
            let name = format!("{} of the sleeve", side.word());
            let solid = around(centre, half, [from, from + length]);
            piece("brackets", &name, SlidingClass::Bracket, solid)
        })
        .collect()
}

fn rear_support(job: &Job, seat: &Seat) -> Option<Sliding> {
    let support = job.unit.rear_support.as_ref()?;
    let centre = seat.centre + support.at;
    let end = seat.rear + support.length;
    let (name, solid) = match support.style {
        RearStyle::Pin => {
            let at = |depth: f64| DVec3::new(centre.x, depth, centre.y);
            (
                "rear pin",
                Solid::cylinder(at(seat.rear), at(end), support.width),
            )
        }
        RearStyle::Strap => {
            let half = 0.5 * DVec2::new(support.width, STRAP_THICKNESS);
            ("rear strap", around(centre, half, [seat.rear, end]))
        }
    };
    Some(piece(
        "rear support",
        name,
        SlidingClass::RearSupport,
        solid,
    ))
}

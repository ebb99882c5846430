//! Gathers the model of one revision of the document.

use geometry::cavity::Ring;
use geometry::{
    Bounds, Fit, Job, Layout, LeadStart, Pose, Reading, Side, Stop, Verdict, fit, lay_out,
};
use glam::{DVec2, DVec3};
use profiles::schema::JobFile;
use profiles::{Library, Problem, inline};

use super::{Alternative, Caution, Clash, Dim, Model, Thing, steps, things};
use crate::cautions;
use crate::desk::canvas::camera::View;
use crate::desk::edit::Target;
use crate::figures::Figures;
use crate::ranking::{AS_GIVEN, Answered};
use crate::words;

impl Model {
    /// Everything the views show of a job.
    ///
    /// * `file`: the job as written; `name`: what its file is called
    /// * `revision`: what this model is known by
    pub fn gather(
        file: &JobFile,
        name: &str,
        revision: u64,
        library: &Library,
        figures: Figures,
    ) -> Model {
        match inline(file, library) {
            Ok(inlined) => {
                let problems = inlined
                    .warnings
                    .into_iter()
                    .map(|fault| fault.in_file(name, 0))
                    .collect();
                let layout = lay_out(&inlined.job, Reading::Nominal);
                let answer = fit(&inlined.job);
                let alternatives = Answered::all(&inlined.job, &inlined.alternatives)
                    .into_iter()
                    .filter(|answered| answered.id != AS_GIVEN)
                    .map(|answered| alternative(&answered, figures))
                    .collect();
                answered(
                    file,
                    revision,
                    inlined.job,
                    &layout,
                    answer,
                    problems,
                    alternatives,
                    figures,
                )
            }
            Err(faults) => {
                let problems = faults
                    .into_iter()
                    .map(|fault| fault.in_file(name, 0))
                    .collect();
                unanswered(file, revision, problems)
            }
        }
    }
}

fn unanswered(file: &JobFile, revision: u64, problems: Vec<Problem>) -> Model {
    Model {
        revision,
        steps: steps::states(file, &problems, None),
        headline: "No answer yet.".to_owned(),
        second_line: "Something the answer needs is missing or cannot be read.".to_owned(),
        problems,
        job: None,
        fit: None,
        things: Vec::new(),
        walls: Vec::new(),
        rings: Vec::new(),
        walls_box: [DVec3::ZERO; 2],
        strands: Vec::new(),
        holes: Vec::new(),
        clashes: Vec::new(),
        dims: Vec::new(),
        extent: [
            DVec3::new(-100.0, -20.0, -60.0),
            DVec3::new(100.0, 240.0, 60.0),
        ],
        cautions: Vec::new(),
        before_a_cut: before_a_cut(),
        cut_is_near: false,
        alternatives: Vec::new(),
    }
}

#[allow(clippy::too_many_arguments)] // one place where all that is known comes together
fn answered(
    file: &JobFile,
    revision: u64,
    job: Job,
    layout: &Layout,
    fit: Fit,
    problems: Vec<Problem>,
    alternatives: Vec<Alternative>,
    figures: Figures,
) -> Model {
    let proud = fit.proud.unwrap_or(0.0);
    let rings = geometry::cavity::rings(&job.cavity, Reading::Nominal);
    let stands = stands(layout, &fit);
    let mut all: Vec<Thing> = layout
        .fixed
        .iter()
        .map(|fixed| things::fixed(fixed, &job))
        .collect();
    all.extend(
        layout
            .sliding
            .iter()
            .map(|piece| things::sliding(piece, &stands)),
    );
    let strands = layout
        .turns
        .iter()
        .filter_map(|turn| Some((turn, job.leads.iter().find(|lead| lead.id == turn.lead)?)))
        .flat_map(|(turn, lead)| things::strands(turn, lead, &job, proud))
        .collect();
    let clashes: Vec<Clash> = fit
        .stopped_by
        .iter()
        .filter_map(|stop| clash(stop, layout))
        .collect();
    let cautions = cautions::cautions(&job, layout, &fit)
        .into_iter()
        .map(caution)
        .collect();
    let cut_is_near = fit.stopped_by.iter().any(|stop| {
        layout
            .fixed
            .iter()
            .any(|fixed| fixed.id == stop.against_id && fixed.cut != geometry::Cut::Never)
    });
    Model {
        revision,
        steps: steps::states(file, &problems, Some(&fit)),
        headline: words::headline(&fit, figures),
        second_line: words::second_line(&fit, job.proud_limit, figures),
        problems,
        things: all,
        walls_box: walls_box(&rings),
        rings,
        walls: layout.walls.iter().map(|wall| wall.solid.clone()).collect(),
        strands,
        holes: job.cavity.exits.iter().map(things::hole).collect(),
        dims: dims(&job, layout, &fit, &clashes),
        extent: extent(&job, layout, proud),
        clashes,
        cautions,
        before_a_cut: before_a_cut(),
        cut_is_near,
        alternatives,
        job: Some(job),
        fit: Some(fit),
    }
}

fn caution(caution: cautions::Caution) -> Caution {
    Caution {
        title: caution.title.to_owned(),
        text: caution.text.to_owned(),
    }
}

fn before_a_cut() -> Vec<Caution> {
    cautions::beside_a_cut().into_iter().map(caution).collect()
}

fn alternative(answered: &Answered, figures: Figures) -> Alternative {
    let fit = &answered.fit;
    let says = match (fit.verdict, fit.proud) {
        (Verdict::Flush, _) if fit.margin.is_finite() => {
            format!("flush, {} to spare", figures.bare(fit.margin))
        }
        (Verdict::Flush, _) => "flush".to_owned(),
        (_, Some(proud)) if proud > 0.0 => format!("stands {} proud", figures.bare(proud)),
        _ => words::headline(fit, figures)
            .trim_end_matches('.')
            .to_owned(),
    };
    Alternative {
        name: answered.name.clone(),
        says,
        verdict: Some(fit.verdict),
    }
}

/// How the unit stands: shifted out, and leaning where its corners differ.
fn stands(layout: &Layout, fit: &Fit) -> Pose {
    let Some([top_left, top_right, bottom_right, bottom_left]) = fit.proud_corners else {
        return Pose::IDENTITY;
    };
    let [low, high] = layout.chassis_face;
    let size = (high - low).max(DVec2::splat(1.0));
    let middle = 0.5 * (low + high);
    let mean = 0.25 * (top_left + top_right + bottom_right + bottom_left);
    let per_across = 0.5 * ((top_right - top_left) + (bottom_right - bottom_left)) / size.x;
    let per_up = 0.5 * ((top_left - bottom_left) + (top_right - bottom_right)) / size.y;
    // The corner that stands furthest out comes toward the installer (minus depth).
    let turn = glam::DQuat::from_rotation_z((-per_across).atan())
        * glam::DQuat::from_rotation_x(per_up.atan());
    let centre = DVec3::new(middle.x, layout.chassis_front, middle.y);
    Pose::shifted(-mean * DVec3::Y).after(&Pose::turned_about(turn, centre))
}

/// The target that an id of a stop means.
fn target_of(id: &str, layout: &Layout) -> Option<Target> {
    use geometry::FixedClass;
    match id {
        "chassis" | "nose" | "overhang" | "rear support" => return Some(Target::Unit),
        "brackets" => return Some(Target::Mount),
        "wall" => return Some(Target::Walls),
        "opening" | "finished face" => return Some(Target::Opening),
        _ => {}
    }
    if layout.turns.iter().any(|turn| turn.lead == id) {
        return Some(Target::Lead(id.to_owned()));
    }
    layout
        .fixed
        .iter()
        .find(|fixed| fixed.id == id)
        .map(|fixed| match fixed.class {
            FixedClass::Obstacle(_) => Target::Obstacle(id.to_owned()),
            FixedClass::Module => Target::Module(id.to_owned()),
            FixedClass::FactoryPlug => Target::FactoryPlug(id.to_owned()),
            FixedClass::Tab => Target::Tab(id.to_owned()),
        })
}

/// The room that a piece at its seat and what it meets both want.
fn clash(stop: &Stop, layout: &Layout) -> Option<Clash> {
    let piece = wanted(stop, layout)?;
    let other = layout
        .fixed
        .iter()
        .filter(|fixed| fixed.id == stop.against_id)
        .map(|fixed| fixed.solid.bounds().grown(fixed.clear))
        .reduce(|a, b| a.joined(&b))
        .unwrap_or_else(|| piece.grown(1.0));
    let low = piece.min.max(other.min);
    let high = piece.max.min(other.max);
    let (low, high) = (low.min(high), low.max(high));
    let end = piece.max.y;
    Some(Clash {
        piece: target_of(&stop.piece_id, layout),
        against: target_of(&stop.against_id, layout),
        room: [
            DVec3::new(low.x, end - stop.short, low.z),
            DVec3::new(high.x, end, high.z),
        ],
        short: stop.short,
        says: words::meets(stop),
    })
}

/// The box a piece wants with the unit at its seat.
fn wanted(stop: &Stop, layout: &Layout) -> Option<Bounds> {
    if let Some(turn) = layout.turns.iter().find(|turn| turn.lead == stop.piece_id) {
        let [low, high] = turn.room(0.0);
        return Some(Bounds {
            min: low.with_y(turn.socket),
            max: high,
        });
    }
    layout
        .sliding
        .iter()
        .filter(|piece| piece.id == stop.piece_id)
        .map(|piece| piece.solid.bounds())
        .reduce(|a, b| a.joined(&b))
}

/// How far into the walls one sees, mm.
const WALL_SHOWN: f64 = 12.0;

/// The box walls are shown in: the cavity and a little of what bounds it.
fn walls_box(rings: &[Ring]) -> [DVec3; 2] {
    let corners = rings.iter().flat_map(|ring| {
        ring.corners
            .iter()
            .map(|c| DVec3::new(c.x, ring.depth, c.y))
    });
    Bounds::around(corners).map_or([DVec3::ZERO; 2], |bounds| {
        let shown = bounds.grown(WALL_SHOWN);
        [shown.min, shown.max]
    })
}

/// How much is shown of what reaches beyond the cavity, mm.
const PASSING: f64 = 12.0;

/// The box that holds all that matters.
fn extent(job: &Job, layout: &Layout, proud: f64) -> [DVec3; 2] {
    let half = 0.5
        * DVec3::new(
            job.cavity.opening.width.value(),
            0.0,
            job.cavity.opening.height.value(),
        );
    let mut points = vec![half, -half];
    for piece in &layout.sliding {
        let bounds = piece.solid.bounds();
        points.extend([bounds.min - proud * DVec3::Y, bounds.max]);
    }
    points.extend(
        layout
            .turns
            .iter()
            .map(|turn| DVec3::new(turn.centre.x, turn.end(), turn.centre.y)),
    );
    for ring in geometry::cavity::rings(&job.cavity, Reading::Nominal) {
        points.extend(
            ring.corners
                .iter()
                .map(|corner| DVec3::new(corner.x, ring.depth, corner.y)),
        );
    }
    let around = Bounds::around(points).unwrap_or(Bounds {
        min: -half,
        max: half,
    });
    // What reaches far beyond (a beam from door to door) is seen only where it passes.
    let reach = around.grown(PASSING);
    let all = layout.fixed.iter().fold(around, |all, fixed| {
        let bounds = fixed.solid.bounds();
        all.joined(&Bounds {
            min: bounds.min.clamp(reach.min, reach.max),
            max: bounds.max.clamp(reach.min, reach.max),
        })
    });
    [all.min, all.max]
}

fn dims(job: &Job, layout: &Layout, fit: &Fit, clashes: &[Clash]) -> Vec<Dim> {
    let mut dims = opening_dims(job);
    if let Some(proud) = fit.proud.filter(|&proud| proud > 0.0) {
        dims.extend(proud_dims(layout, proud));
    }
    for (at, clash) in clashes.iter().enumerate() {
        // The worst is always measured out, the others when they are asked about.
        let only_with = if at == 0 { None } else { clash.piece.clone() };
        dims.extend(clash_dims(clash).map(|dim| Dim {
            only_with: only_with.clone(),
            ..dim
        }));
    }
    dims.extend(room_dims(fit));
    for link in &fit.chain {
        dims.extend(chain_dims(link, layout, job, fit.proud.unwrap_or(0.0)));
    }
    dims
}

fn dim(view: View, from: DVec3, to: DVec3, off: DVec2) -> Dim {
    let ends = [view.flat(from), view.flat(to)];
    Dim {
        view,
        ends,
        off,
        mm: ends[0].distance(ends[1]),
        plus_minus: 0.0,
        word: "",
        strong: false,
        only_with: None,
    }
}

fn opening_dims(job: &Job) -> Vec<Dim> {
    let opening = &job.cavity.opening;
    let half = 0.5 * DVec3::new(opening.width.value(), 0.0, opening.height.value());
    let left = half.with_x(-half.x).with_z(-half.z);
    let top_left = half.with_x(-half.x);
    let width = Dim {
        plus_minus: opening.width.plus_minus(),
        ..dim(View::LookingIn, top_left, half, DVec2::new(0.0, -22.0))
    };
    let height = Dim {
        plus_minus: opening.height.plus_minus(),
        ..dim(View::LookingIn, left, top_left, DVec2::new(-30.0, 0.0))
    };
    vec![width, height]
}

fn proud_dims(layout: &Layout, proud: f64) -> Vec<Dim> {
    let nose = layout
        .sliding
        .iter()
        .filter(|piece| piece.class == geometry::SlidingClass::Nose)
        .map(|piece| piece.solid.bounds())
        .reduce(|a, b| a.joined(&b));
    let [low, high] = layout.chassis_face;
    let (top, left) = nose.map_or((high.y, low.x), |nose| (nose.max.z, nose.min.x));
    // From where its flange or nose back would be to where it stands.
    let seat = nose.map_or(layout.chassis_front, |nose| {
        nose.max.y.min(layout.chassis_front)
    });
    let from = |across: f64, up: f64| DVec3::new(across, seat - proud, up);
    let to = |across: f64, up: f64| DVec3::new(across, seat, up);
    [
        dim(
            View::FromSide,
            from(0.0, top),
            to(0.0, top),
            DVec2::new(0.0, -26.0),
        ),
        dim(
            View::FromAbove,
            from(left, 0.0),
            to(left, 0.0),
            DVec2::new(0.0, -22.0),
        ),
    ]
    .into_iter()
    .map(|dim| Dim {
        word: "proud",
        strong: true,
        ..dim
    })
    .collect()
}

fn clash_dims(clash: &Clash) -> [Dim; 2] {
    let [low, high] = clash.room;
    [
        dim(
            View::FromSide,
            low.with_z(low.z),
            high.with_z(low.z),
            DVec2::new(0.0, 16.0),
        ),
        dim(
            View::FromAbove,
            low.with_x(high.x),
            high.with_x(high.x),
            DVec2::new(0.0, 16.0),
        ),
    ]
    .map(|dim| Dim {
        word: "in the way",
        strong: true,
        ..dim
    })
}

fn room_dims(fit: &Fit) -> Vec<Dim> {
    let mut dims = Vec::new();
    for room in &fit.rooms {
        let views = match room.side {
            Side::Left | Side::Right => [View::LookingIn, View::FromAbove],
            Side::Top | Side::Bottom => [View::LookingIn, View::FromSide],
        };
        for view in views {
            dims.push(Dim {
                mm: room.free,
                ..dim(view, room.from, room.to, DVec2::ZERO)
            });
        }
    }
    dims
}

/// The chain of one lead as a row of dimensions, drawn while that lead is lit.
fn chain_dims(link: &geometry::ChainLink, layout: &Layout, job: &Job, proud: f64) -> Vec<Dim> {
    let Some(turn) = layout.turns.iter().find(|turn| turn.lead == link.lead) else {
        return Vec::new();
    };
    let side_plug = job
        .leads
        .iter()
        .any(|lead| lead.id == link.lead && matches!(lead.from, LeadStart::Module(_)));
    if side_plug {
        return Vec::new();
    }
    let (across, up) = (turn.centre.x, turn.centre.y);
    let begin = layout.chassis_front - link.setback - proud;
    let mut dims = Vec::new();
    for view in [View::FromSide, View::FromAbove] {
        let mut from = begin;
        for (length, word) in [
            (link.setback, "setback"),
            (link.chassis, "chassis"),
            (link.plug, "plug"),
            (link.turn, "turn"),
        ] {
            let to = from + length;
            if length > 0.0 {
                let ends = [DVec3::new(across, from, up), DVec3::new(across, to, up)];
                dims.push(Dim {
                    word,
                    only_with: Some(Target::Lead(link.lead.clone())),
                    ..dim(view, ends[0], ends[1], DVec2::new(0.0, 34.0))
                });
            }
            from = to;
        }
    }
    dims
}

impl Model {
    /// The middle of everything drawn for a target, mm.
    pub fn middle(&self, target: &Target) -> Option<DVec3> {
        if let Target::Lead(_) = target
            && let Some(strand) = self.strands.iter().find(|strand| strand.target == *target)
        {
            return Some(0.5 * (strand.room[0] + strand.room[1]));
        }
        let bounds = self
            .things
            .iter()
            .filter(|thing| thing.target == *target)
            .map(|thing| thing.solid.bounds())
            .reduce(|a, b| a.joined(&b));
        if let Some(bounds) = bounds {
            let [low, high] = self.extent;
            return Some(bounds.middle().clamp(low, high));
        }
        self.holes
            .iter()
            .find(|hole| hole.target == *target)
            .map(|hole| hole.centre)
    }
}

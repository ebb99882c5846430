//! Gathers the model of one revision of the document.

use geometry::cavity::Ring;
use geometry::{Bounds, Fit, Job, Layout, Pose, Reading, Verdict, fit, lay_out};
use glam::{DVec2, DVec3};
use profiles::schema::JobFile;
use profiles::{Library, Problem, inline};

use super::{Alternative, Caution, Clash, Model, Thing, clashes, dims, steps, things};
use crate::cautions;
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
        looms: Vec::new(),
        looms_behind: Vec::new(),
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
        .filter_map(|stop| clashes::clash(stop, layout))
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
        looms: Vec::new(),
        looms_behind: Vec::new(),
        dims: dims::dims(&job, layout, &fit, &clashes),
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

//! Gathers the model of one revision of the document.

use geometry::{Fit, Job, Layout, Reading, Verdict, fit, lay_out};
use glam::DVec3;
use profiles::schema::JobFile;
use profiles::{Fault, Inlined, Library, Problem, inline, inline_alone};

use super::ribs::rib_sheets;
use super::stand::walls_box;
use super::{Alternative, Caution, Clash, Model, clashes, steps, things};
use crate::cautions;
use crate::figures::Figures;
use crate::ranking::Answered;
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
        let others = |inlined: &Inlined| quick_answers(inlined, figures);
        gathered(file, name, revision, inline(file, library), others, figures)
    }

    /// The same while a hand is changing the job: its alternatives stay as they
    /// were and are behind.
    pub fn gather_in_hand(
        file: &JobFile,
        name: &str,
        revision: u64,
        library: &Library,
        figures: Figures,
        before: &[Alternative],
    ) -> Model {
        let kept = |_: &Inlined| before.to_vec();
        let alone = inline_alone(file, library);
        Model {
            alternatives_behind: !before.is_empty(),
            ..gathered(file, name, revision, alone, kept, figures)
        }
    }

    /// Answers the alternatives that are behind. What else is shown stays, and
    /// so does what the model is known by, unless one of them has a fault that
    /// keeps the job from being answered.
    pub fn answer_alternatives(
        &mut self,
        file: &JobFile,
        name: &str,
        library: &Library,
        figures: Figures,
    ) {
        self.alternatives_behind = false;
        match inline(file, library) {
            Ok(inlined) => {
                self.alternatives = quick_answers(&inlined, figures);
                self.problems = said(inlined.warnings, name);
                self.problems_said = in_words(&self.problems, file);
                self.steps = steps::states(file, &self.problems, self.fit.as_ref());
            }
            Err(faults) => *self = unanswered(file, self.revision, said(faults, name)),
        }
    }
}

fn said(faults: Vec<Fault>, name: &str) -> Vec<Problem> {
    let faults = faults.into_iter();
    faults.map(|fault| fault.in_file(name, 0)).collect()
}

fn in_words(problems: &[Problem], file: &JobFile) -> Vec<String> {
    let problems = problems.iter();
    problems.map(|it| words::problem(it, file)).collect()
}

fn quick_answers(inlined: &Inlined, figures: Figures) -> Vec<Alternative> {
    let others = inlined.alternatives.iter();
    others
        .map(|it| alternative(&Answered::quick(&it.id, &it.name, &it.job), figures))
        .collect()
}

fn gathered(
    file: &JobFile,
    name: &str,
    revision: u64,
    inlined: Result<Inlined, Vec<Fault>>,
    others: impl FnOnce(&Inlined) -> Vec<Alternative>,
    figures: Figures,
) -> Model {
    match inlined {
        Ok(inlined) => {
            let alternatives = others(&inlined);
            let layout = lay_out(&inlined.job, Reading::Nominal);
            let answer = fit(&inlined.job);
            answered(
                file,
                revision,
                inlined.job,
                layout,
                answer,
                said(inlined.warnings, name),
                alternatives,
                figures,
            )
        }
        Err(faults) => unanswered(file, revision, said(faults, name)),
    }
}

fn unanswered(file: &JobFile, revision: u64, problems: Vec<Problem>) -> Model {
    Model {
        revision,
        steps: steps::states(file, &problems, None),
        headline: "No answer yet.".to_owned(),
        second_line: "Something the answer needs is missing or cannot be read.".to_owned(),
        problems_said: in_words(&problems, file),
        problems,
        job: None,
        layout: None,
        fit: None,
        things: Vec::new(),
        walls: Vec::new(),
        rings: Vec::new(),
        walls_box: [DVec3::ZERO; 2],
        strands: Vec::new(),
        pockets: Vec::new(),
        pins: Vec::new(),
        laid: None,
        holes: Vec::new(),
        clashes: Vec::new(),
        looms: Vec::new(),
        looms_behind: Vec::new(),
        ribs: Vec::new(),
        dims: Vec::new(),
        extent: [
            DVec3::new(-100.0, -20.0, -60.0),
            DVec3::new(100.0, 240.0, 60.0),
        ],
        cautions: Vec::new(),
        before_a_cut: before_a_cut(),
        cut_is_near: false,
        alternatives: Vec::new(),
        alternatives_behind: false,
    }
}

#[allow(clippy::too_many_arguments)] // one place where all that is known comes together
fn answered(
    file: &JobFile,
    revision: u64,
    job: Job,
    layout: Layout,
    fit: Fit,
    problems: Vec<Problem>,
    alternatives: Vec<Alternative>,
    figures: Figures,
) -> Model {
    let rings = geometry::cavity::rings(&job.cavity, Reading::Nominal);
    let clashes: Vec<Clash> = fit
        .stopped_by
        .iter()
        .filter_map(|stop| clashes::clash(stop, &layout))
        .collect();
    let cautions = cautions::cautions(&job, &layout, &fit)
        .into_iter()
        .map(caution)
        .collect();
    let cut_is_near = fit.stopped_by.iter().any(|stop| {
        layout
            .fixed
            .iter()
            .any(|fixed| fixed.id == stop.against_id && fixed.cut != geometry::Cut::Never)
    });
    let mut model = Model {
        revision,
        steps: steps::states(file, &problems, Some(&fit)),
        headline: words::headline(&fit, figures),
        second_line: words::second_line(&fit, job.proud_limit, figures),
        problems_said: in_words(&problems, file),
        problems,
        things: Vec::new(),
        walls_box: walls_box(&rings),
        rings,
        walls: layout.walls.iter().map(|wall| wall.solid.clone()).collect(),
        strands: Vec::new(),
        pockets: Vec::new(),
        pins: Vec::new(),
        laid: None,
        holes: job.cavity.exits.iter().map(things::hole).collect(),
        looms: Vec::new(),
        looms_behind: Vec::new(),
        ribs: rib_sheets(&job),
        dims: Vec::new(),
        extent: [DVec3::ZERO; 2],
        clashes,
        cautions,
        before_a_cut: before_a_cut(),
        cut_is_near,
        alternatives,
        alternatives_behind: false,
        job: Some(job),
        layout: Some(layout),
        fit: Some(fit),
    };
    model.stand();
    model
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

//! A notch drawn by hand: does everything hold with it?

use super::windows::{ribs, trim, windows};
use crate::fit::Fit;
use crate::fitting::fit;
use crate::job::{Job, Trim};
use crate::lay_out::lay_out;
use crate::layout::{FixedClass, Layout};
use crate::measure::Reading;
use crate::routed::Routed;
use crate::seating::arrangements::{Arrangement, arrangements};
use crate::seating::trial::{Laid, Setting, Trial};
use crate::solids::Solid;

/// The same proud, mm.
const SAME: f64 = 1e-9;

/// A job whose notches are drawn by hand: what was laid for one drawing is the
/// start for the next.
pub struct ByHand<'a> {
    job: &'a Job,
    loose: &'a [String],
    trials: Vec<Trial<'a>>,
    /// What was laid last at each proud, and with which arrangement of the modules.
    laid: Vec<(usize, Laid)>,
    /// Prouds at which nothing was found even with all ribs opened, mm.
    closed: Vec<f64>,
}

/// Hands a job to `work`, ready to be asked about one drawing after the other.
pub fn by_hand<R>(job: &Job, work: impl FnOnce(&mut ByHand<'_>) -> R) -> R {
    let whole = Job {
        trims: Vec::new(),
        ..job.clone()
    };
    let fit: Fit = fit(&whole);
    let layout: Layout = lay_out(&whole, Reading::Nominal);
    let arrangements: Vec<Arrangement> = arrangements(&whole, &layout, &fit.modules);
    let loose: Vec<String> = (whole.cavity.obstacles.iter())
        .filter(|obstacle| *obstacle.cut() != crate::job::Cut::Never)
        .map(|obstacle| obstacle.id.clone())
        .collect();
    let trials = arrangements.iter().map(|arrangement| {
        Trial::new(Setting {
            job: &whole,
            fit: &fit,
            layout: &layout,
            arrangement,
            loose: &loose,
        })
    });
    work(&mut ByHand {
        job: &whole,
        loose: &loose,
        trials: trials.collect(),
        laid: Vec::new(),
        closed: Vec::new(),
    })
}

impl ByHand<'_> {
    /// Everything laid and checked with these notches and the unit `proud` mm
    /// proud; `None` when no way was found for something, or it was stopped.
    /// Notches that are not carried out are not there.
    ///
    /// The first look at a proud lays everything with all ribs opened as far as
    /// they may be; every later one starts from what was laid last. Where that
    /// finds nothing, no notch is looked at: it leaves less room.
    ///
    /// * `watch`: whether to go on
    pub fn look(
        &mut self,
        trims: &[Trim],
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Routed> {
        if self.known(proud).is_none() && !self.is_closed(proud) {
            self.open(proud, watch);
        }
        if self.is_closed(proud) {
            return None;
        }
        let job = self.with(trims);
        let ribs = self.ribs(&job);
        let mut tried = None;
        if let Some(at) = self.known(proud) {
            let (number, laid) = &self.laid[at];
            let trial = &mut self.trials[*number];
            match trial.keep(laid, proud, &ribs, watch) {
                Ok(kept) => {
                    let answer = trial.answer(&job, &kept, &ribs);
                    self.laid[at].1 = kept;
                    return answer;
                }
                // Something has no way even alone: laying all anew is no use.
                Err(short) => tried = short.hopeless.then_some(*number),
            }
        }
        for number in (0..self.trials.len()).filter(|number| Some(*number) != tried) {
            if !watch() {
                return None;
            }
            let trial = &mut self.trials[number];
            if trial.floor <= proud + SAME
                && let Ok(laid) = trial.lay(proud, &ribs, watch)
            {
                let answer = trial.answer(&job, &laid, &ribs);
                self.note(number, laid);
                return answer;
            }
        }
        None
    }

    /// Lays everything with all ribs opened as far as they may be.
    fn open(&mut self, proud: f64, watch: &mut dyn FnMut() -> bool) {
        let here = ribs(self.job);
        let all = windows(self.job, &here);
        let bites = (all.iter().enumerate()).flat_map(|(number, window)| window.opened(number));
        let trims: Vec<Trim> = bites
            .map(|bite| trim(self.job, &here, &all, &bite))
            .collect();
        let ribs = self.ribs(&self.with(&trims));
        for (number, trial) in self.trials.iter_mut().enumerate() {
            if trial.floor <= proud + SAME
                && let Ok(laid) = trial.lay(proud, &ribs, watch)
            {
                return self.note(number, laid);
            }
        }
        if watch() {
            self.closed.push(proud);
        }
    }

    fn is_closed(&self, proud: f64) -> bool {
        self.closed.iter().any(|it| (it - proud).abs() <= SAME)
    }

    fn known(&self, proud: f64) -> Option<usize> {
        let same = |(_, laid): &(usize, Laid)| (laid.proud - proud).abs() <= SAME;
        self.laid.iter().position(same)
    }

    fn note(&mut self, number: usize, laid: Laid) {
        match self.known(laid.proud) {
            Some(at) => self.laid[at] = (number, laid),
            None => self.laid.push((number, laid)),
        }
    }

    fn with(&self, trims: &[Trim]) -> Job {
        Job {
            trims: trims.to_vec(),
            ..self.job.clone()
        }
    }

    /// The ribs as cut, in the order of the layout.
    fn ribs(&self, job: &Job) -> Vec<Solid> {
        let layout = lay_out(job, Reading::Nominal);
        let obstacle = |class| matches!(class, FixedClass::Obstacle(_));
        (layout.fixed.iter())
            .filter(|fixed| obstacle(fixed.class) && self.loose.contains(&fixed.id))
            .map(|fixed| fixed.solid.clone())
            .collect()
    }
}

//! A notch drawn by hand: does everything hold with it?

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

/// A job whose notches are drawn by hand: what was laid for one drawing is the
/// start for the next.
pub struct ByHand<'a> {
    job: &'a Job,
    loose: &'a [String],
    trials: Vec<Trial<'a>>,
    /// What was laid last, and with which arrangement of the modules.
    laid: Option<(usize, Laid)>,
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
        laid: None,
    })
}

impl ByHand<'_> {
    /// Everything laid and checked with these notches and the unit `proud` mm
    /// proud; `None` when no way was found for something, or it was stopped.
    /// Notches that are not carried out are not there.
    ///
    /// * `watch`: whether to go on
    pub fn look(
        &mut self,
        trims: &[Trim],
        proud: f64,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Routed> {
        let job = Job {
            trims: trims.to_vec(),
            ..self.job.clone()
        };
        let ribs = self.ribs(&job);
        if let Some((number, laid)) = &self.laid
            && let Ok(kept) = self.trials[*number].keep(laid, proud, &ribs, watch)
        {
            let number = *number;
            let answer = self.trials[number].answer(&job, &kept, &ribs);
            self.laid = Some((number, kept));
            return answer;
        }
        for (number, trial) in self.trials.iter_mut().enumerate() {
            if trial.floor <= proud + 1e-9
                && let Ok(laid) = trial.lay(proud, &ribs, watch)
            {
                let answer = trial.answer(&job, &laid, &ribs);
                self.laid = Some((number, laid));
                return answer;
            }
        }
        None
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

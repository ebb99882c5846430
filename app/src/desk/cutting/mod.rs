//! The search for the least cut, and what the job's own notches come to, each on
//! a thread of its own.
//!
//! Nobody looks for a cut unasked. What the notches of the job take and leave is
//! followed while the step is open, under the hand too; the stress at their
//! corners is worked out once that is known.

mod at_hand;

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};

use geometry::Job;
use geometry::trimming::{
    Account, CornerStress, FURTHEST_STEP, Ledger, TrimStep, corner_stress, steps,
};

use at_hand::AtHand;
pub use at_hand::{Counted, Fitted};

/// The least cut for one proud after the other.
#[derive(Debug)]
pub struct Tried {
    /// The job it was looked for in, with no notches but locked ones.
    pub job: Job,
    /// A step for each proud.
    pub steps: Vec<TrimStep>,
    /// What the notches of each step come to.
    pub accounts: Vec<Vec<Account>>,
}

/// How stress rises at the corners of a job's notches: a detail that takes
/// longer than everything else about them.
#[derive(Debug)]
pub struct Corners {
    /// The job.
    pub job: Job,
    /// Rib (its id) by rib, the notches in the order of its account.
    pub ribs: Vec<(String, Vec<CornerStress>)>,
}

/// Something worked out on a thread.
struct Run<T> {
    job: Arc<Job>,
    stop: Arc<AtomicBool>,
    told: Receiver<Told<T>>,
    at: Option<f64>,
}

enum Told<T> {
    At(f64),
    Done(Box<T>),
}

impl<T> Drop for Run<T> {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl<T: Send + 'static> Run<T> {
    /// Begins; `None` when there is no thread to be had.
    fn begin(
        ctx: &egui::Context,
        job: Job,
        work: fn(&Job, &mut dyn FnMut(f64) -> bool) -> T,
    ) -> Option<Run<T>> {
        let (tell, told): (Sender<Told<T>>, _) = channel();
        let run = Run {
            job: Arc::new(job),
            stop: Arc::default(),
            told,
            at: None,
        };
        let (job, stop, ctx) = (run.job.clone(), run.stop.clone(), ctx.clone());
        let thread = std::thread::Builder::new().name("cutting".to_owned());
        let spawned = thread.spawn(move || {
            let mut last = None;
            let done = work(&job, &mut |at| {
                // The window is woken for every proud, not for every look.
                if last != Some(at) {
                    last = Some(at);
                    let _ = tell.send(Told::At(at));
                    ctx.request_repaint();
                }
                !stop.load(Ordering::Relaxed)
            });
            if !stop.load(Ordering::Relaxed) {
                let _ = tell.send(Told::Done(Box::new(done)));
            }
            ctx.request_repaint();
        });
        spawned.is_ok().then_some(run)
    }

    /// What has arrived: `Ok(None)` while it works, `Err` when it broke off.
    fn take(&mut self) -> Result<Option<T>, ()> {
        loop {
            match self.told.try_recv() {
                Ok(Told::At(at)) => self.at = Some(at),
                Ok(Told::Done(done)) => return Ok(Some(*done)),
                Err(TryRecvError::Empty) => return Ok(None),
                Err(TryRecvError::Disconnected) => return Err(()),
            }
        }
    }
}

/// What the search is doing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Trying {
    /// Nobody has asked, or it was stopped.
    Idle,
    /// At this proud, mm; `None` before the first.
    At(Option<f64>),
    /// It broke off by itself.
    Broken,
}

/// Both kinds of work, and the last of what they found.
#[derive(Default)]
pub struct CuttingWork {
    search: Option<Run<Tried>>,
    broken: bool,
    tried: Option<Arc<Tried>>,
    hand: AtHand,
    corner: Option<Run<Corners>>,
    corners: Option<Arc<Corners>>,
}

impl CuttingWork {
    /// Looks for the least cut in a job.
    pub fn look(&mut self, ctx: &egui::Context, job: &Job) {
        self.search = Run::begin(ctx, bare(job), tried);
        self.broken = self.search.is_none();
    }

    /// The same here and now, however long it takes.
    pub fn look_here(&mut self, job: &Job) {
        self.search = None;
        self.tried = Some(Arc::new(tried(&bare(job), &mut |_| true)));
    }

    /// Works out the notches of a job here and now.
    pub fn count_here(&mut self, job: &Job) {
        self.hand.look_here(job);
        self.corner = None;
        self.corners = Some(Arc::new(corners(job, &mut |_| true)));
    }

    /// Stops the search.
    pub fn stop(&mut self) {
        self.search = None;
    }

    /// Takes what has arrived, and works out the job's notches when they have
    /// changed. Says whether anything arrived.
    ///
    /// * `open`: whether anybody looks at them
    pub fn attend(&mut self, ctx: &egui::Context, job: Option<&Job>, open: bool) -> bool {
        let job = job.filter(|job| open && !job.trims.is_empty());
        let arrived = self.take() | self.hand.attend(ctx, job);
        if let Some(job) = job
            && self.fitted(Some(job)).is_some_and(|(_, current)| current)
        {
            self.see_to_corners(ctx, job);
        }
        arrived
    }

    /// Begins with the corners of a job whose notches are worked out.
    fn see_to_corners(&mut self, ctx: &egui::Context, job: &Job) {
        let known = self.corners.as_ref().is_some_and(|it| it.job == *job);
        let under_way = self.corner.as_ref().is_some_and(|run| *run.job == *job);
        if !known && !under_way {
            self.corner = Run::begin(ctx, job.clone(), corners);
        }
    }

    fn take(&mut self) -> bool {
        let mut arrived = false;
        if let Some(run) = &mut self.search {
            match run.take() {
                Ok(None) => {}
                Ok(Some(tried)) => {
                    self.tried = Some(Arc::new(tried));
                    self.search = None;
                    arrived = true;
                }
                Err(()) => {
                    self.search = None;
                    self.broken = true;
                }
            }
        }
        if let Some(run) = &mut self.corner
            && let Ok(Some(corners)) = run.take()
        {
            self.corners = Some(Arc::new(corners));
            self.corner = None;
            arrived = true;
        }
        arrived
    }

    /// What the search is doing.
    pub fn trying(&self) -> Trying {
        match &self.search {
            Some(run) => Trying::At(run.at),
            None if self.broken => Trying::Broken,
            None => Trying::Idle,
        }
    }

    /// The last steps that were found, and whether they are of this job.
    pub fn tried(&self, job: Option<&Job>) -> Option<(&Arc<Tried>, bool)> {
        let tried = self.tried.as_ref()?;
        Some((tried, job.is_some_and(|job| bare(job) == tried.job)))
    }

    /// How stress rises at the corners of a rib's notches in the job as it
    /// stands; `None` while that is not known.
    pub fn corners(&self, job: Option<&Job>, rib: &str) -> Option<&[CornerStress]> {
        let corners = (self.corners.as_ref()).filter(|it| job.is_some_and(|job| *job == it.job))?;
        let known = corners.ribs.iter().find(|(id, _)| id == rib)?;
        Some(&known.1)
    }

    /// What the job's notches come to, and whether that is of the job as it stands.
    pub fn counted(&self, job: Option<&Job>) -> Option<(&Counted, bool)> {
        let counted = self.hand.counted()?;
        Some((counted, job.is_some_and(|job| *job == counted.job)))
    }

    /// Whether everything goes in with the job's notches, and whether that is of
    /// the job as it stands.
    pub fn fitted(&self, job: Option<&Job>) -> Option<(&Fitted, bool)> {
        let fitted = self.hand.fitted()?;
        Some((fitted, job.is_some_and(|job| *job == fitted.job)))
    }
}

fn corners(job: &Job, watch: &mut dyn FnMut(f64) -> bool) -> Corners {
    let mut ribs: Vec<(String, Vec<CornerStress>)> = Vec::new();
    for trim in &job.trims {
        let known = ribs.iter().any(|(rib, _)| *rib == trim.rib);
        if !known && watch(0.0) {
            let corners = corner_stress(job, &trim.rib).unwrap_or_default();
            ribs.push((trim.rib.clone(), corners));
        }
    }
    Corners {
        ribs,
        job: job.clone(),
    }
}

fn tried(job: &Job, watch: &mut dyn FnMut(f64) -> bool) -> Tried {
    let steps = steps(job, FURTHEST_STEP, &mut |looking| watch(looking.proud));
    let mut ledger = Ledger::new(job);
    let accounts = steps.iter().map(|step| ledger.accounts(&step.trims));
    Tried {
        accounts: accounts.collect(),
        steps,
        job: job.clone(),
    }
}

/// A job with no notches but locked ones: all that a search for cuts sees of it.
fn bare(job: &Job) -> Job {
    let mut job = job.clone();
    job.trims.retain(|trim| trim.locked);
    job
}

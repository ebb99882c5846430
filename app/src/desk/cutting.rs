//! The search for the least cut, and what the job's own notches come to, each on
//! a thread of its own.
//!
//! Nobody looks for a cut unasked. What the notches of the job take and leave is
//! worked out whenever they have stood still for a moment and the step is open.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::Duration;

use geometry::Job;
use geometry::trimming::{
    Account, Approach, CornerStress, FURTHEST_STEP, TrimStep, Unreachable, accounts, corner_stress,
    reach, steps,
};

/// Notches that stand still this long are worked out, s.
const SETTLED: f64 = 0.1;

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

/// What the notches of a job come to.
#[derive(Debug)]
pub struct Counted {
    /// The job.
    pub job: Job,
    /// Rib by rib.
    pub accounts: Vec<Account>,
    /// How the tool gets at each notch, in the order of the job.
    pub reach: Vec<Result<Vec<Approach>, Unreachable>>,
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
    count: Option<Run<Counted>>,
    counted: Option<Arc<Counted>>,
    corner: Option<Run<Corners>>,
    corners: Option<Arc<Corners>>,
    revision: Option<u64>,
    due: f64,
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
        self.count = None;
        self.counted = Some(Arc::new(counted(job, &mut |_| true)));
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
    pub fn attend(
        &mut self,
        ctx: &egui::Context,
        revision: u64,
        job: Option<&Job>,
        open: bool,
    ) -> bool {
        let arrived = self.take();
        let now = ctx.input(|input| input.time);
        if self.revision != Some(revision) {
            self.revision = Some(revision);
            self.due = now + SETTLED;
        }
        let Some(job) = job.filter(|job| open && !job.trims.is_empty()) else {
            return arrived;
        };
        let known = self.counted.as_ref().is_some_and(|it| it.job == *job);
        let under_way = self.count.as_ref().is_some_and(|run| *run.job == *job);
        if known {
            self.see_to_corners(ctx, job);
        }
        if known || under_way {
            return arrived;
        }
        if now >= self.due {
            self.count = Run::begin(ctx, job.clone(), counted);
        } else {
            ctx.request_repaint_after(Duration::from_secs_f64(self.due - now));
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
        if let Some(run) = &mut self.count
            && let Ok(Some(counted)) = run.take()
        {
            self.counted = Some(Arc::new(counted));
            self.count = None;
            arrived = true;
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
    pub fn counted(&self, job: Option<&Job>) -> Option<(&Arc<Counted>, bool)> {
        let counted = self.counted.as_ref()?;
        Some((counted, job.is_some_and(|job| *job == counted.job)))
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
    let accounts = steps.iter().map(|step| accounts(&with(job, step)));
    Tried {
        accounts: accounts.collect(),
        steps,
        job: job.clone(),
    }
}

fn counted(job: &Job, _: &mut dyn FnMut(f64) -> bool) -> Counted {
    let reach = (job.trims.iter()).map(|trim| reach(job, trim, &job.cutting.tool));
    Counted {
        accounts: accounts(job),
        reach: reach.collect(),
        job: job.clone(),
    }
}

/// A job with no notches but locked ones: all that a search for cuts sees of it.
fn bare(job: &Job) -> Job {
    let mut job = job.clone();
    job.trims.retain(|trim| trim.locked);
    job
}

/// A job with the notches of a step.
fn with(job: &Job, step: &TrimStep) -> Job {
    Job {
        trims: step.trims.clone(),
        ..job.clone()
    }
}

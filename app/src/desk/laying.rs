//! The search that lays the leads, on a thread of its own.
//!
//! The instant layer answers in every frame. Once a job has stood still for a
//! moment its leads are laid beside that; when the job changes, the search for
//! the older one is told to stop and whatever it still says is dropped.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::Duration;

use geometry::seating::Looking;
use geometry::{Job, Routed};

/// A job that stands still this long is laid, s.
const SETTLED: f64 = 0.15;

/// A job and the leads laid for it.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidJob {
    /// The job.
    pub job: Job,
    /// What was found.
    pub routed: Routed,
}

/// What is going on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Nobody asked for leads to be laid.
    Off,
    /// There is no job to lay leads for.
    NoJob,
    /// The job has just changed.
    Waiting,
    /// Leads are being laid; `None` until the first proud is looked at.
    Laying(Option<Looking>),
    /// The answer is of the job as it stands.
    Laid,
    /// A hand stopped it.
    Stopped,
    /// The search broke off by itself.
    Broken,
}

/// Lays the leads of one job at a time.
#[derive(Default)]
pub struct Laying {
    run: Option<Run>,
    answer: Option<Arc<LaidJob>>,
    /// Revision the fields below are about.
    revision: Option<u64>,
    /// When that revision may be laid, s.
    due: f64,
    /// Whether the answer is of that revision's job.
    current: bool,
    halted: Option<Doing>,
    generation: u64,
}

/// A search under way.
struct Run {
    job: Arc<Job>,
    stop: Arc<AtomicBool>,
    told: Receiver<Told>,
    looking: Option<Looking>,
}

/// What a search tells.
enum Told {
    Looking(Looking),
    Found(Box<Routed>),
}

impl Drop for Run {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl Laying {
    /// Takes what has arrived, and begins or stops what the job asks for. Says
    /// whether there is a new answer.
    ///
    /// * `revision`: what the job is known by
    /// * `on`: whether leads are to be laid at all
    pub fn attend(
        &mut self,
        ctx: &egui::Context,
        revision: u64,
        job: Option<&Job>,
        on: bool,
    ) -> bool {
        let now = ctx.input(|input| input.time);
        if self.revision != Some(revision) {
            self.notice(revision, job, now);
        }
        if !on {
            self.run = None;
            self.halted = None;
            return false;
        }
        let arrived = self.take();
        if let Some(job) = job
            && self.run.is_none()
            && !self.current
            && self.halted.is_none()
        {
            if now >= self.due {
                self.begin(ctx, job.clone());
            } else {
                ctx.request_repaint_after(Duration::from_secs_f64(self.due - now));
            }
        }
        arrived
    }

    /// Another revision: keeps what still holds of it, drops the rest.
    fn notice(&mut self, revision: u64, job: Option<&Job>, now: f64) {
        self.revision = Some(revision);
        let same = |other: &Job| job == Some(other);
        self.current = self.answer.as_ref().is_some_and(|laid| same(&laid.job));
        if !self.run.as_ref().is_some_and(|run| same(&run.job)) {
            self.run = None;
            self.halted = None;
            self.due = now + SETTLED;
        }
    }

    fn take(&mut self) -> bool {
        let Some(run) = &mut self.run else {
            return false;
        };
        loop {
            match run.told.try_recv() {
                Ok(Told::Looking(looking)) => run.looking = Some(looking),
                Ok(Told::Found(routed)) => {
                    let job = Job::clone(&run.job);
                    let routed = *routed;
                    self.take_as(Arc::new(LaidJob { job, routed }));
                    // A search for any other job would have been dropped.
                    self.current = true;
                    return true;
                }
                Err(TryRecvError::Empty) => return false,
                Err(TryRecvError::Disconnected) => {
                    self.run = None;
                    self.halted = Some(Doing::Broken);
                    return false;
                }
            }
        }
    }

    fn begin(&mut self, ctx: &egui::Context, job: Job) {
        self.generation += 1;
        let (tell, told) = channel();
        let run = Run {
            job: Arc::new(job),
            stop: Arc::default(),
            told,
            looking: None,
        };
        let (job, stop, ctx) = (run.job.clone(), run.stop.clone(), ctx.clone());
        let search = move || search(&job, &stop, &tell, &|| ctx.request_repaint());
        let thread = std::thread::Builder::new().name(format!("laying {}", self.generation));
        match thread.spawn(search) {
            Ok(_) => self.run = Some(run),
            Err(_) => self.halted = Some(Doing::Broken),
        }
    }

    /// Takes leads laid elsewhere.
    pub fn take_as(&mut self, laid: Arc<LaidJob>) {
        self.run = None;
        self.halted = None;
        self.answer = Some(laid);
    }

    /// Stops the search; what was laid before stays.
    pub fn stop(&mut self) {
        if self.run.take().is_some() {
            self.halted = Some(Doing::Stopped);
        }
    }

    /// Begins again after a stop.
    pub fn go_on(&mut self) {
        self.halted = None;
    }

    /// The job stays, but is known by another revision from now on.
    pub fn known_as(&mut self, revision: u64, job: Option<&Job>) {
        self.notice(revision, job, self.due);
    }

    /// What is going on.
    pub fn doing(&self, on: bool, has_job: bool) -> Doing {
        match (&self.run, self.halted) {
            _ if !on => Doing::Off,
            (Some(run), _) => Doing::Laying(run.looking),
            (None, Some(halted)) => halted,
            _ if !has_job => Doing::NoJob,
            _ if self.current => Doing::Laid,
            _ => Doing::Waiting,
        }
    }

    /// The last answer that was found, of whichever job.
    pub fn answer(&self) -> Option<&Arc<LaidJob>> {
        self.answer.as_ref()
    }

    /// How many searches were begun.
    pub fn begun(&self) -> u64 {
        self.generation
    }
}

/// What the thread does.
fn search(job: &Job, stop: &AtomicBool, tell: &Sender<Told>, wake: &dyn Fn()) {
    let mut last: Option<f64> = None;
    let routed = geometry::routed(job, &mut |looking: Looking| {
        // The window is woken for every proud, not for every step of a search.
        if last != Some(looking.proud) {
            last = Some(looking.proud);
            // Nobody listens any more once the job has changed.
            let _ = tell.send(Told::Looking(looking));
            wake();
        }
        !stop.load(Ordering::Relaxed)
    });
    if !stop.load(Ordering::Relaxed) {
        let _ = tell.send(Told::Found(Box::new(routed)));
    }
    wake();
}

//! The search that lays the leads, on a thread of its own.
//!
//! The instant layer answers in every frame. Once a job has stood still for a
//! moment its leads are laid beside that; when the job changes, the search for
//! the older one is told to stop and whatever it still says is dropped.
//!
//! An answer comes in stages: whether everything holds as far out as it last
//! did, which is soon told; the smallest proud that holds; then the same at
//! both ends of every measure, which says how sure it is.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::Duration;

use geometry::seating::{Looking, VOXEL, routed_on, seat_at};
use geometry::{Job, Reading, Routed};

/// A job that stands still this long is laid, s.
const SETTLED: f64 = 0.15;

/// A job and the leads laid for it.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidJob {
    /// The job.
    pub job: Job,
    /// What was found.
    pub routed: Routed,
    /// How far the search has come.
    pub stage: Stage,
}

/// How far the search for an answer has come.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    /// Everything holds at this proud; less was not looked for yet.
    AtOneProud,
    /// The smallest proud, at the stated measures.
    Nominal,
    /// The same at the worst and at the best end of every measure.
    BothEnds(Box<[Routed; 2]>),
}

impl LaidJob {
    /// The answer at both ends of every measure, where it is known.
    pub fn ends(&self) -> Option<&[Routed; 2]> {
        match &self.stage {
            Stage::BothEnds(ends) => Some(ends),
            _ => None,
        }
    }
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
    /// The answer is there; how sure it is, is being worked out.
    Ranging,
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
    /// Whether the answer is of that revision's job, and whether all of it is there.
    current: bool,
    whole: bool,
    halted: Option<Doing>,
    generation: u64,
    /// Whether it begins no search by itself.
    only_here: bool,
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
    First(Box<Routed>),
    Found(Box<Routed>),
    Ends(Box<[Routed; 2]>),
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
            && !self.whole
            && !self.only_here
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
        let answer = self.answer.as_ref().filter(|laid| same(&laid.job));
        self.current = answer.is_some_and(|laid| laid.stage != Stage::AtOneProud);
        self.whole = answer.is_some_and(|laid| laid.ends().is_some());
        if !self.run.as_ref().is_some_and(|run| same(&run.job)) {
            self.run = None;
            self.halted = None;
            self.due = now + SETTLED;
        }
    }

    fn take(&mut self) -> bool {
        let mut arrived = false;
        while let Some(run) = &mut self.run {
            let next = match run.told.try_recv() {
                Ok(Told::Looking(looking)) => {
                    run.looking = Some(looking);
                    continue;
                }
                Ok(Told::First(routed)) => (*routed, Stage::AtOneProud),
                // A search for any other job would have been dropped.
                Ok(Told::Found(routed)) => {
                    self.current = true;
                    (*routed, Stage::Nominal)
                }
                Ok(Told::Ends(ends)) => {
                    self.run = None;
                    self.whole = true;
                    let Some(answer) = self.answer.as_deref() else {
                        return arrived;
                    };
                    let next = LaidJob {
                        stage: Stage::BothEnds(ends),
                        ..answer.clone()
                    };
                    self.answer = Some(Arc::new(next));
                    return true;
                }
                Err(TryRecvError::Empty) => return arrived,
                Err(TryRecvError::Disconnected) => {
                    self.run = None;
                    let found = self.current;
                    self.halted = Some(if found { Doing::Laid } else { Doing::Broken });
                    return arrived;
                }
            };
            let (routed, stage) = next;
            let job = Job::clone(&run.job);
            self.answer = Some(Arc::new(LaidJob { job, routed, stage }));
            arrived = true;
        }
        arrived
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
        let last = self.answer.as_ref();
        let last = last.and_then(|laid| laid.routed.proud.map(|_| laid.routed.laid_at));
        let search = move || search(&job, last, &stop, &tell, &|| ctx.request_repaint());
        let thread = std::thread::Builder::new().name(format!("laying {}", self.generation));
        match thread.spawn(search) {
            Ok(_) => self.run = Some(run),
            Err(_) => self.halted = Some(Doing::Broken),
        }
    }

    /// Begins no search by itself from now on: leads come from elsewhere.
    pub fn only_here(&mut self) {
        self.run = None;
        self.only_here = true;
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
            let found = self.current;
            self.halted = Some(if found { Doing::Laid } else { Doing::Stopped });
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
            (Some(_), _) if self.current => Doing::Ranging,
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
///
/// * `last`: how far out everything held before the job changed, mm
fn search(job: &Job, last: Option<f64>, stop: &AtomicBool, tell: &Sender<Told>, wake: &dyn Fn()) {
    let stopped = || stop.load(Ordering::Relaxed);
    // Nobody listens any more once the job has changed.
    let say = |told| {
        if !stopped() {
            let _ = tell.send(told);
        }
        wake();
    };
    let mut shown: Option<f64> = None;
    let mut look = |looking: Looking| {
        // The window is woken for every proud, not for every step of a search.
        if shown != Some(looking.proud) {
            shown = Some(looking.proud);
            say(Told::Looking(looking));
        }
        !stopped()
    };
    let fit = geometry::fit(job);
    if let Some(proud) = last {
        let first = seat_at(job, &fit, proud, VOXEL, &mut look);
        if first.proud.is_some() {
            say(Told::First(Box::new(first)));
        }
    }
    let routed = routed_on(job, &fit, Reading::Nominal, VOXEL, &mut look);
    say(Told::Found(Box::new(routed)));
    let ends = [Reading::Worst, Reading::Best]
        .map(|reading| routed_on(job, &fit, reading, VOXEL, &mut |_| !stopped()));
    say(Told::Ends(Box::new(ends)));
}

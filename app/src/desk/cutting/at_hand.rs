//! Notches under the hand: what they come to and whether everything goes in,
//! followed while one is being dragged.
//!
//! A thread holds the job without its notches ready and is asked about one
//! drawing after the other; of those that came while it was busy, the last.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::{Duration, Instant};

use geometry::Job;
use geometry::trimming::{
    Account, Approach, ByHand, Ledger, StripRoom, Unreachable, by_hand, reach, strip_rooms,
};

/// A look that a newer drawing waits for is given up after this long.
const PATIENCE: Duration = Duration::from_millis(250);

/// A job that changed in anything but its notches is made ready once it has
/// stood still this long, s.
const SETTLED: f64 = 0.1;

/// What the notches of a job come to.
#[derive(Clone, Debug)]
pub struct Counted {
    /// The job.
    pub job: Job,
    /// Rib by rib.
    pub accounts: Vec<Account>,
    /// How the tool gets at each notch, in the order of the job.
    pub reach: Vec<Result<Vec<Approach>, Unreachable>>,
}

/// Whether everything goes in with the notches of a job.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The job.
    pub job: Job,
    /// The least proud looked at where everything holds, mm; `None` where no
    /// way was found.
    pub at: Option<f64>,
    /// The furthest proud looked at, mm.
    pub looked_to: f64,
    /// Where strips have room, where a way was found for everything.
    pub strips: Option<Vec<StripRoom>>,
}

enum Told {
    Counted(Box<Counted>),
    Fitted(Box<Fitted>),
}

/// The notches of the job as it stands.
#[derive(Default)]
pub struct AtHand {
    worker: Option<Worker>,
    /// The job without its notches that changed last, and when to begin with it, s.
    coming: Option<(Job, f64)>,
    counted: Option<Counted>,
    fitted: Option<Fitted>,
}

/// The thread and what it was asked last.
struct Worker {
    /// The job without its notches.
    bare: Job,
    ask: Sender<(u64, Job)>,
    told: Receiver<Told>,
    stop: Arc<AtomicBool>,
    asked: Option<Job>,
    /// Drawings asked about so far.
    drawings: Arc<AtomicU64>,
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl AtHand {
    /// Takes what has arrived and asks about the job where it has changed. Says
    /// whether anything arrived.
    ///
    /// * `job`: `None` while nobody looks
    pub fn attend(&mut self, ctx: &egui::Context, job: Option<&Job>) -> bool {
        let arrived = self.take();
        let Some(job) = job else {
            self.worker = None;
            self.coming = None;
            return arrived;
        };
        if !self.worker.as_ref().is_some_and(|it| it.is_of(job)) {
            self.worker = None;
            if !self.known(job) {
                self.begin_when_settled(ctx, job);
            }
        }
        if let Some(worker) = &mut self.worker {
            worker.ask(job);
        }
        arrived
    }

    /// Whether all is known of this job.
    fn known(&self, job: &Job) -> bool {
        let counted = self.counted.as_ref().is_some_and(|it| it.job == *job);
        counted && self.fitted.as_ref().is_some_and(|it| it.job == *job)
    }

    /// Makes a job ready that has stood still for a moment, but for its notches.
    fn begin_when_settled(&mut self, ctx: &egui::Context, job: &Job) {
        let now = ctx.input(|input| input.time);
        let bare = bare(job);
        let due = match &self.coming {
            Some((coming, due)) if *coming == bare => *due,
            _ => {
                self.coming = Some((bare.clone(), now + SETTLED));
                now + SETTLED
            }
        };
        if now >= due {
            self.coming = None;
            self.worker = Worker::begin(ctx, bare);
        } else {
            ctx.request_repaint_after(Duration::from_secs_f64(due - now));
        }
    }

    fn take(&mut self) -> bool {
        let mut arrived = false;
        while let Some(worker) = &self.worker {
            match worker.told.try_recv() {
                Ok(Told::Counted(counted)) => self.counted = Some(*counted),
                Ok(Told::Fitted(fitted)) => self.fitted = Some(*fitted),
                Err(TryRecvError::Empty) => break,
                Err(TryRecvError::Disconnected) => {
                    self.worker = None;
                    break;
                }
            }
            arrived = true;
        }
        arrived
    }

    /// Works out a job's notches here and now, however long it takes.
    pub fn look_here(&mut self, job: &Job) {
        self.worker = None;
        let bare = bare(job);
        self.counted = Some(counted(job, &mut Ledger::new(&bare)));
        self.fitted = by_hand(&bare, |hand| fitted(job, hand, &mut || true));
    }

    /// What the notches came to last, of whichever job.
    pub fn counted(&self) -> Option<&Counted> {
        self.counted.as_ref()
    }

    /// Whether everything went in last, of whichever job.
    pub fn fitted(&self) -> Option<&Fitted> {
        self.fitted.as_ref()
    }
}

impl Worker {
    /// Begins; `None` when there is no thread to be had.
    fn begin(ctx: &egui::Context, bare: Job) -> Option<Worker> {
        let (ask, asked) = channel();
        let (tell, told) = channel();
        let worker = Worker {
            bare,
            ask,
            told,
            stop: Arc::default(),
            asked: None,
            drawings: Arc::default(),
        };
        let (bare, ctx) = (worker.bare.clone(), ctx.clone());
        let (stop, drawings) = (worker.stop.clone(), worker.drawings.clone());
        let thread = std::thread::Builder::new().name("notches at hand".to_owned());
        let work = move || {
            let mut ledger = Ledger::new(&bare);
            let say = |told| {
                if !stop.load(Ordering::Relaxed) {
                    let _ = tell.send(told);
                }
                ctx.request_repaint();
            };
            by_hand(&bare, |hand| {
                while let Some((number, job)) = newest(&asked) {
                    say(Told::Counted(Box::new(counted(&job, &mut ledger))));
                    let begun = Instant::now();
                    let newer = || drawings.load(Ordering::Relaxed) > number;
                    let late = || newer() && begun.elapsed() > PATIENCE;
                    let mut go_on = || !stop.load(Ordering::Relaxed) && !late();
                    if let Some(fitted) = fitted(&job, hand, &mut go_on) {
                        say(Told::Fitted(Box::new(fitted)));
                    }
                }
            });
        };
        thread.spawn(work).is_ok().then_some(worker)
    }

    /// Whether the job differs from the one made ready in its notches alone.
    fn is_of(&self, job: &Job) -> bool {
        self.bare == bare(job)
    }

    /// Asks about a drawing, unless it was the last one asked about.
    fn ask(&mut self, job: &Job) {
        if self.asked.as_ref() == Some(job) {
            return;
        }
        self.asked = Some(job.clone());
        let number = self.drawings.fetch_add(1, Ordering::Relaxed) + 1;
        let _ = self.ask.send((number, job.clone()));
    }
}

/// Waits for a drawing; of several the last. `None` when nobody asks any more.
fn newest(asked: &Receiver<(u64, Job)>) -> Option<(u64, Job)> {
    let first = asked.recv().ok()?;
    Some(asked.try_iter().last().unwrap_or(first))
}

/// A job without its notches: all that is made ready once.
fn bare(job: &Job) -> Job {
    Job {
        trims: Vec::new(),
        ..job.clone()
    }
}

fn counted(job: &Job, ledger: &mut Ledger<'_>) -> Counted {
    let reach = (job.trims.iter()).map(|trim| reach(job, trim, &job.cutting.tool));
    Counted {
        accounts: ledger.accounts(&job.trims),
        reach: reach.collect(),
        job: job.clone(),
    }
}

/// Flush, else as far out as the job allows; `None` when it was stopped.
fn fitted(job: &Job, hand: &mut ByHand<'_>, go_on: &mut dyn FnMut() -> bool) -> Option<Fitted> {
    let both = [0.0, job.proud_limit];
    let prouds = if job.proud_limit > 0.0 {
        &both[..]
    } else {
        &both[..1]
    };
    let (mut at, mut strips) = (None, None);
    for proud in prouds {
        if let Some(routed) = hand.look(&job.trims, *proud, go_on) {
            at = Some(*proud);
            strips = Some(strip_rooms(job, &routed));
            break;
        }
        if !go_on() {
            return None;
        }
    }
    Some(Fitted {
        job: job.clone(),
        at,
        looked_to: at.unwrap_or(job.proud_limit),
        strips,
    })
}

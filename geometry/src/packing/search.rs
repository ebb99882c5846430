//! Where to look for a tight place.
//!
//! Several runs, each from its own starts. A run hops from hollow to hollow of
//! soft circles under pressure; it takes a hop downhill always, and uphill the
//! more seldom the higher and the later (simulated annealing over hollows). The
//! best hollows are pressed harder, and the tightest is settled into its contacts.

use super::chance::Chance;
use super::descend::{Descent, Stop};
use super::ease::give_way;
use super::effort::Plan;
use super::moves::change;
use super::press::Press;
use super::starts::start;
use super::touch::Touch;

/// Where chance begins: of a few numbers tried, one that finds 2 to 37 equal
/// circles within 0.1 % of the best known.
const SEED: u64 = 13;
/// Pressure of the hops, of equal and of mixed circles: they overlap by some
/// hundredths of a mean radius.
const SOFT: [f64; 2] = [0.7, 1.2];
/// How flat a hollow is at the end of a hop, for a pressure of 1, of both.
const FLAT: [f64; 2] = [0.1, 0.05];
/// Pressure of the choice among the best: the radius is told to about 0.01 %.
const HARD: f64 = 0.1;
/// Pressures on the way to the contacts.
const TIGHT: [f64; 3] = [0.02, 0.004, 0.001];
/// The same of the choice among the best, and at the end.
const FLAT_WHEN_HARD: f64 = 0.1;
const FLAT_AT_THE_END: f64 = 0.001;
/// Mixed circles go on from a first look when their squared overlaps grew by less,
/// in squared mean radii.
const PROMISING: f64 = 0.25;
/// The work of a first look, in evaluations.
const LOOK: usize = 4;
/// Evaluations at most in one descent.
const MOST: usize = 300;
/// How far uphill hops go at first on average, as a share of the height.
const UPHILL: f64 = 0.002;
/// Hollows of a run that are pressed hard.
const FINALISTS: usize = 2;

/// A hollow of the energy.
#[derive(Clone)]
struct Hollow {
    place: Vec<f64>,
    /// The energy for a pressure of 1.
    height: f64,
    /// The container's radius without the overlaps, as far as the pressure tells.
    radius: f64,
}

/// The tightest place found for circles of these radii, largest first, their
/// mean about 1. Circles overlap by a few thousandths.
pub(super) fn search(radii: &[f64], plan: &Plan) -> Vec<f64> {
    let mut hunt = Hunt {
        radii,
        press: Press::new(radii),
        touch: Touch::new(radii),
        chance: Chance::new(SEED),
        descent: Descent::new(2 * radii.len() + 1),
        work: 0,
    };
    let mut best: Option<Hollow> = None;
    for _ in 0..plan.runs {
        for finalist in hunt.run(plan) {
            let hard = hunt.press(finalist.place, HARD, FLAT_WHEN_HARD);
            if best.as_ref().is_none_or(|best| hard.radius < best.radius) {
                best = Some(hard);
            }
        }
    }
    let place = best.map_or_else(Vec::new, |best| best.place);
    TIGHT.iter().fold(place, |place, &pressure| {
        hunt.press(place, pressure, FLAT_AT_THE_END).place
    })
}

/// The means of a search, and the work done so far.
struct Hunt<'a> {
    radii: &'a [f64],
    press: Press<'a>,
    touch: Touch<'a>,
    chance: Chance,
    descent: Descent,
    work: usize,
}

impl Hunt<'_> {
    /// One run; returns its best hollows.
    fn run(&mut self, plan: &Plan) -> Vec<Hollow> {
        let begin = self.work;
        let kind = usize::from(!plan.equal);
        let (soft, flat) = (SOFT[kind], FLAT[kind]);
        let mut finalists = Vec::new();
        for turn in 0..plan.starts {
            let place = start(self.radii, turn, &mut self.chance);
            let hollow = self.press(place, soft, flat);
            keep(&mut finalists, hollow);
        }
        let mut here = finalists[0].clone();
        while self.work < begin + plan.work {
            let late = (self.work - begin) as f64 / plan.work as f64;
            let mut place = here.place.clone();
            change(&self.touch, &mut place, &mut self.chance);
            if !plan.equal && !self.looks_promising(&here.place, &mut place) {
                continue;
            }
            let there = self.press_while_hope(place, soft, flat, here.height);
            if there.height < here.height * (1.0 + self.uphill(late)) {
                here = there;
                keep(&mut finalists, here.clone());
            }
        }
        finalists
    }

    /// Lets the circles around a change give way; tells whether to go on from there.
    fn looks_promising(&mut self, was: &[f64], place: &mut [f64]) -> bool {
        self.work += LOOK * Plan::work_of_an_evaluation(self.radii.len());
        give_way(&self.touch, was, place) < PROMISING
    }

    /// How far uphill the next hop may go, as a share of the height.
    fn uphill(&mut self, late: f64) -> f64 {
        let early = 1.0 - late;
        UPHILL * early * early * self.chance.exponential()
    }

    fn press(&mut self, place: Vec<f64>, pressure: f64, flat: f64) -> Hollow {
        self.press_while_hope(place, pressure, flat, f64::INFINITY)
    }

    /// Descends into a hollow, or gives up when a height seems out of reach.
    fn press_while_hope(
        &mut self,
        mut place: Vec<f64>,
        pressure: f64,
        flat: f64,
        hope: f64,
    ) -> Hollow {
        self.press.set_pressure(pressure);
        let stop = Stop {
            flat: flat * pressure,
            most: MOST,
            hope: hope * pressure,
        };
        let mut evaluations = 0;
        let height = self.descent.run(&mut place, stop, |at, slope| {
            evaluations += 1;
            self.press.energy(at, slope)
        });
        self.work += evaluations * Plan::work_of_an_evaluation(self.radii.len());
        Hollow {
            radius: self.press.radius_without_overlap(&place),
            height: height / pressure,
            place,
        }
    }
}

/// Keeps the finalists, the narrowest first.
fn keep(finalists: &mut Vec<Hollow>, hollow: Hollow) {
    let rank = finalists.partition_point(|other| other.radius <= hollow.radius);
    finalists.insert(rank, hollow);
    finalists.truncate(FINALISTS);
}

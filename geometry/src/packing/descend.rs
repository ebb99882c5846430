//! Down a smooth slope to a hollow, by limited-memory quasi-Newton steps.
//!
//! J. Nocedal, "Updating quasi-Newton matrices with limited storage",
//! Mathematics of Computation 35, 1980 (from memory).

/// Steps remembered.
const MEMORY: usize = 4;
/// A step is taken when it gains this share of what the slope promises.
const GAIN: f64 = 1e-4;

/// Every so many evaluations the descent asks whether it is worth going on.
const LOOK: usize = 8;
/// It is not, when what is still hoped for is more than this many times what the
/// last evaluations gained.
const PATIENCE: f64 = 0.7;

/// When to stop.
#[derive(Clone, Copy)]
pub(crate) struct Stop {
    /// The slope is shorter than this.
    pub flat: f64,
    /// So many evaluations were made.
    pub most: usize,
    /// This height seems out of reach. Infinite for no such hope.
    pub hope: f64,
}

/// Room for descents over vectors of one length.
pub(crate) struct Descent {
    steps: Vec<Vec<f64>>,
    turns: Vec<Vec<f64>>,
    curvature: [f64; MEMORY],
    slope: Vec<f64>,
    next: Vec<f64>,
    next_slope: Vec<f64>,
    way: Vec<f64>,
}

impl Descent {
    /// Room for vectors of a length.
    pub fn new(length: usize) -> Descent {
        Descent {
            steps: vec![vec![0.0; length]; MEMORY],
            turns: vec![vec![0.0; length]; MEMORY],
            curvature: [0.0; MEMORY],
            slope: vec![0.0; length],
            next: vec![0.0; length],
            next_slope: vec![0.0; length],
            way: vec![0.0; length],
        }
    }

    /// Moves `place` downhill and returns the height there.
    ///
    /// Stops where the stop says, or when rounding hides the way down.
    ///
    /// * `height`: the height at a place; writes the slope
    pub fn run(
        &mut self,
        place: &mut [f64],
        stop: Stop,
        mut height: impl FnMut(&[f64], &mut [f64]) -> f64,
    ) -> f64 {
        let mut here = height(place, &mut self.slope);
        let mut known = 0;
        let mut evaluations = 1;
        let (mut mark, mut mark_at) = (here, evaluations);
        while evaluations < stop.most {
            if evaluations >= mark_at + LOOK {
                if here - stop.hope > PATIENCE * (mark - here) {
                    break;
                }
                (mark, mark_at) = (here, evaluations);
            }
            let steep = dot(&self.slope, &self.slope);
            if steep < stop.flat * stop.flat {
                break;
            }
            self.aim(known);
            let mut promise = dot(&self.way, &self.slope);
            if promise >= 0.0 {
                known = 0;
                self.aim(0);
                promise = -steep;
            }
            let mut stride = 1.0;
            let there = loop {
                for ((next, at), way) in self.next.iter_mut().zip(&*place).zip(&self.way) {
                    *next = at + stride * way;
                }
                let there = height(&self.next, &mut self.next_slope);
                evaluations += 1;
                if there <= here + GAIN * stride * promise {
                    break Some(there);
                }
                if evaluations >= stop.most || stride < 1e-6 {
                    break None;
                }
                stride *= 0.4;
            };
            let Some(there) = there else {
                if known == 0 {
                    break;
                }
                known = 0;
                continue;
            };
            known = self.remember(place, known);
            place.copy_from_slice(&self.next);
            std::mem::swap(&mut self.slope, &mut self.next_slope);
            here = there;
        }
        here
    }

    /// Keeps the step from `place` to `next`; returns how many are known.
    fn remember(&mut self, place: &[f64], known: usize) -> usize {
        self.steps.rotate_right(1);
        self.turns.rotate_right(1);
        for (i, at) in place.iter().enumerate() {
            self.steps[0][i] = self.next[i] - at;
            self.turns[0][i] = self.next_slope[i] - self.slope[i];
        }
        let bend = dot(&self.steps[0], &self.turns[0]);
        if bend <= 1e-12 * dot(&self.turns[0], &self.turns[0]) {
            self.steps.rotate_left(1);
            self.turns.rotate_left(1);
            return known;
        }
        self.curvature.rotate_right(1);
        self.curvature[0] = bend;
        (known + 1).min(MEMORY)
    }

    /// Points `way` downhill, using the steps known.
    fn aim(&mut self, known: usize) {
        for (way, slope) in self.way.iter_mut().zip(&self.slope) {
            *way = -slope;
        }
        let mut shares = [0.0; MEMORY];
        for (k, share) in shares.iter_mut().enumerate().take(known) {
            *share = dot(&self.steps[k], &self.way) / self.curvature[k];
            add(&mut self.way, -*share, &self.turns[k]);
        }
        let scale = if known > 0 {
            self.curvature[0] / dot(&self.turns[0], &self.turns[0])
        } else {
            0.5
        };
        for way in &mut self.way {
            *way *= scale;
        }
        for k in (0..known).rev() {
            let back = dot(&self.turns[k], &self.way) / self.curvature[k];
            add(&mut self.way, shares[k] - back, &self.steps[k]);
        }
    }
}

/// The dot product, in four sums side by side.
#[inline]
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (fours_a, fours_b) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = fours_a
        .remainder()
        .iter()
        .zip(fours_b.remainder())
        .map(|(a, b)| a * b)
        .sum();
    for (a, b) in fours_a.zip(fours_b) {
        for k in 0..4 {
            sums[k] += a[k] * b[k];
        }
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

fn add(to: &mut [f64], times: f64, what: &[f64]) {
    for (to, what) in to.iter_mut().zip(what) {
        *to += times * what;
    }
}

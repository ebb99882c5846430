//! From a nearly tight place to its exact contacts.
//!
//! The least container radius under "no overlap" is found by multipliers: every
//! contact carries a load, and is pressed by a stiff spring that is shifted by
//! that load until the overlap is gone (augmented Lagrangian: M. R. Hestenes,
//! "Multiplier and gradient methods", 1969, from memory). Each round is solved
//! by damped Gauss-Newton steps. It copes with loose circles (no contact) and
//! with more contacts than are needed (hexagonal heaps).

use super::descend::dot;

/// Stiffness of the contacts for a load of 1 on the container.
const STIFFNESS: [f64; 4] = [1e3, 1e4, 1e5, 1e5];
/// Rounds of loads at most.
const ROUNDS: usize = 5;
/// Steps at most in a round.
const STEPS: usize = 6;
/// A step that promises less than this, relative to the radius, ends a round: the
/// first, the second, and so on.
const FLAT: [f64; 4] = [1e-9, 1e-11, 1e-13, 1e-14];
/// A step that promises more than this share of what the one before did slides along
/// a loose way; unless it gains this much, relative to the radius, the round ends.
const SLIDING: f64 = 0.1;
const NOTHING: f64 = 1e-6;
/// What holds a loose circle still, in the same unit as the stiffness.
const HOLD: f64 = 0.5;
/// No circle moves further in one step, in mean radii.
const LONGEST: f64 = 0.2;
/// Settled when drawing the circles apart adds no more than this to the radius
/// of the container, relative to it.
const SETTLED: f64 = 1e-10;

/// Contacts under load, for circles of these radii.
struct Settling<'a> {
    radii: &'a [f64],
    /// Loads between circles i > j at `i * n + j`, on the container at `i * n + i`.
    loads: Vec<f64>,
    stiffness: f64,
    slope: Vec<f64>,
    matrix: Vec<f64>,
    /// In each row of the matrix, the first entry that is not 0.
    first: Vec<usize>,
}

/// A contact, while it bears load: two circles, or one circle and the container.
struct Contact {
    i: usize,
    j: usize,
    /// Direction in which the circle `i` is pushed.
    way: (f64, f64),
    load: f64,
}

/// Settles the circles into their contacts. Returns centres without overlaps, and
/// the radius of the container around them.
///
/// Works from left to right, so that the matrix has its entries near the diagonal.
pub(super) fn settle(radii: &[f64], start: &[f64]) -> (Vec<f64>, f64) {
    let n = radii.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&a, &b| start[2 * a].total_cmp(&start[2 * b]));
    let sorted: Vec<f64> = order.iter().map(|&i| radii[i]).collect();
    let mut place: Vec<f64> = order
        .iter()
        .flat_map(|&i| [start[2 * i], start[2 * i + 1]])
        .collect();
    place.push(start[2 * n]);
    let settled = settle_sorted(&sorted, place);
    let mut centres = vec![0.0; 2 * n];
    for (&i, at) in order.iter().zip(settled.chunks_exact(2)) {
        centres[2 * i..2 * i + 2].copy_from_slice(at);
    }
    (centres, settled[2 * n])
}

/// The same for circles sorted from left to right.
fn settle_sorted(radii: &[f64], mut place: Vec<f64>) -> Vec<f64> {
    let n = radii.len();
    let size = 2 * n + 1;
    let mut settling = Settling {
        radii,
        loads: vec![0.0; n * n],
        stiffness: STIFFNESS[0],
        slope: vec![0.0; size],
        matrix: vec![0.0; size * size],
        first: vec![0; size],
    };
    let mut best = parted(radii, &place);
    for round in 0..ROUNDS {
        settling.stiffness = STIFFNESS[round.min(STIFFNESS.len() - 1)];
        settling.descend(&mut place, FLAT[round.min(FLAT.len() - 1)]);
        settling.take_up_loads(&place);
        let apart = parted(radii, &place);
        let done = apart[2 * n] - place[2 * n] <= SETTLED * place[2 * n];
        if apart[2 * n] < best[2 * n] {
            best = apart;
        }
        if done {
            break;
        }
    }
    best
}

impl Settling<'_> {
    /// Steps down to the hollow for the present loads.
    fn descend(&mut self, place: &mut [f64], flat: f64) {
        let size = place.len();
        let mut next = place.to_vec();
        let mut last = f64::INFINITY;
        for _ in 0..STEPS {
            let here = self.assemble(place);
            let mut step = self.slope.clone();
            factor(&mut self.matrix, &self.first);
            solve(&self.matrix, &mut step);
            let longest = step.iter().fold(0.0, |far: f64, part| far.max(part.abs()));
            let promise = dot(&self.slope, &step);
            if promise < flat * here {
                break;
            }
            let mut stride = (LONGEST / longest).min(1.0);
            let mut moved = false;
            let mut there = here;
            while stride > 1e-9 {
                for k in 0..size {
                    next[k] = place[k] - stride * step[k];
                }
                there = self.height(&next);
                if there <= here - 1e-4 * stride * promise {
                    moved = true;
                    break;
                }
                stride *= 0.4;
            }
            if !moved {
                break;
            }
            place.copy_from_slice(&next);
            if promise > SLIDING * last && here - there < NOTHING * here {
                break;
            }
            last = promise;
        }
    }

    fn height(&self, place: &[f64]) -> f64 {
        let mut squares = 0.0;
        self.for_each_contact(place, |contact| squares += contact.load * contact.load);
        place[place.len() - 1] + 0.5 * squares / self.stiffness
    }

    fn take_up_loads(&mut self, place: &[f64]) {
        let n = self.radii.len();
        let mut loads = vec![0.0; n * n];
        self.for_each_contact(place, |contact| {
            loads[contact.i * n + contact.j] = contact.load;
        });
        self.loads = loads;
    }

    /// The height at a place; fills in the slope and the matrix.
    fn assemble(&mut self, place: &[f64]) -> f64 {
        let n = self.radii.len();
        let size = 2 * n + 1;
        let k = self.stiffness;
        let mut slope = std::mem::take(&mut self.slope);
        let mut matrix = std::mem::take(&mut self.matrix);
        let mut first: Vec<usize> = (0..size).map(|row| row & !1).collect();
        first[2 * n] = 0;
        slope.fill(0.0);
        matrix.fill(0.0);
        slope[2 * n] = 1.0;
        let mut squares = 0.0;
        self.for_each_contact(place, |Contact { i, j, way, load }| {
            squares += load * load;
            let (x, y) = way;
            slope[2 * i] -= load * x;
            slope[2 * i + 1] -= load * y;
            let (xx, xy, yy) = (k * x * x, k * x * y, k * y * y);
            let diagonal = |matrix: &mut [f64], i: usize| {
                matrix[2 * i * size + 2 * i] += xx;
                matrix[(2 * i + 1) * size + 2 * i] += xy;
                matrix[(2 * i + 1) * size + 2 * i + 1] += yy;
            };
            diagonal(&mut matrix, i);
            if i == j {
                slope[2 * n] -= load;
                let last = 2 * n * size;
                matrix[last + 2 * i] += k * x;
                matrix[last + 2 * i + 1] += k * y;
                matrix[last + 2 * n] += k;
            } else {
                slope[2 * j] += load * x;
                slope[2 * j + 1] += load * y;
                diagonal(&mut matrix, j);
                first[2 * i] = first[2 * i].min(2 * j);
                first[2 * i + 1] = first[2 * i + 1].min(2 * j);
                let at = 2 * i * size + 2 * j;
                matrix[at] -= xx;
                matrix[at + 1] -= xy;
                matrix[at + size] -= xy;
                matrix[at + size + 1] -= yy;
            }
        });
        for i in 0..size {
            matrix[i * size + i] += HOLD;
        }
        self.first = first;
        self.slope = slope;
        self.matrix = matrix;
        place[2 * n] + 0.5 * squares / k
    }

    fn for_each_contact(&self, place: &[f64], mut bear: impl FnMut(Contact)) {
        let n = self.radii.len();
        let container = place[2 * n];
        for i in 0..n {
            let (x, y) = (place[2 * i], place[2 * i + 1]);
            for j in 0..i {
                let (dx, dy) = (x - place[2 * j], y - place[2 * j + 1]);
                let square = dx * dx + dy * dy;
                let shift = self.loads[i * n + j] / self.stiffness;
                let reach = self.radii[i] + self.radii[j] + shift;
                if square < reach * reach && square > 0.0 {
                    let apart = square.sqrt();
                    bear(Contact {
                        i,
                        j,
                        way: (dx / apart, dy / apart),
                        load: self.stiffness * (reach - apart),
                    });
                }
            }
            let out = (x * x + y * y).sqrt();
            let reach = container - self.radii[i] - self.loads[i * n + i] / self.stiffness;
            if out > reach && out > 0.0 {
                bear(Contact {
                    i,
                    j: i,
                    way: (-x / out, -y / out),
                    load: self.stiffness * (out - reach),
                });
            }
        }
    }
}

/// Cholesky's factor of a symmetric matrix, in its lower half; `first` tells where
/// each row begins.
fn factor(matrix: &mut [f64], first: &[usize]) {
    let size = first.len();
    for i in 0..size {
        let (above, row) = matrix.split_at_mut(i * size);
        for j in first[i]..i {
            let from = first[i].max(first[j]);
            let other = &above[j * size..j * size + j + 1];
            row[j] = (row[j] - dot(&row[from..j], &other[from..j])) / other[j];
        }
        let part = &row[first[i]..i];
        let rest = row[i] - dot(part, part);
        row[i] = rest.max(1e-3 * HOLD).sqrt();
    }
}

/// Solves with Cholesky's factor; `side` becomes the solution.
fn solve(factor: &[f64], side: &mut [f64]) {
    let size = side.len();
    for i in 0..size {
        let row = &factor[i * size..i * size + i + 1];
        side[i] = (side[i] - dot(&row[..i], &side[..i])) / row[i];
    }
    for i in (0..size).rev() {
        let row = &factor[i * size..i * size + i + 1];
        side[i] /= row[i];
        let (before, at) = side.split_at_mut(i);
        for (before, part) in before.iter_mut().zip(row) {
            *before -= part * at[0];
        }
    }
}

/// The circles drawn apart, all away from the centre alike, until none overlap,
/// in the container around them.
fn parted(radii: &[f64], place: &[f64]) -> Vec<f64> {
    let n = radii.len();
    let mut scale: f64 = 0.0;
    for i in 0..n {
        for j in 0..i {
            let dx = place[2 * i] - place[2 * j];
            let dy = place[2 * i + 1] - place[2 * j + 1];
            scale = scale.max((radii[i] + radii[j]) / (dx * dx + dy * dy).sqrt());
        }
    }
    let mut apart: Vec<f64> = place.iter().map(|part| part * scale).collect();
    apart[2 * n] = (0..n).fold(0.0, |widest: f64, i| {
        let (x, y) = (apart[2 * i], apart[2 * i + 1]);
        widest.max((x * x + y * y).sqrt() + radii[i])
    });
    apart
}

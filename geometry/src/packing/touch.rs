//! How far every two circles of a list overlap, for quick looks at a few of them.

/// The distances at which the circles of a list touch, row by row.
pub(super) struct Touch<'a> {
    /// Their radii.
    pub radii: &'a [f64],
    /// Of every two; of a circle and itself, nothing that could overlap.
    pairs: Vec<Pair>,
}

/// How two circles touch.
#[derive(Clone, Copy, Default)]
struct Pair {
    /// Half the distance at which they do.
    half: f64,
    /// Half of 1 over that distance.
    per: f64,
}

impl Pair {
    /// The overlap at a squared distance, to first order; 0 of circles apart.
    fn overlap(self, square: f64) -> f64 {
        (self.half - self.per * square).max(0.0)
    }
}

/// Circles that may come to overlap one circle.
#[derive(Default)]
pub(super) struct Around(Vec<(usize, Pair)>);

/// A circle gives way by more than the mean of its overlaps: they share the way.
const EAGER: f64 = 1.5;

impl<'a> Touch<'a> {
    /// The table for circles of these radii.
    pub fn new(radii: &'a [f64]) -> Touch<'a> {
        let n = radii.len();
        let mut pairs = vec![Pair::default(); n * n];
        for i in 0..n {
            for k in (0..n).filter(|&k| k != i) {
                let sum = radii[i] + radii[k];
                pairs[i * n + k] = Pair {
                    half: 0.5 * sum,
                    per: 0.5 / sum,
                };
            }
        }
        Touch { radii, pairs }
    }

    /// The sum of the squared overlaps of a circle, were it at a spot.
    pub fn squares(&self, place: &[f64], i: usize, (x, y): (f64, f64)) -> f64 {
        let (out, _) = self.out(place, i, (x, y));
        let mut sum = out * out;
        for (at, pair) in place.chunks_exact(2).zip(self.row(i)) {
            let (dx, dy) = (x - at[0], y - at[1]);
            let over = pair.overlap(dx * dx + dy * dy);
            sum += over * over;
        }
        sum
    }

    /// The circles within a zone around a circle at a spot.
    pub fn around(
        &self,
        place: &[f64],
        i: usize,
        (x, y): (f64, f64),
        zone: f64,
        around: &mut Around,
    ) {
        around.0.clear();
        for (k, (at, pair)) in place.chunks_exact(2).zip(self.row(i)).enumerate() {
            let (dx, dy) = (x - at[0], y - at[1]);
            let reach = 2.0 * pair.half + zone;
            if dx * dx + dy * dy < reach * reach && k != i {
                around.0.push((2 * k, *pair));
            }
        }
    }

    /// Where a circle goes from a spot to give way to what it overlaps.
    pub fn give_way(
        &self,
        place: &[f64],
        i: usize,
        (x, y): (f64, f64),
        around: &Around,
    ) -> (f64, f64) {
        let (out, pull) = self.out(place, i, (x, y));
        let (mut way_x, mut way_y) = (-pull * x, -pull * y);
        let mut count = if out > 0.0 { 1.0 } else { 0.0 };
        for &(at, pair) in &around.0 {
            let (dx, dy) = (x - place[at], y - place[at + 1]);
            let over = pair.overlap(dx * dx + dy * dy);
            if over > 0.0 {
                let push = 2.0 * pair.per * over;
                way_x += push * dx;
                way_y += push * dy;
                count += 1.0;
            }
        }
        let share = EAGER / (1.0 + count);
        (x + share * way_x, y + share * way_y)
    }

    /// How far a circle stands out of the container, and its share of the spot.
    fn out(&self, place: &[f64], i: usize, (x, y): (f64, f64)) -> (f64, f64) {
        let room = place[2 * self.radii.len()] - self.radii[i];
        let square = x * x + y * y;
        if room > 0.0 && square <= room * room {
            return (0.0, 0.0);
        }
        let far = square.sqrt();
        (far - room, (far - room) / far.max(1e-12))
    }

    fn row(&self, i: usize) -> &[Pair] {
        let n = self.radii.len();
        &self.pairs[i * n..(i + 1) * n]
    }
}

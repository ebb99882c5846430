//! Soft circles pressed together by a shrinking container.
//!
//! A place of `n` circles is one vector: the centres, x and y in turn, and the
//! radius of the container, whose centre is the origin.

/// The energy of soft circles in a container under pressure:
/// pressure x container radius + half the sum of the squared overlaps.
///
/// The overlap of two circles is told from the squares of their distance and of
/// the distance at which they touch, without a root; exact to first order.
pub(super) struct Press<'a> {
    radii: &'a [f64],
    pressure: f64,
    /// Circles near enough to meet before anything moves by half the margin.
    near: Vec<Near>,
    /// For each circle, where its neighbours end in `near`.
    ends: Vec<usize>,
    /// The sum of the squared overlaps at the last place asked for.
    squares: f64,
    margin: f64,
    /// Where the circles were when `near` was gathered.
    gathered: Vec<f64>,
}

/// A circle near another, listed with the later one.
#[derive(Clone, Copy, Default)]
struct Near {
    /// Where its centre begins in a place.
    at: usize,
    /// Half the distance at which the two touch.
    half: f64,
    /// Half of 1 over that distance.
    per: f64,
}

/// How far the centres may lie apart before the neighbours are gathered anew, as
/// a share of the mean radius.
const MARGIN: f64 = 0.4;

impl<'a> Press<'a> {
    /// A press for circles of these radii.
    pub fn new(radii: &'a [f64]) -> Press<'a> {
        let n = radii.len();
        let mean = radii.iter().sum::<f64>() / n as f64;
        Press {
            radii,
            pressure: 1.0,
            near: vec![Near::default(); n * n.saturating_sub(1) / 2 + 1],
            ends: vec![0; n],
            squares: 0.0,
            margin: MARGIN * mean,
            gathered: vec![f64::INFINITY; 2 * n],
        }
    }

    /// Presses so hard from now on.
    pub fn set_pressure(&mut self, pressure: f64) {
        self.pressure = pressure;
    }

    /// The energy at a place, and its slope.
    pub fn energy(&mut self, place: &[f64], slope: &mut [f64]) -> f64 {
        self.gather_if_moved(place);
        let n = self.radii.len();
        let container = place[2 * n];
        let mut squares = 0.0;
        let mut push = 0.0;
        let mut begin = 0;
        for (i, (radius, &end)) in self.radii.iter().zip(&self.ends).enumerate() {
            let (before, here) = slope.split_at_mut(2 * i);
            let (x, y) = (place[2 * i], place[2 * i + 1]);
            let square = x * x + y * y;
            let room = container - radius;
            let (mut slope_x, mut slope_y, mut sum) = (0.0, 0.0, 0.0);
            if room < 0.0 || square > room * room {
                let out = square.sqrt();
                let over = out - room;
                sum = over * over;
                push += over;
                let pull = over / out.max(1e-12);
                slope_x = pull * x;
                slope_y = pull * y;
            }
            for near in &self.near[begin..end] {
                let other = &place[near.at..near.at + 2];
                let (dx, dy) = (x - other[0], y - other[1]);
                let over = (near.half - near.per * (dx * dx + dy * dy)).max(0.0);
                sum += over * over;
                let push = 2.0 * near.per * over;
                let (push_x, push_y) = (push * dx, push * dy);
                slope_x -= push_x;
                slope_y -= push_y;
                let slope = &mut before[near.at..near.at + 2];
                slope[0] += push_x;
                slope[1] += push_y;
            }
            here[0] = slope_x;
            here[1] = slope_y;
            squares += sum;
            begin = end;
        }
        slope[2 * n] = self.pressure - push;
        self.squares = squares;
        self.pressure * container + 0.5 * squares
    }

    /// The container's radius without the overlaps, as far as the last energy
    /// tells: to first order in the pressure, in a hollow of the energy.
    pub fn radius_without_overlap(&self, place: &[f64]) -> f64 {
        place[place.len() - 1] + self.squares / self.pressure
    }

    fn gather_if_moved(&mut self, place: &[f64]) {
        let moved = self
            .gathered
            .chunks_exact(2)
            .zip(place.chunks_exact(2))
            .fold(0.0, |most: f64, (was, is)| {
                let (dx, dy) = (is[0] - was[0], is[1] - was[1]);
                let square = dx * dx + dy * dy;
                if square > most { square } else { most }
            });
        if moved < 0.25 * self.margin * self.margin {
            return;
        }
        let n = self.radii.len();
        self.gathered.copy_from_slice(&place[..2 * n]);
        let mut end = 0;
        for i in 0..n {
            let (x, y, reach) = (place[2 * i], place[2 * i + 1], self.radii[i] + self.margin);
            for (j, (radius, at)) in self.radii[..i]
                .iter()
                .zip(place.chunks_exact(2))
                .enumerate()
            {
                let (dx, dy) = (x - at[0], y - at[1]);
                let far = reach + radius;
                let touch = self.radii[i] + radius;
                // Written always, kept when near: no branch to guess.
                let near = &mut self.near[end];
                near.at = 2 * j;
                near.half = touch;
                end += usize::from(dx * dx + dy * dy < far * far);
            }
            self.ends[i] = end;
        }
        for near in &mut self.near[..end] {
            near.per = 0.5 / near.half;
            near.half *= 0.5;
        }
    }
}

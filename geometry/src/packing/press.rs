//! Soft circles pressed together by a shrinking container.
//!
//! A place of `n` circles is one vector: the `n` abscissae, the `n` ordinates,
//! and the radius of the container, whose centre is the origin.

/// The energy of soft circles in a container under pressure:
/// pressure x container radius + half the sum of the squared overlaps.
pub(super) struct Press<'a> {
    radii: &'a [f64],
    pressure: f64,
    /// Circles near enough to meet before anything moves by half the margin.
    near: Vec<(u32, u32)>,
    margin: f64,
    /// Where the circles were when `near` was gathered.
    gathered: Vec<f64>,
}

impl<'a> Press<'a> {
    /// A press for circles of these radii.
    pub fn new(radii: &'a [f64], pressure: f64) -> Press<'a> {
        let mean = radii.iter().sum::<f64>() / radii.len() as f64;
        Press {
            radii,
            pressure,
            near: Vec::new(),
            margin: 0.4 * mean,
            gathered: Vec::new(),
        }
    }

    /// The energy at a place, and its slope.
    pub fn energy(&mut self, place: &[f64], slope: &mut [f64]) -> f64 {
        self.gather_if_moved(place);
        let n = self.radii.len();
        let radii = &self.radii[..n];
        let (x, rest) = place.split_at(n);
        let (y, container) = (&rest[..n], rest[n]);
        let (slope_x, rest) = slope.split_at_mut(n);
        let (slope_y, slope_container) = rest.split_at_mut(n);

        let mut squares = 0.0;
        let mut push = 0.0;
        for i in 0..n {
            let (from_centre, out) = (x[i].hypot_fast(y[i]), container - radii[i]);
            let over = from_centre - out;
            if over > 0.0 {
                squares += over * over;
                push += over;
                let pull = if from_centre > 0.0 {
                    over / from_centre
                } else {
                    0.0
                };
                slope_x[i] = pull * x[i];
                slope_y[i] = pull * y[i];
            } else {
                slope_x[i] = 0.0;
                slope_y[i] = 0.0;
            }
        }
        slope_container[0] = self.pressure - push;
        for &(i, j) in &self.near {
            let (i, j) = (i as usize, j as usize);
            let (dx, dy) = (x[i] - x[j], y[i] - y[j]);
            let square = dx * dx + dy * dy;
            let touch = radii[i] + radii[j];
            if square < touch * touch {
                let apart = square.sqrt();
                let over = touch - apart;
                squares += over * over;
                let push = over / apart.max(1e-12 * touch);
                slope_x[i] -= push * dx;
                slope_y[i] -= push * dy;
                slope_x[j] += push * dx;
                slope_y[j] += push * dy;
            }
        }
        self.pressure * container + 0.5 * squares
    }

    fn gather_if_moved(&mut self, place: &[f64]) {
        let n = self.radii.len();
        let allowed = 0.25 * self.margin * self.margin;
        let still = self.gathered.len() == 2 * n
            && (0..n).all(|i| {
                let dx = place[i] - self.gathered[i];
                let dy = place[n + i] - self.gathered[n + i];
                dx * dx + dy * dy < allowed
            });
        if still {
            return;
        }
        self.gathered.clear();
        self.gathered.extend_from_slice(&place[..2 * n]);
        self.near.clear();
        for i in 0..n {
            for j in 0..i {
                let (dx, dy) = (place[i] - place[j], place[n + i] - place[n + j]);
                let reach = self.radii[i] + self.radii[j] + self.margin;
                if dx * dx + dy * dy < reach * reach {
                    self.near.push((i as u32, j as u32));
                }
            }
        }
    }
}

/// The length of a vector of moderate size, from operations that round alike
/// on every machine.
trait HypotFast {
    fn hypot_fast(self, other: f64) -> f64;
}

impl HypotFast for f64 {
    fn hypot_fast(self, other: f64) -> f64 {
        (self * self + other * other).sqrt()
    }
}

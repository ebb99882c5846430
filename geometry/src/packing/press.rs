//! Soft circles pressed together by a shrinking container.
//!
//! A place of `n` circles is one vector: the centres, x and y in turn, and the
//! radius of the container, whose centre is the origin.

/// The energy of soft circles in a container under pressure:
/// pressure x container radius + half the sum of the squared overlaps.
pub(super) struct Press<'a> {
    radii: &'a [f64],
    pressure: f64,
    /// Circles near enough to meet before anything moves by half the margin.
    /// Their places in the vector, and the distance at which they touch.
    near: Vec<(u32, f64)>,
    /// For each circle, where its neighbours begin in `near`.
    first: Vec<u32>,
    /// The sum of the squared overlaps at the last place asked for.
    squares: f64,
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
            first: Vec::new(),
            squares: 0.0,
            margin: 0.8 * mean,
            gathered: Vec::new(),
        }
    }

    /// The energy at a place, and its slope.
    pub fn energy(&mut self, place: &[f64], slope: &mut [f64]) -> f64 {
        self.gather_if_moved(place);
        let n = self.radii.len();
        let container = place[2 * n];
        let mut squares = 0.0;
        let mut push = 0.0;
        for (i, radius) in self.radii.iter().enumerate() {
            let (x, y) = (place[2 * i], place[2 * i + 1]);
            let square = x * x + y * y;
            let room = container - radius;
            let (mut slope_x, mut slope_y) = (0.0, 0.0);
            if room < 0.0 || square > room * room {
                let out = square.sqrt();
                let over = out - room;
                squares += over * over;
                push += over;
                let pull = over / out.max(1e-12);
                slope_x = pull * x;
                slope_y = pull * y;
            }
            let neighbours = self.first[i] as usize..self.first[i + 1] as usize;
            for &(j, touch) in &self.near[neighbours] {
                let other = &place[j as usize..j as usize + 2];
                let dx = x - other[0];
                let dy = y - other[1];
                let square = dx * dx + dy * dy;
                if square < touch * touch {
                    let apart = square.sqrt();
                    let over = touch - apart;
                    squares += over * over;
                    let push = over / apart.max(1e-12);
                    slope_x -= push * dx;
                    slope_y -= push * dy;
                    let slope = &mut slope[j as usize..j as usize + 2];
                    slope[0] += push * dx;
                    slope[1] += push * dy;
                }
            }
            slope[2 * i] = slope_x;
            slope[2 * i + 1] = slope_y;
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
        let n = self.radii.len();
        let allowed = 0.25 * self.margin * self.margin;
        let still = self.gathered.len() == 2 * n
            && self
                .gathered
                .chunks_exact(2)
                .zip(place.chunks_exact(2))
                .all(|(was, is)| {
                    let (dx, dy) = (is[0] - was[0], is[1] - was[1]);
                    dx * dx + dy * dy < allowed
                });
        if still {
            return;
        }
        self.gathered.clear();
        self.gathered.extend_from_slice(&place[..2 * n]);
        self.near.clear();
        self.first.clear();
        self.first.push(0);
        for i in 0..n {
            for j in 0..i {
                let dx = place[2 * i] - place[2 * j];
                let dy = place[2 * i + 1] - place[2 * j + 1];
                let touch = self.radii[i] + self.radii[j];
                let reach = touch + self.margin;
                if dx * dx + dy * dy < reach * reach {
                    self.near.push((2 * j as u32, touch));
                }
            }
            self.first.push(self.near.len() as u32);
        }
    }
}

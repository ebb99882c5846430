//! Hatches: one pattern for each family of material, and one for what is in the way.
//!
//! Lines are spaced on the screen, not on the part, so that a hatch reads the
//! same at every scale; they are anchored to the paper, so that they move with it.

use geometry::MaterialFamily;
use glam::DVec2;

use super::polygon;

/// A pattern of parallel lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hatch {
    /// No lines.
    Plain,
    /// Single lines rising to the right: moulded plastics.
    Single,
    /// Close pairs of lines: steel.
    Pairs,
    /// Lines and dashes by turns: light alloys.
    Mixed,
    /// Dots in rows: foam, felt, rubber.
    Dots,
    /// Lines both ways, close: wire.
    Net,
    /// Single lines falling to the right, wide: the unit.
    Falling,
    /// Single lines falling to the right, close: modules.
    FallingClose,
    /// Upright lines: plugs.
    Upright,
    /// Level dashes: not known what it is made of.
    Dashes,
    /// Heavy lines both ways: this is in the way.
    InTheWay,
}

impl Hatch {
    /// The hatch of a family of materials.
    pub fn of(family: MaterialFamily) -> Hatch {
        match family {
            MaterialFamily::Plastic => Hatch::Single,
            MaterialFamily::Steel => Hatch::Pairs,
            MaterialFamily::LightAlloy => Hatch::Mixed,
            MaterialFamily::Soft => Hatch::Dots,
            MaterialFamily::Wire => Hatch::Net,
            MaterialFamily::Unknown => Hatch::Dashes,
        }
    }

    /// Width of its lines, points.
    pub fn weight(self) -> f32 {
        match self {
            Hatch::InTheWay => 2.0,
            Hatch::Dots => 1.4,
            _ => 0.8,
        }
    }

    /// Its lines over an area bounded by outlines (even-odd), in screen points.
    ///
    /// * `anchor`: a point of the paper that the lines are counted from
    pub fn lines(self, outlines: &[Vec<DVec2>], anchor: DVec2) -> Vec<[DVec2; 2]> {
        let rows: &[Rows] = match self {
            Hatch::Plain => &[],
            Hatch::Single => &[Rows::lines(45.0, 7.0, 0.0)],
            Hatch::Pairs => &[Rows::lines(45.0, 8.0, 0.0), Rows::lines(45.0, 8.0, 2.2)],
            Hatch::Mixed => &[
                Rows::lines(45.0, 10.0, 0.0),
                Rows::dashes(45.0, 10.0, 5.0, [5.0, 3.0]),
            ],
            Hatch::Dots => &[Rows::dashes(45.0, 5.0, 0.0, [1.4, 3.6])],
            Hatch::Net => &[Rows::lines(45.0, 5.0, 0.0), Rows::lines(-45.0, 5.0, 0.0)],
            Hatch::Falling => &[Rows::lines(-45.0, 12.0, 0.0)],
            Hatch::FallingClose => &[Rows::lines(-45.0, 6.0, 0.0)],
            Hatch::Upright => &[Rows::lines(90.0, 5.0, 0.0)],
            Hatch::Dashes => &[Rows::dashes(0.0, 6.0, 0.0, [5.0, 4.0])],
            Hatch::InTheWay => &[Rows::lines(45.0, 8.0, 0.0), Rows::lines(-45.0, 8.0, 0.0)],
        };
        rows.iter()
            .flat_map(|row| row.over(outlines, anchor))
            .collect()
    }
}

/// Lines over a lead cut across: spaced as those of [`Hatch::Upright`], turned so
/// that neighbours differ (ISO 128-3: adjacent cut faces are hatched in different
/// directions).
///
/// * `turn`: from upright, degrees
pub fn turned(outlines: &[Vec<DVec2>], anchor: DVec2, turn: f64) -> Vec<[DVec2; 2]> {
    Rows::lines(90.0 + turn, 5.0, 0.0).over(outlines, anchor)
}

/// Evenly spaced lines at one angle.
struct Rows {
    /// Degrees, counter-clockwise as seen on screen.
    angle: f64,
    spacing: f64,
    shift: f64,
    /// Length drawn and length left out, points.
    dash: Option<[f64; 2]>,
}

impl Rows {
    const fn lines(angle: f64, spacing: f64, shift: f64) -> Rows {
        Rows {
            angle,
            spacing,
            shift,
            dash: None,
        }
    }

    const fn dashes(angle: f64, spacing: f64, shift: f64, dash: [f64; 2]) -> Rows {
        Rows {
            angle,
            spacing,
            shift,
            dash: Some(dash),
        }
    }

    fn over(&self, outlines: &[Vec<DVec2>], anchor: DVec2) -> Vec<[DVec2; 2]> {
        let angle = -self.angle.to_radians();
        let (along, square) = (DVec2::from_angle(angle), DVec2::from_angle(angle).perp());
        let turned: Vec<Vec<DVec2>> = outlines
            .iter()
            .map(|outline| {
                outline
                    .iter()
                    .map(|&p| DVec2::new((p - anchor).dot(along), (p - anchor).dot(square)))
                    .collect()
            })
            .collect();
        let all: Vec<DVec2> = turned.iter().flatten().copied().collect();
        let Some([low, high]) = polygon::bounds(&all) else {
            return Vec::new();
        };
        let first = ((low.y - self.shift) / self.spacing).ceil() as i64;
        let last = ((high.y - self.shift) / self.spacing).floor() as i64;
        let mut result = Vec::new();
        for row in first..=last.min(first + 4000) {
            // A hair off the grid, so that no row runs exactly through a corner.
            let y = row as f64 * self.spacing + self.shift + 1e-7;
            let mut x: Vec<f64> = turned
                .iter()
                .flat_map(|outline| polygon::edges(outline))
                .filter(|(a, b)| (a.y > y) != (b.y > y))
                .map(|(a, b)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
                .collect();
            x.sort_by(f64::total_cmp);
            for pair in x.chunks_exact(2) {
                self.row(pair[0], pair[1], row, |from, to| {
                    result.push([from, to].map(|x| anchor + along * x + square * y));
                });
            }
        }
        result
    }

    fn row(&self, from: f64, to: f64, row: i64, mut draw: impl FnMut(f64, f64)) {
        let Some([drawn, left_out]) = self.dash else {
            draw(from, to);
            return;
        };
        let step = drawn + left_out;
        let offset = if row % 2 == 0 { 0.0 } else { 0.5 * step };
        let mut start = ((from - offset) / step).floor() * step + offset;
        while start < to {
            let (a, b) = (start.max(from), (start + drawn).min(to));
            if b > a {
                draw(a, b);
            }
            start += step;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(low: f64, high: f64) -> Vec<DVec2> {
        vec![
            DVec2::new(low, low),
            DVec2::new(high, low),
            DVec2::new(high, high),
            DVec2::new(low, high),
        ]
    }

    const EVERY: [Hatch; 10] = [
        Hatch::Single,
        Hatch::Pairs,
        Hatch::Mixed,
        Hatch::Dots,
        Hatch::Net,
        Hatch::Falling,
        Hatch::FallingClose,
        Hatch::Upright,
        Hatch::Dashes,
        Hatch::InTheWay,
    ];

    #[test]
    fn lines_stay_inside() {
        for hatch in EVERY {
            let lines = hatch.lines(&[square(10.0, 90.0)], DVec2::new(3.0, 4.0));
            assert!(!lines.is_empty());
            for point in lines.into_iter().flatten() {
                assert!(point.min_element() > 10.0 - 1e-6 && point.max_element() < 90.0 + 1e-6);
            }
        }
    }

    #[test]
    fn a_hole_stays_open() {
        let ring = [square(0.0, 100.0), square(40.0, 60.0)];
        for [a, b] in Hatch::Single.lines(&ring, DVec2::ZERO) {
            let middle = 0.5 * (a + b);
            assert!(!polygon::contains(&square(40.1, 59.9), middle));
        }
    }

    #[test]
    fn neighbours_share_their_lines() {
        let left = Hatch::Single.lines(&[square(0.0, 50.0)], DVec2::ZERO);
        let moved: Vec<DVec2> = square(0.0, 50.0)
            .iter()
            .map(|p| *p + DVec2::new(50.0, 0.0))
            .collect();
        let right = Hatch::Single.lines(&[moved], DVec2::ZERO);
        let ends: Vec<DVec2> = left
            .into_iter()
            .flatten()
            .filter(|p| (p.x - 50.0).abs() < 1e-6)
            .collect();
        let starts: Vec<DVec2> = right
            .into_iter()
            .flatten()
            .filter(|p| (p.x - 50.0).abs() < 1e-6)
            .collect();
        assert!(!ends.is_empty());
        for end in ends {
            assert!(starts.iter().any(|start| start.distance(end) < 1e-6));
        }
    }

    #[test]
    fn every_family_has_its_own() {
        let families = [
            MaterialFamily::Plastic,
            MaterialFamily::Steel,
            MaterialFamily::LightAlloy,
            MaterialFamily::Soft,
            MaterialFamily::Wire,
            MaterialFamily::Unknown,
        ];
        for (i, a) in families.iter().enumerate() {
            for b in &families[i + 1..] {
                assert_ne!(Hatch::of(*a), Hatch::of(*b));
            }
        }
    }
}

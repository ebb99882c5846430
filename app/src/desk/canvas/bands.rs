//! Laid leads in a section: bands of their true diameter, cut where the plane
//! crosses them, dashed where something hides them.
//!
//! Lines after ISO 128-2: outlines as those of any other thing, the middle a
//! chain line.

use glam::{DVec2, DVec3};

use super::camera::View;
use super::drawing::{Body, LineKind, Standing, stands};
use super::polygon;

/// Longest piece of a band that is seen or hidden as one, mm.
const PIECE: f64 = 3.0;
/// Pieces that follow each other are drawn as one up to this length, mm, so
/// that leads which cross are drawn in the right order.
const RUN: f64 = 14.0;

/// The leads of one section.
#[derive(Clone, Debug, Default)]
pub struct Bands {
    /// Runs of leads, the furthest first.
    pub runs: Vec<Band>,
    /// Where the plane crosses a lead.
    pub cuts: Vec<Cut>,
}

/// A run of a lead that is seen, hidden or before the plane as one.
#[derive(Clone, Debug)]
pub struct Band {
    /// Which lead, by number.
    pub way: usize,
    /// How it is drawn.
    pub kind: LineKind,
    /// Its middle, as drawn, mm.
    pub line: Vec<DVec2>,
    /// How far away its middle is, mm.
    pub away: f64,
}

/// A lead cut by the plane.
#[derive(Clone, Debug)]
pub struct Cut {
    /// Which lead, by number.
    pub way: usize,
    /// The cut face, as drawn, mm.
    pub outline: Vec<DVec2>,
}

impl Bands {
    /// * `ways`: the middle of each lead, mm, and its diameter, mm
    /// * `bodies`: everything else that is drawn
    /// * `at`: place of the cutting plane, mm
    pub fn of(ways: &[(&[DVec3], f64)], bodies: &[Body], view: View, at: f64) -> Bands {
        let plane = view.plane_away(at);
        let mut bands = Bands::default();
        for (way, &(line, od)) in ways.iter().enumerate() {
            let mut run: Option<Band> = None;
            let mut length = 0.0;
            for pair in line.windows(2) {
                let parts = (pair[0].distance(pair[1]) / PIECE).ceil().max(1.0);
                let point = |i: f64| pair[0].lerp(pair[1], i / parts);
                for i in 0..parts as u32 {
                    let (from, to) = (point(f64::from(i)), point(f64::from(i) + 1.0));
                    bands.cuts.extend(
                        cut([from, to], od, view, plane).map(|outline| Cut { way, outline }),
                    );
                    let middle = 0.5 * (from + to);
                    let kind = kind_at(middle, od, bodies, view, plane);
                    let ends = run
                        .as_ref()
                        .is_some_and(|run| run.kind != kind || length > RUN);
                    if ends {
                        bands.runs.extend(run.take());
                    }
                    let away = view.away(middle);
                    let band = run.get_or_insert_with(|| {
                        length = 0.0;
                        Band {
                            way,
                            kind,
                            line: vec![view.flat(from)],
                            away,
                        }
                    });
                    band.away = band.away.min(away);
                    band.line.push(view.flat(to));
                    length += from.distance(to);
                }
            }
            bands.runs.extend(run);
        }
        bands.runs.sort_by(|a, b| b.away.total_cmp(&a.away));
        bands
    }

    /// The lead under a flat point that is seen there, or else hidden there.
    ///
    /// * `ods`: diameters of the leads, mm; `reach`: how near counts, mm
    pub fn under(&self, point: DVec2, ods: &[f64], reach: f64) -> Option<(usize, LineKind)> {
        let cut = self
            .cuts
            .iter()
            .find(|cut| polygon::contains(&cut.outline, point));
        if let Some(cut) = cut {
            return Some((cut.way, LineKind::CutEdge));
        }
        let near = |band: &&Band| {
            let half = (0.5 * ods.get(band.way).copied().unwrap_or(0.0)).max(reach);
            let mut pairs = band.line.windows(2);
            pairs.any(|pair| polygon::distance_to_segment(point, pair[0], pair[1]) <= half)
        };
        let of_kind = |kind: LineKind| {
            let mut runs = self.runs.iter().rev();
            runs.find(|band| band.kind == kind && near(band))
                .map(|band| (band.way, kind))
        };
        of_kind(LineKind::Visible)
            .or_else(|| of_kind(LineKind::Hidden))
            .or_else(|| of_kind(LineKind::Before))
    }
}

/// How a lead is drawn at a point of its middle.
fn kind_at(point: DVec3, od: f64, bodies: &[Body], view: View, plane: f64) -> LineKind {
    let away = view.away(point);
    if away < plane {
        return LineKind::Before;
    }
    let flat = view.flat(point);
    let hidden = bodies.iter().any(|body| match stands(body, plane) {
        Standing::Cut => body
            .slices
            .iter()
            .any(|slice| polygon::contains(slice, flat)),
        Standing::Beyond => {
            body.away[0] < away - 0.5 * od && polygon::contains(&body.silhouette, flat)
        }
        Standing::Before => false,
    });
    if hidden {
        LineKind::Hidden
    } else {
        LineKind::Visible
    }
}

/// The face that a plane cuts of a round lead: an ellipse, no longer than four
/// diameters where the lead runs along the plane.
fn cut([from, to]: [DVec3; 2], od: f64, view: View, plane: f64) -> Option<Vec<DVec2>> {
    const CORNERS: u32 = 24;
    let (a, b) = (view.away(from) - plane, view.away(to) - plane);
    if (a < 0.0) == (b < 0.0) {
        return None;
    }
    let centre = view.flat(from.lerp(to, a / (a - b)));
    let along = view.flat(to) - view.flat(from);
    let slant = ((b - a).abs() / from.distance(to)).max(0.25);
    let long = along.normalize_or(DVec2::X) * (0.5 * od / slant);
    let short = along.normalize_or(DVec2::X).perp() * (0.5 * od);
    let corner = |i: u32| {
        let round = DVec2::from_angle(std::f64::consts::TAU * f64::from(i) / f64::from(CORNERS));
        centre + round.x * long + round.y * short
    };
    Some((0..CORNERS).map(corner).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn body(low: DVec3, high: DVec3, plane: f64) -> Body {
        let outline = vec![
            DVec2::new(low.x, -high.z),
            DVec2::new(high.x, -high.z),
            DVec2::new(high.x, -low.z),
            DVec2::new(low.x, -low.z),
        ];
        let cut = low.y < plane && plane < high.y;
        Body {
            slices: if cut {
                vec![outline.clone()]
            } else {
                Vec::new()
            },
            silhouette: outline,
            away: [low.y, high.y],
        }
    }

    #[test]
    fn a_lead_is_cut_once_seen_behind_the_plane_and_hidden_behind_a_rib() {
        let line = [
            DVec3::new(-40.0, 0.0, 0.0),
            DVec3::new(-40.0, 100.0, 0.0),
            DVec3::new(40.0, 100.0, 0.0),
        ];
        let rib = body(
            DVec3::new(0.0, 60.0, -10.0),
            DVec3::new(20.0, 62.0, 10.0),
            50.0,
        );
        let bands = Bands::of(&[(&line, 6.0)], &[rib], View::LookingIn, 50.0);
        assert_eq!(bands.cuts.len(), 1);
        assert!((polygon::area(&bands.cuts[0].outline).abs() - 28.3).abs() < 0.5);
        let length = |kind| -> f64 {
            let runs = bands.runs.iter().filter(|run| run.kind == kind);
            runs.flat_map(|run| run.line.windows(2))
                .map(|pair| pair[0].distance(pair[1]))
                .sum()
        };
        assert!((length(LineKind::Hidden) - 20.0).abs() <= PIECE);
        assert!((length(LineKind::Visible) - 60.0).abs() <= PIECE);
        assert_eq!(
            bands.under(DVec2::new(-20.0, 2.0), &[6.0], 0.5),
            Some((0, LineKind::Visible))
        );
        assert_eq!(
            bands.under(DVec2::new(10.0, 0.0), &[6.0], 0.5),
            Some((0, LineKind::Hidden))
        );
        assert_eq!(bands.under(DVec2::new(-20.0, 9.0), &[6.0], 0.5), None);
    }
}

//! A route as points, and whether it is one: no gap, no kink, no tight turn.

use std::f64::consts::TAU;

use glam::DVec3;
use serde_json::Value;

use super::cables::Lead;
use super::ports::{Exit, Port};
use super::read::{Unreadable, list, number, point, three};
use super::scene::Scene;
use super::{Rule, SKEW, TOLERANCE, Violation};

/// Furthest from point to point, mm.
const STEP: f64 = 0.25;

/// From point to point where the turn is measured, mm.
const CHORD: f64 = 1.5;

/// One piece as the answer gives it.
#[derive(Clone, Copy)]
enum Piece {
    Line {
        from: DVec3,
        to: DVec3,
    },
    Arc {
        from: DVec3,
        to: DVec3,
        centre: DVec3,
        normal: DVec3,
        radius: f64,
    },
}

/// The route of one cable, or of all cables of a lead laid as one.
pub struct Trace<'a> {
    /// Its lead.
    pub lead: &'a Lead,
    /// Whether it is the lead's only route.
    pub alone: bool,
    /// Diameter of what is laid, mm.
    pub od: f64,
    /// The exit it leaves by.
    pub exit: Option<&'a Exit>,
    /// The answer's own figures.
    pub stated: Value,
    /// Points from start to end.
    pub points: Vec<Sample>,
    pieces: Vec<Piece>,
}

/// A point of a route.
#[derive(Clone, Copy)]
pub struct Sample {
    /// Where, mm.
    pub at: DVec3,
    /// The way it goes, a unit vector.
    pub way: DVec3,
    /// From the start, mm.
    pub along: f64,
}

impl<'a> Trace<'a> {
    /// A route of the answer.
    ///
    /// * `alone`: whether it is the lead's only route
    pub fn read(
        lead: &'a Lead,
        scene: &'a Scene,
        route: &Value,
        alone: bool,
    ) -> Result<Trace<'a>, Unreadable> {
        let pieces: Vec<Piece> = list(route, "path")?
            .iter()
            .map(piece)
            .collect::<Result<_, _>>()?;
        if pieces.is_empty() {
            return Err(Unreadable(format!("the path of {} is empty", lead.id)));
        }
        let exit = match &lead.to {
            Port::Exit(id) => scene.exits.iter().find(|exit| exit.id == *id),
            Port::Module(id) => scene.exit_to(id),
            _ => None,
        };
        let mut points: Vec<Sample> = Vec::new();
        for piece in &pieces {
            let from = points.last().map_or(0.0, |last| last.along);
            piece.sample(from, &mut points);
        }
        Ok(Trace {
            lead,
            alone,
            od: if alone { lead.together() } else { lead.od },
            exit,
            stated: route.clone(),
            points,
            pieces,
        })
    }

    /// Its first point.
    pub fn first(&self) -> Sample {
        self.points[0]
    }

    /// Its last point.
    pub fn last(&self) -> Sample {
        self.points[self.points.len() - 1]
    }

    /// From where on it runs straight out through the hole of its exit: the
    /// number of its first such point.
    pub fn tail(&self) -> usize {
        let Some(exit) = self.exit else {
            return self.points.len();
        };
        let room = 0.5 * self.od - TOLERANCE;
        let straight = |sample: &Sample| {
            sample.way.angle_between(exit.mouth.way) <= SKEW && exit.to_rim(sample.at) >= room
        };
        let bent = self.points.iter().rposition(|sample| !straight(sample));
        bent.map_or(0, |last| last + 1)
    }

    /// A breach of a rule by this lead.
    pub fn violation(&self, rule: Rule, against: &str, by: f64, at: DVec3) -> Violation {
        Violation {
            rule,
            what: self.lead.id.clone(),
            against: against.to_owned(),
            by,
            at: Some(at),
        }
    }

    /// Judges the pieces as they stand and the turn of the points.
    pub fn judge_curve(&self, violations: &mut Vec<Violation>) {
        let least = self.lead.radius;
        for piece in &self.pieces {
            let Piece::Arc { radius, from, .. } = *piece else {
                continue;
            };
            let off = piece.disagreement();
            if off > TOLERANCE {
                violations.push(self.violation(Rule::Arc, "its own figures", off, from));
            }
            if radius < least - TOLERANCE {
                violations.push(self.violation(Rule::TooTight, "arc", least - radius, from));
            }
        }
        for pair in self.pieces.windows(2) {
            let (end, start) = (pair[0].end(), pair[1].start());
            if end.distance(start) > TOLERANCE {
                violations.push(self.violation(Rule::Gap, "", end.distance(start), end));
            }
            let turn = pair[0].end_way().angle_between(pair[1].start_way());
            if turn > SKEW {
                violations.push(self.violation(Rule::Kink, "", turn, end));
            }
        }
        self.judge_turn(violations);
    }

    /// The turn through every three points, whatever the pieces say.
    fn judge_turn(&self, violations: &mut Vec<Violation>) {
        let hop = (CHORD / STEP) as usize;
        let radii = self.points.windows(2 * hop + 1).map(|points| {
            let middle = points[hop];
            (
                through(points[0].at, middle.at, points[2 * hop].at),
                middle.at,
            )
        });
        let tightest = radii.min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((radius, at)) = tightest
            && radius < self.lead.radius - TOLERANCE
        {
            let short = self.lead.radius - radius;
            violations.push(self.violation(Rule::TooTight, "three points", short, at));
        }
    }

    /// Radius of its tightest arc as stated, mm; infinite when straight.
    pub fn least_radius(&self) -> f64 {
        let radius = |piece: &Piece| match piece {
            Piece::Line { .. } => f64::INFINITY,
            Piece::Arc { radius, .. } => *radius,
        };
        self.pieces.iter().map(radius).fold(f64::INFINITY, f64::min)
    }
}

/// Radius of the circle through three points, mm; infinite when in line.
fn through(a: DVec3, b: DVec3, c: DVec3) -> f64 {
    let area = (b - a).cross(c - a).length();
    a.distance(b) * b.distance(c) * c.distance(a) / (2.0 * area).max(1e-12)
}

fn piece(value: &Value) -> Result<Piece, Unreadable> {
    if let Some(ends) = value["line"].as_array() {
        let ends: Option<Vec<DVec3>> = ends.iter().map(three).collect();
        return match ends.as_deref() {
            Some(&[from, to]) if from != to => Ok(Piece::Line { from, to }),
            _ => Err(Unreadable("a line without two ends".to_owned())),
        };
    }
    let arc = &value["arc"];
    let normal = point(arc, "normal")?;
    if normal.length() < 0.5 {
        return Err(Unreadable("an arc without an axis".to_owned()));
    }
    Ok(Piece::Arc {
        from: point(arc, "from")?,
        to: point(arc, "to")?,
        centre: point(arc, "centre")?,
        normal: normal.normalize(),
        radius: number(arc, "radius_mm")?,
    })
}

impl Piece {
    fn start(&self) -> DVec3 {
        match *self {
            Piece::Line { from, .. } | Piece::Arc { from, .. } => from,
        }
    }

    fn end(&self) -> DVec3 {
        match *self {
            Piece::Line { to, .. } | Piece::Arc { to, .. } => to,
        }
    }

    fn start_way(&self) -> DVec3 {
        self.point(0.0).1
    }

    fn end_way(&self) -> DVec3 {
        self.point(self.length()).1
    }

    /// How far an arc turns, rad: from its start to its end about its axis,
    /// right-handed.
    fn angle(&self) -> f64 {
        let Piece::Arc {
            from,
            to,
            centre,
            normal,
            ..
        } = *self
        else {
            return 0.0;
        };
        let (a, b) = (from - centre, to - centre);
        normal.dot(a.cross(b)).atan2(a.dot(b)).rem_euclid(TAU)
    }

    fn length(&self) -> f64 {
        match *self {
            Piece::Line { from, to } => from.distance(to),
            Piece::Arc { from, centre, .. } => from.distance(centre) * self.angle(),
        }
    }

    /// The point so far along and the way there. An arc follows the circle
    /// through its start, whatever radius is stated.
    fn point(&self, along: f64) -> (DVec3, DVec3) {
        match *self {
            Piece::Line { from, to } => {
                let way = (to - from).normalize();
                (from + along * way, way)
            }
            Piece::Arc {
                from,
                centre,
                normal,
                ..
            } => {
                let out = from - centre;
                let ahead = normal.cross(out);
                let (sin, cos) = (along / out.length().max(1e-9)).sin_cos();
                let way = (cos * ahead - sin * out).normalize_or_zero();
                (centre + cos * out + sin * ahead, way)
            }
        }
    }

    /// Most that the figures of an arc differ from each other, mm.
    fn disagreement(&self) -> f64 {
        let Piece::Arc {
            from,
            to,
            centre,
            normal,
            radius,
        } = *self
        else {
            return 0.0;
        };
        let off_circle = |point: DVec3| (point.distance(centre) - radius).abs();
        let off_plane = |point: DVec3| (point - centre).dot(normal).abs();
        off_circle(from)
            .max(off_circle(to))
            .max(off_plane(from))
            .max(off_plane(to))
    }

    /// Adds its points; the first only where it is not there yet.
    fn sample(&self, from: f64, points: &mut Vec<Sample>) {
        let length = self.length();
        let count = (length / STEP).ceil().max(1.0) as usize;
        for i in 0..=count {
            if i == 0 && !points.is_empty() {
                continue;
            }
            let along = length * i as f64 / count as f64;
            let (at, way) = self.point(along);
            points.push(Sample {
                at,
                way,
                along: from + along,
            });
        }
    }
}

//! A tool along one cut, as solids.

use glam::DVec3;

use super::Work;
use crate::frame::DEPTH;
use crate::job::{Tool, Works};
use crate::solids::Solid;

/// How far in front of the dash the body is followed, mm.
const OUTSIDE: f64 = 100.0;

/// Axes of a blade: where it points, along its width, through its thickness.
pub struct Way {
    pub point: DVec3,
    pub width: DVec3,
    pub through: DVec3,
}

impl Way {
    /// A blade that points one way, its width as near to another as it can be.
    fn new(point: DVec3, width: DVec3) -> Way {
        let width = (width - width.dot(point) * point).normalize_or_zero();
        Way {
            point,
            width,
            through: point.cross(width),
        }
    }
}

/// A tool all along one cut: its blade at the beginning and at the end of it.
pub struct Pass {
    way: Way,
    /// Middles of the blade's end at the beginning and the end of the cut, mm.
    ends: [DVec3; 2],
    /// Half its width, and its extent through its thickness, mm.
    half: f64,
    through: [f64; 2],
    reach: f64,
}

/// How far beyond the middle of a rib a blade goes in, so that its whole end is
/// out behind with the room it needs there, mm.
fn out(tool: &Tool, work: &Work, way: &Way) -> f64 {
    let lean = 0.5 * tool.blade.x * way.width.dot(work.square).abs();
    (0.5 * work.thickness + lean) / way.point.dot(work.square).abs() + tool.behind
}

impl Pass {
    /// The blade plunged through a rib along a line.
    ///
    /// * `line`: the cut's ends in the middle of the rib's thickness, that at
    ///   the notch's inner corner first
    /// * `to_notch`: from the line into the notch, where the kerf falls
    pub fn plunge(
        tool: &Tool,
        work: &Work,
        line: [DVec3; 2],
        to_notch: DVec3,
        point: DVec3,
    ) -> Pass {
        let run = line[1] - line[0];
        let length = run.length();
        let along = run / length;
        let way = Way::new(point, along);
        // How much of the line the blade's width covers, half of it.
        let half = 0.5 * tool.blade.x;
        let covers = half / way.width.dot(along);
        let first = line[0] + along * covers;
        let last = line[0] + along * (length - covers).max(covers);
        let out = out(tool, work, &way);
        let thick = tool.kerf;
        let through = if way.through.dot(to_notch) > 0.0 {
            [0.0, thick]
        } else {
            [-thick, 0.0]
        };
        Pass {
            ends: [first, last].map(|at| at + out * point),
            way,
            half,
            through,
            reach: tool.reach,
        }
    }

    /// The blade plunged through a rib from side to side of a notch, cut beside
    /// cut, its corner on the bottom.
    pub fn beside(tool: &Tool, work: &Work, point: DVec3) -> Pass {
        let way = Way::new(point, -work.inward);
        let half = 0.5 * tool.blade.x;
        let covers = half / way.width.dot(-work.inward);
        let out = out(tool, work, &way);
        let mouth = 0.5 * tool.kerf;
        let [_, bottom, other, _] = work.corners;
        let ends = [bottom + mouth * work.along, other - mouth * work.along];
        Pass {
            ends: ends.map(|at| at - covers * work.inward + out * point),
            way,
            half,
            through: [-mouth, mouth],
            reach: tool.reach,
        }
    }

    /// The blade or the jaws pushed in from the edge, cut beside cut.
    pub fn from_edge(tool: &Tool, work: &Work, point: DVec3) -> Pass {
        let way = Way::new(point, work.square);
        let mouth = 0.5 * Pass::mouth(tool);
        let [_, bottom, other, _] = work.corners;
        let half = match tool.works {
            Works::EndFirst => 0.5 * tool.blade.x.max(work.thickness),
            Works::RoundTheEdge => 0.5 * work.thickness + tool.behind,
        };
        Pass {
            ends: [bottom + mouth * work.along, other - mouth * work.along],
            way,
            half,
            through: [-mouth, mouth],
            reach: tool.reach,
        }
    }

    /// How wide a notch has to be for the tool to go in from its edge, mm.
    pub fn mouth(tool: &Tool) -> f64 {
        match tool.works {
            Works::EndFirst => tool.kerf,
            Works::RoundTheEdge => tool.blade.x,
        }
    }

    /// The blade all along the cut.
    pub fn blade(&self) -> Solid {
        let Way { width, through, .. } = self.way;
        let section = [-self.half, self.half].into_iter().flat_map(|a| {
            self.through
                .into_iter()
                .map(move |b| a * width + b * through)
        });
        self.swept(section.collect(), [self.reach, 0.0])
    }

    /// The body all along the cut, from its front to outside the dash.
    ///
    /// * `turn`: against the blade, degrees
    pub fn body(&self, tool: &Tool, turn: f64) -> Solid {
        let (sin, cos) = turn.to_radians().sin_cos();
        let Way { width, through, .. } = self.way;
        let first = 0.5 * tool.shank.x * (cos * width + sin * through);
        let second = 0.5 * tool.shank.y * (cos * through - sin * width);
        let section = vec![
            first + second,
            first - second,
            -first + second,
            -first - second,
        ];
        let deepest = self.ends[0].y.max(self.ends[1].y) + tool.shank.length();
        let outside = (deepest + OUTSIDE) / self.way.point.dot(DEPTH);
        self.swept(section, [outside.max(self.reach), self.reach])
    }

    /// A cross-section from one distance behind the blade's end to another,
    /// swept along the cut.
    fn swept(&self, section: Vec<DVec3>, back: [f64; 2]) -> Solid {
        let mut corners = Vec::with_capacity(16);
        for end in self.ends {
            for back in back {
                let at = end - back * self.way.point;
                corners.extend(section.iter().map(|corner| at + *corner));
            }
        }
        Solid::hull(corners)
    }
}

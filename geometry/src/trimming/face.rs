//! A flat obstacle in its own plane.

use glam::{DVec2, DVec3};

use crate::frame::{Pose, turn_from_degrees};
use crate::job::{Cut, Edge, Form, Obstacle, Plane, Trim};
use crate::lay_out::fixed_solid;
use crate::measure::{Harm, Reading};
use crate::solids::{Outline, Solid};
use crate::stiffness::{self, Doubler, Notch, Rib, RibFault};

/// How far a chord may stand off a round corner of a solid, mm. The chord
/// lies on the side of the hole: the solid holds no less than the rib.
const CHORD: f64 = 0.2;

/// Poisson's ratio of moulded ribs: usual for filled polypropylene and ABS,
/// from memory; it hardly matters to a comparison.
const POISSON: f64 = 0.38;

/// Modulus of elasticity of a rib whose material nobody knows, MPa. It falls
/// out of every comparison without a doubler.
const MODULUS: f64 = 2000.0;

/// An obstacle that is flat: its outline in its own plane, x along its longer side.
#[derive(Clone, Debug, PartialEq)]
pub struct RibFace {
    /// The plane its outline lies in, before it is turned.
    pub plane: Plane,
    /// Whether x runs along the plane's second axis, because that is the longer.
    pub upright: bool,
    /// Corners as (x, y): along its longer side, across it, mm.
    pub outline: Vec<DVec2>,
    /// Its two faces along the axis square to its plane, mm.
    pub faces: [f64; 2],
    /// Turns about (across, depth, up) through its centre, degrees.
    pub turned: DVec3,
    /// Modulus of elasticity, MPa, where known.
    pub modulus: Option<f64>,
}

/// Why an obstacle has no such notch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FaceFault {
    /// It is not flat: a round bar, or as thick as it is high.
    NotFlat,
    /// It has no such edge in its plane, or one at its narrow ends.
    NoSuchEdge(Edge),
    /// The rib with these notches is none.
    Rib(RibFault),
}

impl std::fmt::Display for FaceFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            FaceFault::NotFlat => write!(f, "it is not a flat part"),
            FaceFault::NoSuchEdge(edge) => {
                write!(f, "its {} edge is not one of its long edges", edge.word())
            }
            FaceFault::Rib(fault) => write!(f, "{fault}"),
        }
    }
}

impl std::error::Error for FaceFault {}

impl RibFace {
    /// An obstacle in its own plane.
    ///
    /// # Errors
    /// [`FaceFault::NotFlat`] for round bars and parts as thick as they are high.
    pub fn new(obstacle: &Obstacle, reading: Reading) -> Result<RibFace, FaceFault> {
        let (plane, corners, faces, turned) =
            flat(&obstacle.form, reading).ok_or(FaceFault::NotFlat)?;
        let size = corners.iter().fold([corners[0]; 2], |[low, high], c| {
            [low.min(*c), high.max(*c)]
        });
        let size = size[1] - size[0];
        if size.min_element() <= faces[1] - faces[0] {
            return Err(FaceFault::NotFlat);
        }
        let upright = size.y > size.x;
        let outline = if upright {
            // Mirrored, so the other way round.
            corners.iter().rev().map(|c| DVec2::new(c.y, c.x)).collect()
        } else {
            corners
        };
        Ok(RibFace {
            plane,
            upright,
            outline,
            faces,
            turned,
            modulus: obstacle.material.e_modulus,
        })
    }

    /// From one face to the other, mm.
    pub fn thickness(&self) -> f64 {
        self.faces[1] - self.faces[0]
    }

    /// Lower left and upper right of its outline, (x, y), mm.
    pub fn bounds(&self) -> [DVec2; 2] {
        let first = self.outline[0];
        (self.outline.iter()).fold([first; 2], |[low, high], c| [low.min(*c), high.max(*c)])
    }

    /// The two edges along its longer side: the one at small y, the one at large y.
    pub fn long_edges(&self) -> [Edge; 2] {
        match (self.plane, self.upright) {
            (Plane::AcrossUp, false) | (Plane::DepthUp, false) => [Edge::Lower, Edge::Upper],
            (Plane::AcrossUp, true) | (Plane::AcrossDepth, true) => [Edge::Left, Edge::Right],
            (Plane::AcrossDepth, false) | (Plane::DepthUp, true) => [Edge::Near, Edge::Far],
        }
    }

    /// An edge in its plane; `None` when it is not one along its longer side.
    pub fn side(&self, edge: Edge) -> Option<stiffness::Edge> {
        let [lower, upper] = self.long_edges();
        if edge == lower {
            Some(stiffness::Edge::Lower)
        } else if edge == upper {
            Some(stiffness::Edge::Upper)
        } else {
            None
        }
    }

    /// A notch in its plane, the whole of what is cut out.
    pub fn notch(&self, trim: &Trim) -> Result<Notch, FaceFault> {
        let edge = self
            .side(trim.edge)
            .ok_or(FaceFault::NoSuchEdge(trim.edge))?;
        let doubler = trim.doubler.map(|strip| Doubler {
            thickness: strip.thickness,
            height: strip.height,
            lap: strip.lap,
            modulus: strip.modulus,
        });
        Ok(Notch {
            doubler,
            ..Notch::new(edge, trim.along, trim.depth, trim.radius)
        })
    }

    /// All notches in its plane.
    pub fn notches(&self, trims: &[&Trim]) -> Result<Vec<Notch>, FaceFault> {
        trims.iter().map(|trim| self.notch(trim)).collect()
    }

    /// The rib whole, held simply at both its ends.
    pub fn rib(&self) -> Rib {
        let [low, high] = self.bounds();
        let modulus = self.modulus.unwrap_or(MODULUS);
        let rib = Rib::rectangle(low, high, self.thickness(), modulus);
        let held = ends(&self.outline).unwrap_or(rib.held);
        Rib {
            outline: self.outline.clone(),
            poisson: POISSON,
            held,
            ..rib
        }
    }

    /// The outline with its notches, each made smaller all round by the trim
    /// on its cut edges: what others have to pass. mm.
    pub fn outline_as_cut(&self, trims: &[&Trim], edge_trim: f64) -> Result<Outline, FaceFault> {
        let mut notches = self.notches(trims)?;
        for notch in &mut notches {
            notch.along = [notch.along[0] + edge_trim, notch.along[1] - edge_trim];
            notch.depth -= edge_trim;
            notch.radius = (notch.radius - edge_trim).max(0.0);
        }
        notches.retain(|notch| notch.depth > 0.0 && notch.along[1] > notch.along[0]);
        stiffness::cut_within(&self.rib(), &notches, CHORD).map_err(FaceFault::Rib)
    }

    /// A point of its plane in the job's frame, in the middle of its thickness, mm.
    pub fn place(&self, at: DVec2) -> DVec3 {
        let middle = 0.5 * (self.faces[0] + self.faces[1]);
        let own = |at: DVec2| {
            let (first, second) = if self.upright {
                (at.y, at.x)
            } else {
                (at.x, at.y)
            };
            match self.plane {
                Plane::AcrossUp => DVec3::new(first, middle, second),
                Plane::AcrossDepth => DVec3::new(first, second, middle),
                Plane::DepthUp => DVec3::new(middle, first, second),
            }
        };
        let [low, high] = self.bounds();
        let centre = own(0.5 * (low + high));
        Pose::turned_about(turn_from_degrees(self.turned), centre).point(own(at))
    }

    /// The obstacle with its notches, the trim on their edges counted as solid.
    pub fn solid(&self, trims: &[&Trim], edge_trim: f64) -> Result<Solid, FaceFault> {
        self.prism(&self.outline_as_cut(trims, edge_trim)?)
    }

    /// A part of it by an outline in its plane, in place.
    pub(super) fn prism(&self, outline: &Outline) -> Result<Solid, FaceFault> {
        self.prism_between(outline, self.faces)
    }

    /// The same from one place along its thickness to another, mm.
    pub(super) fn prism_between(
        &self,
        outline: &Outline,
        faces: [f64; 2],
    ) -> Result<Solid, FaceFault> {
        let outline = if self.upright {
            let corners = outline.corners().iter().rev();
            let corners = corners.map(|c| DVec2::new(c.y, c.x)).collect();
            Outline::new(corners).map_err(|fault| FaceFault::Rib(RibFault::Outline(fault)))?
        } else {
            outline.clone()
        };
        let solid = Solid::prism(&outline, self.plane, faces);
        let [low, high] = self.bounds();
        let unturned = RibFace {
            turned: DVec3::ZERO,
            ..self.clone()
        };
        let centre = unturned.place(0.5 * (low + high));
        Ok(if self.turned == DVec3::ZERO {
            solid
        } else {
            solid.posed(&Pose::turned_about(turn_from_degrees(self.turned), centre))
        })
    }
}

/// An obstacle as a solid with its notches; as it is where there are none,
/// where they cannot be cut, or where it is never cut. Whether a notch reaches
/// some other solid is for [`carried_out`](super::carried_out).
///
/// * `edge_trim`: thickness of the trim on every cut edge, mm
pub fn as_cut(obstacle: &Obstacle, trims: &[Trim], edge_trim: f64, reading: Reading) -> Solid {
    let own: Vec<&Trim> = trims.iter().filter(|it| it.rib == obstacle.id).collect();
    let whole = || fixed_solid(&obstacle.form, reading);
    if own.is_empty() || *obstacle.cut() == Cut::Never {
        return whole();
    }
    let cut = RibFace::new(obstacle, reading).and_then(|face| face.solid(&own, edge_trim));
    cut.unwrap_or_else(|_| whole())
}

/// A flat form: its plane, its corners counter-clockwise in the plane's two
/// axes, its faces along the third, its turns.
fn flat(form: &Form, reading: Reading) -> Option<(Plane, Vec<DVec2>, [f64; 2], DVec3)> {
    match form {
        Form::Cylinder { .. } => None,
        Form::Block {
            across,
            depth,
            up,
            turned,
        } => {
            let faces = [across, depth, up].map(|faces| {
                let low = faces[0].at(reading, Harm::Smaller);
                let high = faces[1].at(reading, Harm::Larger);
                [low.min(high), low.max(high)]
            });
            let thick = |axis: &usize| faces[*axis][1] - faces[*axis][0];
            // The nominal sizes decide which way it lies, so that it lies alike at every reading.
            let stated = [across, depth, up].map(|it| (it[1].value() - it[0].value()).abs());
            let thin = (0..3).min_by(|a, b| stated[*a].total_cmp(&stated[*b]))?;
            let (plane, first, second) = match thin {
                0 => (Plane::DepthUp, 1, 2),
                1 => (Plane::AcrossUp, 0, 2),
                _ => (Plane::AcrossDepth, 0, 1),
            };
            let low = DVec2::new(faces[first][0], faces[second][0]);
            let high = low + DVec2::new(thick(&first), thick(&second));
            let corners = vec![
                low,
                DVec2::new(high.x, low.y),
                high,
                DVec2::new(low.x, high.y),
            ];
            Some((plane, corners, faces[thin], *turned))
        }
        Form::Outline {
            plane,
            corners,
            along,
            turned,
        } => {
            let low = along[0].at(reading, Harm::Smaller);
            let high = along[1].at(reading, Harm::Larger);
            let outline = Outline::new(corners.clone()).ok()?;
            let faces = [low.min(high), low.max(high)];
            Some((*plane, outline.corners().to_vec(), faces, *turned))
        }
    }
}

/// The two ends of an outline, held simply: its steepest sides far left and right.
fn ends(outline: &[DVec2]) -> Option<Vec<stiffness::Held>> {
    let count = outline.len();
    let x = |i: usize| outline[i].x;
    let end = |sign: f64| {
        let far = (0..count).min_by(|a, b| (sign * x(*a)).total_cmp(&(sign * x(*b))))?;
        let steep = |from: usize| {
            let run = outline[(from + 1) % count] - outline[from];
            run.y.abs() / run.length()
        };
        let sides = [(far + count - 1) % count, far];
        let side = sides
            .into_iter()
            .max_by(|a, b| steep(*a).total_cmp(&steep(*b)))?;
        Some(stiffness::Held {
            from: outline[side],
            to: outline[(side + 1) % count],
            how: stiffness::Hold::Simple,
        })
    };
    Some(vec![end(1.0)?, end(-1.0)?])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{CutLimits, Kind, Material, MaterialFamily};
    use crate::measure::Measure;
    use approx::assert_abs_diff_eq;

    fn plate(faces: [[f64; 2]; 3]) -> Obstacle {
        let [across, depth, up] = faces.map(|face| face.map(Measure::exact));
        Obstacle {
            id: "R".into(),
            name: "rib".into(),
            kind: Kind::Rib,
            material: Material {
                name: "plastic".into(),
                family: MaterialFamily::Plastic,
                e_modulus: None,
            },
            form: Form::Block {
                across,
                depth,
                up,
                turned: DVec3::ZERO,
            },
            clear: 3.0,
            cut_keep_out: 0.0,
            cut_as_stated: Cut::Allowed(CutLimits {
                cut_from: Vec::new(),
                max_depth: 0.0,
                min_from_ends: 0.0,
                min_web: 0.0,
            }),
            joined_to: Vec::new(),
        }
    }

    fn trim(edge: Edge, along: [f64; 2], depth: f64) -> Trim {
        Trim {
            rib: "R".into(),
            edge,
            along,
            depth,
            radius: 0.0,
            locked: false,
            doubler: None,
        }
    }

    #[test]
    fn a_notch_takes_its_box_out_of_plates_however_they_lie() {
        // A cross rib from below, a shelf from its far edge, a fin and a post from left and right.
        let cases = [
            (
                [[-98., 98.], [212., 214.5], [-12., 26.]],
                Edge::Lower,
                [30., 58.],
                [30., 58.],
                [212., 214.5],
                [-12., 0.5],
            ),
            (
                [[-60., 90.], [120., 162.], [-66., -63.5]],
                Edge::Far,
                [0., 20.],
                [0., 20.],
                [149.5, 162.],
                [-66., -63.5],
            ),
            (
                [[10., 12.], [100., 180.], [0., 40.]],
                Edge::Upper,
                [120., 130.],
                [10., 12.],
                [120., 130.],
                [27.5, 40.],
            ),
            (
                [[10., 12.], [100., 130.], [0., 90.]],
                Edge::Near,
                [20., 40.],
                [10., 12.],
                [100., 112.5],
                [20., 40.],
            ),
            (
                [[10., 40.], [100., 102.], [0., 90.]],
                Edge::Right,
                [20., 40.],
                [27.5, 40.],
                [100., 102.],
                [20., 40.],
            ),
        ];
        for (faces, edge, along, x, y, z) in cases {
            let rib = plate(faces);
            let whole = as_cut(&rib, &[], 0.0, Reading::Nominal);
            let cut = as_cut(&rib, &[trim(edge, along, 12.5)], 0.0, Reading::Nominal);
            let gone = Solid::block(DVec3::new(x[0], y[0], z[0]), DVec3::new(x[1], y[1], z[1]));
            assert_abs_diff_eq!(whole.volume() - cut.volume(), gone.volume(), epsilon = 1e-9);
            assert_abs_diff_eq!(cut.bounds().min, whole.bounds().min, epsilon = 1e-12);
            assert_abs_diff_eq!(cut.bounds().max, whole.bounds().max, epsilon = 1e-12);
            let inside =
                crate::signed_distance(&Solid::capsule(gone.centre(), gone.centre(), 0.0), &cut);
            assert!(inside > 0.9, "{edge:?}: {inside}");
        }
    }

    #[test]
    fn trim_on_the_cut_edges_narrows_the_hole_and_round_corners_fill_it() {
        let rib = plate([[-98., 98.], [212., 214.5], [-12., 26.]]);
        let face = RibFace::new(&rib, Reading::Nominal).unwrap();
        let notch = Trim {
            radius: 4.0,
            ..trim(Edge::Lower, [30., 58.], 12.5)
        };
        let hole = |edge_trim: f64| {
            196.0 * 38.0 - face.outline_as_cut(&[&notch], edge_trim).unwrap().area()
        };
        let corner = |radius: f64| 2.0 * radius * radius * (1.0 - std::f64::consts::FRAC_PI_4);
        assert!((hole(0.0) - (28.0 * 12.5 - corner(4.0))).abs() < 1.5);
        assert!(hole(0.0) <= 28.0 * 12.5 - corner(4.0));
        assert!((hole(0.5) - (27.0 * 12.0 - corner(3.5))).abs() < 1.5);
    }

    #[test]
    fn what_is_never_cut_stays_whole() {
        let beam = Obstacle {
            kind: Kind::Beam,
            ..plate([[-98., 98.], [212., 214.5], [-12., 26.]])
        };
        let unstated = Obstacle {
            cut_as_stated: Cut::Never,
            ..plate([[-98., 98.], [212., 214.5], [-12., 26.]])
        };
        for whole in [beam, unstated] {
            let notch = trim(Edge::Lower, [30., 58.], 12.5);
            let cut = as_cut(&whole, &[notch], 0.0, Reading::Nominal);
            assert_eq!(cut.volume(), 196.0 * 2.5 * 38.0);
        }
    }
}

//! Where leads start and end: the chassis and its sockets, exits, factory plugs.

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};
use serde_json::Value;

use super::form::Form;
use super::read::{Unreadable, list, number, outline, point, text};

/// What a lead starts from or ends at, by its id.
#[derive(Clone, Debug, PartialEq)]
pub enum Port {
    /// A socket of the unit.
    Socket(String),
    /// A module.
    Module(String),
    /// An exit.
    Exit(String),
    /// A plug of the factory loom.
    FactoryPlug(String),
}

/// A point and the way out of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mouth {
    /// The point, mm.
    pub at: DVec3,
    /// Unit vector.
    pub way: DVec3,
}

impl Mouth {
    /// A plug's width and height as they lie in a socket, along the axes of the
    /// frame: on a side of the unit its width lies along depth.
    pub fn lying(&self, width: f64, height: f64) -> DVec3 {
        if self.way.y != 0.0 {
            DVec3::new(width, 0.0, height)
        } else if self.way.x != 0.0 {
            DVec3::new(0.0, width, height)
        } else {
            DVec3::new(height, width, 0.0)
        }
    }
}

/// The box of the unit in place.
pub struct Chassis {
    centre: DVec2,
    half: DVec2,
    front: f64,
    rear: f64,
}

impl Chassis {
    /// The chassis of a plain job, standing `proud` mm out of its seat.
    pub fn read(plain: &Value, proud: f64) -> Result<Chassis, Unreadable> {
        let found = list(plain, "sliding")?
            .iter()
            .find(|piece| piece["class"] == "chassis");
        let block = &found.ok_or_else(|| Unreadable("no chassis".to_owned()))?["solid"];
        let [low, high] = Form::read(block)?.bounds();
        Ok(Chassis {
            centre: 0.5 * DVec2::new(low.x + high.x, low.z + high.z),
            half: 0.5 * DVec2::new(high.x - low.x, high.z - low.z),
            front: low.y - proud,
            rear: high.y - proud,
        })
    }

    /// A place on a face of the chassis and the way out of it.
    ///
    /// * `face`: `rear`, `left`, `right`, `top` or `bottom`
    /// * `at`: on the rear (across, up) from the centre; on a side (depth from
    ///   the front, up or across from the centre), mm
    pub fn mouth(&self, face: &str, at: DVec2) -> Result<Mouth, Unreadable> {
        let way = side(face)?;
        let (x, z) = (self.centre.x, self.centre.y);
        let deep = self.front + at.x;
        let at = match face {
            "rear" => DVec3::new(x + at.x, self.rear, z + at.y),
            "left" | "right" => DVec3::new(x + way.x * self.half.x, deep, z + at.y),
            _ => DVec3::new(x + at.y, deep, z + way.z * self.half.y),
        };
        Ok(Mouth { at, way })
    }
}

/// The outward way of a side.
pub fn side(word: &str) -> Result<DVec3, Unreadable> {
    Ok(match word {
        "rear" => DVec3::Y,
        "left" => DVec3::NEG_X,
        "right" => DVec3::X,
        "top" => DVec3::Z,
        "bottom" => DVec3::NEG_Z,
        other => return Err(Unreadable(format!("a face called {other}"))),
    })
}

/// The fan outlets and vent faces of the unit, each as a plate.
pub fn vents(plain: &Value, chassis: &Chassis) -> Result<Vec<Form>, Unreadable> {
    let plate = |vent: &Value| {
        let face = text(vent, "face")?;
        let place = super::read::flat(&vent["at_mm"])?;
        let half = 0.5 * super::read::flat(&vent["size_mm"])?;
        let half = match face.as_str() {
            "rear" => DVec3::new(half.x, 0.0, half.y),
            "left" | "right" => DVec3::new(0.0, half.x, half.y),
            _ => DVec3::new(half.y, half.x, 0.0),
        };
        Ok(Form::upright(chassis.mouth(&face, place)?.at, half))
    };
    list(&plain["unit"], "vents")?.iter().map(plate).collect()
}

/// A hole that leads leave the cavity through.
pub struct Exit {
    /// Its id.
    pub id: String,
    /// Its middle, and the way out.
    pub mouth: Mouth,
    /// The ways its width and height lie.
    pub axes: [DVec3; 2],
    /// Its shape.
    pub shape: Hole,
}

/// The shape of an exit.
pub enum Hole {
    /// Round, by its radius, mm.
    Round(f64),
    /// Corners about its middle, counter-clockwise, mm.
    Corners(Vec<DVec2>),
}

impl Exit {
    /// An exit of a plain job.
    pub fn read(value: &Value) -> Result<Exit, Unreadable> {
        let shape = &value["shape"];
        let shape = if shape["round"].is_object() {
            Hole::Round(0.5 * number(&shape["round"], "diameter_mm")?)
        } else if shape["rectangle"].is_object() {
            let of = &shape["rectangle"];
            let half = 0.5 * DVec2::new(number(of, "width_mm")?, number(of, "height_mm")?);
            let corner = |x: f64, y: f64| DVec2::new(x * half.x, y * half.y);
            Hole::Corners(vec![
                corner(-1., -1.),
                corner(1., -1.),
                corner(1., 1.),
                corner(-1., 1.),
            ])
        } else {
            let mut corners = outline(&shape["polygon"], "corners_mm")?;
            let next = |i: usize| corners[(i + 1) % corners.len()];
            let area: f64 = (0..corners.len())
                .map(|i| corners[i].perp_dot(next(i)))
                .sum();
            if area < 0.0 {
                corners.reverse();
            }
            Hole::Corners(corners)
        };
        let way = point(value, "direction")?.normalize();
        Ok(Exit {
            id: text(value, "id")?,
            mouth: Mouth {
                at: point(value, "centre")?,
                way,
            },
            axes: [point(value, "width_axis")?, point(value, "height_axis")?],
            shape,
        })
    }

    /// How far past its plane a point is, mm; negative inside the cavity.
    pub fn beyond(&self, point: DVec3) -> f64 {
        (point - self.mouth.at).dot(self.mouth.way)
    }

    /// From a point, seen along the way out, to the rim of the hole, mm;
    /// negative outside the hole.
    pub fn to_rim(&self, point: DVec3) -> f64 {
        let from = point - self.mouth.at;
        let at = DVec2::new(from.dot(self.axes[0]), from.dot(self.axes[1]));
        match &self.shape {
            Hole::Round(radius) => radius - at.length(),
            Hole::Corners(corners) => to_rim(corners, at),
        }
    }

    /// Points of its rim, mm.
    pub fn rim(&self) -> Vec<DVec3> {
        let rim: Vec<DVec2> = match &self.shape {
            Hole::Round(radius) => (0..32)
                .map(|i| *radius * DVec2::from_angle(TAU * f64::from(i) / 32.0))
                .collect(),
            Hole::Corners(corners) => corners.clone(),
        };
        rim.iter()
            .map(|at| self.mouth.at + at.x * self.axes[0] + at.y * self.axes[1])
            .collect()
    }
}

/// From a point to the nearest edge of an outline; negative outside.
pub fn to_rim(corners: &[DVec2], at: DVec2) -> f64 {
    let (mut least, mut inside) = (f64::INFINITY, false);
    for (i, &from) in corners.iter().enumerate() {
        let to = corners[(i + 1) % corners.len()];
        let along = ((at - from).dot(to - from) / (to - from).length_squared()).clamp(0.0, 1.0);
        least = least.min(at.distance(from.lerp(to, along)));
        let crosses = (from.y > at.y) != (to.y > at.y);
        if crosses && at.x < from.x + (at.y - from.y) / (to.y - from.y) * (to.x - from.x) {
            inside = !inside;
        }
    }
    if inside { least } else { -least }
}

/// A plug of the factory loom.
pub struct FactoryPlug {
    /// Its id.
    pub id: String,
    /// Its mating face, and the way out of it.
    pub mouth: Mouth,
    /// How far it pulls out, mm.
    pub pulls_out: f64,
}

impl FactoryPlug {
    /// A factory plug of a plain job.
    pub fn read(value: &Value) -> Result<FactoryPlug, Unreadable> {
        Ok(FactoryPlug {
            id: text(value, "id")?,
            mouth: Mouth {
                at: point(value, "at")?,
                way: point(value, "direction")?.normalize(),
            },
            pulls_out: number(value, "pulls_out_mm")?,
        })
    }
}

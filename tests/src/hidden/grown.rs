//! Obstacles of a hidden cavity: blocks and bars, as solids and as a file states them.

use geometry::{Solid, frame::turn_from_degrees};
use glam::DVec3;
use profiles::schema::{BoxFile, CylinderFile, KindFile, ObstacleFile};

use super::shell::{mm, mm3, typed};

/// An obstacle in place.
#[derive(Clone, Debug)]
pub struct Grown {
    /// Its shape.
    pub solid: Solid,
    /// Room to keep from it, mm.
    pub clear: f64,
    /// What it is.
    pub kind: KindFile,
    /// As a file states it.
    pub form: Form,
}

/// The figures of an obstacle's shape.
#[derive(Clone, Debug)]
pub enum Form {
    /// Middle, half size, turn in degrees.
    Block(DVec3, DVec3, DVec3),
    /// Both ends, diameter.
    Bar(DVec3, DVec3, f64),
}

impl Form {
    /// The same with its figures to a hundredth of a mm.
    pub fn typed(&self) -> Form {
        let point = |point: DVec3| DVec3::from_array(point.to_array().map(typed));
        match *self {
            Form::Block(centre, half, turned) => {
                let (low, high) = (point(centre - half), point(centre + half));
                Form::Block(0.5 * (low + high), 0.5 * (high - low), turned)
            }
            Form::Bar(from, to, diameter) => Form::Bar(point(from), point(to), typed(diameter)),
        }
    }

    /// The shape in place.
    pub fn solid(&self) -> Solid {
        match *self {
            Form::Block(centre, half, turned) => {
                let upright = Solid::block(centre - half, centre + half);
                if turned == DVec3::ZERO {
                    upright
                } else {
                    upright.turned_about_centre(turn_from_degrees(turned))
                }
            }
            Form::Bar(from, to, diameter) => Solid::cylinder(from, to, diameter),
        }
    }
}

impl Grown {
    /// Whether it is a rib or a shelf.
    pub fn is_plate(&self) -> bool {
        matches!(self.kind, KindFile::Rib | KindFile::Shelf)
    }

    /// The obstacle as a file states it.
    pub fn file(&self, number: usize) -> ObstacleFile {
        let word = match self.kind {
            KindFile::Rib => "rib",
            KindFile::Shelf => "shelf",
            KindFile::Duct => "duct",
            KindFile::HeaterBox => "heater box",
            KindFile::Bracket => "bracket",
            KindFile::Beam => "beam",
            KindFile::Loom => "factory loom",
            _ => "pipe",
        };
        let (mut block, mut cylinder) = (None, None);
        match self.form {
            Form::Block(centre, half, turned) => {
                let (low, high) = (centre - half, centre + half);
                let along = |axis: usize| [mm(low[axis]), mm(high[axis])];
                block = Some(BoxFile {
                    across: along(0),
                    depth: along(1),
                    up: along(2),
                    turned_deg: turned.to_array(),
                });
            }
            Form::Bar(from, to, diameter) => {
                cylinder = Some(CylinderFile {
                    from: mm3(from),
                    to: mm3(to),
                    diameter: mm(diameter),
                });
            }
        }
        ObstacleFile {
            block,
            cylinder,
            clear: Some(mm(self.clear)),
            ..ObstacleFile::bare(format!("O{number}"), format!("{word} {number}"), self.kind)
        }
    }
}

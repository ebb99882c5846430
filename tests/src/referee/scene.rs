//! The job as the judge sees it: solids in place at the proud of the answer.

use glam::{DVec2, DVec3};
use serde_json::Value;

use super::cables::Lead;
use super::form::Form;
use super::ports::{Chassis, Exit, FactoryPlug, Port, vents};
use super::read::{Unreadable, list, number, outline, point, text};

/// Kinds of obstacles that a module may be fixed to. Common practice, no source.
const FIRM: [&str; 4] = ["rib", "shelf", "bracket", "beam"];

/// What a solid is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// A wall of the cavity.
    Wall,
    /// An obstacle, an unused factory plug, a tab.
    Fixed,
    /// A module.
    Module,
    /// The chassis, brackets, screw heads, a rear support.
    Unit,
    /// The nose or a floating face, in front of the dash.
    Front,
    /// A stiff plug or its strain relief.
    Plug,
}

/// A solid in place.
pub struct Body {
    /// What it is.
    pub class: Class,
    /// Id of what it belongs to.
    pub id: String,
    /// Room that leads keep from it, mm.
    pub clear: f64,
    /// Whether a module may be fixed to it: walls, ribs, shelves, brackets, beams.
    pub firm: bool,
    /// Its shape.
    pub form: Form,
}

/// A room for a module in the cavity.
pub struct Pocket {
    /// Its id.
    pub id: String,
    /// Lowest and highest corner, mm.
    pub faces: [DVec3; 2],
}

/// A module of the job.
pub struct Module {
    /// Its id.
    pub id: String,
    /// Its sizes, mm.
    pub size: DVec3,
    /// Room that others keep from it, mm.
    pub clear: f64,
    /// Where it stays, if it stays: lowest and highest corner, mm.
    pub pinned: Option<[DVec3; 2]>,
    /// The spaces and pockets it may go to; empty = any.
    pub may_go_to: Vec<String>,
}

/// Where the answer puts a module.
pub enum Seat {
    /// In the cavity: lowest and highest corner, mm.
    Cavity([DVec3; 2]),
    /// In a space outside it, reached by this exit.
    Space(String),
}

/// The job in place.
pub struct Scene {
    /// Every solid.
    pub bodies: Vec<Body>,
    /// Faces that need air, each as a plate.
    pub vents: Vec<Form>,
    /// Air they need, mm.
    pub vent_air: f64,
    /// Room the unit keeps from the walls, mm.
    pub slide_gap: f64,
    /// Cross-sections by rising depth: depth, corners, whether it steps to the next.
    pub stations: Vec<(f64, Vec<DVec2>, bool)>,
    /// Width and height of the opening, mm.
    pub opening: [f64; 2],
    /// Every exit.
    pub exits: Vec<Exit>,
    /// Plugs of the factory loom.
    pub factory_plugs: Vec<FactoryPlug>,
    /// Every lead, its start with it.
    pub leads: Vec<Lead>,
    /// Every module.
    pub modules: Vec<Module>,
    /// Where each module sits, by its id.
    pub seats: Vec<(String, Seat)>,
    /// Rooms in the cavity.
    pub pockets: Vec<Pocket>,
    /// Rooms outside it: id, exit.
    pub spaces: Vec<(String, String)>,
}

impl Scene {
    /// A plain job, the unit standing `proud` mm out of its seat.
    pub fn read(plain: &Value, proud: f64) -> Result<Scene, Unreadable> {
        let cavity = &plain["cavity"];
        let out = DVec3::new(0.0, -proud, 0.0);
        let chassis = Chassis::read(plain, proud)?;
        let mut bodies = Vec::new();
        let wall_clear = number(cavity, "wall_clear_mm")?;
        for wall in list(plain, "walls")? {
            bodies.push(Body {
                class: Class::Wall,
                id: text(wall, "name")?,
                clear: wall_clear,
                firm: true,
                form: Form::read(&wall["solid"])?,
            });
        }
        for fixed in list(plain, "fixed")? {
            if fixed["class"] == "module" {
                continue; // comes with the modules of the answer
            }
            bodies.push(Body {
                class: Class::Fixed,
                id: text(fixed, "id")?,
                clear: number(fixed, "clear_mm")?,
                firm: FIRM.iter().any(|kind| fixed["kind"] == *kind),
                form: Form::read(&fixed["solid"])?,
            });
        }
        for piece in list(plain, "sliding")? {
            let class = match text(piece, "class")?.as_str() {
                "plug" | "strain relief" => Class::Plug,
                "nose" | "overhang" => Class::Front,
                _ => Class::Unit,
            };
            bodies.push(Body {
                class,
                id: text(piece, "id")?,
                clear: 0.0,
                firm: false,
                form: Form::read(&piece["solid"])?.moved(out),
            });
        }
        Ok(Scene {
            bodies,
            vents: vents(plain, &chassis)?,
            vent_air: number(&plain["unit"], "vent_air_mm")?,
            slide_gap: number(cavity, "slide_gap_mm")?,
            stations: stations(cavity)?,
            opening: [
                number(&plain["opening"], "width_mm")?,
                number(&plain["opening"], "height_mm")?,
            ],
            exits: each(plain, "exits", Exit::read)?,
            factory_plugs: each(plain, "factory_plugs", FactoryPlug::read)?,
            leads: each(plain, "leads", |lead| Lead::read(lead, plain, &chassis))?,
            modules: each(plain, "modules", module)?,
            seats: Vec::new(),
            pockets: each(plain, "pockets", |pocket| {
                let faces = [point(pocket, "min")?, point(pocket, "max")?];
                Ok(Pocket {
                    id: text(pocket, "id")?,
                    faces,
                })
            })?,
            spaces: each(plain, "spaces", |space| {
                Ok((text(space, "id")?, text(space, "exit")?))
            })?,
        })
    }

    /// Where the answer puts a module.
    pub fn seat(&self, module: &str) -> Option<&Seat> {
        let found = self.seats.iter().find(|(id, _)| id == module);
        found.map(|(_, seat)| seat)
    }

    /// Whether a lead has no part in the cavity: a module outside carries it
    /// and it ends by the exit.
    pub fn lies_outside(&self, lead: &Lead) -> bool {
        let from_outside = matches!(
            &lead.from,
            Port::Module(id) if matches!(self.seat(id), Some(Seat::Space(_)))
        );
        from_outside && matches!(&lead.to, Port::Exit(_))
    }
}

fn each<T>(
    plain: &Value,
    key: &str,
    read: impl Fn(&Value) -> Result<T, Unreadable>,
) -> Result<Vec<T>, Unreadable> {
    list(plain, key)?.iter().map(read).collect()
}

fn stations(cavity: &Value) -> Result<Vec<(f64, Vec<DVec2>, bool)>, Unreadable> {
    each(cavity, "stations", |station| {
        let corners = if station["outline"].is_array() {
            outline(station, "outline")?
        } else {
            let side = |key: &str| number(station, key);
            let (left, right) = (side("left_mm")?, side("right_mm")?);
            let (up, down) = (side("up_mm")?, side("down_mm")?);
            vec![
                DVec2::new(-left, -down),
                DVec2::new(right, -down),
                DVec2::new(right, up),
                DVec2::new(-left, up),
            ]
        };
        let steps = text(station, "to_next")? == "stepped";
        Ok((number(station, "at_mm")?, corners, steps))
    })
}

fn module(value: &Value) -> Result<Module, Unreadable> {
    let place = &value["place"];
    let pinned = match &place["pinned"] {
        Value::Null => None,
        faces => Some([point(faces, "min")?, point(faces, "max")?]),
    };
    let may_go_to = match place["may_go_to"].as_array() {
        Some(ids) => ids
            .iter()
            .filter_map(|id| id.as_str().map(str::to_owned))
            .collect(),
        None => Vec::new(),
    };
    Ok(Module {
        id: text(value, "id")?,
        size: point(value, "size_mm")?,
        clear: number(value, "clear_mm")?,
        pinned,
        may_go_to,
    })
}

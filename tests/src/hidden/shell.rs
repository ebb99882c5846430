//! The empty cavity: its walls, where exits are, the unit and what plugs into it.

use std::collections::BTreeMap;

use geometry::Plug;
use glam::{DQuat, DVec2, DVec3};
use profiles::schema::{
    BendRules, CavityFile, ExitFile, JobFile, LeadEndFile, LeadFile, OpeningFile, PartUse, RunFile,
    SocketFile, StationFile, UnitPart, VentFile,
};
use profiles::{Length, Library};

use super::parts::Kind;
use crate::chance::Chance;

/// Half the middle of a fan outlet may be from the middle of the back, mm.
const VENT_REACH: DVec2 = DVec2::new(60.0, 25.0);

/// The room behind the opening: straight walls from `straight` on, mm.
#[derive(Clone, Copy, Debug)]
pub struct Shell {
    /// Lowest corner of the straight part.
    pub low: DVec3,
    /// Highest corner of the straight part.
    pub high: DVec3,
    /// Depth of the chassis rear.
    pub rear: f64,
}

/// An exit of the cavity.
#[derive(Clone, Debug)]
pub struct Door {
    /// Its id.
    pub id: String,
    /// Words its wall's name starts with.
    pub wall: &'static str,
    /// Its middle, mm.
    pub centre: DVec3,
    /// The way out.
    pub way: DVec3,
    /// Radius of the hole, mm.
    pub radius: f64,
    /// Straight run beyond it, mm.
    pub beyond: f64,
}

/// Lengths to a hundredth of a mm.
pub fn typed(value: f64) -> f64 {
    (100.0 * value).round() / 100.0
}

/// A length to a hundredth of a mm.
pub fn mm(value: f64) -> Length {
    Length::mm(typed(value))
}

/// A point to a hundredth of a mm.
pub fn mm3(point: DVec3) -> [Length; 3] {
    point.to_array().map(mm)
}

/// A room behind a unit of the given depth, mm.
pub fn shell(depth: f64, chance: &mut Chance) -> Shell {
    let rear = 2.0 + depth;
    let low = DVec3::new(
        -chance.typed(104.0, 124.0),
        rear - 20.0,
        -chance.typed(76.0, 104.0),
    );
    let high = DVec3::new(
        chance.typed(104.0, 124.0),
        rear + chance.typed(100.0, 132.0),
        chance.typed(58.0, 74.0),
    );
    Shell { low, high, rear }
}

/// So many exits, none on another, each leaning up to 20 degrees.
pub fn doors(shell: &Shell, count: usize, chance: &mut Chance) -> Option<Vec<Door>> {
    // Room for the widest hole, and in front of the exit for a bend.
    const MARGIN: f64 = 22.0;
    let (low, high) = (shell.low, shell.high);
    let mut faces = [
        ("left wall", DVec3::NEG_X),
        ("right wall", DVec3::X),
        ("floor", DVec3::NEG_Z),
        ("roof", DVec3::Z),
        ("floor", DVec3::NEG_Z),
        ("back wall", DVec3::Y),
    ];
    chance.shuffle(&mut faces);
    let mut doors: Vec<Door> = Vec::new();
    for (number, (wall, normal)) in faces.into_iter().take(count).enumerate() {
        let door = (0..60).find_map(|_| {
            let inner_low = DVec3::new(low.x, shell.rear, low.z) + DVec3::splat(MARGIN);
            let mut centre = chance.point(inner_low, high - DVec3::splat(MARGIN));
            let axis = (0..3).find(|axis| normal[*axis] != 0.0)?;
            centre[axis] = if normal[axis] > 0.0 { high } else { low }[axis];
            let centre = DVec3::from_array(centre.to_array().map(typed));
            let apart = |door: &Door| door.centre.distance(centre) > 2.0 * MARGIN + 4.0;
            doors.iter().all(apart).then(|| Door {
                id: format!("E{}", number + 1),
                wall,
                centre,
                way: leaning(normal, chance),
                radius: MARGIN,
                beyond: chance.typed(10.0, 20.0),
            })
        })?;
        doors.push(door);
    }
    Some(doors)
}

/// A way up to 20 degrees off another.
fn leaning(way: DVec3, chance: &mut Chance) -> DVec3 {
    let side = way.any_orthonormal_vector();
    let axis = DQuat::from_axis_angle(way, chance.within(0.0, std::f64::consts::TAU)) * side;
    let leaned = DQuat::from_axis_angle(axis, chance.within(0.0, 20f64.to_radians())) * way;
    // As a file would state it.
    let stated = leaned
        .to_array()
        .map(|part| (1000.0 * part).round() / 1000.0);
    DVec3::from_array(stated).normalize()
}

/// Cross-sections of the cavity by depth: the opening, then the straight part.
pub fn stations(shell: &Shell) -> Vec<StationFile> {
    let station = |at: f64, left: f64, right: f64, up: f64, down: f64| StationFile {
        at: mm(at),
        left: Some(mm(left)),
        right: Some(mm(right)),
        up: Some(mm(up)),
        down: Some(mm(down)),
        outline: Vec::new(),
        to_next: RunFile::Blended,
    };
    let (low, high) = (shell.low, shell.high);
    let straight = |at: f64| station(at, -low.x, high.x, high.z, -low.z);
    vec![
        station(0.0, 92.0, 92.0, 53.0, 53.0),
        station(0.45 * low.y, 97.0, 97.0, 54.0, 56.0),
        straight(low.y),
        straight(high.y),
    ]
}

impl Shell {
    /// The same room with every wall that has no exit moved in until only
    /// `taken` and a little more is left.
    ///
    /// * `taken`: what has to stay inside, walls' clear and all, mm
    pub fn tightened(&self, doors: &[Door], taken: [DVec3; 2], chance: &mut Chance) -> Shell {
        let has = |wall: &str| doors.iter().any(|door| door.wall == wall);
        let little = chance.point(DVec3::ZERO, DVec3::splat(4.0));
        // Never narrower than half way to the opening.
        let low = (taken[0] - little).min(DVec3::new(-98.0, self.low.y, -57.0));
        let high = (taken[1] + little).max(DVec3::new(98.0, self.rear, 55.0));
        let mut tight = *self;
        let mut keep = |wall: &str, axis: usize, upper: bool| {
            if has(wall) {
                return;
            }
            if upper {
                tight.high[axis] = typed(high[axis]).min(self.high[axis]);
            } else {
                tight.low[axis] = typed(low[axis]).max(self.low[axis]);
            }
        };
        keep("left wall", 0, false);
        keep("right wall", 0, true);
        keep("floor", 2, false);
        keep("roof", 2, true);
        keep("back wall", 1, true);
        tight
    }
}

/// A job file with the walls and nothing in them.
pub fn bare_file(seed: u64, shell: &Shell, unit: UnitPart, rules: BendRules) -> JobFile {
    let cavity = CavityFile {
        opening: OpeningFile {
            width: mm(184.0),
            height: mm(106.0),
            corner_radius: None,
        },
        seat_plane: None,
        finished_face: Some(mm(2.0)),
        face_rake: Default::default(),
        slide_dip_deg: 0.0,
        clear: None,
        slide_gap: None,
        stations: stations(shell),
        closed: true,
        obstacles: Vec::new(),
        exits: Vec::new(),
        spaces: Vec::new(),
        pockets: Vec::new(),
        factory_plugs: Vec::new(),
    };
    JobFile {
        looms: Vec::new(),
        format: 1,
        name: format!("hidden cavity {seed}"),
        notes: String::new(),
        enter_tilt_deg: None,
        proud_limit_mm: Some(3.0),
        bend_rules: rules,
        cavity,
        unit: PartUse::Inline(Box::new(unit)),
        mount: PartUse::Named("kit_pocket".to_owned()),
        leads: Vec::new(),
        modules: Vec::new(),
        trims: Vec::new(),
        rib_loads: Vec::new(),
        cutting: Default::default(),
        alternatives: Vec::new(),
    }
}

/// A unit of the library with a socket for every lead, `None` when they do not
/// all find a place.
pub fn unit(
    base: &str,
    plugs: &[(&Kind, Plug)],
    library: &Library,
    chance: &mut Chance,
) -> Option<UnitPart> {
    let mut unit = library.get::<UnitPart>(base)?.clone();
    let vent = DVec2::new(
        chance.typed(-VENT_REACH.x, VENT_REACH.x),
        chance.typed(-VENT_REACH.y, VENT_REACH.y),
    );
    let shapes: Vec<&Plug> = plugs.iter().map(|(_, plug)| plug).collect();
    let places = super::rear::arrange(&shapes, vent, chance)?;
    unit.sockets = plugs
        .iter()
        .zip(places)
        .enumerate()
        .map(|(number, ((kind, plug), at))| SocketFile {
            id: format!("S{}", number + 1),
            name: format!("socket of the {}", kind.name),
            face: Default::default(),
            at: [mm(at.x), mm(at.y)],
            family: plug.family.clone(),
            stands_out: None,
        })
        .collect();
    unit.vents = vec![VentFile {
        name: "fan".to_owned(),
        face: Default::default(),
        at: [mm(vent.x), mm(vent.y)],
        size: [mm(20.0), mm(20.0)],
        fan: true,
    }];
    Some(unit)
}

/// An exit as a file states it.
pub fn exit_file(door: &Door) -> ExitFile {
    ExitFile {
        corners: Vec::new(),
        id: door.id.clone(),
        name: format!("hole {} in the {}", door.id, door.wall),
        centre: mm3(door.centre),
        direction: door.way.to_array(),
        diameter: Some(mm(2.0 * door.radius)),
        width: None,
        height: None,
        run_beyond: Some(mm(door.beyond)),
    }
}

/// A lead as a file states it, its length still open.
pub fn lead_file(id: String, kind: &Kind, end: LeadEndFile) -> LeadFile {
    LeadFile {
        id,
        name: kind.name.to_owned(),
        socket: None,
        module: None,
        plug: PartUse::Named(kind.plug.to_owned()),
        cable: PartUse::Named(kind.cable.to_owned()),
        cables: kind.cables,
        length: None,
        end,
        beyond: None,
        turn_plus_minus: None,
        lumps: Vec::new(),
        through: Vec::new(),
        slack: Default::default(),
        service_reach: Default::default(),
        notes: String::new(),
    }
}

/// The plug of every kind in plain numbers, from the library.
pub fn plugs_in_numbers(kinds: &[Kind], library: &Library) -> BTreeMap<String, Plug> {
    // A job that uses them all, one module carrying every lead.
    let unit = library
        .get::<UnitPart>("full_depth")
        .cloned()
        .expect("a unit of the library");
    let shell = Shell {
        low: DVec3::new(-110.0, 147.0, -80.0),
        high: DVec3::new(110.0, 270.0, 60.0),
        rear: 167.0,
    };
    let mut file = bare_file(0, &shell, unit, BendRules::Published);
    file.cavity.exits = vec![exit_file(&Door {
        id: "E1".to_owned(),
        wall: "floor",
        centre: DVec3::new(0.0, 220.0, -80.0),
        way: DVec3::NEG_Z,
        radius: 20.0,
        beyond: 10.0,
    })];
    file.modules = vec![super::boxes::module_file(
        "M1",
        super::parts::MODULES[0],
        None,
    )];
    for (number, kind) in kinds.iter().enumerate() {
        let end = LeadEndFile {
            exit: Some("E1".to_owned()),
            ..Default::default()
        };
        let mut lead = lead_file(format!("L{number}"), kind, end);
        lead.module = Some("M1".to_owned());
        file.leads.push(lead);
    }
    let inlined = profiles::inline(&file, library).expect("parts of the library are sound");
    let plugs = inlined
        .job
        .leads
        .into_iter()
        .map(|lead| (lead.plug.id.clone(), lead.plug));
    plugs.collect()
}

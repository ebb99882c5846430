//! Small jobs made in code, for checks against worked examples.

use geometry::{
    BendLine, BendRadius, BendRule, Cable, Cavity, Cut, Cutting, Form, Hold, Job, Kind, Lead,
    LeadEnd, LeadStart, Material, MaterialFamily, Measure, Mount, Nose, NoseSeat, Obstacle,
    Opening, Plug, PlugStyle, RuleSet, ServiceReach, SideBracket, Slack, SlackGoes, Socket,
    SocketFace, Strip, Tool, Unit, Works,
};
use glam::{DVec2, DVec3};

/// An exact length, mm.
pub fn mm(value: f64) -> Measure {
    Measure::exact(value)
}

/// A unit of the given chassis in an opening of the given size, with no leads
/// and nothing behind it. All mm.
pub fn bare(opening: [f64; 2], chassis: [f64; 3], setback: f64) -> Job {
    Job {
        name: "made in code".into(),
        cavity: Cavity {
            opening: Opening {
                width: mm(opening[0]),
                height: mm(opening[1]),
                corner_radius: 0.0,
            },
            seat_plane: mm(0.0),
            finished_face: mm(setback.max(0.0)),
            face_rake: DVec2::ZERO,
            slide_dip: 0.0,
            wall_clear: 2.0,
            slide_gap: 0.0,
            stations: Vec::new(),
            closed: false,
            obstacles: Vec::new(),
            exits: Vec::new(),
            spaces: Vec::new(),
            pockets: Vec::new(),
            factory_plugs: Vec::new(),
        },
        unit: Unit {
            id: "unit".into(),
            name: "unit".into(),
            width: mm(chassis[0]),
            height: mm(chassis[1]),
            depth: mm(chassis[2]),
            offset: DVec2::ZERO,
            nose: Nose {
                width: mm(opening[0] + 6.0),
                height: mm(opening[1] + 6.0),
                thickness: mm(10.0),
                seat: NoseSeat::Laps,
                trim_ring: None,
            },
            overhang: None,
            side_holes: Vec::new(),
            sockets: Vec::new(),
            vents: Vec::new(),
            rear_support: None,
            mass: 1.0,
            max_dip: None,
            remote_module: None,
        },
        mount: Mount {
            id: "mount".into(),
            name: "mount".into(),
            setback: mm(setback),
            hold: Hold::KitPocket {
                bracket: SideBracket {
                    thickness: mm(0.0),
                    height: 0.0,
                    length: 0.0,
                },
                side_room: None,
                tabs: Vec::new(),
            },
            takes_rear_support: false,
        },
        leads: Vec::new(),
        modules: Vec::new(),
        makeups: Vec::new(),
        trims: Vec::new(),
        rib_loads: Vec::new(),
        cutting: cutting(),
        proud_limit: 3.0,
        enter_tilt: 10f64.to_radians(),
        rules: RuleSet::Published,
        unmeasured: Vec::new(),
    }
}

/// A saw, 1 mm steps, nothing on the cut edges.
pub fn cutting() -> Cutting {
    Cutting {
        tool: Tool {
            name: "saw".into(),
            works: Works::EndFirst,
            shank: DVec2::new(40.0, 40.0),
            reach: 45.0,
            kerf: 1.6,
            blade: DVec2::new(10.0, 1.6),
            behind: 0.0,
        },
        stop_hole: 8.0,
        edge_trim: 0.0,
        snap: 1.0,
        keep_stiffness: 0.6,
        asked: false,
        left_alone: Vec::new(),
        strip: Strip {
            thickness: 3.0,
            height: 25.0,
            lap: 30.0,
            modulus: 2500.0,
        },
    }
}

/// Adds a wall across the cavity at a depth, mm.
pub fn wall_behind(job: &mut Job, depth: f64) {
    job.cavity.obstacles.push(block(
        "wall behind",
        Kind::HeaterBox,
        [-300.0, depth, -300.0],
        [300.0, depth + 100.0, 300.0],
    ));
}

/// A box between two corners (across, depth, up), mm, that keeps nothing clear.
pub fn block(id: &str, kind: Kind, low: [f64; 3], high: [f64; 3]) -> Obstacle {
    let faces = |axis: usize| [mm(low[axis]), mm(high[axis])];
    Obstacle {
        id: id.into(),
        name: id.into(),
        kind,
        material: Material {
            name: "plastic".into(),
            family: MaterialFamily::Plastic,
            e_modulus: None,
        },
        form: Form::Block {
            across: faces(0),
            depth: faces(1),
            up: faces(2),
            turned: DVec3::ZERO,
        },
        clear: 0.0,
        cut_keep_out: 0.0,
        cut_as_stated: Cut::Never,
        joined_to: Vec::new(),
    }
}

/// Adds a straight plug on the rear with its cable.
///
/// * `at`: centre of the socket (across, up), mm
/// * `plug`: width, height and stiff length, mm
/// * `od`: cable, mm
/// * `rule`: inside bend radius in diameters
/// * `straight_run`: before the bend, mm
pub fn add_lead(
    job: &mut Job,
    id: &str,
    at: [f64; 2],
    plug: [f64; 3],
    od: f64,
    rule: f64,
    straight_run: f64,
) {
    job.unit.sockets.push(Socket {
        id: id.into(),
        name: id.into(),
        face: SocketFace::Rear,
        at: DVec2::from_array(at),
        family: "any".into(),
        stands_out: 0.0,
    });
    let rule = BendRule {
        radius: BendRadius::TimesOd(rule),
        measured: BendLine::Inside,
    };
    job.leads.push(Lead {
        id: id.into(),
        name: id.into(),
        from: LeadStart::Socket(id.into()),
        plug: Plug {
            id: "plug".into(),
            name: "plug".into(),
            family: "any".into(),
            width: mm(plug[0]),
            height: mm(plug[1]),
            style: PlugStyle::Straight {
                body: mm(plug[2]),
                relief: 0.0,
                relief_diameter: 0.0,
            },
        },
        cable: Cable {
            id: "cable".into(),
            name: "cable".into(),
            od: mm(od),
            published: rule,
            shop: rule,
            turn_plus_minus: 0.0,
            fold_radius: rule.centreline(od),
            straight_run,
            tail: None,
        },
        cables: 1,
        length: None,
        end: LeadEnd::Exit("none".into()),
        beyond: None,
        lumps: Vec::new(),
        through: Vec::new(),
        slack: Slack {
            goes: SlackGoes::Beyond,
            joint_waste: 0.0,
        },
        service_reach: ServiceReach {
            pull_out: 120.0,
            required: false,
        },
    });
}

//! The quick answer: a whole job from at most eight figures.

use geometry::{Job, Reading};

use crate::inline::{Fault, inline};
use crate::length::Length;
use crate::library::Library;
use crate::problem::Severity;
use crate::schema::{
    BendLineFile, BendRuleFile, BendRules, BoxFile, CablePart, CavityFile, ChassisFile, ExitFile,
    FORMAT, HowKnown, JobFile, KindFile, KitPocketFile, LeadEndFile, LeadFile, MountPart, NoseFile,
    NoseSeatFile, ObstacleFile, OpeningFile, PartUse, PlugPart, Provenance, SocketFile,
    StraightFile, UnitPart,
};

/// The figures a first answer rests on, as typed. `?` stands for one that
/// could not be measured and makes the answer a range.
#[derive(Clone, Debug, PartialEq)]
pub struct QuickFigures {
    /// Width of the opening.
    pub width: Length,
    /// Height of the opening.
    pub height: Length,
    /// Depth from the dash face to the nearest solid thing behind the unit.
    pub behind: Length,
    /// Depth of the chassis.
    pub chassis: Length,
    /// From the dash face to the chassis front.
    pub setback: Length,
    /// The longest plug, beyond the chassis.
    pub plug: Length,
    /// Outside diameter of its cable.
    pub cable: Length,
    /// Centreline bend radius in outside diameters.
    pub bend: f64,
}

/// The measure that would narrow a quick answer most.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureNext {
    /// What to measure, in words.
    pub name: &'static str,
    /// By how much the range of proud would narrow, mm; infinite when it is
    /// not even known whether the unit goes in.
    pub gain: f64,
}

/// The measured figures by name, each with a way to reach it.
type Field = (&'static str, fn(&mut QuickFigures) -> &mut Length);

const FIELDS: [Field; 7] = [
    ("the width of the opening", |quick| &mut quick.width),
    ("the height of the opening", |quick| &mut quick.height),
    ("the depth to the nearest thing behind", |quick| {
        &mut quick.behind
    }),
    ("the depth of the chassis", |quick| &mut quick.chassis),
    ("the setback of the mount", |quick| &mut quick.setback),
    ("the longest plug", |quick| &mut quick.plug),
    ("the diameter of its cable", |quick| &mut quick.cable),
];

impl QuickFigures {
    /// Centreline bend radius of a lead, in diameters, where nothing better is
    /// known. Common practice, no source.
    pub const USUAL_BEND: f64 = 4.0;

    /// Nothing known yet but the usual opening.
    pub fn unknown() -> QuickFigures {
        let unmeasured = || Length::parse("?").expect("'?' is a length");
        QuickFigures {
            width: unmeasured(),
            height: unmeasured(),
            behind: unmeasured(),
            chassis: unmeasured(),
            setback: unmeasured(),
            plug: unmeasured(),
            cable: unmeasured(),
            bend: QuickFigures::USUAL_BEND,
        }
    }

    /// The figures as a job file: the usual chassis, one wall behind, one lead.
    pub fn job_file(&self) -> JobFile {
        JobFile {
            format: FORMAT,
            name: "Quick answer".to_owned(),
            notes: String::new(),
            proud_limit_mm: None,
            enter_tilt_deg: None,
            bend_rules: BendRules::Shop,
            cavity: self.cavity(),
            unit: PartUse::Inline(Box::new(self.unit())),
            mount: PartUse::Inline(Box::new(self.mount())),
            leads: vec![self.lead()],
            looms: Vec::new(),
            modules: Vec::new(),
            trims: Vec::new(),
            rib_loads: Vec::new(),
            cutting: Default::default(),
            alternatives: Vec::new(),
        }
    }

    /// The figures as a job.
    ///
    /// # Errors
    /// What is wrong with a figure, by the name of its field.
    pub fn job(&self, library: &Library) -> Result<Job, Vec<Fault>> {
        if !(self.bend.is_finite() && self.bend >= 0.0) {
            return Err(vec![Fault {
                severity: Severity::Error,
                field: "bend".to_owned(),
                found: format!("{}", self.bend),
                allowed: "a number of diameters, 0 or more".to_owned(),
            }]);
        }
        inline(&self.job_file(), library).map(|inlined| inlined.job)
    }

    /// The figure worth measuring, or measuring again, first; `None` when
    /// nothing would narrow the answer.
    pub fn measure_next(&self, library: &Library) -> Option<MeasureNext> {
        let now = self.spread(library)?;
        let mut next: Option<MeasureNext> = None;
        for (name, field) in FIELDS {
            let mut known = self.clone();
            let length = field(&mut known);
            let spans = inline(&self.job_file(), library).ok()?;
            let value = nominal(&spans.job, name)?;
            *length = Length::mm(value);
            let gain = match (now, known.spread(library)?) {
                (now, then) if now.is_infinite() && then.is_finite() => f64::INFINITY,
                (now, then) if now.is_finite() => now - then,
                _ => 0.0,
            };
            if gain > 0.05 && next.as_ref().is_none_or(|best| gain > best.gain) {
                next = Some(MeasureNext { name, gain });
            }
        }
        next
    }

    /// Width of the range of proud, mm.
    fn spread(&self, library: &Library) -> Option<f64> {
        let [low, high] = geometry::fit(&self.job(library).ok()?).proud_range;
        Some(if high.is_infinite() {
            f64::INFINITY
        } else {
            high - low
        })
    }

    fn cavity(&self) -> CavityFile {
        let mm = Length::mm;
        CavityFile {
            opening: OpeningFile {
                width: self.width.clone(),
                height: self.height.clone(),
                corner_radius: None,
            },
            seat_plane: None,
            finished_face: None,
            face_rake: Default::default(),
            slide_dip_deg: 0.0,
            clear: None,
            slide_gap: None,
            stations: Vec::new(),
            closed: false,
            obstacles: vec![ObstacleFile {
                block: Some(BoxFile {
                    across: [mm(-300.0), mm(300.0)],
                    depth: [self.behind.clone(), mm(1000.0)],
                    up: [mm(-300.0), mm(300.0)],
                    turned_deg: [0.0; 3],
                }),
                ..ObstacleFile::bare("behind", "nearest thing behind", KindFile::Unknown)
            }],
            exits: vec![ExitFile {
                id: "below".to_owned(),
                name: "below the unit".to_owned(),
                centre: [mm(0.0), mm(100.0), mm(-60.0)],
                direction: [0.0, 0.0, -1.0],
                diameter: Some(mm(40.0)),
                width: None,
                height: None,
                corners: Vec::new(),
                run_beyond: None,
            }],
            spaces: Vec::new(),
            pockets: Vec::new(),
            factory_plugs: Vec::new(),
        }
    }

    /// The usual chassis, 178 x 100, with a nose that goes into the opening
    /// with it (trade drawing practice, from memory).
    fn unit(&self) -> UnitPart {
        UnitPart {
            id: "quick-unit".to_owned(),
            name: "unit".to_owned(),
            chassis: ChassisFile {
                width: Length::mm(178.0),
                height: Length::mm(100.0),
                depth: self.chassis.clone(),
                datum: Default::default(),
                datum_behind_nose: None,
                offset: None,
            },
            nose: NoseFile {
                width: Length::mm(172.0),
                height: Length::mm(98.0),
                thickness: Length::mm(10.0),
                seat: NoseSeatFile::Enters,
                trim_ring: None,
            },
            overhang: None,
            side_holes: Vec::new(),
            sockets: vec![SocketFile {
                id: "socket".to_owned(),
                name: "socket".to_owned(),
                face: Default::default(),
                at: [Length::mm(0.0), Length::mm(0.0)],
                family: "any".to_owned(),
                stands_out: None,
            }],
            vents: Vec::new(),
            rear_support: None,
            mass_kg: 0.0,
            max_dip_deg: None,
            remote_module: None,
            known: from_memory(),
        }
    }

    fn mount(&self) -> MountPart {
        MountPart {
            id: "quick-mount".to_owned(),
            name: "mount".to_owned(),
            setback: self.setback.clone(),
            factory_brackets: None,
            sleeve: None,
            kit_pocket: Some(KitPocketFile {
                bracket: None,
                side_room: None,
                tabs: Vec::new(),
            }),
            takes_rear_support: false,
            known: Provenance::default(),
        }
    }

    fn lead(&self) -> LeadFile {
        LeadFile {
            id: "longest".to_owned(),
            name: "longest plug".to_owned(),
            socket: Some("socket".to_owned()),
            module: None,
            plug: PartUse::Inline(Box::new(PlugPart {
                id: "quick-plug".to_owned(),
                name: "plug".to_owned(),
                family: "any".to_owned(),
                width: Length::mm(20.0),
                height: Length::mm(12.0),
                straight: Some(StraightFile {
                    body: self.plug.clone(),
                    relief: None,
                    relief_diameter: None,
                }),
                right_angle: None,
                mating_depth: None,
                usual: None,
                known: from_memory(),
            })),
            cable: PartUse::Inline(Box::new(CablePart {
                id: "quick-cable".to_owned(),
                name: "cable".to_owned(),
                od: self.cable.clone(),
                wires: None,
                published: self.bend_rule(),
                shop: Some(self.bend_rule()),
                fold: None,
                known: from_memory(),
            })),
            cables: 1,
            length: None,
            end: LeadEndFile {
                exit: Some("below".to_owned()),
                ..Default::default()
            },
            beyond: None,
            turn_plus_minus: None,
            lumps: Vec::new(),
            through: Vec::new(),
            slack: Default::default(),
            service_reach: Default::default(),
            notes: String::new(),
        }
    }

    fn bend_rule(&self) -> BendRuleFile {
        BendRuleFile {
            times_od: Some(self.bend),
            radius: None,
            measured: BendLineFile::Centreline,
            straight_run_times_od: 0.0,
            known: Provenance {
                how: HowKnown::CommonPractice,
                source: "common practice, no source".to_owned(),
                note: String::new(),
            },
        }
    }
}

fn from_memory() -> Provenance {
    Provenance {
        source: "trade drawing practice".to_owned(),
        how: HowKnown::FromMemory,
        note: String::new(),
    }
}

/// The value a figure stands at in the job, mm.
fn nominal(job: &Job, name: &str) -> Option<f64> {
    let layout = geometry::lay_out(job, Reading::Nominal);
    let turn = layout.turns.first()?;
    let value = match FIELDS.iter().position(|(field, _)| *field == name)? {
        0 => job.cavity.opening.width.value(),
        1 => job.cavity.opening.height.value(),
        2 => layout.fixed.first()?.solid.bounds().min.y,
        3 => job.unit.depth.value(),
        4 => job.mount.setback.value(),
        5 => turn.plug,
        _ => turn.od,
    };
    Some(value)
}

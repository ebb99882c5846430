//! Leads in plain numbers.

use std::collections::BTreeMap;

use geometry::{Lead, LeadEnd, LeadStart, Lump, RuleSet, ServiceReach, Slack};
use glam::DVec3;

use super::cable::cable;
use super::draft::DraftLead;
use super::findings::{Field, Findings, Range};
use super::names::{Names, check_known, not_among};
use super::parts::resolve;
use super::plug::plug;
use super::shapes::{point, three};
use crate::library::Library;
use crate::problem::quoted;
use crate::schema::{LeadFile, LumpFile, UnitPart};

/// What leads may start from and end at.
pub(super) struct Ends<'a> {
    /// The unit, where it is known.
    pub unit: Option<&'a UnitPart>,
    /// Ids of the exits.
    pub exits: Vec<&'a str>,
    /// Ids of the modules.
    pub modules: Vec<&'a str>,
    /// Ids of the factory plugs.
    pub factory_plugs: Vec<&'a str>,
}

/// Every lead in plain numbers; one that is not whole is left out and among the faults.
pub(super) fn leads(
    drafts: &[DraftLead<'_>],
    ends: &Ends<'_>,
    rules: RuleSet,
    library: &Library,
    names: &mut Names,
    findings: &mut Findings,
) -> Vec<Lead> {
    let mut taken = BTreeMap::new();
    drafts
        .iter()
        .filter_map(|draft| {
            let DraftLead { file, at, .. } = draft;
            names.give(&file.id, &file.name, at, findings);
            if let Some(socket) = &file.socket {
                check_free(socket, file, at, &mut taken, findings);
            }
            lead(draft, ends, rules, library, findings)
        })
        .collect()
}

/// A socket takes one plug.
fn check_free<'a>(
    socket: &'a str,
    file: &'a LeadFile,
    at: &Field,
    taken: &mut BTreeMap<&'a str, &'a str>,
    findings: &mut Findings,
) {
    if let Some(first) = taken.get(socket) {
        findings.error(
            &at.key("socket"),
            format!("{}, where the {first} already plugs in", quoted(socket)),
            "a socket of its own",
        );
    } else {
        taken.insert(socket, &file.name);
    }
}

fn lead(
    draft: &DraftLead<'_>,
    ends: &Ends<'_>,
    rules: RuleSet,
    library: &Library,
    findings: &mut Findings,
) -> Option<Lead> {
    let DraftLead {
        file,
        at,
        plug: plug_use,
        plug_at,
    } = draft;
    let name = &file.name;
    let from = start(file, ends, at, findings);
    let end = end(file, ends, at, findings);
    let plug_part = resolve(plug_use, plug_at, library, findings);
    let cable_part = resolve(&file.cable, &at.key("cable"), library, findings);
    if let (Some(LeadStart::Socket(socket)), Some(part), Some(unit)) =
        (&from, &plug_part, ends.unit)
    {
        check_family(socket, &part.family, unit, plug_at, findings);
    }
    if file.cables == 0 {
        findings.error(&at.key("cables"), "0", "1 or more");
    }
    let length = file.length.as_ref().map(|length| {
        let what = format!("length of the {name}");
        findings.measure(length, &at.key("length"), &what, Range::RUN)
    });
    let beyond = file.beyond.as_ref().map(|beyond| {
        let what = format!("run of the {name} beyond its exit");
        findings.plain(beyond, &at.key("beyond"), &what, Range::RUN)
    });
    let lumps: Vec<Lump> = file
        .lumps
        .iter()
        .enumerate()
        .map(|(index, file)| lump(file, name, &at.key("lumps").item(index), findings))
        .collect();
    let through = through(file, at, findings);
    let (slack, service_reach) = loose_ends(file, at, findings);
    let turn_plus_minus = findings.plain_or(
        file.turn_plus_minus.as_ref(),
        &at.key("turn_plus_minus"),
        &format!("± of the turn of the {name}"),
        Range::ROOM,
        3.0,
    );
    let plug = plug_part.and_then(|part| plug(&part, name, plug_at, findings));
    let cable = cable_part.and_then(|part| {
        let at = at.key("cable");
        cable(&part, turn_plus_minus, rules, name, &at, findings)
    });
    Some(Lead {
        id: file.id.clone(),
        name: name.clone(),
        from: from?,
        plug: plug?,
        cable: cable?,
        cables: file.cables,
        length,
        end: end?,
        beyond,
        lumps,
        through,
        slack,
        service_reach,
    })
}

/// The socket it plugs into, or the module that carries it.
fn start(
    file: &LeadFile,
    ends: &Ends<'_>,
    at: &Field,
    findings: &mut Findings,
) -> Option<LeadStart> {
    match (&file.socket, &file.module) {
        (Some(socket), None) => {
            if let Some(unit) = ends.unit {
                let sockets: Vec<&str> = unit.sockets.iter().map(|s| s.id.as_str()).collect();
                if !sockets.contains(&socket.as_str()) {
                    let (found, allowed) = not_among(socket, &sockets, "socket");
                    let found = format!("{found}, on the {}", unit.name);
                    findings.error(&at.key("socket"), found, allowed);
                    return None;
                }
            }
            Some(LeadStart::Socket(socket.clone()))
        }
        (None, Some(module)) => {
            let known = ends.modules.iter().copied();
            check_known(module, known, "module", &at.key("module"), findings)
                .then(|| LeadStart::Module(module.clone()))
        }
        (socket, _) => {
            let found = if socket.is_some() {
                "socket and module"
            } else {
                "neither socket nor module"
            };
            findings.error(at, found, "exactly one of socket, module");
            None
        }
    }
}

/// A socket takes plugs of its own family.
fn check_family(socket: &str, family: &str, unit: &UnitPart, at: &Field, findings: &mut Findings) {
    let Some(socket) = unit.sockets.iter().find(|known| known.id == socket) else {
        return;
    };
    if socket.family != family {
        findings.error(
            at,
            format!("a plug of family {} in the {}", quoted(family), socket.name),
            format!("a plug of family {}", quoted(&socket.family)),
        );
    }
}

/// Where it ends: exactly one of the three.
fn end(file: &LeadFile, ends: &Ends<'_>, at: &Field, findings: &mut Findings) -> Option<LeadEnd> {
    let at = at.key("end");
    let places = [
        ("exit", "exit", &file.end.exit, &ends.exits),
        ("module", "module", &file.end.module, &ends.modules),
        (
            "factory_plug",
            "factory plug",
            &file.end.factory_plug,
            &ends.factory_plugs,
        ),
    ];
    let given: Vec<_> = places.iter().filter(|place| place.2.is_some()).collect();
    let [(key, word, Some(id), known)] = given[..] else {
        let found: Vec<&str> = given.iter().map(|place| place.0).collect();
        let found = if found.is_empty() {
            "no end".to_owned()
        } else {
            found.join(" and ")
        };
        findings.error(&at, found, "exactly one of exit, module, factory_plug");
        return None;
    };
    let at = at.key(key);
    if !check_known(id, known.iter().copied(), word, &at, findings) {
        return None;
    }
    if *key == "module" && file.module.as_ref() == Some(id) {
        findings.error(
            &at,
            format!("the module {} that carries it", quoted(id)),
            "another place",
        );
        return None;
    }
    let id = id.clone();
    Some(match *key {
        "exit" => LeadEnd::Exit(id),
        "module" => LeadEnd::Module(id),
        _ => LeadEnd::FactoryPlug(id),
    })
}

fn lump(file: &LumpFile, lead: &str, at: &Field, findings: &mut Findings) -> Lump {
    let name = &file.name;
    let size = three(
        &file.size,
        &at.key("size"),
        &format!("size of the {name} of the {lead}"),
        Range::SIZE,
        findings,
    );
    Lump {
        name: name.clone(),
        size: DVec3::from_array(size.map(|side| side.value())),
        at: findings.plain(
            &file.at,
            &at.key("at"),
            &format!("place of the {name} of the {lead}"),
            Range::RUN,
        ),
    }
}

/// More points than this are a route drawn by hand, for which no search is needed.
const MOST_POINTS: usize = 6;

/// The points it is to pass.
fn through(file: &LeadFile, at: &Field, findings: &mut Findings) -> Vec<DVec3> {
    let at = at.key("through");
    let name = &file.name;
    let points: Vec<DVec3> = (file.through.iter().enumerate())
        .map(|(index, written)| {
            let what = format!("point the {name} passes");
            point(written, &at.item(index), &what, findings)
        })
        .collect();
    if points.len() > MOST_POINTS {
        let found = format!("{} points", points.len());
        findings.error(&at, found, format!("up to {MOST_POINTS} points"));
    }
    for (index, pair) in points.windows(2).enumerate() {
        if pair[0] == pair[1] {
            findings.error(
                &at.item(index + 1),
                "the same point once more",
                "another point than the one before",
            );
        }
    }
    points
}

/// What becomes of its slack, and whether it must reach with the unit held out.
fn loose_ends(file: &LeadFile, at: &Field, findings: &mut Findings) -> (Slack, ServiceReach) {
    let name = &file.name;
    let slack = Slack {
        goes: file.slack.goes.into(),
        joint_waste: findings.plain_or(
            file.slack.joint_waste.as_ref(),
            &at.key("slack").key("joint_waste"),
            &format!("joint waste of the {name}"),
            Range::ROOM,
            0.0,
        ),
    };
    let service_reach = ServiceReach {
        pull_out: findings.plain_or(
            file.service_reach.pull_out.as_ref(),
            &at.key("service_reach").key("pull_out"),
            &format!("pull-out of the {name}"),
            Range::ROOM,
            120.0,
        ),
        required: file.service_reach.required,
    };
    (slack, service_reach)
}

//! Random edits of a job, of every kind there is.

use profiles::Length;
use profiles::schema::*;
use seatwell::desk::document::Gesture;
use seatwell::desk::edit::{Edit, ListEdit};
use seatwell::desk::loom_edit::LoomEdit;
use seatwell::desk::pin_edit::PinEdit;

use crate::chance::Chance;

/// How many kinds of edit there are.
pub const KINDS: usize = 23;

/// A random edit of this job, and the gesture it belongs to.
pub fn random_edit(job: &JobFile, chance: &mut Chance) -> (Edit, Option<Gesture>) {
    let kind = chance.below(KINDS);
    let gesture = (chance.below(3) == 0).then(|| Gesture(chance.below(3) as u64));
    (edit_of_kind(kind, job, chance), gesture)
}

/// A random edit of one kind.
pub fn edit_of_kind(kind: usize, job: &JobFile, chance: &mut Chance) -> Edit {
    let cavity = &job.cavity;
    match kind {
        0 => Edit::Name(words(chance)),
        1 => Edit::ProudLimit((chance.below(4) > 0).then(|| chance.below(80) as f64 / 8.0)),
        2 => Edit::BendRules(if chance.below(2) == 0 {
            BendRules::Published
        } else {
            BendRules::Shop
        }),
        3 => Edit::Opening(OpeningFile {
            width: length(chance),
            height: length(chance),
            corner_radius: maybe_length(chance),
        }),
        4 => {
            let mut frame = cavity.clone();
            frame.seat_plane = maybe_length(chance);
            frame.clear = maybe_length(chance);
            frame.slide_gap = maybe_length(chance);
            frame.closed = chance.below(2) == 0;
            frame.slide_dip_deg = chance.below(20) as f64 - 10.0;
            frame.face_rake.top_in_deg = chance.below(20) as f64 / 3.0;
            Edit::Cavity(Box::new(frame))
        }
        5 => {
            let mut stations = cavity.stations.clone();
            swap_two(&mut stations, chance);
            if let Some(station) = stations.first_mut() {
                station.at = length(chance);
                station.left = maybe_length(chance);
            }
            Edit::Stations(stations)
        }
        6 => Edit::Obstacle(in_list(&cavity.obstacles, chance, |it, chance| {
            it.name = words(chance);
            it.clear = maybe_length(chance);
            if let Some(block) = &mut it.block {
                block.depth = [length(chance), length(chance)];
                block.turned_deg[2] = chance.below(90) as f64;
            }
        })),
        7 => Edit::Exit(in_list(&cavity.exits, chance, |it, chance| {
            it.id = id(chance);
            it.centre[0] = length(chance);
            it.diameter = maybe_length(chance);
        })),
        8 => Edit::Space(in_list(&cavity.spaces, chance, |it, chance| {
            it.size[1] = length(chance);
            it.run = length(chance);
        })),
        9 => Edit::Pocket(in_list(&cavity.pockets, chance, |it, chance| {
            it.block.up = [length(chance), length(chance)];
        })),
        10 => Edit::Unit(part(job.unit.base(), "chassis.depth", chance)),
        11 => Edit::Mount(part(job.mount.base(), "setback", chance)),
        12 => Edit::Lead(in_list(&job.leads, chance, |it, chance| {
            it.name = words(chance);
            it.length = maybe_length(chance);
            it.end.exit = Some(id(chance));
            it.end.module = None;
        })),
        13 => Edit::Module(in_list(&job.modules, chance, |it, chance| {
            it.notes = words(chance);
            it.lead_length = maybe_length(chance);
        })),
        14 => Edit::Loom(exit(job, chance), LoomEdit::Wrap(wrap(chance))),
        15 => {
            let leads = &job.leads;
            let some = leads.iter().filter(|_| chance.below(2) == 0);
            let taped: Vec<String> = some.map(|lead| lead.id.clone()).collect();
            let loom = match (chance.below(2), taped.first()) {
                (0, Some(lead)) => LoomEdit::Untape(lead.clone()),
                _ => LoomEdit::Tape(taped, wrap(chance)),
            };
            Edit::Loom(exit(job, chance), loom)
        }
        16 => {
            let mut obstacles = cavity.obstacles.clone();
            swap_two(&mut obstacles, chance);
            Edit::Obstacles(obstacles)
        }
        17 => Edit::FactoryPlug(in_list(&cavity.factory_plugs, chance, |it, chance| {
            it.name = words(chance);
            it.at[1] = length(chance);
        })),
        18 if job.trims.is_empty() => Edit::Trim(ListEdit::add(notch(chance))),
        18 => Edit::Trim(in_list(&job.trims, chance, |it, chance| {
            it.along = [length(chance), length(chance)];
            it.locked = chance.below(2) == 0;
        })),
        19 => Edit::Trims((0..chance.below(3)).map(|_| notch(chance)).collect()),
        20 => {
            let mut cutting = job.cutting.clone();
            cutting.edge_trim = maybe_length(chance);
            cutting.ask_agreed = chance.below(2) == 0;
            Edit::Cutting(Box::new(cutting))
        }
        21 => {
            let at = chance.below(job.leads.len() + 1);
            let lead = job.leads.get(at);
            let point = [length(chance), length(chance), length(chance)];
            let edit = match chance.below(3) {
                0 => PinEdit::Remove(chance.below(3)),
                1 => PinEdit::Move(chance.below(3), point),
                _ => PinEdit::Add(chance.below(3), point),
            };
            Edit::Through(
                lead.map_or_else(|| id(chance), |lead| lead.id.clone()),
                edit,
            )
        }
        _ => {
            let mut whole = job.clone();
            whole.notes = words(chance);
            swap_two(&mut whole.alternatives, chance);
            swap_two(&mut whole.leads, chance);
            Edit::Everything(Box::new(whole))
        }
    }
}

/// The kind of an edit, from 0: every kind has its own, or this does not compile.
pub fn kind_of(edit: &Edit) -> usize {
    match edit {
        Edit::Name(_) => 0,
        Edit::ProudLimit(_) => 1,
        Edit::BendRules(_) => 2,
        Edit::Opening(_) => 3,
        Edit::Cavity(_) => 4,
        Edit::Stations(_) => 5,
        Edit::Obstacle(_) => 6,
        Edit::Exit(_) => 7,
        Edit::Space(_) => 8,
        Edit::Pocket(_) => 9,
        Edit::Unit(_) => 10,
        Edit::Mount(_) => 11,
        Edit::Lead(_) => 12,
        Edit::Module(_) => 13,
        Edit::Loom(_, LoomEdit::Wrap(_)) => 14,
        Edit::Loom(_, LoomEdit::Tape(..) | LoomEdit::Untape(_)) => 15,
        Edit::Obstacles(_) => 16,
        Edit::FactoryPlug(_) => 17,
        Edit::Trim(_) => 18,
        Edit::Trims(_) => 19,
        Edit::Cutting(_) => 20,
        Edit::Through(..) => 21,
        Edit::Everything(_) => 22,
    }
}

fn notch(chance: &mut Chance) -> TrimFile {
    TrimFile {
        rib: ["R1", "R2"][chance.below(2)].to_owned(),
        edge: [EdgeFile::Lower, EdgeFile::Far][chance.below(2)],
        along: [length(chance), length(chance)],
        depth: length(chance),
        radius: maybe_length(chance),
        locked: chance.below(2) == 0,
        doubler: None,
    }
}

/// Sets, adds or takes out something of a list.
fn in_list<T: Clone>(
    list: &[T],
    chance: &mut Chance,
    change: impl Fn(&mut T, &mut Chance),
) -> ListEdit<T> {
    let at = chance.below(list.len() + 1);
    let Some(item) = list.get(at) else {
        return ListEdit::Remove(at);
    };
    let mut item = item.clone();
    change(&mut item, chance);
    match chance.below(6) {
        0 if list.len() > 1 => ListEdit::Remove(at),
        1 if list.len() < 40 => ListEdit::add(item),
        _ => ListEdit::set(at, item),
    }
}

fn part<T>(base: Option<&str>, field: &str, chance: &mut Chance) -> PartUse<T> {
    let base = base.unwrap_or("full_depth").to_owned();
    if chance.below(4) == 0 {
        return PartUse::Named(base);
    }
    let value = length(chance).as_written().to_owned();
    PartUse::Changed {
        base,
        with: [(field.to_owned(), value)].into(),
    }
}

fn wrap(chance: &mut Chance) -> Option<PartUse<WrapPart>> {
    (chance.below(3) > 0).then(|| PartUse::Named("pvc_tape".to_owned()))
}

fn exit(job: &JobFile, chance: &mut Chance) -> String {
    let exits = &job.cavity.exits;
    let at = chance.below(exits.len() + 1);
    exits
        .get(at)
        .map_or_else(|| id(chance), |exit| exit.id.clone())
}

fn swap_two<T>(list: &mut [T], chance: &mut Chance) {
    if list.len() > 1 {
        list.swap(chance.below(list.len()), chance.below(list.len()));
    }
}

fn length(chance: &mut Chance) -> Length {
    let whole = chance.below(300);
    let text = match chance.below(6) {
        0 => format!("{whole},5"),
        1 => format!("{} 3/16", whole % 12),
        2 => format!("{whole} ± 0.5"),
        3 => format!("? {whole}..{}", whole + 40),
        4 => format!("{whole} - 6"),
        _ => whole.to_string(),
    };
    Length::parse(&text).unwrap_or_else(|_| Length::mm(whole as f64))
}

fn maybe_length(chance: &mut Chance) -> Option<Length> {
    (chance.below(3) > 0).then(|| length(chance))
}

fn words(chance: &mut Chance) -> String {
    let all = [
        "rib",
        "beam: left",
        "Ø 12 \"bar\"",
        "duct\nlower",
        "",
        "loom #2",
        "möbel",
    ];
    let at = chance.below(all.len());
    format!("{} {}", all[at], chance.below(20))
}

fn id(chance: &mut Chance) -> String {
    ["left", "right", "up_left", "elsewhere"][chance.below(4)].to_owned()
}

//! A second one of a thing: the same with a name of its own, a little beside it.

use profiles::Length;
use profiles::length::as_millimetres;
use profiles::schema::{
    BoxFile, ExitFile, FactoryPlugFile, LeadFile, ModuleFile, ObstacleFile, PocketFile, SpaceFile,
    StationFile, TabFile,
};

use super::Card;
use super::list::free_id;
use super::new_lead::{free_sockets, new_lead};
use crate::desk::edit::Target;

/// Room between a thing and its copy, mm.
const BESIDE: f64 = 5.0;

/// A name not yet taken: `rib`, `rib 2`, `rib 3`.
fn free_name<'a>(name: &str, taken: impl Iterator<Item = &'a str> + Clone) -> String {
    let bare = name
        .trim_end_matches(|c: char| c.is_ascii_digit())
        .trim_end();
    let bare = if bare.is_empty() { name } else { bare };
    (2..)
        .map(|number| format!("{bare} {number}"))
        .find(|next| !taken.clone().any(|other| other == next))
        .unwrap_or_else(|| name.to_owned())
}

/// An id not yet taken, of the same word.
fn next_id<'a>(id: &str, taken: impl Iterator<Item = &'a str> + Clone) -> String {
    free_id(id.trim_end_matches(|c: char| c.is_ascii_digit()), taken)
}

/// A length further on by so many mm; one that was not measured stays so.
fn further(length: &Length, by: f64) -> Length {
    let Some(measure) = length.measure().filter(|measure| measure.is_measured()) else {
        return length.clone();
    };
    let value = as_millimetres(measure.value() + by);
    let text = match measure.plus_minus() {
        0.0 => value,
        plus_minus => format!("{value} ± {plus_minus}"),
    };
    Length::parse(&text).unwrap_or_else(|_| length.clone())
}

/// How far apart two faces are, mm.
fn between(pair: &[Length; 2]) -> f64 {
    let [low, high] = [0, 1].map(|end| {
        let measure = pair[end].measure();
        measure.map_or(0.0, |measure| measure.value())
    });
    (high - low).abs()
}

/// Two faces further on by so many mm.
fn moved(pair: &[Length; 2], by: f64) -> [Length; 2] {
    [further(&pair[0], by), further(&pair[1], by)]
}

/// A box above another.
fn above(block: &BoxFile) -> BoxFile {
    BoxFile {
        up: moved(&block.up, between(&block.up) + BESIDE),
        ..block.clone()
    }
}

pub fn obstacle(all: &[ObstacleFile], at: usize) -> Option<(ObstacleFile, Target)> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    copy.block = copy.block.as_ref().map(above);
    if let Some(bar) = &mut copy.cylinder {
        let diameter = bar.diameter.measure().map_or(0.0, |od| od.value());
        for end in [&mut bar.from, &mut bar.to] {
            end[2] = further(&end[2], diameter + BESIDE);
        }
    }
    if let Some(pushed) = &mut copy.outline {
        pushed.along = moved(&pushed.along, between(&pushed.along) + BESIDE);
    }
    let target = Target::Obstacle(copy.id.clone());
    Some((copy, target))
}

pub fn exit(all: &[ExitFile], at: usize) -> Option<(ExitFile, Target)> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    let size = copy.diameter.as_ref().or(copy.height.as_ref());
    let size = size.and_then(Length::measure).map_or(0.0, |it| it.value());
    copy.centre[2] = further(&copy.centre[2], size + BESIDE);
    let target = Target::Exit(copy.id.clone());
    Some((copy, target))
}

pub fn space(all: &[SpaceFile], at: usize) -> Option<(SpaceFile, Target)> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    let target = Target::Space(copy.id.clone());
    Some((copy, target))
}

pub fn pocket(all: &[PocketFile], at: usize) -> Option<(PocketFile, Target)> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    copy.block = above(&copy.block);
    let target = Target::Pocket(copy.id.clone());
    Some((copy, target))
}

pub fn factory_plug(all: &[FactoryPlugFile], at: usize) -> Option<(FactoryPlugFile, Target)> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    let largest = (copy.size.iter().filter_map(Length::measure))
        .map(|size| size.value())
        .fold(0.0, f64::max);
    copy.at[2] = further(&copy.at[2], largest + BESIDE);
    let target = Target::FactoryPlug(copy.id.clone());
    Some((copy, target))
}

pub fn module(all: &[ModuleFile], at: usize) -> Option<(ModuleFile, Target)> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    copy.pinned = copy.pinned.as_ref().map(above);
    let target = Target::Module(copy.id.clone());
    Some((copy, target))
}

pub fn tab(all: &[TabFile], at: usize) -> Option<TabFile> {
    let mut copy = all.get(at)?.clone();
    copy.id = next_id(&copy.id, all.iter().map(|other| other.id.as_str()));
    copy.name = free_name(&copy.name, all.iter().map(|other| other.name.as_str()));
    copy.up = moved(&copy.up, between(&copy.up) + BESIDE);
    Some(copy)
}

/// A second lead of the same make, in the first free socket that takes its
/// plug, or else in any free one with the plug that goes there.
pub fn lead(card: &Card, at: usize) -> Option<(LeadFile, Target)> {
    let lead = card.job.leads.get(at)?;
    let sockets = free_sockets(card);
    let job = card.model.job.as_ref()?;
    let family = (job.unit.sockets.iter())
        .find(|socket| lead.socket.as_ref() == Some(&socket.id))
        .map(|socket| socket.family.as_str());
    let same = (sockets.iter()).find(|socket| Some(socket.family.as_str()) == family);
    let socket = same.or(sockets.first())?;
    let made = new_lead(card, socket, None)?;
    let plug = if same.is_some() {
        lead.plug.clone()
    } else {
        made.plug
    };
    let copy = LeadFile {
        id: made.id,
        name: free_name(
            &lead.name,
            card.job.leads.iter().map(|other| other.name.as_str()),
        ),
        socket: made.socket,
        module: None,
        plug,
        ..lead.clone()
    };
    let target = Target::Lead(copy.id.clone());
    Some((copy, target))
}

/// A section between this one and the next, or 40 mm behind the last.
pub fn station(all: &[StationFile], at: usize) -> Option<StationFile> {
    const BEYOND: f64 = 40.0;
    let mut copy = all.get(at)?.clone();
    let depth = |at: usize| all.get(at)?.at.measure().map(|depth| depth.value());
    let by = match (depth(at), depth(at + 1)) {
        (Some(here), Some(next)) => 0.5 * (next - here),
        _ => BEYOND,
    };
    copy.at = further(&copy.at, by);
    Some(copy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_ids_go_on_counting() {
        let taken = ["rib", "rib 2", "beam"];
        assert_eq!(free_name("rib", taken.into_iter()), "rib 3");
        assert_eq!(free_name("rib 2", taken.into_iter()), "rib 3");
        assert_eq!(next_id("R1", ["R1", "R2"].into_iter()), "R3");
    }

    #[test]
    fn a_copy_lies_beside_its_model() {
        let up = [-10.0, 10.0].map(Length::mm);
        let depth = ["218 ± 2", "? 220..240"].map(|text| Length::parse(text).unwrap());
        let block = BoxFile {
            across: up.clone(),
            depth: depth.clone(),
            up,
            turned_deg: [0.0; 3],
        };
        let copy = above(&block);
        assert_eq!(copy.up, [15.0, 35.0].map(Length::mm));
        assert_eq!(moved(&depth, 4.0)[0].as_written(), "222 ± 2");
        assert_eq!(moved(&depth, 4.0)[1], depth[1]);
    }
}

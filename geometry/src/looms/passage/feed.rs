//! Leads fed through a hole one after another, plug first.

use glam::DVec2;

use super::gauge::{Lie, Thing};
use super::hole::Hole;
use super::room::Room;
use super::settle::settle;
use super::stands;
use crate::packing::{Effort, PackedCircle};

/// Halvings by which it is found how much smaller a plug would have to be.
const HALVINGS: usize = 8;

/// A lead that is to go through a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedThrough {
    /// Its id.
    pub id: String,
    /// Its cables, mm.
    pub cables: Vec<f64>,
    /// Width and height of the end that goes first, mm; `None` = bare cable.
    pub plug: Option<[f64; 2]>,
    /// Width and height of each of its lumps, mm.
    pub lumps: Vec<[f64; 2]>,
}

/// Whether lumps may be in the hole together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lumps {
    /// One at a time: each passes beside cables only.
    Staggered,
    /// They end up in the hole all at once.
    Together,
}

/// How leads go through a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Feeding {
    /// Every head as it goes through, in the order of feeding; up to the one
    /// that is held.
    pub feeds: Vec<Feed>,
    /// What is held, when not everything goes through.
    pub held: Option<Held>,
}

/// One head going through a hole beside the cables fed before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// The lead, by its place in the list.
    pub lead: usize,
    /// What of it.
    pub head: Head,
    /// The head as it goes through; every lump of it when all lie in the hole at
    /// once.
    pub blocks: Vec<PlacedBlock>,
    /// The cables beside it.
    pub cables: Vec<PackedCircle>,
}

/// What of a lead goes through a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Head {
    /// Its plug.
    Plug,
    /// One of its lumps, by its place in its list.
    Lump(usize),
    /// Its cables: what lies in the hole at the end.
    Cables,
    /// Its lumps together with those of all other leads.
    AllLumps,
}

/// A rectangle in its place in a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedBlock {
    /// Width and height, mm.
    pub size: DVec2,
    /// Its middle, mm.
    pub centre: DVec2,
    /// How far its width is turned from the hole's, rad.
    pub turn: f64,
}

/// What does not go through.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The lead, by its place in the list.
    pub lead: usize,
    /// Its id.
    pub id: String,
    /// What of it.
    pub head: Head,
    /// By how many millimetres smaller, in width and in height (or in diameter),
    /// it was found to go through; the truth may be less.
    pub too_large_by: f64,
    /// The leads whose cables were in its way.
    pub beside: Vec<usize>,
}

/// What is laid in a hole at one time.
struct Stage {
    lead: usize,
    head: Head,
    blocks: Vec<DVec2>,
    cables: Vec<f64>,
}

/// An order in which every plug, and after it every lump, goes through a hole
/// beside the cables fed before it: the largest plug first where that works.
///
/// The order is made up from its end: a lead whose heads pass beside the cables
/// of all others can go last, and taking it away only leaves the rest more room.
/// So when an order exists, none is missed, as far as the search for a place in
/// the hole finds every place.
pub fn feed_through(leads: &[FeedThrough], hole: &Hole, lumps: Lumps, effort: Effort) -> Feeding {
    let mut feeding = Feeding {
        feeds: Vec::new(),
        held: None,
    };
    let Some(room) = Room::of(hole) else {
        feeding.held = leads.first().map(|lead| Held {
            lead: 0,
            id: lead.id.clone(),
            head: Head::Cables,
            too_large_by: f64::INFINITY,
            beside: Vec::new(),
        });
        return feeding;
    };
    // Small plugs are the ones to try as the last.
    let mut left: Vec<usize> = (0..leads.len()).collect();
    left.sort_by(|&a, &b| bulk(&leads[a]).total_cmp(&bulk(&leads[b])));
    let mut backward: Vec<Vec<Feed>> = Vec::new();
    while !left.is_empty() {
        let last = (0..left.len()).find_map(|i| {
            let feeds = passes_last(leads, &left, left[i], &room, effort)?;
            Some((i, feeds))
        });
        let Some((i, feeds)) = last else {
            feeding.held = held(leads, &left, &room, effort);
            break;
        };
        left.remove(i);
        backward.push(feeds);
    }
    feeding.feeds = backward.into_iter().rev().flatten().collect();
    if lumps == Lumps::Together && feeding.held.is_none() {
        all_lumps(leads, &room, effort, &mut feeding);
    }
    feeding
}

/// What sorts leads: the area of the plug, then of the lumps.
fn bulk(lead: &FeedThrough) -> f64 {
    let heads = lead.plug.iter().chain(&lead.lumps);
    heads.map(|[w, h]| w * h).fold(0.0, f64::max)
}

/// Every stage of a lead that goes last among some.
fn stages(leads: &[FeedThrough], among: &[usize], last: usize) -> Vec<Stage> {
    let others: Vec<f64> = (among.iter())
        .filter(|&&lead| lead != last)
        .flat_map(|&lead| leads[lead].cables.iter().copied())
        .collect();
    let lead = &leads[last];
    let stage = |head: Head, size: [f64; 2]| Stage {
        lead: last,
        head,
        blocks: vec![DVec2::from_array(size)],
        cables: others.clone(),
    };
    let mut stages: Vec<Stage> = lead
        .plug
        .iter()
        .map(|size| stage(Head::Plug, *size))
        .collect();
    let lumps = lead.lumps.iter().enumerate();
    stages.extend(lumps.map(|(i, size)| stage(Head::Lump(i), *size)));
    stages.push(Stage {
        lead: last,
        head: Head::Cables,
        blocks: Vec::new(),
        cables: others.iter().chain(&lead.cables).copied().collect(),
    });
    stages
}

/// How a lead's heads pass beside the cables of all others among some.
fn passes_last(
    leads: &[FeedThrough],
    among: &[usize],
    last: usize,
    room: &Room,
    effort: Effort,
) -> Option<Vec<Feed>> {
    (stages(leads, among, last).iter())
        .map(|stage| lay(stage, 0.0, room, effort))
        .collect()
}

/// Lays a stage's things in the room, its head smaller by so many mm.
fn lay(stage: &Stage, smaller: f64, room: &Room, effort: Effort) -> Option<Feed> {
    let shrunk = |size: &DVec2| (*size - DVec2::splat(smaller)).max(DVec2::splat(1e-6));
    let sizes: Vec<DVec2> = stage.blocks.iter().map(shrunk).collect();
    let blocks = sizes.iter().map(|size| Thing::Block(0.5 * *size));
    let rounds = (stage.cables.iter())
        .map(|d| {
            if stage.blocks.is_empty() {
                d - smaller
            } else {
                *d
            }
        })
        .filter(|d| d.is_finite() && *d > 0.0)
        .map(|d| Thing::Round(0.5 * d));
    let things: Vec<Thing> = blocks.chain(rounds).collect();
    let (lies, _) = settle(&things, room, 1.0, effort);
    if !stands(&things, &lies, room) {
        return None;
    }
    let (block_lies, round_lies) = lies.split_at(sizes.len());
    let block = |(size, lie): (&DVec2, &Lie)| PlacedBlock {
        size: *size,
        centre: lie.at,
        turn: lie.turn,
    };
    let cable = |(thing, lie): (&Thing, &Lie)| PackedCircle {
        diameter: 2.0 * thing.half(),
        centre: lie.at,
    };
    Some(Feed {
        lead: stage.lead,
        head: stage.head,
        blocks: sizes.iter().zip(block_lies).map(block).collect(),
        cables: things[sizes.len()..]
            .iter()
            .zip(round_lies)
            .map(cable)
            .collect(),
    })
}

/// Of leads none of which can go last, the one that lacks least.
fn held(leads: &[FeedThrough], among: &[usize], room: &Room, effort: Effort) -> Option<Held> {
    let of = |&lead: &usize| {
        let stage = stages(leads, among, lead)
            .into_iter()
            .find(|stage| lay(stage, 0.0, room, effort).is_none())?;
        let beside = among
            .iter()
            .copied()
            .filter(|other| *other != lead)
            .collect();
        Some(Held {
            lead,
            id: leads[lead].id.clone(),
            head: stage.head,
            too_large_by: too_large_by(&stage, room, effort),
            beside,
        })
    };
    (among.iter().filter_map(of)).min_by(|a, b| a.too_large_by.total_cmp(&b.too_large_by))
}

/// How much smaller a stage's head goes through, mm; infinite when the cables
/// beside it do not lie in the hole at all.
fn too_large_by(stage: &Stage, room: &Room, effort: Effort) -> f64 {
    let largest = if stage.blocks.is_empty() {
        stage.cables.iter().copied().fold(0.0, f64::max)
    } else {
        (stage.blocks.iter())
            .map(|size| size.max_element())
            .fold(0.0, f64::max)
    };
    if lay(stage, largest, room, effort).is_none() {
        return f64::INFINITY;
    }
    let (mut low, mut high) = (0.0, largest);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if lay(stage, middle, room, effort).is_some() {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// The largest lump of every lead in the hole at once, beside the cables of
/// leads that have none.
fn all_lumps(leads: &[FeedThrough], room: &Room, effort: Effort, feeding: &mut Feeding) {
    let area = |[w, h]: &[f64; 2]| w * h;
    let lump = |lead: &FeedThrough| {
        let largest = lead.lumps.iter().max_by(|a, b| area(a).total_cmp(&area(b)));
        largest.map(|size| DVec2::from_array(*size))
    };
    let Some(lead) = leads.iter().position(|lead| !lead.lumps.is_empty()) else {
        return;
    };
    let bare = leads.iter().filter(|lead| lead.lumps.is_empty());
    let stage = Stage {
        lead,
        head: Head::AllLumps,
        blocks: leads.iter().filter_map(lump).collect(),
        cables: bare.flat_map(|lead| lead.cables.iter().copied()).collect(),
    };
    match lay(&stage, 0.0, room, effort) {
        Some(feed) => feeding.feeds.push(feed),
        None => {
            feeding.held = Some(Held {
                lead,
                id: leads[lead].id.clone(),
                head: Head::AllLumps,
                too_large_by: too_large_by(&stage, room, effort),
                beside: (0..leads.len()).filter(|other| *other != lead).collect(),
            });
        }
    }
}

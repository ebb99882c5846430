//! `check --json`.

use geometry::looms::Loom;
use geometry::{Fit, Job, Layout, Side, Verdict};
use serde::Serialize;

use super::routed::RoutedAnswer;
use super::{FORMAT, LoomSummary, TabAnswer, TrimAnswer, finite};
use crate::cautions::cautions;
use crate::ranking::Answered;

/// The answer to a job.
#[derive(Debug, Serialize)]
pub struct CheckAnswer {
    format: u32,
    job: String,
    layer: &'static str,
    verdict: &'static str,
    sure: &'static str,
    proof: &'static str,
    /// Absent when the unit does not go through the opening.
    proud_mm: Option<f64>,
    proud_corners_mm: Option<[f64; 4]>,
    proud_range_mm: [Option<f64>; 2],
    proud_lower_bound_mm: f64,
    chain_proud_mm: Option<f64>,
    look_proud_mm: Option<f64>,
    margin_mm: Option<f64>,
    proud_limit_mm: f64,
    unmeasured: Vec<String>,
    stopped_by: Vec<StopAnswer>,
    chain: Vec<ChainAnswer>,
    #[serde(flatten)]
    routed: Option<RoutedAnswer>,
    /// Ribs that the job's own notches cut.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    trims: Vec<TrimAnswer>,
    /// Tabs of the mount that come off.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tabs_off: Vec<TabAnswer>,
    lengths: Vec<LengthAnswer>,
    looms: Vec<LoomSummary>,
    rooms: Vec<RoomAnswer>,
    module_places: Vec<ModulePlaces>,
    hole_pairs: Vec<HolePairAnswer>,
    ready_to_fit: bool,
    not_ready: Vec<String>,
    remarks: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    alternatives: Vec<AlternativeAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    best: Option<String>,
    cautions: Vec<String>,
}

#[derive(Debug, Serialize)]
struct StopAnswer {
    what: &'static str,
    piece: String,
    part: String,
    piece_id: String,
    against: String,
    against_id: String,
    short_mm: f64,
}

#[derive(Debug, Serialize)]
struct ChainAnswer {
    lead: String,
    name: String,
    setback_mm: f64,
    chassis_mm: f64,
    plug_mm: f64,
    turn_mm: f64,
    needed_mm: f64,
    available_mm: Option<f64>,
    margin_mm: Option<f64>,
    margin_plus_minus_mm: f64,
    against: Option<String>,
    against_name: Option<String>,
}

#[derive(Debug, Serialize)]
struct LengthAnswer {
    lead: String,
    length_mm: f64,
    needed_at_least_mm: f64,
    needed_taut_mm: Option<f64>,
    service_reach_short_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct RoomAnswer {
    side: &'static str,
    free_mm: f64,
    against: String,
}

#[derive(Debug, Serialize)]
struct ModulePlaces {
    module: String,
    pinned: bool,
    fits: Vec<PlaceAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    closest_miss: Option<MissAnswer>,
}

#[derive(Debug, Serialize)]
struct PlaceAnswer {
    place: String,
    size_mm: [f64; 3],
    spare_mm: f64,
    lead_short_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct MissAnswer {
    place: String,
    short_mm: f64,
}

#[derive(Debug, Serialize)]
struct HolePairAnswer {
    side: &'static str,
    bracket_hole: String,
    unit_hole: String,
    off_mm: f64,
    lines_up: bool,
}

/// The answer to one alternative of a job.
#[derive(Debug, Serialize)]
pub struct AlternativeAnswer {
    id: String,
    name: String,
    verdict: &'static str,
    sure: &'static str,
    proud_mm: Option<f64>,
    margin_mm: Option<f64>,
    stopped_by: Vec<StopAnswer>,
}

impl AlternativeAnswer {
    /// The answer of an alternative.
    pub fn new(id: &str, name: &str, fit: &Fit) -> AlternativeAnswer {
        AlternativeAnswer {
            id: id.to_owned(),
            name: name.to_owned(),
            verdict: fit.verdict.word(),
            sure: fit.sure.word(),
            proud_mm: fit.proud,
            margin_mm: finite(fit.margin),
            stopped_by: stops(fit),
        }
    }
}

fn stops(fit: &Fit) -> Vec<StopAnswer> {
    fit.stopped_by
        .iter()
        .map(|stop| StopAnswer {
            what: stop.what.word(),
            piece: stop.piece.clone(),
            part: stop.part.clone(),
            piece_id: stop.piece_id.clone(),
            against: stop.against.clone(),
            against_id: stop.against_id.clone(),
            short_mm: stop.short,
        })
        .collect()
}

impl CheckAnswer {
    /// The answer to a job.
    ///
    /// * `looms`: the loom of every exit that a lead leaves by
    /// * `alternatives`: answers to the job's alternatives, and the id of the best of all
    pub fn new(
        job: &Job,
        layout: &Layout,
        answered: &Answered,
        looms: &[Loom],
        alternatives: Vec<AlternativeAnswer>,
        best: Option<String>,
    ) -> CheckAnswer {
        let fit = &answered.fit;
        CheckAnswer {
            format: FORMAT,
            job: job.name.clone(),
            layer: if answered.routed.is_some() {
                "routed"
            } else {
                "chain"
            },
            verdict: fit.verdict.word(),
            sure: fit.sure.word(),
            proof: fit.proof.word(),
            proud_mm: fit.proud,
            proud_corners_mm: fit.proud_corners,
            proud_range_mm: fit.proud_range.map(finite),
            proud_lower_bound_mm: fit.proud_lower_bound,
            chain_proud_mm: answered.quick_proud,
            look_proud_mm: fit.look_proud,
            margin_mm: finite(fit.margin),
            proud_limit_mm: job.proud_limit,
            unmeasured: fit.unmeasured.clone(),
            stopped_by: stops(fit),
            chain: fit.chain.iter().map(chain).collect(),
            routed: answered.routed.as_ref().map(RoutedAnswer::new),
            trims: TrimAnswer::all(job),
            tabs_off: TabAnswer::all(job),
            lengths: fit.lengths.iter().map(length).collect(),
            looms: looms.iter().map(LoomSummary::new).collect(),
            rooms: fit.rooms.iter().map(room).collect(),
            module_places: fit.modules.iter().map(places).collect(),
            hole_pairs: fit.hole_pairs.iter().map(pair).collect(),
            ready_to_fit: fit.not_ready.is_empty() && fit.verdict != Verdict::Blocked,
            not_ready: fit.not_ready.clone(),
            remarks: fit.remarks.clone(),
            alternatives,
            best,
            cautions: cautions(job, layout, fit)
                .into_iter()
                .map(|caution| format!("{}: {}", caution.title, caution.text))
                .collect(),
        }
    }
}

fn length(lead: &geometry::LeadLength) -> LengthAnswer {
    LengthAnswer {
        lead: lead.lead.clone(),
        length_mm: lead.length,
        needed_at_least_mm: lead.at_least,
        needed_taut_mm: lead.taut,
        service_reach_short_mm: lead.reach.map(|reach| reach.short_by),
    }
}

fn chain(link: &geometry::ChainLink) -> ChainAnswer {
    ChainAnswer {
        lead: link.lead.clone(),
        name: link.name.clone(),
        setback_mm: link.setback,
        chassis_mm: link.chassis,
        plug_mm: link.plug,
        turn_mm: link.turn,
        needed_mm: link.needed,
        available_mm: link.available,
        margin_mm: link.margin,
        margin_plus_minus_mm: link.margin_plus_minus,
        against: link.against.clone(),
        against_name: link.against_name.clone(),
    }
}

fn room(room: &geometry::Room) -> RoomAnswer {
    RoomAnswer {
        side: side(room.side),
        free_mm: room.free,
        against: room.against_name.clone(),
    }
}

fn side(side: Side) -> &'static str {
    side.word()
}

fn places(module: &geometry::ModuleRoom) -> ModulePlaces {
    ModulePlaces {
        module: module.module.clone(),
        pinned: module.pinned,
        fits: module
            .fits
            .iter()
            .map(|fit| PlaceAnswer {
                place: fit.place.clone(),
                size_mm: fit.size.to_array(),
                spare_mm: fit.spare,
                lead_short_mm: fit.lead_short,
            })
            .collect(),
        closest_miss: module
            .closest_miss
            .as_ref()
            .map(|(place, short)| MissAnswer {
                place: place.clone(),
                short_mm: *short,
            }),
    }
}

fn pair(pair: &geometry::HolePair) -> HolePairAnswer {
    HolePairAnswer {
        side: side(pair.side),
        bracket_hole: pair.bracket_hole.clone(),
        unit_hole: pair.unit_hole.clone(),
        off_mm: pair.off,
        lines_up: pair.lines_up,
    }
}

//! `loom --json`, and the looms of `check --json`.

use geometry::looms::{Cutter, Loom, Passes, WhyNot, next_grommet};
use geometry::packing::Packing;
use geometry::rule_of_thumb;
use serde::Serialize;

use crate::figures::Figures;
use crate::words::looms as words;

/// Cables given by their diameters, laid up as one round.
#[derive(Debug, Serialize)]
pub struct PackingAnswer {
    diameter_mm: f64,
    rule_of_thumb_mm: f64,
    circles: Vec<CircleAnswer>,
}

#[derive(Debug, Serialize)]
struct CircleAnswer {
    od_mm: f64,
    centre: [f64; 2],
}

impl PackingAnswer {
    /// The answer to a packing.
    pub fn new(packing: &Packing) -> PackingAnswer {
        let diameters: Vec<f64> = packing.circles.iter().map(|it| it.diameter).collect();
        PackingAnswer {
            diameter_mm: packing.diameter,
            rule_of_thumb_mm: rule_of_thumb(&diameters),
            circles: (packing.circles.iter())
                .map(|circle| CircleAnswer {
                    od_mm: circle.diameter,
                    centre: circle.centre.to_array(),
                })
                .collect(),
        }
    }
}

/// The loom of one exit in a few figures.
#[derive(Debug, Serialize)]
pub struct LoomSummary {
    exit: String,
    leads: Vec<String>,
    diameter_mm: f64,
    fill: f64,
}

impl LoomSummary {
    /// Of a loom.
    pub fn new(loom: &Loom) -> LoomSummary {
        LoomSummary {
            exit: loom.exit.clone(),
            leads: (words::members(loom).iter())
                .map(|member| member.lead.to_owned())
                .collect(),
            diameter_mm: loom.diameter,
            fill: loom.fill,
        }
    }
}

/// The looms of a job.
#[derive(Debug, Serialize)]
pub struct LoomsAnswer {
    looms: Vec<LoomAnswer>,
}

impl LoomsAnswer {
    /// Of all its looms.
    pub fn new(looms: &[Loom]) -> LoomsAnswer {
        LoomsAnswer {
            looms: looms.iter().map(LoomAnswer::new).collect(),
        }
    }
}

#[derive(Debug, Serialize)]
struct LoomAnswer {
    #[serde(flatten)]
    summary: LoomSummary,
    name: String,
    bare_mm: f64,
    wrap_mm: f64,
    rule_of_thumb_mm: f64,
    /// `yes`, `no`, or `not_found` when neither a way nor a proof was found.
    passes: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    why_not: Option<&'static str>,
    says: String,
    growth: f64,
    bend: BendAnswer,
    thickest: ThickestAnswer,
    next_hole_mm: Option<f64>,
    next_hole_cutter: Option<&'static str>,
    next_grommet_bore_mm: Option<f64>,
    next_grommet_hole_mm: Option<f64>,
    strands: Vec<StrandAnswer>,
    tapes: Vec<TapeAnswer>,
}

#[derive(Debug, Serialize)]
struct BendAnswer {
    centreline_mm: f64,
    inside_mm: f64,
    lead: String,
}

#[derive(Debug, Serialize)]
struct ThickestAnswer {
    as_they_lie_mm: f64,
    staggered_mm: f64,
    together_mm: f64,
}

#[derive(Debug, Serialize)]
struct StrandAnswer {
    lead: String,
    name: String,
    od_mm: f64,
    centre: [f64; 2],
    #[serde(skip_serializing_if = "Option::is_none")]
    tape: Option<usize>,
}

#[derive(Debug, Serialize)]
struct TapeAnswer {
    name: String,
    leads: Vec<String>,
    diameter_mm: f64,
    wrap_mm: f64,
    centre: [f64; 2],
}

fn why_word(why: WhyNot) -> &'static str {
    match why {
        WhyNot::NoHole => "no_hole",
        WhyNot::TooThick { .. } => "too_thick",
        WhyNot::Areas { .. } => "areas",
        WhyNot::TwoLargest { .. } => "two_largest",
        WhyNot::SoManyAlike { .. } => "so_many_alike",
    }
}

impl LoomAnswer {
    fn new(loom: &Loom) -> LoomAnswer {
        let (passes, why_not) = match loom.at_exit.verdict {
            Passes::Yes => ("yes", None),
            Passes::No(why) => ("no", Some(why_word(why))),
            Passes::NotFound => ("not_found", None),
        };
        let grommet = next_grommet(loom.diameter);
        LoomAnswer {
            summary: LoomSummary::new(loom),
            name: loom.name.clone(),
            bare_mm: loom.bare,
            wrap_mm: loom.wrap,
            rule_of_thumb_mm: loom.rule_of_thumb,
            passes,
            why_not,
            says: words::passes(loom, Figures::Millimetres),
            growth: loom.at_exit.growth,
            bend: BendAnswer {
                centreline_mm: loom.bend.centreline,
                inside_mm: loom.bend.inside,
                lead: loom.bend.lead.clone(),
            },
            thickest: ThickestAnswer {
                as_they_lie_mm: loom.thickest.as_they_lie,
                staggered_mm: loom.thickest.staggered,
                together_mm: loom.thickest.together,
            },
            next_hole_mm: loom.next_hole.map(|hole| hole.diameter),
            next_hole_cutter: loom.next_hole.map(|hole| match hole.cutter {
                Cutter::Drill => "drill",
                Cutter::HoleSaw => "hole_saw",
            }),
            next_grommet_bore_mm: grommet.map(|grommet| grommet.bore),
            next_grommet_hole_mm: grommet.map(|grommet| grommet.panel_hole),
            strands: (loom.strands.iter())
                .map(|strand| StrandAnswer {
                    lead: strand.lead.clone(),
                    name: strand.name.clone(),
                    od_mm: strand.diameter,
                    centre: strand.centre.to_array(),
                    tape: strand.tape,
                })
                .collect(),
            tapes: (loom.tapes.iter())
                .map(|tape| TapeAnswer {
                    name: tape.name.clone(),
                    leads: tape.leads.clone(),
                    diameter_mm: tape.diameter,
                    wrap_mm: tape.wrap,
                    centre: tape.centre.to_array(),
                })
                .collect(),
        }
    }
}

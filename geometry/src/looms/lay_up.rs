//! The leads of a loom in their places.

use glam::DVec2;

use super::gather::Bundle;
use super::{Strand, Tape};
use crate::job::Lead;
use crate::packing::{Effort, pack};

/// Leads and tapes in their places, nothing round them yet.
pub(super) struct Laid {
    /// The circle around all, mm.
    pub bare: f64,
    pub strands: Vec<Strand>,
    pub tapes: Vec<Tape>,
}

impl Laid {
    /// Diameters of what lies in the loom as one round each, mm: tapes, and
    /// strands in no tape.
    pub fn outer(&self) -> Vec<f64> {
        let tapes = self.tapes.iter().map(|tape| tape.diameter);
        let loose = (self.strands.iter())
            .filter(|strand| strand.tape.is_none())
            .map(|strand| strand.diameter);
        tapes.chain(loose).collect()
    }
}

/// Packs what is taped, wraps it, and packs that with the rest.
///
/// * `rounds`: diameters that a lead brings into the loom, mm
pub(super) fn lay_up(bundle: &Bundle, rounds: &dyn Fn(&Lead) -> Vec<f64>, effort: Effort) -> Laid {
    let mut laid = Laid {
        bare: 0.0,
        strands: Vec::new(),
        tapes: Vec::new(),
    };
    for taped in bundle.taped() {
        let here = |lead: &&Lead| taped.leads.contains(&lead.id);
        let leads: Vec<&Lead> = bundle.leads.iter().copied().filter(here).collect();
        let index = laid.tapes.len();
        let strands = strands(&leads, rounds, Some(index));
        if strands.is_empty() {
            continue;
        }
        let (strands, inner) = packed(strands, effort);
        laid.tapes.push(Tape {
            name: taped.name.clone(),
            leads: leads.iter().map(|lead| lead.id.clone()).collect(),
            diameter: inner + 2.0 * taped.wrap,
            wrap: taped.wrap,
            centre: DVec2::ZERO,
        });
        laid.strands.extend(strands);
    }
    let taped = |lead: &&Lead| laid.tapes.iter().any(|tape| tape.leads.contains(&lead.id));
    let loose: Vec<&Lead> = (bundle.leads.iter().copied())
        .filter(|lead| !taped(lead))
        .collect();
    laid.strands.extend(strands(&loose, rounds, None));
    place(&mut laid, effort);
    laid
}

/// The strands of some leads, all at the origin.
fn strands(
    leads: &[&Lead],
    rounds: &dyn Fn(&Lead) -> Vec<f64>,
    tape: Option<usize>,
) -> Vec<Strand> {
    let strand = |lead: &Lead, diameter: f64| Strand {
        lead: lead.id.clone(),
        name: lead.name.clone(),
        diameter,
        centre: DVec2::ZERO,
        tape,
    };
    (leads.iter())
        .flat_map(|lead| {
            let rounds = rounds(lead);
            rounds.into_iter().map(move |d| strand(lead, d))
        })
        .filter(|strand| strand.diameter.is_finite() && strand.diameter > 0.0)
        .collect()
}

/// Strands packed about the origin, and the diameter of the circle around them.
fn packed(mut strands: Vec<Strand>, effort: Effort) -> (Vec<Strand>, f64) {
    let diameters: Vec<f64> = strands.iter().map(|strand| strand.diameter).collect();
    let packing = pack(&diameters, effort);
    for (strand, circle) in strands.iter_mut().zip(&packing.circles) {
        strand.centre = circle.centre;
    }
    (strands, packing.diameter)
}

/// Packs tapes and loose strands, and moves what is taped along with its tape.
fn place(laid: &mut Laid, effort: Effort) {
    let packing = pack(&laid.outer(), effort);
    laid.bare = packing.diameter;
    let mut centres = packing.circles.iter().map(|circle| circle.centre);
    for (tape, centre) in laid.tapes.iter_mut().zip(&mut centres) {
        tape.centre = centre;
    }
    for strand in &mut laid.strands {
        match strand.tape {
            Some(tape) => strand.centre += laid.tapes[tape].centre,
            None => strand.centre = centres.next().unwrap_or_default(),
        }
    }
}

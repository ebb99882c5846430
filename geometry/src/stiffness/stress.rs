//! How stress rises at a notch's corners.

use glam::DVec2;

use super::body::{Body, check};
use super::chains::Chains;
use super::load::Pushes;
use super::mesh::Fineness;
use super::strip::Strip;
use super::{Load, Notch, Rib, RibFault};

/// The greatest stress along the wall of a notch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StressRise {
    /// Along the wall, MPa, positive where it pulls; the stress across a free
    /// wall is 0.
    pub peak: f64,
    /// How far a coarser mesh differs, MPa.
    pub error: f64,
    /// Where, mm.
    pub at: DVec2,
    /// What a beam of the height left at the middle of the notch would have at
    /// its edges, MPa; `None` where the strip rule does not apply.
    pub nominal: Option<f64>,
}

impl StressRise {
    /// How many times the stress of that beam it is; `None` where the beam has none.
    pub fn factor(&self) -> Option<f64> {
        let nominal = self.nominal.filter(|nominal| nominal.abs() > 0.0)?;
        Some((self.peak / nominal).abs())
    }
}

/// The greatest stress along the wall of one notch, under a load in the plane.
///
/// It comes from how far the wall itself is stretched, side by side of the
/// mesh, on two meshes; the coarser has `fineness`. A corner of radius 0 has no
/// greatest stress: there the figure only grows with the mesh.
///
/// # Errors
/// See [`RibFault`].
pub fn stress_rise(
    rib: &Rib,
    notches: &[Notch],
    notch: usize,
    load: &Load,
    fineness: Fineness,
) -> Result<StressRise, RibFault> {
    let this = notches.get(notch).ok_or(RibFault::NoSuchNotch(notch))?;
    check(rib, notches, &fineness)?;
    let chains = Chains::new(&rib.outline)?;
    let pushes = load.pushes(&chains, notches)?;
    let found = |halvings| {
        let body = Body::new(rib, &chains, notches, &pushes.along(), &fineness, halvings)?;
        peak(&body, &pushes, notch).map(|(stretch, at)| (stretch * rib.modulus, at))
    };
    let (coarse, (peak, at)) = (found(0)?.0, found(1)?);
    let nominal = Strip::new(rib, &chains, notches, &pushes).and_then(|it| it.nominal(this));
    Ok(StressRise {
        peak,
        error: (peak - coarse).abs(),
        at,
        nominal,
    })
}

/// The greatest stretch of a notch's wall, and where.
fn peak(body: &Body, pushes: &Pushes, notch: usize) -> Result<(f64, DVec2), RibFault> {
    let nodes = &body.mesh.nodes;
    let moved = body
        .in_plane(|parts| parts.system())?
        .movement(&pushes.flat(&body.mesh)?);
    let side = |two: &[usize]| {
        let run = nodes[two[1]] - nodes[two[0]];
        let grown = DVec2::from(moved[two[1]]) - DVec2::from(moved[two[0]]);
        (
            grown.dot(run) / run.length_squared(),
            nodes[two[0]].midpoint(nodes[two[1]]),
        )
    };
    let sides = body.mesh.walls[notch].windows(2).map(side);
    Ok(sides.fold((0.0f64, DVec2::ZERO), |most, it| {
        if it.0.abs() > most.0.abs() { it } else { most }
    }))
}

//! How stiff a rib stays.

use super::body::{Body, check};
use super::chains::Chains;
use super::load::{Forces, Pushes};
use super::mesh::{Fineness, Mesh};
use super::strip::Strip;
use super::system::{System, Work};
use super::{Load, Notch, Rib, RibFault};

/// How fast the error of a mesh falls when its steps are halved: four times
/// where corners are round, 2^1.089 at a sharp inner corner of 270°, where
/// stress is infinite (the exponent is twice the 0.5445 of M. L. Williams,
/// Journal of Applied Mechanics 19 (1952), from memory). A corner as round as a
/// step counts as round; in between it rises evenly, as it was seen to do on
/// four meshes, so that no figure jumps where a corner gets rounder.
const ROUND: f64 = 4.0;
const SHARP: f64 = 2.127;

/// How fast it falls with these notches.
fn falls(notches: &[Notch], fineness: &Fineness) -> f64 {
    let sharpest = (notches.iter())
        .map(Notch::round)
        .fold(fineness.near, f64::min);
    SHARP + (ROUND - SHARP) * sharpest / fineness.near
}

/// Columns of the whole rib's mesh are at most so many fine steps apart.
const EVEN: f64 = 2.0;

/// A figure from two meshes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// What the two meshes tend to.
    pub value: f64,
    /// How far the finer one is from it: a bound in practice, not a proof.
    pub error: f64,
}

impl Figure {
    /// What the figures of two meshes tend to, the error falling so many times
    /// from one to the other.
    fn from_two([coarse, fine]: [f64; 2], falls: f64) -> Figure {
        let step = (fine - coarse) / (falls - 1.0);
        Figure {
            value: fine + step,
            error: step.abs(),
        }
    }

    /// One figure as a share of another.
    fn over(self, other: Figure) -> Figure {
        let value = self.value / other.value;
        let parts = self.error / self.value.abs() + other.error / other.value.abs();
        Figure {
            value,
            error: value.abs() * parts,
        }
    }
}

/// One of the two ways a rib gives: in its plane or out of it.
struct Way<const D: usize> {
    system: fn(&Body) -> Result<System<D>, RibFault>,
    work: fn(&Body, &Forces<D>) -> Result<Work, RibFault>,
    forces: fn(&Pushes, &Mesh) -> Result<Forces<D>, RibFault>,
    /// How much of the pushes acts this way, N.
    force: fn(&Pushes) -> f64,
}

const IN_PLANE: Way<2> = Way {
    system: |body| body.in_plane(|parts| parts.system()),
    work: |body, load| body.in_plane(|parts| parts.work(load)),
    forces: Pushes::flat,
    force: Pushes::in_plane,
};

const OUT_OF_PLANE: Way<3> = Way {
    system: |body| body.out_of_plane(|parts| parts.system()),
    work: |body, load| body.out_of_plane(|parts| parts.work(load)),
    forces: Pushes::square,
    force: Pushes::out_of_plane,
};

impl<const D: usize> Way<D> {
    /// Both meshes of a rib as cut, factored.
    fn factored(&self, bodies: &[Body; 2]) -> Result<[System<D>; 2], RibFault> {
        Ok([(self.system)(&bodies[0])?, (self.system)(&bodies[1])?])
    }

    /// The mean deflection under some pushes on each of two factored meshes, mm.
    fn deflections(
        &self,
        meshes: [&Mesh; 2],
        systems: &[System<D>; 2],
        pushes: &Pushes,
    ) -> Result<[f64; 2], RibFault> {
        let on = |number: usize| {
            let forces = (self.forces)(pushes, meshes[number])?;
            Ok(systems[number].work(&forces) / (self.force)(pushes))
        };
        Ok([on(0)?, on(1)?])
    }

    /// The deflection of a rib as cut on one mesh.
    fn once(&self, body: &Body, pushes: &Pushes) -> Result<OneMesh, RibFault> {
        let found = (self.work)(body, &(self.forces)(pushes, &body.mesh)?)?;
        let elements = body.mesh.quads.len();
        Ok(OneMesh {
            deflection: found.work / (self.force)(pushes),
            elements,
            unknowns: found.unknowns,
        })
    }

    /// The deflection of a rib as cut, if anything pushes this way.
    fn deflection(
        &self,
        bodies: &[Body; 2],
        pushes: &Pushes,
        falls: f64,
    ) -> Result<Option<Figure>, RibFault> {
        if (self.force)(pushes) == 0.0 {
            return Ok(None);
        }
        let [coarse, fine] = [
            self.once(&bodies[0], pushes)?,
            self.once(&bodies[1], pushes)?,
        ];
        Ok(Some(Figure::from_two(
            [coarse.deflection, fine.deflection],
            falls,
        )))
    }
}

/// Deflections under a load, mm; for several pushes the mean of theirs,
/// weighted by force. `None` where nothing pushes that way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deflection {
    /// In the plane of the rib.
    pub in_plane: Option<Figure>,
    /// Square to it.
    pub out_of_plane: Option<Figure>,
}

/// The deflection of a rib as cut, on two meshes, the coarser of the fineness
/// asked for.
///
/// # Errors
/// See [`RibFault`].
pub fn deflection(
    rib: &Rib,
    notches: &[Notch],
    load: &Load,
    fineness: Fineness,
) -> Result<Deflection, RibFault> {
    let chains = Chains::new(&rib.outline)?;
    let pushes = load.pushes(&chains, notches)?;
    let bodies = bodies(rib, &chains, notches, &pushes.along(), &fineness)?;
    let falls = falls(notches, &fineness);
    Ok(Deflection {
        in_plane: IN_PLANE.deflection(&bodies, &pushes, falls)?,
        out_of_plane: OUT_OF_PLANE.deflection(&bodies, &pushes, falls)?,
    })
}

/// A deflection on one mesh, and how large the mesh was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneMesh {
    /// mm.
    pub deflection: f64,
    /// Elements.
    pub elements: usize,
    /// Movements solved for.
    pub unknowns: usize,
}

/// The deflection of a rib as cut on one mesh, in its plane or out of it; for
/// studies of how a figure settles as the mesh gets finer.
///
/// # Errors
/// See [`RibFault`].
pub fn on_one_mesh(
    rib: &Rib,
    notches: &[Notch],
    load: &Load,
    fineness: Fineness,
    in_plane: bool,
) -> Result<OneMesh, RibFault> {
    check(rib, notches, &fineness)?;
    let chains = Chains::new(&rib.outline)?;
    let pushes = load.pushes(&chains, notches)?;
    let body = Body::new(rib, &chains, notches, &pushes.along(), &fineness, 0)?;
    if in_plane {
        IN_PLANE.once(&body, &pushes)
    } else {
        OUT_OF_PLANE.once(&body, &pushes)
    }
}

/// A rib as cut on two meshes, the second with every step halved.
fn bodies<'a>(
    rib: &'a Rib,
    chains: &Chains,
    notches: &[Notch],
    pushed: &[f64],
    fineness: &Fineness,
) -> Result<[Body<'a>; 2], RibFault> {
    check(rib, notches, fineness)?;
    let body = |halvings| Body::new(rib, chains, notches, pushed, fineness, halvings);
    Ok([body(0)?, body(1)?])
}

/// How stiff a rib stays: deflection whole over deflection as cut, 0 to 1, above
/// 1 where a doubler makes it stiffer than it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kept {
    /// Pushed in its plane; `None` where the load has no such part.
    pub in_plane: Option<Figure>,
    /// Pushed square to it.
    pub out_of_plane: Option<Figure>,
    /// In its plane by the strip rule, the hand check
    /// ([`strip_deflection`](super::strip_deflection)); `None` where that rule
    /// does not apply. It reads higher than the elements: 0.76 for 0.70 on a rib
    /// 196 by 38 notched 28 by 12.5 and pushed at its centre. Shear, which the
    /// whole rib has too, raises what the elements find by some 0.02; but at the
    /// feet of a notch corners of the rib carry nothing, so that it gives as if
    /// the notch were some 7 mm wider on each side. The wider the notch, the
    /// less that counts.
    pub strip: Option<f64>,
}

/// A whole rib, meshed and factored once, to compare many cuts with.
#[derive(Clone, Debug)]
pub struct Whole {
    rib: Rib,
    chains: Chains,
    fineness: Fineness,
    meshes: [Mesh; 2],
    in_plane: [System<2>; 2],
    out_of_plane: [System<3>; 2],
}

impl Whole {
    /// A whole rib at its usual fineness.
    ///
    /// # Errors
    /// See [`RibFault`].
    pub fn new(rib: Rib) -> Result<Whole, RibFault> {
        let fineness = Fineness::usual(&rib);
        Whole::meshed(rib, fineness)
    }

    /// A whole rib on two meshes, the coarser of the fineness asked for.
    ///
    /// # Errors
    /// See [`RibFault`].
    pub fn meshed(rib: Rib, fineness: Fineness) -> Result<Whole, RibFault> {
        let chains = Chains::new(&rib.outline)?;
        // Pushes may come anywhere.
        let even = Fineness {
            far: fineness.far.min(EVEN * fineness.near),
            ..fineness
        };
        let bodies = bodies(&rib, &chains, &[], &[], &even)?;
        let in_plane = IN_PLANE.factored(&bodies)?;
        let out_of_plane = OUT_OF_PLANE.factored(&bodies)?;
        let meshes = bodies.map(|body| body.mesh);
        Ok(Whole {
            rib,
            chains,
            fineness,
            meshes,
            in_plane,
            out_of_plane,
        })
    }

    /// The rib.
    pub fn rib(&self) -> &Rib {
        &self.rib
    }

    /// How stiff it stays in its plane with these notches; `None` where the
    /// load has no such part. What a search asks for, again and again.
    ///
    /// # Errors
    /// See [`RibFault`].
    pub fn in_plane(&self, notches: &[Notch], load: &Load) -> Result<Option<Figure>, RibFault> {
        let pushes = load.pushes(&self.chains, notches)?;
        let bodies = self.bodies(notches, &pushes)?;
        self.share(&IN_PLANE, &self.in_plane, &bodies, notches, &pushes)
    }

    /// How stiff it stays with these notches, in its plane and out of it, with
    /// the hand check beside.
    ///
    /// # Errors
    /// See [`RibFault`].
    pub fn kept(&self, notches: &[Notch], load: &Load) -> Result<Kept, RibFault> {
        let pushes = load.pushes(&self.chains, notches)?;
        let bodies = self.bodies(notches, &pushes)?;
        let strip = |notches| Strip::new(&self.rib, &self.chains, notches, &pushes)?.deflection();
        Ok(Kept {
            in_plane: self.share(&IN_PLANE, &self.in_plane, &bodies, notches, &pushes)?,
            out_of_plane: self.share(
                &OUT_OF_PLANE,
                &self.out_of_plane,
                &bodies,
                notches,
                &pushes,
            )?,
            strip: strip(&[])
                .zip(strip(notches))
                .map(|(whole, cut)| whole / cut),
        })
    }

    /// The rib as cut, with lines where it is pushed.
    fn bodies(&self, notches: &[Notch], pushes: &Pushes) -> Result<[Body<'_>; 2], RibFault> {
        let pushed = pushes.along();
        bodies(&self.rib, &self.chains, notches, &pushed, &self.fineness)
    }

    /// Deflection whole over deflection as cut, one way.
    fn share<const D: usize>(
        &self,
        way: &Way<D>,
        systems: &[System<D>; 2],
        bodies: &[Body; 2],
        notches: &[Notch],
        pushes: &Pushes,
    ) -> Result<Option<Figure>, RibFault> {
        let Some(cut) = way.deflection(bodies, pushes, falls(notches, &self.fineness))? else {
            return Ok(None);
        };
        let whole = way.deflections(self.meshes.each_ref(), systems, pushes)?;
        Ok(Some(Figure::from_two(whole, ROUND).over(cut)))
    }
}

/// How stiff a rib stays with these notches. For many cuts of one rib,
/// [`Whole`] is faster.
///
/// # Errors
/// See [`RibFault`].
pub fn stiffness_kept(rib: &Rib, notches: &[Notch], load: &Load) -> Result<Kept, RibFault> {
    Whole::new(rib.clone())?.kept(notches, load)
}

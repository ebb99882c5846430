//! A rib as cut, meshed and held, ready to be pushed.

use super::chains::Chains;
use super::doubler::Stock;
use super::grip::Grips;
use super::membrane::membrane;
use super::mesh::{Fineness, Mesh};
use super::plate::plate;
use super::system::Parts;
use super::{Notch, Rib, RibFault};

/// A meshed rib.
pub(super) struct Body<'a> {
    rib: &'a Rib,
    stock: Stock,
    grips: Grips,
    pub mesh: Mesh,
}

impl<'a> Body<'a> {
    /// A rib as cut, pushed at some x's, its mesh halved so many times.
    pub fn new(
        rib: &'a Rib,
        chains: &Chains,
        notches: &[Notch],
        pushed: &[f64],
        fineness: &Fineness,
        halvings: u32,
    ) -> Result<Body<'a>, RibFault> {
        let mesh = Mesh::new(chains, notches, pushed, fineness, halvings)?;
        Ok(Body {
            rib,
            stock: Stock::new(rib, chains, notches, &mesh),
            grips: Grips::new(&mesh.nodes, &rib.held)?,
            mesh,
        })
    }

    /// Uses the parts of its stiffness in its plane.
    pub fn in_plane<T>(&self, then: impl FnOnce(Parts<2, 8>) -> T) -> T {
        let mut grips = self.grips.clone();
        grips.pin(&self.mesh.nodes, &self.rib.held);
        let stiffness = |number: usize| {
            let corners = self.mesh.quads[number].map(|node| self.mesh.nodes[node]);
            let stock = self.stock.in_plane[number];
            membrane(&corners, self.rib.poisson).map(|row| row.map(|it| it * stock))
        };
        then(Parts {
            mesh: &self.mesh,
            grips: &grips,
            stiffness: &stiffness,
        })
    }

    /// Uses the parts of its stiffness out of its plane.
    pub fn out_of_plane<T>(&self, then: impl FnOnce(Parts<3, 12>) -> T) -> T {
        let stiffness = |number: usize| {
            let corners = self.mesh.quads[number].map(|node| self.mesh.nodes[node]);
            let stock = self.stock.out_of_plane[number];
            plate(&corners, self.rib.poisson).map(|row| row.map(|it| it * stock))
        };
        then(Parts {
            mesh: &self.mesh,
            grips: &self.grips,
            stiffness: &stiffness,
        })
    }
}

/// Whether the numbers of a rib and its doublers are usable.
pub(super) fn check(rib: &Rib, notches: &[Notch], fineness: &Fineness) -> Result<(), RibFault> {
    let positive = |it: f64| it.is_finite() && it > 0.0;
    let strips = notches.iter().filter_map(|notch| notch.doubler);
    let usable = positive(rib.thickness)
        && positive(rib.modulus)
        && positive(fineness.near)
        && positive(fineness.far)
        && (0.0..0.5).contains(&rib.poisson)
        && rib
            .held
            .iter()
            .all(|held| held.from.is_finite() && held.to.is_finite())
        && strips.into_iter().all(|it| {
            let sizes = positive(it.thickness) && positive(it.height) && positive(it.modulus);
            sizes && it.lap.is_finite() && it.lap >= 0.0
        });
    if usable {
        Ok(())
    } else {
        Err(RibFault::NotANumber)
    }
}

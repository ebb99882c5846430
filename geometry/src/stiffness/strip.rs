//! The hand check: a rib as a straight strip that only bends in its plane.

use super::chains::Chains;
use super::load::Pushes;
use super::section::{Part, section};
use super::{Doubler, Edge, Hold, Load, Notch, Push, Rib, RibFault};

/// Parts each stretch between two changes of the strip is summed over.
const PARTS: usize = 8;

/// How the two ends of a strip are held.
#[derive(Clone, Copy, PartialEq)]
enum Ends {
    /// Both simply, or clamped where true.
    Both([bool; 2]),
    /// Clamped at the left (false) or right (true), free at the other.
    One(bool),
}

/// The deflection under a load in the plane by the strip rule, mm; for several
/// pushes the mean of theirs, weighted by force. `None` where the rib is not
/// held at its ends alone, or nothing pushes along its height.
///
/// ∫ M² dx / EI over the span, with I = t h³/12 of the height left at each
/// place (Castigliano's theorem, any mechanics text); end moments of clamped
/// ends by the force method. Corners are taken as square and notches as
/// changing the height only: no shear, no flow of force round a notch, no shift
/// of the middle line. A doubler counts over the width of its notch alone, by
/// the parallel-axis theorem.
///
/// # Errors
/// See [`RibFault`].
pub fn strip_deflection(
    rib: &Rib,
    notches: &[Notch],
    load: &Load,
) -> Result<Option<f64>, RibFault> {
    let chains = Chains::new(&rib.outline)?;
    let pushes = load.pushes(&chains, notches)?;
    Ok(Strip::new(rib, &chains, notches, &pushes).and_then(|strip| strip.deflection()))
}

/// A rib as a strip.
pub(super) struct Strip<'a> {
    rib: &'a Rib,
    chains: &'a Chains,
    notches: &'a [Notch],
    pushes: &'a [Push],
    ends: Ends,
    span: [f64; 2],
}

impl<'a> Strip<'a> {
    /// A rib as a strip, if it is held at its ends alone.
    pub fn new(
        rib: &'a Rib,
        chains: &'a Chains,
        notches: &'a [Notch],
        pushes: &'a Pushes,
    ) -> Option<Strip<'a>> {
        let ends = ends(rib, chains)?;
        let span = chains.span();
        Some(Strip {
            rib,
            chains,
            notches,
            pushes: &pushes.each,
            ends,
            span,
        })
    }

    /// The mean deflection under its pushes, mm.
    pub fn deflection(&self) -> Option<f64> {
        let force: f64 = self.pushes.iter().map(|push| push.force.y.abs()).sum();
        (force > 0.0).then(|| self.work() / force)
    }

    /// The stress a beam of the height left at the middle of a notch would have
    /// at its edges, MPa.
    pub fn nominal(&self, notch: &Notch) -> Option<f64> {
        let x = notch.middle();
        let height = self.height(x);
        let moment = self.moment(x).abs();
        (moment > 0.0).then(|| 6.0 * moment / (self.rib.thickness * height * height))
    }

    /// Notches at an x.
    fn here(&self, x: f64) -> impl Iterator<Item = &Notch> {
        self.notches
            .iter()
            .filter(move |it| it.along[0] < x && x < it.along[1])
    }

    /// What is left of the height at an x, mm.
    fn height(&self, x: f64) -> f64 {
        self.here(x)
            .fold(self.chains.height(x), |left, notch| left - notch.depth)
    }

    /// Bending stiffness at an x, N mm².
    fn stiffness(&self, x: f64) -> f64 {
        let [mut low, mut high] =
            [Edge::Lower, Edge::Upper].map(|edge| self.chains.point(edge, x).y);
        for notch in self.here(x) {
            match notch.edge {
                Edge::Lower => low += notch.depth,
                Edge::Upper => high -= notch.depth,
            }
        }
        let Rib {
            thickness, modulus, ..
        } = *self.rib;
        let rib = Part {
            thickness,
            low,
            high,
            modulus,
        };
        let doublers = self.here(x).filter_map(|notch| {
            let Doubler {
                thickness,
                height,
                modulus,
                ..
            } = notch.doubler?;
            let (low, high) = match notch.edge {
                Edge::Lower => (low, low + height),
                Edge::Upper => (high - height, high),
            };
            Some(Part {
                thickness,
                low,
                high,
                modulus,
            })
        });
        let parts: Vec<Part> = std::iter::once(rib).chain(doublers).collect();
        section(&parts).stiffness
    }

    /// The moment of the pushes alone on a strip simply held, or on a cantilever, N mm.
    fn loaded(&self, x: f64) -> f64 {
        let [from, to] = self.span;
        let one = |push: &Push| {
            let at = push.at.x;
            let arm = match self.ends {
                Ends::Both(_) if x < at => (x - from) * (to - at) / (to - from),
                Ends::Both(_) => (at - from) * (to - x) / (to - from),
                Ends::One(false) => -(at - x).max(0.0),
                Ends::One(true) => -(x - at).max(0.0),
            };
            push.force.y * arm
        };
        self.pushes.iter().map(one).sum()
    }

    /// Moments that unit moments at the clamped ends make, of two ends held.
    fn fixing(&self, x: f64) -> [f64; 2] {
        let [from, to] = self.span;
        let share = (x - from) / (to - from);
        match self.ends {
            Ends::Both([left, right]) => [
                if left { 1.0 - share } else { 0.0 },
                if right { share } else { 0.0 },
            ],
            Ends::One(_) => [0.0; 2],
        }
    }

    /// The moments at clamped ends that keep them from turning, N mm.
    fn fixed(&self) -> [f64; 2] {
        let sum = |f: &dyn Fn(f64) -> f64| self.sum(f);
        let give = |a: usize, b: usize| sum(&|x| self.fixing(x)[a] * self.fixing(x)[b]);
        let turn = |a: usize| -sum(&|x| self.fixing(x)[a] * self.loaded(x));
        match self.ends {
            Ends::Both([true, true]) => {
                let (a, b, c) = (give(0, 0), give(0, 1), give(1, 1));
                let (p, q) = (turn(0), turn(1));
                let scale = 1.0 / (a * c - b * b);
                [scale * (c * p - b * q), scale * (a * q - b * p)]
            }
            Ends::Both([true, false]) => [turn(0) / give(0, 0), 0.0],
            Ends::Both([false, true]) => [0.0, turn(1) / give(1, 1)],
            _ => [0.0; 2],
        }
    }

    /// The moment at an x, N mm.
    fn moment(&self, x: f64) -> f64 {
        let fixed = self.fixed();
        let fixing = self.fixing(x);
        self.loaded(x) + fixed[0] * fixing[0] + fixed[1] * fixing[1]
    }

    /// ∫ M²/EI, N mm.
    fn work(&self) -> f64 {
        let fixed = self.fixed();
        let moment = |x: f64| {
            let fixing = self.fixing(x);
            self.loaded(x) + fixed[0] * fixing[0] + fixed[1] * fixing[1]
        };
        self.sum(&|x| moment(x) * moment(x))
    }

    /// ∫ f/EI over the span, exact for a height that is constant between changes.
    fn sum(&self, f: &dyn Fn(f64) -> f64) -> f64 {
        let [from, to] = self.span;
        let corners = [Edge::Lower, Edge::Upper]
            .into_iter()
            .flat_map(|e| self.chains.edge(e));
        let mut changes = vec![from, to];
        changes.extend(corners.map(|corner| corner.x));
        changes.extend(self.notches.iter().flat_map(|notch| notch.along));
        changes.extend(self.pushes.iter().map(|push| push.at.x));
        changes.retain(|x| *x >= from && *x <= to);
        changes.sort_by(f64::total_cmp);
        let gauss = 0.6f64.sqrt();
        let mut sum = 0.0;
        for two in changes.windows(2).filter(|two| two[1] > two[0]) {
            let half = 0.5 * (two[1] - two[0]) / PARTS as f64;
            for part in 0..PARTS {
                let middle = two[0] + half * (2 * part + 1) as f64;
                for (at, weight) in [(-gauss, 5.0 / 9.0), (0.0, 8.0 / 9.0), (gauss, 5.0 / 9.0)] {
                    let x = middle + half * at;
                    sum += half * weight * f(x) / self.stiffness(x);
                }
            }
        }
        sum
    }
}

/// How the ends of a rib are held, if they alone are.
fn ends(rib: &Rib, chains: &Chains) -> Option<Ends> {
    let (lower, upper) = (chains.edge(Edge::Lower), chains.edge(Edge::Upper));
    let of = [
        (lower.first()?, upper.first()?),
        (lower.last()?, upper.last()?),
    ];
    let mut found = [None; 2];
    for held in &rib.held {
        let same = |(low, high): (&glam::DVec2, &glam::DVec2)| {
            (held.from == *low && held.to == *high) || (held.from == *high && held.to == *low)
        };
        let end = of.into_iter().position(same)?;
        found[end] = Some(held.how);
    }
    match found {
        [Some(Hold::Clamped), None] => Some(Ends::One(false)),
        [None, Some(Hold::Clamped)] => Some(Ends::One(true)),
        [Some(left), Some(right)] if left != Hold::Mirrored && right != Hold::Mirrored => {
            Some(Ends::Both([left, right].map(|how| how == Hold::Clamped)))
        }
        _ => None,
    }
}

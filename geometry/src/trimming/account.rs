//! What the notches of a rib take and what the rib keeps.
//!
//! Areas and volumes count what goes: the box of each notch less its round
//! corners. The kerf falls within that box, so it takes nothing more; trim put
//! on the cut edges gives nothing back.

use glam::{DVec2, DVec3};

use super::face::{FaceFault, RibFace};
use super::fault::TrimFault;
use super::rules::{RibRules, carried_out};
use crate::frame::Side;
use crate::job::{Acts, Edge, Hold, Job, STUB_HEIGHT, Strip, Tab, TabDecision, Trim};
use crate::measure::Reading;
use crate::stiffness::{
    self, Edges, Figure, Fineness, Kept, Load, Push, RibFault, StressRise, Whole, stress_rise,
};

/// How far a chord may stand off a round corner of an outline, mm.
const CHORD: f64 = 0.02;

/// Elements round a corner where its stress is asked for, and sides of
/// elements along it as a share of its radius: fine enough that published
/// factors are met to 3 %.
const ROUND: u32 = 12;
const BY_RADIUS: f64 = 0.25;

/// What a rib's notches come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// Id of the rib.
    pub rib: String,
    /// What the installer calls it.
    pub name: String,
    /// Area taken out of its face, mm².
    pub removed_area: f64,
    /// Volume taken out, mm³.
    pub removed_volume: f64,
    /// Area taken out as a share of the whole face, 0 to 1.
    pub share: f64,
    /// The least that is left of it beyond a notch or between opposite ones, mm.
    pub web: f64,
    /// How stiff it stays; or why there is no figure.
    pub kept: Result<RibKept, RibFault>,
    /// [`TrimFault::TooWeak`] where it keeps less than the shop asks for.
    pub weak: Option<TrimFault>,
    /// Strips that would stiffen it, where it is too weak without.
    pub doublers: Option<Doublers>,
    /// How stiff it would stay without the strips that its notches have; `None`
    /// where they have none.
    pub without_strips: Option<RibKept>,
    /// Its outline as cut, in the middle of its thickness, in the job's frame, mm.
    pub outline: Vec<DVec3>,
    /// Each notch, in the order asked.
    pub notches: Vec<NotchAccount>,
}

/// One notch.
#[derive(Clone, Debug, PartialEq)]
pub struct NotchAccount {
    /// The edge it is open to.
    pub edge: Edge,
    /// Where it begins and ends along that edge, mm.
    pub along: [f64; 2],
    /// mm.
    pub depth: f64,
    /// Of its inner corners, as there is room for, mm.
    pub radius: f64,
    /// Area taken out, mm².
    pub area: f64,
    /// What is left of the rib beyond it, mm.
    pub web: f64,
    /// The line to cut along, foot to foot, in the middle of the rib's
    /// thickness, in the job's frame, mm.
    pub line: Vec<DVec3>,
}

/// How stiff a rib stays, as shares of the rib whole.
#[derive(Clone, Debug, PartialEq)]
pub struct RibKept {
    /// Pushed at the middle of its length.
    pub centre: Kept,
    /// Pushed at the middle of each notch.
    pub at_notch: Vec<Kept>,
    /// Under what hangs on it, if anything does; or why there is no figure.
    pub own: Option<Result<Kept, RibFault>>,
}

impl RibKept {
    /// Pushed in its plane at the middle of its length.
    pub fn centre(&self) -> Option<Figure> {
        self.centre.in_plane
    }

    /// Pushed in its plane at a notch, the least.
    pub fn at_notch(&self) -> Option<Figure> {
        least(self.at_notch.iter().filter_map(|kept| kept.in_plane))
    }

    /// Pushed at the middle of its length in its plane or square to it, the
    /// least: what the shop's threshold is for.
    pub fn judged(&self) -> Option<Figure> {
        least(both(&self.centre))
    }

    /// Under what hangs on it, in its plane and square to it, the lesser.
    pub fn own(&self) -> Option<Figure> {
        least(self.own.iter().flatten().flat_map(both))
    }

    /// The least of all pushes, in its plane and square to it.
    pub fn least(&self) -> Option<Figure> {
        let own = self.own.iter().flatten();
        least(both(&self.centre).chain(self.at_notch.iter().chain(own).flat_map(both)))
    }
}

fn both(kept: &Kept) -> impl Iterator<Item = Figure> {
    kept.in_plane.into_iter().chain(kept.out_of_plane)
}

fn least(figures: impl Iterator<Item = Figure>) -> Option<Figure> {
    figures.min_by(|a, b| a.value.total_cmp(&b.value))
}

/// Strips to bond over notches, and what the rib then keeps.
#[derive(Clone, Debug, PartialEq)]
pub struct Doublers {
    /// The number of the notch among those asked about, and its strip.
    pub strips: Vec<(usize, Strip)>,
    /// How stiff the rib then stays.
    pub kept: RibKept,
    /// Whether that is as much as the shop asks for.
    pub enough: bool,
}

/// A rib ready to be asked about many cuts: whole, meshed and factored once.
#[derive(Clone, Debug)]
pub struct RibBook<'a> {
    job: &'a Job,
    rules: RibRules<'a>,
    name: &'a str,
    id: &'a str,
    edges: Edges,
    whole: Whole,
}

/// What the notches of one rib of a job come to, those that are carried out;
/// `None` where it has none.
///
/// # Errors
/// A [`TrimFault`] that holds for every notch of the rib.
pub fn account(job: &Job, rib: &str) -> Result<Option<Account>, TrimFault> {
    let trims: Vec<&Trim> = (carried_out(job).into_iter())
        .filter(|trim| trim.rib == rib)
        .collect();
    let book = RibBook::new(job, rib)?;
    if trims.is_empty() {
        return Ok(None);
    }
    book.account(&trims).map(Some).map_err(TrimFault::Shape)
}

/// What the notches of every rib of a job come to, in the order of its obstacles.
pub fn accounts(job: &Job) -> Vec<Account> {
    let cut = carried_out(job);
    let obstacles = job.cavity.obstacles.iter();
    let cut = obstacles.filter(|it| cut.iter().any(|trim| trim.rib == it.id));
    cut.filter_map(|it| account(job, &it.id).ok().flatten())
        .collect()
}

impl<'a> RibBook<'a> {
    /// A rib of a job, at stated measures.
    ///
    /// # Errors
    /// A [`TrimFault`] that holds for every notch of it.
    pub fn new(job: &'a Job, rib: &str) -> Result<RibBook<'a>, TrimFault> {
        let rules = RibRules::new(job, rib, Reading::Nominal)?;
        let shape = |fault| TrimFault::Shape(FaceFault::Rib(fault));
        let edges = Edges::new(&rules.face().outline).map_err(shape)?;
        let whole = Whole::new(rules.face().rib()).map_err(shape)?;
        let (id, name) = rules.names();
        Ok(RibBook {
            job,
            name,
            id,
            edges,
            whole,
            rules,
        })
    }

    /// Its rules.
    pub fn rules(&self) -> &RibRules<'a> {
        &self.rules
    }

    fn face(&self) -> &RibFace {
        self.rules.face()
    }

    /// Area and volume that notches take out, mm² and mm³. Cheap.
    ///
    /// # Errors
    /// Where they cannot be cut.
    pub fn removed(&self, trims: &[&Trim]) -> Result<(f64, f64), FaceFault> {
        self.rules.removed(trims)
    }

    /// How stiff it stays in its plane, pushed at the middle of its length:
    /// the figure a search needs.
    ///
    /// # Errors
    /// Where they cannot be cut, or there is no such figure.
    pub fn centre(&self, trims: &[&Trim]) -> Result<Option<Figure>, FaceFault> {
        let notches = self.face().notches(trims)?;
        (self.whole.in_plane(&notches, &Load::AtCentre)).map_err(FaceFault::Rib)
    }

    /// How stiff it stays.
    ///
    /// # Errors
    /// Where they cannot be cut, or there is no such figure.
    pub fn kept(&self, trims: &[&Trim]) -> Result<RibKept, FaceFault> {
        let notches = self.face().notches(trims)?;
        let of = |load: &Load| self.whole.kept(&notches, load).map_err(FaceFault::Rib);
        Ok(RibKept {
            centre: of(&Load::AtCentre)?,
            at_notch: (0..notches.len())
                .map(|number| of(&Load::AtNotch(number)))
                .collect::<Result<_, _>>()?,
            own: self.own_load().map(|load| self.whole.kept(&notches, &load)),
        })
    }

    /// What hangs on it, if anything does.
    fn own_load(&self) -> Option<Load> {
        let own = self.job.rib_loads.iter().filter(|load| load.rib == self.id);
        let pushes: Vec<Push> = own
            .map(|load| Push {
                at: DVec2::new(load.along, 0.0),
                force: load.force
                    * match load.acts {
                        Acts::InPlane => DVec3::Y,
                        Acts::OutOfPlane => DVec3::Z,
                    },
            })
            .collect();
        (!pushes.is_empty()).then_some(Load::Spread(pushes))
    }

    /// [`TrimFault::TooWeak`] where a rib keeps less than the shop asks for, the
    /// error of the figure included.
    pub fn too_weak(&self, kept: &RibKept) -> Option<TrimFault> {
        let least = self.job.cutting.keep_stiffness;
        let Figure { value, error } = kept.judged()?;
        (value - error < least).then_some(TrimFault::TooWeak {
            kept: value,
            error,
            least,
        })
    }

    /// What notches come to.
    ///
    /// # Errors
    /// Where they cannot be cut.
    pub fn account(&self, trims: &[&Trim]) -> Result<Account, FaceFault> {
        let face = self.face();
        let (removed_area, removed_volume) = self.removed(trims)?;
        let outline = stiffness::cut_within(&face.rib(), &face.notches(trims)?, CHORD)
            .map_err(FaceFault::Rib)?;
        let notches = self.notches(trims)?;
        let kept = match self.kept(trims) {
            Ok(kept) => Ok(kept),
            Err(FaceFault::Rib(fault)) => Err(fault),
            Err(other) => return Err(other),
        };
        let weak = kept.as_ref().ok().and_then(|kept| self.too_weak(kept));
        let doublers = (weak.as_ref()).and_then(|_| self.doublers(trims, &notches, 0));
        Ok(Account {
            rib: self.id.to_owned(),
            name: self.name.to_owned(),
            removed_area,
            removed_volume,
            share: removed_area / (removed_area + outline.area()),
            web: notches
                .iter()
                .map(|it| it.web)
                .fold(f64::INFINITY, f64::min),
            kept,
            weak,
            doublers,
            without_strips: self.without_strips(trims),
            outline: outline.corners().iter().map(|at| face.place(*at)).collect(),
            notches,
        })
    }

    fn notches(&self, trims: &[&Trim]) -> Result<Vec<NotchAccount>, FaceFault> {
        let mut notches = Vec::with_capacity(trims.len());
        for (number, trim) in trims.iter().enumerate() {
            let taken = self.rules.taken(trim)?;
            let others: Vec<&Trim> = [&trims[..number], &trims[number + 1..]].concat();
            let line =
                (self.edges.wall(&self.face().notch(trim)?, CHORD)).map_err(FaceFault::Rib)?;
            notches.push(NotchAccount {
                edge: trim.edge,
                along: trim.along,
                depth: trim.depth,
                radius: taken.radius,
                area: taken.area,
                web: self.rules.web(trim, &others).unwrap_or(0.0),
                line: line.iter().map(|at| self.face().place(*at)).collect(),
            });
        }
        Ok(notches)
    }

    fn without_strips(&self, trims: &[&Trim]) -> Option<RibKept> {
        let bare = |trim: &&Trim| Trim {
            doubler: None,
            ..(*trim).clone()
        };
        let any = trims.iter().any(|trim| trim.doubler.is_some());
        let bare: Vec<Trim> = trims.iter().map(bare).collect();
        any.then(|| self.kept(&bare.iter().collect::<Vec<_>>()).ok())
            .flatten()
    }

    /// Whether it keeps as much as the shop asks for. Where no figure can be
    /// had, nothing is known against it.
    ///
    /// # Errors
    /// Where they cannot be cut.
    pub fn is_enough(&self, trims: &[&Trim]) -> Result<bool, FaceFault> {
        let least = self.job.cutting.keep_stiffness;
        let enough = |kept: Figure| kept.value - kept.error >= least;
        // What it keeps in its plane is nearly always the lesser, and sooner had.
        if !self.centre(trims)?.is_none_or(enough) {
            return Ok(false);
        }
        let notches = self.face().notches(trims)?;
        let kept = (self.whole.kept(&notches, &Load::AtCentre)).map_err(FaceFault::Rib)?;
        Ok(both(&kept).all(enough))
    }

    /// The same notches with strips bonded over those from number `from` on, as
    /// many as it takes to keep enough; `None` where all of them do not do.
    pub fn with_strips(&self, trims: &[&Trim], from: usize) -> Option<Vec<Trim>> {
        let notches = self.notches(trims).ok()?;
        let doublers = self.doublers(trims, &notches, from)?;
        let mut with: Vec<Trim> = trims.iter().map(|trim| (*trim).clone()).collect();
        for (number, strip) in &doublers.strips {
            with[*number].doubler = Some(*strip);
        }
        doublers.enough.then_some(with)
    }

    /// Strips of the shop's stock over the notches that take most, one more
    /// until the rib keeps enough. Notches that have a strip keep it.
    ///
    /// * `from`: notches before this one are left as they are
    fn doublers(&self, trims: &[&Trim], notches: &[NotchAccount], from: usize) -> Option<Doublers> {
        let mut order: Vec<usize> = (from..trims.len())
            .filter(|number| trims[*number].doubler.is_none())
            .collect();
        order.sort_by(|a, b| notches[*b].area.total_cmp(&notches[*a].area));
        let mut with: Vec<Trim> = trims.iter().map(|trim| (*trim).clone()).collect();
        let mut strips = Vec::new();
        let mut best = None;
        for number in order {
            let strip = self.strip(trims[number], &notches[number]);
            with[number].doubler = Some(strip);
            strips.push((number, strip));
            let kept = self.kept(&with.iter().collect::<Vec<_>>()).ok()?;
            let enough = self.too_weak(&kept).is_none();
            best = Some(Doublers {
                strips: strips.clone(),
                kept,
                enough,
            });
            if enough {
                break;
            }
        }
        best
    }

    /// A strip of the shop's stock over a notch: no higher than what is left
    /// there, and no longer than the rib.
    fn strip(&self, trim: &Trim, notch: &NotchAccount) -> Strip {
        let stock = self.job.cutting.strip;
        let [low, high] = self.face().bounds();
        let beside = (trim.along[0] - low.x).min(high.x - trim.along[1]);
        // A person cuts it to half a millimetre.
        let cut_to = |stock: f64, room: f64| match stock <= room {
            true => stock,
            false if room >= 0.5 => 0.5 * (2.0 * room).floor(),
            false => room,
        };
        Strip {
            height: cut_to(stock.height, notch.web),
            lap: cut_to(stock.lap, beside),
            ..stock
        }
    }

    /// Radius of a notch's inner corners, as there is room for, mm.
    ///
    /// # Errors
    /// Where it cannot be cut.
    pub fn radius(&self, trim: &Trim) -> Result<f64, FaceFault> {
        Ok(self.rules.taken(trim)?.radius)
    }

    /// How stress rises along the wall of one notch, pushed in the plane. It
    /// takes a finer mesh than stiffness does: for details, not for a search.
    ///
    /// # Errors
    /// Where they cannot be cut, or there is no such figure.
    pub fn stress(
        &self,
        trims: &[&Trim],
        notch: usize,
        load: &Load,
    ) -> Result<StressRise, FaceFault> {
        let rib = self.face().rib();
        let notches = self.face().notches(trims)?;
        let usual = Fineness::usual(&rib);
        let radius = trims.get(notch).map_or(0.0, |trim| trim.radius);
        let fine = Fineness {
            near: if radius > 0.0 {
                usual.near.min(BY_RADIUS * radius)
            } else {
                usual.near
            },
            round: ROUND,
            ..usual
        };
        stress_rise(&rib, &notches, notch, load, fine).map_err(FaceFault::Rib)
    }
}

/// A break-off tab of the mount that comes off.
#[derive(Clone, Debug, PartialEq)]
pub struct TabOff {
    /// Short name.
    pub id: String,
    /// Where it is, in words.
    pub name: String,
    /// Side of the opening it grows from.
    pub grows_from: Side,
    /// Highest stub that may stay, mm.
    pub stub: f64,
    /// Area of its root, the face left where it was, mm².
    pub root_area: f64,
    /// Volume that comes off, mm³.
    pub removed_volume: f64,
    /// What stays, two opposite corners in the job's frame, mm.
    pub stub_box: [DVec3; 2],
}

/// The tabs of the mount that come off, each a cut like any other.
pub fn tabs_off(job: &Job) -> Vec<TabOff> {
    let Hold::KitPocket { tabs, .. } = &job.mount.hold else {
        return Vec::new();
    };
    let off = tabs
        .iter()
        .filter(|tab| tab.decision == TabDecision::Remove);
    off.map(tab_off).collect()
}

fn tab_off(tab: &Tab) -> TabOff {
    let size = tab.faces.map(|face| (face[1] - face[0]).abs());
    let stands = size[tab.axis()];
    let root_area = size.iter().product::<f64>() / stands;
    let stub = stands.min(STUB_HEIGHT);
    let faces = tab.stub();
    TabOff {
        id: tab.id.clone(),
        name: tab.name.clone(),
        grows_from: tab.grows_from,
        stub,
        root_area,
        removed_volume: root_area * (stands - stub),
        stub_box: [0, 1].map(|end| DVec3::from_array(faces.map(|face| face[end]))),
    }
}

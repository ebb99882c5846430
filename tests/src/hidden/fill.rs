//! Obstacles grown around the hidden routes until most of the room is taken.

use geometry::{Bounds, Path, Solid, frame::turn_from_degrees, signed_distance};
use glam::DVec3;
use profiles::schema::KindFile;

use super::boxed::Boxed;
use super::free::Room;
use super::grown::{Form, Grown};
use super::shell::Shell;
use super::stage::{Cable, Stage};
use crate::chance::Chance;

/// Room beyond what is asked, so that rounded figures still hold, mm.
const ROUNDING: f64 = 0.05;

/// Obstacles stand at least this deep, behind the dash and the nose, mm.
const BEHIND_DASH: f64 = 20.0;

/// Plates tried before the cavity is given up.
const PLATES: usize = 120;

/// Rounds of filling before the cavity is given up.
const LUMPS: usize = 45;

/// Rounds over which the pace of filling is taken.
const PACE: usize = 8;

/// Lumps grown in a round, of which the largest stays.
const CHOICE: usize = 8;

/// Free points of which a lump grows from the roomiest.
const ROOMY: usize = 8;

/// Steps by which a face closes in on what stops it.
const HALVINGS: usize = 7;

/// What obstacles may be grown among.
pub struct Site<'a> {
    shell: &'a Shell,
    kept: Vec<(Solid, Bounds)>,
    routes: Vec<(&'a Cable, Boxed<'a>)>,
    /// Points of the routes every 10 mm.
    along: Vec<DVec3>,
    grown: Vec<(Grown, Bounds)>,
}

/// What is being grown: its room beyond what routes ask, and what it is.
#[derive(Clone, Copy)]
struct Wish {
    kind: KindFile,
    clear: f64,
    ease: f64,
}

impl<'a> Site<'a> {
    /// The stage with its routes.
    pub fn new(
        stage: &Stage,
        shell: &'a Shell,
        cables: &'a [Cable],
        paths: &'a [Path],
    ) -> Site<'a> {
        let kept = stage.kept_free().into_iter();
        Site {
            shell,
            kept: kept.map(|solid| (solid.clone(), solid.bounds())).collect(),
            routes: cables.iter().zip(paths.iter().map(Boxed::new)).collect(),
            along: paths.iter().flat_map(dots).collect(),
            grown: Vec::new(),
        }
    }

    /// At least so many ribs, then blocks and bars until only `share` of the
    /// room behind and beside the unit is free; `None` when that did not come.
    pub fn fill(
        mut self,
        ribs: usize,
        share: f64,
        room: &mut Room,
        chance: &mut Chance,
    ) -> Option<Vec<Grown>> {
        for (kept, _) in &self.kept {
            room.keep_empty(kept);
        }
        for _ in 0..PLATES {
            if self.grown.len() == ribs {
                break;
            }
            let Some(rib) = self.plate(room, chance) else {
                continue;
            };
            room.take(&rib.solid);
            self.keep(rib);
        }
        if self.grown.len() < ribs {
            return None;
        }
        let mut shares: Vec<f64> = Vec::new();
        for round in 0..LUMPS {
            shares.push(room.free_share());
            if shares[round] <= share {
                return Some(self.grown.into_iter().map(|(grown, _)| grown).collect());
            }
            if round >= PACE {
                // Lumps get smaller as the room does: at the pace of late it must do.
                let pace = (shares[round - PACE] - shares[round]) / PACE as f64;
                if shares[round] - pace * (LUMPS - round) as f64 > share {
                    return None;
                }
            }
            let lumps: Vec<Grown> = (0..CHOICE)
                .filter_map(|_| self.lump(room, chance))
                .collect();
            let taken = |grown: &Grown| room.would_take(&grown.solid);
            if let Some(largest) = lumps.into_iter().max_by_key(taken) {
                room.take(&largest.solid);
                self.keep(largest);
            }
        }
        None
    }

    fn keep(&mut self, grown: Grown) {
        let bounds = grown.solid.bounds();
        self.grown.push((grown, bounds));
    }

    /// A rib or shelf of 2 to 3 mm, at least 25 mm each way.
    fn plate(&self, room: &Room, chance: &mut Chance) -> Option<Grown> {
        let thin = *chance.pick(&[1, 1, 1, 2, 0]);
        let wish = Wish {
            kind: if thin == 2 {
                KindFile::Shelf
            } else {
                KindFile::Rib
            },
            clear: 3.0,
            ease: chance.within(0.0, 1.2),
        };
        let turned = tilt(0.3, chance);
        let half = 0.5 * chance.typed(2.0, 3.0);
        let grown = self.grow_block(room, wish, turned, Some((thin, half)), 110.0, chance)?;
        let Form::Block(_, size, _) = grown.form else {
            return None;
        };
        let wide = (0..3)
            .filter(|axis| *axis != thin)
            .all(|axis| size[axis] >= 12.5);
        wide.then_some(grown)
    }

    /// A block or a bar of any size above 8 mm.
    fn lump(&self, room: &Room, chance: &mut Chance) -> Option<Grown> {
        let ease = if chance.happens(0.35) {
            chance.within(0.0, 1.5)
        } else {
            chance.within(1.5, 8.0)
        };
        if chance.happens(0.2) {
            let kind = *chance.pick(&[KindFile::CoolantPipe, KindFile::Beam, KindFile::Loom]);
            let clear = if kind == KindFile::Loom { 2.0 } else { 5.0 };
            return self.grow_bar(room, Wish { kind, clear, ease }, chance);
        }
        let kinds = [
            (KindFile::Duct, 4.0),
            (KindFile::HeaterBox, 5.0),
            (KindFile::Bracket, 3.0),
            (KindFile::Duct, 4.0),
        ];
        let (kind, clear) = *chance.pick(&kinds);
        let turned = tilt(0.4, chance);
        let wish = Wish { kind, clear, ease };
        let grown = self.grow_block(room, wish, turned, None, 130.0, chance)?;
        let Form::Block(_, size, _) = grown.form else {
            return None;
        };
        (size.min_element() >= 4.0).then_some(grown)
    }

    /// Grows a block from a free point, face by face, until something stops it.
    ///
    /// * `thin`: an axis along which it does not grow, and half its size there
    /// * `most`: furthest a face goes, mm
    fn grow_block(
        &self,
        room: &Room,
        wish: Wish,
        turned: DVec3,
        thin: Option<(usize, f64)>,
        most: f64,
        chance: &mut Chance,
    ) -> Option<Grown> {
        let seed = match thin {
            Some(_) => room.free_point(chance)?,
            None => self.roomy_point(room, chance)?,
        };
        let turn = turn_from_degrees(turned);
        // How far each face is from the seed: near faces first, then far ones.
        let mut reach = [2.0; 6];
        if let Some((axis, half)) = thin {
            reach[axis] = half;
            reach[axis + 3] = half;
        }
        let form = |reach: &[f64; 6]| {
            let low = DVec3::new(reach[0], reach[1], reach[2]);
            let high = DVec3::new(reach[3], reach[4], reach[5]);
            let centre = seed + turn * (0.5 * (high - low));
            Form::Block(centre, 0.5 * (low + high), turned)
        };
        let grows = |face: usize| thin.is_none_or(|(axis, _)| face % 3 != axis);
        let mut faces: Vec<usize> = (0..6).filter(|face| grows(*face)).collect();
        chance.shuffle(&mut faces);
        let reach = self.grown_from(reach, &faces, most, wish, form)?;
        self.finished(form(&reach), wish)
    }

    /// Of a few free points the one furthest from every route.
    fn roomy_point(&self, room: &Room, chance: &mut Chance) -> Option<DVec3> {
        let to_route = |point: DVec3| {
            let squares = self.along.iter().map(|on| on.distance_squared(point));
            squares.fold(f64::INFINITY, f64::min)
        };
        let points = (0..ROOMY).filter_map(|_| room.free_point(chance));
        let seen = points.map(|point| (to_route(point), point));
        let best = seen.max_by(|a, b| a.0.total_cmp(&b.0));
        best.map(|(_, point)| point)
    }

    /// Grows a bar from a free point: its length, then its thickness.
    fn grow_bar(&self, room: &Room, wish: Wish, chance: &mut Chance) -> Option<Grown> {
        let seed = room.free_point(chance)?;
        let mut along = DVec3::ZERO;
        along[chance.below(3)] = 1.0;
        let along = (along + chance.point(DVec3::splat(-0.3), DVec3::splat(0.3))).normalize();
        let form = |reach: &[f64; 3]| {
            Form::Bar(seed - reach[0] * along, seed + reach[1] * along, reach[2])
        };
        let reach = self.grown_from([4.0, 4.0, 6.0], &[0, 1], 110.0, wish, form)?;
        let reach = self.grown_from(reach, &[2], 45.0, wish, form)?;
        (reach[0] + reach[1] >= 25.0).then(|| self.finished(form(&reach), wish))?
    }

    /// Lets each figure of a shape grow in turn as far as it may, `None` when
    /// the shape has no room to begin with.
    fn grown_from<const N: usize>(
        &self,
        mut reach: [f64; N],
        order: &[usize],
        most: f64,
        wish: Wish,
        form: impl Fn(&[f64; N]) -> Form,
    ) -> Option<[f64; N]> {
        let fits = |reach: &[f64; N]| self.allows(&form(reach).solid(), wish);
        if !fits(&reach) {
            return None;
        }
        for &face in order {
            let (mut good, mut bad) = (reach[face], most);
            for _ in 0..HALVINGS {
                reach[face] = 0.5 * (good + bad);
                if fits(&reach) {
                    good = reach[face];
                } else {
                    bad = reach[face];
                }
            }
            reach[face] = good;
        }
        Some(reach)
    }

    /// The shape with its figures as a file states them, if it still has room.
    fn finished(&self, form: Form, wish: Wish) -> Option<Grown> {
        let form = form.typed();
        let solid = form.solid();
        let exact = Wish { ease: 0.0, ..wish };
        self.allows(&solid, exact).then_some(Grown {
            solid,
            clear: wish.clear,
            kind: wish.kind,
            form,
        })
    }

    /// Whether an obstacle may stand here.
    fn allows(&self, solid: &Solid, wish: Wish) -> bool {
        let bounds = solid.bounds();
        // It may grow into a wall, as real ones are fixed to it, not past it.
        let outside = (self.shell.low - bounds.min).max(bounds.max - self.shell.high);
        if bounds.min.y < BEHIND_DASH
            || outside.x > 8.0
            || outside.z > 8.0
            || bounds.max.y > self.shell.high.y + 8.0
        {
            return false;
        }
        let room = wish.clear + ROUNDING;
        let apart = |other: &Solid, other_bounds: &Bounds, room: f64| {
            bounds.gap(other_bounds) >= room || signed_distance(solid, other) >= room
        };
        self.kept
            .iter()
            .all(|(kept, around)| apart(kept, around, room))
            && (self.grown.iter()).all(|(grown, around)| apart(&grown.solid, around, ROUNDING))
            && self.routes.iter().all(|(cable, route)| {
                let room = 0.5 * cable.od + room + wish.ease;
                !route.comes_near(0..route.path.pieces.len(), solid, &bounds, room)
            })
    }
}

/// Points of a path every 10 mm.
fn dots(path: &Path) -> Vec<DVec3> {
    let count = (path.length() / 10.0).ceil() as usize;
    (0..=count)
        .map(|i| path.point_at(10.0 * i as f64))
        .collect()
}

/// A turn about one axis, degrees; most obstacles stand square.
fn tilt(share: f64, chance: &mut Chance) -> DVec3 {
    let mut turned = DVec3::ZERO;
    if chance.happens(share) {
        turned[chance.below(3)] = chance.typed(-35.0, 35.0);
    }
    turned
}

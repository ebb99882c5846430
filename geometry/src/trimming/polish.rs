//! A cut made smaller while everything still holds.

use super::shop::{Found, Shop};
use super::windows::Bite;

/// Places of a narrower notch that are tried, at most, for each depth.
const PLACES: usize = 5;

/// Looks at every place while there are no more than this.
const SWEEP: usize = 16;

/// Sides of a notch.
#[derive(Clone, Copy)]
enum Side {
    Depth,
    From,
    To,
}

impl Side {
    const ALL: [Side; 3] = [Side::Depth, Side::From, Side::To];

    /// The notch with this side moved in by some snaps; `None` when nothing is left.
    fn moved(self, bite: &Bite, by: i32) -> Option<Bite> {
        let mut bite = *bite;
        match self {
            Side::Depth => bite.depth -= by,
            Side::From => bite.along[0] += by,
            Side::To => bite.along[1] -= by,
        }
        (bite.depth > 0 && bite.along[1] > bite.along[0]).then_some(bite)
    }
}

impl Shop<'_> {
    /// Makes a cut smaller until no notch can shrink by one snap on any side,
    /// be dropped, or be exchanged for a smaller one of another shape nearby.
    pub fn polish(&mut self, found: &mut Found, watch: &mut dyn FnMut() -> bool) {
        loop {
            let before = self.price(&found.cut);
            self.drop_some(found, watch);
            self.shrink(found, watch);
            for number in 0..found.cut.len() {
                self.reshape(found, number, watch);
            }
            for number in 0..found.cut.len() {
                self.split(found, number, watch);
            }
            let settled = self.price(&found.cut) >= before;
            if self.stopped || (settled && !self.shrink_surely(found, watch)) {
                break;
            }
        }
    }

    /// One snap off any side, all leads laid anew where need be. Whether one was.
    fn shrink_surely(&mut self, found: &mut Found, watch: &mut dyn FnMut() -> bool) -> bool {
        for number in 0..found.cut.len() {
            for side in Side::ALL {
                let mut cut = found.cut.clone();
                match side.moved(&cut[number], 1) {
                    Some(bite) => cut[number] = bite,
                    None => drop(cut.remove(number)),
                }
                let proud = found.laid.proud;
                if let Some(laid) = self.surely(&cut, &found.laid, proud, watch) {
                    *found = Found { cut, laid };
                    return true;
                }
            }
        }
        false
    }

    /// Tries a cut; takes it when everything holds.
    fn take(&mut self, found: &mut Found, cut: Vec<Bite>, watch: &mut dyn FnMut() -> bool) -> bool {
        let proud = found.laid.proud;
        match self.holds(&cut, &found.laid, proud, watch) {
            Some(laid) => {
                *found = Found { cut, laid };
                true
            }
            None => false,
        }
    }

    /// Leaves out whole notches, the largest first.
    fn drop_some(&mut self, found: &mut Found, watch: &mut dyn FnMut() -> bool) {
        let mut order: Vec<Bite> = found.cut.clone();
        order.sort_by_key(|bite| std::cmp::Reverse(bite.cells()));
        for bite in order {
            let rest = found.cut.iter().filter(|other| **other != bite);
            let rest = rest.copied().collect();
            self.take(found, rest, watch);
        }
    }

    /// Moves every side in as far as everything holds.
    fn shrink(&mut self, found: &mut Found, watch: &mut dyn FnMut() -> bool) {
        loop {
            let before = found.cut.clone();
            for number in 0..found.cut.len() {
                for side in Side::ALL {
                    self.shrink_side(found, number, side, watch);
                }
            }
            if found.cut == before || self.stopped {
                break;
            }
        }
    }

    /// One side: twice as far each time while that holds, then back in halves.
    fn shrink_side(
        &mut self,
        found: &mut Found,
        number: usize,
        side: Side,
        watch: &mut dyn FnMut() -> bool,
    ) {
        let start = found.cut[number];
        let (mut done, mut not, mut step) = (0, i32::MAX, 1);
        while done + step < not {
            let mut cut = found.cut.clone();
            let held = side.moved(&start, done + step).is_some_and(|bite| {
                cut[number] = bite;
                self.take(found, cut, watch)
            });
            if held {
                done += step;
                step *= 2;
            } else {
                not = done + step;
                step = 1;
                if not == 1 {
                    break;
                }
            }
            if step >= not - done {
                step = ((not - done) / 2).max(1);
            }
        }
    }

    /// Leaves a tongue in a notch that several things ask for.
    fn split(&mut self, found: &mut Found, number: usize, watch: &mut dyn FnMut() -> bool) {
        let now = found.cut[number];
        let asked = self
            .asked_for(&found.laid, &[now.window])
            .unwrap_or_default();
        let meets = |bite: &&Bite| bite.along[0] < now.along[1] && bite.along[1] > now.along[0];
        if asked.iter().filter(meets).count() < 2 {
            return;
        }
        let [from, to] = now.along;
        let inner = [from + 1, to - 1];
        for at in places(inner, now.depth, inner) {
            let mut cut = found.cut.clone();
            cut[number].along[1] = at;
            cut.push(Bite {
                along: [at + now.depth, to],
                ..now
            });
            if self.take(found, cut, watch) {
                self.shrink(found, watch);
                return;
            }
        }
    }

    /// Shallower and wider, deeper and narrower, or elsewhere, where that takes less.
    fn reshape(&mut self, found: &mut Found, number: usize, watch: &mut dyn FnMut() -> bool) {
        let Some(first) = found.cut.get(number).copied() else {
            return;
        };
        for depth in (1..first.depth).rev() {
            if number >= found.cut.len() || !self.at_depth(found, number, depth, watch) {
                break;
            }
        }
        let Some(now) = found.cut.get(number).copied() else {
            return;
        };
        let Some(window) = self.windows[now.window].widest(now.depth, now.along) else {
            return;
        };
        let deepest = self.windows[now.window].deepest_between(now.along);
        // Narrower at any depth only if it is at the greatest.
        let narrow = now.along[1] - now.along[0] - 1;
        let may = places(window, narrow, now.along).into_iter().any(|at| {
            let bite = Bite {
                along: [at, at + narrow],
                depth: deepest,
                ..now
            };
            let laid = &found.laid;
            narrow > 0
                && self
                    .holds(&with_at(found, number, bite), laid, laid.proud, watch)
                    .is_some()
        });
        if may {
            for depth in found.cut[number].depth..=deepest {
                self.at_depth(found, number, depth, watch);
            }
        }
    }

    /// The least notch of this depth, where it takes less than the present one.
    /// Whether there may be one of a lesser depth.
    fn at_depth(
        &mut self,
        found: &mut Found,
        number: usize,
        depth: i32,
        watch: &mut dyn FnMut() -> bool,
    ) -> bool {
        let now = found.cut[number];
        let Some(widest) = self.windows[now.window].widest(depth, now.along) else {
            return true;
        };
        let width = (now.cells() - 1) / depth;
        if width < 1 {
            return true;
        }
        let with = |bite: Bite| {
            let mut cut = found.cut.clone();
            cut[number] = bite;
            cut
        };
        if depth < now.depth {
            let wide = with(Bite {
                along: widest,
                depth,
                ..now
            });
            let proud = found.laid.proud;
            let Some(laid) = self.holds(&wide, &found.laid, proud, watch) else {
                return false;
            };
            let mut other = Found { cut: wide, laid };
            let windows: Vec<usize> = found.cut.iter().map(|bite| bite.window).collect();
            if let Some(cut) = self.wrapped(&other.laid, &windows) {
                self.take(&mut other, cut, watch);
            }
            self.shrink(&mut other, watch);
            if self.price(&other.cut) < self.price(&found.cut) {
                let same = other.cut.len() == found.cut.len();
                *found = other;
                return same;
            }
        }
        for at in places(widest, width, now.along) {
            let bite = Bite {
                along: [at, at + width],
                depth,
                ..now
            };
            if self.take(found, with_at(found, number, bite), watch) {
                self.shrink(found, watch);
                return true;
            }
        }
        true
    }
}

/// Where a notch of some width may begin, the nearest to the present one first.
fn places([from, to]: [i32; 2], width: i32, now: [i32; 2]) -> Vec<i32> {
    let middle = (now[0] + now[1] - width) / 2;
    let mut places: Vec<i32> = (from..=to - width).collect();
    places.sort_by_key(|at| ((at - middle).abs(), *at));
    if places.len() > SWEEP {
        places.truncate(PLACES);
    }
    places
}

fn with_at(found: &Found, number: usize, bite: Bite) -> Vec<Bite> {
    let mut cut = found.cut.clone();
    cut[number] = bite;
    cut
}

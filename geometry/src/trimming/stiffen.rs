//! A cut that leaves a rib too weak, exchanged for one that does not.
//!
//! What a rib keeps hangs on how deep its notches are far more than on how wide.
//! So its windows are made shallower until the least cut within them leaves it
//! stiff enough; then the windows are as before and that cut is made smaller
//! while it does. Where no such cut holds, strips are bonded over the notches.

use super::least::{Bench, LOOKS};
use super::shop::{Found, Stiff};
use super::windows::{Bite, Window};

impl Bench<'_> {
    /// Exchanges the least cut found for the least that leaves every rib as stiff
    /// as the shop asks for, without strips or else with them; for none where
    /// there is none.
    ///
    /// * `level`: sets of windows that it may lie in
    /// * `before`: what was found less proud
    pub(super) fn stiffen(
        &mut self,
        level: &[Vec<usize>],
        before: Option<&Found>,
        watch: &mut dyn FnMut() -> bool,
    ) {
        let Some(least) = self.found.take() else {
            return;
        };
        let holds = |bite: &Bite, windows: &[usize]| windows.contains(&bite.window);
        let windows = (level.iter())
            .find(|windows| least.cut.iter().all(|bite| holds(bite, windows)))
            .or(level.first());
        for stiff in [Stiff::Alone, Stiff::WithStrips] {
            self.stiff = stiff;
            if self.shop.is_stiff(&least.cut, stiff) {
                self.found = Some(least);
                return;
            }
            self.shop.looks = LOOKS;
            let kept = before.filter(|before| self.shop.is_stiff(&before.cut, stiff));
            let found = windows.and_then(|windows| self.shallower(&least, windows, stiff, watch));
            let found = found.into_iter().chain(kept.cloned());
            let price = |found: &Found| self.shop.price(&found.cut);
            let cheapest = found.reduce(|one, other| match price(&other) < price(&one) {
                true => other,
                false => one,
            });
            if let Some(mut found) = cheapest {
                self.shop.stiff = stiff;
                self.shop.polish(&mut found, watch);
                self.shop.stiff = Stiff::Any;
                self.found = Some(found);
                return;
            }
            if self.shop.stopped {
                break;
            }
        }
        self.stiff = Stiff::Any;
    }

    /// The first cut so stiff in windows made shallower and shallower.
    fn shallower(
        &mut self,
        least: &Found,
        windows: &[usize],
        stiff: Stiff,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<Found> {
        let whole = self.shop.windows.clone();
        let mut now = least.clone();
        let mut found = None;
        while found.is_none() && !self.shop.stopped && self.make_shallower(&now.cut, stiff) {
            let shop = &mut self.shop;
            let cut: Vec<Bite> = (windows.iter())
                .flat_map(|number| shop.windows[*number].opened(*number))
                .collect();
            let laid = shop.opened(&cut, &now.laid, now.laid.proud, watch);
            let laid = match laid {
                Some(laid) => Some(laid),
                None => shop.laid_anew(&cut, now.laid.proud, watch).ok(),
            };
            let Some(laid) = laid else { break };
            now = shop.made_small(Found { cut, laid }, windows, None, watch);
            if shop.lawful(&now.cut) && shop.is_stiff(&now.cut, stiff) {
                found = Some(now.clone());
            }
        }
        self.shop.windows = whole;
        found
    }

    /// Makes the windows of ribs that a cut leaves too weak so shallow that, as
    /// wide as it is, it would not. Whether any of them became shallower and
    /// none was closed.
    fn make_shallower(&mut self, cut: &[Bite], stiff: Stiff) -> bool {
        let shop = &mut self.shop;
        let mut shallow = false;
        for rib in 0..shop.ribs.len() {
            let own = |bite: &&Bite| shop.windows[bite.window].rib == rib;
            let own: Vec<Bite> = cut.iter().filter(own).copied().collect();
            if shop.is_stiff(&own, stiff) {
                continue;
            }
            let deepest = own.iter().map(|bite| bite.depth).max().unwrap_or(0);
            let at_most = |depth: i32| -> Vec<Bite> {
                let cap = |bite: &Bite| Bite {
                    depth: bite.depth.min(depth),
                    ..*bite
                };
                own.iter().map(cap).collect()
            };
            let depth = (1..deepest)
                .rev()
                .find(|depth| shop.is_stiff(&at_most(*depth), stiff));
            let Some(depth) = depth else { return false };
            let mine = |window: &&mut Window| window.rib == rib;
            for window in shop.windows.to_mut().iter_mut().filter(mine) {
                for deep in &mut window.deepest {
                    *deep = (*deep).min(depth);
                }
            }
            shallow = true;
        }
        shallow
    }
}

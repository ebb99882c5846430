//! Fewer and longer motions.

use super::Posture;
use super::certify::{Checks, certify};
use super::passage::Passage;

/// The same way with as many postures left out as can be seen to be needless,
/// each longer motion certified to have `spare` mm all along. Its ends stay.
pub fn shorten(
    passage: &Passage<'_>,
    way: &[Posture],
    spare: f64,
    checks: &mut Checks,
) -> Vec<Posture> {
    let mut way = way.to_vec();
    loop {
        let shorter = once(passage, &way, spare, checks);
        if shorter.len() == way.len() {
            return way;
        }
        way = shorter;
    }
}

fn once(passage: &Passage<'_>, way: &[Posture], spare: f64, checks: &mut Checks) -> Vec<Posture> {
    let mut kept = vec![way[0]];
    let mut at = 0;
    while at + 1 < way.len() {
        let mut next = way.len() - 1;
        while next > at + 1 {
            if certify(passage, [&way[at], &way[next]], spare, checks).is_some() {
                break;
            }
            next = at + (next - at) / 2;
        }
        kept.push(way[next]);
        at = next;
    }
    kept
}

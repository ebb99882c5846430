//! Fewer and longer motions.

use super::Posture;
use super::certify::{Checks, certify};
use super::passage::Passage;

/// The same way with as many postures left out as can be seen to be needless,
/// each longer motion certified. Ends and the steepest tilt stay.
pub fn shorten(passage: &Passage<'_>, way: &[Posture], checks: &mut Checks) -> Vec<Posture> {
    let mut kept = vec![way[0]];
    let mut at = 0;
    while at + 1 < way.len() {
        let mut next = way.len() - 1;
        while next > at + 1 && certify(passage, &way[at], &way[next], checks).is_none() {
            next = at + (next - at) / 2;
        }
        kept.push(way[next]);
        at = next;
    }
    kept
}

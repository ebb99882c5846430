//! One look at an arrangement, the unit as far in as it can be.

use crate::routing::Effort;
use crate::seating::attempt::{Attempt, Wanted, attempt};
use crate::seating::seat::{Found, Looking};
use crate::seating::variants::Variants;

/// Every lead laid once with the unit at `least` mm, its cables in the exits as
/// they lie best; whoever wants to know more looks further.
///
/// * `watch`: as for the search for the seat
pub fn glance(
    variants: &Variants<'_>,
    least: f64,
    effort: &Effort,
    watch: &mut dyn FnMut(Looking) -> bool,
) -> Found {
    let looking = Looking {
        proud: least,
        tried: 0,
    };
    let first: Attempt = attempt(
        variants.scene(0),
        least,
        &mut 0,
        Wanted::Most,
        effort,
        &mut |_| watch(looking),
    );
    Found {
        cancelled: first.cancelled,
        first,
        further: None,
        short: None,
    }
}

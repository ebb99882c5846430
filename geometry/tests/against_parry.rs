//! Signed distances against a general-purpose collision library
//! (parry3d-f64 0.31, <https://parry.rs>), 10,000 pairs of every kind.
//!
//! Where the two differ by more than 1e-6 mm, [`proof`] decides: the library
//! stops its search early on round shapes, a few microns out, and now and then
//! loses its way on deep overlaps. It is never allowed that ours is wrong.

use std::collections::BTreeMap;

use geometry::{Nearest, Solid, nearest, signed_distance};
use parry3d_f64::query;

mod proof;
mod random_solids;

use random_solids::{KINDS, Kind, Seeded, parry, solid};

const PAIRS: usize = 10_000;

/// Most the two may differ, mm.
const AGREED: f64 = 1e-6;

/// Most that our figure may differ from what is certain, mm.
const CERTAIN: f64 = 1e-8;

/// Cells of the sphere a proof may look at.
const MOST_CELLS: usize = 5_000_000;

fn their_distance(a: &Solid, b: &Solid) -> f64 {
    let (place_a, shape_a) = parry(a);
    let (place_b, shape_b) = parry(b);
    let apart = query::distance(&place_a, &*shape_a, &place_b, &*shape_b);
    let apart = apart.expect("a supported pair").distance;
    if apart > 0.0 {
        return apart;
    }
    query::contact(&place_a, &*shape_a, &place_b, &*shape_b, 0.0)
        .expect("a supported pair")
        .map_or(f64::NAN, |contact| contact.dist)
}

/// Whether our figure is right to [`AGREED`], by proof.
fn is_proved(a: &Solid, b: &Solid, found: &Nearest) -> bool {
    if found.distance > 0.0 {
        let [least, most] = proof::band(a, b, found);
        least - CERTAIN <= found.distance
            && found.distance <= most + CERTAIN
            && most - least <= AGREED
    } else {
        let attained = proof::width(a, b, found.direction) >= found.distance - CERTAIN;
        attained && proof::overlaps_by(a, b, -found.distance - AGREED, MOST_CELLS) == Some(true)
    }
}

#[test]
fn every_kind_of_pair_agrees_or_is_proved() {
    let mut seeded = Seeded(1);
    let mut tally: BTreeMap<(Kind, Kind), [usize; 3]> = BTreeMap::new();
    let mut disagreed = 0;
    for number in 0..PAIRS {
        let (kind_a, kind_b) = (KINDS[seeded.below(5)], KINDS[seeded.below(5)]);
        let a = solid(kind_a, &mut seeded);
        let way = seeded.direction();
        let b = solid(kind_b, &mut seeded).shifted(way * seeded.within(0.0, 60.0));
        let found = nearest(&a, &b);
        assert_eq!(found.distance, signed_distance(&a, &b));

        // What is certain whatever the library says: the width along the
        // direction found is free, the points lie on the solids and as far apart.
        let pair = || format!("pair {number}: {a:?} and {b:?}: {found:?}");
        let width = proof::width(&a, &b, found.direction);
        assert!((width - found.distance).abs() <= CERTAIN, "{}", pair());
        let between = found.on_a.distance(found.on_b);
        assert!(
            (between - found.distance.abs()).abs() <= CERTAIN,
            "{}",
            pair()
        );
        assert!(
            proof::outside(&a, found.on_a).abs() <= CERTAIN,
            "{}",
            pair()
        );
        assert!(
            proof::outside(&b, found.on_b).abs() <= CERTAIN,
            "{}",
            pair()
        );

        let theirs = their_distance(&a, &b);
        let agrees = (found.distance - theirs).abs() <= AGREED;
        if !agrees {
            disagreed += 1;
            assert!(is_proved(&a, &b, &found), "theirs {theirs}, {}", pair());
        }
        let key = (kind_a.min(kind_b), kind_a.max(kind_b));
        let counts = tally.entry(key).or_default();
        counts[usize::from(found.distance <= 0.0)] += 1;
        counts[2] += usize::from(!agrees);
    }
    println!("pair: apart, overlapping, theirs proved wrong by more than {AGREED} mm");
    let mut sums = [0; 3];
    for (pair, counts) in &tally {
        println!("{pair:?}: {counts:?}");
        (0..3).for_each(|i| sums[i] += counts[i]);
    }
    println!("all: {sums:?}");
    assert_eq!(tally.len(), 15);
    assert!(sums[0] > PAIRS * 2 / 5 && sums[1] > PAIRS * 2 / 5);
    assert!(disagreed < PAIRS / 50, "{disagreed} disagreements");
}

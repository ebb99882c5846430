//! Signed distances against a general-purpose collision library
//! (parry3d-f64 0.31, <https://parry.rs>).

use std::collections::BTreeMap;

use geometry::{Solid, signed_distance};
use parry3d_f64::query;

mod random_solids;
use random_solids::{KINDS, Kind, Seeded, parry, solid};

const PAIRS: usize = 10_000;

fn their_distance(a: &Solid, b: &Solid) -> f64 {
    let (place_a, shape_a) = parry(a);
    let (place_b, shape_b) = parry(b);
    let apart = query::distance(&place_a, &*shape_a, &place_b, &*shape_b)
        .expect("supported")
        .distance;
    if apart > 0.0 {
        return apart;
    }
    query::contact(&place_a, &*shape_a, &place_b, &*shape_b, 0.0)
        .expect("supported")
        .map_or(f64::NAN, |contact| contact.dist)
}

#[test]
fn agrees_on_every_kind_of_pair() {
    let mut seeded = Seeded(1);
    let mut table: BTreeMap<(Kind, Kind, bool), Vec<f64>> = BTreeMap::new();
    for _ in 0..PAIRS {
        let (ka, kb) = (KINDS[seeded.below(5)], KINDS[seeded.below(5)]);
        let a = solid(ka, &mut seeded);
        let way = seeded.direction();
        let b = solid(kb, &mut seeded).shifted(way * seeded.within(0.0, 60.0));
        let ours = signed_distance(&a, &b);
        let theirs = their_distance(&a, &b);
        let key = (ka.min(kb), ka.max(kb), ours > 0.0);
        table.entry(key).or_default().push(ours - theirs);
    }
    for (key, mut v) in table {
        v.sort_by(f64::total_cmp);
        let bad = v.iter().filter(|d| !(d.abs() <= 1e-6)).count();
        println!(
            "{key:?}: n {} bad {} min {:.3e} max {:.3e}",
            v.len(),
            bad,
            v[0],
            v[v.len() - 1]
        );
    }
}

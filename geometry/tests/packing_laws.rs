//! Laws that every packing obeys, whatever the circles.

use geometry::{Effort, Packing, handbook_multiplier, pack, rule_of_thumb};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// Outer diameters of thin-wall automotive cables and of coaxial ones, mm.
const WIRES: [f64; 8] = [1.2, 1.4, 1.6, 1.9, 2.4, 2.8, 4.0, 4.95];

/// Fails when circles overlap, stand out, or when the container is not the
/// smallest around them where they are.
fn check(packing: &Packing) {
    let radius = 0.5 * packing.diameter;
    let tolerance = 1e-9 * radius;
    let mut widest: f64 = 0.0;
    for (i, a) in packing.circles.iter().enumerate() {
        let reach = a.centre.length() + 0.5 * a.diameter;
        assert!(
            reach <= radius + tolerance,
            "{i} stands out by {}",
            reach - radius
        );
        widest = widest.max(reach);
        for (j, b) in packing.circles[..i].iter().enumerate() {
            let gap = a.centre.distance(b.centre) - 0.5 * (a.diameter + b.diameter);
            assert!(gap >= -tolerance, "{i} and {j} overlap by {}", -gap);
        }
    }
    assert!(
        (widest - radius).abs() <= tolerance,
        "nothing touches the container"
    );
}

/// No circle around these can be smaller: by area, by the two largest side by
/// side, and by the three largest if they were as small as the third.
fn lower_bound(diameters: &[f64]) -> f64 {
    let mut sorted = diameters.to_vec();
    sorted.sort_by(|a, b| b.total_cmp(a));
    let area = diameters.iter().map(|d| d * d).sum::<f64>().sqrt();
    let two = sorted.iter().take(2).sum::<f64>();
    let three = sorted.get(2).map_or(0.0, |d| d * (1.0 + 2.0 / 3f64.sqrt()));
    area.max(two).max(three)
}

/// Any sizes, from all alike to 1 : 20.
fn mix(most: usize) -> impl Strategy<Value = Vec<f64>> {
    prop_oneof![
        prop::collection::vec(0.5..10.0, 1..=most),
        prop::collection::vec(prop::sample::select(WIRES.to_vec()), 1..=most),
        (0.1..10.0, 1..=most).prop_map(|(diameter, n)| vec![diameter; n]),
        (1..=most, 0.999..1.001).prop_map(|(n, near)| {
            (0..n)
                .map(|i| if i % 2 == 0 { 2.0 } else { 2.0 * near })
                .collect()
        }),
    ]
}

/// A loom of wires in three to five sizes.
fn loom(sizes: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Vec<f64>> {
    prop::sample::subsequence(WIRES.to_vec(), 3..=5).prop_flat_map(move |kinds| {
        prop::collection::vec(prop::sample::select(kinds), sizes.clone())
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn nothing_overlaps_or_stands_out(diameters in mix(61)) {
        let packing = pack(&diameters, Effort::Quick);
        check(&packing);
        prop_assert!(packing.diameter >= lower_bound(&diameters) * (1.0 - 1e-9));
        let given: Vec<f64> = packing.circles.iter().map(|circle| circle.diameter).collect();
        prop_assert_eq!(given, diameters);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn nothing_overlaps_with_more_effort(diameters in mix(61)) {
        check(&pack(&diameters, Effort::Normal));
    }

    #[test]
    fn the_order_changes_nothing(diameters in mix(25).prop_flat_map(|mix| {
        (Just(mix.clone()), Just(mix).prop_shuffle())
    })) {
        let (one, other) = diameters;
        let (one, other) = (pack(&one, Effort::Normal), pack(&other, Effort::Normal));
        prop_assert_eq!(one.diameter.to_bits(), other.diameter.to_bits());
        prop_assert_eq!(sorted_bits(&one), sorted_bits(&other));
    }

    #[test]
    fn the_scale_scales_all(diameters in mix(25), scale in 0.01..100.0) {
        let scaled: Vec<f64> = diameters.iter().map(|d| scale * d).collect();
        let (one, other) = (pack(&diameters, Effort::Normal), pack(&scaled, Effort::Normal));
        let off: f64 = other.diameter / (scale * one.diameter) - 1.0;
        prop_assert!(off.abs() < 1e-9, "off by {off:e}");
    }

}

/// The law is 0.5 %. The search is not perfect: 1 of these 300 looms breaks it, by
/// 0.04 %. The looms are the same in every run.
#[test]
fn one_wire_more_does_not_make_a_loom_thinner() {
    let mut runner = TestRunner::deterministic();
    let looms = loom(2..=40);
    let mut breaks = Vec::new();
    for _ in 0..300 {
        let wires = looms.new_tree(&mut runner).unwrap().current();
        let all = pack(&wires, Effort::Normal).diameter;
        let fewer = pack(&wires[1..], Effort::Normal).diameter;
        if fewer > 1.005 * all {
            breaks.push((fewer / all, wires.len(), wires[0]));
        }
    }
    assert!(breaks.len() <= 3, "looms grow by losing a wire: {breaks:?}");
    assert!(
        breaks.iter().all(|(grown, ..)| *grown < 1.01),
        "by much: {breaks:?}"
    );
}

/// The circles in one order, bit for bit.
fn sorted_bits(packing: &Packing) -> Vec<[u64; 3]> {
    let mut bits: Vec<_> = packing
        .circles
        .iter()
        .map(|circle| [circle.diameter, circle.centre.x, circle.centre.y].map(f64::to_bits))
        .collect();
    bits.sort_unstable();
    bits
}

#[test]
fn none_one_and_two() {
    assert_eq!(pack(&[], Effort::Normal).diameter, 0.0);
    assert_eq!(pack(&[3.0], Effort::Normal).diameter, 3.0);
    let two = pack(&[1.0, 3.0], Effort::Normal);
    assert!((two.diameter - 4.0).abs() < 1e-9);
}

#[test]
fn effort_never_harms_much() {
    let wires: Vec<f64> = (0..24).map(|i| WIRES[i % 5]).collect();
    let normal = pack(&wires, Effort::Normal);
    let careful = pack(&wires, Effort::Careful);
    check(&careful);
    assert!(careful.diameter <= normal.diameter * 1.001);
}

#[test]
fn packings_touch() {
    // Held by contacts: circles apart by less than a billionth.
    let packing = pack(&[2.0; 19], Effort::Normal);
    let touching = packing
        .circles
        .iter()
        .enumerate()
        .flat_map(|(i, a)| packing.circles[..i].iter().map(move |b| (a, b)))
        .filter(|(a, b)| a.centre.distance(b.centre) < 2.0 + 1e-8)
        .count();
    assert!(touching >= 24, "only {touching} contacts");
}

#[test]
fn equal_wires_beside_the_handbook() {
    for n in [19, 37, 61] {
        let packed = pack(&vec![1.0; n], Effort::Normal).diameter;
        let table = handbook_multiplier(n).unwrap();
        let rule = rule_of_thumb(&vec![1.0; n]);
        assert!(
            packed <= table && table <= rule,
            "{n}: {packed}, {table}, {rule}"
        );
    }
    // The table is below what is possible for 4, 5, 12 and 24 wires, by up to
    // 0.8 %, and above by up to 11 %, for 9 wires.
    for n in 1..=61 {
        let packed = pack(&vec![1.0; n], Effort::Normal).diameter;
        let table = handbook_multiplier(n).unwrap();
        assert!(packed <= 1.008 * table, "{n}: {packed}, {table}");
        assert!(packed >= table / 1.11, "{n}: {packed}, {table}");
    }
}

#[test]
fn unequal_wires_beside_the_rule_of_thumb() {
    // A wire-supplier handbook's example, read: 4.91426 mm by the rule.
    let wires = [1.19, 1.19, 1.19, 1.40, 1.40, 1.40, 1.40, 1.40, 1.65];
    let packed = pack(&wires, Effort::Normal).diameter;
    assert!(packed < rule_of_thumb(&wires) && packed > 0.9 * rule_of_thumb(&wires));
}

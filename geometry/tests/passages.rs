//! Leads in holes: closed forms, laws, and a search that knows nothing of ours.

use std::f64::consts::{PI, SQRT_2};

use geometry::Effort;
use geometry::looms::passage::{
    FeedThrough, Head, Hole, Lumps, Passage, Passes, WhyNot, feed_through, fullest, lie_in,
};
use glam::DVec2;
use proptest::prelude::*;

fn growth(diameters: &[f64], hole: &Hole) -> f64 {
    fullest(diameters, hole, Effort::Normal).passage.growth
}

fn polygon(corners: &[(f64, f64)]) -> Hole {
    Hole::Polygon(corners.iter().map(|&(x, y)| DVec2::new(x, y)).collect())
}

/// An L of two slots 10 wide, one leg 40 across, the other 30 up.
fn angle() -> Hole {
    polygon(&[
        (0., 0.),
        (40., 0.),
        (40., 10.),
        (10., 10.),
        (10., 30.),
        (0., 30.),
    ])
}

/// Distance of a point from the nearest side of a polygon, by its own way.
fn from_sides(point: DVec2, corners: &[DVec2]) -> f64 {
    (0..corners.len())
        .map(|i| {
            let (a, b) = (corners[i], corners[(i + 1) % corners.len()]);
            let t = ((point - a).dot(b - a) / (b - a).length_squared()).clamp(0.0, 1.0);
            point.distance(a.lerp(b, t))
        })
        .fold(f64::INFINITY, f64::min)
}

/// Whether a point is inside a polygon: the angle its corners turn about it.
fn inside(point: DVec2, corners: &[DVec2]) -> bool {
    let turn: f64 = (0..corners.len())
        .map(|i| {
            let (a, b) = (corners[i] - point, corners[(i + 1) % corners.len()] - point);
            a.perp_dot(b).atan2(a.dot(b))
        })
        .sum();
    turn.abs() > PI
}

/// Nothing overlaps and nothing stands out, by more than rounding.
fn lies_truly(passage: &Passage, hole: &Hole) {
    for (i, one) in passage.placed.iter().enumerate() {
        for other in &passage.placed[..i] {
            let apart = one.centre.distance(other.centre);
            assert!(apart >= 0.5 * (one.diameter + other.diameter) - 1e-7);
        }
        match hole {
            Hole::Round(bore) => {
                assert!(one.centre.length() + 0.5 * one.diameter <= 0.5 * bore + 1e-7);
            }
            Hole::Polygon(corners) => {
                assert!(inside(one.centre, corners), "{:?}", one.centre);
                assert!(from_sides(one.centre, corners) >= 0.5 * one.diameter - 1e-7);
            }
        }
    }
}

/// Least distance of n points in the unit square: H. T. Croft, K. J. Falconer,
/// R. K. Guy, "Unsolved problems in geometry", D1 (from memory).
#[test]
fn circles_in_a_square_grow_as_far_as_the_closed_forms() {
    let points = [
        (2, SQRT_2),
        (3, 6f64.sqrt() - SQRT_2),
        (4, 1.0),
        (5, 0.5 * SQRT_2),
        (6, 13f64.sqrt() / 6.0),
        (7, 4.0 - 2.0 * 3f64.sqrt()),
        (8, 0.5 * (6f64.sqrt() - SQRT_2)),
        (9, 0.5),
    ];
    let square = Hole::rectangle(100.0, 100.0);
    assert!((growth(&[100.0], &square) - 1.0).abs() < 1e-12);
    for (count, apart) in points {
        let diameter = 100.0 * apart / (1.0 + apart);
        let growth = growth(&vec![diameter; count], &square);
        assert!((growth - 1.0).abs() < 1e-7, "{count}: {growth}");
    }
}

/// (a - 2r)² + (b - 2r)² = (2r)²: two circles corner to corner.
#[test]
fn two_circles_in_a_rectangle_grow_as_far_as_the_closed_form() {
    for (a, b) in [(30.0f64, 30.0f64), (40.0, 30.0), (50.0, 35.0), (44.0, 41.0)] {
        let both = a + b;
        let diameter = both - (both * both - a * a - b * b).sqrt();
        let growth = growth(&[diameter; 2], &Hole::rectangle(a, b));
        assert!((growth - 1.0).abs() < 1e-9, "{a} x {b}: {growth}");
    }
}

#[test]
fn what_just_fits_passes_and_a_hair_more_is_proved_not_to() {
    let slot = Hole::rectangle(24.0, 8.0);
    let passage = lie_in(&[8.0; 3], &slot, Effort::Normal);
    assert_eq!(passage.verdict, Passes::Yes, "{passage:?}");
    lies_truly(&passage, &slot);
    let over = lie_in(&[8.001; 3], &slot, Effort::Normal).verdict;
    assert!(matches!(over, Passes::No(WhyNot::TooThick { .. })));
    let two = lie_in(&[16.0, 16.01], &Hole::Round(32.0), Effort::Normal).verdict;
    assert!(
        matches!(two, Passes::No(WhyNot::TwoLargest { .. })),
        "{two:?}"
    );
    let two = lie_in(&[8.0, 8.0], &Hole::rectangle(15.99, 8.0), Effort::Normal).verdict;
    assert!(
        matches!(two, Passes::No(WhyNot::TwoLargest { .. })),
        "{two:?}"
    );
    let many = lie_in(&[3.0; 9], &Hole::rectangle(30.0, 2.0), Effort::Normal).verdict;
    assert!(
        matches!(many, Passes::No(WhyNot::TooThick { .. })),
        "{many:?}"
    );
    let area = lie_in(&[8.0; 40], &Hole::rectangle(40.0, 40.0), Effort::Normal).verdict;
    assert!(matches!(area, Passes::No(WhyNot::Areas { .. })), "{area:?}");
    let crossed = polygon(&[(0., 0.), (10., 10.), (10., 0.), (0., 10.)]);
    let no = lie_in(&[1.0], &crossed, Effort::Normal).verdict;
    assert_eq!(no, Passes::No(WhyNot::NoHole));
}

/// Circles of diameter 2 in discs of radius 3 to 6: 7, 11, 19, 27 (OEIS
/// A023393, read; proved to radius 5).
#[test]
fn as_many_circles_lie_in_a_round_hole_as_the_published_list_says() {
    for (radius, most) in [(3.0, 7), (4.0, 11), (5.0, 19)] {
        let hole = Hole::Round(2.0 * radius);
        let passage = lie_in(&vec![2.0; most], &hole, Effort::Normal);
        assert_eq!(passage.verdict, Passes::Yes, "{most} in {radius}");
        lies_truly(&passage, &hole);
        let over = lie_in(&vec![2.0; most + 1], &hole, Effort::Normal).verdict;
        assert_ne!(over, Passes::Yes, "{} in {radius}", most + 1);
    }
    let eight = lie_in(&[2.0; 8], &Hole::Round(6.0), Effort::Normal).verdict;
    let proved = WhyNot::SoManyAlike {
        count: 8,
        diameter: 2.0,
        most: 7,
    };
    assert_eq!(eight, Passes::No(proved));
}

#[test]
fn the_largest_round_in_an_angle_lies_in_its_elbow() {
    // It touches both outer walls and the inner corner: r = |(10, 10) - (r, r)|.
    let radius = 10.0 * (2.0 - SQRT_2);
    let (centre, diameter) = angle().largest_round().unwrap();
    assert!((diameter - 2.0 * radius).abs() < 1e-9);
    assert!(centre.distance(DVec2::splat(radius)) < 1e-9);
    let (_, slot) = Hole::rectangle(40.0, 8.0).largest_round().unwrap();
    assert!((slot - 8.0).abs() < 1e-12);
}

#[test]
fn a_re_entrant_hole_is_filled_round_its_corner() {
    let leads = [11.0, 9.5, 9.5, 9.5, 9.5];
    let passage = lie_in(&leads, &angle(), Effort::Normal);
    assert_eq!(passage.verdict, Passes::Yes, "{passage:?}");
    lies_truly(&passage, &angle());
}

#[test]
fn the_thickest_cable_more_fills_the_gap() {
    // Four of 10 in the corners of a square of 24 leave the middle.
    let hole = Hole::rectangle(24.0, 24.0);
    let full = fullest(&[10.0; 4], &hole, Effort::Normal);
    let middle = 14.0 * SQRT_2 - 10.0;
    assert!(full.one_more >= middle - 0.01, "{}", full.one_more);
    // In a round hole beside one cable: what is left of the bore.
    let full = fullest(&[12.0], &Hole::Round(30.0), Effort::Normal);
    assert!((full.one_more - 18.0).abs() < 1e-4, "{}", full.one_more);
}

#[test]
fn a_wide_plug_passes_across_the_corners_only() {
    // A plug 30 x 2 in a hole 22 x 22: its diagonal room is 22 √2 - 2 = 29.11.
    let lead = |plug: [f64; 2]| FeedThrough {
        id: "video".into(),
        cables: vec![6.0],
        plug: Some(plug),
        lumps: Vec::new(),
    };
    let hole = Hole::rectangle(22.0, 22.0);
    let through = |plug| feed_through(&[lead(plug)], &hole, Lumps::Staggered, Effort::Normal);
    let fed = through([29.0, 2.0]);
    assert_eq!(fed.held, None);
    let turn = fed.feeds[0].blocks[0].turn.rem_euclid(0.5 * PI);
    assert!((turn - 0.25 * PI).abs() < 0.05, "{turn}");
    let held = through([30.0, 2.0]).held.unwrap();
    assert_eq!((held.lead, held.head), (0, Head::Plug));
    // w - s + h - s = 22 √2 across the diagonal, as long as some height is left.
    let exact = 0.5 * (32.0 - 22.0 * SQRT_2);
    assert!(held.too_large_by >= exact - 1e-6);
    assert!(held.too_large_by < exact + 0.2, "{}", held.too_large_by);
}

#[test]
fn the_plug_that_passes_beside_all_cables_goes_last() {
    let lead = |id: &str, cable: f64, plug: Option<[f64; 2]>| FeedThrough {
        id: id.into(),
        cables: vec![cable],
        plug,
        lumps: Vec::new(),
    };
    let leads = [
        lead("thin", 3.0, Some([6.0, 6.0])),
        lead("wide", 6.0, Some([20.0, 10.0])),
        lead("bare", 5.0, None),
    ];
    let hole = Hole::rectangle(21.0, 11.0);
    let fed = feed_through(&leads, &hole, Lumps::Staggered, Effort::Normal);
    assert_eq!(fed.held, None);
    let plugs: Vec<usize> = (fed.feeds.iter())
        .filter(|feed| feed.head == Head::Plug)
        .map(|feed| feed.lead)
        .collect();
    assert_eq!(plugs, [1, 0]);
    assert!(fed.feeds[0].cables.is_empty());
    // Two wide plugs never pass: the second finds the first one's cable there.
    let twice = [leads[1].clone(), leads[1].clone()];
    let held = feed_through(&twice, &hole, Lumps::Staggered, Effort::Normal).held;
    let held = held.unwrap();
    assert_eq!((held.id.as_str(), held.head), ("wide", Head::Plug));
    assert!(held.too_large_by > 0.0 && held.too_large_by < 10.0);
}

#[test]
fn lumps_that_pass_one_by_one_may_not_lie_there_together() {
    let lead = |id: &str| FeedThrough {
        id: id.into(),
        cables: vec![4.0],
        plug: None,
        lumps: vec![[12.0, 8.0]],
    };
    let leads = [lead("one"), lead("other")];
    let hole = Hole::rectangle(15.0, 12.0);
    let apart = feed_through(&leads, &hole, Lumps::Staggered, Effort::Normal);
    assert_eq!(apart.held, None);
    let together = feed_through(&leads, &hole, Lumps::Together, Effort::Normal);
    let held = together.held.unwrap();
    assert_eq!(held.head, Head::AllLumps);
    let wider = Hole::rectangle(16.5, 12.0);
    let together = feed_through(&leads, &wider, Lumps::Together, Effort::Normal);
    assert_eq!(together.held, None, "{together:?}");
}

/// A dumb search: many random tries at putting one circle after another.
fn thrown_in(diameters: &[f64], width: f64, height: f64, seed: u64) -> bool {
    let mut state = seed;
    let mut unit = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (state >> 11) as f64 / (1u64 << 53) as f64
    };
    (0..200).any(|_| {
        let mut laid: Vec<(DVec2, f64)> = Vec::new();
        diameters.iter().all(|d| {
            (0..60).any(|_| {
                let share = DVec2::new(unit() - 0.5, unit() - 0.5);
                let at = share * DVec2::new(width - d, height - d);
                let free = laid
                    .iter()
                    .all(|(other, r)| at.distance(*other) >= r + 0.5 * d);
                if free {
                    laid.push((at, 0.5 * d));
                }
                free
            })
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn what_is_thrown_in_at_random_is_found_too(
        diameters in prop::collection::vec(3.0..9.0f64, 1..7),
        width in 12.0..30.0f64,
        height in 10.0..20.0f64,
        seed in 1u64..1000,
    ) {
        let hole = Hole::rectangle(width, height);
        let passage = lie_in(&diameters, &hole, Effort::Normal);
        if thrown_in(&diameters, width, height, seed) {
            prop_assert_eq!(passage.verdict, Passes::Yes);
        }
        if passage.verdict == Passes::Yes {
            lies_truly(&passage, &hole);
        }
    }

    #[test]
    fn what_lies_in_a_hole_lies_in_a_larger_one(
        diameters in prop::collection::vec(3.0..9.0f64, 1..6),
        more in 1.0..1.5f64,
    ) {
        let Hole::Polygon(corners) = angle() else { unreachable!() };
        let larger = Hole::Polygon(corners.iter().map(|corner| *corner * more).collect());
        if lie_in(&diameters, &angle(), Effort::Normal).verdict == Passes::Yes {
            let passage = lie_in(&diameters, &larger, Effort::Normal);
            prop_assert_eq!(passage.verdict, Passes::Yes);
            lies_truly(&passage, &larger);
        }
    }

    /// A proof is never refuted by a place.
    #[test]
    fn what_was_put_there_is_never_proved_impossible(
        centres in prop::collection::vec((0.0..30.0f64, 0.0..20.0f64), 2..9),
    ) {
        // Circles as large as these places allow, in the least rectangle around them.
        let at: Vec<DVec2> = centres.iter().map(|&(x, y)| DVec2::new(x, y)).collect();
        let mut radii = vec![f64::INFINITY; at.len()];
        for i in 0..at.len() {
            for j in 0..at.len() {
                if i != j {
                    let taken = if j < i { radii[j] } else { 0.5 * at[i].distance(at[j]) };
                    radii[i] = radii[i].min(at[i].distance(at[j]) - taken);
                }
            }
        }
        prop_assume!(radii.iter().all(|r| *r > 0.05));
        let mut low = DVec2::splat(f64::INFINITY);
        let mut high = -low;
        for (at, r) in at.iter().zip(&radii) {
            low = low.min(*at - *r);
            high = high.max(*at + *r);
        }
        let size = high - low;
        let diameters: Vec<f64> = radii.iter().map(|r| 2.0 * r).collect();
        let verdict = lie_in(&diameters, &Hole::rectangle(size.x, size.y), Effort::Normal).verdict;
        prop_assert!(!matches!(verdict, Passes::No(_)), "{:?}", verdict);
    }
}

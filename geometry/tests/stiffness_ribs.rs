//! Notched ribs: the strip rule by hand, elements, doublers, another library.

use approx::assert_abs_diff_eq;
use geometry::stiffness::{
    Doubler, Edge, Figure, Fineness, Hold, Load, Notch, Push, Rib, RibFault, Whole, cut,
    deflection, on_one_mesh, stiffness_kept,
};
use glam::{DVec2, DVec3};

const LOWER: Edge = Edge::Lower;

fn at(x: f64, y: f64) -> DVec2 {
    DVec2::new(x, y)
}

/// Upward in the plane, 1 N.
fn up(x: f64) -> Load {
    let force = DVec3::Y;
    Load::Own(vec![Push {
        at: at(x, 0.0),
        force,
    }])
}

fn post_van() -> (Rib, Notch) {
    let rib = Rib::rectangle(at(-98., -12.), at(98., 26.), 2.5, 2500.0);
    (rib, Notch::new(LOWER, [30.0, 58.0], 12.5, 4.0))
}

/// The notch of the quick rule, whatever its depth: kept for a push at the
/// centre and at the notch. Computed by the strip rule, to a whole percent.
#[test]
fn the_strip_rule_on_the_post_van() {
    let (rib, notch) = post_van();
    let table = [
        (6.0, 92.0, 81.0),
        (8.0, 88.0, 73.0),
        (10.0, 83.0, 65.0),
        (12.5, 76.0, 55.0),
        (16.0, 64.0, 40.0),
        (20.0, 47.0, 25.0),
    ];
    let whole = Whole::new(rib).unwrap();
    let percent =
        |notch, load| (100.0 * whole.kept(&[notch], load).unwrap().strip.unwrap()).round();
    for (depth, centre, at_notch) in table {
        let notch = Notch { depth, ..notch };
        let found = [
            percent(notch, &Load::AtCentre),
            percent(notch, &Load::AtNotch(0)),
        ];
        assert_eq!(found, [centre, at_notch], "{depth} deep");
    }
    // A strip 3 by 25 of the same material, its lower edge flush with the notch.
    let strip = Doubler {
        thickness: 3.0,
        height: 25.0,
        lap: 15.0,
        modulus: 2500.0,
    };
    let notch = Notch {
        doubler: Some(strip),
        ..notch
    };
    let found = [
        percent(notch, &Load::AtCentre),
        percent(notch, &Load::AtNotch(0)),
    ];
    assert_eq!(found, [93.0, 84.0], "with the doubler");
}

/// Elements beside the strip rule on the same notch. They say less is kept: at
/// the foot of a notch the force has to turn into what is left, so that the rib
/// gives as if the notch were wider (for a push at the centre some 6 points).
/// The figure's own error is far smaller than that difference.
#[test]
fn elements_on_the_post_van_say_why_they_differ() {
    let (rib, notch) = post_van();
    let whole = Whole::new(rib).unwrap();
    for (load, least, most) in [(Load::AtCentre, 0.05, 0.08), (Load::AtNotch(0), 0.04, 0.08)] {
        let kept = whole.kept(&[notch], &load).unwrap();
        let (strip, found) = (kept.strip.unwrap(), kept.in_plane.unwrap());
        let below = strip - found.value;
        assert!(below > least && below < most, "{below}");
        assert!(found.error < 0.005, "{}", found.error);
    }
    // The wider the notch for its depth, the nearer they come.
    let below = |width: f64| {
        let notch = Notch::new(LOWER, [-0.5 * width, 0.5 * width], 12.5, 4.0);
        let kept = whole.kept(&[notch], &Load::AtCentre).unwrap();
        let in_plane = kept.in_plane.unwrap().value;
        (kept.strip.unwrap() - in_plane) / kept.strip.unwrap()
    };
    assert!(
        below(120.0) < 0.5 * below(28.0),
        "{} {}",
        below(120.0),
        below(28.0)
    );
}

/// Two usual meshes against one much finer pair: the error given bounds it.
#[test]
fn the_error_given_bounds_the_error_made() {
    let (rib, notch) = post_van();
    let usual = Fineness::usual(&rib);
    let fine = Fineness {
        near: 0.5 * usual.near,
        far: 0.5 * usual.far,
        round: 8,
    };
    let whole = Whole::new(rib.clone()).unwrap();
    let finer = Whole::meshed(rib, fine).unwrap();
    for notch in [
        notch,
        Notch {
            radius: 0.0,
            ..notch
        },
        Notch {
            depth: 20.0,
            radius: 1.5,
            ..notch
        },
    ] {
        for load in [Load::AtCentre, Load::AtNotch(0)] {
            let usual = whole.kept(&[notch], &load).unwrap();
            let exact = finer.kept(&[notch], &load).unwrap();
            let check = |usual: Figure, exact: Figure| {
                let off = (usual.value - exact.value).abs();
                assert!(
                    off <= usual.error + exact.error,
                    "{notch:?} {load:?}: {usual:?} {exact:?}"
                );
                assert!(usual.error < 0.01 && exact.error < 0.7 * usual.error);
            };
            check(usual.in_plane.unwrap(), exact.in_plane.unwrap());
            check(usual.out_of_plane.unwrap(), exact.out_of_plane.unwrap());
        }
    }
}

/// A bonded strip gives back most of what a notch takes, in the plane and out of it.
#[test]
fn a_doubler_gives_stiffness_back() {
    let (rib, notch) = post_van();
    let strip = Doubler {
        thickness: 3.0,
        height: 25.0,
        lap: 15.0,
        modulus: 2500.0,
    };
    let doubled = Notch {
        doubler: Some(strip),
        ..notch
    };
    for load in [Load::AtCentre, Load::AtNotch(0)] {
        let bare = stiffness_kept(&rib, &[notch], &load).unwrap();
        let kept = stiffness_kept(&rib, &[doubled], &load).unwrap();
        let gained = |kept: Figure, bare: Figure| (kept.value - bare.value) / (1.0 - bare.value);
        let flat = gained(kept.in_plane.unwrap(), bare.in_plane.unwrap());
        assert!(flat > 0.5, "{flat}");
        assert!(gained(kept.out_of_plane.unwrap(), bare.out_of_plane.unwrap()) > 0.8);
    }
}

/// Three notched ribs by scikit-fem 12.0.2, made by `stiffness_peer.py`.
#[test]
fn another_library_finds_the_same() {
    let rectangle = |low, high, thickness, modulus, poisson, how| {
        let mut rib = Rib::rectangle(low, high, thickness, modulus);
        rib.poisson = poisson;
        rib.held.iter_mut().for_each(|held| held.how = how);
        rib
    };
    let (van, notch) = post_van();
    let clamped = rectangle(at(0., 0.), at(120., 30.), 3.0, 2300.0, 0.35, Hold::Clamped);
    let mut tapered = rectangle(at(0., 0.), at(80., 34.), 2.0, 2400.0, 0.30, Hold::Clamped);
    tapered.held.truncate(1);
    tapered.outline = vec![at(0., 0.), at(80., 6.), at(80., 26.), at(0., 34.)];
    let upper = |along, depth, radius| Notch::new(Edge::Upper, along, depth, radius);
    let ribs = [
        ("post van", van, vec![notch]),
        (
            "clamped; one notch from each edge",
            clamped,
            vec![
                Notch::new(LOWER, [42.0, 54.0], 9.0, 6.0),
                upper([70.0, 88.0], 8.0, 3.0),
            ],
        ),
        (
            "tapered; from one wall",
            tapered,
            vec![upper([24.0, 44.0], 9.0, 2.0)],
        ),
    ];
    let table = include_str!("data/stiffness_peer.csv");
    let mut compared = 0;
    for line in table.lines().skip(1) {
        let fields: Vec<&str> = line.split(',').collect();
        let (_, rib, notches) = ribs.iter().find(|rib| rib.0 == fields[0]).unwrap();
        let notches = if fields[1] == "1" { &notches[..] } else { &[] };
        let x: f64 = fields[2].parse().unwrap();
        let expected: f64 = fields[4].parse().unwrap();
        let found = if fields[3] == "in plane" {
            deflection(rib, notches, &up(x), Fineness::usual(rib))
                .unwrap()
                .in_plane
        } else {
            // Spread over the height, as the peer has it, by many small pushes.
            let [low, high] = across(rib, notches, x);
            let pushes = (0..50).map(|i| {
                let y = low + (high - low) * (f64::from(i) + 0.5) / 50.0;
                Push {
                    at: at(x, y),
                    force: DVec3::Z / 50.0,
                }
            });
            let load = Load::Own(pushes.collect());
            deflection(rib, notches, &load, Fineness::usual(rib))
                .unwrap()
                .out_of_plane
        };
        let found = found.unwrap().value;
        assert!((found / expected - 1.0).abs() < 0.01, "{line}: {found}");
        compared += 1;
    }
    assert_eq!(compared, 24);
}

/// What is left of a rib's height at an x, lowest and highest, from its outline.
fn across(rib: &Rib, notches: &[Notch], x: f64) -> [f64; 2] {
    let outline = cut(rib, notches).unwrap();
    let corners = outline.corners();
    let next = corners.iter().cycle().skip(1);
    let meets = corners.iter().zip(next).filter_map(|(a, b)| {
        let share = (x - a.x) / (b.x - a.x);
        (-1e-12..=1.0 + 1e-12)
            .contains(&share)
            .then_some(a.y + (b.y - a.y) * share)
    });
    meets.fold([f64::MAX, f64::MIN], |[low, high], y| {
        [low.min(y), high.max(y)]
    })
}

/// What cannot be computed is said, notch by notch.
#[test]
fn faults_are_named() {
    let (rib, notch) = post_van();
    let fault =
        |rib: &Rib, notches: &[Notch], load: Load| stiffness_kept(rib, notches, &load).unwrap_err();
    let through = Notch {
        depth: 38.0,
        ..notch
    };
    assert_eq!(
        fault(&rib, &[through], Load::AtCentre),
        RibFault::CutThrough(0)
    );
    let opposite = Notch {
        edge: Edge::Upper,
        depth: 26.0,
        ..notch
    };
    assert_eq!(
        fault(&rib, &[notch, opposite], Load::AtCentre),
        RibFault::CutThrough(1)
    );
    let beside = Notch {
        along: [50.0, 70.0],
        ..notch
    };
    assert_eq!(
        fault(&rib, &[notch, beside], Load::AtCentre),
        RibFault::NotchesMeet(0, 1)
    );
    let off = Notch {
        along: [80.0, 98.0],
        ..notch
    };
    assert_eq!(
        fault(&rib, &[off], Load::AtCentre),
        RibFault::NotchOffEdge(0)
    );
    assert_eq!(
        fault(&rib, &[notch], Load::AtNotch(1)),
        RibFault::NoSuchNotch(1)
    );
    assert_eq!(fault(&rib, &[notch], up(120.0)), RibFault::LoadOff(0));
    let mut loose = rib.clone();
    loose.held.truncate(1);
    assert_eq!(fault(&loose, &[notch], Load::AtCentre), RibFault::Loose);
    let mut thin = rib.clone();
    thin.thickness = 0.0;
    assert_eq!(fault(&thin, &[notch], Load::AtCentre), RibFault::NotANumber);
    let mut cross = rib;
    cross.outline = vec![
        at(0., 0.),
        at(10., 0.),
        at(10., 5.),
        at(6., 5.),
        at(6., 2.),
        at(0., 2.),
    ];
    assert_eq!(fault(&cross, &[], Load::AtCentre), RibFault::NotAStrip);
}

/// The outline as cut has the area it should.
#[test]
fn the_outline_as_cut() {
    let (rib, notch) = post_van();
    let corner = (1.0 - std::f64::consts::FRAC_PI_4) * 16.0;
    let left = 196.0 * 38.0 - 28.0 * 12.5 + 2.0 * corner;
    assert_abs_diff_eq!(cut(&rib, &[notch]).unwrap().area(), left, epsilon = 0.2);
}

/// Sizes of meshes, and that nothing depends on chance.
#[test]
fn the_same_to_the_last_bit() {
    let (rib, notch) = post_van();
    let find =
        || on_one_mesh(&rib, &[notch], &Load::AtCentre, Fineness::usual(&rib), true).unwrap();
    assert_eq!(find(), find());
    assert!(find().elements > 300 && find().elements < 700);
}

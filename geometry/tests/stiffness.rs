//! Deflections against handbooks, published plates and another library.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use geometry::stiffness::{
    Doubler, Edge, Figure, Fineness, Held, Hold, Load, Notch, Push, Rib, RibFault, Whole, cut,
    deflection, on_one_mesh, stiffness_kept, strip_deflection,
};
use glam::{DVec2, DVec3};

const LOWER: Edge = Edge::Lower;

fn at(x: f64, y: f64) -> DVec2 {
    DVec2::new(x, y)
}

/// A rectangular rib from (0, 0), each end held as stated.
fn beam(length: f64, height: f64, ends: [Option<Hold>; 2]) -> Rib {
    let mut rib = Rib::rectangle(at(0., 0.), at(length, height), 2.5, 2300.0);
    let held = rib.held.clone();
    rib.held.clear();
    for (end, how) in held.into_iter().zip(ends) {
        rib.held.extend(how.map(|how| Held { how, ..end }));
    }
    rib
}

fn push(x: f64, y: f64, force: DVec3) -> Load {
    Load::Own(vec![Push {
        at: at(x, y),
        force,
    }])
}

/// Upward in the plane, 1 N.
fn up(x: f64) -> Load {
    push(x, 0.0, DVec3::Y)
}

fn in_plane(rib: &Rib, load: &Load) -> f64 {
    let found = deflection(rib, &[], load, Fineness::usual(rib)).unwrap();
    found.in_plane.unwrap().value
}

/// Slender beams, so that what shear adds is far below the 1 % asked for; and
/// shear itself on a stout one. Roark's Formulas for Stress and Strain, table
/// 8.1 (memory); shear by a coefficient of 5/6 (any mechanics text).
#[test]
fn beams_deflect_as_handbooks_say() {
    let inertia = |height: f64| 2.5 * height.powi(3) / 12.0;
    let (length, height) = (400.0, 12.0);
    let bend = f64::powi(length, 3) / (2300.0 * inertia(height));
    let (simple, clamped) = (Some(Hold::Simple), Some(Hold::Clamped));
    let cases = [
        ([clamped, None], 400.0, bend / 3.0),
        ([simple, simple], 200.0, bend / 48.0),
        ([clamped, clamped], 200.0, bend / 192.0),
        ([clamped, simple], 200.0, 7.0 * bend / 768.0),
    ];
    for (ends, x, expected) in cases {
        let rib = beam(length, height, ends);
        assert_relative_eq!(in_plane(&rib, &up(x)), expected, max_relative = 0.01);
        let strip = strip_deflection(&rib, &[], &up(x)).unwrap().unwrap();
        assert_relative_eq!(strip, expected, max_relative = 1e-9);
    }
    let stout = beam(196.0, 38.0, [simple, simple]);
    let shear_modulus = 2300.0 / (2.0 * (1.0 + stout.poisson));
    let bent = 196f64.powi(3) / (48.0 * 2300.0 * inertia(38.0));
    let sheared = 196.0 / (4.0 * shear_modulus * 2.5 * 38.0 * 5.0 / 6.0);
    assert_relative_eq!(
        in_plane(&stout, &up(98.0)),
        bent + sheared,
        max_relative = 0.01
    );
}

/// Many even pushes make a uniform load: 5 w L⁴ / 384 E I at the middle and
/// w L⁴ / 8 E I at a free end (Roark, table 8.1, memory). The mean under an even
/// load is 1/120 and 1/20 of w L⁴ / E I (integrals of those lines).
#[test]
fn beams_under_an_even_load() {
    let (length, height, count) = (400.0, 12.0, 80);
    let bend = f64::powi(length, 3) / (2300.0 * 2.5 * f64::powi(height, 3) / 12.0);
    let pushes = (0..count).map(|i| {
        let x = length * (f64::from(i) + 0.5) / f64::from(count);
        Push {
            at: at(x, 0.0),
            force: DVec3::Y / f64::from(count),
        }
    });
    let load = Load::Own(pushes.collect());
    let (simple, clamped) = (Some(Hold::Simple), Some(Hold::Clamped));
    for (ends, share) in [
        ([simple, simple], 1.0 / 120.0),
        ([clamped, None], 1.0 / 20.0),
    ] {
        let rib = beam(length, height, ends);
        assert_relative_eq!(in_plane(&rib, &load), bend * share, max_relative = 0.01);
    }
}

/// Edge-trimmed and stepped cantilevers: I 5625 to 1215, ratio 0.216, and the
/// integral over the stepped one (Roark's form, memory; computed here).
#[test]
fn trimmed_cantilevers_by_the_strip_rule() {
    let rib = beam(40.0, 30.0, [Some(Hold::Clamped), None]);
    let ten = push(40.0, 0.0, DVec3::Y * 10.0);
    let trimmed = |to: f64| Notch::new(LOWER, [0.0, to], 12.0, 0.0);
    let strip = |notches: &[Notch]| strip_deflection(&rib, notches, &ten).unwrap().unwrap();
    assert_abs_diff_eq!(strip(&[]), 0.016_489_5, epsilon = 1e-6);
    assert_abs_diff_eq!(strip(&[trimmed(40.0)]), 0.076_340_4, epsilon = 1e-6);
    assert_abs_diff_eq!(strip(&[trimmed(15.0)]), 0.061_728_4, epsilon = 1e-6);
    assert_relative_eq!(
        strip(&[]) / strip(&[trimmed(40.0)]),
        0.216,
        max_relative = 1e-9
    );
}

/// A square plate's quarter, 50 by 50, with D = 1.
fn plate(how: Hold) -> Rib {
    let mut rib = Rib::rectangle(at(0., 0.), at(50., 50.), 1.0, 12.0 * 0.91);
    rib.poisson = 0.3;
    let side = |from: [f64; 2], to: [f64; 2], how| Held {
        from: from.into(),
        to: to.into(),
        how,
    };
    rib.held = vec![
        side([0., 0.], [0., 50.], how),
        side([0., 0.], [50., 0.], how),
        side([50., 0.], [50., 50.], Hold::Mirrored),
        side([0., 50.], [50., 50.], Hold::Mirrored),
    ];
    rib
}

/// Square plates of side a: 0.01160 and 0.00560 P a² / D under a push at the
/// centre, 0.00406 and 0.00126 q a⁴ / D at the centre under an even load.
/// S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, tables
/// 8, 23, 35, 37 (memory). The centre's deflection under the even load is found
/// as the even load's work in the deflection of a push at the centre.
#[test]
fn square_plates_deflect_as_published() {
    let even: Vec<Push> = (0..100)
        .map(|i| {
            let place = at(f64::from(i % 10), f64::from(i / 10)) * 5.0 + 2.5;
            Push {
                at: place,
                force: DVec3::Z * 25.0,
            }
        })
        .collect();
    for (how, pushed, evenly) in [
        (Hold::Simple, 0.01160, 0.00406),
        (Hold::Clamped, 0.00560, 0.00126),
    ] {
        let rib = plate(how);
        let fineness = Fineness {
            near: 5.0,
            far: 5.0,
            round: 4,
        };
        // The work of a load, N mm: its force times its mean deflection.
        let work = |load: Vec<Push>| {
            let force: f64 = load.iter().map(|push| push.force.z.abs()).sum();
            let found = deflection(&rib, &[], &Load::Own(load), fineness).unwrap();
            force * found.out_of_plane.unwrap().value
        };
        let one = Push {
            at: at(50., 50.),
            force: DVec3::Z * 0.25,
        };
        let centre = 4.0 * work(vec![one]);
        assert_relative_eq!(centre, pushed * 1e4, max_relative = 0.02);
        // Both at once, less each alone, is twice the one in the other's movement.
        let scaled = Push {
            force: DVec3::Z * 250.0,
            ..one
        };
        let both = even.iter().copied().chain([scaled]).collect();
        let cross = work(both) - work(even.clone()) - work(vec![scaled]);
        // 4 quarters; an even load of 1 N/mm², a push of 1000 N.
        let found = 4.0 * cross / 2.0 / 1000.0;
        assert_relative_eq!(found, evenly * 1e8, max_relative = 0.02);
    }
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
    let mut tapered = beam(80.0, 34.0, [Some(Hold::Clamped), None]);
    tapered.outline = vec![at(0., 0.), at(80., 6.), at(80., 26.), at(0., 34.)];
    (tapered.thickness, tapered.modulus, tapered.poisson) = (2.0, 2400.0, 0.30);
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

//! Deflections against handbooks and published plates.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use geometry::stiffness::{
    Edge, Fineness, Held, Hold, Load, Notch, Push, Rib, deflection, strip_deflection,
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

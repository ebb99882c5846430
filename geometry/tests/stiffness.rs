//! Deflections against handbooks.

use geometry::stiffness::*;
use glam::{DVec2, DVec3};

const v: fn(f64, f64) -> DVec2 = DVec2::new;

#[test]
fn look() {
    let rib = Rib::rectangle(v(-98., -12.), v(98., 26.), 2.5, 2500.0);
    for d in [6.0, 8.0, 10.0, 12.5, 16.0, 20.0] {
        for r in [0.0, 4.0] {
            let notch = Notch::new(Edge::Lower, [30.0, 58.0], d, r);
            let c = stiffness_kept(&rib, &[notch], &Load::AtCentre);
            let n = stiffness_kept(&rib, &[notch], &Load::AtNotch(0));
            println!("{d} {r} {c:?}\n   {n:?}");
        }
    }
    let whole = deflection(&rib, &[], &Load::AtCentre, Fineness::usual(&rib)).unwrap();
    let i = 2.5 * 38f64.powi(3) / 12.0;
    let beam = 196f64.powi(3) / 48.0 / 2500.0 / i;
    println!(
        "{whole:?} beam {beam}  {:?}",
        strip_deflection(&rib, &[], &Load::AtCentre)
    );
    let square = |n: f64, how: Hold, q: bool| {
        let mut rib = Rib::rectangle(v(0., 0.), v(50., 50.), 1.0, 1000.0);
        rib.poisson = 0.3;
        let e = |a: (f64, f64), b: (f64, f64), how| Held {
            from: a.into(),
            to: b.into(),
            how,
        };
        rib.held = vec![
            e((0., 0.), (0., 50.), how),
            e((0., 0.), (50., 0.), how),
            e((50., 0.), (50., 50.), Hold::Mirrored),
            e((0., 50.), (50., 50.), Hold::Mirrored),
        ];
        let _ = q;
        let d = 1000.0 / 12.0 / (1.0 - 0.09);
        let load = Load::Own(vec![Push {
            at: v(50., 50.),
            force: DVec3::new(0., 0., 0.25),
        }]);
        let f = Fineness {
            near: n,
            far: n,
            round: 4,
        };
        let w = deflection(&rib, &[], &load, f)
            .unwrap()
            .out_of_plane
            .unwrap();
        println!(
            "plate {n} {how:?} {} {}",
            w.value * d / 1e4,
            w.error * d / 1e4
        );
    };
    for n in [10.0, 5.0, 2.5] {
        square(n, Hold::Simple, false);
        square(n, Hold::Clamped, false);
    }
}

//! Stiffness: what a search waits for per cut, and one rib at 5,000 and at
//! 20,000 elements, meshed, assembled and solved.
//!
//! `cargo bench -p geometry --bench stiffness`; beside a general-purpose
//! library: `python geometry/tests/stiffness_peer.py --times`

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use geometry::stiffness::{Edge, Fineness, Load, Notch, Rib, Whole, on_one_mesh};
use glam::DVec2;

/// The cross rib of the post van and the notch of its quick rule.
fn rib() -> (Rib, Notch) {
    let rib = Rib::rectangle(DVec2::new(-98., -12.), DVec2::new(98., 26.), 2.5, 2500.0);
    (rib, Notch::new(Edge::Lower, [30.0, 58.0], 12.5, 4.0))
}

fn search(c: &mut Criterion) {
    let (rib, notch) = rib();
    let whole = Whole::new(rib).expect("a rib held at both ends");
    c.bench_function("kept in plane, two meshes", |bench| {
        bench.iter(|| whole.in_plane(black_box(&[notch]), &Load::AtCentre))
    });
    c.bench_function("kept in and out of plane, strip beside", |bench| {
        bench.iter(|| whole.kept(black_box(&[notch]), &Load::AtNotch(0)))
    });
}

fn large(c: &mut Criterion) {
    let (rib, notch) = rib();
    for (near, about) in [(1.3, "5k"), (0.65, "20k")] {
        let fineness = Fineness {
            near,
            far: near,
            round: 4,
        };
        let solve = |in_plane| {
            on_one_mesh(
                black_box(&rib),
                &[notch],
                &Load::AtCentre,
                fineness,
                in_plane,
            )
        };
        let elements = solve(true).map_or(0, |it| it.elements);
        for (way, in_plane) in [("in plane", true), ("out of plane", false)] {
            c.bench_function(&format!("{about} ({elements} elements), {way}"), |bench| {
                bench.iter(|| solve(in_plane))
            });
        }
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = search, large
}
criterion_main!(benches);

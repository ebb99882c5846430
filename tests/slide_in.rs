//! Ways in that are not straight: worked by hand, tried at many postures with
//! a general-purpose collision library, and where there is none.

use acceptance::jobs::{bare, block, mm};
use geometry::{Job, Kind, Reading, lay_out};

/// Chassis 178 x 100 x 120 set 40 mm behind an opening of 184 x 106, a small
/// nose before it; a thin lip hangs from above, 30 mm in.
fn behind_a_lip(lip: f64) -> Job {
    let mut job = bare([184.0, 106.0], [178.0, 100.0, 120.0], 40.0);
    job.unit.nose.width = mm(120.0);
    job.unit.nose.height = mm(40.0);
    let low = [-150.0, 30.0, lip];
    job.cavity
        .obstacles
        .push(block("lip", Kind::Rib, low, [150.0, 31.0, 90.0]));
    job
}

#[test]
fn play() {
    let job = behind_a_lip(45.5);
    let layout = lay_out(&job, Reading::Nominal);
    for lip in [49.0, 46.0, 45.0, 44.0, 40.0] {
        let job = behind_a_lip(lip);
        let berths = geometry::fitting::berths(&job, Reading::Nominal);
        println!("{lip}: {berths:?}");
        let before = std::time::Instant::now();
        println!("{:#?}", geometry::slide_in(&job, Reading::Nominal, 0.0));
        println!("{:?}", before.elapsed());
    }
    drop(layout);
}

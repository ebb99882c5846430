//! One lead at a time.

use geometry::routing::{Effort, NoWay, route_one, verify};

use crate::random_cavities::cavity;

#[test]
fn a_lead_alone_finds_its_way() {
    let mut tally = (0, 0);
    let mut spent = Vec::new();
    for seed in 0..50 {
        let cavity = cavity(seed, 10, 5);
        for lead in 0..10 {
            let (around, task) = cavity.alone(lead);
            let started = std::time::Instant::now();
            let found = route_one(&around, &task, &Effort::default());
            spent.push(started.elapsed().as_secs_f64() * 1e3);
            if let Err(NoWay::RunBlocked { .. }) = found {
                continue;
            }
            tally.1 += 1;
            match found {
                Ok(path) => {
                    tally.0 += 1;
                    let breaches = verify(&around, &[task], &[Some(path)]);
                    assert!(breaches.is_empty(), "seed {seed} lead {lead}: {breaches:?}");
                }
                Err(why) => println!("seed {seed} lead {lead}: {why:?}"),
            }
        }
    }
    spent.sort_by(f64::total_cmp);
    let at = |share: f64| spent[(share * (spent.len() - 1) as f64) as usize];
    println!(
        "{} of {}; {:.2} ms median, {:.2} p90, {:.2} max",
        tally.0,
        tally.1,
        at(0.5),
        at(0.9),
        at(1.0)
    );
}

//! One lead at a time, where a way is known to exist.

use geometry::routing::{Effort, route_one, verify};

use crate::random_cavities::around_answer;

#[test]
fn a_lead_alone_finds_its_way() {
    let mut tally = (0, 0);
    let mut spent = Vec::new();
    let mut longer = Vec::new();
    for seed in 0..50 {
        let (cavity, hidden) = around_answer(seed, 10, 16);
        assert!(
            verify(
                &cavity.around(),
                &cavity.tasks,
                &hidden.iter().cloned().map(Some).collect::<Vec<_>>()
            )
            .is_empty()
        );
        for lead in 0..cavity.tasks.len() {
            let (around, task) = cavity.alone(lead);
            let started = std::time::Instant::now();
            let found = route_one(&around, &task, &Effort::default());
            spent.push(started.elapsed().as_secs_f64() * 1e3);
            tally.1 += 1;
            match found {
                Ok(path) => {
                    tally.0 += 1;
                    longer.push(path.length() / hidden[lead].length());
                    let breaches = verify(&around, &[task], &[Some(path)]);
                    assert!(breaches.is_empty(), "seed {seed} lead {lead}: {breaches:?}");
                }
                Err(why) => println!("seed {seed} lead {lead}: {why:?}"),
            }
        }
    }
    let at = |list: &mut Vec<f64>, share: f64| {
        list.sort_by(f64::total_cmp);
        list[(share * (list.len() - 1) as f64) as usize]
    };
    println!(
        "{} of {}; {:.2} ms median, {:.2} p90, {:.2} max",
        tally.0,
        tally.1,
        at(&mut spent, 0.5),
        at(&mut spent, 0.9),
        at(&mut spent, 1.0)
    );
    println!(
        "length against the answer: {:.3} median, {:.3} p90",
        at(&mut longer, 0.5),
        at(&mut longer, 0.9)
    );
}

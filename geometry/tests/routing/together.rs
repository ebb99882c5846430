//! All leads at once, where an answer is known to exist.

use geometry::routing::{Effort, route_together, verify};

use crate::random_cavities::around_answer;

fn tally(leads: usize, ribs: usize, scenes: u64) {
    let mut whole = 0;
    let mut routed = (0, 0);
    let mut spent = Vec::new();
    for seed in 0..scenes {
        let (cavity, hidden) = around_answer(seed, leads, ribs);
        let around = cavity.around();
        let started = std::time::Instant::now();
        let routing = route_together(&around, &cavity.tasks, &Effort::default(), &mut |_| true);
        spent.push(started.elapsed().as_secs_f64() * 1e3);
        let paths: Vec<_> = routing.routes.iter().map(|it| it.clone().ok()).collect();
        let found = paths.iter().flatten().count();
        routed.0 += found;
        routed.1 += hidden.len();
        whole += usize::from(found == hidden.len());
        assert_eq!(verify(&around, &cavity.tasks, &paths), []);
        if found < hidden.len() {
            let why: Vec<_> = routing
                .routes
                .iter()
                .enumerate()
                .filter_map(|(n, it)| Some((n, it.as_ref().err()?)))
                .collect();
            println!(
                "seed {seed}: {found} of {}: {why:?}, work {}",
                hidden.len(),
                routing.work
            );
        }
    }
    spent.sort_by(f64::total_cmp);
    let at = |share: f64| spent[(share * (spent.len() - 1) as f64) as usize];
    println!(
        "{leads} leads: {whole} of {scenes} scenes whole, {routed:?} leads; {:.1} ms median, {:.1} p90, {:.1} max",
        at(0.5),
        at(0.9),
        at(1.0)
    );
}

#[test]
fn ten_leads_find_their_ways_together() {
    tally(10, 10, 20);
}

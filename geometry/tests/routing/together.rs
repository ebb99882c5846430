//! All leads at once, where an answer is known to exist.

use geometry::path::Path;
use geometry::routing::{Effort, Routing, route_together, verify};

use crate::random_cavities::{Cavity, around_answer};

fn paths(routing: &Routing) -> Vec<Option<Path>> {
    routing.routes.iter().map(|it| it.clone().ok()).collect()
}

fn solve(cavity: &Cavity) -> Routing {
    let around = cavity.around();
    let routing = route_together(&around, &cavity.tasks, &Effort::default(), &mut |_| true);
    assert_eq!(verify(&around, &cavity.tasks, &paths(&routing)), []);
    routing
}

/// In how many scenes every lead finds its way. Every route shown is verified.
fn whole(leads: usize, ribs: usize, scenes: std::ops::Range<u64>) -> usize {
    let mut whole = 0;
    for seed in scenes {
        let (cavity, _) = around_answer(seed, leads, ribs);
        let routing = solve(&cavity);
        let left: Vec<_> = (routing.routes.iter().enumerate())
            .filter_map(|(lead, route)| Some((lead, route.as_ref().err()?)))
            .collect();
        if left.is_empty() {
            whole += 1;
        } else {
            println!(
                "scene {seed}: {left:?} of {}, work {}",
                routing.routes.len(),
                routing.work
            );
        }
    }
    whole
}

#[test]
fn ten_leads_find_their_ways_together() {
    assert!(whole(10, 10, 0..12) >= 11);
}

#[test]
fn fourteen_leads_find_their_ways_together() {
    assert!(whole(14, 12, 100..108) >= 7);
}

#[test]
#[ignore = "takes minutes"]
fn a_hundred_cavities_built_around_an_answer_are_solved() {
    let found = whole(12, 14, 200..300);
    println!("{found} of 100 whole");
    assert!(found >= 97);
}

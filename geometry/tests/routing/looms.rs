//! Leads for one exit, drawn together.

use geometry::path::Path;
use geometry::routing::{Effort, Task, route_together, verify};
use glam::DVec3;

use crate::random_cavities::around_answer;

/// Length of lead that lies within 2 mm of another of its cluster, and of all leads, mm.
fn together(tasks: &[Task], paths: &[Option<Path>]) -> [f64; 2] {
    let laid: Vec<(&Task, Vec<DVec3>)> = (tasks.iter().zip(paths))
        .filter_map(|(task, path)| Some((task, points(path.as_ref()?))))
        .collect();
    let mut lengths = [0.0, 0.0];
    for (number, (task, points)) in laid.iter().enumerate() {
        lengths[1] += points.len() as f64;
        for point in points {
            let mut mates = laid
                .iter()
                .enumerate()
                .filter(|(other, (their, _))| *other != number && their.cluster == task.cluster);
            let beside = mates.any(|(_, (their, others))| {
                let near = 0.5 * (task.od + their.od) + 2.0;
                others.iter().any(|other| other.distance(*point) < near)
            });
            lengths[0] += f64::from(u8::from(beside));
        }
    }
    lengths
}

/// Points a millimetre apart.
fn points(path: &Path) -> Vec<DVec3> {
    let count = path.length() as usize;
    (0..count)
        .map(|along| path.point_at(along as f64))
        .collect()
}

#[test]
fn leads_for_one_exit_lie_together_where_it_costs_little() {
    let (mut loose, mut tied) = ([0.0; 2], [0.0; 2]);
    for seed in 0..6 {
        let (mut cavity, _) = around_answer(seed, 10, 8);
        for clusters in [false, true] {
            let named = cavity.tasks.clone();
            if !clusters {
                cavity.tasks.iter_mut().for_each(|task| task.cluster = None);
            }
            let around = cavity.around();
            let routing = route_together(&around, &cavity.tasks, &Effort::default(), &mut |_| true);
            let paths: Vec<_> = routing.routes.into_iter().map(Result::ok).collect();
            assert_eq!(verify(&around, &cavity.tasks, &paths), []);
            let sum = if clusters { &mut tied } else { &mut loose };
            let lengths = together(&named, &paths);
            sum[0] += lengths[0];
            sum[1] += lengths[1];
            cavity.tasks = named;
        }
    }
    println!("{loose:?} {tied:?}");
    let share = |[beside, all]: [f64; 2]| beside / all;
    assert!(share(tied) > 1.2 * share(loose), "{loose:?} {tied:?}");
    assert!(tied[1] < 1.06 * loose[1], "{loose:?} {tied:?}");
}

//! The leads of each exit where they pass it: the circle that just holds them.

use glam::{DVec2, DVec3};

use super::attempt::Attempt;
use super::scene::Scene;
use crate::job::{Exit, Job};
use crate::routed::LoomAt;

/// Halvings of the span the middle is looked for in.
const HALVINGS: u32 = 48;

/// The loom of every exit that two cables or more were laid through.
pub fn looms_at(job: &Job, scene: &Scene<'_>, laid: &Attempt) -> Vec<LoomAt> {
    let exits = job.cavity.exits.iter();
    exits
        .filter_map(|exit| loom_at(job, scene, laid, exit))
        .collect()
}

fn loom_at(job: &Job, scene: &Scene<'_>, laid: &Attempt, exit: &Exit) -> Option<LoomAt> {
    let plans = scene.plans.iter().zip(&laid.ways);
    let of_it: Vec<_> = plans
        .filter(|(plan, way)| way.is_some() && plan.end.exit.as_ref() == Some(&exit.id))
        .map(|(plan, _)| plan)
        .collect();
    if of_it.len() < 2 {
        return None;
    }
    let [width, height] = exit.axes();
    let flat = |at: DVec3| {
        DVec2::new(
            (at - exit.centre).dot(width),
            (at - exit.centre).dot(height),
        )
    };
    let discs: Vec<(DVec2, f64)> = of_it
        .iter()
        .map(|plan| (flat(plan.end.last), 0.5 * plan.od))
        .collect();
    let (middle, radius) = around(&discs);
    let mut leads: Vec<String> = Vec::new();
    for plan in of_it {
        let id = &job.leads[plan.lead].id;
        if !leads.contains(id) {
            leads.push(id.clone());
        }
    }
    Some(LoomAt {
        exit: exit.id.clone(),
        leads,
        centre: exit.place(middle),
        way: exit.direction,
        diameter: 2.0 * radius,
    })
}

/// The smallest circle around some discs: its middle and radius. How far the
/// furthest disc reaches from a point is convex in both coordinates, so a
/// search by thirds in a search by thirds finds the least.
fn around(discs: &[(DVec2, f64)]) -> (DVec2, f64) {
    let reach = |at: DVec2| {
        let each = discs
            .iter()
            .map(|(centre, radius)| centre.distance(at) + radius);
        each.fold(0.0, f64::max)
    };
    let low = discs
        .iter()
        .fold(DVec2::INFINITY, |low, (at, _)| low.min(*at));
    let high = (discs.iter()).fold(DVec2::NEG_INFINITY, |high, (at, _)| high.max(*at));
    let best_y = |x: f64| least([low.y, high.y], |y| reach(DVec2::new(x, y)));
    let x = least([low.x, high.x], |x| reach(DVec2::new(x, best_y(x))));
    let middle = DVec2::new(x, best_y(x));
    (middle, reach(middle))
}

/// Where a convex figure is least in a span.
fn least([mut low, mut high]: [f64; 2], of: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let third = (high - low) / 3.0;
        if of(low + third) <= of(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_circle_just_holds_its_discs() {
        // Two of 5 and 3 side by side: 8 across, its middle 1 from the larger's.
        let two = [(DVec2::ZERO, 2.5), (DVec2::new(4.0, 0.0), 1.5)];
        let (middle, radius) = around(&two);
        assert!((radius - 4.0).abs() < 1e-6 && middle.distance(DVec2::X * 1.5) < 1e-5);
        // Three alike that touch: 1 + 2 / sqrt(3) times their radius.
        let side = 2.0;
        let corner = |turn: f64| {
            let far = side / 3.0_f64.sqrt();
            (DVec2::from_angle(turn) * far, 1.0)
        };
        let three = [0.3, 0.3 + 2.0943951, 0.3 + 4.1887902].map(corner);
        let (_, radius) = around(&three);
        assert!(
            (radius - (1.0 + 2.0 / 3.0_f64.sqrt())).abs() < 1e-5,
            "{radius}"
        );
    }
}

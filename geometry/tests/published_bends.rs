//! Published bend rules, and closed forms worked by hand.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

use approx::assert_abs_diff_eq;
use geometry::bends::{
    SUPPORTED, Word, depth_of_turn, dubins, helix_bend_radius, helix_length, laid,
    most_sensitive_member, side_step, times_largest, turn_room, u_turn,
};
use geometry::{BendLine, BendRadius, BendRule};
use glam::{DVec2, DVec3};

fn inside(times: f64) -> BendRule {
    BendRule {
        radius: BendRadius::TimesOd(times),
        measured: BendLine::Inside,
    }
}

/// Least and long-term bend of a coaxial cable, 6 and 10 diameters at the
/// inside: NASA-STD-8739.4 section 7.3 (read); 10 also in SAE AS50881 (read).
/// 4.95 mm is the usual diameter of an RG-58 (memory).
#[test]
fn a_coaxial_cable_by_its_standard() {
    let od = 4.95;
    for (times, at_inside, centreline, outer) in
        [(6.0, 29.70, 32.175, 34.65), (10.0, 49.50, 51.975, 54.45)]
    {
        let rule = inside(times).centreline(od);
        assert_abs_diff_eq!(rule, centreline, epsilon = 1e-6);
        assert_abs_diff_eq!(rule - 0.5 * od, at_inside, epsilon = 1e-6);
        assert_abs_diff_eq!(turn_room(rule, od), outer, epsilon = 1e-6);
        assert_abs_diff_eq!(depth_of_turn(FRAC_PI_2, rule, od), outer, epsilon = 1e-6);
        // The same in one step: (m + 1) diameters.
        assert_abs_diff_eq!(outer, (times + 1.0) * od, epsilon = 1e-9);
    }
}

/// Unit 160, aerial plug 38, six diameters straight, a square bend and the
/// cable's far face: NASA-STD-8739.4 section 7.3 for 6 and 10 diameters,
/// IPC/WHMA-A-620 bend table for 5 (both read). The sum is arithmetic.
#[test]
fn depth_behind_a_unit_with_an_aerial_plug() {
    let od = 2.8;
    for (times, needed) in [(10.0, 245.6), (6.0, 234.4), (5.0, 231.6)] {
        let turn = turn_room(inside(times).centreline(od), od);
        assert_abs_diff_eq!(160.0 + 38.0 + 6.0 * od + turn, needed, epsilon = 1e-6);
    }
}

/// The most sensitive member governs a mixed loom: NASA workmanship
/// standards, sheets 4.01 and 4.02 (read). 10, 5 and 3 diameters for coaxial,
/// shielded and plain wire: IPC/WHMA-A-620 bend table (3 from memory).
#[test]
fn a_mixed_loom_by_its_most_sensitive_member() {
    let members = [(4.0, inside(5.0)), (2.8, inside(10.0)), (2.4, inside(3.0))];
    let asked = members.map(|(od, rule)| rule.centreline(od) - 0.5 * od);
    for (found, expected) in asked.into_iter().zip([20.0, 28.0, 7.2]) {
        assert_abs_diff_eq!(found, expected, epsilon = 1e-9);
    }
    let rule = most_sensitive_member(&members, 9.0).unwrap();
    assert_eq!(rule.member, 1);
    assert_abs_diff_eq!(rule.inside, 28.0, epsilon = 1e-9);
    assert_abs_diff_eq!(rule.centreline, 32.5, epsilon = 1e-9);
    // Three diameters of the largest where held at the bend: engine
    // maintenance manual 71-50-03 (read).
    let held = times_largest(&[4.0, 2.8, 2.4], SUPPORTED, 9.0).unwrap();
    assert_abs_diff_eq!(held.inside, 12.0, epsilon = 1e-9);
}

/// A pose and a shortest flat path from (0, 0): elementary geometry, each
/// figure worked by hand from the closed form beside it.
struct Shortest {
    heading: f64,
    goal: [f64; 2],
    goal_heading: f64,
    words: &'static [Word],
    length: f64,
}

const fn shortest(
    heading: f64,
    goal: [f64; 2],
    goal_heading: f64,
    words: &'static [Word],
    length: f64,
) -> Shortest {
    Shortest {
        heading,
        goal,
        goal_heading,
        words,
        length,
    }
}

const SHORTEST: [Shortest; 14] = {
    use Word::{Lrl, Lsl, Lsr, Rlr, Rsl, Rsr};
    [
        // Straight.
        shortest(0.0, [4.0, 0.0], 0.0, &[Lsl, Rsr, Lsr, Rsl], 4.0),
        // Half a turn.
        shortest(0.0, [0.0, 2.0], PI, &[Lsl, Lsr, Rsl, Rlr, Lrl], PI),
        // pi/2 + 3 sqrt 2.
        shortest(0.0, [4.0, 4.0], FRAC_PI_2, &[Lsl], 5.813_437_014),
        // 2 acos(3/5) + 4.
        shortest(0.0, [4.0, 4.0], 0.0, &[Lsr], 5.854_590_436),
        // Two quarter turns.
        shortest(0.0, [2.0, 2.0], 0.0, &[Lsr], PI),
        // Round on the spot, 7 pi/3.
        shortest(0.0, [0.0, 0.0], PI, &[Rlr, Lrl], 7.330_382_858),
        // 4 + 2 pi.
        shortest(0.0, [-4.0, 0.0], 0.0, &[Lsl, Rsr], 10.283_185_307),
        shortest(0.0, [4.0, 0.0], PI, &[Lsr, Rsl], 7.652_891_820),
        // pi/2 + sqrt 5.
        shortest(0.0, [3.0, -2.0], -FRAC_PI_2, &[Rsr], 3.806_864_304),
        // pi + 1.
        shortest(FRAC_PI_2, [3.0, 0.0], -FRAC_PI_2, &[Rsr], 4.141_592_654),
        shortest(0.0, [1.0, 0.0], FRAC_PI_2, &[Lsr], 6.999_391_198),
        // pi + 4.
        shortest(0.0, [0.0, -6.0], PI, &[Rsr], 7.141_592_654),
        // A small step aside needs a whole loop, 1 + 2 pi.
        shortest(0.0, [0.0, 1.0], 0.0, &[Lsl, Rsr], 7.283_185_307),
        shortest(
            FRAC_PI_4,
            [5.0, 5.0],
            -3.0 * FRAC_PI_4,
            &[Lsr, Rsl],
            10.497_435_741,
        ),
    ]
};

/// The six words: L. E. Dubins, 1957 (formulas as commonly given; read).
#[test]
fn shortest_flat_paths() {
    for case in SHORTEST {
        for radius in [1.0, 30.0] {
            let goal = DVec2::from(case.goal) * radius;
            let found = dubins(DVec2::ZERO, case.heading, goal, case.goal_heading, radius);
            let found = found.unwrap();
            assert_abs_diff_eq!(found.length / radius, case.length, epsilon = 1e-8);
            assert!(case.words.contains(&found.word), "{} to {goal}", found.word);
            // Walked along, it ends where it should.
            let ahead = DVec2::from_angle(case.heading).extend(0.0);
            let left = DVec3::Z.cross(ahead);
            let path = laid(DVec3::ZERO, ahead, left, radius, &found.stretches());
            assert_eq!(path.check(radius), Ok(()));
            assert_abs_diff_eq!(path.length(), found.length, epsilon = 1e-8);
            assert_abs_diff_eq!(path.end(), goal.extend(0.0), epsilon = 1e-8);
            let onward = DVec2::from_angle(case.goal_heading).extend(0.0);
            assert_abs_diff_eq!(path.end_direction(), onward, epsilon = 1e-9);
        }
    }
}

/// 30 times pi/2 + 3 sqrt 2.
#[test]
fn a_shortest_flat_path_scales() {
    let goal = DVec2::new(120.0, 120.0);
    let found = dubins(DVec2::ZERO, 0.0, goal, FRAC_PI_2, 30.0).unwrap();
    assert_abs_diff_eq!(found.length, 174.403110, epsilon = 1e-5);
}

/// phi = acos(1 - e/2R), run 2R sin phi, length 2R phi.
#[test]
fn two_arcs_step_aside() {
    let step = side_step(20.0, 30.0).unwrap();
    assert_abs_diff_eq!(step.angle, 0.841069, epsilon = 1e-6);
    assert_abs_diff_eq!(step.run, 44.72136, epsilon = 1e-5);
    assert_abs_diff_eq!(step.length, 50.46412, epsilon = 1e-4);
    // The shortest flat path says the same.
    let goal = DVec2::new(step.run, 20.0);
    let flat = dubins(DVec2::ZERO, 0.0, goal, 0.0, 30.0).unwrap();
    assert_eq!(flat.word, Word::Lsr);
    assert_abs_diff_eq!(flat.length, step.length, epsilon = 1e-9);
}

/// Back along a parallel line, beside the shortest flat path.
#[test]
fn a_turn_back_is_a_shortest_flat_path() {
    for apart in [0.0, 10.0, 30.0, 59.0, 60.0, 61.0, 200.0] {
        let turn = u_turn(apart, 30.0).unwrap();
        let flat = dubins(DVec2::ZERO, 0.0, DVec2::Y * apart, PI, 30.0).unwrap();
        assert_abs_diff_eq!(turn.length, flat.length, epsilon = 1e-6);
    }
}

/// L = N sqrt((2 pi a)^2 + p^2), radius (a^2 + c^2)/a with c = p/2 pi.
#[test]
fn a_helix() {
    assert_abs_diff_eq!(helix_length(30.0, 20.0, 1.5), 284.33043, epsilon = 1e-5);
    assert_abs_diff_eq!(helix_bend_radius(30.0, 20.0), 30.33774, epsilon = 1e-5);
}

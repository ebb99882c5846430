//! From one line to a parallel one beside it.

use std::f64::consts::{FRAC_PI_2, PI};

use super::flat::Stretch;
use super::{BendFault, usable};

/// An S-bend between two parallel lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideStep {
    /// How far each of the two arcs turns, rad.
    pub angle: f64,
    /// Straight between the two arcs, mm.
    pub straight: f64,
    /// Length along the lines from its beginning to its end, mm.
    pub run: f64,
    /// Length of cable in it, mm.
    pub length: f64,
}

impl SideStep {
    /// With a step e, radius R and angle φ: the straight is m = (e - 2R(1 - cos
    /// φ)) / sin φ, the run 2R sin φ + m cos φ, the length 2Rφ + m.
    fn turning(step: f64, radius: f64, angle: f64) -> SideStep {
        let (sin, cos) = angle.sin_cos();
        let left = (step - 2.0 * radius * (1.0 - cos)).max(0.0);
        let straight = if left > 0.0 { left / sin } else { 0.0 };
        SideStep {
            angle,
            straight,
            run: 2.0 * radius * sin + straight * cos,
            length: 2.0 * radius * angle + straight,
        }
    }

    /// Its pieces, for a step to the left.
    pub fn stretches(&self) -> [Stretch; 3] {
        [
            Stretch::Left(self.angle),
            Stretch::Straight(self.straight),
            Stretch::Right(self.angle),
        ]
    }
}

/// The side step of two arcs alone: φ = acos(1 - e/2R), run 2R sin φ, length
/// 2Rφ. No side step of this radius has a shorter run.
///
/// Beyond 2R the arcs turn by more than a square and the cable doubles back.
///
/// * `step`: distance between the lines, mm, at most 4R
/// * `radius`: at the centreline, mm
///
/// # Errors
/// [`BendFault::StepTooFar`] beyond 4R, [`BendFault::NotANumber`].
pub fn side_step(step: f64, radius: f64) -> Result<SideStep, BendFault> {
    usable(radius, &[step])?;
    if step > 4.0 * radius {
        let most = 4.0 * radius;
        return Err(BendFault::StepTooFar { most });
    }
    Ok(SideStep::turning(step, radius, two_arcs(step, radius)))
}

/// The side step of shortest run that never turns by more than an angle:
/// two arcs while that is enough, beyond it with a straight between them.
///
/// * `step`: distance between the lines, mm
/// * `radius`: at the centreline, mm
/// * `most`: greatest angle to the lines, rad, more than 0, less than π; a
///   square turn for a cable that must not double back
///
/// # Errors
/// [`BendFault::NotANumber`].
pub fn side_step_within(step: f64, radius: f64, most: f64) -> Result<SideStep, BendFault> {
    usable(radius, &[step])?;
    if !(most > 0.0 && most < PI) {
        return Err(BendFault::NotANumber);
    }
    let angle = if step <= 2.0 * radius * (1.0 - most.cos()) {
        two_arcs(step, radius)
    } else {
        most
    };
    Ok(SideStep::turning(step, radius, angle))
}

/// The largest side step within a run, mm, without turning by more than an
/// angle: 2R - √(4R² - run²) while two arcs fill the run, beyond it 2R(1 - cos
/// φ) + (run - 2R sin φ) tan φ. `None` when there is no limit, as with a
/// square turn allowed and a run of 2R.
///
/// * `run`: length along the lines, mm
/// * `radius`: at the centreline, mm
/// * `most`: greatest angle to the lines, rad, more than 0, at most a square turn
///
/// # Errors
/// [`BendFault::NotANumber`].
pub fn greatest_side_step(run: f64, radius: f64, most: f64) -> Result<Option<f64>, BendFault> {
    usable(radius, &[run])?;
    if !(most > 0.0 && most <= FRAC_PI_2) {
        return Err(BendFault::NotANumber);
    }
    let (sin, cos) = most.sin_cos();
    let both = 2.0 * radius;
    if run < both * sin {
        // 2R(1 - cos φ) with sin φ = run/2R, without loss for short runs.
        let rest = (both * both - run * run).sqrt();
        return Ok(Some(run * run / (both + rest)));
    }
    let square = most >= FRAC_PI_2;
    let step = both * (1.0 - cos) + (run - both * sin) * sin / cos;
    Ok((!square).then_some(step))
}

/// The angle of two arcs without a straight: 2 asin √(e/4R).
fn two_arcs(step: f64, radius: f64) -> f64 {
    2.0 * (step / (4.0 * radius)).sqrt().min(1.0).asin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn a_straight_between_the_arcs_keeps_the_angle_down() {
        let step = side_step_within(80.0, 30.0, FRAC_PI_2).unwrap();
        assert_abs_diff_eq!(step.straight, 20.0, epsilon = 1e-12);
        assert_abs_diff_eq!(step.run, 60.0, epsilon = 1e-12);
        assert_abs_diff_eq!(step.length, 30.0 * PI + 20.0, epsilon = 1e-12);
        let gentle = side_step_within(80.0, 30.0, 0.5).unwrap();
        assert!(gentle.run > step.run);
        assert!(gentle.length - gentle.run < step.length - step.run);
        let small = side_step_within(20.0, 30.0, FRAC_PI_2);
        assert_eq!(small, side_step(20.0, 30.0));
    }

    #[test]
    fn the_largest_step_within_a_run_has_that_run() {
        for (run, most) in [(10.0, 1.0), (44.0, 1.2), (59.0, FRAC_PI_2), (90.0, 0.7)] {
            let step = greatest_side_step(run, 30.0, most).unwrap().unwrap();
            let back = side_step_within(step, 30.0, most).unwrap();
            assert_abs_diff_eq!(back.run, run, epsilon = 1e-9);
        }
        assert_eq!(greatest_side_step(61.0, 30.0, FRAC_PI_2), Ok(None));
    }

    #[test]
    fn impossible_steps_are_refused() {
        let most = 120.0;
        let too_far = BendFault::StepTooFar { most };
        assert_eq!(side_step(121.0, 30.0), Err(too_far));
        assert_eq!(side_step(-1.0, 30.0), Err(BendFault::NotANumber));
        assert_eq!(side_step(1.0, 0.0), Err(BendFault::NotANumber));
        assert_abs_diff_eq!(side_step(120.0, 30.0).unwrap().run, 0.0, epsilon = 1e-12);
    }
}

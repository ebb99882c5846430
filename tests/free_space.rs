//! The free space of the embedded jobs against exact distances to their solids.

use geometry::space::{FreeSpace, staying};
use geometry::{FixedClass, Reading, Solid, lay_out, signed_distance};
use glam::DVec3;
use profiles::{Library, open_job};

/// Points with a known seed: Halton's sequence, bases 2, 3 and 5 (J. H. Halton,
/// 1960, from memory), each from 0 to 1.
fn halton(number: u32) -> DVec3 {
    let digits = |base: u32| {
        let (mut rest, mut share, mut sum) = (number, 1.0, 0.0);
        while rest > 0 {
            share /= f64::from(base);
            sum += share * f64::from(rest % base);
            rest /= base;
        }
        sum
    };
    DVec3::new(digits(2), digits(3), digits(5))
}

#[test]
fn the_free_space_of_every_embedded_job_is_right_to_a_cell() {
    for name in ["post-van", "town-taxi", "camper", "farm-hauler"] {
        let opened = open_job(name, &Library::embedded()).unwrap_or_else(|p| panic!("{p:?}"));
        let job = &opened.job;
        let space = FreeSpace::of_job(job, Reading::Nominal, 2.0, 2)
            .unwrap_or_else(|| panic!("{name} has no cavity"));
        let layout = lay_out(job, Reading::Nominal);
        let solids = staying(&layout, job.cavity.wall_clear);
        let modules = (layout.fixed.iter()).filter(|fixed| fixed.class == FixedClass::Module);
        assert_eq!(
            solids.len() + modules.count(),
            layout.walls.len() + layout.fixed.len()
        );
        let bounds = space.grid.bounds();
        let (mut known, mut free) = (0, 0);
        for number in 1..1500 {
            let point = bounds.min + halton(number) * bounds.size();
            let ball = Solid::capsule(point, point, 0.0);
            let spare = solids
                .iter()
                .map(|(solid, clear)| signed_distance(&ball, solid) - clear);
            let exact = spare.fold(f64::INFINITY, f64::min);
            let least = space.at_least(point);
            assert!(
                least <= exact.max(0.0) + 1e-7,
                "{name}, {point}: {least}, exactly {exact}"
            );
            free += usize::from(exact > 8.0);
            known += usize::from(least > 0.0);
        }
        assert!(
            free > 50 && known >= free / 2,
            "{name}: {known} known of {free}"
        );
    }
}

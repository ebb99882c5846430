//! Everything laid at one proud, without looking for a smaller one.

use super::attempt::Attempt;
use super::ends::Ends;
use super::placing::tries;
use super::plan::plans;
use super::scene::Scene;
use super::seat::{Found, Looking, any_variant, finish};
use super::settle::{lengthen, settle};
use super::variants::Variants;
use super::{Answer, Bounds, held, nothing};
use crate::fit::Fit;
use crate::job::Job;
use crate::lay_out::lay_out;
use crate::measure::Reading;
use crate::routed::Routed;
use crate::routing::Effort;

/// What a job comes to with the unit at one proud and no other, at its stated
/// measures: the first arrangement of its modules with which everything holds,
/// else how far the first one came. It is no search for the seat: less proud
/// may hold as well.
///
/// * `fit`: the instant layer's answer
/// * `proud`: how far out the unit stands, mm; no less than can be
/// * `voxel`: edge of the voxels the search reads room from, mm
pub fn seat_at(
    job: &Job,
    fit: &Fit,
    proud: f64,
    voxel: f64,
    watch: &mut dyn FnMut(Looking) -> bool,
) -> Routed {
    if fit.proud.is_none() {
        return nothing(fit);
    }
    let reading = Reading::Nominal;
    let layout = lay_out(job, reading);
    let effort = Effort::default();
    let mut first: Option<Answer> = None;
    let mut tried = 0;
    let stiff = fit.proud_lower_bound;
    let mut tries = tries(job, &layout, reading, &fit.modules, stiff);
    while let Some(next) = tries.next_try() {
        let arrangement = next.arrangement;
        let ends = Ends::new(job, &layout, reading, &arrangement, 0);
        let (plans, _) = plans(job, reading, &ends);
        let held = held(&plans, &layout, job);
        let held_by = held.iter().map(|(_, held)| held.proud);
        let least = held_by.fold(stiff, f64::max);
        let proud = proud.max(least);
        let variants = Variants::new(|variant| {
            let mut scene = Scene::new(job, &layout, reading, &arrangement, voxel, variant);
            settle(&mut scene, least, &effort);
            lengthen(&mut scene, proud, &effort);
            scene
        });
        let mut go_on = true;
        let laid: Attempt = any_variant(&variants, proud, &mut 0, &effort, &mut || {
            go_on = watch(Looking { proud, tried });
            go_on
        });
        tried += 1;
        let mut found = Found {
            cancelled: laid.cancelled,
            first: laid,
            further: None,
            short: None,
        };
        tries.tell(&arrangement, variants.scene(0), &found, voxel);
        let holds = found.best().is_some();
        finish(&variants, &mut found, &effort, &mut || go_on);
        if holds || first.is_none() {
            let bounds = Bounds { least, any: least };
            let answer = Answer::of(job, fit, &variants, &arrangement, bounds, &held, found);
            let holds = answer.routed.proud.is_some();
            first = Some(answer);
            if holds {
                break;
            }
        }
        if !go_on {
            break;
        }
    }
    first.map_or_else(|| nothing(fit), |answer| answer.routed)
}

//! What an answer says, in sentences.

pub mod looms;
pub mod placed;
mod places;
pub mod routed;
pub mod slide_in;
pub mod trim;

use geometry::{Fit, ModuleRoom, Stop, StopKind, Sure, Verdict};

use crate::figures::Figures;

pub use places::{place, problem};

/// The verdict in one sentence: the largest text there is.
pub fn headline(fit: &Fit, figures: Figures) -> String {
    let length = |value: f64| figures.length(value);
    let first = fit.stopped_by.first();
    if let Some(open) = left_open(fit, figures) {
        return open;
    }
    match (fit.proud, first) {
        (None, Some(stop)) => format!(
            "Does not go through the opening: the {} is {} too large for it.",
            stop.piece,
            length(stop.short)
        ),
        (None, None) => "Does not go through the opening.".to_owned(),
        (Some(proud), _) if proud > 0.0 => {
            let reason = fit
                .stopped_by
                .iter()
                .find(|stop| stop.what != StopKind::Module)
                .map_or(String::new(), |stop| format!(": {}", meets(stop)));
            format!("Stands {} proud{reason}.", length(proud))
        }
        (Some(_), Some(stop)) if fit.verdict == Verdict::Blocked => {
            format!(
                "The unit would seat flush, but {}.",
                no_place(stop, figures)
            )
        }
        (Some(_), _) => flush(fit, figures),
    }
}

/// The verdict as a span, where what was not measured leaves it open.
pub(crate) fn left_open(fit: &Fit, figures: Figures) -> Option<String> {
    let [low, high] = fit.proud_range;
    if fit.sure != Sure::Doubtful || fit.proud.is_none() || high - low < 0.05 {
        return None;
    }
    let from = if low <= 0.0 {
        "flush".to_owned()
    } else {
        figures.bare(low)
    };
    Some(if high.is_infinite() {
        format!("Anything from {from} to not going in at all: not everything was measured.")
    } else {
        format!(
            "Between {from} and {} proud: not everything was measured.",
            figures.length(high)
        )
    })
}

fn flush(fit: &Fit, figures: Figures) -> String {
    if fit.margin < 0.0 {
        // Nothing to spare by the quick rule: it is flush by the way it was laid.
        return "Seats flush as laid.".to_owned();
    }
    let spare = if fit.margin.is_finite() {
        format!("{} to spare", figures.length(fit.margin))
    } else {
        "nothing stands behind it".to_owned()
    };
    match fit.sure {
        Sure::Yes => format!("Seats flush, {spare}."),
        Sure::No => {
            format!("Flush on paper, not sure: {spare}, less than the measures may be out.")
        }
        Sure::Doubtful if fit.margin.is_infinite() => {
            "Not known yet: nothing is stated behind the unit, and not everything was measured."
                .to_owned()
        }
        Sure::Doubtful => {
            format!("Flush on paper, doubtful: {spare}, but not everything was measured.")
        }
    }
}

/// "the main plug meets the data module"
pub fn meets(stop: &Stop) -> String {
    format!("the {} meets {}", stop.piece, with_article(&stop.against))
}

/// A name in a sentence: "the rib", but "the other leads" and "several things together".
fn with_article(name: &str) -> String {
    if name.starts_with("the ") || name.starts_with("several ") {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}

fn no_place(stop: &Stop, figures: Figures) -> String {
    if stop.short > 0.0 {
        format!(
            "the {} has no place: {} too large for the space '{}'",
            stop.piece,
            figures.length(stop.short),
            stop.against
        )
    } else {
        format!("the {} has no place: {}", stop.piece, stop.against)
    }
}

/// What a person wants to know next: the limit, what would stop it next, how
/// sure it is.
pub fn second_line(fit: &Fit, limit: f64, figures: Figures) -> String {
    let mut parts = Vec::new();
    if left_open(fit, figures).is_some() {
        return format!("Not measured: {}.", fit.unmeasured.join(", "));
    }
    match (fit.verdict, fit.proud) {
        (Verdict::Blocked, Some(proud)) if proud > limit => {
            parts.push(format!(
                "More than the {} this job allows.",
                figures.length(limit)
            ));
        }
        (Verdict::Proud, _) => {
            parts.push(format!(
                "Within the {} this job allows.",
                figures.length(limit)
            ));
        }
        _ => {}
    }
    let others = fit.stopped_by.iter().skip(1).take(2);
    let next: Vec<String> = others
        .map(|stop| format!("{}, {}", next_stop(stop), figures.length(stop.short)))
        .collect();
    if !next.is_empty() {
        parts.push(format!("Next: {}.", next.join("; ")));
    } else if let Some(tightest) = tightest(fit) {
        parts.push(tightest);
    }
    parts.push(range(fit, figures));
    parts.join(" ")
}

fn next_stop(stop: &Stop) -> String {
    match stop.what {
        StopKind::Module => format!("the {} has no place", stop.piece),
        StopKind::Opening => format!("the {} is too large for the opening", stop.piece),
        _ => meets(stop),
    }
}

fn tightest(fit: &Fit) -> Option<String> {
    let link = fit.chain.first()?;
    let against = link.against_name.as_ref()?;
    (fit.stopped_by.is_empty())
        .then(|| format!("Tightest: the {} before the {against}.", link.name))
}

/// Figures nearer to each other than this say the same, mm.
const SAME: f64 = 0.25;

/// How sure the figure is: what it is at both ends of every measure. A search
/// that found nothing has not shown that there is nothing.
fn range(fit: &Fit, figures: Figures) -> String {
    let [low, high] = fit.proud_range;
    let sure = match (fit.sure, fit.verdict) {
        (Sure::Yes, Verdict::Blocked) => "Closer measuring would not change that",
        (Sure::Yes, _) => "Sure within the ± of the measures",
        (Sure::No, _) => "Not sure within the ± of the measures",
        (Sure::Doubtful, _) => "Doubtful: not everything was measured",
    };
    let proud = |mm: f64| {
        if mm <= 0.0 {
            "flush".to_owned()
        } else {
            format!("{} proud", figures.length(mm))
        }
    };
    if low.is_infinite() {
        return format!("{sure}.");
    }
    let span = if high.is_infinite() {
        format!("{} at best, no way in found at worst", proud(low))
    } else if high <= 0.0 {
        "flush at worst".to_owned()
    } else if low <= 0.0 {
        format!("flush at best, {} at worst", proud(high))
    } else if high - low < SAME {
        proud(high)
    } else {
        format!("{} to {}", figures.bare(low), proud(high))
    };
    format!("{sure}: {span}.")
}

/// One line for a module: where it is, where it could go, or what it misses by.
pub fn module_line(module: &ModuleRoom, figures: Figures) -> String {
    if module.pinned {
        return format!("{}: stays where it is.", module.name);
    }
    if let Some(place) = module.fits.first() {
        let lead = match place.lead_short {
            Some(short) if short > 0.0 => {
                format!("; its lead wants {} more", figures.length(short))
            }
            Some(_) => "; its lead reaches".to_owned(),
            None => String::new(),
        };
        return format!(
            "{}: fits {}, {} to spare{lead}.",
            module.name,
            place.name,
            figures.length(place.spare)
        );
    }
    if module.anywhere {
        return format!(
            "{}: may go anywhere in the cavity; its place is found when leads are laid.",
            module.name
        );
    }
    match &module.closest_miss {
        Some((place, short)) => format!(
            "{}: fits no space; misses {place} by {}.",
            module.name,
            figures.length(*short)
        ),
        None => format!("{}: no space or pocket is named for it.", module.name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Fit {
        let library = profiles::Library::embedded();
        let job = profiles::open_job(profiles::DEMO, &library).unwrap().job;
        geometry::fit(&job)
    }

    #[test]
    fn the_range_is_told_without_claiming_that_there_is_no_way() {
        let mut fit = demo();
        let none = f64::INFINITY;
        for (sure, verdict, ends, words) in [
            (
                Sure::Yes,
                Verdict::Blocked,
                [8.0, none],
                "Closer measuring would not change that: 8 mm proud at best, no way in found at worst.",
            ),
            (
                Sure::Yes,
                Verdict::Blocked,
                [5.0, 22.0],
                "Closer measuring would not change that: 5 to 22 mm proud.",
            ),
            (
                Sure::Yes,
                Verdict::Blocked,
                [none, none],
                "Closer measuring would not change that.",
            ),
            (
                Sure::Yes,
                Verdict::Proud,
                [2.0, 2.1],
                "Sure within the ± of the measures: 2.1 mm proud.",
            ),
            (
                Sure::No,
                Verdict::Flush,
                [0.0, 4.5],
                "Not sure within the ± of the measures: flush at best, 4.5 mm proud at worst.",
            ),
            (
                Sure::Yes,
                Verdict::Flush,
                [0.0, 0.0],
                "Sure within the ± of the measures: flush at worst.",
            ),
        ] {
            (fit.sure, fit.verdict, fit.proud_range) = (sure, verdict, ends);
            assert_eq!(range(&fit, Figures::Millimetres), words);
        }
    }
}

//! What the routed layer found, in sentences.

use geometry::{Fit, LeftOver, Proof, Route, Routed, Stop, StopKind};

use super::{SAME, left_open, placed, range, with_article};
use crate::figures::Figures;

/// The verdict with every lead laid.
///
/// * `fit`: the quick rule's answer
/// * `over`: the same with its range, once both ends of the measures are known
/// * `first`: whether less proud has not been looked for yet
pub fn headline(
    fit: &Fit,
    routed: &Routed,
    over: Option<&Fit>,
    first: bool,
    figures: Figures,
) -> String {
    if let Some(open) = over.and_then(|fit| left_open(fit, figures)) {
        return open;
    }
    match routed.proud {
        Some(proud) if first && proud > routed.lower_bound + 1e-9 => format!(
            "Goes in {} proud with every lead laid; looking for less.",
            figures.length(proud)
        ),
        Some(proud) if proud <= 0.0 => flush(fit, routed).to_owned(),
        Some(proud) => {
            let stop = routed.stopped_by.first();
            let why = stop.map_or(String::new(), |stop| format!(": {}", stopped(stop)));
            format!(
                "Stands {} proud, every lead laid{why}.",
                figures.length(proud)
            )
        }
        None => format!(
            "No way found{}; at least {} proud.",
            left(&routed.left_over),
            figures.length(routed.lower_bound)
        ),
    }
}

/// Whether there is nothing to go by yet: no lead was laid and what stands behind
/// the unit was not measured.
pub fn nothing_known(fit: &Fit, routed: &Routed) -> bool {
    routed.routes.is_empty()
        && !fit.unmeasured.is_empty()
        && routed.proud.is_some_and(|proud| proud <= 0.0)
}

/// Said with it.
pub const NOTHING_KNOWN: &str = "The answer follows as the figures are entered.";

/// Flush, and what that rests on: leads that were never named were not laid, and
/// what was never measured may stand in the way.
fn flush(fit: &Fit, routed: &Routed) -> &'static str {
    match (routed.routes.is_empty(), fit.unmeasured.is_empty()) {
        (false, true) => "Seats flush with every lead laid.",
        (false, false) => "Flush on paper, every lead laid; but not everything was measured.",
        (true, true) => "Seats flush, no lead is named yet.",
        (true, false) => "Not known yet: no lead is named, and not everything was measured.",
    }
}

fn left(left_over: &[LeftOver]) -> String {
    match left_over {
        [] => String::new(),
        [one] => format!(" for the {}", one.name),
        [one, rest @ ..] => format!(" for the {} and {} more", one.name, rest.len()),
    }
}

/// "the cable of the main plug is held by the data module"
fn stopped(stop: &Stop) -> String {
    let against = with_article(&stop.against);
    match stop.what {
        StopKind::Cable => format!("the cable of the {} is held by {against}", stop.piece),
        _ => format!("the {} meets {against}", stop.piece),
    }
}

/// What is allowed, how sure the figure is, and what is too short.
///
/// * `over`: see [`headline`]
pub fn second_line(routed: &Routed, over: Option<&Fit>, limit: f64, figures: Figures) -> String {
    let mut parts = Vec::new();
    if let Some(fit) = over
        && left_open(fit, figures).is_some()
    {
        parts.push(format!("Not measured: {}.", fit.unmeasured.join(", ")));
    }
    let proud = routed.proud.unwrap_or(0.0);
    if proud > limit {
        parts.push(format!(
            "More than the {} this job allows.",
            figures.length(limit)
        ));
    } else if proud > 0.0 {
        parts.push(format!(
            "Within the {} this job allows.",
            figures.length(limit)
        ));
    }
    match (routed.proof, routed.proud) {
        (_, None) => {}
        (Proof::SearchGaveUp, Some(_)) => parts.push(format!(
            "Nothing less was found; less than {} cannot be.",
            figures.length(routed.lower_bound)
        )),
        (_, Some(proud)) if proud > 0.0 => parts.push("Less cannot be.".to_owned()),
        _ => {}
    }
    let tilted = routed.slide_in.iter().filter(|way| !way.is_straight());
    parts.extend(tilted.map(|way| super::slide_in::way_in(way, figures)));
    if let Some(fit) = over.filter(|_| routed.proud.is_some())
        && left_open(fit, figures).is_none()
    {
        parts.push(range(fit, figures));
    }
    let short: Vec<String> = routed
        .routes
        .iter()
        .filter_map(|route| Some((route, route.slack.as_ref()?.short_by)))
        .filter(|(_, short)| *short > 0.0)
        .map(|(route, short)| format!("{} by {}", route.name, figures.length(short)))
        .collect();
    if !short.is_empty() {
        parts.push(format!("Too short as laid: {}.", short.join(", ")));
    }
    let left: Vec<String> = routed
        .left_over
        .iter()
        .map(|left| left_over(left, figures))
        .collect();
    if !left.is_empty() {
        parts.push(format!("Left over: {}.", left.join("; ")));
    }
    parts.join(" ")
}

/// What is left over, why, and how near it came.
pub fn left_over(left: &LeftOver, figures: Figures) -> String {
    let miss = left.miss.as_ref().map_or(String::new(), |miss| {
        format!(
            "; the nearest lacks {} at {}",
            figures.length(miss.short),
            with_article(&miss.name)
        )
    });
    format!("{}: {}{miss}", left.name, placed::why(left, figures))
}

/// A laid lead in three short lines: its length and slack, its tightest bend
/// beside its rule, what it comes nearest to.
pub fn route_lines(route: &Route, figures: Figures) -> Vec<String> {
    let slack = match &route.slack {
        Some(slack) if slack.short_by > 0.0 => {
            format!("too short by {}", figures.length(slack.short_by))
        }
        Some(slack) => format!("{} slack", figures.length(slack.slack)),
        None => "its own length not known".to_owned(),
    };
    let bend = match route.least_radius {
        Some(radius) => format!(
            "Tightest bend {}; its rule {}.",
            figures.length(radius),
            figures.bare(route.rule_radius)
        ),
        None => "No bend.".to_owned(),
    };
    let mut lines = vec![
        format!("Way {}, {slack}.", figures.length(route.length)),
        bend,
    ];
    if let Some(near) = &route.nearest {
        // "floor, depth 200 to 225": where on the floor can be seen.
        let name = near.name.split(',').next().unwrap_or(&near.name);
        lines.push(format!(
            "Nearest: {} to {}.",
            figures.length(near.gap.max(0.0)),
            with_article(name)
        ));
    }
    lines
}

/// The quick rule's figure beside the routed one, and why they differ.
///
/// * `passes`: how far the lead that the quick rule names passes from what it
///   names, surface to surface, mm
pub fn beside(fit: &Fit, routed: &Routed, passes: Option<f64>, figures: Figures) -> String {
    let Some(quick) = fit.proud else {
        return "Quick rule: does not go through the opening.".to_owned();
    };
    let figure = format!("Quick rule: {}", figures.bare(quick));
    let Some(laid) = routed.proud else {
        return format!("{figure}, as if every cable had the room behind its plug to itself.");
    };
    if (quick - laid).abs() < SAME {
        return format!("{figure}, the same.");
    }
    if quick > laid {
        return match (fit.stopped_by.first(), passes) {
            (Some(stop), Some(gap)) if gap > 0.0 => format!(
                "{figure}, as if the {} turned straight behind its plug; laid, it passes the {} with {} between them.",
                stop.piece,
                stop.against,
                figures.length(gap)
            ),
            (Some(stop), _) => format!(
                "{figure}, as if the {} had to stop before the {}.",
                stop.piece, stop.against
            ),
            (None, _) => format!("{figure}."),
        };
    }
    match routed.stopped_by.first() {
        Some(stop) => format!(
            "{figure}, with each cable alone; laid together, {}.",
            stopped(stop)
        ),
        None => format!("{figure}, with each cable alone."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn laid(alias: &str) -> (Fit, Routed) {
        let library = profiles::Library::embedded();
        let job = profiles::open_job(alias, &library).unwrap().job;
        let fit = geometry::fit(&job);
        let mut routed = geometry::routed(&job, &mut |_| false);
        routed.left_over.clear();
        (fit, routed)
    }

    #[test]
    fn a_search_that_found_nothing_never_says_that_it_does_not_seat() {
        let (fit, mut routed) = laid(profiles::DEMO);
        (routed.proud, routed.lower_bound) = (None, 4.0);
        routed.left_over = ["video lead", "aerial"]
            .map(|name| LeftOver {
                id: name.to_owned(),
                name: name.to_owned(),
                why: "no way found".to_owned(),
                closest_miss: None,
                miss: None,
            })
            .to_vec();
        let says = headline(&fit, &routed, None, false, Figures::Millimetres);
        assert_eq!(
            says,
            "No way found for the video lead and 1 more; at least 4 mm proud."
        );
        assert!(beside(&fit, &routed, None, Figures::Millimetres).starts_with("Quick rule: 13.5,"));
    }

    #[test]
    fn both_figures_stand_beside_each_other_with_the_reason() {
        let (fit, mut routed) = laid(profiles::DEMO);
        routed.proud = Some(6.5);
        let says = beside(&fit, &routed, Some(4.1), Figures::Millimetres);
        assert!(
            says.contains("13.5")
                && says.contains("data module")
                && says.contains("4.1 mm between"),
            "{says}"
        );
        routed.proud = fit.proud;
        assert_eq!(
            beside(&fit, &routed, None, Figures::Millimetres),
            "Quick rule: 13.5, the same."
        );
    }
}

//! The routed layer for a terminal: every lead's way in one line.

use std::fmt::Write;

use geometry::routed::{Route, Routed};
use geometry::seating::BEHIND;

use crate::figures::Figures;
use crate::words::{self, placed};

/// Writes the ways of all leads, where modules sit, where slack goes, and the
/// quick rule beside the routed figure.
pub fn write(out: &mut String, routed: &Routed, quick: Option<f64>, figures: Figures) {
    // Writing to a String cannot fail.
    let length = |value: f64| figures.length(value);
    if let Some(proud) = routed.proud {
        let quick = quick.map_or("does not go through the opening".to_owned(), length);
        let _ = writeln!(
            out,
            "With every lead laid: {} proud; no way stands less than {}. Quick rule: {quick}.",
            length(proud),
            length(routed.lower_bound),
        );
    } else {
        let _ = writeln!(
            out,
            "No way found for everything; at least {} proud.",
            length(routed.lower_bound)
        );
    }
    for line in words::slide_in::lines(routed, figures) {
        let _ = writeln!(out, "  {line}");
    }
    for left in &routed.left_over {
        let _ = writeln!(
            out,
            "  left over: {}",
            words::routed::left_over(left, figures)
        );
    }
    if !routed.routes.is_empty() {
        table(out, &routed.routes, figures);
    }
    for module in &routed.modules {
        let _ = writeln!(out, "  {}: {}", module.name, placed::seat(module, figures));
    }
    for fill in routed
        .stow
        .fills
        .iter()
        .filter(|fill| !fill.leads.is_empty())
    {
        let _ = writeln!(
            out,
            "  slack of {} in {}: {:.0} of {:.0} cm3, {:.0} % full",
            fill.leads.join(", "),
            fill.pocket,
            fill.slack_cm3,
            fill.room_cm3,
            100.0 * fill.fill
        );
    }
    for held in &routed.half_way {
        let lies: Vec<String> = held
            .stowage
            .fills
            .iter()
            .filter(|fill| !fill.leads.is_empty())
            .map(|fill| {
                format!(
                    "{:.0} cm3 {}{} ({:.0} % full)",
                    fill.slack_cm3,
                    if fill.pocket == BEHIND { "" } else { "in " },
                    fill.pocket,
                    100.0 * fill.fill
                )
            })
            .collect();
        if !lies.is_empty() {
            let _ = writeln!(
                out,
                "  slack with the unit held {} out: {}",
                length(held.out),
                lies.join(", ")
            );
        }
    }
    for left in &routed.stow.left_out {
        let _ = writeln!(
            out,
            "  slack of {} finds no pocket: {:.0} cm3",
            left.lead, left.slack_cm3
        );
    }
    out.push('\n');
}

fn table(out: &mut String, routes: &[Route], figures: Figures) {
    let names = routes.iter().map(|route| route.name.chars().count());
    let width = names.max().unwrap_or(0).max(4);
    let _ = writeln!(
        out,
        "  {:width$}  {:>8} {:>9} {:>9} {:>8} {:>9}  nearest to",
        "lead", "way", "tightest", "rule", "gap", "slack"
    );
    for route in routes {
        let maybe = |value: Option<f64>| value.map_or("-".to_owned(), |it| figures.fine(it));
        let nearest = route.nearest.as_ref();
        let slack = route.slack.as_ref().map(|it| it.slack - it.short_by);
        let _ = writeln!(
            out,
            "  {:width$}  {:>8} {:>9} {:>9} {:>8} {:>9}  {}",
            route.name,
            figures.fine(route.length),
            maybe(route.least_radius),
            figures.fine(route.rule_radius),
            maybe(nearest.map(|near| near.gap)),
            maybe(slack),
            nearest.map_or("-", |near| near.name.as_str())
        );
    }
}

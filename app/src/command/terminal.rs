//! An answer for a terminal: the verdict first, readable in five seconds.

use std::fmt::Write;

use geometry::{ChainLink, Fit, Job, Reading, Stop};

use super::routes;
use crate::cautions::cautions;
use crate::figures::Figures;
use crate::ranking::{Answered, best};
use crate::words;

/// The whole report: verdict, chain, what stops it, rooms, modules,
/// alternatives, cautions.
pub fn report(job: &Job, answered: &[Answered], figures: Figures) -> String {
    let fit = &answered[0].fit;
    let mut text = String::new();
    let out = &mut text;
    // Writing to a String cannot fail.
    let _ = writeln!(out, "{}\n", job.name);
    let _ = writeln!(out, "  {}", words::headline(fit, figures));
    let _ = writeln!(
        out,
        "  {}\n",
        words::second_line(fit, job.proud_limit, figures)
    );
    if let Some(routed) = &answered[0].routed {
        routes::write(out, routed, answered[0].quick_proud, figures);
    }
    chain(out, fit, figures);
    stops(out, fit, figures);
    rooms(out, fit, figures);
    modules(out, fit, figures);
    list(out, "What is cut", &words::trim::listed(job, figures));
    list(out, "Not ready to fit yet", &fit.not_ready);
    list(out, "Not measured", &fit.unmeasured);
    list(out, "Remarks", &fit.remarks);
    alternatives(out, answered, figures);
    let layout = geometry::lay_out(job, Reading::Nominal);
    let lines: Vec<String> = cautions(job, &layout, fit)
        .into_iter()
        .map(|caution| format!("{}: {}", caution.title, caution.text))
        .collect();
    list(out, "Cautions", &lines);
    text
}

fn chain(out: &mut String, fit: &Fit, figures: Figures) {
    if fit.chain.is_empty() {
        return;
    }
    let unit = match figures {
        Figures::Millimetres => "mm",
        Figures::Inches => "in",
    };
    let width = fit
        .chain
        .iter()
        .map(|link| link.name.chars().count())
        .max()
        .unwrap_or(0)
        .max(4);
    let _ = writeln!(
        out,
        "Depth chain, {unit} (quick rule: setback + chassis + plug + turn = needed, against what is free)"
    );
    let _ = writeln!(
        out,
        "  {:width$}  {:>8} {:>8} {:>8} {:>8} {:>9} {:>9} {:>9}  before",
        "lead", "setback", "chassis", "plug", "turn", "needed", "free", "to spare"
    );
    for link in &fit.chain {
        let _ = writeln!(out, "  {}", chain_line(link, width, figures));
    }
    out.push('\n');
}

fn chain_line(link: &ChainLink, width: usize, figures: Figures) -> String {
    let fine = |value: f64| figures.fine(value);
    let maybe = |value: Option<f64>| value.map_or("-".to_owned(), fine);
    let against = match link.against_name.as_deref() {
        Some(name) if link.margin.is_some_and(|margin| margin < 0.0) => format!("{name}  SHORT"),
        Some(name) => name.to_owned(),
        None => "nothing behind it".to_owned(),
    };
    format!(
        "{:width$}  {:>8} {:>8} {:>8} {:>8} {:>9} {:>9} {:>9}  {against}",
        link.name,
        fine(link.setback),
        fine(link.chassis),
        fine(link.plug),
        fine(link.turn),
        fine(link.needed),
        maybe(link.available),
        maybe(link.margin),
    )
}

fn stops(out: &mut String, fit: &Fit, figures: Figures) {
    let lines: Vec<String> = fit
        .stopped_by
        .iter()
        .map(|stop| stop_line(stop, figures))
        .collect();
    list(out, "What stops it", &lines);
}

fn stop_line(stop: &Stop, figures: Figures) -> String {
    let part = if stop.part.is_empty() {
        String::new()
    } else {
        format!(" ({})", stop.part)
    };
    format!(
        "{}{part} against {}: {} short",
        stop.piece,
        stop.against,
        figures.length(stop.short)
    )
}

fn rooms(out: &mut String, fit: &Fit, figures: Figures) {
    let lines: Vec<String> = fit
        .rooms
        .iter()
        .map(|room| {
            format!(
                "{}: {} to the {}",
                room.side.word(),
                figures.length(room.free),
                room.against_name
            )
        })
        .collect();
    list(out, "Room beside the unit", &lines);
}

fn modules(out: &mut String, fit: &Fit, figures: Figures) {
    let lines: Vec<String> = fit
        .modules
        .iter()
        .map(|module| words::module_line(module, figures))
        .collect();
    list(out, "Modules", &lines);
}

fn alternatives(out: &mut String, answered: &[Answered], figures: Figures) {
    if answered.len() < 2 {
        return;
    }
    let best = best(answered);
    let lines: Vec<String> = answered
        .iter()
        .enumerate()
        .map(|(index, it)| {
            let mark = if index == best { "best: " } else { "" };
            format!("{mark}{}: {}", it.name, words::headline(&it.fit, figures))
        })
        .collect();
    list(out, "As given, and the alternatives", &lines);
}

fn list(out: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    let _ = writeln!(out, "{title}");
    for line in lines {
        let _ = writeln!(out, "  - {line}");
    }
    out.push('\n');
}

//! The quick answer: at most eight figures, answered while one types.

use egui::{Label, RichText, Ui};
use profiles::schema::JobFile;
use profiles::{Length, Library, QuickFigures};

use super::edit::{Ask, Edit};
use super::fields;
use crate::figures::Figures;
use crate::words;

/// The figures typed so far, and what comes of them.
pub struct QuickState {
    /// Whether it is open.
    pub open: bool,
    entered: QuickFigures,
    reply: Option<Reply>,
}

/// What comes of the figures; worked out again only when one of them changes.
struct Reply {
    figures: Figures,
    headline: String,
    second_line: String,
    next: String,
    problems: Vec<String>,
}

impl Default for QuickState {
    fn default() -> QuickState {
        QuickState {
            open: false,
            entered: QuickFigures::unknown(),
            reply: None,
        }
    }
}

/// How to reach one of the lengths.
type Place = fn(&mut QuickFigures) -> &mut Length;

/// The lengths, in measuring order.
const LENGTHS: [(&str, Place); 7] = [
    ("opening width", |q| &mut q.width),
    ("opening height", |q| &mut q.height),
    ("depth behind", |q| &mut q.behind),
    ("chassis depth", |q| &mut q.chassis),
    ("setback", |q| &mut q.setback),
    ("longest plug", |q| &mut q.plug),
    ("its cable", |q| &mut q.cable),
];

/// Draws the line that opens and shuts it.
pub fn quick_line(ui: &mut Ui, open: bool, asks: &mut Vec<Ask>) {
    let word = if open {
        "Close the quick answer"
    } else {
        "Quick answer"
    };
    if ui.button(word).clicked() {
        asks.push(Ask::Quick(!open));
    }
}

/// Draws the figures and what comes of them.
pub fn quick_ui(
    ui: &mut Ui,
    state: &mut QuickState,
    library: &Library,
    figures: Figures,
    asks: &mut Vec<Ask>,
) {
    ui.add(
        Label::new(
            RichText::new("Eight figures at most. Leave ? where you could not measure.")
                .small()
                .weak(),
        )
        .wrap(),
    );
    let mut changed = false;
    for (name, place) in LENGTHS {
        let value = place(&mut state.entered).clone();
        if let Some(typed) = fields::length(ui, "quick answer", name, &value, asks) {
            *place(&mut state.entered) = typed.value;
            changed = true;
        }
    }
    let bend = format!("{}", state.entered.bend);
    let read = |text: &str| match text.trim().replace(',', ".").parse::<f64>() {
        Ok(times) if times.is_finite() && times >= 0.0 => Ok(times),
        _ => Err("allowed: a number of cable diameters, 0 or more".to_owned()),
    };
    let typed = fields::row(ui, "bends at x OD", |ui| {
        fields::typed(
            ui,
            "quick answer: bends at so many diameters",
            &bend,
            "",
            fields::FIELD_WIDTH,
            read,
            asks,
        )
    });
    if let Some(typed) = typed {
        state.entered.bend = typed.value;
        changed = true;
    }
    if changed
        || state
            .reply
            .as_ref()
            .is_none_or(|reply| reply.figures != figures)
    {
        state.reply = Some(reply(&state.entered, library, figures));
    }
    if let Some(reply) = &state.reply {
        reply_ui(ui, reply);
    }
    if ui.button("Make a job of it").clicked() {
        let job: JobFile = state.entered.job_file();
        asks.push(Ask::Edit(Edit::Everything(Box::new(job)), None));
        asks.push(Ask::ShowAll);
        asks.push(Ask::Quick(false));
    }
}

fn reply(entered: &QuickFigures, library: &Library, figures: Figures) -> Reply {
    match entered.job(library) {
        Ok(job) => {
            let fit = geometry::fit(&job);
            let next = entered.measure_next(library).map_or(String::new(), |next| {
                if next.gain.is_finite() {
                    format!(
                        "Measure next: {}; it narrows the answer by {}.",
                        next.name,
                        figures.length(next.gain)
                    )
                } else {
                    format!("Measure next: {}.", next.name)
                }
            });
            Reply {
                figures,
                headline: words::headline(&fit, figures),
                second_line: words::second_line(&fit, job.proud_limit, figures),
                next,
                problems: Vec::new(),
            }
        }
        Err(faults) => Reply {
            figures,
            headline: "No answer yet.".to_owned(),
            second_line: String::new(),
            next: String::new(),
            problems: faults
                .into_iter()
                .map(|fault| {
                    format!(
                        "{}: found {}; allowed: {}",
                        fault.field, fault.found, fault.allowed
                    )
                })
                .collect(),
        },
    }
}

fn reply_ui(ui: &mut Ui, reply: &Reply) {
    ui.add_space(4.0);
    let large = RichText::new(&reply.headline).text_style(super::theme::second());
    ui.add(Label::new(large).wrap());
    for text in [&reply.second_line, &reply.next]
        .into_iter()
        .chain(&reply.problems)
    {
        if !text.is_empty() {
            ui.add(Label::new(RichText::new(text).small()).wrap());
        }
    }
    ui.add_space(4.0);
}

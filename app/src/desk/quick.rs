//! The quick answer: at most eight figures, answered while one types.
//!
//! A new job begins here, and its figures are the job's own: the verdict and the
//! drawing follow them. Beside a job that already holds more they are a sum of
//! their own, and that job stays as it is.

use egui::{Label, RichText, Ui};
use profiles::schema::JobFile;
use profiles::{Length, Library, QuickFigures, is_entered};

use super::edit::{Ask, Edit};
use super::entering;
use super::fields;
use crate::figures::Figures;
use crate::words;

/// The figures typed so far, and what comes of them.
pub struct QuickState {
    /// Whether it is open.
    pub open: bool,
    /// Whether the hand is to be put into its first field.
    pub fresh: bool,
    entered: QuickFigures,
    reply: Option<Reply>,
}

/// What comes of the figures; worked out again only when one of them changes.
struct Reply {
    figures: Figures,
    entered: QuickFigures,
    headline: String,
    second_line: String,
    next: String,
    problems: Vec<String>,
}

impl Default for QuickState {
    fn default() -> QuickState {
        QuickState {
            open: false,
            fresh: false,
            entered: QuickFigures::unknown(),
            reply: None,
        }
    }
}

/// How to reach one of the lengths.
type Place = fn(&mut QuickFigures) -> &mut Length;

/// The lengths, in measuring order, each with a word on how to take it.
const LENGTHS: [(&str, &str, Place); 7] = [
    ("opening width", "left to right, at the dash face", |q| {
        &mut q.width
    }),
    ("opening height", "bottom to top, at the dash face", |q| {
        &mut q.height
    }),
    (
        "depth behind",
        "dash face to the nearest solid thing",
        |q| &mut q.behind,
    ),
    (
        "chassis depth",
        "back of the nose to the rear, no plugs",
        |q| &mut q.chassis,
    ),
    ("setback", "dash face to chassis front; 0 when flush", |q| {
        &mut q.setback
    }),
    ("longest plug", "how far it stands out of the rear", |q| {
        &mut q.plug
    }),
    ("its cable", "across, outside", |q| &mut q.cable),
];

/// What the field of a length is called by those who hear it.
fn label(name: &str) -> String {
    format!("quick answer: {name}")
}

/// Draws the figures and what comes of them.
pub fn quick_ui(
    ui: &mut Ui,
    state: &mut QuickState,
    job: &JobFile,
    library: &Library,
    figures: Figures,
    asks: &mut Vec<Ask>,
) {
    let of_job = QuickFigures::of_job(job);
    let own = of_job.is_some();
    let entered = of_job.unwrap_or_else(|| state.entered.clone());
    let first = if own {
        "The figures of this job. The answer above follows as you type; Enter goes on to the next."
    } else {
        "A sum of its own: the job stays as it is. Enter goes on to the next figure."
    };
    small(ui, first);
    small(
        ui,
        "Any way of writing it: 182, 182,5, 18.2cm, 7 3/16, 182 - 6, 182 ± 1; ? where you could not measure.",
    );
    if std::mem::take(&mut state.fresh) {
        entering::focus_on(ui.ctx(), &label(LENGTHS[0].0));
    }
    let mut next = entered.clone();
    let gesture = figures_ui(ui, &mut next, figures, asks);
    if let Some(gesture) = gesture {
        if own {
            let mut whole = job.clone();
            next.put_into(&mut whole, library);
            let edit = Edit::Everything(Box::new(whole));
            asks.push(Ask::Edit(edit, Some(gesture)));
        } else {
            state.entered = next.clone();
        }
    }
    reply_ui(ui, state, &next, own, library, figures);
    ui.add_space(6.0);
    if own {
        go_on_ui(ui, &next, asks);
    } else if ui.button("Make a job of it").clicked() {
        let whole = next.new_job(library);
        asks.push(Ask::Edit(Edit::Everything(Box::new(whole)), None));
        asks.push(Ask::ShowAll);
    }
}

/// The eight fields; the gesture of the one that was typed in.
fn figures_ui(
    ui: &mut Ui,
    next: &mut QuickFigures,
    figures: Figures,
    asks: &mut Vec<Ask>,
) -> Option<super::document::Gesture> {
    let mut gesture = None;
    for (name, how, place) in LENGTHS {
        let value = place(next).clone();
        let typed = fields::row(ui, name, |ui| {
            let width = 0.75 * fields::field_width(ui);
            let typed = fields::bare_length(ui, &label(name), &value, width, asks);
            let how = match figures.beside(&value) {
                Some((unit, _)) if !unit.is_empty() => format!("{unit}; {how}"),
                _ => how.to_owned(),
            };
            ui.add(Label::new(RichText::new(how).small().weak()).wrap());
            typed
        });
        if let Some(typed) = typed {
            *place(next) = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    let bend = format!("{}", next.bend);
    let read = |text: &str| match text.trim().replace(',', ".").parse::<f64>() {
        Ok(times) if times.is_finite() && times >= 0.0 => Ok(times),
        _ => Err("allowed: a number of cable diameters, 0 or more".to_owned()),
    };
    let typed = fields::row(ui, "bends at", |ui| {
        let width = 0.75 * fields::field_width(ui);
        let label = label("bends at so many diameters");
        let typed = fields::typed(ui, &label, &bend, "", width, read, asks);
        let how = "times the cable's diameter, at its middle";
        ui.add(Label::new(RichText::new(how).small().weak()).wrap());
        typed
    });
    if let Some(typed) = typed {
        next.bend = typed.value;
        gesture = Some(typed.gesture);
    }
    gesture
}

/// Where to go from here.
fn go_on_ui(ui: &mut Ui, entered: &QuickFigures, asks: &mut Vec<Ask>) {
    let next = ui.button("Next: behind each socket");
    entering::meet(ui, next.id, "next step of a new job");
    if next.clicked() {
        asks.push(Ask::BehindSockets);
    }
    ui.add_space(6.0);
    if !LENGTHS
        .iter()
        .any(|(_, _, place)| is_entered(place(&mut entered.clone())))
    {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 10.0;
            if ui.link("Look at the demo job").clicked() {
                asks.push(Ask::Begin(profiles::DEMO.to_owned()));
            }
            if ui.link("Open a job").clicked() {
                asks.push(Ask::Open);
            }
            if ui.link("A short walk of the drawing").clicked() {
                asks.push(Ask::Walk(true));
            }
        });
    }
}

fn reply(entered: &QuickFigures, library: &Library, figures: Figures) -> Reply {
    let entered = entered.clone();
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
                entered,
                headline: words::headline(&fit, figures),
                second_line: words::second_line(&fit, job.proud_limit, figures),
                next,
                problems: Vec::new(),
            }
        }
        Err(faults) => Reply {
            figures,
            entered,
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

/// What comes of the figures. The verdict of a job's own figures stands above
/// everything already.
fn reply_ui(
    ui: &mut Ui,
    state: &mut QuickState,
    entered: &QuickFigures,
    own: bool,
    library: &Library,
    figures: Figures,
) {
    let as_before = |old: &Reply| old.figures == figures && old.entered == *entered;
    if !state.reply.as_ref().is_some_and(as_before) {
        state.reply = Some(reply(entered, library, figures));
    }
    let Some(reply) = &state.reply else {
        return;
    };
    ui.add_space(4.0);
    if !own {
        let large = RichText::new(&reply.headline).text_style(super::theme::second());
        ui.add(Label::new(large).wrap());
        small(ui, &reply.second_line);
    }
    small(ui, &reply.next);
    for problem in &reply.problems {
        small(ui, problem);
    }
}

fn small(ui: &mut Ui, text: &str) {
    if !text.is_empty() {
        ui.add(Label::new(RichText::new(text).small()).wrap());
    }
}

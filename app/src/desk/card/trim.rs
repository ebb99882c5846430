//! Step 8: what is cut, how much, and what the rib keeps.

use egui::{CollapsingHeader, Label, RichText, Ui};
use geometry::trimming::{Account, TrimOutcome, TrimStep};
use geometry::{Job, Strip, Trim};
use profiles::Length;
use profiles::schema::{EdgeFile, JobFile, PartUse, StripFile, ToolPart, TrimFile};

use super::Card;
use super::list::{heading, remark, small_button};
use super::obstacle::{cautions, pair_ui};
use super::part::id_of;
use crate::desk::cutting::{Tried, Trying};
use crate::desk::edit::{Ask, Edit, ListEdit};
use crate::desk::fields;
use crate::desk::model::{Model, RibSheet, SheetNotch};
use crate::words::trim as words;

/// Draws the step.
pub fn trim_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    if card.model.job.is_none() {
        remark(ui, "No answer yet: the steps above say what is lacking.");
        return;
    }
    if card.model.ribs.is_empty() {
        remark(
            ui,
            "Nothing in this cavity may be cut. A rib may be when its form in the cavity says so; beams, ducts, looms, airbag and unknown parts never. What was met behind a socket can be described as a rib in its row there.",
        );
        return;
    }
    search_ui(ui, card, asks);
    for rib in &card.model.ribs {
        rib_ui(ui, card, rib, asks);
    }
    habits_ui(ui, card, asks);
    cautions(ui, card);
}

/// The search for the least cut, and what it found.
fn search_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "The least cut");
    let trying = card.cutting.trying();
    ui.horizontal_wrapped(|ui| match trying {
        Trying::At(at) => {
            let at = at.map_or(String::new(), |at| {
                format!(" at {} proud", card.figures.length(at))
            });
            ui.label(format!("looking{at} ..."));
            if ui.button("Stop").clicked() {
                asks.push(Ask::StopLookingForCuts);
            }
        }
        Trying::Idle | Trying::Broken => {
            if ui.button("Look for the least cut").clicked() {
                asks.push(Ask::LookForCuts);
            }
            if trying == Trying::Broken {
                ui.label("the search broke off");
            }
        }
    });
    let Some((tried, current)) = card.cutting.tried(card.model.job.as_ref()) else {
        remark(
            ui,
            "For each millimetre of proud, the least to take out so that everything goes in, leads and modules and all.",
        );
        return;
    };
    if !current {
        remark(ui, "Of an earlier state of the job:");
    }
    for at in 0..tried.steps.len() {
        step_ui(ui, card, tried, at, current, asks);
    }
    remark(ui, words::COMPARES);
}

/// One step in a line; a click takes its notches.
fn step_ui(ui: &mut Ui, card: Card, tried: &Tried, at: usize, current: bool, asks: &mut Vec<Ask>) {
    let step = &tried.steps[at];
    let accounts = &tried.accounts[at];
    let text = step_line(card, step, accounts);
    if !step.holds() {
        remark(ui, &text);
        return;
    }
    let taken = (card.model.job.as_ref()).is_some_and(|job| job.trims == step.trims);
    let button = egui::Button::new(text.as_str()).selected(taken).wrap();
    if ui.add_enabled(current, button).clicked() {
        asks.push(Ask::Edit(
            Edit::Trims(files(card.model, card.job, step)),
            None,
        ));
        if let Some(first) = step.trims.first() {
            asks.push(Ask::Rib(first.rib.clone()));
        }
    }
}

/// "flush: 0.21 cm3, keeps 90 %"
pub fn step_line(card: Card, step: &TrimStep, accounts: &[Account]) -> String {
    let proud = match step.proud {
        proud if proud <= 0.0 => "flush".to_owned(),
        proud => format!("{} proud", card.figures.length(proud)),
    };
    match step.outcome {
        TrimOutcome::Cut | TrimOutcome::CutWithStrips => {
            let kept = match least_kept(accounts) {
                Some(kept) => format!(", keeps {}", words::share(kept)),
                None => String::new(),
            };
            let strip = match step.outcome {
                TrimOutcome::CutWithStrips => {
                    " with it; needs a doubler strip, no cut found without"
                }
                _ => "",
            };
            format!("{proud}: {}{kept}{strip}", words::volume(step.removed_mm3))
        }
        TrimOutcome::NothingToCut => format!("{proud}: nothing to cut"),
        _ => words::headline(step, accounts, card.figures),
    }
}

/// The least share of stiffness that any of these ribs keeps, pushed at its middle.
pub fn least_kept(accounts: &[Account]) -> Option<f64> {
    let kept = accounts.iter().filter_map(|it| it.kept.as_ref().ok());
    let kept = kept.filter_map(|it| it.judged()).map(|it| it.value);
    kept.reduce(f64::min)
}

/// The notches of a step as the job file has them. One that the job has already
/// keeps its writing.
pub fn files(model: &Model, written: &JobFile, step: &TrimStep) -> Vec<TrimFile> {
    let job = model.job.as_ref();
    let known = |trim: &Trim| {
        let at = job?.trims.iter().position(|it| it == trim)?;
        written.trims.get(at).cloned()
    };
    let stop_hole = job.map_or(0.0, |job| job.cutting.stop_hole);
    let trims = step.trims.iter();
    trims
        .map(|trim| known(trim).unwrap_or_else(|| file(trim, stop_hole)))
        .collect()
}

fn file(trim: &Trim, stop_hole: f64) -> TrimFile {
    let usual = (trim.radius - 0.5 * stop_hole).abs() < 1e-9;
    TrimFile {
        rib: trim.rib.clone(),
        edge: edge_file(trim.edge),
        along: trim.along.map(Length::mm),
        depth: Length::mm(trim.depth),
        radius: (!usual).then(|| Length::mm(trim.radius)),
        locked: trim.locked,
        doubler: trim.doubler.as_ref().map(strip_file),
    }
}

fn strip_file(strip: &Strip) -> StripFile {
    StripFile {
        thickness: Some(Length::mm(strip.thickness)),
        height: Some(Length::mm(strip.height)),
        lap: Some(Length::mm(strip.lap)),
        e_modulus_mpa: Some(strip.modulus),
    }
}

fn edge_file(edge: geometry::Edge) -> EdgeFile {
    match edge {
        geometry::Edge::Near => EdgeFile::Near,
        geometry::Edge::Far => EdgeFile::Far,
        geometry::Edge::Upper => EdgeFile::Upper,
        geometry::Edge::Lower => EdgeFile::Lower,
        geometry::Edge::Left => EdgeFile::Left,
        geometry::Edge::Right => EdgeFile::Right,
    }
}

/// One rib that may be cut: its notches, what they come to.
fn rib_ui(ui: &mut Ui, card: Card, rib: &RibSheet, asks: &mut Vec<Ask>) {
    heading(ui, &rib.name);
    ui.horizontal_wrapped(|ui| {
        let show = ui.add(egui::Button::new("On the bench").selected(card.rib == Some(&rib.id)));
        if show
            .on_hover_text("Show it in its own plane")
            .accessible_name(format!("{} on the bench", rib.name))
            .clicked()
        {
            asks.push(Ask::Rib(rib.id.clone()));
        }
        if let Some(notch) = new_notch(rib) {
            let add = ui.button("Add a notch");
            let add = add.accessible_name(format!("add a notch to {}", rib.name));
            if add.clicked() {
                asks.push(Ask::Edit(Edit::Trim(ListEdit::add(notch)), None));
                asks.push(Ask::Rib(rib.id.clone()));
            }
        }
        let left = card.job.cutting.leave_alone.contains(&rib.id);
        if let Some(leave) = fields::tick(ui, &rib.name, "leave it alone", left) {
            let mut cutting = card.job.cutting.clone();
            cutting.leave_alone.retain(|id| *id != rib.id);
            if leave {
                cutting.leave_alone.push(rib.id.clone());
            }
            asks.push(Ask::Edit(Edit::Cutting(Box::new(cutting)), None));
        }
    });
    if rib.asks {
        let agreed = card.job.cutting.ask_agreed;
        if let Some(agreed) = fields::tick(ui, &rib.name, "the customer agrees to cut it", agreed) {
            let mut cutting = card.job.cutting.clone();
            cutting.ask_agreed = agreed;
            asks.push(Ask::Edit(Edit::Cutting(Box::new(cutting)), None));
        }
    }
    for notch in &rib.notches {
        notch_ui(ui, card, rib, notch, asks);
    }
    account_ui(ui, card, rib);
}

/// One notch: its sides, its depth, whether it stays as it is.
fn notch_ui(ui: &mut Ui, card: Card, rib: &RibSheet, notch: &SheetNotch, asks: &mut Vec<Ask>) {
    let Some(written) = card.job.trims.get(notch.number) else {
        return;
    };
    let of = format!("notch {} in {}", notch.number + 1, rib.name);
    let mut next = written.clone();
    let mut gesture = None;
    if let Some((which, typed)) = pair_ui(ui, &of, "from, to", ["from", "to"], &written.along, asks)
    {
        next.along[which] = typed.value;
        gesture = Some(typed.gesture);
    }
    if let Some(typed) = fields::length(ui, &of, "depth", &written.depth, asks) {
        next.depth = typed.value;
        gesture = Some(typed.gesture);
    }
    let mut chosen = false;
    ui.horizontal_wrapped(|ui| {
        if let Some(locked) = fields::tick(ui, &of, "stays as it is", written.locked) {
            next.locked = locked;
            chosen = true;
        }
        let bonded = written.doubler.is_some();
        if let Some(bond) = fields::tick(ui, &of, "a doubler strip over it", bonded) {
            next.doubler = bond.then(StripFile::default);
            chosen = true;
        }
        let out = small_button(ui, "Take out").accessible_name(format!("take out {of}"));
        if out.clicked() {
            asks.push(Ask::Edit(Edit::Trim(ListEdit::Remove(notch.number)), None));
        }
    });
    if chosen || gesture.is_some() {
        let edit = Edit::Trim(ListEdit::set(notch.number, next));
        asks.push(Ask::Edit(edit, gesture.filter(|_| !chosen)));
    }
    for fault in &notch.faults {
        ui.add(Label::new(RichText::new(format!("Not allowed: {fault}.")).small()).wrap());
    }
    let job = card.model.job.as_ref();
    if let Some((counted, true)) = card.cutting.counted(job)
        && let Some(Err(unreachable)) = counted.reach.get(notch.number)
    {
        let text = format!("The {} does not get at it: {unreachable}.", tool_name(card));
        ui.add(Label::new(RichText::new(text).small()).wrap());
    }
}

fn tool_name(card: Card) -> String {
    let job = card.model.job.as_ref();
    job.map_or("tool".to_owned(), |job| job.cutting.tool.name.clone())
}

/// What the notches of a rib come to, when that has been worked out.
fn account_ui(ui: &mut Ui, card: Card, rib: &RibSheet) {
    if rib.notches.is_empty() {
        return;
    }
    let Some((counted, current)) = card.cutting.counted(card.model.job.as_ref()) else {
        remark(ui, "working out what it keeps ...");
        return;
    };
    let Some(account) = counted.accounts.iter().find(|it| it.rib == rib.id) else {
        return;
    };
    let figures = card.figures;
    let mut lines = vec![format!(
        "{} gone, {:.0} % of its face; {} of web left",
        words::volume(account.removed_volume),
        100.0 * account.share,
        figures.length(account.web)
    )];
    match &account.kept {
        Ok(kept) => lines.push(words::kept(kept)),
        Err(fault) => lines.push(format!("no figure for its stiffness: {fault}")),
    }
    let fitted = card.cutting.fitted(Some(&counted.job));
    let rooms = fitted
        .filter(|(_, of_it)| *of_it)
        .and_then(|(it, _)| it.strips.as_deref());
    lines.extend(words::strips(&counted.job, account, rooms, figures));
    if let Some(weak) = &account.weak {
        lines.push(format!("too weak: {weak}"));
    }
    if let Some(doublers) = &account.doublers {
        for (number, strip) in &doublers.strips {
            let size = words::strip_size(strip, figures);
            let notch = number + 1;
            lines.push(format!("needs a doubler strip, {size} over notch {notch}"));
        }
        lines.push(format!("then it {}", words::kept(&doublers.kept)));
    }
    let lines_ui = |ui: &mut Ui, lines: Vec<String>| {
        for line in lines {
            let text = RichText::new(line).small();
            let text = if current { text } else { text.weak() };
            ui.add(Label::new(text).wrap());
        }
    };
    lines_ui(ui, lines);
    let title = format!("Details of {}", rib.name);
    CollapsingHeader::new(RichText::new(title).small())
        .id_salt(("details", &rib.id))
        .show(ui, |ui| {
            lines_ui(ui, details(card, &counted.job, account));
        });
}

/// Exact figures with their errors, the hand check, stress at the corners.
fn details(card: Card, job: &Job, account: &Account) -> Vec<String> {
    let kept = account.kept.as_ref().ok();
    let mut lines = kept.map_or(Vec::new(), |kept| words::details(job, account, kept));
    match card.cutting.corners(Some(job), &account.rib) {
        Some(corners) => {
            lines.extend((corners.iter()).map(|it| words::corner(it, card.figures)));
        }
        None => lines.push("working out the stress at its corners ...".to_owned()),
    }
    lines
}

/// A small notch in the middle of the first edge that may be cut.
fn new_notch(rib: &RibSheet) -> Option<TrimFile> {
    let range = rib.ranges.first()?;
    let [from, to] = range.along()?;
    let step = |at: f64| (at / range.snap).round() * range.snap;
    let half = step((0.25 * (to - from)).min(10.0)).max(range.snap);
    let taken = |along: [f64; 2]| {
        let own = rib.notches.iter().filter(|it| it.trim.edge == range.edge);
        own.map(|it| it.trim.along)
            .any(|other| other[0] <= along[1] + range.snap && along[0] <= other[1] + range.snap)
    };
    let middle = step(0.5 * (from + to));
    // In the middle, else as near to it as there is room.
    let places = (0..).map(|out| {
        let by = range.snap * f64::from((out + 1) / 2);
        if out % 2 == 0 { by } else { -by }
    });
    let along = places
        .take(2 * range.deepest.len() + 1)
        .map(|by| [middle + by - half, middle + by + half])
        .find(|along| range.deepest_between(*along) >= range.snap && !taken(*along))?;
    let depth = range.deepest_between(along).min(6.0 * range.snap);
    Some(TrimFile {
        rib: rib.id.clone(),
        edge: edge_file(range.edge),
        along: along.map(Length::mm),
        depth: Length::mm((depth / range.snap).floor() * range.snap),
        radius: None,
        locked: false,
        doubler: None,
    })
}

/// What the shop cuts with and how far it goes.
fn habits_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    heading(ui, "How it is cut");
    let written = &card.job.cutting;
    let mut next = written.clone();
    let mut gesture = None;
    let mut chosen = false;
    let tools: Vec<(String, String)> = (card.library.ids::<ToolPart>())
        .filter_map(|id| {
            let tool = card.library.get::<ToolPart>(id)?;
            Some((id.to_owned(), tool.name.clone()))
        })
        .collect();
    let used = written.tool.as_ref().map_or("oscillating_saw", id_of);
    if let Some(tool) = fields::choice_of(ui, "cutting", "tool", used, &tools) {
        next.tool = Some(PartUse::Named(tool));
        chosen = true;
    }
    let lengths = [
        ("stop hole", "8", 0),
        ("edge trim", "0.5", 1),
        ("step of notches", "1", 2),
    ];
    for (name, usual, which) in lengths {
        let value = match which {
            0 => &mut next.stop_hole,
            1 => &mut next.edge_trim,
            _ => &mut next.snap,
        };
        let before = value.clone();
        if let Some(typed) =
            fields::optional_length(ui, "cutting", name, before.as_ref(), usual, asks)
        {
            *value = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    let share = written.keep_stiffness_percent;
    let shown = share.map_or(String::new(), |share| format!("{share}"));
    let read = |text: &str| match text.trim().trim_end_matches('%').trim() {
        "" => Ok(None),
        text => match text.replace(',', ".").parse::<f64>() {
            Ok(share) if (0.0..=100.0).contains(&share) => Ok(Some(share)),
            _ => Err("allowed: 0 to 100 percent".to_owned()),
        },
    };
    let typed = fields::row(ui, "keep, percent", |ui| {
        let width = fields::field_width(ui);
        let label = "cutting: keep, percent of stiffness";
        fields::typed(ui, label, &shown, "60", width, read, asks)
    });
    if let Some(typed) = typed {
        next.keep_stiffness_percent = typed.value;
        gesture = Some(typed.gesture);
    }
    if chosen || gesture.is_some() {
        let edit = Edit::Cutting(Box::new(next));
        asks.push(Ask::Edit(edit, gesture.filter(|_| !chosen)));
    }
    let tabs = card.model.job.as_ref().map(geometry::trimming::tabs_off);
    for tab in tabs.unwrap_or_default() {
        remark(
            ui,
            &format!(
                "The {} comes off too; at most {} of it may stay.",
                tab.name,
                card.figures.length(tab.stub)
            ),
        );
    }
}

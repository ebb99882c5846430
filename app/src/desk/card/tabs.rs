//! Break-off tabs of a kit pocket, each with what is to be done with it.

use egui::Ui;
use profiles::Length;
use profiles::schema::{MountPart, PartUse, SideFile, TabDecisionFile, TabFile};

use super::list::{
    InList, Line, form_frame, free_id, heading, line_ui, list_buttons, neighbours, small_button,
};
use super::obstacle::pair_ui;
use super::{Card, copies};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::document::Gesture;
use crate::desk::edit::{Ask, Edit, ListEdit, Target};
use crate::desk::fields;
use crate::desk::theme::Tone;

/// The decisions, in words.
const DECISIONS: [(TabDecisionFile, &str); 3] = [
    (TabDecisionFile::Keep, "keep"),
    (TabDecisionFile::Remove, "remove"),
    (TabDecisionFile::NotSure, "not sure"),
];

/// Draws the list, where the mount has a kit pocket.
pub fn tabs_ui(ui: &mut Ui, card: Card, asks: &mut Vec<Ask>) {
    let Some(mount) = card.library.resolved::<MountPart>(&card.job.mount) else {
        return;
    };
    let Some(kit) = &mount.kit_pocket else {
        return;
    };
    heading(ui, "Break-off tabs");
    for (at, tab) in kit.tabs.iter().enumerate() {
        if let Some(decision) =
            fields::choice(ui, "break-off tab", &tab.name, &tab.decision, &DECISIONS)
        {
            asks.push(Ask::Edit(
                Edit::Mount(decided(&card.job.mount, at, tab, decision)),
                None,
            ));
        }
        let target = Target::Tab(tab.id.clone());
        let line = Line {
            name: &format!("place of the {}", tab.name),
            end: "tab".to_owned(),
            swatch: Some((Tone::Unit, Hatch::Single)),
            in_the_way: card.model.clashes_with(&target),
            target,
        };
        if line_ui(ui, &card, &line, asks) {
            form_frame(ui, |ui| {
                tab_ui(ui, &mount, &kit.tabs, at, asks);
            });
        }
    }
    if small_button(ui, "Add a tab").clicked() {
        let id = free_id("T", kit.tabs.iter().map(|tab| tab.id.as_str()));
        let edit = with_tabs(&mount, ListEdit::add(new_tab(&id)));
        asks.push(Ask::Edit(Edit::Mount(edit), None));
        asks.push(Ask::Choose(Target::Tab(id)));
    }
}

/// The mount with a change of its tabs, described in full from then on.
fn with_tabs(mount: &MountPart, edit: ListEdit<TabFile>) -> PartUse<MountPart> {
    let mut mount = mount.clone();
    if let Some(kit) = &mut mount.kit_pocket {
        edit.apply(&mut kit.tabs);
    }
    PartUse::Inline(Box::new(mount))
}

/// A tab to begin from: a small one at the left, low, that nobody has looked at.
fn new_tab(id: &str) -> TabFile {
    let pair = |low: f64, high: f64| [Length::mm(low), Length::mm(high)];
    TabFile {
        id: id.to_owned(),
        name: format!("tab {id}"),
        across: pair(-92.0, -90.0),
        depth: pair(10.0, 30.0),
        up: pair(-20.0, -12.0),
        grows_from: SideFile::Left,
        decision: TabDecisionFile::NotSure,
    }
}

fn tab_ui(ui: &mut Ui, mount: &MountPart, all: &[TabFile], at: usize, asks: &mut Vec<Ask>) {
    let tab = &all[at];
    let of = tab.name.as_str();
    let mut next = tab.clone();
    let mut gesture: Option<Gesture> = None;
    let mut chosen = false;
    if let Some(typed) = fields::words(ui, "tab", "name", of, asks) {
        next.name = typed.value;
        gesture = Some(typed.gesture);
    }
    type Place = fn(&mut TabFile) -> &mut [Length; 2];
    let faces: [(&str, [&str; 2], Place); 3] = [
        ("depth", ["near face", "far face"], |tab| &mut tab.depth),
        ("across", ["left face", "right face"], |tab| &mut tab.across),
        ("up", ["lower face", "upper face"], |tab| &mut tab.up),
    ];
    for (name, ends, place) in faces {
        let pair = place(&mut next).clone();
        if let Some((which, typed)) = pair_ui(ui, of, name, ends, &pair, asks) {
            place(&mut next)[which] = typed.value;
            gesture = Some(typed.gesture);
        }
    }
    let sides = [
        (SideFile::Left, "left"),
        (SideFile::Right, "right"),
        (SideFile::Top, "top"),
        (SideFile::Bottom, "bottom"),
    ];
    if let Some(side) = fields::choice(ui, of, "grows from", &tab.grows_from, &sides) {
        next.grows_from = side;
        chosen = true;
    }
    if chosen || gesture.is_some() {
        let edit = with_tabs(mount, ListEdit::set(at, next));
        let gesture = gesture.filter(|_| !chosen);
        asks.push(Ask::Edit(Edit::Mount(edit), gesture));
    }
    list_buttons(
        ui,
        &Target::Tab(tab.id.clone()),
        InList {
            at,
            neighbours: neighbours(at, all.len()),
            name: of,
            edit: &|edit| Edit::Mount(with_tabs(mount, edit)),
            copy: copies::tab(all, at).map(|copy| {
                let target = Target::Tab(copy.id.clone());
                (copy, target)
            }),
        },
        asks,
    );
}

/// A mount with one decision changed; a library mount stays one.
fn decided(
    used: &PartUse<MountPart>,
    at: usize,
    tab: &TabFile,
    decision: TabDecisionFile,
) -> PartUse<MountPart> {
    let key = format!("kit_pocket.tabs.{}.decision", tab.id);
    let word = decision_key(decision).to_owned();
    match used {
        PartUse::Inline(part) => {
            let mut part = part.clone();
            let tabs = part.kit_pocket.as_mut().map(|kit| &mut kit.tabs);
            if let Some(tab) = tabs.and_then(|tabs| tabs.get_mut(at)) {
                tab.decision = decision;
            }
            PartUse::Inline(part)
        }
        PartUse::Named(base) => PartUse::Changed {
            base: base.clone(),
            with: [(key, word)].into(),
        },
        PartUse::Changed { base, with } => {
            let mut with = with.clone();
            with.insert(key, word);
            PartUse::Changed {
                base: base.clone(),
                with,
            }
        }
    }
}

/// How a file writes a decision.
fn decision_key(decision: TabDecisionFile) -> &'static str {
    match decision {
        TabDecisionFile::Keep => "keep",
        TabDecisionFile::Remove => "remove",
        TabDecisionFile::NotSure => "not_sure",
    }
}

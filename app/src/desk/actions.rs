//! Everything the window can be asked for, in one place: its name, its words,
//! its keys, and what it asks. The bar, the tooltips, the list of all actions
//! and the keyboard read from here.

use egui::{Event, Key, KeyboardShortcut, Modifiers};
use profiles::schema::KindFile;

use super::canvas::camera::View;
use super::card;
use super::document::{Document, Place};
use super::edit::{Ask, Edit, ListEdit, Menu, PaperChoice, Step, Target, TurnedShown};
use super::laying::Doing;
use super::model::kind_of;
use super::settings::{SCALES, Settings};
use crate::figures::Figures;

/// What an action is known by in the code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)] // the words of each stand in the table
pub enum Name {
    BeginEmpty,
    Open,
    Save,
    SaveAs,
    ReadAgain,
    Quit,
    Undo,
    Redo,
    WhatWasDone,
    QuickAnswer,
    OpenStep(Step),
    AddThing(KindFile),
    ShowAll,
    Sections,
    OneView(View),
    TurnedAlone,
    TurnedBeside,
    Lay,
    LeaveUnlaid,
    StopLaying,
    GoOnLaying,
    Millimetres,
    Inches,
    OtherUnits,
    Paper(PaperChoice),
    LargeOn,
    LargeOff,
    ScaleUp,
    ScaleDown,
    ScaleUsual,
    AllActions,
    ToLine,
}

/// What an action may depend on.
#[derive(Clone, Copy)]
pub struct Now<'a> {
    /// The job and its history.
    pub document: &'a Document,
    /// How one likes the window.
    pub settings: &'a Settings,
    /// What the search for leads is doing.
    pub doing: Doing,
}

/// One thing that can be asked for.
#[derive(Clone, Copy, Debug)]
pub struct Action {
    /// What it is known by.
    pub name: Name,
    /// What it belongs to.
    pub group: &'static str,
    /// Its word in the bar.
    pub word: &'static str,
    /// What it does, in a few words.
    pub words: &'static str,
    /// The keys that ask for it; the first is the one shown.
    pub keys: &'static [KeyboardShortcut],
}

const fn command(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::COMMAND, key)
}

const fn command_shift(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), key)
}

const fn alone(key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(Modifiers::NONE, key)
}

const fn action(
    name: Name,
    group: &'static str,
    word: &'static str,
    words: &'static str,
    keys: &'static [KeyboardShortcut],
) -> Action {
    Action {
        name,
        group,
        word,
        words,
        keys,
    }
}

/// Shows the turned view alone.
pub const TURNED: KeyboardShortcut = command(Key::D);

const JOB: &str = "Job";
const STEPS: &str = "Steps of the work";
const THINGS: &str = "Things behind the opening";
const DRAWING: &str = "Drawing";
const LEADS: &str = "Leads";
const LOOK: &str = "Figures and paper";
const WINDOW: &str = "Window";

/// All of them, in the order of the list.
pub const ACTIONS: [Action; 49] = [
    action(
        Name::BeginEmpty,
        JOB,
        "an empty job",
        "Begin an empty job",
        &[command(Key::N)],
    ),
    action(
        Name::Open,
        JOB,
        "Open",
        "Open a job from a file",
        &[command(Key::O)],
    ),
    action(Name::Save, JOB, "Save", "Save the job", &[command(Key::S)]),
    action(
        Name::SaveAs,
        JOB,
        "Save as",
        "Save the job under another name",
        &[command_shift(Key::S)],
    ),
    action(Name::ReadAgain, JOB, "", "Read the job's file again", &[]),
    action(
        Name::Undo,
        JOB,
        "Undo",
        "Undo the last step",
        &[command(Key::Z)],
    ),
    action(
        Name::Redo,
        JOB,
        "Redo",
        "Redo the step undone last",
        &[command_shift(Key::Z), command(Key::Y)],
    ),
    action(
        Name::WhatWasDone,
        JOB,
        "What was done",
        "Show what was done, step by step",
        &[command(Key::H)],
    ),
    action(
        Name::QuickAnswer,
        STEPS,
        "",
        "Quick answer",
        &[command(Key::Num0)],
    ),
    action(
        Name::OpenStep(Step::Cavity),
        STEPS,
        "",
        "Open the cavity",
        &[command(Key::Num1)],
    ),
    action(
        Name::OpenStep(Step::Unit),
        STEPS,
        "",
        "Open the unit",
        &[command(Key::Num2)],
    ),
    action(
        Name::OpenStep(Step::Mount),
        STEPS,
        "",
        "Open the mount",
        &[command(Key::Num3)],
    ),
    action(
        Name::OpenStep(Step::Leads),
        STEPS,
        "",
        "Open the leads",
        &[command(Key::Num4)],
    ),
    action(
        Name::OpenStep(Step::Modules),
        STEPS,
        "",
        "Open the modules",
        &[command(Key::Num5)],
    ),
    action(
        Name::OpenStep(Step::Looms),
        STEPS,
        "",
        "Open the looms",
        &[command(Key::Num6)],
    ),
    action(
        Name::OpenStep(Step::Verdict),
        STEPS,
        "",
        "Open the verdict",
        &[command(Key::Num7)],
    ),
    action(
        Name::OpenStep(Step::Trim),
        STEPS,
        "",
        "Open the trimming",
        &[command(Key::Num8)],
    ),
    action(Name::AddThing(KindFile::Rib), THINGS, "", "Add a rib", &[]),
    action(
        Name::AddThing(KindFile::Shelf),
        THINGS,
        "",
        "Add a shelf",
        &[],
    ),
    action(
        Name::AddThing(KindFile::Boss),
        THINGS,
        "",
        "Add a boss",
        &[],
    ),
    action(
        Name::AddThing(KindFile::Bracket),
        THINGS,
        "",
        "Add a bracket",
        &[],
    ),
    action(
        Name::AddThing(KindFile::Beam),
        THINGS,
        "",
        "Add a beam",
        &[],
    ),
    action(
        Name::AddThing(KindFile::Duct),
        THINGS,
        "",
        "Add a duct",
        &[],
    ),
    action(
        Name::AddThing(KindFile::Loom),
        THINGS,
        "",
        "Add a factory loom",
        &[],
    ),
    action(
        Name::AddThing(KindFile::Unknown),
        THINGS,
        "",
        "Add something unknown",
        &[],
    ),
    action(
        Name::OneView(View::LookingIn),
        DRAWING,
        "",
        "Looking in, alone (A)",
        &[alone(Key::F2)],
    ),
    action(
        Name::OneView(View::FromAbove),
        DRAWING,
        "",
        "From above, alone (B)",
        &[alone(Key::F3)],
    ),
    action(
        Name::OneView(View::FromSide),
        DRAWING,
        "",
        "From the side, alone (C)",
        &[alone(Key::F4)],
    ),
    action(
        Name::TurnedAlone,
        DRAWING,
        "",
        "Turned view, alone (D)",
        &[TURNED, alone(Key::F5)],
    ),
    action(
        Name::TurnedBeside,
        DRAWING,
        "",
        "Turned view beside the sections",
        &[alone(Key::F7)],
    ),
    action(
        Name::Sections,
        DRAWING,
        "",
        "All three sections",
        &[alone(Key::F8)],
    ),
    action(
        Name::ShowAll,
        DRAWING,
        "",
        "Show all of the drawing",
        &[alone(Key::F9)],
    ),
    action(
        Name::Lay,
        LEADS,
        "",
        "Lay the leads whenever the job changes",
        &[],
    ),
    action(Name::LeaveUnlaid, LEADS, "", "Leave the leads unlaid", &[]),
    action(Name::StopLaying, LEADS, "", "Stop laying leads", &[]),
    action(Name::GoOnLaying, LEADS, "", "Go on laying leads", &[]),
    action(
        Name::Millimetres,
        LOOK,
        "mm",
        "Show lengths in millimetres",
        &[],
    ),
    action(
        Name::Inches,
        LOOK,
        "inch",
        "Show lengths in inches and fractions",
        &[],
    ),
    action(
        Name::OtherUnits,
        LOOK,
        "",
        "Change between millimetres and inches",
        &[command(Key::U)],
    ),
    action(
        Name::Paper(PaperChoice::Light),
        LOOK,
        "Light",
        "Light paper",
        &[],
    ),
    action(
        Name::Paper(PaperChoice::Dark),
        LOOK,
        "Dark",
        "Dark paper",
        &[],
    ),
    action(
        Name::Paper(PaperChoice::FollowSystem),
        LOOK,
        "As system",
        "Paper as the system is set",
        &[],
    ),
    action(Name::LargeOn, LOOK, "Large", "Large words and targets", &[]),
    action(
        Name::LargeOff,
        LOOK,
        "",
        "Words and targets of the usual size",
        &[],
    ),
    action(
        Name::ScaleUp,
        LOOK,
        "+",
        "Scale everything up",
        &[command(Key::Plus), command(Key::Equals)],
    ),
    action(
        Name::ScaleDown,
        LOOK,
        "-",
        "Scale everything down",
        &[command(Key::Minus)],
    ),
    action(Name::ScaleUsual, LOOK, "", "Everything at 100 %", &[]),
    action(
        Name::AllActions,
        WINDOW,
        "All actions",
        "Find an action; all keys",
        &[alone(Key::F1)],
    ),
    action(
        Name::ToLine,
        WINDOW,
        "",
        "Go to the line that asks something",
        &[alone(Key::F6)],
    ),
];

/// Ends the program; on a line of its own at the end of the list.
pub const QUIT: Action = action(Name::Quit, WINDOW, "Quit", "Quit", &[command(Key::Q)]);

/// All of them, Quit last.
pub fn all() -> impl Iterator<Item = Action> {
    ACTIONS.into_iter().chain([QUIT])
}

/// The one of that name.
///
/// # Panics
/// When it stands in no table; a test looks at every name there is.
pub fn of(name: Name) -> Action {
    all()
        .find(|action| action.name == name)
        .unwrap_or_else(|| unreachable!("{name:?} stands in no table"))
}

impl Action {
    /// Its keys as they are shown; empty where it has none.
    pub fn keys_shown(&self, ctx: &egui::Context) -> String {
        (self.keys.first()).map_or_else(String::new, |keys| ctx.format_shortcut(keys))
    }

    /// What it says when pointed at: what it does, and its keys.
    pub fn tip(&self, ctx: &egui::Context) -> String {
        let keys = self.keys_shown(ctx);
        if keys.is_empty() {
            self.words.to_owned()
        } else {
            format!("{} ({keys})", self.words)
        }
    }

    /// What it asks for as things stand; nothing when there is nothing to ask.
    pub fn asks(&self, now: &Now) -> Vec<Ask> {
        let settings = now.settings;
        let when = |so: bool, ask: Ask| if so { vec![ask] } else { Vec::new() };
        match self.name {
            Name::BeginEmpty => vec![Ask::BeginEmpty],
            Name::Open => vec![Ask::Open],
            Name::Save => vec![Ask::Save],
            Name::SaveAs => vec![Ask::SaveAs],
            Name::ReadAgain => {
                let in_a_file = matches!(now.document.place(), Place::File(_));
                when(in_a_file, Ask::ReadAgain)
            }
            Name::Quit => vec![Ask::Quit],
            Name::Undo => when(now.document.can_undo(), Ask::Undo),
            Name::Redo => when(now.document.can_redo(), Ask::Redo),
            Name::WhatWasDone => vec![Ask::Menu(Menu::WhatWasDone)],
            Name::QuickAnswer => vec![Ask::Quick(true)],
            Name::OpenStep(step) => vec![Ask::Step(Some(step))],
            Name::AddThing(kind) => add_thing(kind, now.document),
            Name::ShowAll => vec![Ask::ShowAll],
            Name::Sections => vec![Ask::Turned(TurnedShown::Away), Ask::Alone(None)],
            Name::OneView(view) => vec![Ask::Turned(TurnedShown::Away), Ask::Alone(Some(view))],
            Name::TurnedAlone => vec![Ask::Turned(TurnedShown::Alone)],
            Name::TurnedBeside => vec![Ask::Turned(TurnedShown::Beside)],
            Name::Lay => when(!settings.lay, Ask::Lay(true)),
            Name::LeaveUnlaid => when(settings.lay, Ask::Lay(false)),
            Name::StopLaying => when(matches!(now.doing, Doing::Laying(_)), Ask::StopLaying),
            Name::GoOnLaying => {
                let stopped = matches!(now.doing, Doing::Stopped | Doing::Broken);
                when(stopped, Ask::GoOnLaying)
            }
            Name::Millimetres => units(Figures::Millimetres, settings),
            Name::Inches => units(Figures::Inches, settings),
            Name::OtherUnits => vec![Ask::Show(match settings.figures {
                Figures::Millimetres => Figures::Inches,
                Figures::Inches => Figures::Millimetres,
            })],
            Name::Paper(paper) => when(settings.paper != paper, Ask::Paper(paper)),
            Name::LargeOn => when(!settings.large, Ask::Large(true)),
            Name::LargeOff => when(settings.large, Ask::Large(false)),
            Name::ScaleUp => settings
                .next_scale(true)
                .map(Ask::Scale)
                .into_iter()
                .collect(),
            Name::ScaleDown => settings
                .next_scale(false)
                .map(Ask::Scale)
                .into_iter()
                .collect(),
            Name::ScaleUsual => when(settings.scale != SCALES[0], Ask::Scale(SCALES[0])),
            Name::AllActions => vec![Ask::Menu(Menu::AllActions)],
            Name::ToLine => vec![Ask::ToLine],
        }
    }
}

fn units(figures: Figures, settings: &Settings) -> Vec<Ask> {
    if settings.figures == figures {
        Vec::new()
    } else {
        vec![Ask::Show(figures)]
    }
}

/// Adds a thing to the cavity and opens its form.
fn add_thing(kind: KindFile, document: &Document) -> Vec<Ask> {
    let new = card::new_obstacle(kind, &document.job().cavity.obstacles);
    let target = Target::Obstacle(new.id.clone());
    debug_assert_eq!(kind_of(new.kind), kind_of(kind));
    vec![
        Ask::Edit(Edit::Obstacle(ListEdit::add(new)), None),
        Ask::Choose(target),
    ]
}

/// What the keyboard asks for, wherever the focus is, in the order pressed.
pub fn from_keyboard(ctx: &egui::Context) -> Vec<Action> {
    let mut keys: Vec<(KeyboardShortcut, Action)> = all()
        .flat_map(|action| action.keys.iter().map(move |keys| (*keys, action)))
        .collect();
    // The ones with more keys come first, or the shorter would swallow them.
    keys.sort_by_key(|(keys, _)| !keys.modifiers.shift);
    let mut pressed = Vec::new();
    ctx.input_mut(|input| {
        input.events.retain(|event| {
            let action = keys.iter().find(|(keys, _)| is_press_of(event, keys));
            pressed.extend(action.map(|(_, action)| *action));
            action.is_none()
        });
    });
    pressed
}

fn is_press_of(event: &Event, keys: &KeyboardShortcut) -> bool {
    matches!(
        event,
        Event::Key { key, modifiers, pressed: true, .. }
            if *key == keys.logical_key && modifiers.matches_logically(keys.modifiers)
    )
}

/// The actions that hold every word of a text in their words, their group or
/// their keys.
pub fn found(text: &str, ctx: &egui::Context) -> Vec<Action> {
    let text = text.to_lowercase();
    let words: Vec<&str> = text.split_whitespace().collect();
    all()
        .filter(|action| {
            let keys = action.keys_shown(ctx);
            let all = format!("{} {} {} {keys}", action.group, action.word, action.words);
            let all = all.to_lowercase();
            words.iter().all(|word| all.contains(word))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_actions_have_the_same_keys_words_or_name() {
        let mut seen: Vec<(Name, &str)> = Vec::new();
        let mut keys: Vec<KeyboardShortcut> = Vec::new();
        for action in all() {
            assert!(!action.words.is_empty() && !action.group.is_empty());
            for (name, words) in &seen {
                assert!(*name != action.name && *words != action.words, "{action:?}");
            }
            seen.push((action.name, action.words));
            for shortcut in action.keys {
                assert!(!keys.contains(shortcut), "{action:?}");
                keys.push(*shortcut);
            }
        }
    }

    #[test]
    fn every_action_can_be_asked_for_and_found_by_its_words() {
        let ctx = egui::Context::default();
        let mut document = Document::new(
            profiles::empty_job(&profiles::Library::embedded()),
            Place::File("van.yaml".into()),
        );
        document.apply(Edit::Name("one".to_owned()), None);
        document.apply(Edit::Name("two".to_owned()), None);
        document.undo();
        let one = Settings {
            scale: 125,
            ..Settings::default()
        };
        let other = Settings {
            figures: Figures::Inches,
            paper: PaperChoice::Dark,
            large: true,
            lay: true,
            ..one
        };
        for action in all() {
            let asks =
                [(&one, Doing::Laying(None)), (&other, Doing::Stopped)].map(|(settings, doing)| {
                    action.asks(&Now {
                        document: &document,
                        settings,
                        doing,
                    })
                });
            assert!(asks.iter().any(|asks| !asks.is_empty()), "{action:?}");
            let by_words = found(action.words, &ctx);
            assert!(by_words.iter().any(|it| it.name == action.name));
            assert_eq!(of(action.name).words, action.words);
        }
        assert_eq!(found("  RIB add ", &ctx).len(), 1);
        assert!(found("no such thing", &ctx).is_empty());
    }

    #[test]
    fn every_step_and_kind_of_paper_has_its_action() {
        for step in Step::ALL {
            of(Name::OpenStep(step));
        }
        for paper in [
            PaperChoice::FollowSystem,
            PaperChoice::Light,
            PaperChoice::Dark,
        ] {
            of(Name::Paper(paper));
        }
        for view in [View::LookingIn, View::FromAbove, View::FromSide] {
            of(Name::OneView(view));
        }
    }
}

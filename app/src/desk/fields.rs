//! Fields one can type in, each with its name, its error and its last good value.
//!
//! A field keeps what is being typed; every text that can be read becomes an
//! edit at once, all of one visit to the field being one step of the history.
//! Enter goes on to the next field and with Shift to the one before, Escape
//! puts back what was there.

use egui::{Id, Key, TextEdit, TextStyle, Ui};
use profiles::Length;

use super::document::Gesture;
use super::edit::Ask;
use super::entering;
use super::theme::grow;
use crate::figures::Figures;

/// Width of the names of fields, points.
fn name_width(ui: &Ui) -> f32 {
    118.0 * grow(ui)
}

/// Width of a field for one length, points.
pub fn field_width(ui: &Ui) -> f32 {
    96.0 * grow(ui)
}

/// A narrower field has smaller lettering, points.
const NARROW: f32 = 70.0;

/// A value typed, and the gesture it belongs to.
pub struct Typed<T> {
    /// The new value.
    pub value: T,
    /// All values with this gesture are one step.
    pub gesture: Gesture,
}

/// What is being typed into a field that has the focus, or that holds something unreadable.
#[derive(Clone, Default)]
struct Draft {
    text: String,
    began_as: String,
    error: Option<String>,
}

/// A field for a length.
///
/// * `of`: what it belongs to, for those who hear the field rather than see it
pub fn length(
    ui: &mut Ui,
    of: &str,
    name: &str,
    value: &Length,
    asks: &mut Vec<Ask>,
) -> Option<Typed<Length>> {
    row(ui, name, |ui| {
        let width = field_width(ui);
        let typed = bare_length(ui, &format!("{of}: {name}"), value, width, asks);
        unit_ui(ui, value);
        typed
    })
}

/// A field for a length that may be left out.
///
/// * `usual`: what counts then, in words
pub fn optional_length(
    ui: &mut Ui,
    of: &str,
    name: &str,
    value: Option<&Length>,
    usual: &str,
    asks: &mut Vec<Ask>,
) -> Option<Typed<Option<Length>>> {
    let text = value.map_or("", Length::as_written);
    let read = |text: &str| {
        if text.trim().is_empty() {
            Ok(None)
        } else {
            read_length(text).map(Some)
        }
    };
    row(ui, name, |ui| {
        let width = field_width(ui);
        let typed = typed(ui, &format!("{of}: {name}"), text, usual, width, read, asks);
        let usual = Length::parse(usual).ok();
        if let Some(counts) = value.or(usual.as_ref()) {
            unit_ui(ui, counts);
        }
        typed
    })
}

/// Says in which unit lengths are shown, to the fields of a frame.
pub fn show_in(ctx: &egui::Context, figures: Figures) {
    ctx.data_mut(|data| data.insert_temp(shown_in(), figures));
}

fn shown_in() -> Id {
    Id::unique("the unit lengths are shown in")
}

/// Says faintly beside a field what a length is written in, and what that comes
/// to, where it is not the unit shown; as much of it as there is room for.
pub fn unit_ui(ui: &mut Ui, written: &Length) {
    units_ui(ui, std::slice::from_ref(written));
}

/// The same once beside several fields.
pub fn units_ui(ui: &mut Ui, written: &[Length]) {
    let figures: Figures = ui.data(|data| data.get_temp(shown_in()).unwrap_or_default());
    let Some((unit, value)) = written.iter().find_map(|it| figures.beside(it)) else {
        return;
    };
    let value = if written.len() == 1 {
        value
    } else {
        String::new()
    };
    let both = !unit.is_empty() && !value.is_empty();
    let whole = [unit, value.as_str()].join(if both { ", " } else { "" });
    let font = TextStyle::Small.resolve(ui.style());
    let colour = ui.visuals().weak_text_color();
    let fits = |text: &&str| {
        let galley = ui
            .painter()
            .layout_no_wrap((*text).to_owned(), font.clone(), colour);
        galley.size().x <= ui.available_width()
    };
    if let Some(text) = [whole.as_str(), unit].into_iter().find(fits) {
        let height = ui.spacing().interact_size.y;
        let size = egui::vec2(ui.available_width(), height);
        let middle = egui::Layout::left_to_right(egui::Align::Center);
        ui.allocate_ui_with_layout(size, middle, |ui| {
            ui.weak(egui::RichText::new(text).small());
        });
    }
}

/// A field for a length without a name beside it; `label` is heard, not seen.
pub fn bare_length(
    ui: &mut Ui,
    label: &str,
    value: &Length,
    width: f32,
    asks: &mut Vec<Ask>,
) -> Option<Typed<Length>> {
    typed(ui, label, value.as_written(), "", width, read_length, asks)
}

/// A field for words.
pub fn words(
    ui: &mut Ui,
    of: &str,
    name: &str,
    value: &str,
    asks: &mut Vec<Ask>,
) -> Option<Typed<String>> {
    row(ui, name, |ui| {
        let width = (ui.available_width() - 8.0).max(field_width(ui));
        typed(
            ui,
            &format!("{of}: {name}"),
            value,
            "",
            width,
            |text| Ok(text.to_owned()),
            asks,
        )
    })
}

/// A field for a text that some reader takes or refuses.
///
/// * `usual`: shown faintly while it is empty
pub fn typed<T>(
    ui: &mut Ui,
    label: &str,
    written: &str,
    usual: &str,
    width: f32,
    read: impl Fn(&str) -> Result<T, String>,
    asks: &mut Vec<Ask>,
) -> Option<Typed<T>> {
    let style = if width < NARROW * grow(ui) {
        TextStyle::Small
    } else {
        TextStyle::Body
    };
    let look = Look {
        label,
        written,
        usual,
        width,
        style,
    };
    typed_as(ui, look, read, asks)
}

/// How a field looks and what it shows.
pub struct Look<'a> {
    /// What it is called by those who hear it.
    pub label: &'a str,
    /// The value as it is written now.
    pub written: &'a str,
    /// Shown faintly while it is empty.
    pub usual: &'a str,
    /// Points.
    pub width: f32,
    /// Size of its lettering.
    pub style: TextStyle,
}

/// The same, with a look of its own.
pub fn typed_as<T>(
    ui: &mut Ui,
    look: Look,
    read: impl Fn(&str) -> Result<T, String>,
    asks: &mut Vec<Ask>,
) -> Option<Typed<T>> {
    let Look {
        label,
        written,
        usual,
        width,
        style,
    } = look;
    let id = ui.make_persistent_id(("field", label));
    let gesture = Gesture(id.value());
    let mut draft = ui
        .data(|data| data.get_temp::<Draft>(id))
        .unwrap_or_else(|| Draft {
            text: written.to_owned(),
            began_as: written.to_owned(),
            error: None,
        });
    let mut result = None;
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        // As high as everything else one hits.
        let spare = ui.spacing().interact_size.y - ui.text_style_height(&style);
        let above = (0.5 * spare).clamp(2.0, 20.0).floor() as i8;
        let edit = TextEdit::singleline(&mut draft.text)
            .id(id)
            .hint_text(egui::RichText::new(usual).weak())
            .margin(egui::Margin::symmetric(4, above))
            .font(style)
            .align(egui::Align2::LEFT_CENTER)
            .desired_width(width - 8.0);
        let response = ui.add(edit).accessible_name(label);
        if response.changed() {
            match read(&draft.text) {
                Ok(value) => {
                    draft.error = None;
                    result = Some(Typed { value, gesture });
                }
                Err(error) => draft.error = Some(error),
            }
        }
        let escaped = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Escape));
        if escaped {
            if let Ok(value) = read(&draft.began_as) {
                result = Some(Typed { value, gesture });
            }
            draft.error = None;
        }
        if let Some(error) = &draft.error {
            refuse(ui, error, written);
        }
        let given = entering::meet(ui, id, label);
        if response.gained_focus() || given {
            draft.began_as = written.to_owned();
            select_all(ui, id, &draft.text);
            response.scroll_to_me(None);
        }
        if response.lost_focus() {
            asks.push(Ask::Settle);
            if entering::is_pressed(ui) {
                // What cannot be read is put right before one goes on.
                if draft.error.is_some() {
                    response.request_focus();
                } else {
                    entering::go(ui);
                }
            }
        }
        entering::pass(ui, id);
        let keep =
            response.has_focus() || response.gained_focus() || (draft.error.is_some() && !escaped);
        ui.data_mut(|data| {
            if keep {
                data.insert_temp(id, draft.clone());
            } else {
                data.remove_temp::<Draft>(id);
            }
        });
    });
    result
}

/// Forgets what was typed and could not be read, as when the document moves on by itself.
pub fn forget_drafts(ctx: &egui::Context) {
    ctx.data_mut(|data| data.remove_by_type::<Draft>());
}

/// What could not be read in the row being drawn.
#[derive(Clone, Default)]
struct Refused(Vec<String>);

/// Notes what is wrong with a field, and what still counts.
fn refuse(ui: &Ui, error: &str, written: &str) {
    let kept = if written.is_empty() {
        String::new()
    } else {
        format!(" Still counts: {written}.")
    };
    ui.data_mut(|data| {
        let refused: &mut Refused = data.get_temp_mut_or_default(Id::unique("refused"));
        refused.0.push(format!("{error}.{kept}"));
    });
}

/// Says what is wrong with the fields of a row, right below it, where it moves
/// none of them aside.
pub fn refusals_ui(ui: &mut Ui) {
    let refused: Option<Refused> = ui.data_mut(|data| data.remove_temp(Id::unique("refused")));
    for text in refused.into_iter().flat_map(|refused| refused.0) {
        ui.add(egui::Label::new(egui::RichText::new(text).small()).wrap());
    }
}

/// Reads a length; what is allowed when it cannot.
fn read_length(text: &str) -> Result<Length, String> {
    Length::parse(text)
}

/// Selects what is in a field, so that typing replaces it.
pub fn select_all(ui: &Ui, id: Id, text: &str) {
    use egui::text::{CCursor, CCursorRange};
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), id).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    state
        .cursor
        .set_char_range(Some(CCursorRange::two(CCursor::new(0), end)));
    state.store(ui.ctx(), id);
}

/// A name, and what belongs to it, on one line.
pub fn row<R>(ui: &mut Ui, name: &str, content: impl FnOnce(&mut Ui) -> R) -> R {
    let row = ui.horizontal_top(|ui| {
        let height = ui.spacing().interact_size.y;
        ui.allocate_ui_with_layout(
            egui::vec2(name_width(ui), height),
            egui::Layout::left_to_right(egui::Align::Center),
            |ui| {
                ui.set_min_width(name_width(ui));
                ui.add(egui::Label::new(egui::RichText::new(name).weak()).truncate());
            },
        );
        content(ui)
    });
    refusals_ui(ui);
    row.inner
}

/// A choice among a few words.
pub fn choice<T: PartialEq + Clone>(
    ui: &mut Ui,
    of: &str,
    name: &str,
    value: &T,
    all: &[(T, &str)],
) -> Option<T> {
    let shown = all
        .iter()
        .find(|(each, _)| each == value)
        .map_or("", |(_, word)| word);
    let mut chosen = None;
    row(ui, name, |ui| {
        let label = format!("{of}: {name}");
        egui::ComboBox::from_id_salt(&label)
            .selected_text(shown)
            .width((ui.available_width() - 8.0).min(180.0 * grow(ui)))
            .truncate()
            .show_ui(ui, |ui| {
                for (each, word) in all {
                    if ui.selectable_label(each == value, *word).clicked() && each != value {
                        chosen = Some(each.clone());
                    }
                }
            })
            .response
            .accessible_name(label);
    });
    chosen
}

/// A choice among named things: id and name of each.
pub fn choice_of(
    ui: &mut Ui,
    of: &str,
    name: &str,
    id: &str,
    all: &[(String, String)],
) -> Option<String> {
    let known: Vec<(String, &str)> = all
        .iter()
        .map(|(id, name)| (id.clone(), name.as_str()))
        .collect();
    let mut known = known;
    if !known.iter().any(|(each, _)| each == id) {
        known.insert(
            0,
            (id.to_owned(), if id.is_empty() { "not said" } else { id }),
        );
    }
    choice(ui, of, name, &id.to_owned(), &known)
}

/// A line that can be ticked.
pub fn tick(ui: &mut Ui, of: &str, name: &str, value: bool) -> Option<bool> {
    let mut ticked = value;
    let response = ui
        .checkbox(&mut ticked, name)
        .accessible_name(format!("{of}: {name}"));
    response.changed().then_some(ticked)
}

//! Fields of a part that is named in the library, changed, or described in full.

use std::collections::BTreeMap;

use egui::Ui;
use profiles::Length;
use profiles::schema::PartUse;

use crate::desk::edit::Ask;
use crate::desk::fields::{self, Typed};

/// A part in use, and what it starts from.
pub struct PartFields<'a, T> {
    /// What it belongs to, for those who hear the field.
    pub of: &'a str,
    /// How the job names it.
    pub used: &'a PartUse<T>,
    /// The library's part of that name.
    pub base: Option<&'a T>,
}

impl<T: Clone> PartFields<'_, T> {
    /// The part before changes.
    fn part(&self) -> Option<&T> {
        match self.used {
            PartUse::Inline(part) => Some(part),
            PartUse::Named(_) | PartUse::Changed { .. } => self.base,
        }
    }

    /// A field for one length of the part.
    ///
    /// * `key`: its place in the part, as a change names it
    /// * `place`: how to reach it in a part described in full
    pub fn length(
        &self,
        ui: &mut Ui,
        name: &str,
        key: &str,
        place: impl Fn(&mut T) -> Option<&mut Length>,
        asks: &mut Vec<Ask>,
    ) -> Option<Typed<PartUse<T>>> {
        let mut part = self.part()?.clone();
        let own = place(&mut part)?.clone();
        let changed = match self.used {
            PartUse::Changed { with, .. } => {
                with.get(key).and_then(|text| Length::parse(text).ok())
            }
            _ => None,
        };
        let typed = fields::length(ui, self.of, name, changed.as_ref().unwrap_or(&own), asks)?;
        let value = match self.used {
            PartUse::Inline(_) => {
                *place(&mut part)? = typed.value;
                PartUse::Inline(Box::new(part))
            }
            PartUse::Named(base) => change(base, &BTreeMap::new(), key, &typed.value, &own),
            PartUse::Changed { base, with } => change(base, with, key, &typed.value, &own),
        };
        Some(Typed {
            value,
            gesture: typed.gesture,
        })
    }
}

/// A library part with one more change; a change back to what it was is none.
fn change<T>(
    base: &str,
    with: &BTreeMap<String, String>,
    key: &str,
    value: &Length,
    own: &Length,
) -> PartUse<T> {
    let mut with = with.clone();
    if value == own {
        with.remove(key);
    } else {
        with.insert(key.to_owned(), value.as_written().to_owned());
    }
    if with.is_empty() {
        PartUse::Named(base.to_owned())
    } else {
        PartUse::Changed {
            base: base.to_owned(),
            with,
        }
    }
}

/// The short name a part goes by in a list of choices.
pub fn id_of<T>(used: &PartUse<T>) -> &str {
    used.base().unwrap_or("")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_back_to_the_library_is_no_change() {
        let own = Length::mm(110.0);
        let changed: PartUse<()> = change(
            "u110",
            &BTreeMap::new(),
            "chassis.depth",
            &Length::mm(112.0),
            &own,
        );
        let PartUse::Changed { base, with } = &changed else {
            panic!("expected a change, found {changed:?}");
        };
        assert_eq!(with.get("chassis.depth").map(String::as_str), Some("112"));
        let back: PartUse<()> = change(base, with, "chassis.depth", &own, &own);
        assert_eq!(back, PartUse::Named("u110".to_owned()));
    }
}

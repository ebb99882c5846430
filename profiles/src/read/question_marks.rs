//! A `?` without quotes.

use std::borrow::Cow;

/// Lets a `?` stand without quotes where a value is expected.
///
/// YAML takes a `?` followed by a space for the mark of a long key, which
/// these files never use; `depth: ?` and `depth: ? 140..260` are what a
/// fitter writes. Each such `?` that does not begin its line is replaced by a
/// character the text does not hold, which is put back when values are read;
/// one character for one, so that every line and column stays.
///
/// Returns the text to parse and the character that stands for `?` in it.
pub(super) fn hide(text: &str) -> (Cow<'_, str>, Option<char>) {
    if !text.contains('?') {
        return (Cow::Borrowed(text), None);
    }
    // Not in the text, nor as an escape of it.
    let lower = text.to_ascii_lowercase();
    let is_free = |c: &char| !text.contains(*c) && !lower.contains(&format!("{:x}", u32::from(*c)));
    let Some(stand_in) = ('\u{e000}'..'\u{e100}').find(is_free) else {
        return (Cow::Borrowed(text), None);
    };
    let mut out = String::with_capacity(text.len() + 64);
    let mut chars = text.chars().peekable();
    let (mut at_start, mut before) = (true, '\n');
    while let Some(c) = chars.next() {
        let opens = matches!(before, ' ' | '[' | ',' | '{');
        let closes = matches!(
            chars.peek(),
            None | Some(' ' | '\n' | '\r' | ',' | ']' | '}')
        );
        let is_value = c == '?' && !at_start && opens && closes;
        out.push(if is_value { stand_in } else { c });
        at_start = c == '\n' || (at_start && c == ' ');
        before = c;
    }
    (Cow::Owned(out), Some(stand_in))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The text with the stand-in shown as `!`.
    fn hidden(text: &str) -> String {
        let (out, stand_in) = hide(text);
        match stand_in {
            Some(stand_in) => out.replace(stand_in, "!"),
            None => out.into_owned(),
        }
    }

    #[test]
    fn a_question_mark_where_a_value_is_expected_is_hidden() {
        assert_eq!(hidden("depth: ?\n"), "depth: !\n");
        assert_eq!(hidden("depth: ?"), "depth: !");
        assert_eq!(hidden("depth: ? 140..260\r\n"), "depth: ! 140..260\r\n");
        assert_eq!(hidden("- ?\n"), "- !\n");
        assert_eq!(hidden("[?, 3, ?]"), "[!, 3, !]");
        assert_eq!(hidden("{at: ?}"), "{at: !}");
    }

    #[test]
    fn any_other_question_mark_stays() {
        for text in [
            "?140..260",
            "? key\n: value",
            "  ? key",
            "why?",
            "a?b: c",
            "",
        ] {
            assert_eq!(hidden(text), text);
        }
    }
}

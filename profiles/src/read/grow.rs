//! From text to tree.

use std::collections::{BTreeMap, btree_map};

use saphyr_parser::{Event, Parser, ScalarStyle};

use super::lines::under;
use super::tree::{Entry, Kind, Node};
use super::{Faults, question_marks, scan_words};
use crate::problem::quoted;

/// Deepest nesting of lists and keys that is followed.
const DEEPEST: usize = 64;

/// Most values in one file.
const MOST_VALUES: usize = 100_000;

/// Grows the tree of a text. `None` when the text breaks off or holds no value.
///
/// It takes one event of the parser at a time and keeps what is still open on
/// a stack of its own, so that no nesting can exhaust the program's.
pub(super) fn grow(text: &str, faults: &mut Faults) -> Option<Node> {
    let (text, stand_in) = question_marks::hide(text);
    let mut parser = Parser::new_from_str(&text);
    let mut open: Vec<Open> = Vec::new();
    let mut root = None;
    for id in 1.. {
        if faults.are_too_many() {
            return None;
        }
        let (event, span) = match parser.next_event()? {
            Ok(found) => found,
            Err(error) => {
                let bracket = open
                    .iter()
                    .rev()
                    .find_map(|o| Some((o.bracket?, o.node.line)));
                scan_words::add(&error, &text, bracket, faults);
                return None;
            }
        };
        let line = span.start.line();
        let too_much = match event {
            Event::DocumentStart(_) if root.is_some() => {
                Some(("a second document (---)", "one document in a file"))
            }
            _ if open.len() > DEEPEST => Some(scan_words::TOO_DEEP),
            _ if id > MOST_VALUES => Some(("more than 100000 values", "a smaller file")),
            _ => None,
        };
        if let Some((found, allowed)) = too_much {
            faults.add(line, "", found, allowed);
            return None;
        }
        report_extras(&event, line, &open, faults);
        let kind = match event {
            Event::StreamEnd => return root,
            Event::SequenceStart(..) => {
                let bracket = (!span.is_empty()).then_some('[');
                open.push(Open::new(id, line, Kind::List(Vec::new()), bracket));
                continue;
            }
            Event::MappingStart(..) => {
                let bracket = (!span.is_empty()).then_some('{');
                open.push(Open::new(id, line, Kind::Keys(Vec::new()), bracket));
                continue;
            }
            Event::SequenceEnd | Event::MappingEnd => None,
            Event::Alias(_) => Some(Kind::Mended),
            Event::Scalar(text, style, ..) => Some(Kind::Scalar {
                text: match stand_in {
                    Some(stand_in) => text.replace(stand_in, "?"),
                    None => text.into_owned(),
                },
                plain: style == ScalarStyle::Plain,
            }),
            Event::Nothing | Event::StreamStart | Event::DocumentStart(_) | Event::DocumentEnd => {
                continue;
            }
        };
        let value = match kind {
            Some(kind) => Node { id, line, kind },
            None => open.pop()?.node,
        };
        if open.is_empty() {
            root = Some(value);
        } else {
            place(value, &mut open, faults);
        }
    }
    None
}

/// A list or a group of keys that is still being read.
struct Open {
    node: Node,
    /// A key whose value is still to come, with its line; no name where the
    /// key was none and its value is to be dropped.
    key: Option<(Option<String>, usize)>,
    /// The keys so far and their lines.
    seen: BTreeMap<String, usize>,
    /// The bracket that opened it, where one did.
    bracket: Option<char>,
}

impl Open {
    fn new(id: usize, line: usize, kind: Kind, bracket: Option<char>) -> Open {
        Open {
            bracket,
            node: Node { id, line, kind },
            key: None,
            seen: BTreeMap::new(),
        }
    }
}

/// Reports what YAML has and these files do not: anchors, aliases, tags.
fn report_extras(event: &Event, line: usize, open: &[Open], faults: &mut Faults) {
    let mut report = |found: String, what: &str| {
        let allowed = format!("the value itself; {what} are not used in these files");
        faults.add(line, path_of(open), found, allowed);
    };
    let (anchor, tag) = match event {
        Event::Alias(_) => return report("an alias (*)".to_owned(), "aliases"),
        Event::Scalar(_, _, anchor, tag)
        | Event::SequenceStart(anchor, tag)
        | Event::MappingStart(anchor, tag) => (*anchor, tag),
        _ => return,
    };
    if anchor > 0 {
        report("an anchor (&)".to_owned(), "anchors");
    }
    if let Some(tag) = tag {
        let name = match tag.is_yaml_core_schema() {
            true => format!("!!{}", tag.suffix),
            false => tag.to_string(),
        };
        report(format!("the tag {name}"), "tags");
    }
}

/// Puts a finished value where it belongs in what is still open.
fn place(value: Node, open: &mut [Open], faults: &mut Faults) {
    let Some(Open {
        node, key, seen, ..
    }) = open.last_mut()
    else {
        return;
    };
    let entries = match &mut node.kind {
        Kind::List(items) => return items.push(value),
        Kind::Keys(entries) => entries,
        Kind::Scalar { .. } | Kind::Mended => return,
    };
    let Some((name, line)) = key.take() else {
        let line = value.line;
        if let Kind::Scalar { text, .. } = value.kind {
            *key = Some((Some(text), line));
        } else {
            *key = Some((None, line));
            let found = format!("{} as a key", value.described());
            faults.add(line, path_of(open), found, "a name as a key");
        }
        return;
    };
    let Some(name) = name else {
        return;
    };
    match seen.entry(name.clone()) {
        btree_map::Entry::Vacant(free) => {
            free.insert(line);
            entries.push(Entry {
                key: name,
                line,
                value,
            });
        }
        btree_map::Entry::Occupied(first) => {
            let first = first.get();
            let found = format!("{} a second time, first on line {first}", quoted(&name));
            faults.add(line, under(&path_of(open), &name), found, "each key once");
        }
    }
}

/// Where the next value goes, as `cavity.obstacles[2].box`.
fn path_of(open: &[Open]) -> String {
    let mut path = String::new();
    for Open { node, key, .. } in open {
        match (&node.kind, key) {
            (Kind::List(items), _) => path.push_str(&format!("[{}]", items.len())),
            (_, Some((Some(name), _))) => {
                if !path.is_empty() {
                    path.push('.');
                }
                path.push_str(name);
            }
            _ => {}
        }
    }
    path
}

//! Reading on after a fault, so that one pass finds everything wrong with a file.
//!
//! A value that is wrong is reported and replaced by one that passes for
//! anything, a key that is missing is put in with such a value, a key that is
//! misspelt is put right, one that nobody knows is taken out. Then the tree is
//! read again: nothing that follows from a fault is reported as another.

use serde::de::DeserializeOwned;

use super::Faults;
use super::fault::FaultKind;
use super::lines::under;
use super::nearest::nearest;
use super::tree::{Entry, Kind, Node};
use super::typed::Value;
use crate::problem::quoted;

/// Reads a tree as a document and reports everything that is wrong with it.
/// What comes back is to be used only when nothing was reported.
pub(super) fn read<T: DeserializeOwned>(root: &mut Node, faults: &mut Faults) -> Option<T> {
    while !faults.are_too_many() {
        match T::deserialize(Value(root)) {
            Ok(document) => return Some(document),
            Err(fault) => {
                let place = find(root, fault.at?)?;
                mend(place, fault.kind, faults);
            }
        }
    }
    None
}

/// A value of the tree with its path and the line it is reported at.
struct Place<'a> {
    node: &'a mut Node,
    path: String,
    line: usize,
}

/// The value of this number.
fn find(root: &mut Node, id: usize) -> Option<Place<'_>> {
    let line = root.line;
    let mut to_visit = vec![Place {
        node: root,
        path: String::new(),
        line,
    }];
    while let Some(place) = to_visit.pop() {
        if place.node.id == id {
            return Some(place);
        }
        let path = place.path;
        match &mut place.node.kind {
            Kind::Keys(entries) => to_visit.extend(entries.iter_mut().map(|entry| Place {
                path: under(&path, &entry.key),
                line: entry.line,
                node: &mut entry.value,
            })),
            Kind::List(items) => {
                to_visit.extend(items.iter_mut().enumerate().map(|(i, item)| Place {
                    path: format!("{path}[{i}]"),
                    line: item.line,
                    node: item,
                }));
            }
            Kind::Scalar { .. } | Kind::Mended => {}
        }
    }
    None
}

/// Reports a fault and takes it out of the way.
fn mend(place: Place, kind: FaultKind, faults: &mut Faults) {
    let Place { node, path, line } = place;
    match (kind, &mut node.kind) {
        (FaultKind::MissingKey(key), Kind::Keys(entries)) => {
            let empty = entries.iter().position(|entry| entry.key == key);
            let line = empty.map_or(line, |i| entries.remove(i).line);
            let found = match empty {
                Some(_) => "nothing".to_owned(),
                None => format!("no key {}", quoted(key)),
            };
            let allowed = "a value; it cannot be left out";
            faults.add(line, under(&path, key), found, allowed);
            entries.push(Entry {
                key: key.to_owned(),
                line,
                value: Node::mended(line),
            });
        }
        (FaultKind::UnknownKey { key, known }, Kind::Keys(entries)) => {
            let index = entries.iter().position(|entry| entry.key == key);
            let line = index.map_or(line, |i| entries[i].line);
            let near = nearest(&key, known);
            let mut found = format!("the unknown key {}", quoted(&key));
            if let Some(near) = near {
                found.push_str(&format!(", perhaps meant as {}", quoted(near)));
            }
            let allowed = format!("the keys {}", known.join(", "));
            faults.add(line, under(&path, &key), found, allowed);
            match (index, near) {
                (Some(i), Some(near)) if entries.iter().all(|entry| entry.key != near) => {
                    entries[i].key = near.to_owned();
                }
                (Some(i), _) if entries.len() > 1 => {
                    entries.remove(i);
                }
                _ => node.kind = Kind::Mended,
            }
        }
        (kind, _) => {
            let (found, allowed) = match kind {
                FaultKind::Value { found, allowed } => (found, allowed),
                FaultKind::MissingKey(key) => (None, format!("the key {key}")),
                FaultKind::UnknownKey { known, .. } => {
                    (None, format!("the keys {}", known.join(", ")))
                }
            };
            let found = found.unwrap_or_else(|| node.described());
            faults.add(line, path, found, allowed);
            node.kind = Kind::Mended;
        }
    }
}

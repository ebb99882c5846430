//! Where in its file each value of a document stands.

use std::collections::BTreeMap;

use super::tree::{Kind, Node};

/// The line of every value of a file, by its path.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LineMap {
    lines: BTreeMap<String, usize>,
}

impl LineMap {
    /// The lines of a tree, as read.
    pub(super) fn of(root: &Node) -> LineMap {
        let mut lines = BTreeMap::new();
        let mut to_visit = vec![(String::new(), root.line, root)];
        while let Some((path, line, node)) = to_visit.pop() {
            match &node.kind {
                Kind::Keys(entries) => to_visit.extend(
                    entries
                        .iter()
                        .map(|e| (under(&path, &e.key), e.line, &e.value)),
                ),
                Kind::List(items) => to_visit.extend(
                    items
                        .iter()
                        .enumerate()
                        .map(|(i, item)| (format!("{path}[{i}]"), item.line, item)),
                ),
                Kind::Scalar { .. } | Kind::Mended => {}
            }
            lines.insert(path, line);
        }
        LineMap { lines }
    }

    /// Line, from 1, of the value at a path such as `cavity.obstacles[2].box.depth[0]`,
    /// or of the nearest one around it that the file holds. 0 for a map of no file.
    pub fn line_of(&self, path: &str) -> usize {
        let mut path = path;
        loop {
            if let Some(line) = self.lines.get(path) {
                return *line;
            }
            let Some(cut) = path.rfind(['.', '[']) else {
                return self.lines.get("").copied().unwrap_or(0);
            };
            path = &path[..cut];
        }
    }
}

/// The path of a key under another path.
pub(super) fn under(path: &str, key: &str) -> String {
    if path.is_empty() {
        key.to_owned()
    } else {
        format!("{path}.{key}")
    }
}

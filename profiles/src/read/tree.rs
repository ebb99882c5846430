//! The text as a tree of plain values, each with its line.
//!
//! Everything is text here: that `182.50` is a length and `no` a name is for
//! the types to say.

use crate::problem::quoted;

/// A value in a file.
#[derive(Debug)]
pub(super) struct Node {
    /// Its number in the tree, from 1; 0 for what was put in afterwards.
    pub id: usize,
    /// Its line, from 1.
    pub line: usize,
    /// What it is.
    pub kind: Kind,
}

/// What a value is.
#[derive(Debug)]
pub(super) enum Kind {
    /// A text as written; `plain` without quotes.
    Scalar {
        /// The text, quotes and escapes undone.
        text: String,
        /// Whether it stood without quotes.
        plain: bool,
    },
    /// A list.
    List(Vec<Node>),
    /// Keys and their values, in the order of the file, no key twice.
    Keys(Vec<Entry>),
    /// In place of what was found wrong and has been reported: passes for anything.
    Mended,
}

/// A key and its value.
#[derive(Debug)]
pub(super) struct Entry {
    /// The key.
    pub key: String,
    /// Its line, from 1.
    pub line: usize,
    /// Its value.
    pub value: Node,
}

impl Node {
    /// A value in place of one found wrong, for this line.
    pub const fn mended(line: usize) -> Node {
        Node {
            id: 0,
            line,
            kind: Kind::Mended,
        }
    }

    /// Whether nothing stands here: a key without a value, `~` or `null`.
    pub fn is_nothing(&self) -> bool {
        matches!(&self.kind, Kind::Scalar { text, plain: true } if matches!(text.as_str(), "" | "~" | "null"))
    }

    /// What stands here, in words.
    pub fn described(&self) -> String {
        match &self.kind {
            _ if self.is_nothing() => "nothing".to_owned(),
            Kind::Scalar { text, .. } if text.is_empty() => "an empty text".to_owned(),
            Kind::Scalar { text, .. } => quoted(text),
            Kind::List(items) if items.is_empty() => "an empty list".to_owned(),
            Kind::List(items) if items.len() == 1 => "a list of 1 item".to_owned(),
            Kind::List(items) => format!("a list of {} items", items.len()),
            Kind::Keys(entries) if entries.is_empty() => "no keys".to_owned(),
            Kind::Keys(entries) => {
                const MOST: usize = 4;
                let keys: Vec<_> = entries.iter().take(MOST).map(|e| quoted(&e.key)).collect();
                let more = if entries.len() > MOST { ", …" } else { "" };
                format!("the keys {}{more}", keys.join(", "))
            }
            Kind::Mended => "something wrong".to_owned(),
        }
    }
}

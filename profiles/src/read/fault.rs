//! Why a tree is not the document asked for.

use std::fmt;

use serde::de::{Error, Expected, Unexpected};

use super::tree::Node;

/// What stopped a tree from being read, and where.
#[derive(Debug)]
pub(super) struct Fault {
    /// The number of the value it concerns, once known.
    pub at: Option<usize>,
    /// What is wrong with it.
    pub kind: FaultKind,
}

/// What can be wrong with a value.
#[derive(Debug)]
pub(super) enum FaultKind {
    /// It is not what is allowed here; `found` where the value itself says too little.
    Value {
        /// What was found.
        found: Option<String>,
        /// What is allowed.
        allowed: String,
    },
    /// A key that nobody knows here.
    UnknownKey {
        /// The key.
        key: String,
        /// The keys known here.
        known: &'static [&'static str],
    },
    /// A key that must be there.
    MissingKey(&'static str),
}

impl Fault {
    /// A value that is not what is allowed.
    pub fn value(node: &Node, allowed: impl Into<String>) -> Fault {
        Fault {
            at: Some(node.id),
            kind: FaultKind::Value {
                found: Some(node.described()),
                allowed: allowed.into(),
            },
        }
    }

    /// The same fault, at this value if it has no place yet.
    pub fn at(mut self, node: &Node) -> Fault {
        if self.at.is_none() {
            self.at = Some(node.id);
            if let FaultKind::Value { found, .. } = &mut self.kind
                && found.is_none()
            {
                *found = Some(node.described());
            }
        }
        self
    }

    fn without_place(kind: FaultKind) -> Fault {
        Fault { at: None, kind }
    }
}

impl Error for Fault {
    /// Takes a sentence `found ...; allowed: ...`, or only what is allowed.
    fn custom<T: fmt::Display>(sentence: T) -> Fault {
        let sentence = sentence.to_string();
        let parts = sentence
            .strip_prefix("found ")
            .and_then(|rest| rest.rsplit_once("; allowed: "));
        Fault::without_place(match parts {
            Some((found, allowed)) => FaultKind::Value {
                found: Some(found.to_owned()),
                allowed: allowed.to_owned(),
            },
            None => FaultKind::Value {
                found: None,
                allowed: sentence,
            },
        })
    }

    fn invalid_type(_: Unexpected, expected: &dyn Expected) -> Fault {
        Fault::custom(words_of(expected))
    }

    fn invalid_value(_: Unexpected, expected: &dyn Expected) -> Fault {
        Fault::custom(words_of(expected))
    }

    fn invalid_length(_: usize, expected: &dyn Expected) -> Fault {
        Fault::custom(words_of(expected))
    }

    fn unknown_field(key: &str, known: &'static [&'static str]) -> Fault {
        Fault::without_place(FaultKind::UnknownKey {
            key: key.to_owned(),
            known,
        })
    }

    fn missing_field(key: &'static str) -> Fault {
        Fault::without_place(FaultKind::MissingKey(key))
    }
}

/// What a reader of the schema expects, in words.
pub(super) fn words_of(expected: &dyn Expected) -> String {
    match expected.to_string() {
        words if words == "a string" => "a text".to_owned(),
        words => words,
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match &self.kind {
            FaultKind::Value { allowed, .. } => f.write_str(allowed),
            FaultKind::UnknownKey { key, .. } => write!(f, "unknown key {key}"),
            FaultKind::MissingKey(key) => write!(f, "missing key {key}"),
        }
    }
}

impl std::error::Error for Fault {}

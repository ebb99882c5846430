//! Parts with changes, kept once they have been worked out.
//!
//! A job is read anew at every keystroke and at every step of a drag, and names
//! the same changed parts each time.

use std::any::Any;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};

use super::change::{BadChange, Changed, changed};
use super::{Library, Part, PartKind};

/// A part that was changed: its kind, its name, and how.
type Key = (PartKind, String, BTreeMap<String, String>);

/// Once so many are kept, all are forgotten; a job has a few dozen.
const MOST: usize = 512;

/// What has been worked out so far. It says nothing about the library itself:
/// a copy begins with nothing, and two are always alike.
#[derive(Default)]
pub(super) struct Memory {
    kept: Mutex<BTreeMap<Key, Arc<dyn Any + Send + Sync>>>,
}

impl Clone for Memory {
    fn clone(&self) -> Memory {
        Memory::default()
    }
}

impl fmt::Debug for Memory {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("Memory")
    }
}

impl PartialEq for Memory {
    fn eq(&self, _: &Memory) -> bool {
        true
    }
}

impl Library {
    /// A part of the library with changes, see [`changed`].
    ///
    /// * `part`: the library's own part of that name
    pub(crate) fn with_changes<T: Part>(
        &self,
        base: &str,
        part: &T,
        with: &BTreeMap<String, String>,
    ) -> Result<Arc<Changed<T>>, Vec<BadChange>> {
        let key = (T::KIND, base.to_owned(), with.clone());
        // Whoever broke off while it was held left a whole map behind.
        let lock = || {
            self.memory
                .kept
                .lock()
                .unwrap_or_else(PoisonError::into_inner)
        };
        let known = lock().get(&key).cloned();
        if let Some(known) = known.and_then(|known| known.downcast::<Changed<T>>().ok()) {
            return Ok(known);
        }
        let new = Arc::new(changed(part, with)?);
        let mut kept = lock();
        if kept.len() >= MOST {
            kept.clear();
        }
        kept.insert(key, new.clone());
        Ok(new)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::PlugPart;

    #[test]
    fn what_is_kept_is_what_would_be_worked_out() {
        let library = Library::embedded();
        let id = library.ids::<PlugPart>().next().expect("there are plugs");
        let plug = library.get::<PlugPart>(id).expect("it is there");
        let mut bad = BTreeMap::new();
        bad.insert("widht".to_owned(), "12".to_owned());
        for width in ["12", "13", "12"] {
            let mut with = BTreeMap::new();
            with.insert("width".to_owned(), width.to_owned());
            let kept = library.with_changes(id, plug, &with).expect("it can be");
            assert_eq!(*kept, changed(plug, &with).expect("it can be"));
            assert!(library.with_changes(id, plug, &bad).is_err());
        }
        assert_eq!(library, library.clone());
    }
}

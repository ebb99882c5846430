//! A thousand random edits and back: the first job, to the last bit.

use acceptance::chance::Chance;
use acceptance::random_edits::{KINDS, edit_of_kind, kind_of};
use profiles::schema::JobFile;
use proptest::prelude::*;
use seatwell::desk::document::{Document, Gesture, Place};

const EDITS: usize = 1000;

fn embedded(name: &str) -> JobFile {
    let library = profiles::Library::embedded();
    profiles::open_job(name, &library).expect("it opens").file
}

/// Everything there is to tell two jobs apart by: every number to its last
/// bit (the sign of a nought too), and the text that is saved.
fn every_bit(job: &JobFile) -> (String, String) {
    (format!("{job:?}"), profiles::to_yaml(job))
}

/// Kind, seed and gesture of each edit.
fn recipes() -> impl Strategy<Value = Vec<(usize, u64, Option<u64>)>> {
    let gesture = prop::option::weighted(0.4, 0..3_u64);
    prop::collection::vec((0..KINDS, any::<u64>(), gesture), EDITS)
}

fn job_names() -> impl Strategy<Value = String> {
    let names: Vec<String> = profiles::embedded_jobs()
        .into_iter()
        .map(|(name, _)| name.to_owned())
        .collect();
    prop::sample::select(names)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_thousand_edits_are_taken_back_to_the_last_bit(
        name in job_names(),
        recipes in recipes(),
    ) {
        let first = embedded(&name);
        let mut document = Document::new(first.clone(), Place::Nowhere);
        // What the job was whenever a step was complete.
        let mut after: Vec<JobFile> = vec![first.clone()];
        for (kind, seed, gesture) in recipes {
            let edit = edit_of_kind(kind, document.job(), &mut Chance::new(seed, 0));
            prop_assert_eq!(kind_of(&edit), kind);
            document.apply(edit, gesture.map(Gesture));
            after.truncate(document.done());
            after.push(JobFile::clone(document.job()));
        }
        let (steps, last) = (document.done(), every_bit(document.job()));
        prop_assert!(steps > EDITS / 3, "only {} steps", steps);
        prop_assert!(document.steps().all(|step| !step.words().is_empty()));
        while document.can_undo() {
            let done = document.done();
            prop_assert_eq!(&**document.job(), &after[done]);
            document.undo();
        }
        prop_assert_eq!(every_bit(document.job()), every_bit(&first));
        prop_assert!(!document.is_changed());
        while document.can_redo() {
            document.redo();
        }
        prop_assert_eq!(document.done(), steps);
        prop_assert_eq!(every_bit(document.job()), last);
        // Straight to any step is the same as step by step.
        for done in [steps / 2, 1, steps] {
            document.go_to(done);
            prop_assert_eq!(&**document.job(), &after[done]);
        }
    }
}

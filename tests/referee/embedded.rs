//! The embedded jobs before the judge: every solid is read, and the unit stands
//! clear where the quick rule says that it does.

use acceptance::referee::{Rule, judge};
use geometry::fit;
use profiles::{Library, embedded_jobs, open_job};
use seatwell::answer::PlainJob;
use serde_json::json;

#[test]
fn the_unit_stands_clear_in_every_embedded_job() {
    let library = Library::embedded();
    for (name, _) in embedded_jobs() {
        let job = open_job(name, &library).expect("embedded jobs open").job;
        let Some(proud) = fit(&job).proud else {
            continue;
        };
        let plain = serde_json::to_value(PlainJob::of(&job)).expect("plain jobs are JSON");
        let rules = |proud: f64| {
            let found = judge(&plain, &json!({ "proud_mm": proud }));
            found
                .into_iter()
                .map(|found| found.rule)
                .collect::<Vec<_>>()
        };
        let found = rules(proud);
        let wrong = [Rule::Unreadable, Rule::Unit];
        assert!(
            !found.iter().any(|rule| wrong.contains(rule)),
            "{name}: {found:?}"
        );
        let missing = found.iter().filter(|rule| **rule == Rule::Missing).count();
        assert!(missing >= job.leads.len(), "{name}: {found:?}");
    }
}

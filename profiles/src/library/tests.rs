use super::*;
use crate::inline::inline;
use crate::schema::JobFile;

#[test]
fn every_embedded_job_inlines_without_a_fault_or_a_warning() {
    let library = Library::embedded();
    for (name, text) in embedded_jobs() {
        let file: JobFile = serde_yaml::from_str(text).unwrap_or_else(|e| panic!("{name}: {e}"));
        let inlined =
            inline(&file, &library).unwrap_or_else(|faults| panic!("{name}: {faults:#?}"));
        assert_eq!(inlined.warnings, [], "{name}");
    }
}

//! Places in a job file as the installer calls them.

use profiles::schema::JobFile;
use profiles::{Problem, Severity};

/// "rib 1, cut" for `cavity.obstacles[12].cut`; a place without a name of its own
/// keeps its words: "cavity, opening, width".
pub fn place(field: &str, job: &JobFile) -> String {
    let mut named = Vec::new();
    let mut rest = field;
    if let Some((name, after)) = thing(field, job) {
        named.push(name);
        rest = after;
    }
    let plain = rest.trim_start_matches('.').split('.');
    named.extend(
        plain
            .filter(|it| !it.is_empty())
            .map(|it| it.replace('_', " ")),
    );
    named.join(", ")
}

/// Keys of the file that are told of within sentences, and what they are called
/// in the window.
const KEYS: [(&str, &str); 2] = [
    ("cut_from", "an edge to cut from"),
    ("max_depth", "a deepest notch"),
];

/// A problem as the window tells it: by names, without its file.
pub fn problem(problem: &Problem, job: &JobFile) -> String {
    let said = match problem.severity {
        Severity::Error => format!("found {}; allowed: {}", problem.found, problem.allowed),
        Severity::Warning => format!("{}; wanted: {}", problem.found, problem.allowed),
    };
    let said = (KEYS.iter()).fold(said, |said, (key, word)| said.replace(key, word));
    match place(&problem.field, job).as_str() {
        "" => said,
        place => format!("{place}: {said}"),
    }
}

/// The thing that a place belongs to, and the place within it.
fn thing<'a>(field: &'a str, job: &JobFile) -> Option<(String, &'a str)> {
    let (list, after) = field.split_once('[')?;
    let (number, rest) = after.split_once(']')?;
    let at: usize = number.parse().ok()?;
    let cavity = &job.cavity;
    let name = match list {
        "cavity.obstacles" => cavity.obstacles.get(at)?.name.clone(),
        "cavity.exits" => cavity.exits.get(at)?.name.clone(),
        "cavity.spaces" => cavity.spaces.get(at)?.name.clone(),
        "cavity.pockets" => cavity.pockets.get(at)?.name.clone(),
        "leads" => job.leads.get(at)?.name.clone(),
        "modules" => job.modules.get(at)?.name.clone(),
        "alternatives" => job.alternatives.get(at)?.name.clone(),
        "trims" => format!("notch {}", at + 1),
        _ => return None,
    };
    (!name.is_empty()).then_some((name, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_told_by_the_name_of_its_thing() {
        let library = profiles::Library::embedded();
        let job = profiles::open_job(profiles::DEMO, &library)
            .expect("the demo")
            .file;
        for (field, says) in [
            ("cavity.obstacles[0].max_depth", "rear cross rib, max depth"),
            ("cavity.opening.width", "cavity, opening, width"),
            ("trims[1].depth", "notch 2, depth"),
            ("leads[99].length", "leads[99], length"),
            ("", ""),
        ] {
            assert_eq!(place(field, &job), says);
        }
    }
}

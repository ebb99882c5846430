//! What a step did, in words of the trade: `Rear cross rib: depth, near face 212 -> 210 mm`.
//!
//! The words are made from what differs, not from what was asked for, so that
//! they cannot say anything else than what happened.

use serde::Serialize;
use serde_yaml::Value;

use super::patch::{Listed, Patch, Swap};

/// As many changes of one step are told; of the rest, how many.
const TOLD: usize = 2;

/// What a patch did.
pub fn of(patch: &Patch) -> String {
    let mut told = Vec::new();
    job_words(patch, &mut told);
    cavity_words(patch, &mut told);
    parts_words(patch, &mut told);
    let rest = told.len().saturating_sub(TOLD);
    told.truncate(TOLD);
    let mut text = told.join("; ");
    if rest > 0 {
        text.push_str(&format!("; and {rest} more"));
    }
    text
}

fn job_words(patch: &Patch, told: &mut Vec<String>) {
    swapped("Job", "name", &patch.name, told);
    swapped("Job", "notes", &patch.notes, told);
    swapped("Job", "may stand proud", &patch.proud_limit_mm, told);
    swapped(
        "Job",
        "may enter tilted, degrees",
        &patch.enter_tilt_deg,
        told,
    );
    swapped("Job", "bend rules", &patch.bend_rules, told);
    swapped("Job", "format", &patch.format, told);
}

fn cavity_words(patch: &Patch, told: &mut Vec<String>) {
    swapped("Opening", "", &patch.opening, told);
    for (name, length) in [
        ("seat plane at depth", &patch.seat_plane),
        ("finished face at depth", &patch.finished_face),
        ("leads keep from walls", &patch.clear),
        ("unit keeps from walls", &patch.slide_gap),
    ] {
        swapped("Cavity", name, length, told);
    }
    swapped("Cavity", "face leans", &patch.face_rake, told);
    swapped(
        "Cavity",
        "slides in downward, degrees",
        &patch.slide_dip_deg,
        told,
    );
    swapped("Cavity", "wall across the back", &patch.closed, told);
    listed(&patch.stations, "Depth", told, |station| {
        (String::new(), station.at.as_written().to_owned())
    });
    listed(&patch.obstacles, "", told, |it| named(&it.id, &it.name));
    listed(&patch.exits, "Exit", told, |it| named(&it.id, &it.name));
    listed(&patch.spaces, "Space", told, |it| named(&it.id, &it.name));
    listed(&patch.pockets, "Pocket", told, |it| named(&it.id, &it.name));
    listed(&patch.factory_plugs, "Factory plug", told, |it| {
        named(&it.id, &it.name)
    });
}

fn parts_words(patch: &Patch, told: &mut Vec<String>) {
    swapped("Unit", "", &patch.unit, told);
    swapped("Mount", "", &patch.mount, told);
    listed(&patch.leads, "", told, |it| named(&it.id, &it.name));
    listed(&patch.modules, "", told, |it| named(&it.id, &it.name));
    listed(&patch.trims, "Notch in", told, |it| {
        (String::new(), it.rib.clone())
    });
    listed(&patch.rib_loads, "Load on", told, |it| {
        (String::new(), it.rib.clone())
    });
    swapped("Cutting", "", &patch.cutting, told);
    listed(&patch.looms, "Loom of exit", told, |it| {
        named(&it.exit, &it.exit)
    });
    listed(&patch.alternatives, "Way to make it fit", told, |it| {
        named(&it.id, &it.name)
    });
}

fn named(id: &str, name: &str) -> (String, String) {
    (id.to_owned(), name.to_owned())
}

/// Tells of one value of the job.
fn swapped<T: Serialize>(of: &str, name: &str, swap: &Swap<T>, told: &mut Vec<String>) {
    if let Some(pair) = swap {
        changes_of(of, name, &pair[0], &pair[1], told);
    }
}

/// Tells of a list: what came, what went, what moved, what changed.
///
/// * `sort`: a word before the name, where the name alone says too little
/// * `name`: id and name of one of its things; without an id they go by their places
fn listed<T: Serialize + PartialEq>(
    list: &Listed<T>,
    sort: &str,
    told: &mut Vec<String>,
    name: impl Fn(&T) -> (String, String),
) {
    let Some(stretch) = list else {
        return;
    };
    let title = |it: &T| {
        let name = name(it).1;
        if sort.is_empty() {
            begin_large(&name)
        } else {
            format!("{sort} {name}")
        }
    };
    let (before, after) = (&stretch.before, &stretch.after);
    let by_place = before.len() == after.len() && before.iter().all(|it| name(it).0.is_empty());
    // One thing alone is the same thing, even under another id.
    if by_place || (before.len() == 1 && after.len() == 1) {
        for (old, new) in before.iter().zip(after).filter(|(old, new)| old != new) {
            changes_of(&title(old), "", old, new, told);
        }
        return;
    }
    let same = |a: &T, b: &T| match (name(a).0, name(b).0) {
        (a_id, b_id) if a_id.is_empty() && b_id.is_empty() => a == b,
        (a_id, b_id) => a_id == b_id,
    };
    let kept = |it: &T, others: &[T]| others.iter().any(|other| same(it, other));
    for gone in before.iter().filter(|it| !kept(it, after)) {
        told.push(format!("{}: taken out", title(gone)));
    }
    for new in after.iter().filter(|it| !kept(it, before)) {
        told.push(format!("{}: added", title(new)));
    }
    let mut changed = false;
    for old in before {
        if let Some(new) = after.iter().find(|new| same(old, new))
            && new != old
        {
            changes_of(&title(old), "", old, new, told);
            changed = true;
        }
    }
    let stay = |list: &[T], others: &[T]| -> Vec<String> {
        let stays = list.iter().filter(|it| kept(it, others));
        stays.map(|it| name(it).0).collect()
    };
    let (old_order, new_order) = (stay(before, after), stay(after, before));
    if old_order != new_order && !changed {
        // What moved furthest is what a hand moved; the others made way.
        let furthest = before.iter().max_by_key(|it| {
            let place = |order: &[String]| order.iter().position(|id| *id == name(it).0);
            match (place(&old_order), place(&new_order)) {
                (Some(old), Some(new)) => old.abs_diff(new),
                _ => 0,
            }
        });
        if let Some(moved) = furthest {
            told.push(format!("{}: another place in the list", title(moved)));
        }
    }
}

/// Tells what differs between two values of the same sort.
fn changes_of<T: Serialize>(of: &str, name: &str, old: &T, new: &T, told: &mut Vec<String>) {
    // What cannot be written as a value cannot be in a job either.
    let (Ok(old), Ok(new)) = (serde_yaml::to_value(old), serde_yaml::to_value(new)) else {
        told.push(format!("{of}: changed"));
        return;
    };
    let mut leaves = Vec::new();
    walk(name, &old, &new, &mut leaves);
    if leaves.is_empty() {
        told.push(format!("{of}: changed"));
    }
    for leaf in leaves {
        told.push(format!("{of}: {leaf}"));
    }
}

/// Goes down into two values to what differs.
fn walk(name: &str, old: &Value, new: &Value, leaves: &mut Vec<String>) {
    if old == new {
        return;
    }
    match (&used(old, new), &used(new, old)) {
        (Value::Mapping(old), Value::Mapping(new)) => {
            let mut keys: Vec<&Value> = old.keys().collect();
            keys.extend(new.keys().filter(|key| !old.contains_key(*key)));
            for key in keys {
                let word = under(name, key.as_str().unwrap_or_default());
                let none = Value::Null;
                let pair = (old.get(key).unwrap_or(&none), new.get(key).unwrap_or(&none));
                walk(&word, pair.0, pair.1, leaves);
            }
        }
        (Value::Sequence(old), Value::Sequence(new)) if old.len() == new.len() => {
            let differ: Vec<usize> = (0..old.len()).filter(|&i| old[i] != new[i]).collect();
            match (&differ[..], ends(name, old.len())) {
                ([at], Some(words)) => {
                    walk(
                        &format!("{name}{}", words[*at]),
                        &old[*at],
                        &new[*at],
                        leaves,
                    );
                }
                ([at], None) if !is_plain(&old[*at]) => {
                    walk(&format!("{name} {}", at + 1), &old[*at], &new[*at], leaves);
                }
                _ => leaves.push(leaf(
                    name,
                    &Value::Sequence(old.clone()),
                    &Value::Sequence(new.clone()),
                )),
            }
        }
        (old, new) => leaves.push(leaf(name, old, new)),
    }
}

/// A part by its name alone, beside one with changes: the same written alike.
fn used(value: &Value, other: &Value) -> Value {
    let uses = |it: &Value| it.as_mapping().is_some_and(|map| map.contains_key("use"));
    match value {
        Value::String(_) if uses(other) => {
            let mut map = serde_yaml::Mapping::new();
            map.insert("use".into(), value.clone());
            map.insert("with".into(), Value::Mapping(serde_yaml::Mapping::new()));
            Value::Mapping(map)
        }
        _ => value.clone(),
    }
}

/// The name of a field within another.
fn under(name: &str, key: &str) -> String {
    match key {
        // Only tells how the rest is written.
        "use" | "with" | "box" | "cylinder" | "outline" | "part" => name.to_owned(),
        _ => {
            let key = word_of(key);
            if name.is_empty() {
                key
            } else {
                format!("{name} {key}")
            }
        }
    }
}

/// The word of a field where it is not its key.
fn word_of(key: &str) -> String {
    match key {
        "clear" => "keep clear".to_owned(),
        "cut_from" => "cut from edge".to_owned(),
        "max_depth" => "deepest notch".to_owned(),
        "min_from_ends" => "notch from its ends".to_owned(),
        "min_web" => "web that stays".to_owned(),
        "to_next" => "runs to the next depth".to_owned(),
        "at" => "depth".to_owned(),
        "od" => "diameter".to_owned(),
        "direction" => "leads pass".to_owned(),
        "may_go_to" => "may go to".to_owned(),
        "pinned" => "stays at".to_owned(),
        "end" => "ends at".to_owned(),
        "turned_deg" => "turned".to_owned(),
        "top_in_deg" => "in at the top, degrees".to_owned(),
        "right_in_deg" => "in at the right, degrees".to_owned(),
        _ => key.replace(['_', '.'], " "),
    }
}

/// What the ends of a pair, or the axes of a point, are called.
fn ends(name: &str, count: usize) -> Option<&'static [&'static str]> {
    let last = name.rsplit(' ').next().unwrap_or(name);
    match (last, count) {
        ("depth", 2) => Some(&[", near face", ", far face"]),
        ("across", 2) => Some(&[", left face", ", right face"]),
        ("up", 2) => Some(&[", lower face", ", upper face"]),
        ("along", 2) => Some(&[", from", ", to"]),
        (_, 3) => Some(&[" across", " depth", " up"]),
        _ => None,
    }
}

fn is_plain(value: &Value) -> bool {
    !matches!(value, Value::Mapping(_) | Value::Sequence(_))
}

/// `depth 212 -> 210 mm`
fn leaf(name: &str, old: &Value, new: &Value) -> String {
    let (old, new) = (shown(old), shown(new));
    let (old, new) = match (old, new) {
        (None, None) => return format!("{name} changed"),
        (Some(old), None) if new_is_off(name) => return format!("{name} {old} -> free to move"),
        (Some(old), None) => (old, "as usual".to_owned()),
        (None, Some(new)) => ("as usual".to_owned(), new),
        (Some(old), Some(new)) => (old, new),
    };
    let name = if name.is_empty() {
        String::new()
    } else {
        format!("{name} ")
    };
    let unit = if has_no_unit(&name) {
        ""
    } else {
        unit_of(&new)
    };
    format!("{name}{} -> {}{unit}", short(&old), short(&new))
}

fn new_is_off(name: &str) -> bool {
    name.ends_with("stays at")
}

/// Values that are no lengths.
fn has_no_unit(name: &str) -> bool {
    [
        "degrees ",
        "turned ",
        "leads pass ",
        "cables ",
        "format ",
        "name ",
        "notes ",
    ]
    .iter()
    .any(|end| name.ends_with(end))
}

/// A bare number is so many mm.
fn unit_of(text: &str) -> &'static str {
    let bare = text.chars().any(|c| c.is_ascii_digit())
        && text
            .chars()
            .all(|c| c.is_ascii_digit() || " .,±+-?".contains(c) || c == 't' || c == 'o');
    if bare && !text.contains("o ?") {
        " mm"
    } else {
        ""
    }
}

/// A value in words; nothing for what is left out.
fn shown(value: &Value) -> Option<String> {
    Some(match value {
        Value::Null => return None,
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Number(number) => number.to_string(),
        Value::String(text) if text == "?" => "not measured".to_owned(),
        Value::String(text) => text.replace('_', " "),
        Value::Sequence(items) if items.is_empty() => "none".to_owned(),
        Value::Sequence(items) => {
            let words: Vec<String> = items.iter().filter_map(shown).collect();
            words.join(if words.len() == 2 { " to " } else { ", " })
        }
        Value::Mapping(map) => {
            let words: Vec<String> = map
                .iter()
                .filter_map(|(key, value)| {
                    let key = word_of(key.as_str().unwrap_or_default());
                    shown(value).map(|value| format!("{key} {value}"))
                })
                .collect();
            words.join(", ")
        }
        Value::Tagged(tagged) => return shown(&tagged.value),
    })
}

/// Longest text told of one value, characters.
const LONGEST: usize = 48;

fn short(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= LONGEST {
        return line;
    }
    let cut: String = line.chars().take(LONGEST - 3).collect();
    format!("{}...", cut.trim_end())
}

fn begin_large(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use profiles::Length;
    use profiles::schema::*;

    use super::*;
    use crate::desk::edit::{Edit, ListEdit};

    fn demo() -> JobFile {
        let library = profiles::Library::embedded();
        profiles::open_job(profiles::DEMO, &library)
            .expect("the demo opens")
            .file
    }

    fn told(edit: impl FnOnce(&mut JobFile)) -> String {
        let before = demo();
        let mut after = before.clone();
        edit(&mut after);
        of(&Patch::between(&before, &after))
    }

    fn length(text: &str) -> Length {
        Length::parse(text).expect("a length")
    }

    fn rib(job: &mut JobFile) -> &mut ObstacleFile {
        let ribs = &mut job.cavity.obstacles;
        let at = ribs.iter().position(|it| it.name == "rear cross rib");
        &mut ribs[at.expect("it is there")]
    }

    fn depth(job: &mut JobFile) -> &mut [Length; 2] {
        &mut rib(job).block.as_mut().expect("a box").depth
    }

    #[test]
    fn one_figure_is_told_with_its_unit() {
        assert_eq!(
            told(|job| job.cavity.opening.width = length("183 ± 0.5")),
            "Opening: width 184 ± 0.5 -> 183 ± 0.5 mm"
        );
        let words = told(|job| depth(job)[0] = length("210"));
        assert_eq!(words, "Rear cross rib: depth, near face 212 ± 2 -> 210 mm");
        let words = told(|job| depth(job)[0] = length("8 1/4"));
        assert_eq!(words, "Rear cross rib: depth, near face 212 ± 2 -> 8 1/4");
        let words = told(|job| depth(job)[0] = length("?"));
        assert!(words.ends_with("-> not measured"), "{words}");
    }

    #[test]
    fn a_thing_moved_is_told_once() {
        let words = told(|job| *depth(job) = [length("210"), length("212.5")]);
        assert!(
            words.starts_with("Rear cross rib: depth 212 ± 2 to ")
                && words.ends_with("-> 210 to 212.5 mm"),
            "{words}"
        );
    }

    #[test]
    fn what_comes_and_goes_is_told_by_its_name() {
        let words = told(|job| {
            Edit::Obstacle(ListEdit::Remove(0)).apply(job);
        });
        let first = demo().cavity.obstacles[0].name.clone();
        assert_eq!(words, format!("{}: taken out", begin_large(&first)));
        let words = told(|job| {
            let mut new = job.cavity.obstacles[0].clone();
            new.id = "new".to_owned();
            new.name = "duct 2".to_owned();
            job.cavity.obstacles.push(new);
        });
        assert_eq!(words, "Duct 2: added");
        let words = told(|job| job.leads.rotate_left(2));
        assert!(words.ends_with(": another place in the list"), "{words}");
    }

    #[test]
    fn parts_are_told_by_their_names_and_changes() {
        assert_eq!(
            told(|job| job.unit = PartUse::Named("u110".to_owned()))
                .split(" -> ")
                .nth(1),
            Some("u110")
        );
        let words = told(|job| {
            let base = job.unit.base().expect("of the library").to_owned();
            let with = [("chassis.depth".to_owned(), "150".to_owned())].into();
            job.unit = PartUse::Changed { base, with };
        });
        assert_eq!(words, "Unit: chassis depth as usual -> 150 mm");
    }

    #[test]
    fn a_great_change_is_told_in_two_lines_and_a_count() {
        let words = told(|job| {
            job.name = "another".to_owned();
            job.cavity.closed = !job.cavity.closed;
            job.leads.clear();
        });
        assert!(words.starts_with("Job: name Brackenmoor"), "{words}");
        assert!(words.contains("; and "), "{words}");
    }

    #[test]
    fn every_field_of_the_demo_can_be_told() {
        let (before, after) = (demo(), profiles::empty_job(&profiles::Library::embedded()));
        let patch = Patch::between(&before, &after);
        assert!(!of(&patch).is_empty());
        assert!(!of(&Patch::between(&after, &before)).is_empty());
    }
}

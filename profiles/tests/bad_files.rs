//! Every kind of bad file, and the exact words it is answered with.

mod any_job;

use std::fs;
use std::path::Path;

use any_job::Choices;
use profiles::read::{LARGEST_FILE, MOST_PROBLEMS};
use profiles::{read_file, read_job, read_parts, to_yaml};
use proptest::prelude::*;
use tempfile::TempDir;

const GOOD: &str = "\
format: 1
name: Van
cavity:
  opening:
    width: 184
    height: 56 ± 0.5
  face_rake: {top_in_deg: 4.5}
  closed: true
  stations:
    - at: 0
      left: 92
      to_next: stepped
    - at: ?
      outline: [[1, 2], [3, 4]]
  obstacles:
    - id: rib
      name: Rib
      kind: rib
      cut: ask
      box:
        across: [1, 2]
        depth: [3, 4]
        up: [5, 6]
unit:
  use: head
  with:
    chassis.depth: 182.50
mount: sleeve
leads:
  - id: video
    name: Video
    plug: {id: p, name: P, family: f, width: 10, height: 8}
    cable: coax
    cables: 2
    end: {exit: left}
    slack: {goes: cut}
";

/// Changes to the good file and what is then said; the file explains itself.
const CASES: &str = include_str!("bad_files/cases.txt");

#[test]
fn the_good_file_is_good() {
    let job = read_job(GOOD, "good.yaml").unwrap().file;
    assert_eq!(read_job(&to_yaml(&job), "again.yaml").unwrap().file, job);
}

/// One case: its name, the bad file, and what is to be said of it.
struct Case {
    name: String,
    text: String,
    said: Vec<String>,
}

/// Reads one case.
fn case(lines: &str) -> Case {
    let mut lines = lines.lines().peekable();
    let name = lines.next().unwrap_or_default().to_owned();
    let mut text = GOOD.to_owned();
    let mut said = Vec::new();
    while lines.peek().is_some() {
        let mut run = |mark: char| {
            let mut run = String::new();
            while let Some(line) = lines.next_if(|line| line.starts_with(mark)) {
                run.push_str(&line[1..].replace('→', "\t"));
                run.push('\n');
            }
            run
        };
        let (from, to) = (run('-'), run('+'));
        said.extend(run('!').lines().map(str::to_owned));
        if from.is_empty() {
            assert_eq!(lines.next(), Some(""), "{name}");
            continue;
        }
        assert_eq!(text.matches(&from).count(), 1, "{name}: {from}");
        text = text.replace(&from, &to);
    }
    Case { name, text, said }
}

#[test]
fn every_bad_file_is_answered_in_these_words() {
    let cases: Vec<Case> = CASES.split("\n= ").skip(1).map(case).collect();
    assert!(cases.len() >= 80);
    for Case { name, text, said } in cases {
        let problems = read_job(&text, "bad.yaml").expect_err(&name);
        let found: Vec<String> = problems.iter().map(ToString::to_string).collect();
        let said: Vec<String> = said.iter().map(|line| format!("bad.yaml:{line}")).collect();
        assert_eq!(found, said, "{name}");
    }
}

/// The only thing said of a text.
fn said_of(text: &str) -> String {
    let problems = read_job(text, "bad.yaml").unwrap_err();
    assert_eq!(problems.len(), 1, "{problems:?}");
    problems[0].to_string()
}

const TOP: &str = "the keys format, name, notes, proud_limit_mm, enter_tilt_deg, bend_rules, cavity, unit, mount, leads, looms, modules, trims, rib_loads, cutting, alternatives";

#[test]
fn a_text_without_a_job_in_it() {
    let start = "keys and values, the first of them format: 1";
    for empty in ["", " \n\n\t\n", "\u{feff}"] {
        let said = format!("bad.yaml: found an empty file; allowed: {start}");
        assert_eq!(said_of(empty), said);
    }
    assert_eq!(
        said_of("# format: 1\n  # name: Van\n"),
        format!("bad.yaml: found nothing but comments; allowed: {start}")
    );
    for (text, line, found) in [
        ("---\n...\n", 2, "nothing"),
        ("~", 1, "nothing"),
        ("hello\n", 1, "\"hello\""),
        ("# a list\n- 1\n- 2\n", 2, "a list of 2 items"),
        ("[]", 1, "an empty list"),
    ] {
        let said = format!("bad.yaml:{line}: found {found}; allowed: {TOP}");
        assert_eq!(said_of(text), said);
    }
}

#[test]
fn nesting_and_numbers_beyond_any_need() {
    let deep = "bad.yaml:1: found lists within lists beyond any need; allowed: at most 64 levels of nesting";
    for opening in ["[", "- ", "{a: ", "[{a: "] {
        assert_eq!(said_of(&opening.repeat(20_000)), deep);
    }
    let many = format!("[{}]", "1, ".repeat(150_000));
    assert_eq!(
        said_of(&many),
        "bad.yaml:1: found more than 100000 values; allowed: a smaller file"
    );
}

/// Nine anchors of nine aliases each would stand for 9^9 values.
#[test]
fn aliases_that_multiply_are_not_followed() {
    let mut text = GOOD.to_owned() + "modules:\n  - &a0 []\n";
    for level in 1..9 {
        let before = format!("*a{}, ", level - 1).repeat(9);
        text.push_str(&format!("  - &a{level} [{before}]\n"));
    }
    let problems = read_job(&text, "bad.yaml").unwrap_err();
    assert_eq!(problems.len(), MOST_PROBLEMS);
    assert_eq!(
        problems[0].to_string(),
        "bad.yaml:38: modules[0]: found an anchor (&); allowed: the value itself; anchors are not used in these files"
    );
    assert_eq!(
        problems[2].to_string(),
        "bad.yaml:39: modules[1][0]: found an alias (*); allowed: the value itself; aliases are not used in these files"
    );
}

#[test]
fn no_more_is_said_than_can_be_read() {
    let stations = "    - at: far\n".repeat(80);
    let text = GOOD.replace("  stations:\n", &format!("  stations:\n{stations}"));
    let problems = read_job(&text, "bad.yaml").unwrap_err();
    assert_eq!(problems.len(), MOST_PROBLEMS);
    for (index, problem) in problems.iter().enumerate() {
        assert_eq!(problem.line, 10 + index);
        assert_eq!(problem.field, format!("cavity.stations[{index}].at"));
    }
}

#[test]
fn a_bad_file_of_parts() {
    let text = "\
format: 1
plugs:
  - id: p
    name: P
    family: f
    width: wide
    height: 8
    right_angle: {stands: 9, toward: lft, reach: 20}
cables:
  - {use: coax, with: {od: [6]}}
materials:
  - {id: abs, name: ABS, family: plastic, density_g_cm3: heavy}
cavity: {}
";
    let problems = read_parts(text, "parts.yaml").unwrap_err();
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "parts.yaml:6: plugs[0].width: found \"wide\"; allowed: a length such as 182, 7 3/16, 18.2cm, 182 ± 0.5 or ?",
            "parts.yaml:8: plugs[0].right_angle.toward: found \"lft\"; allowed: one of left, right, top, bottom (perhaps left was meant)",
            "parts.yaml:10: cables[0].with.od: found a list of 1 item; allowed: a single value: a word, a number, a length, true or false",
            "parts.yaml:12: materials[0].density_g_cm3: found \"heavy\"; allowed: a number such as 12 or 3.5",
            "parts.yaml:13: cavity: found the unknown key \"cavity\"; allowed: the keys format, units, mounts, plugs, cables, wraps, modules, tools, materials",
        ]
    );
}

/// What is said of a file of these bytes, without its name.
fn said_of_file(bytes: &[u8]) -> String {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("bad.yaml");
    fs::write(&path, bytes).unwrap();
    said_of_path(&path)
}

fn said_of_path(path: &Path) -> String {
    let said = read_file(path).unwrap_err().to_string();
    let name = path.display().to_string();
    said.strip_prefix(&name)
        .expect("the file's name")
        .to_owned()
}

const TEXT: &str = "allowed: a text file in UTF-8 of at most 4 MB";

#[test]
fn a_file_that_is_not_text() {
    let utf16 = |bytes: fn(u16) -> [u8; 2]| -> Vec<u8> {
        let text = format!("\u{feff}{GOOD}");
        text.encode_utf16().flat_map(bytes).collect()
    };
    let said = ": found text in UTF-16; allowed: text saved as UTF-8";
    assert_eq!(said_of_file(&utf16(u16::to_le_bytes)), said);
    assert_eq!(said_of_file(&utf16(u16::to_be_bytes)), said);
    assert_eq!(
        said_of_file(b"format: 1\nname: V\0n\n"),
        format!(": found a binary file; {TEXT}")
    );
    assert_eq!(
        said_of_file(b"format: 1\nname: \xd6ffnung\n"),
        ":2: found text that is not UTF-8; allowed: text saved as UTF-8"
    );
    assert_eq!(
        said_of("format: 1\nname: V\0n\n"),
        format!("bad.yaml: found a binary file; {TEXT}")
    );
}

#[test]
fn a_file_too_large_is_not_read() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("large.yaml");
    let file = fs::File::create(&path).unwrap();
    file.set_len(100 * 1024 * 1024).unwrap();
    let said = format!(": found a file of 100 MB; {TEXT}");
    assert_eq!(said_of_path(&path), said);
    file.set_len(LARGEST_FILE + 1).unwrap();
    assert_eq!(
        said_of_path(&path),
        format!(": found a file of 5 MB; {TEXT}")
    );
    let comment = "#".repeat(LARGEST_FILE as usize + 1);
    let said = format!("bad.yaml: found a text of more than 4 MB; {TEXT}");
    assert_eq!(said_of(&comment), said);
}

#[test]
fn a_path_that_is_not_a_file() {
    let folder = TempDir::new().unwrap();
    assert_eq!(
        said_of_path(&folder.path().join("none.yaml")),
        ": found no such file; allowed: the path of a file"
    );
    assert_eq!(
        said_of_path(folder.path()),
        format!(": found a folder; {TEXT}")
    );
    #[cfg(unix)]
    assert_eq!(
        said_of_path(Path::new("/dev/null")),
        format!(": found not a plain file; {TEXT}")
    );
}

/// Marks of other systems that do no harm.
#[test]
fn a_byte_order_mark_and_other_line_ends_are_no_fault() {
    let job = read_job(GOOD, "").unwrap();
    let crlf = GOOD.replace('\n', "\r\n");
    for text in [format!("\u{feff}{GOOD}"), crlf, format!("---\n{GOOD}...\n")] {
        assert_eq!(read_job(&text, "").unwrap().file, job.file);
    }
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("marked.yaml");
    fs::write(&path, format!("\u{feff}{GOOD}")).unwrap();
    assert_eq!(read_file(&path).unwrap(), GOOD);
}

/// Bytes with some of them changed, dropped, doubled or moved.
fn mutated(mut bytes: Vec<u8>, changes: &[(u8, u16, u16, u8)]) -> Vec<u8> {
    const SIGNS: &[u8] = b"\t\n -:?[]{},&*!|>'\"%@`#.~\\\0\xff0";
    for (kind, from, length, byte) in changes {
        let from = usize::from(*from) % (bytes.len() + 1);
        let to = bytes.len().min(from + usize::from(*length) % 40);
        match kind % 5 {
            0 => bytes.insert(from, *byte),
            1 => bytes.insert(from, SIGNS[usize::from(*byte) % SIGNS.len()]),
            2 => drop(bytes.drain(from..to)),
            3 => bytes.extend_from_within(from..to),
            _ => bytes[from..to].reverse(),
        }
    }
    bytes
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 1500,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// Whatever the bytes: a job that can be saved, or problems with a place.
    #[test]
    fn no_bytes_cause_a_panic(
        choices in prop::collection::vec(any::<u8>(), 0..200),
        changes in prop::collection::vec(any::<(u8, u16, u16, u8)>(), 1..12),
        plain in any::<bool>(),
    ) {
        let job = if plain { GOOD.to_owned() } else { to_yaml(&Choices(&choices).job()) };
        let bytes = mutated(job.into_bytes(), &changes);
        let text = String::from_utf8_lossy(&bytes);
        match read_job(&text, "any.yaml") {
            Ok(read) => {
                let again = read_job(&to_yaml(&read.file), "again.yaml");
                prop_assert_eq!(again.map(|read| read.file), Ok(read.file));
            }
            Err(problems) => {
                prop_assert!((1..=MOST_PROBLEMS).contains(&problems.len()));
                for problem in &problems {
                    prop_assert!(problem.line <= text.lines().count() + 1, "{}", problem);
                    prop_assert!(!problem.found.is_empty() && !problem.allowed.is_empty());
                }
            }
        }
    }
}

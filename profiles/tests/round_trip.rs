//! What is saved is read back as it was.

mod any_job;

use std::fs;

use any_job::Choices;
use profiles::schema::{AlternativeFile, JobFile, PartUse};
use profiles::{read_file, read_job, save_job, to_yaml};
use proptest::prelude::*;

/// The plainest job.
fn plain() -> JobFile {
    Choices(&[]).job()
}

fn assert_reads_back(job: &JobFile) {
    let text = to_yaml(job);
    match read_job(&text, "any.yaml") {
        Ok(read) => assert_eq!(read.file, *job, "{text}"),
        Err(problems) => panic!("{}\n{text}", problems[0]),
    }
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_job_reads_back_as_written(bytes in prop::collection::vec(any::<u8>(), 0..3000)) {
        assert_reads_back(&Choices(&bytes).job());
    }
}

/// Every text of three awkward characters, as a value, a key and an item.
#[test]
fn any_awkward_text_reads_back() {
    const AWKWARD: [&str; 14] = [
        "a", " ", "\n", "\t", "\r", "\u{85}", "\u{2028}", "\u{2029}", "\u{feff}", "#", ":", "?",
        "-", "'",
    ];
    for first in AWKWARD {
        for second in AWKWARD {
            let mut job = plain();
            for third in AWKWARD {
                let text = format!("{first}{second}{third}");
                job.notes = text.clone();
                job.name = format!("{text}z");
                let one = [(text.clone(), text.clone())];
                job.unit = PartUse::Changed {
                    base: text.clone(),
                    with: one.into_iter().collect(),
                };
                job.alternatives.push(AlternativeFile {
                    without: vec![text.clone(), "x".to_owned()],
                    move_modules: [(text.clone(), vec![text.clone()])].into_iter().collect(),
                    ..alternative(&text)
                });
            }
            assert_reads_back(&job);
        }
    }
}

fn alternative(text: &str) -> AlternativeFile {
    AlternativeFile {
        id: text.to_owned(),
        name: text.to_owned(),
        unit: None,
        mount: None,
        plugs: Default::default(),
        leads: Vec::new(),
        without: Vec::new(),
        move_modules: Default::default(),
        notes: text.to_owned(),
    }
}

#[test]
fn numbers_and_lengths_keep_their_writing() {
    let text = "\
format: 1
name: Van
proud_limit_mm: 2.5
cavity:
  opening:
    width: 184.0
    height: 7 3/16 ± 1/32
    corner_radius: '2.50'
  seat_plane: '?'
  clear: 2,5
  exits:
  - id: left
    name: gap in the wall
    centre:
    - -98.0
    - 190
    - 38
    direction:
    - -1.0
    - 0.0
    - 0.0
    corners:
    - - '-10.50'
      - 3/8
    - - 0
      - 12.0
    - - 9
      - -3
unit:
  use: head
  with:
    chassis.depth: 178.0
    name: no
mount: sleeve
looms:
- exit: left
  wrap: cloth_tape
  taped:
  - name: audio leads
    leads:
    - L6
    - L7
    wrap:
      id: own
      name: my tape
      thickness: '0.270'
      layers: 2
";
    let job = read_job(text, "van.yaml").unwrap().file;
    assert_eq!(job.cavity.opening.width.as_written(), "184.0");
    let written = to_yaml(&job);
    // A text that other readers would take for yes or no may be quoted.
    assert_eq!(written.replace("'no'", "no"), text);
}

#[test]
fn a_saved_job_is_in_its_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("van.yaml");
    save_job(&path, &plain()).unwrap();
    let mut changed = plain();
    changed.name = "Another".to_owned();
    save_job(&path, &changed).unwrap();
    let text = read_file(&path).unwrap();
    assert_eq!(read_job(&text, "van.yaml").unwrap().file, changed);
    // Nothing else is left in the folder.
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_job_that_could_not_be_read_again_does_not_replace_one_that_can() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("van.yaml");
    save_job(&path, &plain()).unwrap();
    let mut broken = plain();
    broken.cavity.slide_dip_deg = f64::NAN;
    let problem = save_job(&path, &broken).unwrap_err();
    assert_eq!(
        problem.to_string(),
        format!(
            "{}: cavity.slide_dip_deg: found \".nan\"; allowed: a number such as 12 or 3.5",
            path.display()
        )
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), to_yaml(&plain()));
}

#[test]
fn a_place_that_cannot_be_written_to_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let no_folder = folder.path().join("none").join("van.yaml");
    let problem = save_job(&no_folder, &plain()).unwrap_err();
    assert!(
        problem
            .found
            .starts_with("a place that cannot be written to ("),
        "{problem}"
    );
    let problem = save_job(folder.path(), &plain()).unwrap_err();
    assert_eq!(
        problem.found,
        "a place that cannot be written to (a folder)"
    );
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_a_mode_stays() {
    use std::os::unix::fs::{PermissionsExt, symlink};

    let folder = tempfile::tempdir().unwrap();
    let (path, link) = (folder.path().join("van.yaml"), folder.path().join("link"));
    save_job(&path, &plain()).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    symlink(&path, &link).unwrap();
    let mut changed = plain();
    changed.name = "Another".to_owned();
    save_job(&link, &changed).unwrap();
    assert!(link.is_symlink());
    assert_eq!(fs::read_to_string(&path).unwrap(), to_yaml(&changed));
    assert_eq!(path.metadata().unwrap().permissions().mode() & 0o777, 0o640);

    let dangling = folder.path().join("dangling");
    symlink(folder.path().join("none"), &dangling).unwrap();
    save_job(&dangling, &changed).unwrap_err();
    assert!(dangling.is_symlink());

    fs::set_permissions(&path, fs::Permissions::from_mode(0o440)).unwrap();
    let problem = save_job(&path, &plain()).unwrap_err();
    assert_eq!(
        problem.found,
        "a place that cannot be written to (write-protected)"
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), to_yaml(&changed));
}

#[test]
fn the_line_of_a_value_is_that_of_its_key() {
    let text = "\
format: 1
name: Van
cavity:
  opening:
    width: 182
    height:
      54
  obstacles:
    - id: rib
      name: Rib
      kind: rib
      box:
        across: [1, 2]
        depth:
          - 3
          - 4
        up: [5, 6]
unit:
  use: head
  with: {chassis.depth: 178}
mount: sleeve
";
    let lines = read_job(text, "van.yaml").unwrap().lines;
    for (path, line) in [
        ("", 1),
        ("cavity.opening", 4),
        ("cavity.opening.height", 6),
        ("cavity.obstacles[0]", 9),
        ("cavity.obstacles[0].box.depth[1]", 16),
        ("cavity.obstacles[0].box.up[1]", 17),
        ("unit.with.chassis.depth", 20),
        // What is not in the file is where it would be.
        ("cavity.obstacles[0].box.turned_deg[2]", 12),
        ("cavity.obstacles[7].id", 8),
        ("unit.chassis.depth", 18),
        ("modules[0]", 1),
    ] {
        assert_eq!(lines.line_of(path), line, "{path}");
    }
}

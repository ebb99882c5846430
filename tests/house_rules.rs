//! The invariants of DEVELOPERS.md that a machine can check.

use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every file below a folder with one of the given endings.
fn files(folder: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("the folder is readable") {
            let path = entry.expect("the entry is readable").path();
            if path.is_dir() {
                if !path.ends_with("target") && !path.ends_with(".git") {
                    folders.push(path);
                }
            } else if path
                .extension()
                .is_some_and(|it| endings.iter().any(|end| it == *end))
            {
                found.push(path);
            }
        }
    }
    found.sort();
    assert!(!found.is_empty(), "no files below {}", folder.display());
    found
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).expect("the file is text")
}

/// Lines that mention one of the words, outside comments.
fn mentions(path: &Path, words: &[&str]) -> Vec<String> {
    read(path)
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
        .filter(|(_, line)| words.iter().any(|word| line.contains(word)))
        .map(|(number, line)| format!("{}:{}: {}", path.display(), number + 1, line.trim()))
        .collect()
}

/// I1: geometry knows no files, screens, clocks, threads or chance.
#[test]
fn geometry_is_pure() {
    let words = [
        "std::fs",
        "std::io",
        "std::net",
        "std::env",
        "std::time",
        "std::thread",
        "std::process",
        "println!",
        "eprintln!",
        "serde",
        "egui",
        "rand::",
        "HashMap",
        "HashSet",
    ];
    // Tested to give the same bits on any number of threads, which the caller sets.
    let on_threads = root().join("geometry/src/space/transform.rs");
    let found: Vec<String> = files(&root().join("geometry/src"), &["rs"])
        .iter()
        .flat_map(|file| {
            let may = *file == on_threads;
            let mut found = mentions(file, &words);
            found.retain(|line| !(may && line.contains("std::thread")));
            found
        })
        .collect();
    assert!(found.is_empty(), "{found:#?}");
    let manifest = read(&root().join("geometry/Cargo.toml"));
    let depends = manifest.split("[dev-dependencies]").next().unwrap();
    for crate_name in ["serde", "egui", "profiles", "seatwell", "rand"] {
        assert!(
            !depends.contains(&format!("\n{crate_name}")),
            "geometry depends on {crate_name}"
        );
    }
}

/// I2: only profiles reads and writes job files; it knows no screen.
#[test]
fn profiles_knows_no_screen() {
    for file in files(&root().join("profiles/src"), &["rs"]) {
        let found = mentions(&file, &["egui", "eframe", "println!"]);
        assert!(found.is_empty(), "{found:#?}");
    }
}

/// I3: only the window knows egui.
#[test]
fn only_the_window_knows_egui() {
    let desk = root().join("app/src/desk");
    for file in files(&root().join("app/src"), &["rs"]) {
        if !file.starts_with(&desk) {
            let found = mentions(&file, &["egui", "eframe"]);
            assert!(found.is_empty(), "{found:#?}");
        }
    }
}

/// No file holds more than one can read in a sitting.
#[test]
fn files_can_be_read_in_one_sitting() {
    for file in files(&root(), &["rs"]) {
        let lines = read(&file).lines().count();
        assert!(lines <= 700, "{} has {lines} lines", file.display());
    }
}

/// Every picture is made by the documented command and shown to be small enough to keep.
#[test]
fn every_picture_is_made_by_the_documented_command() {
    let folder = root().join("screenshots");
    let command = "cargo run -p acceptance --bin screenshots";
    assert!(read(&folder.join("README.md")).contains(command));
    for picture in files(&folder, &["png"]) {
        let bytes = std::fs::metadata(&picture).unwrap().len();
        assert!(bytes < 600_000, "{} has {bytes} bytes", picture.display());
    }
}

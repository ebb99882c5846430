//! The program killed while it edits and saves: no file is ever lost or
//! broken, and at most the edits of the last two seconds are gone.
//!
//! Twelve kills by default; the whole of it:
//!
//!     KILLS=200 cargo test -p acceptance --test killed

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use acceptance::chance::Chance;
use profiles::KeptFolder;
use profiles::schema::JobFile;

/// As much may be gone.
const AT_MOST: Duration = Duration::from_secs(2);

/// Runs of one program after another in the same folder, side by side.
const LANES: u64 = 4;

fn number(job: &JobFile) -> u64 {
    (job.name.strip_prefix("edit "))
        .and_then(|number| number.parse().ok())
        .expect("the name is a number")
}

/// What one kill found.
struct Found {
    edits: usize,
    /// From the last edit that is still there, or if that is the last of all 0.
    gone: Duration,
}

/// Lets the program edit for a while, kills it, and looks at what is there.
fn kill_once(folder: &Path, seed: u64, chance: &mut Chance) -> Found {
    let mut child = Command::new(env!("CARGO_BIN_EXE_edit_until_killed"))
        .arg(folder)
        .arg(seed.to_string())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it runs");
    let out = BufReader::new(child.stdout.take().expect("it is piped"));
    // Edits by the time they were told of; a pipe keeps what was told before the kill.
    let reader = std::thread::spawn(move || {
        let mut told: Vec<(u64, Instant)> = Vec::new();
        for line in out.lines().map_while(Result::ok) {
            match line.strip_prefix("edit ") {
                Some(number) => told.push((number.parse().expect("a number"), Instant::now())),
                None => panic!("{line}"),
            }
        }
        told
    });
    std::thread::sleep(Duration::from_secs_f64(chance.within(0.05, 4.0)));
    child.kill().expect("it is killed (SIGKILL on Unix)");
    let killed = Instant::now();
    let ended = child.wait().expect("it has ended");
    assert!(ended.code().is_none(), "it ended by itself: {ended}");
    let told = reader.join().expect("every line is an edit");

    // The saved file is there and whole, or was never saved.
    let file = folder.join("job.yaml");
    let saved = file.exists().then(|| {
        let text = profiles::read_file(&file).expect("the saved file is there");
        let read = profiles::read_job(&text, "job.yaml");
        number(&read.unwrap_or_else(|problems| panic!("{problems:?}")).file)
    });
    // Every kept job is whole; the newest counts.
    let left = KeptFolder::at(folder.join("unsaved")).left_behind();
    assert!(left.problems.is_empty(), "{:?}", left.problems);
    let kept = left.jobs.iter().map(|left| number(&left.job)).max();
    assert!(
        kept.into_iter().chain(saved).max() >= told.first().map(|(first, _)| first - 1)
            || told
                .first()
                .is_none_or(|(_, at)| killed.duration_since(*at) < AT_MOST),
        "what was there before is gone: kept {kept:?}, saved {saved:?}"
    );
    let there = kept.max(saved).unwrap_or(0);
    let first_gone = told.iter().find(|(number, _)| *number > there);
    Found {
        edits: told.len(),
        gone: first_gone.map_or(Duration::ZERO, |(_, at)| {
            killed.saturating_duration_since(*at)
        }),
    }
}

#[test]
fn nothing_is_lost_or_broken_by_a_kill() {
    let kills: u64 = std::env::var("KILLS").map_or(12, |kills| kills.parse().expect("a number"));
    let lanes: Vec<_> = (0..LANES)
        .map(|lane| {
            std::thread::spawn(move || {
                let folder = tempfile::tempdir().expect("a folder");
                let mut chance = Chance::new(lane, 7);
                (lane..kills)
                    .step_by(LANES as usize)
                    .map(|kill| kill_once(folder.path(), kill, &mut chance))
                    .collect::<Vec<Found>>()
            })
        })
        .collect();
    let found: Vec<Found> = (lanes.into_iter())
        .flat_map(|lane| lane.join().expect("a kill found something wrong"))
        .collect();
    let edits: usize = found.iter().map(|found| found.edits).sum();
    let worst = found
        .iter()
        .map(|found| found.gone)
        .max()
        .unwrap_or_default();
    println!(
        "{} kills, {edits} edits, at most {worst:.2?} gone",
        found.len()
    );
    assert_eq!(found.len() as u64, kills);
    assert!(edits > 10 * found.len(), "hardly anything was edited");
    assert!(worst <= AT_MOST, "{worst:?} of edits are gone");
}

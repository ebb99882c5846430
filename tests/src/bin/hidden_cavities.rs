//! The hundred cavities with a hidden answer, in figures:
//! `cargo run -p acceptance --bin hidden_cavities`.
//!
//! * `write FOLDER` puts each there as a job file, its answer beside it as JSON
//! * `drafts` prints the table of `tests/src/hidden/drafts.rs` anew

use std::path::Path;
use std::process::ExitCode;

use acceptance::hidden::{Hidden, Stats, answer_json_of, hidden_job, hidden_job_anew};

const SEEDS: u64 = 100;

/// Longest bar of a histogram, characters.
const BAR: usize = 50;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words[..] {
        [] => figures(),
        ["drafts"] => drafts(),
        ["write", folder] => {
            if let Err(error) = write(Path::new(folder)) {
                eprintln!("hidden_cavities: {error}");
                return ExitCode::from(4);
            }
        }
        _ => {
            eprintln!("hidden_cavities [drafts | write FOLDER]");
            return ExitCode::from(3);
        }
    }
    ExitCode::SUCCESS
}

fn figures() {
    let all: Vec<Stats> = (0..SEEDS).map(|seed| hidden_job(seed).stats).collect();
    let each = |figure: &dyn Fn(&Stats) -> f64| all.iter().map(figure).collect::<Vec<_>>();
    let leads = each(&|it| it.leads as f64);
    histogram("leads", &leads, 1.0, 0);
    histogram("cables of all leads", &each(&|it| it.cables as f64), 1.0, 0);
    let obstacles = each(&|it| it.obstacles as f64);
    histogram("obstacles, ribs among them", &obstacles, 5.0, 0);
    histogram("ribs", &each(&|it| it.ribs as f64), 1.0, 0);
    let behind = "free share of the room behind and beside the chassis";
    histogram(behind, &each(&|it| it.free_share), 0.01, 2);
    let whole = "free share of the whole cavity, the chassis counted as taken";
    histogram(whole, &each(&|it| it.free_of_cavity), 0.02, 2);
    let nearest = "nearest obstacle beyond its clearance, mm";
    histogram(nearest, &each(&|it| it.nearest_clearance), 0.25, 2);
    let near = "obstacles within 2 mm of their clearance";
    histogram(near, &each(&|it| it.near_obstacles as f64), 2.0, 0);
    let failing = "cables whose own shortest way fails, of all";
    let share = |it: &Stats| it.direct_failing as f64 / it.cables as f64;
    histogram(failing, &each(&share), 0.1, 1);
    let over = all.iter().flat_map(|it| it.over_direct.clone());
    let over: Vec<f64> = over.map(|share| share.min(2.5)).collect();
    let title = "length of a route over the straight distance (last: 2.5 and more)";
    histogram(title, &over, 0.1, 1);
    let cavities = all.iter().filter(|it| it.direct_failing > 0).count();
    println!("{cavities} of {SEEDS} cavities fail when each cable takes its own shortest way");
}

/// Prints how often a figure falls into each step.
fn histogram(title: &str, figures: &[f64], step: f64, digits: usize) {
    println!("{title}");
    // A little over, so that a whole number of steps counts as the upper one.
    let cell = |figure: f64| (figure / step + 1e-9).floor() as i64;
    let cells: Vec<i64> = figures.iter().map(|figure| cell(*figure)).collect();
    let (Some(first), Some(last)) = (cells.iter().min(), cells.iter().max()) else {
        return;
    };
    let count = |wanted: i64| cells.iter().filter(|cell| **cell == wanted).count();
    let most = (*first..=*last).map(count).max().unwrap_or(1);
    for wanted in *first..=*last {
        let found = count(wanted);
        let bar = "#".repeat((found * BAR).div_ceil(most));
        println!("  {:8.digits$} {found:4} {bar}", wanted as f64 * step);
    }
    println!();
}

fn drafts() {
    let mut drafts = [0; SEEDS as usize];
    std::thread::scope(|scope| {
        let half = SEEDS / 2;
        for (first, drafts) in [0, half].into_iter().zip(drafts.chunks_mut(half as usize)) {
            scope.spawn(move || {
                for (seed, draft) in (first..).zip(drafts) {
                    *draft = hidden_job_anew(seed).stats.thrown_away;
                    eprintln!("{seed}: {draft}");
                }
            });
        }
    });
    for ten in drafts.chunks(10) {
        let ten: Vec<String> = ten.iter().map(|draft| format!("{draft},")).collect();
        println!("    {}", ten.join(" "));
    }
}

fn write(folder: &Path) -> std::io::Result<()> {
    std::fs::create_dir_all(folder)?;
    for seed in 0..SEEDS {
        let Hidden { file, answer, .. } = hidden_job(seed);
        let name = folder.join(format!("hidden-{seed:02}"));
        std::fs::write(name.with_extension("yaml"), profiles::to_yaml(&file))?;
        let answer = format!("{:#}\n", answer_json_of(&answer));
        std::fs::write(name.with_extension("answer.json"), answer)?;
    }
    Ok(())
}

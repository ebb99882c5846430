//! `seatwell loom`: how thick the loom of each exit is, or that of given cables.

use std::fmt::Write;

use clap::Args;
use geometry::Job;
use geometry::looms::{Loom, loom_of, looms};
use geometry::packing::Effort;
use geometry::rule_of_thumb;
use profiles::{Length, Library};

use super::{Outcome, print, print_json, refuse};
use crate::answer::{LoomsAnswer, PackingAnswer};
use crate::figures::Figures;
use crate::words::looms as words;

/// A job, or the diameters of some cables.
#[derive(Debug, Args)]
pub struct LoomArgs {
    /// A job file, or the name of an embedded job.
    #[arg(value_name = "JOB", required_unless_present = "od")]
    job: Option<String>,
    /// Outside diameters instead of a job, parted by commas: 12, 4.5, 3/16 in; 12x2.4 means
    /// twelve of 2.4.
    #[arg(long, value_name = "D1,D2,...", value_parser = cables, conflicts_with = "job")]
    od: Option<Cables>,
    /// The loom of this exit alone.
    #[arg(long, value_name = "ID", conflicts_with = "od")]
    exit: Option<String>,
    /// Look longer, for the last few tenths of a percent.
    #[arg(long)]
    thorough: bool,
    /// Print JSON for other programs.
    #[arg(long)]
    json: bool,
}

/// Outside diameters, mm.
#[derive(Clone, Debug)]
struct Cables(Vec<f64>);

/// More cables than any loom has.
const MOST: usize = 500;

fn cables(text: &str) -> Result<Cables, String> {
    let mut all = Vec::new();
    for item in text.split(',') {
        let (count, length) = several(item)?;
        let measure = Length::parse(length)?.measure();
        let Some(diameter) = measure.map(|it| it.value()).filter(|d| *d > 0.0) else {
            return Err(format!("found '{item}'; allowed: a diameter above 0"));
        };
        if all.len() + count > MOST {
            return Err(format!("allowed: at most {MOST} cables"));
        }
        all.extend(std::iter::repeat_n(diameter, count));
    }
    Ok(Cables(all))
}

/// How many, and of what length: `12x2.4`.
fn several(item: &str) -> Result<(usize, &str), String> {
    let Some((count, length)) = item.split_once(['x', '×']) else {
        return Ok((1, item));
    };
    match count.trim().parse::<usize>() {
        Ok(count) if (1..=MOST).contains(&count) => Ok((count, length)),
        _ => Err(format!(
            "found '{item}'; allowed: a number from 1 to {MOST} before the x"
        )),
    }
}

/// Prints the looms of a job, or the loom of given cables.
pub fn run(args: &LoomArgs, library: &Library, figures: Figures) -> Outcome {
    let effort = if args.thorough {
        Effort::Thorough
    } else {
        Effort::Normal
    };
    match (&args.od, &args.job) {
        (Some(Cables(diameters)), _) => of_cables(diameters, args.json, effort, figures),
        (None, Some(job)) => of_job(job, args, effort, library, figures),
        // clap asks for one of the two.
        (None, None) => Outcome::BadInput,
    }
}

fn of_cables(diameters: &[f64], json: bool, effort: Effort, figures: Figures) -> Outcome {
    let packing = loom_of(diameters, effort);
    if json {
        return print_json(&PackingAnswer::new(&packing));
    }
    print(&format!(
        "{} cables lie in a round of {}; by the hand rule, {}.\n",
        diameters.len(),
        figures.length(packing.diameter),
        words::by_hand(rule_of_thumb(diameters), figures)
    ))
}

fn of_job(
    name: &str,
    args: &LoomArgs,
    effort: Effort,
    library: &Library,
    figures: Figures,
) -> Outcome {
    let opened = match profiles::open_job(name, library) {
        Ok(opened) => opened,
        Err(problems) => return refuse(&problems),
    };
    for warning in &opened.warnings {
        eprintln!("{warning}");
    }
    let mut job = opened.job;
    if let Some(id) = &args.exit {
        if !job.cavity.exits.iter().any(|exit| exit.id == *id) {
            let ids: Vec<&str> = job.cavity.exits.iter().map(|it| it.id.as_str()).collect();
            eprintln!("--exit: found '{id}'; allowed: {}", ids.join(", "));
            return Outcome::BadInput;
        }
        job.cavity.exits.retain(|exit| exit.id == *id);
    }
    let looms = looms(&job, effort);
    if args.json {
        return print_json(&LoomsAnswer::new(&looms));
    }
    let mut text = format!("{}\n", job.name);
    if looms.is_empty() {
        text.push_str("\nNo lead leaves the cavity here: there is no loom to lay up.\n");
    }
    for loom in &looms {
        report(&mut text, loom, &job, figures);
    }
    print(&text)
}

/// One loom in words, its leads below.
fn report(out: &mut String, loom: &Loom, job: &Job, figures: Figures) {
    // Writing to a String cannot fail.
    let _ = writeln!(out, "\n{} ({})", loom.name, loom.exit);
    let _ = writeln!(out, "  {}", words::passes(loom, figures));
    let exit = job.cavity.exits.iter().find(|exit| exit.id == loom.exit);
    let size = exit.map_or(String::new(), |exit| words::exit_size(exit, figures));
    for (name, text) in [
        ("loom", words::diameter(loom, figures)),
        ("hand rule", words::by_hand(loom.rule_of_thumb, figures)),
        ("exit", format!("{size}, {} full", words::fill(loom))),
        ("bend", words::bend(loom, job, figures)),
        ("lumps", words::lumps(loom, figures)),
        ("least hole", words::next_hole(loom, figures)),
    ] {
        let _ = writeln!(out, "  {name:11} {text}");
    }
    let members = words::members(loom);
    let width = (members.iter().map(|it| it.name.chars().count()))
        .max()
        .unwrap_or(0);
    for member in members {
        let tape = (member.tape.and_then(|tape| loom.tapes.get(tape)))
            .map_or(String::new(), |tape| format!("  in {}", tape.name));
        let size = member.size(figures);
        let unit = figures.word();
        let _ = writeln!(out, "    {:width$}  {size} {unit}{tape}", member.name);
    }
}

//! `seatwell trim`: the least cut, and one for each millimetre of proud.

use std::fmt::Write;

use clap::Args;
use geometry::trimming::{
    Account, FURTHEST_STEP, Ledger, NotchAccount, StripRoom, TrimOutcome, TrimStep, accounts,
    corner_stress, least_cut, steps, strip_rooms,
};
use geometry::{Job, Trim, Verdict};
use profiles::Library;

use super::{JobArgs, Outcome, print, print_json, refuse};
use crate::answer::{LeastCutAnswer, StepsAnswer};
use crate::cautions::beside_a_cut;
use crate::figures::Figures;
use crate::words::trim as words;

/// A job, how far it may stand proud, and how much to say.
#[derive(Debug, Args)]
pub struct TrimArgs {
    #[command(flatten)]
    job: JobArgs,
    /// The least cut for each proud from 0 up to where nothing needs cutting.
    #[arg(long)]
    steps: bool,
    /// The unit may stand this far proud, mm; without it, the least at which a cut is found.
    #[arg(long, value_name = "MM", conflicts_with = "steps")]
    proud: Option<f64>,
    /// Answer for this alternative of the job.
    #[arg(long = "with", value_name = "ALTERNATIVE")]
    alternative: Option<String>,
    /// Take it that the customer agrees to cuts that have to be asked for.
    #[arg(long)]
    ask_agreed: bool,
    /// Leave this rib alone; may be given several times.
    #[arg(long, value_name = "RIB")]
    leave_alone: Vec<String>,
}

/// Looks for the least cut and prints it.
pub fn run(args: &TrimArgs, library: &Library, figures: Figures) -> Outcome {
    let opened = match profiles::open_job(&args.job.job, library) {
        Ok(opened) => opened,
        Err(problems) => return refuse(&problems),
    };
    for warning in &opened.warnings {
        eprintln!("{warning}");
    }
    let mut job = match &args.alternative {
        None => opened.job,
        Some(id) => {
            let ids: Vec<String> = opened.alternatives.iter().map(|it| it.id.clone()).collect();
            let mut all = opened.alternatives.into_iter();
            let Some(other) = all.find(|it| it.id == *id) else {
                eprintln!("--with: found '{id}'; allowed: {}", ids.join(", "));
                return Outcome::BadInput;
            };
            other.job
        }
    };
    if let Err(said) = adjust(&mut job, args) {
        eprintln!("{said}");
        return Outcome::BadInput;
    }
    if args.steps {
        let steps = steps(&job, FURTHEST_STEP, &mut |_| true);
        all_steps(&job, &steps, args.job.json, figures)
    } else {
        one_step(
            &job,
            &first_that_holds(&job, args.proud),
            args.job.json,
            figures,
        )
    }
}

/// Puts what the arguments say of cutting into the job.
fn adjust(job: &mut Job, args: &TrimArgs) -> Result<(), String> {
    if let Some(proud) = args.proud
        && !(0.0..=f64::from(FURTHEST_STEP)).contains(&proud)
    {
        return Err(format!(
            "--proud: found {proud}; allowed: 0 to {FURTHEST_STEP} mm"
        ));
    }
    for id in &args.leave_alone {
        let mut obstacles = job.cavity.obstacles.iter();
        if !obstacles.any(|it| it.id == *id) {
            let ids: Vec<&str> = job
                .cavity
                .obstacles
                .iter()
                .map(|it| it.id.as_str())
                .collect();
            return Err(format!(
                "--leave-alone: found '{id}'; allowed: {}",
                ids.join(", ")
            ));
        }
        job.cutting.left_alone.push(id.clone());
    }
    job.cutting.asked |= args.ask_agreed;
    Ok(())
}

/// The step for a proud, or the first from 0 on that holds.
fn first_that_holds(job: &Job, proud: Option<f64>) -> TrimStep {
    if let Some(proud) = proud {
        return least_cut(job, proud, &mut |_| true);
    }
    let all = steps(job, FURTHEST_STEP, &mut |_| true);
    let at = all.iter().position(TrimStep::holds).unwrap_or(0);
    all.into_iter()
        .nth(at)
        .unwrap_or_else(|| least_cut(job, 0.0, &mut |_| true))
}

/// The job with the notches of a step.
fn as_cut(job: &Job, step: &TrimStep) -> Job {
    Job {
        trims: step.trims.clone(),
        ..job.clone()
    }
}

fn verdict(step: &TrimStep) -> Verdict {
    step.routed
        .as_ref()
        .map_or(Verdict::Blocked, |it| it.verdict)
}

fn one_step(job: &Job, step: &TrimStep, json: bool, figures: Figures) -> Outcome {
    let cut = as_cut(job, step);
    let accounts = accounts(&cut);
    let printed = if json {
        print_json(&LeastCutAnswer::new(&cut, step, &accounts))
    } else {
        let mut text = format!("{}\n\n", job.name);
        let out = &mut text;
        let _ = writeln!(out, "  {}\n", words::headline(step, &accounts, figures));
        let rooms = step.routed.as_ref().map(|it| strip_rooms(&cut, it));
        for account in &accounts {
            rib(out, &cut, account, rooms.as_deref(), figures);
        }
        if step.outcome == TrimOutcome::NothingToCut {
            let _ = writeln!(
                out,
                "Leads and modules as `seatwell check --layer routed` says.\n"
            );
        }
        if !accounts.is_empty() {
            cautions(out);
        }
        print(&text)
    };
    match printed {
        Outcome::Done => verdict(step).into(),
        other => other,
    }
}

fn all_steps(job: &Job, steps: &[TrimStep], json: bool, figures: Figures) -> Outcome {
    let best = steps.iter().find(|step| step.holds());
    let outcome = best.map_or(Verdict::Blocked, verdict);
    let mut ledger = Ledger::new(job);
    let accounts = steps.iter().map(|it| ledger.accounts(&it.trims));
    let accounts: Vec<Vec<Account>> = accounts.collect();
    let printed = if json {
        print_json(&StepsAnswer::new(job, steps, &accounts))
    } else {
        let mut text = format!("{}\n\n", job.name);
        let out = &mut text;
        let _ = writeln!(
            out,
            "  {:>6}  {:>10}  {:>9}  cut",
            "proud", "removed", "kept"
        );
        for (step, accounts) in steps.iter().zip(&accounts) {
            let _ = writeln!(out, "  {}", line(step, accounts, job, figures));
        }
        let _ = writeln!(
            out,
            "\n  This job allows {} proud. {}\n",
            figures.length(job.proud_limit),
            words::COMPARES
        );
        if accounts.iter().any(|it| !it.is_empty()) {
            cautions(out);
        }
        print(&text)
    };
    match printed {
        Outcome::Done => outcome.into(),
        other => other,
    }
}

/// One step in a line.
fn line(step: &TrimStep, accounts: &[Account], job: &Job, figures: Figures) -> String {
    let proud = figures.bare(step.proud);
    if !matches!(step.outcome, TrimOutcome::Cut | TrimOutcome::CutWithStrips) {
        return format!("{proud:>6}  {}", words::headline(step, accounts, figures));
    }
    let kept = accounts
        .iter()
        .filter_map(|account| account.kept.as_ref().ok());
    let least = kept.filter_map(|it| it.judged()).map(|it| it.value);
    let least = least.fold(f64::INFINITY, f64::min);
    let kept = match least.is_finite() {
        true => words::share(least),
        false => "-".to_owned(),
    };
    let notches: Vec<String> = accounts
        .iter()
        .flat_map(|account| {
            let notches = account.notches.iter();
            notches.map(|it| {
                let notch = words::notch(job, &account.rib, it, figures);
                format!("{}: {notch}", account.name)
            })
        })
        .collect();
    let strip = match step.outcome {
        TrimOutcome::CutWithStrips => "; needs a doubler strip, no cut found without",
        _ => "",
    };
    format!(
        "{proud:>6}  {:>10}  {kept:>9}  {}{strip}",
        words::volume(step.removed_mm3),
        notches.join("; ")
    )
}

/// What is cut from one rib and what it keeps.
fn rib(
    out: &mut String,
    job: &Job,
    account: &Account,
    rooms: Option<&[StripRoom]>,
    figures: Figures,
) {
    let _ = writeln!(out, "{}", account.name);
    for notch in &account.notches {
        let words = words::notch(job, &account.rib, notch, figures);
        let _ = writeln!(out, "  notch {words}");
        if let Some(trim) = trim_of(job, account, notch) {
            let _ = writeln!(out, "  {}", words::reach(job, trim));
        }
    }
    let _ = writeln!(
        out,
        "  {} gone, {:.0} % of its face; {} of web left",
        words::volume(account.removed_volume),
        100.0 * account.share,
        figures.length(account.web)
    );
    match &account.kept {
        Ok(kept) => {
            let _ = writeln!(out, "  {}", words::kept(kept));
        }
        Err(fault) => {
            let _ = writeln!(out, "  no figure for its stiffness: {fault}");
        }
    }
    for line in words::strips(job, account, rooms, figures) {
        let _ = writeln!(out, "  {line}");
    }
    if let Some(weak) = &account.weak {
        let _ = writeln!(out, "  too weak: {weak}");
    }
    if let Some(doublers) = &account.doublers {
        for (number, strip) in &doublers.strips {
            let size = words::strip_size(strip, figures);
            let _ = writeln!(
                out,
                "  needs a doubler strip, {size} over notch {}",
                number + 1
            );
        }
        let _ = writeln!(out, "  with it, {}", words::kept(&doublers.kept));
    }
    let _ = writeln!(out, "  {}", words::COMPARES);
    let _ = writeln!(out, "  details");
    if let Ok(kept) = &account.kept {
        for line in words::details(job, account, kept) {
            let _ = writeln!(out, "    {line}");
        }
    }
    for corner in corner_stress(job, &account.rib).unwrap_or_default() {
        let _ = writeln!(out, "    {}", words::corner(&corner, figures));
    }
    out.push('\n');
}

/// The notch of the job that an account speaks of.
fn trim_of<'a>(job: &'a Job, account: &Account, notch: &NotchAccount) -> Option<&'a Trim> {
    let mut own = job.trims.iter().filter(|trim| trim.rib == account.rib);
    own.find(|trim| trim.edge == notch.edge && trim.along == notch.along)
}

fn cautions(out: &mut String) {
    let _ = writeln!(out, "Cautions");
    for caution in beside_a_cut() {
        let _ = writeln!(out, "  {}: {}", caution.title, caution.text);
    }
}

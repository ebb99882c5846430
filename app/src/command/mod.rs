//! The command line.

mod check;
mod list;
mod loom;
mod plain;
mod quick;
mod routes;
mod schema;
mod terminal;
mod trim;
mod without_window;

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand, ValueEnum};
use geometry::Verdict;
use profiles::{Library, Problem, Severity};

use crate::figures::Figures;

/// Will the unit seat fully, with everything plugged in?
///
/// From a dozen measurements of the hole behind the dash, the unit and its
/// leads, Seatwell says whether the unit seats flush, by how much it stands
/// proud if not, and what stops it. Without a command it opens the window.
#[derive(Debug, Parser)]
#[command(name = "seatwell", version, verbatim_doc_comment, after_help = AFTER_HELP)]
struct Invocation {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    common: Common,
}

const AFTER_HELP: &str = "\
JOB is a file, or the name of an embedded job: demo (the post van), post-van,
town-taxi, farm-hauler, camper.

Exit codes: 0 flush or done, 1 proud within the limit, 2 blocked, 3 bad input
or usage, 4 could not write, 70 internal error.

A figure from this program compares and advises. The vehicle maker's service
information, local codes and licensed practice come first.";

#[derive(Debug, Args)]
struct Common {
    /// A folder of your own parts, laid over the embedded library.
    #[arg(long, global = true, value_name = "FOLDER")]
    parts_folder: Option<PathBuf>,
    /// Show lengths in inches and fractions.
    #[arg(long, global = true)]
    inches: bool,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Open the window on a job.
    Open(OpenArgs),
    /// Does it seat? The verdict, the depth chain, and what stops it.
    Check(CheckArgs),
    /// A first answer from at most eight figures; `?` where one could not be measured.
    Quick(Box<quick::QuickArgs>),
    /// How thick the loom of each exit is, and whether it passes; or that of given cables.
    Loom(loom::LoomArgs),
    /// The least cut: what to take from which rib so that everything goes in, and how stiff it stays.
    Trim(trim::TrimArgs),
    /// The job as plain solids, every reference inlined.
    Plain(JobArgs),
    /// The parts of the library, and where their figures come from.
    Parts(PartsArgs),
    /// The JSON Schema of a job or parts file, for completion in an editor.
    Schema(schema::SchemaArgs),
}

#[derive(Debug, Args)]
struct CheckArgs {
    #[command(flatten)]
    job: JobArgs,
    /// Which layer of the answer to give.
    #[arg(long, value_enum, default_value_t = Layer::Chain)]
    layer: Layer,
}

#[derive(Debug, Args)]
struct JobArgs {
    /// A job file, or the name of an embedded job.
    #[arg(value_name = "JOB")]
    job: String,
    /// Print JSON for other programs.
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
struct OpenArgs {
    /// A job file, or the name of an embedded job; the demo when left out.
    #[arg(value_name = "JOB", default_value = profiles::DEMO)]
    job: String,
}

#[derive(Debug, Args)]
struct PartsArgs {
    /// Print JSON for other programs.
    #[arg(long)]
    json: bool,
}

/// The layers of an answer that there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Layer {
    /// Depth chain, insertion and exact clearances: instant.
    Chain,
    /// Every lead laid in 3D, every module placed, checked by exact distances.
    Routed,
}

/// How a command ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Flush, or done.
    Done,
    /// Proud within the limit.
    Proud,
    /// Blocked.
    Blocked,
    /// Bad input or usage.
    BadInput,
    /// Something could not be written.
    NotWritten,
    /// A fault of the program itself.
    Internal,
}

impl Outcome {
    /// Its exit code.
    pub fn code(self) -> u8 {
        match self {
            Outcome::Done => 0,
            Outcome::Proud => 1,
            Outcome::Blocked => 2,
            Outcome::BadInput => 3,
            Outcome::NotWritten => 4,
            Outcome::Internal => 70,
        }
    }
}

impl From<Verdict> for Outcome {
    fn from(verdict: Verdict) -> Outcome {
        match verdict {
            Verdict::Flush => Outcome::Done,
            Verdict::Proud => Outcome::Proud,
            Verdict::Blocked => Outcome::Blocked,
        }
    }
}

/// Runs the program on its arguments and says how it ended.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    let outcome = std::panic::catch_unwind(|| dispatch(&arguments)).unwrap_or_else(|_| {
        eprintln!(
            "seatwell: an internal error; the line above names the place. Nothing was written."
        );
        Outcome::Internal
    });
    ExitCode::from(outcome.code())
}

fn dispatch(arguments: &[OsString]) -> Outcome {
    let invocation = match Invocation::try_parse_from(arguments) {
        Ok(invocation) => invocation,
        Err(error) => {
            let asked = !error.use_stderr();
            // Help that cannot be printed has nobody to read it.
            let _ = error.print();
            return if asked {
                Outcome::Done
            } else {
                Outcome::BadInput
            };
        }
    };
    let library = match open_library(&invocation.common) {
        Ok(library) => library,
        Err(problem) => return refuse(&[problem]),
    };
    let figures = if invocation.common.inches {
        Figures::Inches
    } else {
        Figures::Millimetres
    };
    match invocation.command {
        None => without_window::open_or_print(profiles::DEMO, library, figures),
        Some(Command::Open(args)) => without_window::open_or_print(&args.job, library, figures),
        Some(Command::Check(args)) => {
            check::run(&args.job.job, args.layer, args.job.json, &library, figures)
        }
        Some(Command::Quick(args)) => quick::run(&args, &library, figures),
        Some(Command::Loom(args)) => loom::run(&args, &library, figures),
        Some(Command::Trim(args)) => trim::run(&args, &library, figures),
        Some(Command::Plain(args)) => plain::run(&args.job, args.json, &library),
        Some(Command::Parts(args)) => list::run(args.json, &library),
        Some(Command::Schema(args)) => schema::run(&args),
    }
}

/// The embedded library, under the user's own folder of parts. What is wrong
/// with that folder is said; its other parts serve all the same.
///
/// # Errors
/// A folder named on the command line that is not there.
fn open_library(common: &Common) -> Result<Library, Problem> {
    let folder = match &common.parts_folder {
        Some(folder) if !folder.is_dir() => {
            return Err(Problem {
                severity: Severity::Error,
                file: folder.display().to_string(),
                line: 0,
                field: "--parts-folder".to_owned(),
                found: "no folder of that name".to_owned(),
                allowed: "a folder with files of parts (*.yaml)".to_owned(),
            });
        }
        Some(folder) => Some(folder.clone()),
        None => own_parts_folder().filter(|folder| folder.is_dir()),
    };
    let Some(folder) = folder else {
        return Ok(Library::embedded());
    };
    let (library, problems) = Library::with_folder(&folder);
    for problem in problems {
        eprintln!("{problem}");
    }
    Ok(library)
}

/// The folder a user's own parts are looked for in when none is named.
pub fn own_parts_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "seatwell").map(|dirs| dirs.data_dir().join("parts"))
}

/// Prints problems, one a line, and gives the outcome for bad input.
fn refuse(problems: &[Problem]) -> Outcome {
    for problem in problems {
        eprintln!("{problem}");
    }
    Outcome::BadInput
}

/// Prints to standard output; a reader that has gone away is no error.
fn print(text: &str) -> Outcome {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Outcome::Done,
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Outcome::Done,
        Err(error) => {
            eprintln!("seatwell: could not write to standard output: {error}");
            Outcome::NotWritten
        }
    }
}

/// The same for a JSON value.
fn print_json<T: serde::Serialize>(value: &T) -> Outcome {
    match serde_json::to_string_pretty(value) {
        Ok(text) => print(&format!("{text}\n")),
        Err(error) => {
            eprintln!("seatwell: could not write the answer: {error}");
            Outcome::Internal
        }
    }
}

//! `seatwell schema`.

use clap::{Args, ValueEnum};

use super::{Outcome, print};

/// Which file's schema.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// The kind of file.
    #[arg(value_enum)]
    of: File,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum File {
    /// A job file.
    Job,
    /// A file of parts.
    Parts,
    /// A unit on its own.
    Unit,
}

/// Prints a schema.
pub fn run(args: &SchemaArgs) -> Outcome {
    let schema = match args.of {
        File::Job => profiles::json_schema::job_schema(),
        File::Parts => profiles::json_schema::parts_schema(),
        File::Unit => profiles::json_schema::unit_schema(),
    };
    print(&format!("{}\n", schema.trim_end()))
}

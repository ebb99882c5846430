//! `seatwell quick`: a first answer from at most eight figures.

use clap::Args;
use profiles::{Length, Library, QuickFigures};

use super::{Outcome, print, print_json, terminal};
use crate::answer::{AlternativeAnswer, CheckAnswer};
use crate::figures::Figures;
use crate::ranking::Answered;

/// The eight figures. Lengths as one types them: 182, 7 3/16, 18.2cm,
/// 182 ± 0.5, or ? for one that could not be measured.
#[derive(Debug, Args)]
pub struct QuickArgs {
    /// Width of the opening.
    #[arg(long, value_parser = length, default_value = "182")]
    width: Length,
    /// Height of the opening.
    #[arg(long, value_parser = length, default_value = "?")]
    height: Length,
    /// Depth from the dash face to the nearest solid thing behind the unit.
    #[arg(long, value_parser = length, default_value = "?")]
    behind: Length,
    /// Depth of the chassis, from the back of its nose.
    #[arg(long, value_parser = length, default_value = "?")]
    chassis: Length,
    /// From the dash face to the chassis front; positive into the dash.
    #[arg(long, value_parser = length, allow_hyphen_values = true, default_value = "?")]
    setback: Length,
    /// The longest plug, beyond the chassis.
    #[arg(long, value_parser = length, default_value = "?")]
    plug: Length,
    /// Outside diameter of its cable.
    #[arg(long, value_parser = length, default_value = "?")]
    cable: Length,
    /// Bend radius at the middle of the cable, in diameters.
    #[arg(long, default_value_t = QuickFigures::USUAL_BEND)]
    bend: f64,
    /// Print JSON for other programs.
    #[arg(long)]
    json: bool,
}

fn length(text: &str) -> Result<Length, String> {
    Length::parse(text)
}

/// Prints the quick answer.
pub fn run(args: &QuickArgs, library: &Library, figures: Figures) -> Outcome {
    let quick = QuickFigures {
        width: args.width.clone(),
        height: args.height.clone(),
        behind: args.behind.clone(),
        chassis: args.chassis.clone(),
        setback: args.setback.clone(),
        plug: args.plug.clone(),
        cable: args.cable.clone(),
        bend: args.bend,
    };
    let job = match quick.job(library) {
        Ok(job) => job,
        Err(faults) => {
            for fault in faults {
                eprintln!(
                    "--{}: found {}; allowed: {}",
                    fault.field, fault.found, fault.allowed
                );
            }
            return Outcome::BadInput;
        }
    };
    let answered = Answered::all(&job, &[]);
    let fit = &answered[0].fit;
    let printed = if args.json {
        let layout = geometry::lay_out(&job, geometry::Reading::Nominal);
        let none: Vec<AlternativeAnswer> = Vec::new();
        print_json(&CheckAnswer::new(
            &job,
            &layout,
            &answered[0],
            &[],
            none,
            None,
        ))
    } else {
        let mut text = terminal::report(&job, &answered, figures);
        if let Some(next) = quick.measure_next(library) {
            text.push_str(&format!(
                "Measure next: {} would narrow the answer by {}.\n",
                next.name,
                figures.length(next.gain)
            ));
        }
        print(&text)
    };
    if printed == Outcome::Done {
        fit.verdict.into()
    } else {
        printed
    }
}

//! What is said of a loom, in the terminal and in the window.

use geometry::looms::{Cutter, Loom, Passes, WhyNot, next_grommet};
use geometry::{Exit, ExitShape, Job};

use crate::figures::Figures;

/// What passes the exit as one round: its name, the lead it belongs to where
/// it is one, and its diameter, mm. In the order of the loom's passage.
pub struct Round<'a> {
    /// What the installer calls it.
    pub name: &'a str,
    /// The lead it is (its id); none for a tape or the whole loom.
    pub lead: Option<&'a str>,
    /// Its diameter, mm.
    pub diameter: f64,
}

/// What passes the exit as one round each: the whole when something is wrapped
/// round it, else every tape and every strand in none.
pub fn rounds(loom: &Loom) -> Vec<Round<'_>> {
    if loom.wrap > 0.0 {
        return vec![Round {
            name: "loom",
            lead: None,
            diameter: loom.diameter,
        }];
    }
    let tapes = loom.tapes.iter().map(|tape| Round {
        name: &tape.name,
        lead: None,
        diameter: tape.diameter,
    });
    let loose = loom.strands.iter().filter(|strand| strand.tape.is_none());
    let strands = loose.map(|strand| Round {
        name: &strand.name,
        lead: Some(&strand.lead),
        diameter: strand.diameter,
    });
    tapes.chain(strands).collect()
}

/// One lead of a loom: its name, and how many strands of what diameter, mm.
pub struct Member<'a> {
    /// The lead (its id).
    pub lead: &'a str,
    /// What the installer calls it.
    pub name: &'a str,
    /// How many strands it brings.
    pub count: usize,
    /// Diameter of one, mm.
    pub diameter: f64,
    /// The tape it lies in, by its place among the loom's tapes.
    pub tape: Option<usize>,
}

impl Member<'_> {
    /// `Ø 4.4`, or `12 x Ø 2.4` where it brings several strands.
    pub fn size(&self, figures: Figures) -> String {
        let diameter = figures.bare(self.diameter);
        if self.count > 1 {
            format!("{} x Ø {diameter}", self.count)
        } else {
            format!("Ø {diameter}")
        }
    }
}

/// The leads of a loom, each once, in the order of its strands.
pub fn members(loom: &Loom) -> Vec<Member<'_>> {
    let mut members: Vec<Member> = Vec::new();
    for strand in &loom.strands {
        match members.iter_mut().find(|it| it.lead == strand.lead) {
            Some(member) => member.count += 1,
            None => members.push(Member {
                lead: &strand.lead,
                name: &strand.name,
                count: 1,
                diameter: strand.diameter,
                tape: strand.tape,
            }),
        }
    }
    members
}

/// Its diameter, bare as well where something is wrapped round it.
pub fn diameter(loom: &Loom, figures: Figures) -> String {
    let over = figures.length(loom.diameter);
    if loom.wrap > 0.0 {
        format!("{over} over its wrap, {} bare", figures.length(loom.bare))
    } else {
        over
    }
}

/// A bare diameter by the hand rule.
///
/// * `diameter`: as the rule gives it, mm
pub fn by_hand(diameter: f64, figures: Figures) -> String {
    format!(
        "{} bare (1.2 x root of the sum of d²)",
        figures.length(diameter)
    )
}

/// The size of an exit: `Ø 22 mm`, `30 x 18 mm`.
pub fn exit_size(exit: &Exit, figures: Figures) -> String {
    match &exit.shape {
        ExitShape::Round(diameter) => format!("Ø {}", figures.length(*diameter)),
        ExitShape::Rectangle(size) => {
            format!("{} x {}", figures.bare(size.x), figures.length(size.y))
        }
        ExitShape::Polygon(corners) => {
            let span = |along: fn(&glam::DVec2) -> f64| {
                let (low, high) = (corners.iter().map(along))
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                        (low.min(at), high.max(at))
                    });
                high - low
            };
            let (width, height) = (span(|it| it.x), span(|it| it.y));
            format!(
                "{} corners within {} x {}",
                corners.len(),
                figures.bare(width),
                figures.length(height)
            )
        }
    }
}

/// How much of the exit it takes: `54 %`.
pub fn fill(loom: &Loom) -> String {
    format!("{:.0}\u{a0}%", 100.0 * loom.fill)
}

/// Whether it passes its exit, and why not.
pub fn passes(loom: &Loom, figures: Figures) -> String {
    let growth = loom.at_exit.growth;
    match loom.at_exit.verdict {
        Passes::Yes => side_by_side(&rounds(loom), growth, figures),
        Passes::No(why) => {
            let why = why_not(why, &rounds(loom), figures);
            format!("Does not pass its exit: {why}.")
        }
        Passes::NotFound => format!(
            "No way to lie in its exit was found, and no proof that there is none: \
             in the best place found, {} would have to be {:.0}\u{a0}% thinner.",
            if loom.wrap > 0.0 {
                "the loom"
            } else {
                "every lead"
            },
            (100.0 * (1.0 - growth)).ceil().max(0.0)
        ),
    }
}

fn side_by_side(rounds: &[Round], growth: f64, figures: Figures) -> String {
    if let [one] = rounds {
        let spare = figures.length(one.diameter * (growth - 1.0));
        return format!("Passes its exit as one round, {spare} to spare.");
    }
    match (100.0 * (growth - 1.0)).floor() {
        percent if percent >= 100.0 => {
            "Passes its exit lying side by side, even twice as thick.".to_owned()
        }
        percent if percent >= 1.0 => {
            format!(
                "Passes its exit lying side by side; all of it could be {percent}\u{a0}% thicker."
            )
        }
        _ => "Just passes its exit, lying side by side.".to_owned(),
    }
}

fn why_not(why: WhyNot, rounds: &[Round], figures: Figures) -> String {
    let name = |at: usize| rounds.get(at).map_or("lead", |round| round.name);
    let length = |mm: f64| figures.length(mm);
    match why {
        WhyNot::NoHole => "its corners enclose no hole".to_owned(),
        WhyNot::TooThick {
            lead,
            largest_round,
        } => format!(
            "the {} is {}, the largest round in the exit {}",
            name(lead),
            length(rounds.get(lead).map_or(0.0, |round| round.diameter)),
            length(largest_round)
        ),
        WhyNot::Areas { asks, has } => format!(
            "its leads ask {}, the exit has {}",
            area(asks, figures),
            area(has, figures)
        ),
        WhyNot::TwoLargest {
            leads: [a, b],
            asks,
            has,
        } => format!(
            "the {} and the {} want their middles {} apart, the exit gives {}",
            name(a),
            name(b),
            length(asks),
            length(has)
        ),
        WhyNot::SoManyAlike {
            count,
            diameter,
            most,
        } => format!(
            "{count} leads of {} or more; no more than {most} of them go in",
            length(diameter)
        ),
    }
}

fn area(mm2: f64, figures: Figures) -> String {
    match figures {
        Figures::Millimetres => format!("{mm2:.0} mm²"),
        Figures::Inches => format!("{:.2} sq in", mm2 / (25.4 * 25.4)),
    }
}

/// The least hole and grommet that take it.
pub fn next_hole(loom: &Loom, figures: Figures) -> String {
    let hole = loom
        .next_hole
        .map_or("wider than any hole saw".to_owned(), |hole| {
            let cutter = match hole.cutter {
                Cutter::Drill => "drill",
                Cutter::HoleSaw => "hole saw",
            };
            format!("{} ({cutter})", figures.length(hole.diameter))
        });
    let grommet = next_grommet(loom.diameter).map_or("none so wide".to_owned(), |grommet| {
        format!(
            "{} in a hole of {}",
            figures.length(grommet.bore),
            figures.length(grommet.panel_hole)
        )
    });
    format!("{hole}; grommet: {grommet}")
}

/// How tightly it may bend, and which lead says so.
pub fn bend(loom: &Loom, job: &Job, figures: Figures) -> String {
    let lead = (job.leads.iter())
        .find(|lead| lead.id == loom.bend.lead)
        .map_or(loom.bend.lead.as_str(), |lead| &lead.name);
    format!(
        "no tighter than {} at its middle; the {lead} asks for most",
        figures.length(loom.bend.centreline)
    )
}

/// How thick it is where its lumps are.
pub fn lumps(loom: &Loom, figures: Figures) -> String {
    let thickest = loom.thickest;
    if thickest.together <= loom.diameter + 1e-9 {
        return "no lump makes it thicker".to_owned();
    }
    format!(
        "{} thick as its lumps lie; {} with lumps staggered, {} with all at one place",
        figures.length(thickest.as_they_lie),
        figures.length(thickest.staggered),
        figures.length(thickest.together)
    )
}

//! What is cut and what stays, in sentences.

use geometry::stiffness::{Figure, Kept};
use geometry::trimming::{
    Account, CornerStress, NotchAccount, RibKept, StripRoom, TrimOutcome, TrimStep, carried_out,
    faults,
};
use geometry::{Acts, Edge, Job, Reading, Stop, Strip, Trim};

use super::with_article;
use crate::figures::Figures;

/// Stiffness is shown in steps of this share.
const STEP: f64 = 0.05;

/// The least cut for one proud, as a sentence.
pub fn headline(step: &TrimStep, accounts: &[Account], figures: Figures) -> String {
    let proud = figures.length(step.proud);
    match step.outcome {
        TrimOutcome::NothingToCut if step.proud <= 0.0 => {
            "Seats flush as it is: nothing to cut.".to_owned()
        }
        TrimOutcome::NothingToCut => format!("Goes in {proud} proud as it is: nothing to cut."),
        TrimOutcome::Cut | TrimOutcome::CutWithStrips => {
            let names: Vec<String> = accounts.iter().map(|it| with_article(&it.name)).collect();
            let seats = match step.proud <= 0.0 {
                true => "Seats flush".to_owned(),
                false => format!("Goes in {proud} proud"),
            };
            let removed = volume(step.removed_mm3);
            let needs = match step.outcome {
                TrimOutcome::CutWithStrips => format!(" {}", needs_strips(accounts)),
                _ => String::new(),
            };
            let names = names.join(" and ");
            format!("{seats} with {removed} cut from {names}.{needs}")
        }
        TrimOutcome::TooWeak => format!(
            "No cut found at {proud} proud that leaves its rib as stiff as the shop asks for, with doubler strips or without."
        ),
        TrimOutcome::NoCutHelps => {
            let why = step.stopped_by.first();
            let why = why.map_or(String::new(), |stop| format!(": {}", held(stop)));
            format!(
                "No cut brings it to {proud} proud; at least {} whatever is cut{why}.",
                figures.length(step.lower_bound)
            )
        }
        TrimOutcome::NoWayFound => {
            let left = step.left_over.first();
            let left = left.map_or(String::new(), |left| format!(" for the {}", left.name));
            format!(
                "No way found{left} at {proud} proud, though all that may be cut was opened; at least {} proud.",
                figures.length(step.lower_bound)
            )
        }
        TrimOutcome::Stopped => format!("Stopped before {proud} proud was looked at to its end."),
    }
}

/// Whether everything goes in with notches drawn by hand.
///
/// * `at`: the least proud looked at where everything holds, mm
/// * `looked_to`: the furthest proud looked at, mm
pub fn fitted(at: Option<f64>, looked_to: f64, figures: Figures) -> String {
    match at {
        Some(proud) if proud <= 0.0 => {
            "Seats flush with these notches, every lead laid.".to_owned()
        }
        Some(proud) => format!(
            "Not flush with these notches, but {} proud every lead is laid.",
            figures.length(proud)
        ),
        None if looked_to <= 0.0 => "No way found to seat it flush with these notches.".to_owned(),
        None => format!(
            "No way found with these notches, neither flush nor {} proud.",
            figures.length(looked_to)
        ),
    }
}

/// "Needs a doubler strip over what is left of the rear cross rib: ..."
fn needs_strips(accounts: &[Account]) -> String {
    let strengthened = accounts.iter().filter(|it| it.without_strips.is_some());
    let names: Vec<String> = strengthened.map(|it| with_article(&it.name)).collect();
    format!(
        "Needs a doubler strip over what is left of {}: without one, no cut was found that holds and leaves it stiff enough.",
        names.join(" and of ")
    )
}

/// "the main plug is held by the data module"
fn held(stop: &Stop) -> String {
    format!(
        "the {} is held by {}",
        stop.piece,
        with_article(&stop.against)
    )
}

/// "0.52 cm3", "under 0.01 cm3"
pub fn volume(mm3: f64) -> String {
    match 0.001 * mm3 {
        cm3 if cm3 > 0.0 && cm3 < 0.005 => "under 0.01 cm3".to_owned(),
        cm3 => format!("{cm3:.2} cm3"),
    }
}

/// "from the lower edge, 33 to 55 across, 9 mm deep, corners R 4"
pub fn notch(job: &Job, rib: &str, notch: &NotchAccount, figures: Figures) -> String {
    let corners = match notch.radius > 0.0 {
        true => format!("corners R {}", figures.bare(notch.radius)),
        false => "sharp corners".to_owned(),
    };
    format!(
        "from the {} edge, {} to {} {}, {} deep, {corners}",
        notch.edge.word(),
        figures.bare(notch.along[0]),
        figures.bare(notch.along[1]),
        axis(job, rib, notch.edge),
        figures.length(notch.depth),
    )
}

/// Whether the shop's tool gets at a notch; what is in its way when not.
pub fn reach(job: &Job, trim: &Trim) -> String {
    let tool = &job.cutting.tool;
    match geometry::trimming::reach(job, trim, tool) {
        Ok(_) => format!(
            "the {} gets at it through the opening, the unit out",
            tool.name
        ),
        Err(unreachable) => format!("the {} does not get at it: {unreachable}", tool.name),
    }
}

/// The axis that an edge of a rib runs along, as the installer says it.
pub fn axis(job: &Job, rib: &str, edge: Edge) -> &'static str {
    let obstacle = job.cavity.obstacles.iter().find(|it| it.id == rib);
    let face = obstacle
        .and_then(|it| geometry::trimming::RibFace::new(it, geometry::Reading::Nominal).ok());
    match (face.map(|face| face.plane), edge) {
        (Some(geometry::Plane::DepthUp), Edge::Lower | Edge::Upper) => "deep",
        (Some(geometry::Plane::AcrossDepth), Edge::Left | Edge::Right) => "deep",
        (_, Edge::Left | Edge::Right) => "up",
        (Some(geometry::Plane::DepthUp), Edge::Near | Edge::Far) => "up",
        _ => "across",
    }
}

/// A share of stiffness as shown on the main screen: to 5 %, never up to all.
pub fn share(value: f64) -> String {
    let steps = (value / STEP + 1e-9).floor() * STEP;
    format!("{:.0} %", 100.0 * steps.clamp(0.0, 1.0))
}

/// "keeps about 75 % of its stiffness pushed at its middle, 60 % at the notch,
/// 65 % under what hangs on it"
pub fn kept(kept: &RibKept) -> String {
    let centre = kept.centre().map(|it| share(it.value));
    let at_notch = kept.at_notch().map(|it| share(it.value));
    let own = match (&kept.own, kept.own()) {
        (Some(Ok(_)), Some(own)) => format!(", {} under what hangs on it", share(own.value)),
        (Some(Err(fault)), _) => format!("; no figure for what hangs on it: {fault}"),
        _ => String::new(),
    };
    match (centre, at_notch) {
        (Some(centre), Some(at_notch)) => format!(
            "keeps about {centre} of its stiffness pushed at its middle, {at_notch} at the notch{own}"
        ),
        (Some(one), None) | (None, Some(one)) => {
            format!("keeps about {one} of its stiffness{own}")
        }
        (None, None) => format!("no figure for its stiffness{own}"),
    }
}

/// "0.21 cm3 gone; keeps about 90 % of its stiffness"
pub fn gone_and_kept(account: &Account) -> String {
    let gone = format!("{} gone", volume(account.removed_volume));
    let judged = account.kept.as_ref().ok().and_then(RibKept::judged);
    let weak = if account.weak.is_some() {
        ", too weak"
    } else {
        ""
    };
    match judged {
        Some(figure) => format!(
            "{gone}; keeps about {} of its stiffness{weak}",
            share(figure.value)
        ),
        None => format!("{gone}; no figure for its stiffness"),
    }
}

/// The strips bonded over notches of a rib, where they have room, and what it
/// keeps without them.
///
/// * `rooms`: where strips have room; `None` where not everything was laid
pub fn strips(
    job: &Job,
    account: &Account,
    rooms: Option<&[StripRoom]>,
    figures: Figures,
) -> Vec<String> {
    let Some(without) = &account.without_strips else {
        return Vec::new();
    };
    let all = job.trims.iter().enumerate();
    let own = all.filter(|(_, trim)| trim.rib == account.rib);
    let mut lines = Vec::new();
    for (number, trim) in own {
        let Some(strip) = &trim.doubler else { continue };
        lines.push(format!(
            "needs a doubler strip, {} over what is left beside {} to {}",
            strip_size(strip, figures),
            figures.bare(trim.along[0]),
            figures.bare(trim.along[1])
        ));
        let room = rooms.and_then(|rooms| rooms.iter().find(|it| it.trim == number));
        lines.push(strip_room(room, figures));
    }
    lines.push(format!("without a strip it {}", kept(without)));
    lines
}

/// "it has room on the far face", or what is in its way.
fn strip_room(room: Option<&StripRoom>, figures: Figures) -> String {
    match room.map(|room| &room.face) {
        Some(Ok(face)) => format!("the strip has room on the {} face of the rib", face.word()),
        Some(Err(blocked)) => format!(
            "the strip has no room on either face of the rib: {} is {} too near",
            with_article(&blocked.against),
            figures.length(blocked.short)
        ),
        None => "whether the strip has room on a face of the rib was not looked at: bond it where nothing passes".to_owned(),
    }
}

/// "3 mm thick, 25 mm high, 30 mm beyond each side"
pub fn strip_size(strip: &Strip, figures: Figures) -> String {
    format!(
        "{} thick, {} high, {} beyond each side,",
        figures.length(strip.thickness),
        figures.length(strip.height),
        figures.length(strip.lap)
    )
}

/// Exact figures with their errors, push by push, and the hand check.
pub fn details(job: &Job, account: &Account, kept: &RibKept) -> Vec<String> {
    let mut lines = vec![exact("pushed at its middle", &kept.centre)];
    for (number, at_notch) in kept.at_notch.iter().enumerate() {
        lines.push(exact(&format!("pushed at notch {}", number + 1), at_notch));
    }
    if let Some(Ok(own)) = &kept.own {
        let loads = job.rib_loads.iter().filter(|it| it.rib == account.rib);
        let loads: Vec<String> = loads
            .map(|it| format!("{} N {} at {} mm", it.force, it.acts.word(), it.along))
            .collect();
        lines.push(exact(&format!("under {}", loads.join(", ")), own));
    }
    lines.extend(strip_rule(kept));
    lines
}

/// "pushed at its middle: in its plane 70.1 ± 0.2 %, square to it 91.3 ± 0.1 %"
fn exact(push: &str, kept: &Kept) -> String {
    let figure = |word: &str, figure: Option<Figure>| {
        let Figure { value, error } = figure?;
        // An error is never shown as none.
        let error = (1000.0 * error).ceil().max(1.0) / 10.0;
        Some(format!("{word} {:.1} ± {error:.1} %", 100.0 * value))
    };
    let both = [
        figure(Acts::InPlane.word(), kept.in_plane),
        figure(Acts::OutOfPlane.word(), kept.out_of_plane),
    ];
    let both: Vec<String> = both.into_iter().flatten().collect();
    format!("{push}: {}", both.join(", "))
}

/// "corners of notch 1, R 4 mm: stress 2.1 times that of a plain beam as high as what is left"
pub fn corner(corner: &CornerStress, figures: Figures) -> String {
    let of = format!("corners of notch {}", corner.notch + 1);
    let radius = figures.length(corner.radius);
    match &corner.rise {
        None => format!("{of} are sharp: stress there knows no bound; drill them"),
        Some(Err(fault)) => format!("{of}, R {radius}: no figure for their stress: {fault}"),
        Some(Ok(rise)) => match (rise.factor(), rise.nominal) {
            (Some(factor), Some(nominal)) => format!(
                "{of}, R {radius}: stress {factor:.1} ± {:.1} times that of a plain beam as high as what is left, pushed at the notch",
                ((10.0 * rise.error / nominal.abs()).ceil() / 10.0).max(0.1)
            ),
            _ => format!(
                "{of}, R {radius}: stress {:.2} ± {:.2} MPa for 1 N pushed at the notch",
                rise.peak.abs(),
                ((100.0 * rise.error).ceil() / 100.0).max(0.01)
            ),
        },
    }
}

/// What the notches of a job are and come to, for a list: rib, place, size,
/// volume, stiffness; those that are not carried out with the reason.
pub fn listed(job: &Job, figures: Figures) -> Vec<String> {
    let mut lines = Vec::new();
    for account in geometry::trimming::accounts(job) {
        for it in &account.notches {
            let notch = notch(job, &account.rib, it, figures);
            lines.push(format!("{}: notch {notch}", account.name));
        }
        let kept = match &account.kept {
            Ok(kept) => self::kept(kept),
            Err(fault) => format!("no figure for its stiffness: {fault}"),
        };
        let gone = volume(account.removed_volume);
        lines.push(format!("{}: {gone} gone; {kept}", account.name));
        lines.extend(strips(job, &account, None, figures));
        lines.extend(account.weak.map(|weak| format!("too weak: {weak}")));
    }
    let cut = carried_out(job);
    for (number, trim) in job.trims.iter().enumerate() {
        if !cut.iter().any(|it| std::ptr::eq(*it, trim)) {
            let name = job.cavity.obstacles.iter().find(|it| it.id == trim.rib);
            let name = name.map_or(trim.rib.as_str(), |it| it.name.as_str());
            let faults = faults(job, number, Reading::Nominal);
            let why: Vec<String> = faults.iter().map(ToString::to_string).collect();
            lines.push(format!(
                "{name}: the notch from {} to {} counts as not there: {}",
                figures.bare(trim.along[0]),
                figures.bare(trim.along[1]),
                why.join("; ")
            ));
        }
    }
    if !cut.is_empty() {
        lines.push(COMPARES.to_owned());
    }
    lines
}

/// The hand check beside it: "strip rule 76 % and 55 %: it leaves out shear and the dead
/// corners beside a notch".
pub fn strip_rule(kept: &RibKept) -> Option<String> {
    let centre = kept.centre.strip?;
    let at_notch = kept.at_notch.iter().filter_map(|it| it.strip);
    let least = at_notch.fold(f64::INFINITY, f64::min);
    let percent = |value: f64| format!("{:.0} %", 100.0 * value);
    let both = match least.is_finite() {
        true => format!("{} and {}", percent(centre), percent(least)),
        false => percent(centre),
    };
    Some(format!(
        "hand check by the strip rule: {both}; it takes the corners beside a notch for sound, which carry nothing"
    ))
}

/// What stands beside every figure of stiffness.
pub const COMPARES: &str =
    "Stiffness compares the rib as cut with the rib whole; it proves no strength.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_rounded_down_to_5_percent() {
        assert_eq!(share(0.7), "70 %");
        assert_eq!(share(0.749), "70 %");
        assert_eq!(share(1.0), "100 %");
        assert_eq!(share(0.999), "95 %");
    }

    #[test]
    fn small_volumes_are_not_nothing() {
        assert_eq!(volume(3.0), "under 0.01 cm3");
        assert_eq!(volume(0.0), "0.00 cm3");
        assert_eq!(volume(520.0), "0.52 cm3");
    }
}

//! What is cut out of each rib, as `check --json` and `trim --json` carry it.

use geometry::trimming::{Account, NotchAccount, RibKept};
use serde::Serialize;

/// What is cut out of one rib, and what it keeps.
#[derive(Debug, Serialize)]
pub struct TrimsAnswer {
    rib: String,
    removed_cm3: f64,
    removed_mm2: f64,
    removed_share: f64,
    web_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    stiffness_kept: Option<KeptAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    strip_rule: Option<KeptAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    no_stiffness: Option<String>,
    too_weak: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    with_doubler: Option<DoublerAnswer>,
    notches: Vec<NotchAnswer>,
    outline: Vec<[f64; 3]>,
}

#[derive(Debug, Serialize)]
struct KeptAnswer {
    centre: Option<f64>,
    at_notch: Option<f64>,
    least: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<f64>,
}

#[derive(Debug, Serialize)]
struct DoublerAnswer {
    strips: Vec<StripAnswer>,
    stiffness_kept: KeptAnswer,
    enough: bool,
}

#[derive(Debug, Serialize)]
struct StripAnswer {
    notch: usize,
    thickness_mm: f64,
    height_mm: f64,
    lap_mm: f64,
    e_modulus_mpa: f64,
}

#[derive(Debug, Serialize)]
struct NotchAnswer {
    edge: &'static str,
    along_mm: [f64; 2],
    depth_mm: f64,
    radius_mm: f64,
    removed_mm2: f64,
    web_mm: f64,
    line: Vec<[f64; 3]>,
}

/// Each rib that is cut.
pub fn trims(accounts: &[Account]) -> Vec<TrimsAnswer> {
    accounts.iter().map(trim).collect()
}

fn trim(account: &Account) -> TrimsAnswer {
    let kept = account.kept.as_ref();
    TrimsAnswer {
        rib: account.rib.clone(),
        removed_cm3: 0.001 * account.removed_volume,
        removed_mm2: account.removed_area,
        removed_share: account.share,
        web_mm: account.web,
        stiffness_kept: kept.ok().map(by_elements),
        strip_rule: kept.ok().and_then(by_strip),
        no_stiffness: kept.err().map(ToString::to_string),
        too_weak: account.weak.is_some(),
        with_doubler: account.doublers.as_ref().map(|it| DoublerAnswer {
            strips: (it.strips.iter())
                .map(|(notch, strip)| StripAnswer {
                    notch: notch + 1,
                    thickness_mm: strip.thickness,
                    height_mm: strip.height,
                    lap_mm: strip.lap,
                    e_modulus_mpa: strip.modulus,
                })
                .collect(),
            stiffness_kept: by_elements(&it.kept),
            enough: it.enough,
        }),
        notches: account.notches.iter().map(notch).collect(),
        outline: account.outline.iter().map(|at| at.to_array()).collect(),
    }
}

fn notch(notch: &NotchAccount) -> NotchAnswer {
    NotchAnswer {
        edge: notch.edge.word(),
        along_mm: notch.along,
        depth_mm: notch.depth,
        radius_mm: notch.radius,
        removed_mm2: notch.area,
        web_mm: notch.web,
        line: notch.line.iter().map(|at| at.to_array()).collect(),
    }
}

fn by_elements(kept: &RibKept) -> KeptAnswer {
    KeptAnswer {
        centre: kept.centre().map(|it| it.value),
        at_notch: kept.at_notch().map(|it| it.value),
        least: kept.least().map(|it| it.value),
        error: kept.least().map(|it| it.error),
    }
}

fn by_strip(kept: &RibKept) -> Option<KeptAnswer> {
    let centre = kept.centre.strip?;
    let at_notch = kept.at_notch.iter().filter_map(|it| it.strip);
    let at_notch = at_notch.fold(f64::INFINITY, f64::min);
    Some(KeptAnswer {
        centre: Some(centre),
        at_notch: at_notch.is_finite().then_some(at_notch),
        least: Some(centre.min(at_notch)),
        error: None,
    })
}

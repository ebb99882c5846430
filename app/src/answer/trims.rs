//! What is cut out of ribs, for `check --json` and others.

use geometry::Reading;
use geometry::job::{Acts, Job, RibLoad, Strip, Trim};
use geometry::stiffness::{Figure, Kept};
use geometry::trimming::{
    Account, CornerStress, Doublers, NotchAccount, RibKept, TabOff, TrimFault, accounts,
    carried_out, corner_stress, faults, tabs_off,
};
use glam::DVec3;
use serde::Serialize;
use serde_json::{Value, json};

use super::plain::edge_word;

/// The notches of one rib: what they take, what it keeps.
#[derive(Clone, Debug, Serialize)]
pub struct TrimAnswer {
    rib: String,
    name: String,
    removed_cm3: f64,
    removed_mm2: f64,
    /// Share of the whole face.
    removed_share: f64,
    web_mm: f64,
    /// Absent when there is no figure; `no_figure` then says why.
    #[serde(skip_serializing_if = "Option::is_none")]
    stiffness_kept: Option<StiffnessAnswer>,
    #[serde(skip_serializing_if = "Option::is_none")]
    no_figure: Option<String>,
    /// Whether it keeps less than the shop asks for.
    too_weak: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    doublers: Option<DoublersAnswer>,
    /// What it would keep without the strips that its notches have.
    #[serde(skip_serializing_if = "Option::is_none")]
    stiffness_without_strips: Option<StiffnessAnswer>,
    /// The rib as cut, in the middle of its thickness.
    outline: Vec<[f64; 3]>,
    notches: Vec<NotchAnswer>,
    /// Rules that its notches break.
    faults: Vec<String>,
}

/// Shares of the whole rib's stiffness, 0 to 1.
#[derive(Clone, Debug, Serialize)]
struct StiffnessAnswer {
    /// Pushed in its plane at the middle of its length, by elements.
    centre: Option<f64>,
    /// Pushed in its plane at a notch, the least.
    at_notch: Option<f64>,
    /// The least of all pushes, in its plane and square to it.
    least: Option<f64>,
    /// How far `centre` may be off.
    error: Option<f64>,
    /// Square to its plane.
    out_of_plane: [Option<f64>; 2],
    /// The strip rule, the check by hand, in the plane.
    strip: [Option<f64>; 2],
    /// Under what hangs on it, where anything does.
    #[serde(skip_serializing_if = "Option::is_none")]
    own_loads: Option<Value>,
}

#[derive(Clone, Debug, Serialize)]
struct DoublersAnswer {
    strips: Vec<Value>,
    stiffness_kept: StiffnessAnswer,
    enough: bool,
}

#[derive(Clone, Debug, Serialize)]
struct NotchAnswer {
    edge: &'static str,
    along_mm: [f64; 2],
    depth_mm: f64,
    radius_mm: f64,
    removed_mm2: f64,
    web_mm: f64,
    /// The line to cut along, foot to foot.
    line: Vec<[f64; 3]>,
    /// The strip bonded over it.
    #[serde(skip_serializing_if = "Option::is_none")]
    doubler: Option<Value>,
    /// How stress rises at its corners, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    corner_stress: Option<Value>,
}

impl TrimAnswer {
    /// Every rib of a job that its own notches cut.
    pub fn all(job: &Job) -> Vec<TrimAnswer> {
        TrimAnswer::of(job, &accounts(job))
    }

    /// The same from what its notches are known to come to.
    pub fn of(job: &Job, accounts: &[Account]) -> Vec<TrimAnswer> {
        let of = |account: &Account| {
            let faults = faults_of(job, &account.rib);
            let mut answer = TrimAnswer::new(account, &faults);
            let cut = carried_out(job).into_iter();
            let own = cut.filter(|trim| trim.rib == account.rib);
            for (notch, trim) in answer.notches.iter_mut().zip(own) {
                notch.doubler = trim.doubler.as_ref().map(strip);
            }
            answer
        };
        accounts.iter().map(of).collect()
    }

    /// The same with the stress at the corners of every notch.
    pub fn with_corners(job: &Job, accounts: &[Account]) -> Vec<TrimAnswer> {
        let mut all = TrimAnswer::of(job, accounts);
        for answer in &mut all {
            for corner in corner_stress(job, &answer.rib).unwrap_or_default() {
                answer.notches[corner.notch].corner_stress = Some(corner_answer(&corner));
            }
        }
        all
    }

    /// One rib.
    ///
    /// * `faults`: the rules that its notches break, in words
    pub fn new(account: &Account, faults: &[String]) -> TrimAnswer {
        let kept = account.kept.as_ref();
        let mut faults = faults.to_vec();
        faults.extend(account.weak.as_ref().map(TrimFault::to_string));
        TrimAnswer {
            rib: account.rib.clone(),
            name: account.name.clone(),
            removed_cm3: 0.001 * account.removed_volume,
            removed_mm2: account.removed_area,
            removed_share: account.share,
            web_mm: account.web,
            stiffness_kept: kept.ok().map(StiffnessAnswer::new),
            no_figure: kept.err().map(ToString::to_string),
            too_weak: account.weak.is_some(),
            doublers: account.doublers.as_ref().map(DoublersAnswer::new),
            stiffness_without_strips: account.without_strips.as_ref().map(StiffnessAnswer::new),
            outline: points(&account.outline),
            notches: account.notches.iter().map(NotchAnswer::new).collect(),
            faults,
        }
    }
}

/// The rules that the notches of one rib break, each with its place.
fn faults_of(job: &Job, rib: &str) -> Vec<String> {
    let own = job.trims.iter().enumerate().filter(|(_, it)| it.rib == rib);
    own.flat_map(|(number, trim)| {
        let [from, to] = trim.along;
        let word = trim.edge.word();
        (faults(job, number, Reading::Nominal).into_iter())
            .map(move |fault| format!("{word} edge, {from} to {to}: {fault}"))
    })
    .collect()
}

impl StiffnessAnswer {
    fn new(kept: &RibKept) -> StiffnessAnswer {
        let value = |figure: Option<Figure>| figure.map(|it| it.value);
        let least = |of: &dyn Fn(&Kept) -> Option<f64>| {
            let at_notches = kept.at_notch.iter().filter_map(of);
            [of(&kept.centre), at_notches.min_by(f64::total_cmp)]
        };
        StiffnessAnswer {
            centre: value(kept.centre()),
            at_notch: value(kept.at_notch()),
            least: value(kept.least()),
            error: kept.centre().map(|it| it.error),
            out_of_plane: least(&|it| it.out_of_plane.map(|it| it.value)),
            strip: least(&|it| it.strip),
            own_loads: kept.own.as_ref().map(|own| match own {
                Ok(own) => json!({
                    "in_plane": figure_answer(own.in_plane),
                    "out_of_plane": figure_answer(own.out_of_plane),
                    "strip": own.strip,
                }),
                Err(fault) => json!({ "no_figure": fault.to_string() }),
            }),
        }
    }
}

impl DoublersAnswer {
    fn new(doublers: &Doublers) -> DoublersAnswer {
        let strip = |(number, strip): &(usize, Strip)| json!({ "notch": number, "strip": self::strip(strip) });
        DoublersAnswer {
            strips: doublers.strips.iter().map(strip).collect(),
            stiffness_kept: StiffnessAnswer::new(&doublers.kept),
            enough: doublers.enough,
        }
    }
}

impl NotchAnswer {
    fn new(notch: &NotchAccount) -> NotchAnswer {
        NotchAnswer {
            edge: edge_word(notch.edge),
            along_mm: notch.along,
            depth_mm: notch.depth,
            radius_mm: notch.radius,
            removed_mm2: notch.area,
            web_mm: notch.web,
            line: points(&notch.line),
            doubler: None,
            corner_stress: None,
        }
    }
}

fn figure_answer(figure: Option<Figure>) -> Value {
    figure.map_or(
        Value::Null,
        |it| json!({ "value": it.value, "error": it.error }),
    )
}

/// Stress at the corners of a notch, for 1 N at its middle.
fn corner_answer(corner: &CornerStress) -> Value {
    match &corner.rise {
        None => json!({ "radius_mm": corner.radius, "no_figure": "sharp corners" }),
        Some(Err(fault)) => {
            json!({ "radius_mm": corner.radius, "no_figure": fault.to_string() })
        }
        Some(Ok(rise)) => json!({
            "radius_mm": corner.radius,
            "factor": rise.factor(),
            "peak_mpa_per_n": rise.peak.abs(),
            "error_mpa_per_n": rise.error,
            "nominal_mpa_per_n": rise.nominal.map(f64::abs),
        }),
    }
}

fn points(points: &[DVec3]) -> Vec<[f64; 3]> {
    points.iter().map(DVec3::to_array).collect()
}

fn strip(strip: &Strip) -> Value {
    json!({
        "thickness_mm": strip.thickness, "height_mm": strip.height, "lap_mm": strip.lap,
        "e_modulus_mpa": strip.modulus,
    })
}

/// Every notch of a job as its file states it, for the plain job.
pub(super) fn as_stated(job: &Job) -> Vec<Value> {
    let cut = carried_out(job);
    let stated = |trim: &Trim| {
        json!({
            "rib": trim.rib, "edge": edge_word(trim.edge), "along_mm": trim.along,
            "depth_mm": trim.depth, "radius_mm": trim.radius, "locked": trim.locked,
            "doubler": trim.doubler.as_ref().map(strip),
            "carried_out": cut.iter().any(|it| std::ptr::eq(*it, trim)),
        })
    };
    job.trims.iter().map(stated).collect()
}

/// What hangs on obstacles, for the plain job.
pub(super) fn rib_loads(job: &Job) -> Vec<Value> {
    let stated = |load: &RibLoad| {
        let acts = match load.acts {
            Acts::InPlane => "in_plane",
            Acts::OutOfPlane => "out_of_plane",
        };
        json!({ "rib": load.rib, "along_mm": load.along, "acts": acts, "force_n": load.force })
    };
    job.rib_loads.iter().map(stated).collect()
}

/// How the shop cuts, for the plain job.
pub(super) fn cutting(job: &Job) -> Value {
    let cutting = &job.cutting;
    let tool = &cutting.tool;
    json!({
        "tool": {
            "name": tool.name, "shank_mm": tool.shank.to_array(), "reach_mm": tool.reach,
            "kerf_mm": tool.kerf, "blade_mm": tool.blade.to_array(), "behind_mm": tool.behind,
        },
        "stop_hole_mm": cutting.stop_hole, "edge_trim_mm": cutting.edge_trim,
        "snap_mm": cutting.snap, "keep_stiffness": cutting.keep_stiffness,
        "ask_agreed": cutting.asked, "left_alone": cutting.left_alone,
        "strip": strip(&cutting.strip),
    })
}

/// Tabs of the mount that come off.
#[derive(Clone, Debug, Serialize)]
pub struct TabAnswer {
    tab: String,
    name: String,
    stub_mm: f64,
    root_mm2: f64,
    removed_cm3: f64,
}

impl TabAnswer {
    /// Every one of a job.
    pub fn all(job: &Job) -> Vec<TabAnswer> {
        tabs_off(job).iter().map(TabAnswer::new).collect()
    }

    fn new(tab: &TabOff) -> TabAnswer {
        TabAnswer {
            tab: tab.id.clone(),
            name: tab.name.clone(),
            stub_mm: tab.stub,
            root_mm2: tab.root_area,
            removed_cm3: 0.001 * tab.removed_volume,
        }
    }
}

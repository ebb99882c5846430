//! What hangs on obstacles.

use geometry::trimming::RibFace;
use geometry::{Cavity, Cut, Obstacle, Reading, RibLoad};

use super::findings::{Field, Findings, Range};
use super::names::check_known;
use crate::problem::quoted;
use crate::schema::{JobFile, RibLoadFile};

/// Greatest load, N: what some 200 kg weigh; no dash bears more.
const MOST: f64 = 2000.0;

/// Every load of the job in plain numbers.
pub(super) fn rib_loads(file: &JobFile, cavity: &Cavity, findings: &mut Findings) -> Vec<RibLoad> {
    let loads = file.rib_loads.iter().enumerate();
    loads
        .map(|(index, load)| rib_load(load, &Field::top("rib_loads").item(index), cavity, findings))
        .collect()
}

fn rib_load(file: &RibLoadFile, at: &Field, cavity: &Cavity, findings: &mut Findings) -> RibLoad {
    let ids = cavity.obstacles.iter().map(|it| it.id.as_str());
    check_known(&file.rib, ids, "obstacle", &at.key("rib"), findings);
    let what = format!("place of the load on {}", file.rib);
    let along = findings.plain(&file.along, &at.key("along"), &what, Range::COORDINATE);
    let force = file.force_n;
    if !force.is_finite() || force.abs() > MOST || force == 0.0 {
        findings.error(
            &at.key("force_n"),
            format!("{force}"),
            format!("-{MOST} to {MOST} N, but not 0"),
        );
    }
    let rib = cavity.obstacles.iter().find(|it| it.id == file.rib);
    if let Some(rib) = rib {
        check_rib(rib, along, at, findings);
    }
    RibLoad {
        rib: file.rib.clone(),
        along,
        acts: file.acts.into(),
        force,
    }
}

/// A load acts on something flat, between its ends; on what is never cut it
/// counts for nothing.
fn check_rib(rib: &Obstacle, along: f64, at: &Field, findings: &mut Findings) {
    let Ok(face) = RibFace::new(rib, Reading::Nominal) else {
        let found = format!("{}: it is not a flat part", quoted(&rib.id));
        findings.error(&at.key("rib"), found, "a flat obstacle");
        return;
    };
    if *rib.cut() == Cut::Never {
        let found = format!(
            "{}: it is never cut, so nothing is computed from it",
            quoted(&rib.id)
        );
        findings.warning(
            &at.key("rib"),
            found,
            "an obstacle whose cut is allowed or ask",
        );
    }
    let [low, high] = face.bounds().map(|corner| corner.x);
    if !(low..=high).contains(&along) {
        let allowed = format!(
            "{low} to {high} mm, between the ends of {}",
            quoted(&rib.id)
        );
        findings.error(&at.key("along"), format!("{along}"), allowed);
    }
}

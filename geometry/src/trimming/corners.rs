//! How stress rises at the corners of notches: for details, never for a search.

use super::account::RibBook;
use super::face::FaceFault;
use super::fault::TrimFault;
use super::rules::carried_out;
use crate::job::{Job, Trim};
use crate::stiffness::{Load, RibFault, StressRise};

/// Corners of a smaller radius count as sharp, mm.
const SHARP: f64 = 0.25;

/// How stress rises at the corners of one notch.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerStress {
    /// The number of the notch among those of its rib that are carried out.
    pub notch: usize,
    /// Radius of its corners, mm.
    pub radius: f64,
    /// With 1 N at the middle of the notch, in the plane of the rib; `None` at
    /// sharp corners, where stress knows no bound; or why there is no figure.
    pub rise: Option<Result<StressRise, RibFault>>,
}

/// How stress rises at the corners of every notch of a rib that is carried out.
///
/// # Errors
/// A [`TrimFault`] that holds for every notch of the rib.
pub fn corner_stress(job: &Job, rib: &str) -> Result<Vec<CornerStress>, TrimFault> {
    let trims: Vec<&Trim> = (carried_out(job).into_iter())
        .filter(|trim| trim.rib == rib)
        .collect();
    let book = RibBook::new(job, rib)?;
    (0..trims.len())
        .map(|notch| {
            let radius = book.radius(trims[notch]).map_err(TrimFault::Shape)?;
            let rise = (radius >= SHARP)
                .then(|| book.stress(&trims, notch, &Load::AtNotch(notch)))
                .map(|rise| match rise {
                    Ok(rise) => Ok(Ok(rise)),
                    Err(FaceFault::Rib(fault)) => Ok(Err(fault)),
                    Err(other) => Err(TrimFault::Shape(other)),
                })
                .transpose()?;
            Ok(CornerStress {
                notch,
                radius,
                rise,
            })
        })
        .collect()
}

//! Which leads leave the cavity together.

use crate::job::{Exit, Job, Lead, LeadEnd, LeadStart, Makeup, Module, ModulePlace, Taped};

/// The leads of one exit, in the order of the job.
pub(super) struct Bundle<'a> {
    pub exit: &'a Exit,
    pub leads: Vec<&'a Lead>,
    makeup: Option<&'a Makeup>,
}

impl<'a> Bundle<'a> {
    /// Thickness of what is wrapped round the whole, mm.
    pub fn wrap(&self) -> f64 {
        self.makeup.map_or(0.0, |makeup| makeup.wrap)
    }

    /// What is taped first, in the order of the job.
    pub fn taped(&self) -> &'a [Taped] {
        self.makeup.map_or(&[], |makeup| &makeup.taped)
    }
}

/// The leads of every exit that any leaves by, in the order of the exits.
pub(super) fn bundles(job: &Job) -> Vec<Bundle<'_>> {
    let leads_of = |exit: &Exit| -> Vec<&Lead> {
        (job.leads.iter())
            .filter(|lead| leaves_by(job, lead).contains(&exit.id.as_str()))
            .collect()
    };
    (job.cavity.exits.iter())
        .map(|exit| Bundle {
            exit,
            leads: leads_of(exit),
            makeup: job.makeups.iter().find(|makeup| makeup.exit == exit.id),
        })
        .filter(|bundle| !bundle.leads.is_empty())
        .collect()
}

/// The exits (their ids) that a lead passes, from its plug to its end.
///
/// A module is outside the cavity when every place it may go to is a space
/// behind one and the same exit; a lead from the unit to it then passes that
/// exit. Two modules behind one exit have their lead outside. Where a module
/// might be on either side, its lead counts as inside.
pub fn leaves_by<'a>(job: &'a Job, lead: &'a Lead) -> Vec<&'a str> {
    let from = match &lead.from {
        LeadStart::Socket(_) => None,
        LeadStart::Module(id) => behind(job, id),
    };
    let to = match &lead.end {
        LeadEnd::Exit(id) => Some(id.as_str()),
        LeadEnd::Module(id) => behind(job, id),
        LeadEnd::FactoryPlug(_) => None,
    };
    if from == to {
        return Vec::new();
    }
    from.into_iter().chain(to).collect()
}

/// The exit that a module is certain to be behind.
fn behind<'a>(job: &'a Job, module: &str) -> Option<&'a str> {
    let module: &Module = job.modules.iter().find(|it| it.id == module)?;
    let ModulePlace::Movable(places) = &module.place else {
        return None;
    };
    let exit_of = |place: &String| {
        let space = job.cavity.spaces.iter().find(|space| space.id == *place)?;
        Some(space.exit.as_str())
    };
    let first = exit_of(places.first()?)?;
    (places.iter())
        .all(|place| exit_of(place) == Some(first))
        .then_some(first)
}

//! Changes of how a loom is made up.

use profiles::schema::{JobFile, LoomFile, PartUse, TapedFile, WrapPart};

/// A change of how the loom of one exit is made up.
#[derive(Clone, Debug, PartialEq)]
pub enum LoomEdit {
    /// What goes round the whole.
    Wrap(Option<PartUse<WrapPart>>),
    /// Leads (their ids) taped together, with what; they leave the tapes they were in.
    Tape(Vec<String>, Option<PartUse<WrapPart>>),
    /// The tape that holds this lead is taken off.
    Untape(String),
}

impl LoomEdit {
    /// Carries it out on the loom of an exit.
    pub fn apply(self, exit: &str, job: &mut JobFile) {
        let at = (job.looms.iter().position(|loom| loom.exit == exit)).unwrap_or_else(|| {
            job.looms.push(LoomFile {
                exit: exit.to_owned(),
                wrap: None,
                taped: Vec::new(),
            });
            job.looms.len() - 1
        });
        let loom = &mut job.looms[at];
        match self {
            LoomEdit::Wrap(wrap) => loom.wrap = wrap,
            LoomEdit::Tape(leads, wrap) => {
                for tape in &mut loom.taped {
                    tape.leads.retain(|lead| !leads.contains(lead));
                }
                let name = free_name(&loom.taped);
                loom.taped.push(TapedFile { name, leads, wrap });
            }
            LoomEdit::Untape(lead) => loom.taped.retain(|tape| !tape.leads.contains(&lead)),
        }
        tidy(job);
    }
}

/// `taped 1`, `taped 2`: the first that no tape is called.
fn free_name(taped: &[TapedFile]) -> String {
    (1..)
        .map(|number| format!("taped {number}"))
        .find(|name| !taped.iter().any(|tape| tape.name == *name))
        .unwrap_or_default()
}

/// Leaves out of the looms what is no longer there: leads taken out or brought
/// to another exit, tapes with nothing to hold together, looms of no exit and
/// looms with nothing round anything.
pub fn tidy(job: &mut JobFile) {
    let elsewhere = |id: &str, exit: &str| {
        let lead = job.leads.iter().find(|lead| lead.id == id);
        let others = job.alternatives.iter().flat_map(|other| &other.leads);
        match lead.or(others.into_iter().find(|lead| lead.id == id)) {
            Some(lead) => lead.end.exit.as_deref() != Some(exit),
            None => true,
        }
    };
    let mut looms = std::mem::take(&mut job.looms);
    for loom in &mut looms {
        for tape in &mut loom.taped {
            tape.leads.retain(|lead| !elsewhere(lead, &loom.exit));
        }
        loom.taped.retain(|tape| tape.leads.len() > 1);
    }
    looms.retain(|loom| {
        (loom.wrap.is_some() || !loom.taped.is_empty())
            && job.cavity.exits.iter().any(|exit| exit.id == loom.exit)
    });
    job.looms = looms;
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> JobFile {
        let library = profiles::Library::embedded();
        let opened = profiles::open_job(profiles::DEMO, &library).expect("the demo opens");
        JobFile {
            looms: Vec::new(),
            ..opened.file
        }
    }

    fn tape(leads: &[&str]) -> LoomEdit {
        LoomEdit::Tape(leads.iter().map(|id| (*id).to_owned()).collect(), None)
    }

    #[test]
    fn a_lead_lies_in_one_tape_only() {
        let mut job = demo();
        tape(&["L3", "L4", "L6"]).apply("left", &mut job);
        tape(&["L6", "L7"]).apply("left", &mut job);
        let taped = &job.looms[0].taped;
        assert_eq!(taped[0].leads, ["L3", "L4"]);
        assert_eq!(taped[1].leads, ["L6", "L7"]);
        assert_ne!(taped[0].name, taped[1].name);
    }

    #[test]
    fn what_is_taken_off_leaves_nothing_behind() {
        let first = demo();
        let mut job = first.clone();
        tape(&["L3", "L4"]).apply("left", &mut job);
        LoomEdit::Wrap(Some(PartUse::Named("pvc_tape".to_owned()))).apply("left", &mut job);
        LoomEdit::Untape("L4".to_owned()).apply("left", &mut job);
        LoomEdit::Wrap(None).apply("left", &mut job);
        assert_eq!(job, first);
    }

    #[test]
    fn a_lead_brought_elsewhere_leaves_its_tape() {
        let mut job = demo();
        tape(&["L3", "L4", "L6"]).apply("left", &mut job);
        let at = job.leads.iter().position(|lead| lead.id == "L4");
        job.leads[at.expect("it is there")].end.exit = Some("right".to_owned());
        tidy(&mut job);
        assert_eq!(job.looms[0].taped[0].leads, ["L3", "L6"]);
        job.leads.retain(|lead| lead.id != "L6");
        tidy(&mut job);
        assert!(job.looms.is_empty(), "one lead needs no tape");
    }
}

//! A new job begun with the figures of the quick answer, and read back from it.

use crate::behind::{BEHIND_ALL, Behind, met_behind_all};
use crate::empty::EMPTY_UNIT;
use crate::length::Length;
use crate::library::Library;
use crate::quick::QuickFigures;
use crate::schema::{BendRules, JobFile, MetFile, PartUse, UnitPart};

/// Short names that tell a job begun with these figures.
const UNIT: &str = "quick-unit";
const MOUNT: &str = "quick-mount";
const LEAD: &str = "longest";

/// The socket the longest plug is taken to go in: video plugs are the longest
/// of the usual ones. Common practice, no source.
const SOCKET: &str = "hdmi";

/// Where leads of a new job go until an exit is measured, mm: down in front of
/// what is behind, well below the unit, anywhere within a wide ring. Common
/// practice, no source.
const BEFORE: f64 = 25.0;
const BELOW: f64 = -100.0;
const WIDE: f64 = 160.0;

/// How deep it is behind while nobody knows, mm.
const USUAL_DEPTH: f64 = 200.0;

impl QuickFigures {
    /// An empty job with these figures in it.
    pub fn new_job(&self, library: &Library) -> JobFile {
        let mut job = JobFile {
            name: "New job".to_owned(),
            bend_rules: BendRules::Published,
            ..self.job_file()
        };
        job.cavity.exits.clear();
        self.put_into(&mut job, library);
        job
    }

    /// The figures a job rests on, as long as it rests on nothing else; `?` for
    /// those it does not have yet.
    pub fn of_job(job: &JobFile) -> Option<QuickFigures> {
        let mut figures = QuickFigures {
            width: job.cavity.opening.width.clone(),
            height: job.cavity.opening.height.clone(),
            ..QuickFigures::unknown()
        };
        let unit_is_open = match &job.unit {
            PartUse::Inline(unit) if unit.id == UNIT => {
                figures.chassis = unit.chassis.depth.clone();
                true
            }
            _ => false,
        };
        let mount_is_open = match &job.mount {
            PartUse::Inline(mount) if mount.id == MOUNT => {
                figures.setback = mount.setback.clone();
                true
            }
            _ => false,
        };
        let rest = job.cavity.stations.is_empty()
            && job.modules.is_empty()
            && job.alternatives.is_empty()
            && job.cavity.obstacles.len() <= 1
            && job.leads.len() <= 1;
        if !(unit_is_open && mount_is_open && rest) {
            return None;
        }
        if let Some(obstacle) = job.cavity.obstacles.first() {
            let block = obstacle.block.as_ref();
            figures.behind = block.filter(|_| obstacle.id == BEHIND_ALL)?.depth[0].clone();
        }
        if let Some(lead) = job.leads.first() {
            let (PartUse::Inline(plug), PartUse::Inline(cable)) = (&lead.plug, &lead.cable) else {
                return None;
            };
            if lead.id != LEAD {
                return None;
            }
            figures.plug = plug.straight.as_ref()?.body.clone();
            figures.cable = cable.od.clone();
            figures.bend = cable.published.times_od?;
        }
        Some(figures)
    }

    /// Puts the figures into a job that rests on nothing else: the usual chassis
    /// with the sockets of a full unit, the nearest thing behind all of it, and
    /// the longest plug.
    pub fn put_into(&self, job: &mut JobFile, library: &Library) {
        let quick = self.job_file();
        job.cavity.opening.width = self.width.clone();
        job.cavity.opening.height = self.height.clone();
        job.cavity.obstacles = vec![met_behind_all(Behind {
            depth: self.behind.clone(),
            met: MetFile::NotKnown,
        })];
        if job.cavity.exits.is_empty() {
            job.cavity.exits = quick.cavity.exits;
            for exit in &mut job.cavity.exits {
                exit.centre[0] = Length::mm(0.0);
                exit.centre[2] = Length::mm(BELOW);
                exit.diameter = Some(Length::mm(WIDE));
            }
        }
        let behind = self.behind.measure().map_or(USUAL_DEPTH, |it| it.value());
        for exit in &mut job.cavity.exits {
            // One that somebody has moved stays where it is.
            let [across, _, up] = &exit.centre;
            if *across == Length::mm(0.0) && *up == Length::mm(BELOW) {
                exit.centre[1] = Length::mm(behind - BEFORE);
            }
        }
        job.mount = quick.mount;
        job.unit = quick.unit;
        job.leads = quick.leads;
        let full = library.get::<UnitPart>(EMPTY_UNIT);
        let (PartUse::Inline(unit), Some(full)) = (&mut job.unit, full) else {
            return;
        };
        let socket = full.sockets.iter().find(|socket| socket.id == SOCKET);
        let Some(socket) = socket.or(full.sockets.first()) else {
            return;
        };
        for lead in &mut job.leads {
            lead.socket = Some(socket.id.clone());
            if let PartUse::Inline(plug) = &mut lead.plug {
                plug.family.clone_from(&socket.family);
            }
        }
        unit.sockets.clone_from(&full.sockets);
    }
}

/// Whether anything has been entered for a figure: more than a bare `?`.
pub fn is_entered(length: &Length) -> bool {
    length.measure().is_some()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{empty_job, inline};

    fn figures(words: [&str; 7], bend: f64) -> QuickFigures {
        let [width, height, behind, chassis, setback, plug, cable] =
            words.map(|word| Length::parse(word).unwrap());
        QuickFigures {
            width,
            height,
            behind,
            chassis,
            setback,
            plug,
            cable,
            bend,
        }
    }

    #[test]
    fn what_is_put_in_is_read_back() {
        let library = Library::embedded();
        assert_eq!(
            QuickFigures::of_job(&empty_job(&library)),
            Some(QuickFigures::unknown())
        );
        let given = figures(
            ["7 3/16", "104", "? 200..240", "165", "-2", "32", "5,5"],
            6.0,
        );
        let mut job = given.new_job(&library);
        assert_eq!(QuickFigures::of_job(&job), Some(given.clone()));
        assert_eq!(given.new_job(&library), {
            given.put_into(&mut job, &library);
            job
        });
    }

    /// Leads of a new job are not said to find no way for want of an exit.
    #[test]
    fn the_longest_plug_finds_its_way_where_there_is_room() {
        let library = Library::embedded();
        for (chassis, behind) in [("165", "230"), ("75", "140"), ("165", "245")] {
            let quick = figures(["182", "104", behind, chassis, "0", "32", "5.5"], 4.0);
            let job = inline(&quick.new_job(&library), &library).unwrap().job;
            let routed = geometry::routed(&job, &mut |_| true);
            assert_eq!(
                routed.verdict,
                geometry::Verdict::Flush,
                "{chassis} {behind}"
            );
            assert_eq!(routed.routes.len(), 1);
        }
    }

    #[test]
    fn a_job_with_more_in_it_is_left_alone() {
        let library = Library::embedded();
        for (name, _) in crate::embedded_jobs() {
            let job = crate::open_job(name, &library).unwrap().file;
            assert_eq!(QuickFigures::of_job(&job), None, "{name}");
        }
        let mut job = empty_job(&library);
        job.unit = PartUse::Named("short_110".to_owned());
        assert_eq!(QuickFigures::of_job(&job), None);
    }

    /// The job begun with some figures comes to the same as the quick answer
    /// from them: both follow the depth chain, and nothing else is in the way.
    #[test]
    fn the_new_job_answers_as_the_quick_answer_does() {
        let library = Library::embedded();
        for words in [
            ["182", "104", "230", "165", "0", "32", "5.5"],
            ["182", "104", "205 ± 5", "165", "2 ± 1", "45", "7"],
            ["179", "101", "190", "165", "0", "32", "5.5"],
            ["176", "104", "230", "165", "0", "32", "5.5"],
            ["182", "104", "?", "165", "0", "?", "5.5"],
            ["?", "?", "?", "?", "?", "?", "?"],
        ] {
            let quick = figures(words, 4.0);
            let first = geometry::fit(&quick.job(&library).unwrap());
            let job = inline(&quick.new_job(&library), &library).unwrap().job;
            let then = geometry::fit(&job);
            assert_eq!(first.verdict, then.verdict, "{words:?}");
            assert_eq!(first.proud, then.proud, "{words:?}");
            assert_eq!(first.proud_range, then.proud_range, "{words:?}");
        }
    }
}

//! What is behind each socket of a unit: how far a hand or a rule gets in, what
//! it meets there, and how that was measured.
//!
//! Each answer is an obstacle of the job, a block from the depth measured on
//! inward, as wide and high as the part of the back that belongs to the socket.

use geometry::{Harm, Reading, cells};
use glam::DVec2;

use crate::length::Length;
use crate::schema::{BoxFile, JobFile, KindFile, MetFile, ObstacleFile};

/// How a depth was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HowMeasured {
    /// With a rule or a tape, seeing its end.
    Seen,
    /// By hand or with a rod, not seeing its end.
    Felt,
    /// By eye.
    Guessed,
}

impl HowMeasured {
    /// All of them, the surest first.
    pub const ALL: [HowMeasured; 3] = [HowMeasured::Seen, HowMeasured::Felt, HowMeasured::Guessed];

    /// What it is called.
    pub fn word(self) -> &'static str {
        match self {
            HowMeasured::Seen => "seen",
            HowMeasured::Felt => "felt",
            HowMeasured::Guessed => "guessed",
        }
    }

    /// What such a measure is good for, mm either way. Common practice, no source.
    pub fn plus_minus(self) -> f64 {
        match self {
            HowMeasured::Seen => 1.0,
            HowMeasured::Felt => 2.5,
            HowMeasured::Guessed => 5.0,
        }
    }
}

/// What is behind one socket.
#[derive(Clone, Debug, PartialEq)]
pub struct Behind {
    /// From the dash face to what was met, with its ±.
    pub depth: Length,
    /// What was met.
    pub met: MetFile,
}

impl Behind {
    /// The depth as typed, without its ±.
    pub fn depth_alone(&self) -> &str {
        let text = self.depth.as_written();
        let end = text.find(['±']).or_else(|| text.find("+-"));
        let end = end.or_else(|| text.find("+/-"));
        text[..end.unwrap_or(text.len())].trim_end()
    }

    /// How it was measured, as its ± says; `None` for any other ±.
    pub fn how(&self) -> Option<HowMeasured> {
        let plus_minus = self.depth.measure()?.plus_minus();
        HowMeasured::ALL
            .into_iter()
            .find(|how| (how.plus_minus() - plus_minus).abs() < 1e-9)
    }
}

/// A depth as typed with the ± that its way of measuring is good for; one that
/// has a ± of its own, or was not measured, stays as it is.
pub fn depth_with(typed: &Length, how: HowMeasured) -> Length {
    let text = typed.as_written();
    let exact = typed
        .measure()
        .is_some_and(|measure| measure.is_measured() && measure.plus_minus() == 0.0);
    if !exact || text.contains('±') {
        return typed.clone();
    }
    let plus_minus = how.plus_minus();
    // A unit by name on the depth wants one on the ± too.
    [
        format!("{text} ± {plus_minus}"),
        format!("{text} ± {plus_minus} mm"),
    ]
    .iter()
    .find_map(|text| Length::parse(text).ok())
    .unwrap_or_else(|| typed.clone())
}

/// A socket on the rear: its short name, what the installer calls it, and its
/// place (across, up) from the opening's centre, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct RearSocket {
    /// Short name.
    pub id: String,
    /// What the installer calls it.
    pub name: String,
    /// Its centre, mm.
    pub at: DVec2,
}

impl RearSocket {
    /// The sockets on the rear of a job's unit.
    pub fn all(job: &geometry::Job) -> Vec<RearSocket> {
        let rear = |socket: &&geometry::Socket| socket.face == geometry::SocketFace::Rear;
        (job.unit.sockets.iter().filter(rear))
            .map(|socket| RearSocket {
                id: socket.id.clone(),
                name: socket.name.clone(),
                at: job.unit.offset + socket.at,
            })
            .collect()
    }
}

/// The short name of the obstacle that tells what is behind a socket.
pub fn id_behind(socket: &str) -> String {
    format!("behind {socket}")
}

/// The short name of the obstacle that stands for the nearest thing behind the
/// whole unit, until each socket is looked at by itself.
pub const BEHIND_ALL: &str = "behind";

/// Whether an obstacle tells what is behind a socket, or behind the whole unit.
pub fn is_behind(obstacle: &ObstacleFile) -> bool {
    obstacle.met.is_some() && (obstacle.id == BEHIND_ALL || is_id_behind(&obstacle.id))
}

/// Whether a short name is that of an obstacle that tells what is behind one socket.
pub fn is_id_behind(id: &str) -> bool {
    id.starts_with(&id_behind(""))
}

/// What is behind a socket, where that was entered.
pub fn behind(job: &JobFile, socket: &str) -> Option<Behind> {
    let id = id_behind(socket);
    let obstacles = job.cavity.obstacles.iter();
    obstacles.filter(|obstacle| obstacle.id == id).find_map(of)
}

/// The nearest thing behind the whole unit, where that is all that is known.
pub fn behind_all(job: &JobFile) -> Option<Behind> {
    let obstacles = job.cavity.obstacles.iter();
    obstacles
        .filter(|obstacle| obstacle.id == BEHIND_ALL)
        .find_map(of)
}

fn of(obstacle: &ObstacleFile) -> Option<Behind> {
    Some(Behind {
        depth: obstacle.block.as_ref()?.depth[0].clone(),
        met: obstacle.met?,
    })
}

/// How far to each side, and how far in, what was met is taken to reach, mm:
/// beyond any dash, so that nothing passes beside or behind it.
const REACH: f64 = 300.0;
const DEEP: f64 = 1000.0;

/// The obstacles of a job with one socket looked at, or no longer.
///
/// What stood for the nearest thing behind the whole unit is shared out among
/// the sockets: each keeps that depth until it is looked at by itself.
pub fn with_behind(
    job: &JobFile,
    sockets: &[RearSocket],
    socket: &str,
    found: Option<Behind>,
) -> Vec<ObstacleFile> {
    let mut obstacles = job.cavity.obstacles.clone();
    if let Some(all) = behind_all(job) {
        obstacles.retain(|obstacle| obstacle.id != BEHIND_ALL);
        for other in sockets {
            put(&mut obstacles, sockets, &other.id, all.clone());
        }
    }
    match found {
        Some(found) => put(&mut obstacles, sockets, socket, found),
        None => obstacles.retain(|obstacle| obstacle.id != id_behind(socket)),
    }
    obstacles
}

fn put(obstacles: &mut Vec<ObstacleFile>, sockets: &[RearSocket], socket: &str, found: Behind) {
    let id = id_behind(socket);
    let place = obstacles.iter_mut().find(|obstacle| obstacle.id == id);
    if let Some(obstacle) = place {
        obstacle.met = Some(found.met);
        if let Some(block) = &mut obstacle.block {
            block.depth[0] = found.depth;
        }
        return;
    }
    let points: Vec<DVec2> = sockets.iter().map(|other| other.at).collect();
    let all = cells(&points, DVec2::splat(-REACH), DVec2::splat(REACH));
    let Some(at) = sockets.iter().position(|other| other.id == socket) else {
        return;
    };
    let name = format!("thing behind the {}", sockets[at].name);
    obstacles.push(met(id, name, all[at], found));
}

/// How thick a flat thing is taken to be until it is measured, mm: a moulded rib
/// or a sheet-metal shelf. Common practice, no source.
const THIN: [f64; 2] = [2.0, 4.0];

/// The obstacles of a job with what was met behind a socket as a thing of its
/// own: it stands where it was met, over the socket's part of the opening, and
/// is as thick as such things are until that is measured. What lies beyond it
/// is not known. `None` where nothing was measured there.
///
/// * `thing`: what it is; its shape does not matter
pub fn described(
    job: &JobFile,
    sockets: &[RearSocket],
    socket: &str,
    thing: ObstacleFile,
) -> Option<Vec<ObstacleFile>> {
    let found = behind(job, socket)?;
    let met = found
        .depth
        .measure()
        .filter(|it| it.is_measured())?
        .at(Reading::Nominal, Harm::Larger);
    let at = sockets.iter().position(|other| other.id == socket)?;
    let points: Vec<DVec2> = sockets.iter().map(|other| other.at).collect();
    let half = opening(job).unwrap_or(DVec2::splat(REACH));
    let [low, high] = cells(&points, -half, half)[at];
    let unknown = |low: f64, high: f64| Length::parse(&format!("? {low}..{high}")).ok();
    let block = BoxFile {
        across: [Length::mm(low.x), Length::mm(high.x)],
        depth: [found.depth, unknown(met + THIN[0], met + THIN[1])?],
        up: [Length::mm(low.y), Length::mm(high.y)],
        turned_deg: [0.0; 3],
    };
    let beyond = Behind {
        depth: unknown(met + THIN[1], DEEP)?,
        met: MetFile::NotKnown,
    };
    let mut obstacles = with_behind(job, sockets, socket, Some(beyond));
    obstacles.push(ObstacleFile {
        block: Some(block),
        cylinder: None,
        outline: None,
        met: None,
        ..thing
    });
    Some(obstacles)
}

/// Half of the opening's width and height, mm, where they are known.
fn opening(job: &JobFile) -> Option<DVec2> {
    let opening = &job.cavity.opening;
    let size = |length: &Length| {
        length
            .measure()
            .map(|it| it.at(Reading::Nominal, Harm::Larger))
    };
    Some(0.5 * DVec2::new(size(&opening.width)?, size(&opening.height)?))
}

/// What was met behind the whole unit.
pub(crate) fn met_behind_all(found: Behind) -> ObstacleFile {
    let all = [DVec2::splat(-REACH), DVec2::splat(REACH)];
    met(
        BEHIND_ALL.to_owned(),
        "nearest thing behind".to_owned(),
        all,
        found,
    )
}

fn met(id: String, name: String, [low, high]: [DVec2; 2], found: Behind) -> ObstacleFile {
    let pair = |low: f64, high: f64| [Length::mm(low), Length::mm(high)];
    ObstacleFile {
        block: Some(BoxFile {
            across: pair(low.x, high.x),
            depth: [found.depth, Length::mm(DEEP)],
            up: pair(low.y, high.y),
            turned_deg: [0.0; 3],
        }),
        met: Some(found.met),
        ..ObstacleFile::bare(id, name, KindFile::Unknown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Library, QuickFigures, inline};

    fn felt(depth: &str) -> Behind {
        let typed = Length::parse(depth).unwrap();
        Behind {
            depth: depth_with(&typed, HowMeasured::Felt),
            met: MetFile::Hard,
        }
    }

    #[test]
    fn a_depth_takes_the_band_of_its_way_of_measuring() {
        for (typed, how, written) in [
            ("230", HowMeasured::Seen, "230 ± 1"),
            ("9 1/16", HowMeasured::Felt, "9 1/16 ± 2.5"),
            ("9.1 in", HowMeasured::Guessed, "9.1 in ± 5 mm"),
            ("230 ± 1.5", HowMeasured::Felt, "230 ± 1.5"),
            ("?", HowMeasured::Felt, "?"),
        ] {
            let length = depth_with(&Length::parse(typed).unwrap(), how);
            assert_eq!(length.as_written(), written);
            let behind = Behind {
                depth: length,
                met: MetFile::NotKnown,
            };
            if written != typed {
                assert_eq!((behind.how(), behind.depth_alone()), (Some(how), typed));
            }
        }
    }

    /// A hand gets further in at one socket than at the others: only there is
    /// there more room, and taking it back gives the first obstacles.
    #[test]
    fn one_socket_looked_at_by_itself_has_its_own_depth() {
        let library = Library::embedded();
        let mut job = QuickFigures::unknown().new_job(&library);
        let whole = inline(&job, &library).expect("it is answered").job;
        let sockets = RearSocket::all(&whole);
        assert!(sockets.len() >= 12);
        job.cavity.obstacles = vec![met_behind_all(felt("220"))];
        let after = with_behind(&job, &sockets, "hdmi", Some(felt("245")));
        assert_eq!(after.len(), sockets.len());
        job.cavity.obstacles = after;
        assert_eq!(behind(&job, "hdmi"), Some(felt("245")));
        assert_eq!(behind(&job, "main"), Some(felt("220")));
        let plain = inline(&job, &library)
            .expect("cells lie beside each other")
            .job;
        assert_eq!(plain.cavity.obstacles.len(), sockets.len());
        let less = with_behind(&job, &sockets, "hdmi", None);
        assert_eq!(less.len(), sockets.len() - 1);
    }

    /// A rib met behind a socket stands where it was met, within the opening;
    /// what lies beyond is not known until a hand gets past it.
    #[test]
    fn what_was_met_becomes_a_thing_of_its_own() {
        let library = Library::embedded();
        let mut job = QuickFigures::unknown().new_job(&library);
        let whole = inline(&job, &library).expect("it is answered").job;
        let sockets = RearSocket::all(&whole);
        job.cavity.opening.width = Length::mm(184.0);
        job.cavity.opening.height = Length::mm(106.0);
        job.cavity.obstacles = vec![met_behind_all(felt("220"))];
        let rib = || ObstacleFile::bare("rib", "rib", KindFile::Rib);
        assert!(described(&job, &sockets, "hdmi", rib()).is_none());
        job.cavity.obstacles = with_behind(&job, &sockets, "hdmi", Some(felt("212")));
        let after = described(&job, &sockets, "hdmi", rib()).expect("it was measured");
        job.cavity.obstacles = after;
        let plain = inline(&job, &library).expect("it is answered").job;
        let rib = plain.cavity.obstacles.iter().find(|it| it.id == "rib");
        let geometry::Form::Block {
            across, depth, up, ..
        } = rib.expect("it stands there").form
        else {
            panic!("a box");
        };
        let at =
            |ends: [geometry::Measure; 2]| ends.map(|it| it.at(Reading::Nominal, Harm::Larger));
        assert_eq!(at(depth), [212.0, 215.0]);
        for (ends, most) in [(at(across), 92.0), (at(up), 53.0)] {
            assert!(
                -most <= ends[0] && ends[0] < ends[1] && ends[1] <= most,
                "{ends:?}"
            );
        }
        let beyond = behind(&job, "hdmi").expect("the row stays");
        assert!(!beyond.depth.measure().expect("a range").is_measured());
        assert!(
            plain
                .unmeasured
                .iter()
                .any(|it| it.contains("video socket"))
        );
    }

    #[test]
    fn what_was_met_may_be_part_of_a_rib_measured_later() {
        let library = Library::embedded();
        let mut job = crate::open_job(crate::DEMO, &library).unwrap().file;
        let plain = inline(&job, &library).unwrap().job;
        let sockets = RearSocket::all(&plain);
        let rib = job.cavity.obstacles[0].clone();
        assert!(rib.block.is_some());
        job.cavity.obstacles = with_behind(&job, &sockets, &sockets[0].id, Some(felt("205")));
        inline(&job, &library).expect("a rib behind what was met is no mistake");
    }
}

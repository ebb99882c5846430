//! What is asked, in the order one measures in a dash: the opening, its planes,
//! what is behind each socket, the walls from near to far, then things.

use geometry::Job;
use glam::DVec3;
use profiles::Length;
use profiles::behind::{
    Behind, HowMeasured, RearSocket, behind, depth_with, id_behind, is_behind, with_behind,
};
use profiles::schema::{JobFile, MetFile, ObstacleFile, RunFile, StationFile};

use crate::desk::card::sockets::in_measuring_order;
use crate::desk::edit::{Edit, ListEdit, Target};

/// A part of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    Opening,
    Planes,
    Sockets,
    Walls,
    Things,
}

impl Part {
    /// What it is called.
    pub fn word(self) -> &'static str {
        match self {
            Part::Opening => "The opening",
            Part::Planes => "Its planes",
            Part::Sockets => "Behind each socket",
            Part::Walls => "The walls, from near to far",
            Part::Things => "Things in the cavity",
        }
    }
}

/// What an answer is entered as.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    Width,
    Height,
    SeatPlane,
    FinishedFace,
    /// Behind a socket (its id).
    Behind(String),
    /// A wall (0 left, 1 right, 2 up, 3 down) at a depth, mm.
    Wall(f64, usize),
    /// A length of an obstacle (its place in the list).
    Thing(usize, OfThing),
}

/// A length of an obstacle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OfThing {
    /// A face of a box: axis, and which of the two.
    Face(usize, usize),
    /// The diameter of a bar.
    Diameter,
    /// The middle of an end of a bar: which end, axis.
    End(usize, usize),
    /// Where a pushed outline starts or ends.
    Along(usize),
}

/// One question.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What it is known by, also after others have been added.
    pub key: String,
    /// The part it belongs to.
    pub part: Part,
    /// The question.
    pub what: String,
    /// How to measure it.
    pub how: &'static str,
    /// What is known of it, as written.
    pub written: String,
    /// What counts where nothing is entered.
    pub usual: &'static str,
    /// What an answer is entered as.
    pub entry: Entry,
    /// What is lit with it: the first that is drawn.
    pub targets: Vec<Target>,
    /// The length on the drawing, mm.
    pub ends: [DVec3; 2],
    /// What stands beside it there.
    pub word: String,
}

/// Depths that cross-sections are asked for at: those of the job, or three usual ones, mm.
pub fn depths(job: &JobFile) -> Vec<f64> {
    let own: Vec<f64> = (job.cavity.stations.iter())
        .filter(|station| station.outline.is_empty())
        .map(|station| value(&station.at))
        .collect();
    if job.cavity.stations.is_empty() {
        vec![40.0, 120.0, 200.0]
    } else {
        own
    }
}

/// Every question of a job.
///
/// * `depths`: where the walls are asked for, mm
pub fn questions(job: &JobFile, plain: Option<&Job>, depths: &[f64]) -> Vec<Question> {
    let mut all = opening(job, plain);
    all.extend(planes(job, plain));
    for socket in in_measuring_order(plain) {
        all.push(socket_question(job, &socket));
    }
    for &depth in depths {
        all.extend((0..4).map(|side| wall(job, depth, side)));
    }
    for (at, obstacle) in job.cavity.obstacles.iter().enumerate() {
        if !is_behind(obstacle) {
            all.extend(thing(at, obstacle));
        }
    }
    all
}

/// The key of the first question about a thing.
pub fn first_of_thing(obstacle: &ObstacleFile) -> String {
    (thing(0, obstacle).first()).map_or(String::new(), |question| question.key.clone())
}

/// The value of a length, mm; 0 when nothing is known of it.
fn value(length: &Length) -> f64 {
    length.measure().map_or(0.0, |measure| measure.value())
}

fn opening(job: &JobFile, plain: Option<&Job>) -> Vec<Question> {
    let opening = &job.cavity.opening;
    let [width, height] = plain.map_or([182.0, 106.0], |job| {
        [&job.cavity.opening.width, &job.cavity.opening.height].map(|size| size.value())
    });
    let question = |entry, what: &str, how, written: &Length, half: DVec3, word: &str| Question {
        key: word.to_owned(),
        part: Part::Opening,
        what: what.to_owned(),
        how,
        written: written.as_written().to_owned(),
        usual: "",
        entry,
        targets: vec![Target::Opening],
        ends: [-half, half],
        word: word.to_owned(),
    };
    vec![
        question(
            Entry::Width,
            "How wide is the opening?",
            "Left edge to right edge at the dash face, trim off, at its narrowest.",
            &opening.width,
            DVec3::X * 0.5 * width,
            "width of the opening",
        ),
        question(
            Entry::Height,
            "How high is the opening?",
            "Lower edge to upper edge at the dash face, trim off, at its lowest.",
            &opening.height,
            DVec3::Z * 0.5 * height,
            "height of the opening",
        ),
    ]
}

/// Shortest length drawn for a plane that lies in the dash face, mm.
const SHORT: f64 = 15.0;

fn planes(job: &JobFile, plain: Option<&Job>) -> Vec<Question> {
    let high = plain.map_or(53.0, |job| 0.5 * job.cavity.opening.height.value());
    let plane = |entry, what: &str, how, depth: Option<&Length>, up: f64, word: &str| {
        let far = depth.map_or(0.0, value);
        let far = if far.abs() < SHORT { SHORT } else { far };
        Question {
            key: word.to_owned(),
            part: Part::Planes,
            what: what.to_owned(),
            how,
            written: depth.map_or(String::new(), |it| it.as_written().to_owned()),
            usual: "0",
            entry,
            targets: vec![Target::Mount, Target::Opening],
            ends: [DVec3::Z * up, DVec3::new(0.0, far, up)],
            word: word.to_owned(),
        }
    };
    vec![
        plane(
            Entry::SeatPlane,
            "How deep does the mount stop?",
            "A rule laid across the dash face, trim off; from it to where the mount comes to rest. 0 when it rests on the face.",
            job.cavity.seat_plane.as_ref(),
            high,
            "seat plane",
        ),
        plane(
            Entry::FinishedFace,
            "Where is the face with its trim on?",
            "From the dash face to the finished face: minus when the trim stands out, plus when it lies deeper.",
            job.cavity.finished_face.as_ref(),
            -high,
            "finished face",
        ),
    ]
}

/// How deep is drawn where nothing is known, mm.
const UNKNOWN_DEPTH: f64 = 200.0;

fn socket_question(job: &JobFile, socket: &RearSocket) -> Question {
    let found = behind(job, &socket.id);
    let depth = (found.as_ref())
        .and_then(|found| found.depth.measure())
        .map_or(UNKNOWN_DEPTH, |depth| depth.value());
    let lead = (job.leads.iter()).find(|lead| lead.socket.as_ref() == Some(&socket.id));
    let mut targets = vec![Target::Obstacle(id_behind(&socket.id))];
    targets.extend(lead.map(|lead| Target::Lead(lead.id.clone())));
    targets.push(Target::Unit);
    Question {
        key: id_behind(&socket.id),
        part: Part::Sockets,
        what: format!("How deep is it behind the {}?", socket.name),
        how: "Push a rod or a folded rule straight in where that plug will be, until it meets something. Read it at the dash face.",
        written: found.map_or(String::new(), |found| match found.how() {
            Some(_) => found.depth_alone().to_owned(),
            None => found.depth.as_written().to_owned(),
        }),
        usual: "not yet",
        entry: Entry::Behind(socket.id.clone()),
        targets,
        ends: [
            DVec3::new(socket.at.x, 0.0, socket.at.y),
            DVec3::new(socket.at.x, depth, socket.at.y),
        ],
        word: socket.name.clone(),
    }
}

/// What a wall is called, the way to it, and how far it is drawn while unknown, mm.
const WALLS: [(&str, DVec3, f64); 4] = [
    ("left wall", DVec3::NEG_X, 95.0),
    ("right wall", DVec3::X, 95.0),
    ("roof", DVec3::Z, 58.0),
    ("floor", DVec3::NEG_Z, 58.0),
];

fn wall(job: &JobFile, depth: f64, side: usize) -> Question {
    let (word, way, usual) = WALLS[side];
    let known = station_at(job, depth).and_then(|at| side_of(&job.cavity.stations[at], side));
    let far = (known.and_then(Length::measure)).map_or(usual, |it| it.value());
    let shown = profiles::length::as_millimetres(depth);
    Question {
        key: format!("wall {shown} {side}"),
        part: Part::Walls,
        what: format!("At depth {shown}: how far is the {word}?"),
        how: "From the middle of the opening, straight out. Hold a rule across at that depth, or feel along with a rod.",
        written: known.map_or(String::new(), |it| it.as_written().to_owned()),
        usual: "not yet",
        entry: Entry::Wall(depth, side),
        targets: vec![Target::Walls],
        ends: [DVec3::Y * depth, DVec3::Y * depth + way * far],
        word: word.to_owned(),
    }
}

/// Where the station at a depth stands in the list.
fn station_at(job: &JobFile, depth: f64) -> Option<usize> {
    let mut stations = job.cavity.stations.iter();
    stations.position(|it| (value(&it.at) - depth).abs() < 0.05 && it.outline.is_empty())
}

fn side_of(station: &StationFile, side: usize) -> Option<&Length> {
    [&station.left, &station.right, &station.up, &station.down][side].as_ref()
}

const AXES: [&str; 3] = ["across", "depth", "up"];

fn thing(at: usize, obstacle: &ObstacleFile) -> Vec<Question> {
    let mut all = Vec::new();
    let middle = middle_of(obstacle);
    let mut ask = |of: OfThing, length: &Length, word: &str, how: &'static str, axis: usize| {
        let mut ends = [middle; 2];
        ends[0][axis] = 0.0;
        ends[1][axis] = value(length);
        all.push(Question {
            key: format!("thing {} {word}", obstacle.id),
            part: Part::Things,
            what: format!("{}: where is its {word}?", obstacle.name),
            how,
            written: length.as_written().to_owned(),
            usual: "",
            entry: Entry::Thing(at, of),
            targets: vec![Target::Obstacle(obstacle.id.clone())],
            ends,
            word: word.to_owned(),
        });
    };
    const DEEP: &str = "Its depth from the dash face: a rod to it, read at the face.";
    const ACROSS: &str = "From the middle of the opening: to the left minus, to the right plus.";
    const UP: &str = "From the middle of the opening: below minus, above plus.";
    if let Some(block) = &obstacle.block {
        for (axis, pair, words, how) in [
            (1, &block.depth, ["near face", "far face"], DEEP),
            (0, &block.across, ["left face", "right face"], ACROSS),
            (2, &block.up, ["lower face", "upper face"], UP),
        ] {
            for which in 0..2 {
                ask(
                    OfThing::Face(axis, which),
                    &pair[which],
                    words[which],
                    how,
                    axis,
                );
            }
        }
    }
    if let Some(bar) = &obstacle.cylinder {
        for (end, place) in [&bar.from, &bar.to].into_iter().enumerate() {
            for (axis, how) in [(1, DEEP), (0, ACROSS), (2, UP)] {
                let word = format!("{} end, {}", ["one", "other"][end], AXES[axis]);
                ask(OfThing::End(end, axis), &place[axis], &word, how, axis);
            }
        }
        const ROUND: &str = "Callipers, or a strip of paper round it divided by 3.14.";
        ask(OfThing::Diameter, &bar.diameter, "diameter", ROUND, 0);
    }
    if let Some(pushed) = &obstacle.outline {
        for which in 0..2 {
            let (word, how) = (
                ["start", "end"][which],
                "Along its length, from the middle of the opening or the dash face.",
            );
            ask(OfThing::Along(which), &pushed.along[which], word, how, 1);
        }
    }
    all
}

/// The middle of a thing as far as it is known, mm.
fn middle_of(obstacle: &ObstacleFile) -> DVec3 {
    let between = |a: &Length, b: &Length| 0.5 * (value(a) + value(b));
    if let Some(block) = &obstacle.block {
        let of = |pair: &[Length; 2]| between(&pair[0], &pair[1]);
        return DVec3::new(of(&block.across), of(&block.depth), of(&block.up));
    }
    if let Some(bar) = &obstacle.cylinder {
        return DVec3::from_array([0, 1, 2].map(|axis| between(&bar.from[axis], &bar.to[axis])));
    }
    DVec3::ZERO
}

/// What a length that could not be measured is taken to be off by at most, mm,
/// where nothing usual is known of it. Common practice, no source.
const OFF_BY: f64 = 20.0;

impl Question {
    /// What is entered when it could not be measured.
    pub fn unmeasured(&self) -> String {
        match &self.entry {
            Entry::Width | Entry::Height | Entry::Behind(_) | Entry::Wall(..) => "?".to_owned(),
            Entry::SeatPlane | Entry::FinishedFace => String::new(),
            Entry::Thing(_, of) => {
                let now = Length::parse(&self.written).map_or(0.0, |length| value(&length));
                // The middle stays where it was, so that the near face stays the nearer.
                let off_by = match of {
                    OfThing::Diameter => 0.5 * now,
                    _ => OFF_BY,
                };
                let shown = profiles::length::as_millimetres;
                format!("? {}..{}", shown(now - off_by), shown(now + off_by))
            }
        }
    }

    /// The edit that an answer is.
    ///
    /// # Errors
    /// What is allowed, where the text is not a length.
    pub fn edit(
        &self,
        text: &str,
        job: &JobFile,
        plain: Option<&Job>,
        how: HowMeasured,
    ) -> Result<Edit, String> {
        let empty = text.trim().is_empty();
        let length = || Length::parse(text);
        let left_out = || if empty { Ok(None) } else { length().map(Some) };
        match &self.entry {
            Entry::Width | Entry::Height => {
                let mut opening = job.cavity.opening.clone();
                let place = match self.entry {
                    Entry::Width => &mut opening.width,
                    _ => &mut opening.height,
                };
                *place = length()?;
                Ok(Edit::Opening(opening))
            }
            Entry::SeatPlane | Entry::FinishedFace => {
                let mut cavity = job.cavity.clone();
                let place = match self.entry {
                    Entry::SeatPlane => &mut cavity.seat_plane,
                    _ => &mut cavity.finished_face,
                };
                *place = left_out()?;
                Ok(Edit::Cavity(Box::new(cavity)))
            }
            Entry::Behind(socket) => {
                let before = behind(job, socket);
                let found = left_out()?.map(|typed| Behind {
                    depth: depth_with(&typed, how),
                    met: before.map_or(MetFile::NotKnown, |before| before.met),
                });
                let sockets = plain.map_or(Vec::new(), RearSocket::all);
                Ok(Edit::Obstacles(with_behind(job, &sockets, socket, found)))
            }
            Entry::Wall(depth, side) => {
                Ok(Edit::Stations(with_wall(job, *depth, *side, length()?)))
            }
            Entry::Thing(at, of) => {
                let mut obstacle = job.cavity.obstacles[*at].clone();
                if let Some(place) = length_of(&mut obstacle, *of) {
                    *place = length()?;
                }
                Ok(Edit::Obstacle(ListEdit::set(*at, obstacle)))
            }
        }
    }
}

fn length_of(obstacle: &mut ObstacleFile, of: OfThing) -> Option<&mut Length> {
    Some(match of {
        OfThing::Face(axis, which) => {
            let block = obstacle.block.as_mut()?;
            &mut [&mut block.across, &mut block.depth, &mut block.up][axis][which]
        }
        OfThing::Diameter => &mut obstacle.cylinder.as_mut()?.diameter,
        OfThing::End(end, axis) => {
            let bar = obstacle.cylinder.as_mut()?;
            let end = if end == 0 { &mut bar.from } else { &mut bar.to };
            &mut end[axis]
        }
        OfThing::Along(which) => &mut obstacle.outline.as_mut()?.along[which],
    })
}

/// The stations with one wall measured; a station that is not there yet comes in
/// with the rest of it not measured.
fn with_wall(job: &JobFile, depth: f64, side: usize, length: Length) -> Vec<StationFile> {
    let mut stations = job.cavity.stations.clone();
    let at = station_at(job, depth).unwrap_or_else(|| {
        let at = stations.partition_point(|station| value(&station.at) < depth);
        let unmeasured = || Length::parse("?").ok();
        let new = StationFile {
            at: Length::mm(depth),
            left: unmeasured(),
            right: unmeasured(),
            up: unmeasured(),
            down: unmeasured(),
            outline: Vec::new(),
            to_next: RunFile::Blended,
        };
        stations.insert(at, new);
        at
    });
    let station = &mut stations[at];
    let sides = [
        &mut station.left,
        &mut station.right,
        &mut station.up,
        &mut station.down,
    ];
    *sides.into_iter().nth(side).expect("four sides") = Some(length);
    stations
}

#[cfg(test)]
mod tests {
    use super::*;
    use profiles::{Library, QuickFigures, inline};

    fn plain(job: &JobFile) -> Job {
        inline(job, &Library::embedded())
            .expect("it is answered")
            .job
    }

    /// Every question of a new job takes a figure and `could not measure`, and
    /// the job can be answered after each.
    #[test]
    fn every_question_can_be_answered_and_left_open() {
        let library = Library::embedded();
        let mut demo = profiles::open_job(profiles::DEMO, &library).unwrap().file;
        demo.cavity.stations.clear();
        demo.cavity.closed = false;
        for mut job in [QuickFigures::unknown().new_job(&library), demo] {
            let depths = depths(&job);
            let count = questions(&job, Some(&plain(&job)), &depths).len();
            assert!(count >= 2 + 2 + 12 + 12, "{count}");
            for number in 0..count {
                let now = plain(&job);
                let question = questions(&job, Some(&now), &depths).remove(number);
                let figure = match question.entry {
                    Entry::Width => "182".to_owned(),
                    Entry::Height => "104".to_owned(),
                    Entry::SeatPlane | Entry::FinishedFace => "0".to_owned(),
                    Entry::Behind(_) => "9 1/16".to_owned(),
                    Entry::Wall(_, 0 | 1) => "95".to_owned(),
                    Entry::Wall(..) => "60 ± 2".to_owned(),
                    Entry::Thing(..) => question.written.clone(),
                };
                for text in [question.unmeasured(), figure] {
                    let edit = question.edit(&text, &job, Some(&now), HowMeasured::Felt);
                    edit.expect(&question.what).apply(&mut job);
                    plain(&job);
                }
                let again = questions(&job, Some(&plain(&job)), &depths);
                assert_eq!(again[number].key, question.key);
                assert!(!again[number].written.is_empty() || question.part == Part::Planes);
            }
            assert!(job.cavity.stations.len() == 3);
        }
    }

    #[test]
    fn what_is_not_a_length_says_what_is() {
        let job = QuickFigures::unknown().new_job(&Library::embedded());
        let now = plain(&job);
        for question in questions(&job, Some(&now), &depths(&job)) {
            let refused = question.edit("18x", &job, Some(&now), HowMeasured::Seen);
            assert!(refused.expect_err("no length").contains("allowed"));
        }
    }
}

//! What the window may ask for. Panels return these; one place applies them.

use profiles::schema::*;

use super::canvas::camera::View;
use super::canvas::layers::Layer;
use super::document::Gesture;
use super::loom_edit::{LoomEdit, tidy};
use super::pin_edit::PinEdit;
use crate::figures::Figures;

/// A change of the document.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// What the job is called.
    Name(String),
    /// How far the unit may stand proud, mm; `None` = as usual.
    ProudLimit(Option<f64>),
    /// Which bend rules count.
    BendRules(BendRules),
    /// The opening.
    Opening(OpeningFile),
    /// Seat plane, finished face, clearances, whether it is closed at the back:
    /// all of the cavity but its lists.
    Cavity(Box<CavityFile>),
    /// The cross-sections by depth.
    Stations(Vec<StationFile>),
    /// A change in the list of obstacles.
    Obstacle(ListEdit<ObstacleFile>),
    /// The whole list of obstacles.
    Obstacles(Vec<ObstacleFile>),
    /// A change in the list of exits.
    Exit(ListEdit<ExitFile>),
    /// A change in the list of spaces.
    Space(ListEdit<SpaceFile>),
    /// A change in the list of pockets.
    Pocket(ListEdit<PocketFile>),
    /// A change in the list of factory plugs.
    FactoryPlug(ListEdit<FactoryPlugFile>),
    /// Another unit, or the same with changes.
    Unit(PartUse<UnitPart>),
    /// Another mount, or the same with changes.
    Mount(PartUse<MountPart>),
    /// A change in the list of leads.
    Lead(ListEdit<LeadFile>),
    /// A change in the list of modules.
    Module(ListEdit<ModuleFile>),
    /// A change of how the loom of an exit (its id) is made up.
    Loom(String, LoomEdit),
    /// A change in the list of notches.
    Trim(ListEdit<TrimFile>),
    /// All notches.
    Trims(Vec<TrimFile>),
    /// How the shop cuts and how far it goes.
    Cutting(Box<CuttingFile>),
    /// A change of the points that a lead (its id) is to pass.
    Through(String, PinEdit),
    /// The whole job.
    Everything(Box<JobFile>),
}

/// A change in a list.
#[derive(Clone, Debug, PartialEq)]
pub enum ListEdit<T> {
    /// Puts a new value in the place of the one with this number, from 0.
    Set(usize, Box<T>),
    /// Adds one at the end.
    Add(Box<T>),
    /// Puts one in before the one with this number, from 0.
    Insert(usize, Box<T>),
    /// Takes out the one with this number, from 0.
    Remove(usize),
    /// Moves one from the first of these places to the second, from 0.
    Move(usize, usize),
}

impl<T> ListEdit<T> {
    /// Puts a new value in the place of the one with this number, from 0.
    pub fn set(at: usize, value: T) -> ListEdit<T> {
        ListEdit::Set(at, Box::new(value))
    }

    /// Adds one at the end.
    pub fn add(value: T) -> ListEdit<T> {
        ListEdit::Add(Box::new(value))
    }

    /// Puts one in before the one with this number, from 0.
    pub fn insert(at: usize, value: T) -> ListEdit<T> {
        ListEdit::Insert(at, Box::new(value))
    }

    /// Carries it out; what lies outside the list is left alone.
    pub fn apply(self, list: &mut Vec<T>) {
        match self {
            ListEdit::Set(at, value) => {
                if let Some(place) = list.get_mut(at) {
                    *place = *value;
                }
            }
            ListEdit::Add(value) => list.push(*value),
            ListEdit::Insert(at, value) => list.insert(at.min(list.len()), *value),
            ListEdit::Remove(at) => {
                if at < list.len() {
                    list.remove(at);
                }
            }
            ListEdit::Move(from, to) => {
                if from < list.len() && to < list.len() {
                    let moved = list.remove(from);
                    list.insert(to, moved);
                }
            }
        }
    }
}

impl Edit {
    /// Carries it out.
    pub fn apply(self, job: &mut JobFile) {
        match self {
            Edit::Name(name) => job.name = name,
            Edit::ProudLimit(limit) => job.proud_limit_mm = limit,
            Edit::BendRules(rules) => job.bend_rules = rules,
            Edit::Opening(opening) => job.cavity.opening = opening,
            Edit::Cavity(cavity) => {
                job.cavity.seat_plane = cavity.seat_plane;
                job.cavity.finished_face = cavity.finished_face;
                job.cavity.face_rake = cavity.face_rake;
                job.cavity.slide_dip_deg = cavity.slide_dip_deg;
                job.cavity.clear = cavity.clear;
                job.cavity.slide_gap = cavity.slide_gap;
                job.cavity.closed = cavity.closed;
            }
            Edit::Stations(stations) => job.cavity.stations = stations,
            Edit::Obstacle(edit) => edit.apply(&mut job.cavity.obstacles),
            Edit::Obstacles(obstacles) => job.cavity.obstacles = obstacles,
            Edit::Exit(edit) => {
                edit.apply(&mut job.cavity.exits);
                tidy(job);
            }
            Edit::Space(edit) => edit.apply(&mut job.cavity.spaces),
            Edit::Pocket(edit) => edit.apply(&mut job.cavity.pockets),
            Edit::FactoryPlug(edit) => edit.apply(&mut job.cavity.factory_plugs),
            Edit::Unit(unit) => job.unit = unit,
            Edit::Mount(mount) => job.mount = mount,
            Edit::Lead(edit) => {
                edit.apply(&mut job.leads);
                tidy(job);
            }
            Edit::Module(edit) => edit.apply(&mut job.modules),
            Edit::Loom(exit, edit) => edit.apply(&exit, job),
            Edit::Trim(edit) => edit.apply(&mut job.trims),
            Edit::Trims(trims) => job.trims = trims,
            Edit::Cutting(cutting) => job.cutting = *cutting,
            Edit::Through(lead, edit) => edit.apply(&lead, job),
            Edit::Everything(whole) => *job = *whole,
        }
    }
}

/// A step of the work, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// The hole and everything in it.
    Cavity,
    /// The unit to seat.
    Unit,
    /// What holds it.
    Mount,
    /// What plugs into it.
    Leads,
    /// Interface modules.
    Modules,
    /// Leads that leave together.
    Looms,
    /// What comes of it.
    Verdict,
    /// What is cut so that it goes in.
    Trim,
}

impl Step {
    /// How many there are.
    pub const COUNT: usize = 8;

    /// All of them, in order.
    pub const ALL: [Step; Step::COUNT] = [
        Step::Cavity,
        Step::Unit,
        Step::Mount,
        Step::Leads,
        Step::Modules,
        Step::Looms,
        Step::Verdict,
        Step::Trim,
    ];

    /// What it is called.
    pub fn word(self) -> &'static str {
        match self {
            Step::Cavity => "Cavity",
            Step::Unit => "Unit",
            Step::Mount => "Mount",
            Step::Leads => "Leads",
            Step::Modules => "Modules",
            Step::Looms => "Looms",
            Step::Verdict => "Verdict",
            Step::Trim => "Trim",
        }
    }
}

/// A thing of the job that can be pointed at and chosen, by its id.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Target {
    /// The opening in the dash face.
    Opening,
    /// The walls of the cavity.
    Walls,
    /// An obstacle.
    Obstacle(String),
    /// An exit.
    Exit(String),
    /// A space outside the cavity.
    Space(String),
    /// A pocket in the cavity.
    Pocket(String),
    /// A plug of the factory loom.
    FactoryPlug(String),
    /// The unit: chassis, nose, face.
    Unit,
    /// The mount: brackets, sleeve, kit pocket.
    Mount,
    /// A break-off tab of the mount.
    Tab(String),
    /// A lead: its plug and cable.
    Lead(String),
    /// A module.
    Module(String),
}

impl Target {
    /// Whether it is one of a dozen of a kind, named on the drawing only while it matters.
    pub fn is_one_of_many(&self) -> bool {
        matches!(self, Target::Obstacle(id) if profiles::behind::is_id_behind(id))
    }

    /// The step its form belongs to.
    pub fn step(&self) -> Step {
        match self {
            Target::Opening
            | Target::Walls
            | Target::Obstacle(_)
            | Target::Exit(_)
            | Target::Space(_)
            | Target::Pocket(_)
            | Target::FactoryPlug(_) => Step::Cavity,
            Target::Unit => Step::Unit,
            Target::Mount | Target::Tab(_) => Step::Mount,
            Target::Lead(_) => Step::Leads,
            Target::Module(_) => Step::Modules,
        }
    }
}

/// Where the turned view is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnedShown {
    /// Not at all.
    Away,
    /// Beside the sections.
    Beside,
    /// Alone.
    Alone,
}

/// Kinds of things one may want to see through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kinds {
    /// The unit and its mount.
    Unit,
    /// Obstacles, factory plugs, tabs.
    Obstacles,
}

/// What opens below the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Menu {
    /// The steps of the history.
    WhatWasDone,
    /// All actions, with their keys.
    AllActions,
    /// Paper, scale, size of targets.
    Look,
}

/// Light or dark paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PaperChoice {
    /// As the system is set.
    #[default]
    FollowSystem,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

/// What may be asked of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DrawingAsk {
    /// Show a layer, or leave it out.
    Layer(Layer, bool),
    /// Show the key of hatches, or fold it away.
    Key(bool),
    /// Measure between points, or no longer.
    Measure(bool),
    /// Take a measuring line away, by its number from 0.
    RemoveLine(usize),
    /// Take all measuring lines away.
    RemoveLines,
}

/// Anything a panel may ask for.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// Change the document; edits with the same gesture are one step.
    Edit(Edit, Option<Gesture>),
    /// A gesture has ended.
    Settle,
    /// Take a step back.
    Undo,
    /// Take it again.
    Redo,
    /// Light this up everywhere.
    Point(Target),
    /// Choose this and open its form.
    Choose(Target),
    /// Show the loom of an exit (its id).
    Loom(String),
    /// Mark a lead of the loom (its id), or take the mark away.
    Mark(String),
    /// Open or shut a step of the job card.
    Step(Option<Step>),
    /// Open or shut the quick answer.
    Quick(bool),
    /// Open or shut the guided entry.
    Guide(bool),
    /// Show or put away the short walk of the drawing.
    Walk(bool),
    /// Open the step of the cavity at what is behind each socket.
    BehindSockets,
    /// Put a view's cutting plane here, mm.
    CutAt(View, f64),
    /// Put all cutting planes through this.
    CutThrough(Target),
    /// Change what of the drawing is shown, or measure on it.
    Drawing(DrawingAsk),
    /// Show everything.
    ShowAll,
    /// Show one view alone, or all three.
    Alone(Option<View>),
    /// Show the turned view alone, beside the sections, or not at all.
    Turned(TurnedShown),
    /// Make things of a kind solid or see-through in the turned view.
    SeeThrough(Kinds, bool),
    /// Lay the leads whenever the job changes, or leave it.
    Lay(bool),
    /// Look for the least cut.
    LookForCuts,
    /// Stop looking for it.
    StopLookingForCuts,
    /// Show a rib (its id) on the bench.
    Rib(String),
    /// Stop laying leads.
    StopLaying,
    /// Lay them after all.
    GoOnLaying,
    /// Read another file.
    Open,
    /// Write the file.
    Save,
    /// Write another file.
    SaveAs,
    /// Begin from a job that comes with the program.
    Begin(String),
    /// Begin from nothing: an opening, a unit, no leads.
    BeginEmpty,
    /// Show lengths in these units.
    Show(Figures),
    /// Change the paper.
    Paper(PaperChoice),
    /// Larger words and targets.
    Large(bool),
    /// Scale everything, percent.
    Scale(u32),
    /// Go to where so many steps are done.
    GoTo(usize),
    /// Read this file.
    OpenPath(std::path::PathBuf),
    /// Read the job's file again.
    ReadAgain,
    /// Open a menu below the bar.
    Menu(Menu),
    /// Put the keyboard on the line that asks something.
    ToLine,
    /// Close the window.
    Quit,
}

#[cfg(test)]
pub(crate) fn sample_job() -> JobFile {
    use profiles::Length;
    JobFile {
        format: FORMAT,
        name: "sample".to_owned(),
        notes: String::new(),
        proud_limit_mm: None,
        enter_tilt_deg: None,
        bend_rules: BendRules::Published,
        cavity: CavityFile {
            opening: OpeningFile {
                width: Length::mm(184.0),
                height: Length::mm(106.0),
                corner_radius: None,
            },
            seat_plane: None,
            finished_face: None,
            face_rake: RakeFile::default(),
            slide_dip_deg: 0.0,
            clear: None,
            slide_gap: None,
            stations: Vec::new(),
            closed: false,
            obstacles: Vec::new(),
            exits: Vec::new(),
            spaces: Vec::new(),
            pockets: Vec::new(),
            factory_plugs: Vec::new(),
        },
        unit: PartUse::Named("a unit".to_owned()),
        mount: PartUse::Named("a mount".to_owned()),
        leads: Vec::new(),
        looms: Vec::new(),
        modules: Vec::new(),
        trims: Vec::new(),
        rib_loads: Vec::new(),
        cutting: Default::default(),
        alternatives: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn list_edits_outside_the_list_do_nothing() {
        let mut job = sample_job();
        Edit::Lead(ListEdit::Remove(3)).apply(&mut job);
        assert_eq!(job, sample_job());
    }

    #[test]
    fn a_list_is_changed_in_its_middle() {
        let mut list = vec!['a', 'b', 'c'];
        ListEdit::Move(2, 0).apply(&mut list);
        assert_eq!(list, ['c', 'a', 'b']);
        ListEdit::insert(1, 'x').apply(&mut list);
        assert_eq!(list, ['c', 'x', 'a', 'b']);
        ListEdit::<char>::Move(0, 4).apply(&mut list);
        assert_eq!(list, ['c', 'x', 'a', 'b']);
    }

    #[test]
    fn the_frame_of_the_cavity_leaves_its_lists_alone() {
        let mut job = sample_job();
        let mut frame = job.cavity.clone();
        job.cavity.stations.push(StationFile {
            at: profiles::Length::mm(0.0),
            left: None,
            right: None,
            up: None,
            down: None,
            outline: Vec::new(),
            to_next: RunFile::Blended,
        });
        frame.closed = true;
        Edit::Cavity(Box::new(frame)).apply(&mut job);
        assert!(job.cavity.closed);
        assert_eq!(job.cavity.stations.len(), 1);
    }
}

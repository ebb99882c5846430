//! Laid leads as they are drawn, and what is said of them.

use std::sync::Arc;

use geometry::section::centreline;
use geometry::{
    Job, LoomAt, ModulePlace, ModuleSeat, Path, Route, Routed, Solid, Verdict, path_to_solid,
};
use glam::DVec3;

use super::facts::Fact;
use super::steps::NOT_MEASURED;
use super::{Known, Model, Part, Thing, clashes};
use crate::desk::canvas::hatch::Hatch;
use crate::desk::edit::{Step, Target};
use crate::desk::laying::{LaidJob, Stage};
use crate::desk::theme::Tone;
use crate::figures::Figures;
use crate::words;

/// The leads of a job as they were laid.
#[derive(Clone, Debug)]
pub struct Laid {
    /// The answer they come from.
    pub of: Arc<LaidJob>,
    /// Whether the job has changed since.
    pub stale: bool,
    /// Whether there is anything to go by: a lead laid, or all measured.
    pub known: bool,
    /// Their ways.
    pub ways: Vec<Way>,
    /// The leads of each exit where they pass it.
    pub rings: Vec<LoomRing>,
    /// The verdict, as a sentence.
    pub headline: String,
    /// What goes with it.
    pub second_line: String,
    /// The quick rule's figure, and why it differs.
    pub beside: String,
}

impl Laid {
    /// How far out the unit stands where these leads are laid, mm.
    pub fn stands_at(&self) -> Option<f64> {
        let routed = &self.of.routed;
        let any = routed.proud.is_some() || !routed.routes.is_empty();
        any.then_some(routed.laid_at)
    }
}

/// The way of one lead.
#[derive(Clone, Debug)]
pub struct Way {
    /// The lead.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// Outside diameter, mm.
    pub od: f64,
    /// Its middle.
    pub path: Path,
    /// The same as points, mm.
    pub line: Vec<DVec3>,
}

/// The circle around the leads of an exit where they pass it.
#[derive(Clone, Debug)]
pub struct LoomRing {
    /// The exit.
    pub exit: Target,
    /// Its diameter, mm.
    pub diameter: f64,
    /// Points of it, the last as the first, mm.
    pub line: Vec<DVec3>,
}

/// A point that a lead is to pass.
#[derive(Clone, Debug)]
pub struct Pin {
    /// The lead.
    pub target: Target,
    /// Its number among the lead's points, from 0.
    pub number: usize,
    /// Where, mm.
    pub at: DVec3,
}

/// A pocket and what lies in it.
#[derive(Clone, Debug)]
pub struct Pocket {
    /// The pocket.
    pub target: Target,
    /// What the installer calls it.
    pub name: String,
    /// Lowest and highest corner, mm.
    pub room: [DVec3; 2],
    /// Share of it that slack takes; `None` where no lead was laid.
    pub fill: Option<f64>,
}

/// Most that the drawn middle of a lead strays from its path, mm.
const CHORD: f64 = 0.15;

impl Model {
    /// Takes laid leads into the picture, and puts the unit where they let it stand.
    pub fn lay(&mut self, of: &Arc<LaidJob>, figures: Figures) {
        let (Some(job), Some(fit)) = (&self.job, &self.fit) else {
            return;
        };
        let routed = &of.routed;
        let stale = of.job != *job;
        if !stale
            && fit.proud.is_some()
            && let Some(layout) = &self.layout
        {
            let stops = routed.stopped_by.iter();
            self.clashes = stops
                .filter_map(|stop| clashes::clash(stop, layout))
                .collect();
        }
        let layout = self.layout.as_ref();
        let over = (of.ends().filter(|_| !stale).zip(layout))
            .map(|(ends, layout)| routed.over(job, layout, fit, ends));
        let first = of.stage == Stage::AtOneProud;
        let ways = routed.routes.iter().map(|route| Way {
            target: Target::Lead(route.lead.clone()),
            name: route.name.clone(),
            od: route.od,
            line: centreline(&route.path, CHORD),
            path: route.path.clone(),
        });
        let known = !words::routed::nothing_known(fit, routed);
        let second_line =
            || words::routed::second_line(routed, over.as_ref(), job.proud_limit, figures);
        let beside = || words::routed::beside(fit, routed, self.passes(of), figures);
        self.laid = Some(Laid {
            of: of.clone(),
            stale,
            known,
            ways: ways.collect(),
            rings: routed.looms.iter().map(loom_ring).collect(),
            headline: words::routed::headline(fit, routed, over.as_ref(), first, figures),
            second_line: match known {
                true => second_line(),
                false => words::routed::NOTHING_KNOWN.to_owned(),
            },
            beside: if known { beside() } else { String::new() },
        });
        self.pass_ribs();
        self.judge_steps();
        self.stand();
    }

    /// What the steps of the verdict and the trimming lack, by the laid leads.
    fn judge_steps(&mut self) {
        let Some(laid) = self.laid_verdict() else {
            return;
        };
        let seats = laid.of.routed.verdict != Verdict::Blocked;
        for step in [Step::Verdict, Step::Trim] {
            let lacks = &mut self.steps[step as usize].lacks;
            if seats {
                lacks.retain(|lack| lack == NOT_MEASURED);
            } else if step == Step::Verdict {
                *lacks = vec!["does not seat like this".to_owned()];
            }
        }
    }

    /// The laid leads, when they are of the job as it stands.
    pub fn laid_now(&self) -> Option<&Laid> {
        self.laid.as_ref().filter(|laid| !laid.stale)
    }

    /// The laid leads, when the verdict may rest on them: they are of the job as
    /// it stands, and the unit goes through its opening.
    pub fn laid_verdict(&self) -> Option<&Laid> {
        let straight = self.fit.as_ref().is_some_and(|fit| fit.proud.is_some());
        let goes_in = |laid: &&Laid| straight || laid.of.routed.proud.is_some();
        self.laid_now().filter(goes_in)
    }

    /// The verdict shown: of the laid leads, else of the quick rule; `None` while
    /// there is nothing to go by.
    pub fn verdict(&self) -> Option<Verdict> {
        if let Some(laid) = self.laid_verdict() {
            return laid.known.then_some(laid.of.routed.verdict);
        }
        let fit = self.fit.as_ref()?;
        let known = fit.unmeasured.is_empty() || fit.margin.is_finite();
        (known || fit.verdict != Verdict::Flush).then_some(fit.verdict)
    }

    /// How far the lead that the quick rule names passes from what it names, mm.
    fn passes(&self, of: &LaidJob) -> Option<f64> {
        let stop = self.fit.as_ref()?.stopped_by.first()?;
        let route = of
            .routed
            .routes
            .iter()
            .find(|route| route.lead == stop.piece_id)?;
        let fixed = &self.layout.as_ref()?.fixed;
        let named = fixed.iter().filter(|fixed| fixed.id == stop.against_id);
        let gaps = named.filter_map(|fixed| path_to_solid(&route.path, &fixed.solid));
        gaps.map(|near| near.distance - 0.5 * route.od)
            .reduce(f64::min)
    }

    /// Modules that may move, where the search put them.
    pub(super) fn placed_modules(&self) -> Vec<Thing> {
        let (Some(laid), Some(job)) = (&self.laid, &self.job) else {
            return Vec::new();
        };
        let movable = |id: &str| {
            let mut modules = job.modules.iter();
            modules.any(|module| module.id == id && matches!(module.place, ModulePlace::Movable(_)))
        };
        let placed = laid
            .of
            .routed
            .modules
            .iter()
            .filter(|it| movable(&it.module));
        placed
            .filter_map(|it| match it.place {
                ModuleSeat::Cavity { centre, size } => Some(Thing {
                    target: Target::Module(it.module.clone()),
                    name: it.name.clone(),
                    part: Part::Fixed,
                    tone: Tone::Module,
                    hatch: Hatch::FallingClose,
                    known: Known::Placed,
                    solid: Solid::block(centre - 0.5 * size, centre + 0.5 * size),
                }),
                ModuleSeat::Space(_) => None,
            })
            .collect()
    }

    /// Every pocket of the job.
    pub(super) fn all_pockets(&self) -> Vec<Pocket> {
        let pockets = self.job.iter().flat_map(|job| &job.cavity.pockets);
        let fill = |id: &str| {
            let mut fills = self.laid.as_ref()?.of.routed.stow.fills.iter();
            fills.find(|fill| fill.pocket == id).map(|fill| fill.fill)
        };
        pockets
            .map(|pocket| {
                let low = pocket.faces.map(|[low, _]| low.value());
                let high = pocket.faces.map(|[_, high]| high.value());
                Pocket {
                    target: Target::Pocket(pocket.id.clone()),
                    name: pocket.name.clone(),
                    room: [DVec3::from(low), DVec3::from(high)],
                    fill: fill(&pocket.id),
                }
            })
            .collect()
    }
}

/// What laid leads add to the facts of a target.
pub fn facts(model: &Model, target: &Target) -> Vec<Fact> {
    let Some(laid) = &model.laid else {
        return Vec::new();
    };
    let routed = &laid.of.routed;
    let mut facts = match target {
        Target::Lead(id) => {
            let routes: Vec<&Route> = routed.routes.iter().filter(|it| it.lead == *id).collect();
            let mut facts = Vec::new();
            for route in &routes {
                if routes.len() > 1 {
                    let which = format!("{} of {}", route.cable + 1, routes.len());
                    facts.push(Fact::words("cable", which));
                }
                facts.extend(route_facts(route));
            }
            let exit = routes.first().and_then(|route| route.exit.as_ref());
            if let Some(loom) = exit.and_then(|exit| model.loom(exit)) {
                facts.push(Fact::length("leaves in a loom of", loom.diameter.into()));
            }
            facts
        }
        Target::Exit(id) => (routed.looms.iter().filter(|it| it.exit == *id))
            .map(|it| Fact::length("leads as laid fill", it.diameter.into()))
            .collect(),
        Target::Module(id) => module_facts(routed, id),
        Target::Pocket(id) => (routed.stow.fills.iter().filter(|it| it.pocket == *id))
            .map(|it| Fact::words("slack fills", format!("{:.0} %", 100.0 * it.fill)))
            .collect(),
        _ => Vec::new(),
    };
    if laid.stale && !facts.is_empty() {
        facts.push(Fact::words("", "laid of an earlier state"));
    }
    facts
}

fn module_facts(routed: &Routed, id: &str) -> Vec<Fact> {
    let Some(module) = routed.modules.iter().find(|it| it.module == id) else {
        return Vec::new();
    };
    match (&module.place, &module.mounted_on) {
        (ModuleSeat::Space(space), _) => vec![Fact::words("goes into", space.clone())],
        (ModuleSeat::Cavity { centre, .. }, Some(on)) => {
            let name = on.name.split(',').next().unwrap_or(&on.name);
            vec![
                Fact::words("fixed to", name),
                Fact::length("its middle, in", centre.y.into()),
                Fact::length("across", centre.x.into()),
                Fact::length("up", centre.z.into()),
            ]
        }
        (ModuleSeat::Cavity { .. }, None) => Vec::new(),
    }
}

fn route_facts(route: &Route) -> Vec<Fact> {
    let mut facts = vec![Fact::length("laid: way", route.length.into())];
    match route.least_radius {
        Some(radius) => {
            facts.push(Fact::length("tightest bend", radius.into()));
        }
        None => facts.push(Fact::words("", "no bend")),
    }
    if let Some(near) = &route.nearest {
        // "floor, depth 200 to 225": where on the floor can be seen.
        let name = near.name.split(',').next().unwrap_or(&near.name);
        facts.push(Fact::length(
            &format!("least gap to the {name}"),
            near.gap.into(),
        ));
        facts.push(Fact::length("to spare there", near.spare.into()));
    }
    match &route.slack {
        Some(slack) if slack.short_by > 0.0 => {
            facts.push(Fact::length("too short by", slack.short_by.into()))
        }
        Some(slack) => facts.push(Fact::length("slack", slack.slack.into())),
        None => facts.push(Fact::words("slack", "not known: its length is not")),
    }
    facts
}

/// The circle of a loom as points.
fn loom_ring(loom: &LoomAt) -> LoomRing {
    const SIDES: u32 = 48;
    let (one, other) = loom.way.any_orthonormal_pair();
    let point = |side: u32| {
        let turn = std::f64::consts::TAU * f64::from(side) / f64::from(SIDES);
        loom.centre + 0.5 * loom.diameter * (turn.cos() * one + turn.sin() * other)
    };
    LoomRing {
        exit: Target::Exit(loom.exit.clone()),
        diameter: loom.diameter,
        line: (0..=SIDES).map(point).collect(),
    }
}

/// Every point that a lead of a job is to pass.
pub(super) fn pins(job: &Job) -> Vec<Pin> {
    let leads = job.leads.iter();
    leads
        .flat_map(|lead| {
            let points = lead.through.iter().enumerate();
            points.map(|(number, &at)| Pin {
                target: Target::Lead(lead.id.clone()),
                number,
                at,
            })
        })
        .collect()
}

/// What a lead's laid way comes to, in a few short lines: its name first.
/// Nothing for anything else, and for leads that are not laid.
pub fn lead_note(model: &Model, target: &Target, figures: Figures) -> Vec<String> {
    let mut lines = route_lines(model, target, figures);
    let name = model.laid.as_ref().and_then(|laid| {
        let mut ways = laid.ways.iter();
        ways.find(|way| way.target == *target)
    });
    if let Some(way) = name.filter(|_| !lines.is_empty()) {
        lines.insert(0, way.name.clone());
    }
    lines
}

/// The same without the name.
pub fn route_lines(model: &Model, target: &Target, figures: Figures) -> Vec<String> {
    let (Some(laid), Target::Lead(id)) = (&model.laid, target) else {
        return Vec::new();
    };
    let routes = laid.of.routed.routes.iter();
    let routes: Vec<&Route> = routes.filter(|route| route.lead == *id).collect();
    let mut lines = Vec::new();
    for route in &routes {
        let text = words::routed::route_lines(route, figures);
        if routes.len() > 1 {
            lines.push(format!("Cable {} of {}:", route.cable + 1, routes.len()));
        }
        lines.extend(text);
    }
    if laid.stale && !lines.is_empty() {
        lines.push("Laid of an earlier state.".to_owned());
    }
    lines
}

//! Everything that stays: obstacles, pinned modules, unused factory plugs, tabs.

use glam::{DVec2, DVec3};

use crate::frame::{Pose, basis_along, turn_from_degrees};
use crate::job::{
    Cut, FactoryPlug, Form, Hold, Job, MaterialFamily, ModulePlace, Tab, TabDecision, Trim,
};
use crate::layout::{Fixed, FixedClass};
use crate::measure::{Harm, Measure, Reading};
use crate::solids::{Outline, Solid};
use crate::trimming::{as_cut, carried_out};

/// Everything of a job that stays, in place: obstacles, pinned modules, unused
/// factory plugs, and tabs or their stubs.
///
/// * `reading`: which end of every measure's band to build with
pub fn solids(job: &Job, reading: Reading) -> Vec<Fixed> {
    let trims: Vec<Trim> = carried_out(job).into_iter().cloned().collect();
    let mut fixed: Vec<Fixed> = job
        .cavity
        .obstacles
        .iter()
        .map(|obstacle| Fixed {
            id: obstacle.id.clone(),
            name: obstacle.name.clone(),
            class: FixedClass::Obstacle(obstacle.kind),
            family: obstacle.material.family,
            solid: as_cut(obstacle, &trims, job.cutting.edge_trim, reading),
            clear: obstacle.clear,
            cut: obstacle.cut().clone(),
        })
        .collect();
    for module in &job.modules {
        if let ModulePlace::Pinned(faces) = &module.place {
            fixed.push(Fixed {
                id: module.id.clone(),
                name: module.name.clone(),
                class: FixedClass::Module,
                family: MaterialFamily::Plastic,
                solid: block(faces, reading),
                clear: module.clear,
                cut: Cut::Never,
            });
        }
    }
    fixed.extend(
        job.cavity
            .factory_plugs
            .iter()
            .filter(|plug| !plug.used)
            .map(factory_plug),
    );
    if let Hold::KitPocket { tabs, .. } = &job.mount.hold {
        fixed.extend(tabs.iter().map(|tab| self::tab(tab, reading)));
    }
    fixed
}

/// A box by its faces, each at the end of its band that fills the most room
/// (the least, at the best reading). A band wider than the box leaves a plate.
fn block(faces: &[[Measure; 2]; 3], reading: Reading) -> Solid {
    let low = DVec3::from_array([0, 1, 2].map(|axis| faces[axis][0].at(reading, Harm::Smaller)));
    let high = DVec3::from_array([0, 1, 2].map(|axis| faces[axis][1].at(reading, Harm::Larger)));
    Solid::block(low.min(high), low.max(high))
}

/// The solid of an obstacle at a reading.
pub fn solid(form: &Form, reading: Reading) -> Solid {
    match form {
        Form::Block {
            across,
            depth,
            up,
            turned,
        } => {
            let solid = block(&[*across, *depth, *up], reading);
            turned_about_centre(solid, *turned)
        }
        Form::Cylinder { from, to, diameter } => {
            // What is not known of its ends is room it may fill all round.
            let ends = from
                .iter()
                .chain(to)
                .map(Measure::plus_minus)
                .fold(0.0, f64::max);
            let grown = match reading {
                Reading::Nominal => 0.0,
                Reading::Worst => ends,
                Reading::Best => -ends,
            };
            let [from, to] = [from, to].map(|end| DVec3::from_array(end.map(|m| m.value())));
            let along = (to - from).normalize_or_zero();
            let reach = grown.max(-0.5 * from.distance(to));
            Solid::cylinder(
                from - reach * along,
                to + reach * along,
                (diameter.at(reading, Harm::Larger) + 2.0 * grown).max(0.0),
            )
        }
        Form::Outline {
            plane,
            corners,
            along,
            turned,
        } => {
            let [low, high] = [
                along[0].at(reading, Harm::Smaller),
                along[1].at(reading, Harm::Larger),
            ];
            let along = [low.min(high), low.max(high)];
            let solid = match Outline::new(corners.clone()) {
                Ok(outline) => Solid::prism(&outline, *plane, along),
                // Files with such outlines are refused; a solid made in code keeps its hull.
                Err(_) => Solid::prism(&hull_outline(corners), *plane, along),
            };
            turned_about_centre(solid, *turned)
        }
    }
}

fn hull_outline(corners: &[DVec2]) -> Outline {
    let low = corners
        .iter()
        .copied()
        .reduce(DVec2::min)
        .unwrap_or_default();
    let high = corners
        .iter()
        .copied()
        .reduce(DVec2::max)
        .unwrap_or_default()
        + DVec2::splat(1e-3);
    let corners = vec![
        low,
        DVec2::new(high.x, low.y),
        high,
        DVec2::new(low.x, high.y),
    ];
    Outline::new(corners).expect("a rectangle is an outline")
}

fn turned_about_centre(solid: Solid, degrees: DVec3) -> Solid {
    if degrees == DVec3::ZERO {
        solid
    } else {
        solid.turned_about_centre(turn_from_degrees(degrees))
    }
}

/// The body of a factory plug, behind its mating face.
pub fn factory_plug_solid(plug: &FactoryPlug) -> Solid {
    let half = 0.5 * plug.size;
    let pose = Pose {
        turn: basis_along(plug.direction),
        shift: plug.at - half.z * plug.direction,
    };
    Solid::block(-half, half).posed(&pose)
}

/// A factory plug that nobody uses.
fn factory_plug(plug: &FactoryPlug) -> Fixed {
    Fixed {
        id: plug.id.clone(),
        name: plug.name.clone(),
        class: FixedClass::FactoryPlug,
        family: MaterialFamily::Plastic,
        solid: factory_plug_solid(plug),
        clear: plug.clear,
        cut: Cut::Never,
    }
}

/// A tab that stays, or the stub of one that comes off. One that nobody has
/// decided on stays, except at the best reading.
fn tab(tab: &Tab, reading: Reading) -> Fixed {
    let stays = match tab.decision {
        TabDecision::Keep => true,
        TabDecision::Remove => false,
        TabDecision::NotSure => reading != Reading::Best,
    };
    let faces = if stays { tab.faces } else { tab.stub() };
    Fixed {
        id: tab.id.clone(),
        name: tab.name.clone(),
        class: FixedClass::Tab,
        family: MaterialFamily::Plastic,
        solid: Solid::block(
            DVec3::from_array(faces.map(|face| face[0])),
            DVec3::from_array(faces.map(|face| face[1])),
        ),
        clear: 0.0,
        cut: Cut::Never,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;

    #[test]
    fn a_worst_box_is_larger_on_every_side_that_has_a_band() {
        let faces = [
            [Measure::exact(-98.0), Measure::exact(98.0)],
            [Measure::within(212.0, 2.0), Measure::exact(214.5)],
            [Measure::exact(-12.0), Measure::exact(26.0)],
        ];
        assert_eq!(block(&faces, Reading::Worst).bounds().min.y, 210.0);
        assert_eq!(block(&faces, Reading::Best).bounds().min.y, 214.0);
        assert_eq!(block(&faces, Reading::Nominal).bounds().max.y, 214.5);
    }

    #[test]
    fn a_removed_tab_leaves_a_stub_on_its_root() {
        let it = Tab {
            id: "t".into(),
            name: "upper left".into(),
            faces: [[-92.0, -88.0], [10.0, 14.0], [30.0, 40.0]],
            decision: TabDecision::Remove,
            grows_from: Side::Left,
        };
        let stub = tab(&it, Reading::Nominal).solid.bounds();
        assert_eq!((stub.min.x, stub.max.x), (-92.0, -91.5));
    }
}

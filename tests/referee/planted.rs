//! Faults planted in the hidden answer of a whole cavity.

use std::collections::BTreeSet;

use acceptance::hidden::{Hidden, answer_json_of, hidden_job};
use acceptance::referee::{Rule, judge};
use glam::DVec3;
use seatwell::answer::PlainJob;
use serde_json::{Value, json};

/// A cavity with its answer, as JSON.
struct Case {
    plain: Value,
    answer: Value,
}

fn case() -> Case {
    let Hidden { job, answer, .. } = hidden_job(0);
    Case {
        plain: serde_json::to_value(PlainJob::of(&job)).expect("plain jobs are JSON"),
        answer: answer_json_of(&answer),
    }
}

/// The rules that a change of the case breaks.
fn broken(change: impl Fn(&mut Value, &mut Value)) -> BTreeSet<Rule> {
    let Case {
        mut plain,
        mut answer,
    } = case();
    change(&mut plain, &mut answer);
    judge(&plain, &answer)
        .iter()
        .map(|found| found.rule)
        .collect()
}

fn point(value: &Value) -> DVec3 {
    let number = |axis: usize| value[axis].as_f64().expect("a number");
    DVec3::new(number(0), number(1), number(2))
}

/// Every point of a path, moved.
fn shift(path: &mut Value, by: DVec3) {
    let moved = |value: &mut Value| *value = json!((point(value) + by).to_array());
    for piece in path.as_array_mut().expect("a path") {
        if piece["line"].is_array() {
            moved(&mut piece["line"][0]);
            moved(&mut piece["line"][1]);
        } else {
            for key in ["from", "to", "centre"] {
                moved(&mut piece["arc"][key]);
            }
        }
    }
}

/// Number of the first arc of a path that turns enough to be cut short.
fn first_arc(path: &Value) -> usize {
    let pieces = path.as_array().expect("a path");
    let bent = |piece: &Value| {
        let arc = &piece["arc"];
        arc.is_object() && point(&arc["from"]).distance(point(&arc["to"])) > 10.0
    };
    pieces.iter().position(bent).expect("an arc")
}

/// The corner that an arc rounds, and the arc's ends.
fn corner(arc: &Value) -> [DVec3; 3] {
    let (from, to) = (point(&arc["from"]), point(&arc["to"]));
    let (centre, normal) = (point(&arc["centre"]), point(&arc["normal"]));
    let ahead = normal.cross(from - centre).normalize();
    let half = 0.5 * (from - centre).angle_between(to - centre);
    let leg = arc["radius_mm"].as_f64().expect("a radius") * half.tan();
    [from, from + leg * ahead, to]
}

#[test]
fn the_hidden_answer_passes() {
    assert_eq!(broken(|_, _| {}), BTreeSet::new());
}

#[test]
fn a_route_shifted_by_two_millimetres() {
    let found = broken(|_, answer| {
        shift(&mut answer["routes"][0]["path"], DVec3::new(2.0, 0.0, 0.0));
    });
    assert!(found.contains(&Rule::Start), "{found:?}");
}

#[test]
fn an_arc_made_tighter() {
    let tighter = |share: f64| {
        move |_: &mut Value, answer: &mut Value| {
            let path = answer["routes"][0]["path"].as_array_mut().expect("a path");
            let at = first_arc(&json!(path));
            let arc = path[at]["arc"].clone();
            let [from, corner, to] = corner(&arc);
            let radius = share * arc["radius_mm"].as_f64().expect("a radius");
            let [near, far] = [from, to].map(|end| corner + share * (end - corner));
            let centre = corner + share * (point(&arc["centre"]) - corner);
            let tight = json!({ "arc": {
                "from": near.to_array(), "to": far.to_array(), "centre": centre.to_array(),
                "normal": arc["normal"], "radius_mm": radius,
            } });
            let line = |a: DVec3, b: DVec3| json!({ "line": [a.to_array(), b.to_array()] });
            path.splice(at..=at, [line(from, near), tight, line(far, to)]);
        }
    };
    let found = broken(tighter(0.6));
    assert!(found.contains(&Rule::TooTight), "{found:?}");
    assert!(
        !found.contains(&Rule::Kink) && !found.contains(&Rule::Arc),
        "{found:?}"
    );
    // A radius that is only stated too large is found out by three points.
    let found = broken(|plain, answer| {
        tighter(0.6)(plain, answer);
        for piece in answer["routes"][0]["path"].as_array_mut().expect("a path") {
            if piece["arc"].is_object() {
                piece["arc"]["radius_mm"] = json!(500.0);
            }
        }
    });
    assert!(
        found.contains(&Rule::TooTight) && found.contains(&Rule::Arc),
        "{found:?}"
    );
}

#[test]
fn a_corner_left_sharp() {
    let found = broken(|_, answer| {
        let path = answer["routes"][0]["path"].as_array_mut().expect("a path");
        let at = first_arc(&json!(path));
        let [from, corner, to] = corner(&path[at]["arc"]).map(|point| point.to_array());
        path.splice(
            at..=at,
            [
                json!({ "line": [from, corner] }),
                json!({ "line": [corner, to] }),
            ],
        );
    });
    assert!(
        found.contains(&Rule::Kink) && found.contains(&Rule::TooTight),
        "{found:?}"
    );
}

#[test]
fn a_piece_out_of_its_place() {
    let found = broken(|_, answer| {
        let mut rest = json!(answer["routes"][0]["path"].as_array().expect("a path")[1..]);
        shift(&mut rest, DVec3::new(0.0, 0.0, 0.3));
        let path = answer["routes"][0]["path"].as_array_mut().expect("a path");
        path.truncate(1);
        path.extend(rest.as_array().expect("a path").iter().cloned());
    });
    assert!(found.contains(&Rule::Gap), "{found:?}");
}

#[test]
fn an_end_cut_off() {
    for from_start in [false, true] {
        let found = broken(|_, answer| {
            let path = answer["routes"][0]["path"].as_array_mut().expect("a path");
            path.remove(if from_start { 0 } else { path.len() - 1 });
        });
        let rule = if from_start { Rule::Start } else { Rule::End };
        assert!(found.contains(&rule), "{found:?}");
    }
}

#[test]
fn one_lead_through_another() {
    let found = broken(|_, answer| {
        answer["routes"][1]["path"] = answer["routes"][0]["path"].clone();
    });
    assert!(found.contains(&Rule::LeadToLead), "{found:?}");
}

#[test]
fn routes_and_modules_that_are_not_there() {
    let no_route = broken(|_, answer| {
        answer["routes"].as_array_mut().expect("routes").remove(3);
    });
    assert!(no_route.contains(&Rule::Missing), "{no_route:?}");
    let twice = broken(|_, answer| {
        let again = answer["routes"][3].clone();
        answer["routes"].as_array_mut().expect("routes").push(again);
    });
    assert!(twice.contains(&Rule::Missing), "{twice:?}");
    let no_module = broken(|_, answer| {
        answer["modules"].as_array_mut().expect("modules").remove(0);
    });
    assert!(no_module.contains(&Rule::Missing), "{no_module:?}");
}

#[test]
fn a_module_elsewhere_or_of_another_size() {
    let moved = broken(|_, answer| {
        let centre = point(&answer["modules"][0]["centre"]) + DVec3::new(0.0, -40.0, 0.0);
        answer["modules"][0]["centre"] = json!(centre.to_array());
    });
    assert!(moved.contains(&Rule::Module), "{moved:?}");
    let smaller = broken(|_, answer| {
        let size = point(&answer["modules"][0]["size_mm"]) - DVec3::new(0.0, 2.0, 0.0);
        answer["modules"][0]["size_mm"] = json!(size.to_array());
    });
    assert!(smaller.contains(&Rule::Module), "{smaller:?}");
}

#[test]
fn a_solid_that_asks_for_more_room() {
    let found = broken(|plain, _| {
        for fixed in plain["fixed"].as_array_mut().expect("solids") {
            fixed["clear_mm"] = json!(fixed["clear_mm"].as_f64().expect("a clear") + 2.5);
        }
    });
    assert!(found.contains(&Rule::Clearance), "{found:?}");
    let found = broken(|plain, _| plain["cavity"]["wall_clear_mm"] = json!(60.0));
    assert!(found.contains(&Rule::Clearance), "{found:?}");
}

#[test]
fn more_air_more_straight_run_less_length_less_room() {
    let rules = |rule: Rule, change: &dyn Fn(&mut Value)| {
        let found = broken(|plain, _| change(plain));
        assert!(found.contains(&rule), "{rule:?}: {found:?}");
    };
    rules(Rule::Vent, &|plain| {
        plain["unit"]["vent_air_mm"] = json!(60.0)
    });
    rules(Rule::StraightRun, &|plain| {
        plain["leads"][0]["straight_run_mm"] = json!(150.0);
    });
    rules(Rule::TooShort, &|plain| {
        plain["leads"][0]["length_mm"] = json!(60.0)
    });
    rules(Rule::TooTight, &|plain| {
        for rules in ["published", "shop"] {
            plain["leads"][0][rules]["stated"] = json!({ "radius_mm": 90.0 });
        }
    });
    rules(Rule::End, &|plain| {
        for exit in plain["exits"].as_array_mut().expect("exits") {
            exit["shape"]["round"]["diameter_mm"] = json!(2.0);
        }
    });
    rules(Rule::End, &|plain| {
        for exit in plain["exits"].as_array_mut().expect("exits") {
            let way = point(&exit["direction"]);
            let askew = way + 0.01 * way.any_orthonormal_vector();
            exit["direction"] = json!(askew.normalize().to_array());
        }
    });
    rules(Rule::Outside, &|plain| {
        for station in plain["cavity"]["stations"]
            .as_array_mut()
            .expect("stations")
        {
            for side in ["left_mm", "right_mm"] {
                station[side] = json!(30.0);
            }
        }
    });
}

#[test]
fn a_solid_where_the_unit_is() {
    let found = broken(|plain, _| {
        let chassis = plain["sliding"][0]["solid"].clone();
        plain["fixed"][0]["solid"] = chassis;
    });
    assert!(found.contains(&Rule::Unit), "{found:?}");
}

#[test]
fn figures_that_are_not_so() {
    for (key, figure) in [
        ("length_mm", 10.0),
        ("least_radius_mm", 400.0),
        ("od_mm", 0.5),
        ("rule_radius_mm", 1.0),
    ] {
        let found = broken(|_, answer| answer["routes"][0][key] = json!(figure));
        assert_eq!(found, BTreeSet::from([Rule::Misstated]), "{key}");
    }
}

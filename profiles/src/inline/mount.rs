//! The mount in plain numbers.

use geometry::{Hold, Measure, Mount, SideBracket, Tab};

use super::findings::{Field, Findings, Range};
use super::names::Names;
use super::shapes::span;
use super::unit::holes;
use crate::schema::{
    FactoryBracketsFile, KitPocketFile, MountPart, SideBracketFile, SleeveFile, TabFile,
};

/// The mount in plain numbers; `None` when it holds nothing, which is then among the faults.
pub(super) fn mount(
    part: &MountPart,
    at: &Field,
    names: &mut Names,
    findings: &mut Findings,
) -> Option<Mount> {
    let setback = findings.measure(
        &part.setback,
        &at.key("setback"),
        &format!("setback of the {}", part.name),
        Range::COORDINATE.or_within(-2.0, 5.0),
    );
    let hold = match (&part.factory_brackets, &part.sleeve, &part.kit_pocket) {
        (Some(file), None, None) => factory_brackets(file, &at.key("factory_brackets"), findings),
        (None, Some(file), None) => sleeve(file, &at.key("sleeve"), findings),
        (None, None, Some(file)) => kit_pocket(file, &at.key("kit_pocket"), names, findings),
        (brackets, sleeve, pocket) => {
            let given = [
                (brackets.is_some(), "factory_brackets"),
                (sleeve.is_some(), "sleeve"),
                (pocket.is_some(), "kit_pocket"),
            ];
            let found: Vec<&str> = given.iter().filter(|g| g.0).map(|g| g.1).collect();
            let found = if found.is_empty() {
                "nothing that holds the unit".to_owned()
            } else {
                found.join(" and ")
            };
            let allowed = "exactly one of factory_brackets, sleeve, kit_pocket";
            findings.error(at, found, allowed);
            return None;
        }
    };
    Some(Mount {
        id: part.id.clone(),
        name: part.name.clone(),
        setback,
        hold,
        takes_rear_support: part.takes_rear_support,
    })
}

fn factory_brackets(file: &FactoryBracketsFile, at: &Field, findings: &mut Findings) -> Hold {
    Hold::FactoryBrackets {
        bracket: side_bracket(&file.bracket, &at.key("bracket"), findings),
        holes: holes(&file.holes, &at.key("holes"), "brackets", findings),
        screw_head_height: findings.plain_or(
            file.screw_head_height.as_ref(),
            &at.key("screw_head_height"),
            "height of the screw heads",
            Range::ROOM,
            0.0,
        ),
        screw_head_diameter: findings.plain_or(
            file.screw_head_diameter.as_ref(),
            &at.key("screw_head_diameter"),
            "diameter of the screw heads",
            Range::SIZE,
            9.0,
        ),
    }
}

fn sleeve(file: &SleeveFile, at: &Field, findings: &mut Findings) -> Hold {
    Hold::Sleeve {
        wall: findings.measure(
            &file.wall,
            &at.key("wall"),
            "wall of the sleeve",
            Range::SIZE,
        ),
        depth: findings.plain(
            &file.depth,
            &at.key("depth"),
            "depth of the sleeve",
            Range::SIZE,
        ),
    }
}

fn kit_pocket(
    file: &KitPocketFile,
    at: &Field,
    names: &mut Names,
    findings: &mut Findings,
) -> Hold {
    let no_bracket = SideBracket {
        thickness: Measure::exact(0.0),
        height: 0.0,
        length: 0.0,
    };
    Hold::KitPocket {
        bracket: file.bracket.as_ref().map_or(no_bracket, |file| {
            side_bracket(file, &at.key("bracket"), findings)
        }),
        side_room: file.side_room.as_ref().map(|length| {
            let what = "room beside the plates of the kit";
            findings.measure(length, &at.key("side_room"), what, Range::ROOM)
        }),
        tabs: file
            .tabs
            .iter()
            .enumerate()
            .map(|(index, tab_file)| {
                let at = at.key("tabs").item(index);
                names.give(&tab_file.id, &tab_file.name, &at, findings);
                tab(tab_file, &at, findings)
            })
            .collect(),
    }
}

fn side_bracket(file: &SideBracketFile, at: &Field, findings: &mut Findings) -> SideBracket {
    SideBracket {
        thickness: findings.measure(
            &file.thickness,
            &at.key("thickness"),
            "thickness of the brackets",
            Range::ROOM,
        ),
        height: findings.plain(
            &file.height,
            &at.key("height"),
            "height of the brackets",
            Range::ROOM,
        ),
        length: findings.plain(
            &file.length,
            &at.key("length"),
            "length of the brackets",
            Range::ROOM,
        ),
    }
}

fn tab(file: &TabFile, at: &Field, findings: &mut Findings) -> Tab {
    let axes = [
        (&file.across, "across", ["left face", "right face"]),
        (&file.depth, "depth", ["near face", "far face"]),
        (&file.up, "up", ["lower face", "upper face"]),
    ];
    let faces = axes.map(|(ends, key, words)| {
        let at = at.key(key);
        span(ends, &at, words, &file.name, Range::COORDINATE, findings).map(|end| end.value())
    });
    Tab {
        id: file.id.clone(),
        name: file.name.clone(),
        faces,
        decision: file.decision.into(),
        grows_from: file.grows_from.into(),
    }
}

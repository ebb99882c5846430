//! Where a module lies, and what kept it from lying anywhere, in words.

use geometry::{LeftOver, Miss, ModuleAt, ModuleSeat};
use glam::DVec3;

use super::with_article;
use crate::figures::Figures;

/// Nearer to the middle than this is in the middle, mm.
const MIDDLE: f64 = 2.0;

/// "on the left wall, 95 mm in and 40 mm below the middle"
pub fn seat(module: &ModuleAt, figures: Figures) -> String {
    match (&module.place, &module.mounted_on) {
        (ModuleSeat::Space(space), _) => format!("in {space}"),
        (ModuleSeat::Cavity { centre, .. }, Some(on)) => format!(
            "{} {}, {}",
            if on.face.z > 0.5 { "under" } else { "on" },
            with_article(piece(&on.name)),
            along(*centre, on.face, figures)
        ),
        (ModuleSeat::Cavity { centre, .. }, None) => along(*centre, DVec3::ZERO, figures),
    }
}

/// Why something is left over, with the closest miss of a module.
pub fn why(left: &LeftOver, figures: Figures) -> String {
    match &left.closest_miss {
        Some(miss) => format!("{}; {}", left.why, self::miss(miss, figures)),
        None => left.why.clone(),
    }
}

/// "closest on the floor, 2.5 mm short of room against the rib"
fn miss(miss: &Miss, figures: Figures) -> String {
    let short = figures.length(miss.short);
    match (miss.place.as_str(), miss.against.as_str()) {
        ("", against) => format!("{short} too large for {}", with_article(against)),
        (place, "") => format!("misses {} by {short}", with_article(place)),
        (place, against) => format!(
            "closest at {}, {short} short of room against {}",
            with_article(piece(place)),
            with_article(piece(against))
        ),
    }
}

/// "floor, depth 200 to 225": the depth is told apart.
fn piece(name: &str) -> &str {
    name.split(',').next().unwrap_or(name)
}

/// A place in the two directions along the face it is fixed by.
fn along(at: DVec3, face: DVec3, figures: Figures) -> String {
    let mut parts = Vec::new();
    if face.y.abs() < 0.5 {
        parts.push(format!("{} in", figures.length(at.y)));
    }
    let aside = |at: f64, [less, more]: [&str; 2]| {
        if at.abs() < MIDDLE {
            return None;
        }
        let way = if at < 0.0 { less } else { more };
        Some(format!("{} {way} the middle", figures.length(at.abs())))
    };
    if face.x.abs() < 0.5 {
        parts.extend(aside(at.x, ["left of", "right of"]));
    }
    if face.z.abs() < 0.5 {
        parts.extend(aside(at.z, ["below", "above"]));
    }
    if parts.is_empty() {
        return "in the middle".to_owned();
    }
    parts.join(" and ")
}

#[cfg(test)]
mod tests {
    use geometry::MountedOn;

    use super::*;

    #[test]
    fn a_place_is_told_along_what_holds_the_module() {
        let mut at = ModuleAt {
            module: "M1".into(),
            name: "data module".into(),
            place: ModuleSeat::Cavity {
                centre: DVec3::new(-90.0, 95.0, -40.0),
                size: DVec3::new(18.0, 95.0, 60.0),
            },
            mounted_on: Some(MountedOn {
                face: DVec3::NEG_X,
                against: "wall".into(),
                name: "left wall, depth 60 to 120".into(),
                backed: 1.0,
            }),
        };
        let says = |at: &ModuleAt| seat(at, Figures::Millimetres);
        assert_eq!(
            says(&at),
            "on the left wall, 95 mm in and 40 mm below the middle"
        );
        at.mounted_on = None;
        assert_eq!(
            says(&at),
            "95 mm in and 90 mm left of the middle and 40 mm below the middle"
        );
        at.place = ModuleSeat::Space("GB1".into());
        assert_eq!(says(&at), "in GB1");
    }

    #[test]
    fn the_closest_miss_says_where_and_what_is_short() {
        let mut left = LeftOver {
            id: "M1".into(),
            name: "data module".into(),
            why: "no place found for it".into(),
            miss: None,
            closest_miss: Some(Miss {
                place: "floor, depth 200 to 260".into(),
                at: Some(DVec3::ZERO),
                against: "rib".into(),
                short: 1.0,
            }),
        };
        assert_eq!(
            why(&left, Figures::Millimetres),
            "no place found for it; closest at the floor, 1 mm short of room against the rib"
        );
        left.closest_miss = None;
        assert_eq!(why(&left, Figures::Millimetres), "no place found for it");
    }
}

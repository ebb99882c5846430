//! How the unit goes in, in sentences.

use geometry::slide_in::TiltAxis;
use geometry::{Barred, Routed, SlideIn, TiltedWay};

use super::with_article;
use crate::figures::Figures;

/// How the unit goes in, and why it stands no nearer its seat where it would
/// stand free there.
pub fn lines(routed: &Routed, figures: Figures) -> Vec<String> {
    let way = routed.slide_in.iter().map(|way| way_in(way, figures));
    let barred = routed.barred.iter().map(|no_way| barred(no_way, figures));
    way.chain(barred).collect()
}

/// "Enter tilted 7.5 degrees, rear low; level from depth 126 mm to 153 mm."
pub fn way_in(way: &SlideIn, figures: Figures) -> String {
    let Some(tilted) = &way.tilted else {
        return "Goes straight in.".to_owned();
    };
    let mut says = match tilted.rear {
        Some(rear) => format!(
            "Enter tilted {} degrees, rear {}; level from depth {} to {} (of its rear).",
            degrees(tilted.tilt),
            rear.word(),
            figures.length(tilted.level_from),
            figures.length(tilted.level_by)
        ),
        None => moved_aside(tilted, figures),
    };
    if let Some(tight) = &tilted.tightest {
        says += &format!(
            " Tightest: {} between the {} and {}.",
            figures.length(tight.gap),
            tight.piece,
            with_article(&tight.against)
        );
    }
    says
}

/// "Enter level, up to 3.5 mm lower than its seat, then in line."
fn moved_aside(tilted: &TiltedWay, figures: Figures) -> String {
    let asides = tilted.way.iter().map(|posture| posture.aside);
    let most = asides.fold(
        0.0,
        |most: f64, next| {
            if next.abs() > most.abs() { next } else { most }
        },
    );
    let word = match (tilted.axis, most > 0.0) {
        (TiltAxis::Across, true) => "higher than",
        (TiltAxis::Across, false) => "lower than",
        (TiltAxis::Up, true) => "to the right of",
        (TiltAxis::Up, false) => "to the left of",
    };
    format!(
        "Enter level, up to {} {word} its seat, then in line.",
        figures.length(most.abs())
    )
}

/// Why no way in was found to where it would stand free.
pub fn barred(barred: &Barred, figures: Figures) -> String {
    let place = if barred.proud > 0.0 {
        format!("At {} proud", figures.length(barred.proud))
    } else {
        "At its seat".to_owned()
    };
    let by = barred.by.as_ref().map_or(String::new(), |tight| {
        format!(
            ": the {} meets {}",
            tight.piece,
            with_article(&tight.against)
        )
    });
    format!(
        "{place} it would stand free, but no way in was found within {} degrees of tilt{by}.",
        degrees(barred.most_tilt)
    )
}

/// To a tenth, without a needless one.
fn degrees(radians: f64) -> String {
    format!("{}", (radians.to_degrees() * 10.0).round() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Posture;
    use geometry::slide_in::{Rear, Tight};

    fn tilted(rear: Option<Rear>, tilt: f64) -> SlideIn {
        let at = Posture {
            proud: 30.0,
            tilt: -tilt.to_radians(),
            aside: -2.5,
        };
        SlideIn {
            proud: 0.0,
            tilted: Some(TiltedWay {
                axis: TiltAxis::Across,
                way: vec![at, Posture::level(5.0), Posture::level(0.0)],
                tilt: tilt.to_radians(),
                rear,
                level_from: 60.0,
                level_by: 85.0,
                tightest: Some(Tight {
                    piece: "chassis".into(),
                    against: "lip".into(),
                    against_id: "L".into(),
                    gap: 0.5,
                    spare: 0.5,
                    at,
                }),
                spare_at_least: 0.3,
                checks: 10,
            }),
        }
    }

    #[test]
    fn a_tilted_way_says_how_steep_which_way_and_from_where_level() {
        assert_eq!(
            way_in(&tilted(Some(Rear::Low), 7.96), Figures::Millimetres),
            "Enter tilted 8 degrees, rear low; level from depth 60 mm to 85 mm (of its rear). \
             Tightest: 0.5 mm between the chassis and the lip."
        );
        assert!(
            way_in(&tilted(None, 0.0), Figures::Millimetres)
                .starts_with("Enter level, up to 2.5 mm lower than its seat, then in line.")
        );
        assert_eq!(
            way_in(&SlideIn::straight(0.0), Figures::Millimetres),
            "Goes straight in."
        );
    }

    #[test]
    fn no_way_found_is_not_said_to_be_none() {
        let no_way = Barred {
            proud: 0.0,
            most_tilt: 10f64.to_radians(),
            by: None,
            gave_up: false,
        };
        assert_eq!(
            barred(&no_way, Figures::Millimetres),
            "At its seat it would stand free, but no way in was found within 10 degrees of tilt."
        );
    }
}

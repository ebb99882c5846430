use geometry::Measure;
use proptest::prelude::*;

use super::Length;

fn value(text: &str) -> f64 {
    measure(text).value()
}

fn measure(text: &str) -> Measure {
    Length::parse(text).expect(text).measure().expect(text)
}

#[test]
fn a_bare_number_is_millimetres() {
    assert_eq!(value("182"), 182.0);
    assert_eq!(value("182.50"), 182.5);
    assert_eq!(value("182,5"), 182.5);
    assert_eq!(value(" .5 "), 0.5);
    assert_eq!(value("-3.2"), -3.2);
    assert_eq!(value("\u{2212}3"), -3.0);
    assert_eq!(value("+3"), 3.0);
}

#[test]
fn a_unit_may_be_named() {
    assert_eq!(value("182mm"), 182.0);
    assert_eq!(value("18.2cm"), 182.0);
    assert_eq!(value("18,2 cm"), 182.0);
    assert_eq!(value("0.182 m"), 182.0);
    assert_eq!(value("7.1 in"), 180.34);
    assert_eq!(value("7.19in"), 182.626);
    assert_eq!(value("7 inch"), 177.8);
    assert_eq!(value("7 INCHES"), 177.8);
    assert_eq!(value("7\""), 177.8);
    assert_eq!(value("7\u{2033}"), 177.8);
}

#[test]
fn a_fraction_is_of_an_inch() {
    assert_eq!(value("7 3/16"), 182.5625);
    assert_eq!(value("7-3/16"), 182.5625);
    assert_eq!(value("7 3/16 in"), 182.5625);
    assert_eq!(value("7-3/16\""), 182.5625);
    assert_eq!(value("-7 3/16"), -182.5625);
    assert_eq!(value("3/16"), 4.7625);
    assert_eq!(value("9/8"), 28.575);
}

/// 1 in = 25.4 mm exactly: the international yard, 0.9144 m, over 36.
#[test]
fn inches_are_exact() {
    assert_eq!(value("9/32"), 7.14375);
    assert_eq!(value("1 in"), 914.4 / 36.0);
    assert_eq!(value("10 m"), 10_000.0);
}

/// The 7 mm hexagon and the 9/32 in hexagon differ by less than 0.15 mm;
/// common practice: the drivers interchange.
#[test]
fn seven_millimetres_against_nine_thirty_seconds() {
    assert!((value("9/32") - value("7")).abs() < 0.15);
}

#[test]
fn a_sum_takes_each_number_in_its_own_unit() {
    assert_eq!(value("182 - 6"), 176.0);
    assert_eq!(value("182 + 3/16"), 186.7625);
    assert_eq!(value("7 3/16 - 6"), 176.5625);
    assert_eq!(value("7 1/2 - 1/8 in"), 187.325);
    assert_eq!(value("7 - 3/16"), 7.0 - 4.7625);
    assert_eq!(value("-2 + 18 cm - 1"), 177.0);
}

#[test]
fn a_plus_minus_is_a_half_width() {
    for text in [
        "182 ± 0.5",
        "182±0.5",
        "182 +- 0.5",
        "182+-0,5",
        "182 +/- 0.5",
        "182+/-0.5",
        "18.2 cm ± 0.5 mm",
        "182 mm ± 0.5",
        "182 ± 0.5 mm",
        "188 - 6 ± 0.5",
    ] {
        let read = measure(text);
        assert_eq!(read.value(), 182.0, "{text}");
        assert_eq!(read.low(), 181.5, "{text}");
        assert_eq!(read.high(), 182.5, "{text}");
        assert!(read.is_measured());
    }
    assert_eq!(measure("7 3/16 ± 1/32").low(), 182.5625 - 0.79375);
    assert_eq!(measure("7 3/16\" ± 1/32").low(), 182.5625 - 0.79375);
    assert_eq!(measure("182 ± 1/32").low(), 182.0 - 0.79375);
    assert_eq!(measure("7 3/16 ± 0.5").plus_minus(), 0.5);
}

#[test]
fn what_could_not_be_measured_is_a_question_mark() {
    let bare = Length::parse("?").unwrap();
    assert!(bare.measure().is_none());
    assert_eq!(
        bare.measure_or([10.0, 20.0]),
        Measure::unmeasured(10.0, 20.0)
    );
    for text in ["? 140..260", "?140..260", "? 140 .. 260", "? 14..26 cm"] {
        assert_eq!(measure(text), Measure::unmeasured(140.0, 260.0), "{text}");
    }
    let inches = measure("? 5 1/2..7 in");
    assert_eq!((inches.low(), inches.high()), (139.7, 177.8));
    assert_eq!(measure("? -5..5").value(), 0.0);
    assert!(!measure("? -5..5").is_measured());
}

#[test]
fn what_is_not_a_length_is_refused_with_a_sentence() {
    const ANY: &str = "a length such as 182, 7 3/16, 18.2cm, 182 ± 0.5 or ?";
    const SUM: &str = "a sum with spaces around its sign, as in 182 - 6 or 182 + 3/16";
    const SPAN: &str = "? alone, or with the least and most it can be, as in ? 140..260";
    for (text, found, allowed) in [
        ("", "nothing", ANY),
        ("abc", "\"abc\"", ANY),
        ("nan", "\"nan\"", ANY),
        ("inf", "\"inf\"", ANY),
        ("1e5", "\"1e5\"", ANY),
        ("0x10", "\"0x10\"", ANY),
        ("182 183", "\"182 183\"", ANY),
        ("182 ft", "\"182 ft\"", ANY),
        ("mm", "\"mm\"", ANY),
        ("±", "\"±\"", ANY),
        ("- 5", "\"- 5\"", ANY),
        ("182 -", "\"182 -\"", ANY),
        ("182 -6", "\"182 -6\"", SUM),
        (
            "182-6",
            "\"182-6\"",
            "a sum with spaces around its sign, as in 182 - 6; mixed inches as 7-3/16",
        ),
        (
            "7.5 3/16",
            "\"7.5 3/16\"",
            "whole inches and a fraction, as 7 3/16 or 7-3/16; a sum with spaces, as 182 - 3/16",
        ),
        ("3/0", "\"3/0\", a division by 0", "a fraction such as 3/16"),
        (
            "7 19/16",
            "\"7 19/16\", where the fraction is an inch or more",
            "whole inches and a fraction below one, as 7 3/16",
        ),
        (
            "3/16 mm",
            "\"3/16 mm\", a fraction of something other than an inch",
            "a fraction of an inch, as 3/16 or 7 3/16 in",
        ),
        (
            "1,182.5",
            "\"1,182.5\", with more than one decimal mark",
            "one decimal mark and no other, as in 1182.5 or 1182,5",
        ),
        (
            "182 ± 1 ± 2",
            "\"182 ± 1 ± 2\", with more than one ±",
            "a single ±, as in 182 ± 0.5",
        ),
        (
            "182 ± -1",
            "\"182 ± -1\", with a ± below 0",
            "a ± of 0 or more, as in 182 ± 0.5",
        ),
        (
            "7.1 ± 0.1 in",
            "\"7.1 ± 0.1 in\", where only the ± names a unit",
            "a unit on the value too, as in 7.1 in ± 0.1 in",
        ),
        (
            "7.1 in ± 0.1",
            "\"7.1 in ± 0.1\", where only the value names a unit",
            "a unit on the ± too, as in 7.1 in ± 0.1 in or 7.1 in ± 2 mm",
        ),
        ("? ± 3", "\"? ± 3\"", SPAN),
        ("? 140", "\"? 140\"", SPAN),
        ("? 1...5", "\"? 1...5\"", SPAN),
        ("? 140..", "\"? 140..\", with one end left open", SPAN),
        (
            "? 260..140",
            "\"? 260..140\", with the larger end first",
            "the smaller end first, as in ? 140..260",
        ),
        (
            "? 5..7 1/2",
            "\"? 5..7 1/2\", where only one end names a unit",
            "a unit on both ends, as in ? 5 1/2..7 in",
        ),
        (
            "1000001",
            "\"1000001\", longer than a kilometre",
            "a length from -1000000 to 1000000 mm",
        ),
        (
            "1000 m + 1",
            "\"1000 m + 1\", longer than a kilometre",
            "a length from -1000000 to 1000000 mm",
        ),
    ] {
        let sentence = Length::parse(text).expect_err(text);
        assert_eq!(sentence, format!("found {found}; allowed: {allowed}"));
    }
    let long = "1".repeat(65);
    let sentence = Length::parse(&long).unwrap_err();
    assert!(
        sentence.ends_with(", 65 characters long; allowed: a length of at most 64 characters"),
        "{sentence}"
    );
}

#[test]
fn a_number_of_millimetres_reads_back() {
    assert_eq!(Length::mm(182.5).as_written(), "182.5");
    assert_eq!(Length::mm(-0.0).as_written(), "0");
    assert_eq!(Length::mm(f64::NAN).as_written(), "?");
    assert_eq!(Length::mm(f64::INFINITY).as_written(), "1000000");
}

#[test]
fn a_number_is_written_as_typed() {
    for text in ["182", "-182.5", "178.0", "0.0", "182.50", "007", "0.00001"] {
        let written = serde_json::to_string(&Length::parse(text).unwrap()).unwrap();
        assert_eq!(written.trim_matches('"'), text);
    }
    let written =
        serde_yaml::to_string(&["178.0", "182.5", "12"].map(|t| Length::parse(t).unwrap()));
    assert_eq!(written.unwrap(), "- 178.0\n- 182.5\n- 12\n");
}

proptest! {
    #[test]
    fn any_number_of_millimetres_reads_back_the_same(mm in -1e6..1e6f64) {
        let length = Length::mm(mm);
        let read = Length::parse(length.as_written()).unwrap();
        prop_assert_eq!(read.measure(), length.measure());
    }

    #[test]
    fn any_text_is_read_or_refused(text in "[-0-9 .,/?±+a-z\"'µé\u{2033}]{0,70}") {
        if let Ok(length) = Length::parse(&text)
            && let Some(measure) = length.measure()
        {
            prop_assert!(measure.low().is_finite() && measure.high().is_finite());
            prop_assert!(measure.low() <= measure.value() && measure.value() <= measure.high());
        }
    }

    /// Against the tape itself: so many thirty-seconds of 25.4 mm.
    #[test]
    fn any_tape_reading_is_exact(parts in 0u32..32_000) {
        let (whole, over) = (parts / 32, parts % 32);
        let mm = f64::from(parts) * 0.79375;
        for join in [" ", "-"] {
            let text = format!("{whole}{join}{over}/32");
            prop_assert!((value(&text) - mm).abs() < 1e-9, "{}", text);
        }
    }
}

//! What is refused, in the words a person sees: `{:#}` shows what is wrong and what to do.

use stepjig::units::{Angle, ClockPosition, Length, LengthUnit, Measure, Offset, Span, Unit, UnitError};

fn length(typed: &str) -> String {
    Length::parse(typed, None).map_or_else(|wrong| format!("{wrong:#}"), |length| panic!("{typed} was read: {length}"))
}

#[test]
fn a_length_that_is_refused_says_the_likely_slip() {
    let rows = [
        ("9.92", "`9.92` has no unit: 9.92 mm or 9.92 in? say which"),
        ("7", "`7` has no unit: 7 mm or 7 in? say which"),
        ("9,92", "`9,92` has no unit: 9.92 mm or 9.92 in? say which"),
        ("9,92 mm", "`9,92 mm` has a decimal comma: 9.92 mm? write a point"),
        ("-4 mm", "a length is never below zero: `-4 mm`: did you mean 4 mm?"),
        (
            "11000 mm",
            "`11000 mm` is out of range: a length goes from 0 to 10 m: is the point in its place, and the unit right?",
        ),
        (
            "500 in",
            "`500 in` is out of range: a length goes from 0 to 10 m: is the point in its place, and the unit right?",
        ),
        ("3/0", "`3/0` divides by zero: the lower number is never 0: 25/64"),
        (
            "25/46",
            "`25/46` is not a fraction that is in use: did you mean 25/64 in? an inch is divided in halves, quarters, 8ths, 16ths, 32nds and 64ths",
        ),
        (
            "1/3 in",
            "`1/3 in` is not a fraction that is in use: an inch is divided in halves, quarters, 8ths, 16ths, 32nds and 64ths",
        ),
        (
            "25/64 mm",
            "`25/64 mm` is not a fraction that is in use: did you mean 25/64 in? a fraction like this is of an inch",
        ),
        (
            "1 3/2",
            "`1 3/2` is not a fraction that is in use: after a whole number the fraction is less than one, like 1 1/2",
        ),
        ("4 nm", "`nm` is not a unit of length: did you mean mm or cm?"),
        ("9.92 mmm", "`mmm` is not a unit of length: did you mean mm?"),
        ("3/8 ihc", "`ihc` is not a unit of length: write it like 25/64, .391 in or 9.92 mm"),
        ("3/8 inhc", "`inhc` is not a unit of length: did you mean in?"),
        ("5 m", "`m` is not a unit of length: did you mean mm?"),
        ("9.92 min", "`min` is a unit of time, and a length is wanted: did you mean in?"),
        ("10 g", "`g` is a unit of weight, and a length is wanted: write it like 25/64, .391 in or 9.92 mm"),
        ("", "a length is missing: write it like 25/64, .391 in or 9.92 mm"),
        (" \t\u{a0}", "a length is missing: write it like 25/64, .391 in or 9.92 mm"),
        ("nan", "`nan` is not a length: write it like 25/64, .391 in or 9.92 mm"),
        ("inf mm", "`inf mm` is not a length: write it like 25/64, .391 in or 9.92 mm"),
        ("1e3 mm", "`e3 mm` is not a unit of length: write it like 25/64, .391 in or 9.92 mm"),
        ("1.2.3 mm", "`1.2.3 mm` is not a length: write it like 25/64, .391 in or 9.92 mm"),
        ("1234567890/64", "`1234567890/64` is not a length: write it like 25/64, .391 in or 9.92 mm"),
        ("1,5/2 in", "`1,5/2 in` is not a length: write it like 25/64, .391 in or 9.92 mm"),
    ];
    for (typed, expected) in rows {
        assert_eq!(length(typed), expected, "{typed}");
    }
}

#[test]
fn a_decimal_comma_carries_the_reading_to_ask_back() {
    let rows = [
        (Length::parse("9,92 mm", None).err(), "9.92 mm"),
        (Length::parse(",391 in", None).err(), "0.391 in"),
        (Length::parse("9,92", Some(LengthUnit::Millimetre)).err(), "9.92 mm"),
        (Offset::parse("-0,03 mm", None).err(), "-0.03 mm"),
        (Span::parse("1,5 h").err(), "1.5 h"),
        (Angle::parse("12,5").err(), "12.5 deg"),
        (Unit::Percent.read("7,5", None).err(), "7.5 %"),
    ];
    for (wrong, expected) in rows {
        let wrong = wrong.expect("a comma is refused");
        assert!(matches!(wrong, UnitError::DecimalComma { .. }), "{wrong:?}");
        assert_eq!(wrong.comma_reading(), Some(expected));
    }
    assert_eq!(
        Length::parse("9.92 mm", None),
        Length::parse("9,92 mm", None)
            .or_else(|wrong| { Length::parse(wrong.comma_reading().unwrap_or_default(), None) })
    );
    assert_eq!(Length::parse("9.92", None).unwrap_err().comma_reading(), None);
}

#[test]
fn numbers_that_are_none_are_refused() {
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let refused = |wanted| Some(UnitError::NotFinite { wanted });
        assert_eq!(Length::from_mm(number).err(), refused(Measure::Length));
        assert_eq!(Length::from_inches(number).err(), refused(Measure::Length));
        assert_eq!(Offset::from_mm(number).err(), refused(Measure::Length));
        assert_eq!(Angle::from_degrees(number).err(), refused(Measure::Angle));
        assert_eq!(ClockPosition::from_minutes(number).err(), refused(Measure::ClockPosition));
        assert_eq!(Span::from_seconds(number).err(), refused(Measure::Time));
    }
}

#[test]
fn the_ends_of_a_range_belong_to_it() {
    assert!(Length::from_mm(10_000.0).is_ok());
    assert!(Length::from_mm(10_000.001).is_err());
    assert!(Length::from_mm(0.0).is_ok());
    assert!(matches!(Length::from_mm(-0.001), Err(UnitError::Negative { .. })));
    assert!(Length::from_64ths(25_196).is_ok()); // 10 m is 25 196.85 64ths, by hand
    assert!(Length::from_64ths(25_197).is_err());
    assert!(Offset::from_mm(-10_000.0).is_ok());
    assert!(Offset::from_mm(-10_000.001).is_err());
    assert!(Angle::from_turns(-1_000.0).is_ok());
    assert!(Angle::from_turns(1_000.001).is_err());
    assert!(Span::from_hours(24.0 * 3_650.0).is_ok());
    assert!(Span::from_hours(24.0 * 3_650.001).is_err());
}

#[test]
fn what_is_far_too_long_is_not_read() {
    let zeros = "0".repeat(192);
    assert_eq!(Length::parse(&format!("1.{zeros} mm"), None).map(Length::in_mm), Ok(1.0)); // 197 characters
    let wrong = Length::parse(&format!("1.{zeros}0000 mm"), None).unwrap_err();
    assert_eq!(wrong, UnitError::TooLong { chars: 201, most: 200 });
}

#[test]
fn an_error_never_steers_the_terminal_or_fills_it() {
    for typed in ["20\u{1b}[31m mm", "5 \u{202e}mm", "5 mm\u{7}", "\u{feff}5 mm", "x\r\ny"] {
        let said = length(typed);
        assert!(!said.chars().any(|c| c.is_control() || matches!(c, '\u{202e}' | '\u{feff}')), "{said:?}");
    }
    assert!(length(&"x".repeat(150)).len() < 120);
}

#[test]
fn a_unit_of_a_gauge_is_found_by_its_label_alone() {
    for unit in Unit::ALL {
        assert_eq!(unit.label().parse(), Ok(unit));
        assert_eq!(unit.to_string(), unit.label());
    }
    let rows = [
        ("inch", "no gauge reads in `inch`: did you mean `in`?"),
        ("mn", "no gauge reads in `mn`: did you mean `mm`?"),
        ("clok", "no gauge reads in `clok`: did you mean `clock`?"),
        ("rpm", "no gauge reads in `rpm`: did you mean `rev/min`?"),
        ("°C", "no gauge reads in `°C`: did you mean `C`?"),
        ("banana", "no gauge reads in `banana`: use one of: mm in deg clock s min h g % C rev/min turns"),
    ];
    for (label, expected) in rows {
        let wrong = label.parse::<Unit>().expect_err("it is no label");
        assert_eq!(format!("{wrong:#}"), expected);
    }
}

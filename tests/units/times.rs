//! Spans of time.

use std::time::Duration;

use stepjig::units::{Span, Unit};

use super::plain;

#[test]
fn spans_are_read_and_shown() {
    // Typed | minutes | shown; an hour is 60 min, a day 24 h (SI brochure, table 8).
    let rows = [
        ("20 min", 20.0, "20 min"),
        ("20min", 20.0, "20 min"),
        ("1 h 30 min", 90.0, "1 h 30 min"),
        ("1h30min", 90.0, "1 h 30 min"),
        ("1 hour 30 minutes", 90.0, "1 h 30 min"),
        ("1.5 h", 90.0, "1 h 30 min"),
        ("1½ h", 90.0, "1 h 30 min"),
        ("½ h", 30.0, "30 min"),
        ("24h", 1_440.0, "24 h"),
        ("1 day", 1_440.0, "24 h"),
        ("2 days", 2_880.0, "2 days"),
        ("2 days 3 h", 3_060.0, "2 days 3 h"),
        ("1 week", 10_080.0, "7 days"),
        ("90 s", 1.5, "1 min 30 s"),
        ("90 Seconds", 1.5, "1 min 30 s"),
        ("0.6 s", 0.01, "0.6 s"),
        ("0 s", 0.0, "0 s"),
        ("1 h 1 min 1 s", 61.0 + 1.0 / 60.0, "1 h 1 min 1 s"),
        ("59.9999 s", 59.9999 / 60.0, "1 min"),
    ];
    for (typed, minutes, shown) in rows {
        let span = Span::parse(typed).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!(span.minutes(), minutes, "{typed}");
        assert_eq!(plain(&span.to_string()), shown, "{typed}");
    }
}

#[test]
fn a_span_that_is_refused_says_the_likely_slip() {
    let rows = [
        ("overnight", "`overnight` is not a time that can be counted: say the hours, such as 12 h"),
        ("20", "`20` has no unit: 20 s, 20 min or 20 h? say which"),
        ("1:30", "`1:30` has no unit: 1 h 30 min or 1 min 30 s? say which"),
        ("1 h 30", "`1 h 30` has no unit: 1 h 30 min or 1 h 30 s? say which"),
        ("5 min 30", "`5 min 30` has no unit: 5 min 30 s? say which"),
        (
            "30 min 1 h",
            "the parts of `30 min 1 h` are out of order: the largest part comes first, and each part once: 1 h 30 min",
        ),
        (
            "1 h 2 h",
            "the parts of `1 h 2 h` are out of order: the largest part comes first, and each part once: 1 h 30 min",
        ),
        ("20-30 min", "`20-30 min` is not a time: write it like 90 s, 20 min or 1 h 30 min"),
        ("min 20", "`min` is not a time: write it like 90 s, 20 min or 1 h 30 min"),
        ("1,5 h", "`1,5 h` has a decimal comma: 1.5 h? write a point"),
        ("20 m", "`m` is not a unit of time: did you mean min?"),
        ("20 mints", "`mints` is not a unit of time: did you mean min?"),
        ("20 mm", "`mm` is a unit of length, and a time is wanted: write it like 90 s, 20 min or 1 h 30 min"),
        ("-3 min", "a time is never below zero: `-3 min`: did you mean 3 min?"),
        (
            "3651 days",
            "`3651 days` is out of range: a time goes from 0 to 3650 days: is the point in its place, and the unit right?",
        ),
        ("", "a time is missing: write it like 90 s, 20 min or 1 h 30 min"),
    ];
    for (typed, expected) in rows {
        let wrong = Span::parse(typed).expect_err("it is no span");
        assert_eq!(format!("{wrong:#}"), expected, "{typed}");
    }
}

#[test]
fn a_bare_number_is_a_span_where_the_unit_is_settled() {
    assert_eq!(Span::parse_with("20", Unit::Minute), Span::from_minutes(20.0));
    assert_eq!(Span::parse_with("1.5", Unit::Hour), Span::from_hours(1.5));
    assert_eq!(Span::parse_with("2 h", Unit::Second), Span::from_hours(2.0));
    assert!(Span::parse_with("20", Unit::Gram).is_err());
    assert!(Span::parse_with("1 h 20", Unit::Minute).is_err());
}

#[test]
fn a_span_is_a_duration() {
    let span = Span::parse("1 min 0.25 s").expect("it is a span");
    assert_eq!(span.to_duration(), Duration::from_millis(60_250));
    assert_eq!((span.seconds(), span.hours()), (60.25, 60.25 / 3_600.0));
}

//! Angles and clock positions.

use stepjig::units::{Angle, ClockPosition, UnitError};

fn position(typed: &str) -> ClockPosition {
    typed.parse().unwrap_or_else(|wrong: UnitError| panic!("{typed}: {wrong:#}"))
}

fn degrees(degrees: f64) -> Angle {
    Angle::from_degrees(degrees).expect("it is an angle")
}

#[test]
fn a_position_is_an_angle_clockwise_from_twelve() {
    // The hour hand's dial: twelve hours are 360 degrees, so an hour is 30 and a minute half a degree.
    let rows = [
        ("12:00", 0.0, "12 o'clock"),
        ("0:30", 15.0, "12:30"),
        ("12", 0.0, "12 o'clock"),
        ("3", 90.0, "3 o'clock"),
        ("3 o'clock", 90.0, "3 o'clock"),
        ("4 O’CLOCK", 120.0, "4 o'clock"),
        ("4 oclock", 120.0, "4 o'clock"),
        ("4o'clock", 120.0, "4 o'clock"),
        ("2:30", 75.0, "2:30"),
        ("02:30", 75.0, "2:30"),
        ("2 : 30 o'clock", 75.0, "2:30"),
        ("7:12", 216.0, "7:12"), // 216 degrees: a thread of 3 starts and pitch 0.8 after 1.6 turns, by hand
        ("11:59", 359.5, "11:59"),
        ("90 deg", 90.0, "3 o'clock"),
        ("-90°", 270.0, "9 o'clock"),
        ("1/4 turn", 90.0, "3 o'clock"),
        ("450 deg", 90.0, "3 o'clock"),
    ];
    for (typed, expected, shown) in rows {
        let position = position(typed);
        assert_eq!(position.to_angle().degrees(), expected, "{typed}");
        assert_eq!(position.minutes(), expected * 2.0, "{typed}");
        assert_eq!(position.to_string().replace('\u{a0}', " "), shown, "{typed}");
        assert_eq!(ClockPosition::from_angle(degrees(expected)), position, "{typed}");
    }
}

#[test]
fn what_no_clock_face_shows_is_refused_with_what_was_meant() {
    let write = "write it like 4 o'clock or 2:30";
    let rows = [
        ("14:30", "`14:30` is not on the face of a clock: did you mean 2:30?"),
        ("2.30", "`2.30` is not on the face of a clock: did you mean 2:30?"),
        ("2,30", "`2,30` is not on the face of a clock: did you mean 2:30?"),
        ("4.5 o'clock", "`4.5 o'clock` is not on the face of a clock: did you mean 4:30?"),
        ("7:5", "`7:5` is not on the face of a clock: did you mean 7:05?"),
        ("7:60", &format!("`7:60` is not on the face of a clock: {write}")),
        ("24:00", &format!("`24:00` is not on the face of a clock: {write}")),
        ("13", "`13` is not on the face of a clock: did you mean 1:00?"),
        ("noon", &format!("`noon` is not on the face of a clock: {write}")),
        ("-4", &format!("`-4` is not on the face of a clock: {write}")),
        ("4 mm", &format!("`mm` is a unit of length, and a clock position is wanted: {write}")),
        ("", &format!("a clock position is missing: {write}")),
    ];
    for (typed, expected) in rows {
        let wrong = typed.parse::<ClockPosition>().expect_err("no clock shows it");
        assert_eq!(format!("{wrong:#}"), expected, "{typed}");
    }
}

#[test]
fn positions_are_brought_into_one_time_round() {
    let minutes = |minutes| ClockPosition::from_minutes(minutes).map(ClockPosition::minutes);
    assert_eq!(minutes(720.0), Ok(0.0));
    assert_eq!(minutes(-60.0), Ok(660.0));
    assert_eq!(minutes(1_500.0), Ok(60.0));
    assert_eq!(minutes(-1e-17), Ok(0.0)); // rounds to a whole time round, which is none
    assert_eq!(minutes(1.1e-100), Ok(0.0)); // half of it, in degrees, could not be typed back
    assert_eq!(degrees(-1e-17).within_a_turn().degrees(), 0.0);
    assert_eq!(degrees(-90.0).within_a_turn().degrees(), 270.0);
    assert_eq!(degrees(720.0).within_a_turn().degrees(), 0.0);
}

#[test]
fn positions_are_turned_clockwise() {
    assert_eq!(position("11:00").clockwise_to(position("1:00")).degrees(), 60.0);
    assert_eq!(position("1:00").clockwise_to(position("11:00")).degrees(), 300.0);
    assert_eq!(position("11:00").turned_by(degrees(60.0)), position("1:00"));
    assert_eq!(position("1:00").turned_by(degrees(-60.0)), position("11:00"));
}

#[test]
fn a_position_between_minutes_is_shown_to_the_nearest() {
    let shown = |minutes| ClockPosition::from_minutes(minutes).expect("it is a position").figures();
    assert_eq!(shown(719.6), "12:00");
    assert_eq!(shown(432.4), "7:12");
    assert_eq!(shown(59.5), "1:00");
    assert_eq!(ClockPosition::TWELVE.figures(), "12:00");
}

#[test]
fn angles_are_read_in_degrees_or_turns() {
    let rows = [
        ("90", 90.0, "90°"),
        ("90°", 90.0, "90°"),
        ("90 deg", 90.0, "90°"),
        ("-12.5 degrees", -12.5, "-12.5°"),
        ("1/8 turn", 45.0, "45°"),
        ("1 1/4 turns", 450.0, "450°"),
        ("⅓ turn", 120.0, "120°"),
        ("0.126", 0.126, "0.13°"),
    ];
    for (typed, expected, shown) in rows {
        let angle = Angle::parse(typed).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!((angle.degrees(), angle.to_string().as_str()), (expected, shown), "{typed}");
    }
    assert_eq!(Angle::from_turns(1.25).map(|angle| (angle.degrees(), angle.turns())), Ok((450.0, 1.25)));
}

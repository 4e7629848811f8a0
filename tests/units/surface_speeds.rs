//! Surface speeds.

use stepjig::units::{SurfaceSpeed, Unit};

use super::plain;

#[test]
fn surface_speeds_are_read_and_shown() {
    // Typed | m/min | shown in both units; 1 ft = 0.3048 m exactly (international yard and pound agreement, 1959).
    let rows = [
        ("60 m/min", 60.0, "60 m/min (196.9 ft/min)"),
        ("60m/min", 60.0, "60 m/min (196.9 ft/min)"),
        ("200ft/min", 60.96, "61 m/min (200 ft/min)"),
        ("200 SFM", 60.96, "61 m/min (200 ft/min)"),
        ("1/2 ft/min", 0.1524, "0.2 m/min (0.5 ft/min)"),
        ("1.5 m/s", 90.0, "90 m/min (295.3 ft/min)"),
        ("0 m/min", 0.0, "0 m/min (0 ft/min)"),
    ];
    for (typed, metres, shown) in rows {
        let speed = SurfaceSpeed::parse(typed).unwrap_or_else(|wrong| panic!("{typed}: {wrong:#}"));
        assert_eq!(speed.in_metres_a_minute(), metres, "{typed}");
        assert_eq!(plain(&speed.both()), shown, "{typed}");
    }
    let feet = SurfaceSpeed::from_feet_a_minute(200.0).expect("it is in range");
    assert_eq!((Ok(feet), feet.in_feet_a_minute()), (SurfaceSpeed::parse("200 ft/min"), 200.0));
}

#[test]
fn a_surface_speed_that_is_refused_says_the_likely_slip() {
    let rows = [
        ("60", "`60` has no unit: 60 m/min or 60 ft/min? say which"),
        ("60,5 m/min", "`60,5 m/min` has a decimal comma: 60.5 m/min? write a point"),
        ("60 m/mni", "`m/mni` is not a unit of surface speed: did you mean m/min?"),
        ("60 mm", "`mm` is a unit of length, and a surface speed is wanted: write it like 60 m/min or 200 ft/min"),
        ("-3 m/min", "a surface speed is never below zero: `-3 m/min`: did you mean 3 m/min?"),
        (
            "40000 ft/min",
            "`40000 ft/min` is out of range: a surface speed goes from 0 to 10000 m/min: is the point in its place, and the unit right?",
        ),
        ("", "a surface speed is missing: write it like 60 m/min or 200 ft/min"),
        ("fast", "`fast` is not a surface speed: write it like 60 m/min or 200 ft/min"),
    ];
    for (typed, expected) in rows {
        let wrong = SurfaceSpeed::parse(typed).expect_err("it is no surface speed");
        assert_eq!(format!("{wrong:#}"), expected, "{typed}");
    }
}

/// A gauge reads turns, not the speed of a rim.
#[test]
fn it_is_no_unit_of_a_gauge() {
    assert!(Unit::from_label("m/min").is_err());
    assert!(Unit::TurnsAMinute.read("60 m/min", None).is_err());
}

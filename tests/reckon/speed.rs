//! Speeds of the lathe. Each row names where its figure is from.

use crate::helper::{near, refused, shop_file, text, value, with, worked};
use proptest::prelude::*;
use stepjig::reckon::DataFile;
use stepjig::reckon::lathe_speed::{surface_speed, turns_a_minute};
use stepjig::units::{Length, SurfaceSpeed};

#[test]
fn how_fast_the_rim_passes_the_tool() {
    // Diameter and speed | m/min | ft/min | to within, a share | source.
    let rows = [
        (
            "diameter=1/2 in; speed=400",
            15.96,
            52.36,
            0.001,
            "S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, example 22.1: 628 in/min with π as 3.14",
        ),
        ("diameter=19 mm; speed=3000", 179.07, 587.5, 0.0005, "π × 19 × 3000 / 1000, by pencil; / 0.3048"),
        ("diameter=27/64 in; speed=750", 25.248, 82.835, 0.0005, "π × 0.421875 × 750 / 12 by pencil; × 0.3048"),
    ];
    for (typed, metres, feet, share, source) in rows {
        let outcome = worked("lathe-speed", typed);
        near(value(&outcome, "surface"), metres, metres * share, source);
        near(value(&outcome, "surface-ft"), feet, feet * share, source);
    }
}

/// Kalpakjian and Schmid, example 22.1, with π to its last digit: 628.3 in/min.
#[test]
fn the_textbooks_own_unit_comes_to_the_same() {
    let half_inch = Length::from_inches(0.5).expect("it is a length");
    let surface = surface_speed(half_inch, 400.0).expect("it is in range");
    near(surface.in_feet_a_minute() * 12.0, 628.3, 0.05, "in/min");
}

#[test]
fn how_fast_to_turn_for_a_surface_speed() {
    // Diameter and surface speed | turns a minute | to within | source.
    let rows = [
        ("diameter=1/2 in; surface=80 ft/min", 611.2, 0.5, "a tool seller's worked case: 611, with 12/π as 3.82"),
        ("diameter=1 in; surface=3520 ft/min", 13_445.0, 1.0, "40 miles an hour are 3520 ft/min; × 12 / π"),
        ("diameter=19 mm; surface=179.0708 m/min", 3_000.0, 0.01, "the way back from π × 19 × 3000 / 1000"),
    ];
    for (typed, speed, within, source) in rows {
        near(value(&worked("lathe-speed", typed), "speed"), speed, within, source);
    }
}

/// Rounding, shaping and sanding speeds: a lathe-turning guide by a machine maker, 2009, table 12-1; for spindle work
/// of 5 cm or less a turner's page, 2500 to 3000.
#[test]
fn the_verdict_follows_what_is_advised_for_the_diameter() {
    let rows = [
        ("19 mm", 949, "slow", 3_000.0),
        ("19 mm", 950, "usual", 3_000.0),
        ("19 mm", 2_500, "usual", 3_000.0),
        ("19 mm", 2_501, "fast", 3_000.0),
        ("19 mm", 3_000, "fast", 3_000.0),
        ("2 in", 3_001, "too-fast", 3_000.0),
        ("51 mm", 3_000, "too-fast", 1_900.0),
        ("4 in", 1_150, "usual", 1_900.0),
        ("4 in", 1_900, "fast", 1_900.0),
        ("6 in", 1_600, "fast", 1_600.0),
        ("6 in", 1_601, "too-fast", 1_600.0),
        ("7 in", 699, "slow", 850.0),
        ("7 in", 850, "fast", 850.0),
    ];
    for (diameter, speed, verdict, limit) in rows {
        let outcome = worked("lathe-speed", &format!("diameter={diameter}; speed={speed}"));
        assert_eq!((outcome.verdict, value(&outcome, "limit")), (Some(verdict), limit), "{diameter} at {speed}");
    }
}

#[test]
fn the_sum_is_shown_as_a_pencil_would_do_it() {
    let there = worked("lathe-speed", "diameter=19 mm; speed=3000");
    assert_eq!(
        there.working.replace('\u{a0}', " "),
        "surface = π × d × n / 1000 = π × 19 × 3000 / 1000 = 179.1 m/min (587.5 ft/min)"
    );
    let back = worked("lathe-speed", "diameter=1/2 in; surface=80ft/min");
    assert_eq!(
        back.working.replace('\u{a0}', " "),
        "speed = 1000 × v / (π × d) = 1000 × 24.38 / (π × 12.7) = 611 rev/min"
    );
    assert_eq!(text(&back, "surface"), "24.4 m/min (80 ft/min)");
}

#[test]
fn what_cannot_be_is_refused() {
    let rows = [
        (
            "",
            "`diameter` is missing: give it as diameter=…: the work where it is widest, corner to corner while it is square",
        ),
        (
            "diameter=19 mm",
            "`speed` is missing: give it as speed=…: turns a minute; or type surface=60 m/min instead, the surface speed that is wanted",
        ),
        (
            "diameter=19 mm; speed=3000; surface=60 m/min",
            "`surface`: `speed` is given too, and one follows from the other: give only one of them",
        ),
        ("diameter=19 mm; surface=60", "`surface`: `60` has no unit: 60 m/min or 60 ft/min? say which"),
        (
            "diameter=19 mm; speed=60 m/min",
            "`speed`: `m/min` is a unit of surface speed, and a speed is wanted: did you mean rev/min?",
        ),
        (
            "diameter=19 mm; speed=0",
            "`speed`: `0` is out of range, it goes from 10 rev/min to 20000 rev/min: is the point in its place, and the unit right?",
        ),
        (
            "diameter=1 mm; surface=2000 m/min",
            "`surface`: `636619.772 rev/min` is out of range: a speed goes from 0 to 100000 rev/min: is the point in its place, and the unit right?",
        ),
    ];
    for (typed, expected) in rows {
        assert_eq!(refused("lathe-speed", typed), expected, "{typed}");
    }
}

#[test]
fn a_shops_own_advice_is_laid_over() {
    let shop = |text: &str| shop_file(DataFile::Speeds, text);
    let data = shop("[lathe]\npens = { to = \"1 in\", slow-under = 800, usual-to = 3200, most = 3900 }\n");
    let limit = |diameter: &str| {
        let outcome = with(&data, "lathe-speed", &format!("diameter={diameter}; speed=3500")).expect("it works out");
        (value(&outcome, "limit"), outcome.sources[1].clone())
    };
    assert_eq!(limit("19 mm"), (3_900.0, "advice: the shop's own".to_owned()));
    assert_eq!(limit("30 mm").0, 3_000.0);
    let rows = [
        (
            "pens = { to = \"1 in\", slow-under = 800, usual-to = 700, most = 900 }",
            "`lathe.pens`: `slow-under`, `usual-to` and `most` go up, from over 0 to 100000 rev/min",
        ),
        ("pens = { to = \"1\", slow-under = 800, usual-to = 900, most = nan }", "`lathe.pens`: `slow-under`"),
        ("pens = { to = \"1\", slow-under = 800, usual-to = 900, most = 950 }", "`lathe.pens`: `to`: `1` has no unit"),
        ("pens = { to = \"1 in\", slow = 800 }", "`lathe.pens`: unknown field `slow`"),
    ];
    for (row, expected) in rows {
        let data = shop(&format!("[lathe]\n{row}\n"));
        let refusal = with(&data, "lathe-speed", "diameter=19 mm; speed=2000").expect_err("the file has a fault");
        assert!(refusal.to_string().starts_with(&format!("shop/data/speeds.toml:2:1: {expected}")), "{refusal}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn there_and_back_is_the_same_speed(diameter in 1.0..600.0, speed in 10.0..3_000.0) {
        let diameter = Length::from_mm(diameter).expect("it is in range");
        let there = surface_speed(diameter, speed).expect("it is in range");
        let back = turns_a_minute(diameter, there).expect("it is in range").value();
        prop_assert!((back / speed - 1.0).abs() < 1e-12);
    }

    /// In feet and inches by the other textbook form, 12 v / (π d).
    #[test]
    fn both_textbook_forms_agree(inches in 0.1..20.0, feet in 1.0..400.0) {
        let diameter = Length::from_inches(inches).expect("it is in range");
        let surface = SurfaceSpeed::from_feet_a_minute(feet).expect("it is in range");
        let speed = turns_a_minute(diameter, surface).expect("it is in range").value();
        prop_assert!((speed / (12.0 * feet / (std::f64::consts::PI * inches)) - 1.0).abs() < 1e-12);
    }
}

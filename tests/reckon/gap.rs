//! The gap round the tube, and the glue that it takes.

use proptest::prelude::*;
use stepjig::reckon::tube_gap::{gap, volume};
use stepjig::units::Length;

use crate::helper::{near, refused, text, value, worked};

#[test]
fn the_gap_and_what_it_holds() {
    // Hole, tube, length | gap in mm | volume in µl | to within | source.
    let rows = [
        (
            "hole=25/64 in; tube=9.70 mm; length=52 mm",
            (0.1109375, 177.804),
            (1e-9, 0.001),
            "by pencil: 9.921875² − 9.7² = 4.353604; × 52 × 0.7853982 = 177.804",
        ),
        (
            "hole=9.525 mm; tube=0.370 in; length=55 mm",
            (0.0635, 103.8),
            (1e-9, 0.5),
            "a 3/8 in hole over a 0.370 in tube: 0.0025 in a side, exact; 103.8 mm³ as worked out to 0.5",
        ),
        (
            "hole=3/8 in; tube=0.370 in; length=55 mm",
            (0.0635, 103.8),
            (1e-9, 0.5),
            "the same, the hole by its bit: clearance 0.0050 in = 0.127 mm",
        ),
    ];
    for (typed, (gap, volume), (gap_within, volume_within), source) in rows {
        let outcome = worked("tube-gap", typed);
        near(value(&outcome, "gap"), gap, gap_within, source);
        near(value(&outcome, "volume"), volume, volume_within, source);
        near(value(&outcome, "drops"), value(&outcome, "volume") / 50.0, 1e-9, "50 µl a drop, common practice");
    }
}

#[test]
fn the_sum_is_shown_as_a_pencil_would_do_it() {
    let outcome = worked("tube-gap", "hole=25/64 in; tube=9.70 mm; length=52 mm");
    let working = outcome.working.replace('\u{a0}', " ");
    assert_eq!(
        working,
        "gap = (hole − tube) / 2 = (9.922 − 9.7) / 2 = 0.111 mm; \
         volume = π/4 × (9.922² − 9.7²) × 52 = 177.8 µl, 3.6 drops of 50 µl"
    );
    assert_eq!(text(&outcome, "volume"), "177.8 µl");
}

/// Where one fit ends and the next begins is common practice, no source. At a threshold itself the tighter fit's word
/// holds, but at 0.025 mm, where the tube no longer binds.
#[test]
fn the_verdict_follows_the_gap_of_one_side() {
    let rows = [
        ("9.6", "will-bind"),
        ("9.7", "will-bind"),
        ("9.748", "will-bind"),
        ("9.75", "close"),
        ("9.8", "close"),
        ("9.802", "easy"),
        ("9.94", "easy"),
        ("9.942", "roomy"),
        ("10.2", "roomy"),
        ("10.202", "too-wide"),
    ];
    for (hole, verdict) in rows {
        let outcome = worked("tube-gap", &format!("hole={hole} mm; tube=9.7 mm; length=52 mm"));
        assert_eq!(outcome.verdict, Some(verdict), "{hole}");
    }
}

/// Radial gaps by feel: common practice, no source.
#[test]
fn a_trial_hole_may_be_told_by_how_it_feels() {
    for (feel, mm, verdict) in [("drops", 0.10, "easy"), ("finger", 0.05, "close"), ("force", 0.01, "will-bind")] {
        let outcome = worked("tube-gap", &format!("hole={feel}; tube=10.3 mm; length=50 mm"));
        near(value(&outcome, "gap"), mm, 1e-9, feel);
        assert_eq!(outcome.verdict, Some(verdict), "{feel}");
        assert!(outcome.say.contains("estimate by feel (common practice, no source)"), "{}", outcome.say);
    }
}

#[test]
fn nothing_is_filled_where_there_is_no_gap() {
    let outcome = worked("tube-gap", "hole=9.6 mm; tube=9.7 mm; length=52 mm");
    for name in ["volume", "drops"] {
        assert_eq!(outcome.output(name).expect("it is there").value, None);
        assert_eq!(text(&outcome, name), "there is no gap to fill");
    }
    near(value(&outcome, "gap"), -0.05, 1e-9, "(9.6 − 9.7) / 2");
}

#[test]
fn a_bit_over_the_kits_own_is_never_named_where_that_one_clears() {
    // The hole binds; the sheet's bit, if any | what is said of a bit.
    let rows = [
        ("", "The smallest bit that clears it is letter Z, by 0.19 mm; where the kit's own clears, take that one."),
        ("; drill=10.5 mm", "The bit of 10.5 mm clears 0.2 mm: use it."),
        ("; drill=27/64 in", "The bit of 27/64 in clears 0.416 mm: use it."),
        ("; drill=10.35 mm", "The bit of 10.35 mm clears 0.05 mm: use it."),
        ("; drill=11 mm", "The bit of 11 mm is 0.7 mm wider than this tube: is it the kit's tube? Measure it again."),
        (
            "; drill=10.3 mm",
            "The smallest bit that clears it is letter Z, by 0.19 mm; where the kit's own clears, take that one.",
        ),
    ];
    for (drill, expected) in rows {
        let outcome = worked("tube-gap", &format!("hole=10.3 mm; tube=10.30 mm; length=50 mm{drill}"));
        let said = outcome.say.replace('\u{a0}', " ");
        assert_eq!(said, format!("Do not drive it in. {expected}"), "{drill}");
    }
    let fits = worked("tube-gap", "hole=10.5 mm; tube=10.30 mm; length=50 mm; drill=10.5 mm");
    assert!(!fits.say.contains("bit") && !fits.say.contains("use it"), "a hole that fits wants no bit: {}", fits.say);
}

#[test]
fn the_sheets_bit_stands_for_a_hole_that_was_not_measured() {
    let outcome = worked("tube-gap", "drill=10.5 mm; tube=10.30 mm; length=50 mm");
    near(value(&outcome, "gap"), 0.1, 1e-9, "(10.5 − 10.3) / 2");
    assert!(outcome.say.ends_with("a trial hole in scrap shows the true one."), "{}", outcome.say);
}

/// Letter Z is 0.413 in, 10.490 mm, number 1 is 0.228 in, 5.791 mm: the published sizes.
#[test]
fn a_bit_may_be_told_by_its_name() {
    for name in ["letter Z", "Z", "z", "Letter z", "LETTER  Z"] {
        for input in ["hole", "drill"] {
            let outcome = worked("tube-gap", &format!("{input}={name}; tube=10.30 mm; length=50 mm"));
            near(value(&outcome, "gap"), 0.095, 0.0003, name);
        }
    }
    for name in ["number 1", "no. 1", "No 1", "#1", "# 1"] {
        let outcome = worked("tube-gap", &format!("hole={name}; tube=5.6 mm; length=50 mm"));
        near(value(&outcome, "gap"), 0.0956, 0.0003, name);
    }
    let there = "letters go from A to Z and numbers from 1 to 80; or give its size, 9.92 mm or 25/64 in";
    let rows = [
        ("number 81", format!("`hole`: `number 81` is not listed: one of: number 1; {there}")),
        ("letter 5", format!("`hole`: `letter 5` is not listed: {there}")),
        ("#80", "`hole`: `number 80` is out of range, it goes from 1 mm to 42 mm".to_owned()),
        ("7", "`hole`: `7` has no unit: 7 mm or 7 in? say which".to_owned()),
    ];
    for (hole, expected) in rows {
        let said = refused("tube-gap", &format!("tube=9.7 mm; hole={hole}; length=52 mm"));
        assert!(said.starts_with(&expected), "{hole}: {said}");
    }
}

/// What is only a bit's size is no hole yet: another bit costs nothing.
#[test]
fn before_it_is_drilled_another_bit_is_chosen_and_no_hole_is_plugged() {
    let bits =
        ["hole=Z", "hole=0.413 in", "hole=10.5 mm", "drill=10.5 mm", "drill=27/64 in", "hole=10.63 mm; drill=10.63 mm"];
    for hole in bits {
        let outcome = worked("tube-gap", &format!("{hole}; tube=9.7 mm; length=52 mm"));
        assert_eq!(outcome.verdict, Some("too-wide"), "{hole}");
        assert!(outcome.say.starts_with("Choose another bit before you drill."), "{hole}: {}", outcome.say);
    }
    let read = worked("tube-gap", "hole=10.63 mm; tube=9.7 mm; length=52 mm");
    let expected = "Choose another bit; if the blank is drilled already, plug the hole and drill again.";
    assert!(read.say.starts_with(expected), "{}", read.say);
}

/// π/4 × (9.75² − 9.7²) × 20 = 15.3 µl, of which 50 make a drop.
#[test]
fn no_one_lays_half_a_drop() {
    let little = worked("tube-gap", "hole=9.75 mm; tube=9.7 mm; length=20 mm");
    near(value(&little, "drops"), 0.3055, 0.001, "15.3 / 50");
    assert_eq!(text(&little, "drops"), "less than one of 50 µl: spread it thin");
    assert!(little.working.ends_with("less than a drop of 50\u{a0}µl"), "{}", little.working);
    assert_eq!(text(&worked("tube-gap", "hole=25/64 in; tube=9.70 mm; length=52 mm"), "drops"), "3.6 of 50 µl");
}

#[test]
fn what_is_missing_is_asked_for_in_a_turners_order() {
    for (typed, next) in [("", "tube"), ("tube=9.7 mm", "hole"), ("tube=9.7 mm; hole=drops", "length")] {
        assert!(
            refused("tube-gap", typed).starts_with(&format!("`{next}` is missing: give it as {next}=…: ")),
            "{typed}"
        );
    }
    let felt = "`hole`: `loose` is not listed: one of: drops, finger, force; or a length or a bit: 9.92 mm, 25/64 in, letter X";
    assert_eq!(refused("tube-gap", "tube=9.7 mm; hole=loose"), felt);
    let bare = "`hole`: `9.92` has no unit: 9.92 mm or 9.92 in? say which";
    assert_eq!(refused("tube-gap", "tube=9.7 mm; hole=9.92"), bare);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// The ring is the hole's cylinder less the tube's, each by the schoolbook formula.
    #[test]
    fn gap_and_volume_are_those_of_two_cylinders(tube in 1.0..40.0, wider in 0.0..2.0, length in 3.0..200.0) {
        let mm = |mm| Length::from_mm(mm).expect("it is in range");
        let hole = tube + wider;
        prop_assert!((tube + 2.0 * gap(mm(hole), mm(tube)).in_mm() - hole).abs() < 1e-9);
        let cylinder = |d: f64| std::f64::consts::PI * (d / 2.0).powi(2) * length;
        let ring = cylinder(hole) - cylinder(tube);
        prop_assert!((volume(mm(hole), mm(tube), mm(length)) - ring).abs() < 1e-7);
        prop_assert_eq!(volume(mm(tube), mm(hole), mm(length)), 0.0);
    }
}

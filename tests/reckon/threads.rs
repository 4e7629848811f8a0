//! `thread-stop` and `grain-match`: against worked threads, plain geometry, and what must hold for every pen.
//!
//! Rows marked "computed" were worked from the definitions, lead = starts × pitch and 360° a turn, apart from this code.

use crate::helper::{Typed, near, plain, refused, text, value, work_out, worked};
use proptest::prelude::*;
use stepjig::reckon::thread_stop::{self, Hand, correction, lead, material, over_whole_turns, turned};
use stepjig::units::{Angle, ClockPosition, Length};

/// Names of outputs, each with its value and how far off it may be.
type Expected = &'static [(&'static str, f64, f64)];

fn mm(mm: f64) -> Length {
    Length::from_mm(mm).expect("it is a length")
}

fn degrees(degrees: f64) -> Angle {
    Angle::from_degrees(degrees).expect("it is an angle")
}

#[test]
fn lead_is_starts_times_pitch() {
    let rows = [
        // Beer and Johnston, Vector Mechanics for Engineers: Statics, chapter 8, a double-threaded clamp screw.
        (2.0, 2, 4.0),
        // Jindal, Machine Design, example 16-2: a triple-start screw.
        (7.0, 3, 21.0),
        // The designation Tr 8 × 8 (P2): lead 8, pitch 2, four starts.
        (2.0, 4, 8.0),
        // Computed: a pen cap.
        (0.8, 3, 2.4),
    ];
    for (pitch, starts, expected) in rows {
        near(lead(mm(pitch), starts).expect("it is a length").in_mm(), expected, 1e-9, "lead");
    }
}

#[test]
fn turns_are_travel_over_lead() {
    let inch = Length::from_inches(1.0).expect("it is a length");
    let twenty = Length::from_inches(0.05).expect("it is a length");
    let rows = [
        // ASME B1.7-2006, as a gage maker restates it: 20 threads to the inch take 20 turns to the inch, 10 with two
        // starts, and with three go three times faster.
        (inch, twenty, 1, 20.0),
        (inch, twenty, 2, 10.0),
        (inch, twenty, 3, 6.6666667),
        // Computed: three starts of 0.8 mm seat after 3.6 mm, 540°; M10 × 1 with a shim of 0.10 mm turns 36°.
        (mm(3.6), mm(0.8), 3, 540.0 / 360.0),
        (mm(0.10), mm(1.0), 1, 36.0 / 360.0),
    ];
    for (travel, pitch, starts, expected) in rows {
        let lead = lead(pitch, starts).expect("it is a length");
        near(turned(travel, lead).expect("they are few").turns(), expected, 1e-7, "turns");
    }
}

/// Computed: outputs of whole pens, with what is given for them.
#[test]
fn pens_come_to_what_was_computed() {
    let rows: [(Typed, Expected); 9] = [
        (
            &[("pitch", "1.0 mm"), ("starts", "3"), ("turns", "1.25"), ("diameter", "14 mm")],
            &[
                ("stop-angle", 90.0, 1e-9),
                ("clip-exact", 90.0, 1e-9),
                ("clip", 100.0, 1e-9),
                ("slip", 6.0, 1e-9),
                ("slip-arc", 0.733, 0.0005),
                ("ways", 3.0, 0.0),
                ("apart", 120.0, 0.0),
                ("chance", 1.0 / 3.0, 1e-12),
            ],
        ),
        (&[("let-go", "9 o'clock")], &[("stop-angle", 90.0, 1e-9)]),
        (
            &[("pitch", "0.8 mm"), ("starts", "3"), ("turns", "1.6")],
            &[("stop-angle", 216.0, 1e-9), ("clip-exact", 216.0, 1e-9)],
        ),
        (
            &[("pitch", "0.8 mm"), ("starts", "3"), ("turns", "1.6"), ("off", "40 deg")],
            &[
                ("other-start", 0.0, 0.0),
                ("rest", 40.0, 1e-9),
                ("stop-change", 0.267, 0.0005),
                ("shim", 0.267, 0.0005),
                ("clip-exact", 176.0, 1e-9),
            ],
        ),
        (
            &[("pitch", "0.8 mm"), ("starts", "3"), ("turns", "1.6"), ("off", "130 deg")],
            &[("other-start", 1.0, 0.0), ("rest", 10.0, 1e-9), ("shim", 2.4 * 130.0 / 360.0, 1e-9)],
        ),
        // The cap stops 40° short: 0.2667 mm comes off the stop, and the other two starts would be 160° and 80° out.
        (
            &[("pitch", "0.8 mm"), ("starts", "3"), ("let-go", "12:00"), ("off", "-40 deg")],
            &[("other-start", 0.0, 0.0), ("rest", -40.0, 1e-9), ("stop-change", -0.2667, 0.0005)],
        ),
        (
            &[("pitch", "0.8 mm"), ("starts", "3"), ("travel", "3.6 mm")],
            &[("stop-angle", 180.0, 1e-9), ("apart", 120.0, 0.0)],
        ),
        (&[("lead", "8 mm"), ("pitch", "2 mm"), ("let-go", "12:00")], &[("ways", 4.0, 0.0)]),
        // In inches: 32 to the inch, three starts, three quarters of a lead.
        (
            &[("pitch", "1/32 in"), ("lead", "3/32 in"), ("travel", "9/128 in"), ("nib", "2:00"), ("lead-in", "0")],
            &[("stop-angle", 270.0, 1e-9), ("clip", 330.0, 1e-9), ("ways", 3.0, 0.0)],
        ),
    ];
    for (typed, expected) in rows {
        let outcome = worked("thread-stop", typed);
        for (name, number, tolerance) in expected {
            near(value(&outcome, name), *number, *tolerance, &format!("{name} of {typed:?}"));
        }
    }
}

#[test]
fn clip_places_are_told_as_on_a_clock() {
    let rows: [(Typed, &str); 3] = [
        (&[("pitch", "1 mm"), ("starts", "3"), ("turns", "1.25")], "3 o'clock"),
        (&[("pitch", "0.8 mm"), ("starts", "3"), ("turns", "1.6")], "7:12"),
        (&[("pitch", "0.8 mm"), ("starts", "3"), ("turns", "1.6"), ("off", "40")], "5:52"),
    ];
    for (typed, expected) in rows {
        assert_eq!(text(&worked("thread-stop", typed), "clip-exact"), expected);
    }
}

/// 0.3 / 0.1 is 2.9999999999999996 in binary, 2.4 / 0.8 as well, 0.7 / 0.1 is 6.999999999999999.
#[test]
fn whole_turns_are_exactly_nothing() {
    for (travel, lead) in
        [("0.3 mm", "0.1 mm"), ("0.7 mm", "0.1 mm"), ("2.4 mm", "0.8 mm"), ("0.9 mm", "0.3 mm"), ("4.9 mm", "0.7 mm")]
    {
        let outcome = worked("thread-stop", &[("travel", travel), ("lead", lead), ("lead-in", "0")]);
        assert_eq!((value(&outcome, "stop-angle"), value(&outcome, "clip")), (0.0, 0.0), "{travel} / {lead}");
    }
    let close = over_whole_turns(degrees(360.0 * 3.0 * (1.0 - 0.9e-9)));
    let not_so_close = over_whole_turns(degrees(360.0 * 3.0 * (1.0 - 2e-9)));
    assert_eq!(close.degrees(), 0.0);
    assert!(359.9 < not_so_close.degrees());
}

/// A left-hand cap opened clockwise to 3 o'clock has closed by 90°, and its clip stands where the nib was passed.
#[test]
fn a_left_hand_thread_is_the_mirror_image() {
    let right = [("let-go", "9:00"), ("nib", "1:00"), ("pitch", "1 mm"), ("starts", "2"), ("off", "70")];
    let left =
        [("let-go", "3:00"), ("nib", "11:00"), ("pitch", "1 mm"), ("starts", "2"), ("off", "70"), ("hand", "left")];
    let (right, left) = (worked("thread-stop", &right), worked("thread-stop", &left));
    for name in ["stop-angle", "rest", "stop-change", "other-start"] {
        assert_eq!(value(&right, name), value(&left, name), "{name}");
    }
    near(value(&right, "clip") + value(&left, "clip"), 360.0, 1e-9, "the clips are mirrored");
}

/// A pen of numbers, turned: at the catch the clip, which is fixed to the cap, stands over the nib.
#[test]
fn at_the_catch_the_clip_is_over_the_nib() {
    for (hand, sign) in [(Hand::Right, 1.0), (Hand::Left, -1.0)] {
        for (lead, travel, nib) in [(2.4, 4.1, 20.0), (3.0, 3.75, 0.0), (1.0, 7.3, 350.0)] {
            let nib = ClockPosition::from_angle(degrees(nib));
            let stop = over_whole_turns(turned(mm(travel), mm(lead)).expect("they are few"));
            let none = degrees(0.0);
            let clip = thread_stop::clip(nib, stop, none, none, hand).expect("it is an angle");
            // Closed, the cap's mark is at 12; opened by all its turns it stands back by as much.
            let mark = -sign * 360.0 * travel / lead;
            let stands = (mark + clip.to_angle().degrees()).rem_euclid(360.0);
            near(stands, nib.to_angle().degrees(), 1e-6, "the clip over the nib");
        }
    }
}

#[test]
fn what_is_said_names_the_count_the_seat_the_wood_and_the_way_without_a_sum() {
    let without = "close it, open it until the threads let go, mark the cap where the nib's top is";
    let counted =
        worked("thread-stop", &[("turns", "1.25"), ("lead", "3 mm"), ("diameter", "14 mm"), ("touches", "wood")]);
    for part in
        ["An eighth of a turn wrong", "0.05 mm of seat turns the stop by 6°, 0.733 mm", "band meets wood", without]
    {
        assert!(plain(&counted.say).contains(part), "{part}: {}", counted.say);
    }
    let figure = worked("thread-stop", &[("let-go", "9:00"), ("clip-over", "figure"), ("touches", "metal")]);
    assert!(figure.say.contains("best figure") && figure.say.contains(without), "{}", figure.say);
    assert!(!figure.say.contains("wood") && !figure.say.contains("eighth"), "{}", figure.say);
    assert_eq!(figure.output("clip").and_then(|clip| clip.value), None);
    let off = [("let-go", "9:00"), ("pitch", "0.8 mm"), ("starts", "3"), ("off", "130")];
    let say = plain(&worked("thread-stop", &off).say);
    let expected = "Correct the stop first: begin 120° further back, anticlockwise and add 0.067 mm at the stop (to keep \
                    the thread start instead, a shim of 0.867 mm); find the let-go again, and then set the clip.";
    assert!(say.contains(expected), "{say}");
}

#[test]
fn the_next_value_that_is_missing_is_asked_for() {
    let rows: [(Typed, &str); 5] = [
        (&[], "`let-go` is missing"),
        (&[("travel", "3 mm")], "`lead` is missing"),
        (&[("travel", "3 mm"), ("pitch", "1 mm")], "`starts` is missing"),
        (&[("turns", "1.5"), ("off", "40")], "`starts` is missing"),
        (&[("turns", "1.5"), ("off", "40"), ("starts", "3")], "`lead` is missing"),
    ];
    for (typed, expected) in rows {
        let said = refused("thread-stop", typed);
        assert!(said.starts_with(expected), "{typed:?}: {said}");
    }
}

#[test]
fn what_contradicts_is_refused_by_name() {
    let rows: [(Typed, &str); 6] = [
        (
            &[("let-go", "9:00"), ("lead", "2.5 mm"), ("pitch", "1 mm")],
            "`lead`: 2.5 mm is 2.500 × the pitch of 1 mm, and it is 1 to 8 times, whole",
        ),
        (
            &[("let-go", "9:00"), ("lead", "3 mm"), ("pitch", "1 mm"), ("starts", "2")],
            "`lead`: 3 mm is not pitch × starts, which is 1 mm × 2 = 2 mm",
        ),
        (&[("let-go", "9:00"), ("lead", "9 mm"), ("pitch", "1 mm")], "`lead`: 9 mm is 9.000 × the pitch"),
        (&[("let-go", "9:00"), ("turns", "1.25")], "`turns`: `let-go` says the same, and says it better"),
        (&[("let-go", "9:00"), ("starts", "9")], "`starts`: `9` is out of range, it goes from 1 to 8, a whole number"),
        (
            &[("let-go", "9:00"), ("starts", "three")],
            "`starts`: `three` is out of range, it goes from 1 to 8, a whole number: type the number alone, like 3",
        ),
    ];
    for (typed, expected) in rows {
        let said = refused("thread-stop", typed);
        assert!(said.starts_with(expected), "{typed:?}: {said}");
    }
}

/// The nib at the top, three starts, the cap 40° past its mark.
#[test]
fn the_marks_are_drawn_on_the_face() {
    let typed = [("let-go", "4:48"), ("nib", "12:00"), ("pitch", "0.8 mm"), ("starts", "3"), ("off", "40")];
    let face = worked("thread-stop", &typed).face.expect("it has a face");
    let marks: Vec<_> = face.marks.iter().map(|(name, at)| (*name, at.figures())).collect();
    let expected = [
        ("grain", "12:00"),
        ("nib", "12:00"),
        ("stop", "1:20"),
        ("start 2", "9:20"),
        ("start 3", "5:20"),
        ("clip", "6:12"),
    ];
    assert_eq!(marks, expected.map(|(name, at)| (name, at.to_owned())));
    let drawn = stepjig::sheet::clock_face::draw(&face.marks, false).join("\n");
    assert_eq!(drawn, FACE.trim_matches('\n'), "\n{drawn}");
}

const FACE: &str = "
          12
     ·    G    ·
 ·        N    S   ·   G grain 12:00
                       N nib 12:00
  T                    S stop 1:20
9         +         3  T start 2 9:20
                       A start 3 5:20
                       C clip 6:12
 ·                 ·
     ·   C   A ·
          6
Seen with the capped pen's finial end
towards you.";

#[test]
fn figures_run_on_or_the_cap_is_turned() {
    // Computed: (2 + 3 − 2.5) tan 20° = 0.910 mm, over 6.5 mm; (1.2 + 1.6 − 4) tan 10° = −0.212 mm.
    let typed = [("kerf", "2.0 mm"), ("squared-off", "3.0 mm"), ("band", "2.5 mm"), ("slant", "20"), ("cap", "13 mm")];
    let turned = worked("grain-match", &typed);
    near(value(&turned, "removed"), 5.0, 1e-12, "removed");
    near(value(&turned, "drift"), 0.910, 0.0005, "drift");
    near(value(&turned, "turn"), 8.02, 0.005, "turn");
    near(value(&turned, "even"), -2.5, 1e-12, "even");
    assert_eq!(turned.verdict, Some("turn-cap"));
    assert_eq!(text(&turned, "turn"), "8.02° against the lean, 0.91 mm at the rim");
    let typed = [("kerf", "1.2 mm"), ("squared-off", "1.6 mm"), ("band", "4.0 mm"), ("slant", "10"), ("cap", "13 mm")];
    let runs_on = worked("grain-match", &typed);
    near(value(&runs_on, "drift"), -0.212, 0.0005, "drift");
    near(value(&runs_on, "even"), 1.2, 1e-12, "even");
    assert_eq!(runs_on.verdict, Some("runs-on"));
}

/// A line is drawn on a whole blank, wood is taken worked, the band put in, and the cap turned as it is said: then both
/// pieces of the line are one again.
#[test]
fn a_cap_turned_as_it_is_said_carries_the_line_on() {
    for (removed, band, lean) in [(5.0, 2.5, "clockwise"), (1.0, 4.0, "clockwise"), (5.0, 2.5, "anticlockwise")] {
        let (slant, diameter) = (25.0_f64, 12.0);
        let (kerf, band_text) = (format!("{removed} mm"), format!("{band} mm"));
        let typed = [("kerf", &*kerf), ("squared-off", "0 mm"), ("band", &band_text), ("slant", "25")];
        let outcome = worked("grain-match", &[&typed[..], &[("cap", "12 mm"), ("lean", lean)]].concat());
        // Degrees clockwise that the line goes round for each mm towards the finial.
        let around = slant.to_radians().tan() / (diameter / 2.0) * 180.0 / std::f64::consts::PI;
        let around = if lean == "clockwise" { around } else { -around };
        // The cap's edge was `removed` above the body's, and now stands `band` above it.
        let (is_at, should_be_at) = (removed * around, band * around);
        let said = text(&outcome, "turn");
        let clockwise = said.contains("(clockwise)");
        assert_ne!(clockwise, said.contains("(anticlockwise)"), "{said}");
        let size = value(&outcome, "turn").abs();
        let after = is_at + if clockwise { size } else { -size };
        near(after, should_be_at, 1e-9, &said);
        let cap = outcome.face.expect("it has a face").marks[1].1.to_angle().degrees();
        near(cap, (is_at - should_be_at).rem_euclid(360.0), 1e-9, "the cap's figure on the face");
    }
}

#[test]
fn a_growth_ring_jumps_where_the_diameters_differ() {
    let base = [("kerf", "1 mm"), ("squared-off", "1 mm"), ("band", "2 mm"), ("slant", "0"), ("cap", "13 mm")];
    let with = |more: &[(&'static str, &'static str)]| [&base[..], more].concat();
    // Computed: asin(6/12) − asin(6/13) = 30° − 27.486°.
    let outcome = worked("grain-match", &with(&[("growth-ring", "3 mm"), ("body", "12 mm")]));
    near(value(&outcome, "step"), 2.514, 0.0005, "step");
    assert!(refused("grain-match", &with(&[("growth-ring", "3 mm")])).starts_with("`body` is missing"));
    let outside = refused("grain-match", &with(&[("growth-ring", "6.1 mm"), ("body", "12 mm")]));
    assert!(outside.starts_with("`growth-ring`: 6.1 mm from the axis lies outside the wood"), "{outside}");
}

#[test]
fn once_the_band_is_pressed_only_starts_and_shims_are_left() {
    let base = [("kerf", "2 mm"), ("squared-off", "3 mm"), ("band", "2.5 mm"), ("slant", "20"), ("cap", "13 mm")];
    let say = |more: Typed| worked("grain-match", &[&base[..], more].concat()).say;
    assert!(say(&[]).contains("until then any angle is free"), "{}", say(&[]));
    let pressed = say(&[("band-pressed", "yes"), ("lean", "clockwise"), ("starts", "3")]);
    assert!(pressed.contains("a shim, as another thread start, in steps of 120°, would be further off"), "{pressed}");
    assert!(pressed.contains("`off` 8.02°"), "{pressed}");
}

fn angle() -> impl Strategy<Value = f64> {
    prop_oneof![-360.0..=360.0_f64, (-12..=12_i32).prop_map(|n| f64::from(n) * 30.0)]
}

proptest! {
    #[test]
    fn other_starts_never_leave_more_than_half_a_step(off in angle(), starts in 1..=8_u32) {
        let found = correction(degrees(off), starts).expect("it is an angle");
        prop_assert!(found.rest.degrees().abs() <= 180.0 / f64::from(starts) + 1e-9);
        prop_assert!(found.other_start < starts);
        // Begun so many starts back, with the rest corrected, it stops on the mark.
        let turns = (off - f64::from(found.other_start) * 360.0 / f64::from(starts) - found.rest.degrees()) / 360.0;
        prop_assert!((turns - turns.round()).abs() < 1e-9, "{turns}");
    }

    #[test]
    fn a_whole_number_of_leads_is_no_angle(turns in 1..=200_u32, lead in 0.05..5.0_f64) {
        let travel = mm(f64::from(turns) * lead);
        prop_assert_eq!(over_whole_turns(turned(travel, mm(lead)).expect("they are few")).degrees(), 0.0);
    }

    #[test]
    fn a_shim_for_an_angle_turns_by_that_angle(off in 0.0..360.0_f64, lead in 0.2..5.0_f64) {
        let shim = material(mm(lead), degrees(off)).expect("it is small").size();
        prop_assert!((turned(shim, mm(lead)).expect("they are few").degrees() - off).abs() < 1e-6);
    }

    #[test]
    fn clips_are_on_the_face(let_go in 0.0..720.0_f64, nib in 0..720_u32, off in angle(), starts in 1..=8_u32) {
        let let_go = format!("{} deg", let_go / 2.0);
        let nib = format!("{} deg", f64::from(nib) / 2.0);
        let (off, starts) = (format!("{off} deg"), starts.to_string());
        let typed = [("let-go", &*let_go), ("nib", &*nib), ("off", &*off), ("starts", &*starts), ("pitch", "1 mm")];
        let outcome = work_out("thread-stop", &typed).expect("it is worked out");
        for name in ["clip", "clip-exact", "stop-angle"] {
            prop_assert!((0.0..360.0).contains(&value(&outcome, name)));
            prop_assert!(value(&outcome, name) < 360.0 - 1e-7, "{name}");
        }
    }

    #[test]
    fn drift_grows_with_what_is_removed(kerf in 0.0..5.0_f64, more in 0.01..5.0_f64, slant in 1.0..70.0_f64) {
        let drift = |removed: f64| stepjig::reckon::grain_match::drift(mm(removed), mm(2.0), degrees(slant)).expect("it is small");
        prop_assert!(drift(kerf) < drift(kerf + more));
    }
}

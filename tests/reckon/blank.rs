//! Cuts on the blank. Each row names where its figure is from.

use crate::helper::{near, refused, text, value, worked};
use proptest::prelude::*;
use stepjig::reckon::blank_cut::Layout;
use stepjig::units::Length;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm).expect("it is a length")
}

#[test]
fn what_the_pieces_need_of_the_blank() {
    // What is given | needed | slack, in mm | source.
    let rows = [
        (
            "blank=130 mm; pieces=52 mm,40 mm; allowance=1.5 mm; kerf=2 mm",
            100.0,
            30.0,
            "55 + 43 + 2 = 100, plain arithmetic",
        ),
        (
            "blank=5 in; pieces=2 in,1 1/2 in; allowance=1/16 in; kerf=1/16 in",
            96.8375,
            30.1625,
            "2 1/8 + 1 5/8 + 1/16 = 3 13/16 in, exact",
        ),
        ("blank=60 mm; pieces=52 mm; allowance=1.5 mm; kerf=2 mm", 55.0, 5.0, "a single piece has no cut beside it"),
    ];
    for (typed, needed, slack, source) in rows {
        let outcome = worked("blank-cut", typed);
        near(value(&outcome, "needed"), needed, 1e-9, source);
        near(value(&outcome, "slack"), slack, 1e-9, source);
        assert_eq!(outcome.verdict, Some("fits"), "{typed}");
    }
}

/// Two barrels of 52 and 60 mm, 2.4 mm over each, a kerf of 1.2 mm and three cuts, the outer ends too: 120.4 mm,
/// plain arithmetic.
#[test]
fn saw_cuts_at_the_outer_ends_count_too() {
    let layout = Layout::new(vec![mm(52.0), mm(60.0)], mm(1.2), mm(1.2)).expect("it is short enough");
    near(layout.needed(3).expect("it is a length").in_mm(), 120.4, 1e-9, "54.4 + 62.4 + 3 × 1.2");
    near(layout.needed(1).expect("it is a length").in_mm(), 118.0, 1e-9, "54.4 + 62.4 + 1.2");
}

#[test]
fn each_cut_is_named_with_where_it_ends() {
    let outcome = worked("blank-cut", "blank=130 mm; pieces=52 mm,40 mm; allowance=1.5 mm; kerf=2 mm");
    let said = ["cut-1", "cut-2", "at-1", "at-2"].map(|name| text(&outcome, name));
    assert_eq!(said, ["55 mm", "43 mm", "55 mm", "100 mm"].map(str::to_owned), "55; then 55 + 2 + 43");
    assert_eq!(
        outcome.working.replace('\u{a0}', " "),
        "cut = tube + 2 × 1.5 mm: 52 mm, 40 mm → 55 mm, 43 mm; needed = 55 mm + 43 mm + 1 × 2 mm = 100 mm; \
         130 mm − 100 mm = 30 mm"
    );
}

#[test]
fn what_is_typed_in_inches_is_told_in_inches() {
    let outcome = worked("blank-cut", "blank=5 in; pieces=2 in,1 1/2 in; allowance=1/16 in; kerf=1/16 in");
    let said = ["cut-1", "cut-2", "needed", "slack"].map(|name| text(&outcome, name));
    assert_eq!(said, ["2 1/8 in", "1 5/8 in", "3 13/16 in", "1 3/16 in"].map(str::to_owned));
}

/// The blank of 130 mm with 30 mm to spare; the second piece's middle lies at 55 + 2 + 21.5 = 78.5 mm unshifted.
#[test]
fn a_figure_is_brought_nearest_the_middle_of_its_piece() {
    let blank = "blank=130 mm; pieces=52 mm,40 mm; allowance=1.5 mm; kerf=2 mm";
    // Feature, piece | shift | how far past the middle it stays, in mm.
    let rows = [
        ("feature=90 mm; into=2", 11.5, 0.0),
        ("feature=78.5 mm; into=2", 0.0, 0.0),
        ("feature=70 mm; into=2", 0.0, -8.5),
        ("feature=120 mm; into=2", 30.0, 11.5),
        ("feature=40 mm; into=1", 12.5, 0.0),
        ("feature=5 mm; into=2", 0.0, -73.5),
    ];
    for (figure, shift, off) in rows {
        let outcome = worked("blank-cut", &format!("{blank}; {figure}"));
        near(value(&outcome, "shift"), shift, 1e-9, figure);
        near(value(&outcome, "off"), off, 1e-9, figure);
        near(value(&outcome, "at-2"), 100.0 + shift, 1e-9, figure);
    }
    let said = |figure: &str| worked("blank-cut", &format!("{blank}; {figure}")).say.replace('\u{a0}', " ");
    let inside = said("feature=120 mm; into=2");
    assert!(
        inside.contains("Begin 30 mm from the left end: the figure then lies 11.5 mm past the middle of piece 2."),
        "{inside}"
    );
    let outside = said("feature=5 mm; into=2");
    assert!(outside.contains("lies 73.5 mm before the middle, outside, of piece 2."), "{outside}");
    let middle = said("feature=90 mm; into=2");
    assert!(middle.contains("lies in the middle of piece 2."), "{middle}");
}

#[test]
fn a_blank_that_is_short_says_by_how_much_and_what_would_fit() {
    // Blank | slack | what could be left at each end, in mm: (blank − 92 − 2) / 4.
    let rows = [("98", -2.0, 1.0), ("94", -6.0, 0.0), ("90", -10.0, -1.0)];
    for (blank, slack, allowance) in rows {
        let outcome =
            worked("blank-cut", &format!("blank={blank} mm; pieces=52 mm,40 mm; allowance=1.5 mm; kerf=2 mm"));
        assert_eq!(outcome.verdict, Some("short"), "{blank}");
        near(value(&outcome, "slack"), slack, 1e-9, blank);
        near(value(&outcome, "allowance-that-fits"), allowance, 1e-9, blank);
        let bare = outcome.say.contains("Even the bare tubes and the saw cuts lack 4");
        assert_eq!(bare, allowance < 0.0, "{}", outcome.say);
        // Never "−1 mm fits": 52 + 40 + 2 − 90.
        let said =
            if bare { "none does: the bare tubes lack 4 mm".to_owned() } else { format!("{allowance} mm at each end") };
        assert_eq!(text(&outcome, "allowance-that-fits"), said);
    }
}

/// 52.1 + 3 + 40.2 + 3 + 2 is 100.3 to a pencil, though not to binary digits.
#[test]
fn a_blank_that_just_fits_fits() {
    let outcome = worked("blank-cut", "blank=100.3 mm; pieces=52.1 mm,40.2 mm; allowance=1.5 mm; kerf=2 mm");
    assert_eq!((outcome.verdict, text(&outcome, "slack")), (Some("fits"), "0 mm".to_owned()));
}

#[test]
fn what_is_missing_is_asked_for_and_what_cannot_be_is_refused() {
    let full = "blank=130 mm; pieces=52 mm,40 mm; allowance=1.5 mm; kerf=2 mm";
    let rows = [
        ("", "`blank` is missing"),
        ("blank=130 mm", "`pieces` is missing"),
        ("blank=130 mm; pieces=52 mm", "`allowance` is missing"),
        ("blank=130 mm; pieces=52 mm; allowance=1 mm", "`kerf` is missing"),
        (&format!("{full}; into=2"), "`feature` is missing"),
        (&format!("{full}; feature=20 mm"), "`into` is missing"),
        (
            &format!("{full}; feature=140 mm; into=1"),
            "`feature`: `140 mm` is out of range, it goes from 0 to 130 mm, the blank's length",
        ),
        (
            &format!("{full}; feature=20 mm; into=3"),
            "`into`: `3` is out of range, it goes from 1 to 2, the pieces there are",
        ),
        ("blank=130 mm; pieces=52 mm,,40 mm", "`pieces`: a length is missing: write it like 25/64, .391 in or 9.92 mm"),
        (
            "blank=130 mm; pieces=52 in",
            "`pieces`: `52 in` is out of range, it goes from 5 mm to 300 mm: are the units mixed up? did you mean 52 mm?",
        ),
    ];
    for (typed, expected) in rows {
        let said = refused("blank-cut", typed);
        assert!(said.starts_with(expected), "{typed}: {said}");
    }
    let nine = ["10 mm"; 9].join(",");
    let said = refused("blank-cut", &format!("blank=130 mm; pieces={nine}"));
    assert_eq!(said, "`pieces`: `9 pieces` is out of range, it goes from 1 to 8 pieces: lay out one blank at a time");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn cuts_and_kerfs_and_slack_make_the_blank(
        blank in 10.0..2_000.0_f64,
        tubes in prop::collection::vec(5.0..300.0, 1..=8),
        allowance in 0.0..20.0,
        kerf in 0.0..6.0_f64,
    ) {
        let pieces: Vec<String> = tubes.iter().map(|tube| format!("{tube} mm")).collect();
        let typed = format!("blank={blank} mm; pieces={}; allowance={allowance} mm; kerf={kerf} mm", pieces.join(","));
        let outcome = worked("blank-cut", &typed);
        let cuts: f64 = (1..=tubes.len()).map(|n| value(&outcome, &format!("cut-{n}"))).sum();
        let kerfs = kerf * (tubes.len() - 1) as f64;
        prop_assert!((cuts + kerfs + value(&outcome, "slack") - blank).abs() < 1e-9);
        prop_assert_eq!(outcome.verdict == Some("fits"), 0.0 <= value(&outcome, "slack"));
    }

    /// No other shift brings the figure nearer to the middle: tried in a hundred places.
    #[test]
    fn the_shift_is_the_best_there_is(feature in 0.0..300.0, piece in 0_usize..2, slack in 0.0..100.0) {
        let layout = Layout::new(vec![mm(52.0), mm(40.0)], mm(1.5), mm(2.0)).expect("it is short enough");
        let (shift, off) = layout.shift(mm(feature), piece, mm(slack)).expect("there is such a piece");
        prop_assert!((0.0..=slack).contains(&shift.in_mm()));
        let far = |shift: f64| {
            let (start, end) = layout.places(mm(shift)).expect("it is short enough")[piece];
            (feature - (start.in_mm() + end.in_mm()) / 2.0).abs()
        };
        prop_assert!((off.size().in_mm() - far(shift.in_mm())).abs() < 1e-9);
        for n in 0..=100 {
            prop_assert!(off.size().in_mm() <= far(slack * f64::from(n) / 100.0) + 1e-9);
        }
    }
}

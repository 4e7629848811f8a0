//! The bit for a tube, against the published tables in `tests/data/drills.toml`, whose sources are named there.

use proptest::prelude::*;
use stepjig::reckon::drill_for::clearance;
use stepjig::reckon::{BitSet, Data};
use stepjig::units::Length;

use crate::helper::{near, refused, text, value, worked};

const INCH: [BitSet; 3] = [BitSet::Fraction, BitSet::Letter, BitSet::Number];

/// Returns set, name and inches of all published sizes, the names as the shipped file has them.
fn published() -> Vec<(BitSet, String, f64)> {
    let tables: toml::Table = toml::from_str(include_str!("../data/drills.toml")).expect("it is TOML");
    let rows = |set, table: &str| {
        let rows = tables[table].as_array().expect("it is a list").clone();
        rows.into_iter().map(move |row| {
            let name = row["size"].as_str().expect("a size is a text").trim_start_matches('#').to_owned();
            (set, name, row["inch"].as_float().expect("inch is a number"))
        })
    };
    let [fraction, letter, number] =
        [("fractional", 0), ("letter", 1), ("number", 2)].map(|(name, n)| rows(INCH[n], name));
    fraction.chain(letter).chain(number).collect()
}

#[test]
fn the_shipped_sizes_are_the_published_ones() {
    let data = Data::shipped();
    let drills = data.drills().expect("it reads");
    let mut shipped: Vec<_> = drills.of(&INCH).collect();
    for (set, name, inches) in published() {
        let at = shipped.iter().position(|bit| bit.set == set && bit.name == name);
        let bit = shipped.swap_remove(at.unwrap_or_else(|| panic!("{name} is not there")));
        near(bit.diameter.in_inches(), inches, 1e-12, &name);
    }
    assert!(shipped.is_empty(), "these are published nowhere: {shipped:?}");
}

#[test]
fn metric_bits_go_in_half_millimetres() {
    let data = Data::shipped();
    let metric: Vec<f64> =
        data.drills().expect("it reads").of(&[BitSet::Metric]).map(|bit| bit.diameter.in_mm()).collect();
    assert_eq!(metric, (1..=50).map(|n| f64::from(n) / 2.0).collect::<Vec<_>>());
}

/// J is 0.277 in, 3/8 in is 0.375 in: published sizes, the nearest ones found by eye in the table.
#[test]
fn the_nearest_inch_size() {
    let data = Data::shipped();
    let drills = data.drills().expect("it reads");
    for (mm, name, size) in [(7.0, "letter J", 7.036), (9.5, "3/8 in", 9.525)] {
        let bit = drills.nearest(Length::from_mm(mm).expect("it is a length"), &INCH).expect("there is one");
        assert_eq!(bit.to_string().replace('\u{a0}', " "), name);
        near(bit.diameter.in_mm(), size, 0.0005, name);
    }
}

/// A 3/8 in bit over a 0.370 in tube: 0.375 − 0.370 in, exact, and that in mm.
#[test]
fn what_a_bit_clears() {
    let data = Data::shipped();
    let bit = data.drills().expect("it reads").of(&[BitSet::Fraction]).find(|bit| bit.name == "3/8");
    let tube = Length::from_inches(0.370).expect("it is a length");
    let clears = clearance(bit.expect("it is a bit"), tube);
    near(clears.in_inches(), 0.0050, 1e-12, "in inches");
    near(clears.in_mm(), 0.127, 1e-12, "in mm");
}

#[test]
fn the_smallest_bit_that_clears() {
    // What is given | bit | its size and clearance in mm | verdict | source: the published sizes, by eye.
    let rows = [
        ("tube=10.30 mm", "letter Z (10.49 mm)", 10.490, 0.190, "found"),
        ("tube=9.90 mm; sets=fraction,letter,number", "letter X (10.084 mm)", 10.084, 0.184, "found"),
        ("tube=9.90 mm", "10 mm", 10.0, 0.1, "found"),
        ("tube=10.30 mm; sets=fraction", "27/64 in (10.716 mm)", 10.716, 0.416, "over"),
        ("tube=10.30 mm; sets=fraction; most=0.42 mm", "27/64 in (10.716 mm)", 10.716, 0.416, "found"),
        // 13/32 in clears only 0.019 mm.
        ("tube=10.30 mm; sets=fraction; least=0.01 mm", "13/32 in (10.319 mm)", 10.319, 0.019, "found"),
        // At the threshold itself, whatever the binary digits.
        ("tube=10.45 mm; sets=metric", "10.5 mm", 10.5, 0.05, "found"),
        ("tube=10.25 mm; sets=metric", "10.5 mm", 10.5, 0.25, "found"),
    ];
    for (typed, bit, mm, clearance, verdict) in rows {
        let outcome = worked("drill-for", typed);
        assert_eq!(text(&outcome, "bit"), bit, "{typed}");
        near(value(&outcome, "bit"), mm, 0.0005, typed);
        near(value(&outcome, "clearance"), clearance, 0.0006, typed);
        assert_eq!(outcome.verdict, Some(verdict), "{typed}");
    }
}

#[test]
fn the_next_bits_up_and_those_that_tie_are_named() {
    let outcome = worked("drill-for", "tube=10.30 mm");
    assert_eq!(text(&outcome, "next"), "10.5 mm, 27/64 in (10.716 mm), 11 mm");
    assert_eq!(value(&outcome, "next"), 10.5);
    assert_eq!(outcome.output("tie").expect("it is there").value, None);
    // Letter E and 1/4 in are the same size: a note of the published table.
    let tied = worked("drill-for", "tube=6.25 mm; sets=fraction,letter");
    assert_eq!((text(&tied, "bit"), text(&tied, "tie")), ("1/4 in (6.35 mm)".into(), "letter E (6.35 mm)".into()));
    assert_eq!(text(&tied, "next"), "letter F (6.528 mm), letter G (6.629 mm), 17/64 in (6.747 mm)");
}

#[test]
fn where_no_bit_clears_it_says_so() {
    let outcome = worked("drill-for", "tube=12 mm; sets=letter,number");
    assert_eq!(outcome.verdict, Some("none"));
    assert!(outcome.outputs.iter().all(|output| output.value.is_none()), "{outcome:?}");
}

#[test]
fn the_sum_is_shown_as_a_pencil_would_do_it() {
    let working = worked("drill-for", "tube=10.30 mm").working.replace('\u{a0}', " ");
    let expected = "the first bit from 10.3 mm + 0.05 mm up is letter Z (10.49 mm); 10.49 mm − 10.3 mm = 0.19 mm";
    assert_eq!(working, expected);
}

#[test]
fn what_cannot_be_is_refused() {
    let rows = [
        (
            "tube=10 mm; least=0.3 mm; most=0.2 mm",
            "`most`: 0.2 mm is less than `least`, 0.3 mm: the least comes first; leave both out for what is usual",
        ),
        (
            "tube=10 mm; least=0.3 mm",
            "`most`: 0.25 mm is less than `least`, 0.3 mm: the least comes first; leave both out for what is usual",
        ),
        ("tube=10 mm; sets=letters", "`sets`: `letters` is not listed: one of: fraction, letter, number, metric"),
        (
            "tube=10.3 in",
            "`tube`: `10.3 in` is out of range, it goes from 1 mm to 40 mm: are the units mixed up? did you mean 10.3 mm?",
        ),
    ];
    for (typed, expected) in rows {
        assert_eq!(refused("drill-for", typed), expected, "{typed}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// The same found the slow way in the published table: no bit under `least`, and none smaller left out.
    #[test]
    fn a_bit_under_the_least_is_never_offered(tube in 1.0..25.0, least in 0.0..1.0, chosen in prop::sample::subsequence(INCH.to_vec(), 1..=3)) {
        let sets: Vec<&str> = chosen.iter().map(|set| set.name()).collect();
        let outcome = worked("drill-for", &format!("tube={tube} mm; least={least} mm; most=2 mm; sets={}", sets.join(",")));
        let sizes = published().into_iter().filter(|(set, ..)| chosen.contains(set)).map(|(.., inches)| inches * 25.4);
        let smallest = sizes.filter(|mm| tube + least <= mm + 1e-9).min_by(f64::total_cmp);
        let offered = outcome.output("bit").expect("it is there").value;
        prop_assert_eq!(offered.is_some(), smallest.is_some());
        if let (Some(offered), Some(smallest)) = (offered, smallest) {
            prop_assert!((offered - smallest).abs() < 1e-9, "{} is not {}", offered, smallest);
            prop_assert!(least <= value(&outcome, "clearance") + 1e-9);
            prop_assert!(outcome.output("next").expect("it is there").value.is_none_or(|next| offered < next));
        }
    }
}

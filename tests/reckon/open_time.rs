//! Whether the glue stays open long enough.

use proptest::prelude::*;
use stepjig::reckon::open_time::margin;
use stepjig::units::Span;

use crate::helper::{near, refused, text, value, worked};

#[test]
fn the_margin_is_the_open_time_over_the_dry_run() {
    // What is given | margin | verdict | source: plain arithmetic, the rule of a doubling for every 10 °C (common
    // practice), the thresholds 3 and 1.5 (common practice, no source).
    let rows = [
        ("seat=10 s; open=60 s; temperature=20 C; vapour=no", 6.0, "enough"),
        ("seat=10; open=60; temperature=30; vapour=no", 3.0, "enough"),
        ("seat=10 s; open=60 s; temperature=10 C; vapour=no", 12.0, "enough"),
        ("seat=20.5 s; open=60 s; temperature=20 C; vapour=no", 60.0 / 20.5, "tight"),
        ("seat=10 s; open=60 s; temperature=40 C; vapour=no", 1.5, "tight"),
        ("seat=10.1 s; open=60 s; temperature=40 C; vapour=no", 15.0 / 10.1, "will-grab"),
        ("seat=10 s; open=5 min; temperature=68 F; vapour=yes", 30.0, "will-grab"),
    ];
    for (typed, margin, verdict) in rows {
        let outcome = worked("open-time", typed);
        near(value(&outcome, "margin"), margin, 1e-9, typed);
        assert_eq!(outcome.verdict, Some(verdict), "{typed}");
        assert!(outcome.say.contains("an estimate"), "{}", outcome.say);
    }
}

#[test]
fn the_sum_is_shown_as_a_pencil_would_do_it() {
    let outcome = worked("open-time", "seat=10 s; open=60 s; temperature=25 C; vapour=no");
    assert_eq!(
        outcome.working.replace('\u{a0}', " "),
        "margin = open × 2^((20 − T) / 10) / seat = 1 min × 2^((20 − 25) / 10) / 10 s = 42 s / 10 s = 4.24"
    );
    assert_eq!((text(&outcome, "margin"), text(&outcome, "open-here")), ("4.24 times".into(), "42 s".into()));
    near(value(&outcome, "open-here"), 2_f64.sqrt() / 2.0, 1e-9, "1 min / √2");
}

#[test]
fn what_is_missing_is_asked_for_in_order() {
    let rows = [
        ("", "seat"),
        ("seat=10 s", "open"),
        ("seat=10 s; open=60 s", "temperature"),
        ("seat=10 s; open=60 s; temperature=20 C", "vapour"),
    ];
    for (typed, next) in rows {
        assert!(refused("open-time", typed).starts_with(&format!("`{next}` is missing")), "{typed}");
    }
    assert_eq!(refused("open-time", "vapour=perhaps"), "`vapour`: `perhaps` is not listed: one of: yes, no");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_quicker_hand_or_a_slower_glue_is_never_worse(seat in 0.5..3_600.0, open in 1.0..86_400.0, more in 1.0..2.0) {
        let span = |seconds| Span::from_seconds(seconds).expect("it is in range");
        let plain = margin(span(open), span(seat));
        prop_assert!(plain <= margin(span(open * more), span(seat)));
        prop_assert!(margin(span(open), span(seat * more)) <= plain);
        prop_assert!((plain * seat / open - 1.0).abs() < 1e-12);
    }
}

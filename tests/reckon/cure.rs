//! When the glue is really hard.

use proptest::prelude::*;
use stepjig::reckon::cure::{Air, air};
use stepjig::reckon::temperature_rule::{at_temperature, times_as_long};
use stepjig::units::Span;

use crate::helper::{near, refused, text, value, worked};

#[test]
fn warmth_halves_the_time_for_every_10_degrees() {
    // What is given | minutes | source.
    let rows = [
        ("rated=5 min; rated-at=23 C; temperature=33 C", 2.5, "half for 10 °C warmer: an adhesive maker's article"),
        ("rated=5 min; rated-at=23 C; temperature=13 C", 10.0, "double for 10 °C cooler: the same"),
        ("rated=7 days; temperature=30 C", 5_040.0, "half at 30 °C against room: an epoxy formulator's glossary"),
        ("rated=24 h; temperature=20 C", 1_440.0, "as rated where it is as warm"),
        ("rated=1 h; rated-at=68 F; temperature=86 F", 30.0, "18 °F are 10 °C"),
    ];
    for (typed, minutes, source) in rows {
        for glue in ["epoxy", "polyurethane"] {
            near(value(&worked("cure", &format!("glue={glue}; {typed}")), "time"), minutes, 1e-9, source);
        }
        near(value(&worked("cure", &format!("factor=2; {typed}")), "time"), minutes, 1e-9, source);
    }
}

/// 30 min at 25 °C, kept at 18 °C, the factor from 1.5 to 2.5: 30 × 1.5^0.7 = 39.85, 30 × 2.5^0.7 = 56.97.
#[test]
fn the_band_goes_from_the_least_to_the_most_factor() {
    let outcome = worked("cure", "glue=epoxy; rated=30 min; rated-at=25 C; temperature=18 C");
    near(value(&outcome, "soonest"), 39.85, 0.05, "30 × 1.5^0.7");
    near(value(&outcome, "latest"), 56.97, 0.05, "30 × 2.5^0.7");
    let said = outcome.say.replace('\u{a0}', " ");
    assert_eq!(
        said,
        "About 49 min, an estimate, by the hardener anything from 40 min to 57 min. It is hard when what is left in the \
         mixing cup takes no mark from a fingernail: trust that, not the clock. It gains strength for about 7 days."
    );
    assert_eq!(
        outcome.working.replace('\u{a0}', " "),
        "time = rated × 2^((rated-at − T) / 10) = 30 min × 2^((25 − 18) / 10) = 49 min"
    );
    // Where it is warmer, the larger factor is the sooner.
    let warmer = worked("cure", "glue=epoxy; rated=30 min; temperature=30 C");
    assert_eq!((value(&warmer, "soonest"), value(&warmer, "latest")), (12.0, 20.0));
}

/// That epoxy may stall under 10 °C is from memory.
#[test]
fn in_a_cold_shop_the_rule_is_not_trusted() {
    let said = |temperature| worked("cure", &format!("glue=epoxy; rated=1 h; temperature={temperature} C")).say;
    assert!(said("9.9").contains("may stall and stay soft"));
    assert!(!said("10").contains("may stall"));
}

/// Humidity in percent: 40 to 70 is good, under 30 slow, over 80 a shock: a trade article on blooming.
#[test]
fn cyanoacrylate_goes_by_the_air() {
    let rows = [
        (29.9, Air::Dry, (false, true, false)),
        (30.0, Air::Dryish, (true, true, false)),
        (40.0, Air::Good, (true, false, false)),
        (70.0, Air::Good, (true, false, false)),
        (70.1, Air::Dampish, (true, false, true)),
        (80.0, Air::Dampish, (true, false, true)),
        (80.1, Air::Shock, (false, false, true)),
    ];
    for (humidity, expected, told) in rows {
        assert_eq!(air(humidity, [40.0, 70.0], 30.0, 80.0), expected, "{humidity}");
        let outcome =
            worked("cure", &format!("glue=cyanoacrylate; rated=24 h; humidity={humidity} %; thickness=0.1 mm"));
        let has = |name| outcome.output(name).expect("it is there").value;
        assert_eq!((has("time").is_some(), has("soonest").is_some(), has("latest").is_some()), told, "{humidity}");
        let values = [has("time"), has("soonest"), has("latest")];
        assert!(values.iter().all(|value| value.is_none_or(|minutes| minutes == 1_440.0)), "no figure is made up");
        assert!(
            outcome.say.contains("an estimate") && outcome.say.contains("trust that, not the clock"),
            "{}",
            outcome.say
        );
    }
}

/// The gap that it fills, 0.25 mm, is from memory.
#[test]
fn a_gap_that_cyanoacrylate_does_not_fill_is_told() {
    let outcome = |mm| worked("cure", &format!("glue=ca; rated=24 h; humidity=50 %; thickness={mm} mm"));
    assert_eq!(value(&outcome("0.25"), "time"), 1_440.0);
    assert_eq!(outcome("0.26").output("time").expect("it is there").value, None);
    assert_eq!(text(&outcome("0.26"), "time"), "so thick that the middle may never harden");
}

#[test]
fn only_what_the_chemistry_uses_is_asked_for() {
    let rows = [
        ("", "glue"),
        ("glue=epoxy", "rated"),
        ("glue=epoxy; rated=1 h", "temperature"),
        ("glue=polyurethane; rated=1 h", "temperature"),
        ("glue=cyanoacrylate; rated=1 h", "humidity"),
        ("glue=cyanoacrylate; rated=1 h; humidity=50", "thickness"),
        ("factor=2", "rated"),
        ("factor=2; rated=1 h", "temperature"),
    ];
    for (typed, next) in rows {
        assert!(refused("cure", typed).starts_with(&format!("`{next}` is missing")), "{typed}");
    }
}

#[test]
fn what_cannot_be_is_refused() {
    let instead =
        "or leave `glue` out and give `factor`, how many times as fast it hardens 10 °C warmer, from its sheet";
    let rows = [
        ("glue=epoxi", format!("`glue`: `epoxi` is not listed: one of: epoxy; {instead}")),
        ("glue=paste", format!("`glue`: `paste` is not listed: one of: cyanoacrylate, epoxy, polyurethane; {instead}")),
        ("glue=epoxy; factor=2", "`factor`: `glue` is given too, and a listed glue has its own: give only one of them; a shop can list its glue in `adhesives.toml`".to_owned()),
        ("glue=ca; humidity=0", "`humidity`: `0` is out of range, it goes from over 0 % to under 100 %: air is never quite dry, and at 100 % the wood drips: is the point in its place, and the unit right?".to_owned()),
        ("glue=ca; humidity=100", "`humidity`: `100` is out of range, it goes from over 0 % to under 100 %: air is never quite dry, and at 100 % the wood drips: is the point in its place, and the unit right?".to_owned()),
        ("factor=1", "`factor`: `1` is out of range, it goes from over 1 to 4: is the point in its place, and the unit right?".to_owned()),
        ("factor=4; rated=30 days; rated-at=45 C; temperature=0 C", "`rated`: `1327104000 s` is out of range: a time goes from 0 to 3650 days: is the point in its place, and the unit right?".to_owned()),
    ];
    for (typed, expected) in rows {
        assert_eq!(refused("cure", typed), expected, "{typed}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_rule_goes_there_and_back_and_in_steps(minutes in 0.1..10_000.0, from in 5.0..45.0, by_way in 5.0..45.0, to in 5.0..45.0, factor in 1.1..4.0) {
        let time = Span::from_minutes(minutes).expect("it is in range");
        let at = |time, from, to| at_temperature(time, from, to, factor).expect("it is in range");
        let there = at(time, from, to);
        prop_assert!((at(there, to, from).minutes() / minutes - 1.0).abs() < 1e-9);
        prop_assert!((at(at(time, from, by_way), by_way, to).minutes() / there.minutes() - 1.0).abs() < 1e-9);
        prop_assert_eq!(times_as_long(from, from, factor), 1.0);
        prop_assert!((times_as_long(from, from + 10.0, factor) * factor - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_time_lies_in_its_band(hours in 0.1..100.0, from in 5.0..45.0, to in 0.0..45.0) {
        let outcome = worked("cure", &format!("glue=epoxy; rated={hours} h; rated-at={from} C; temperature={to} C"));
        let [soonest, time, latest] = ["soonest", "time", "latest"].map(|name| value(&outcome, name));
        prop_assert!(soonest <= time && time <= latest);
        prop_assert_eq!(time < hours * 60.0, from < to);
    }
}

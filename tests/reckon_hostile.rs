//! Whatever is typed at a reckoning: a refusal that names the input and says what to do, never a panic.

mod reckoning;

use proptest::prelude::*;
use stepjig::reckon::{ALL, Data, Input, Kind, NAMES, Refusal};

/// What no length, time, speed, count or word is.
const GARBAGE: &[&str] = &[
    "",
    " ",
    "\0",
    "\u{1b}[2J",
    "\u{202e}mm 9",
    "garbage",
    "NaN",
    "nan mm",
    "inf",
    "-inf",
    "1e308",
    "1e308 mm",
    "99999999999999999999999999999999",
    "-1",
    "-1 mm",
    "-5 min",
    "-40 F",
    "9.92 kg",
    "12 parsecs",
    "3 o'clock somewhere",
    "9,92 mm",
    "1/0",
    "--",
    ",",
    ",,,,",
    "1 mm,,2 mm",
    "yes,no,",
    "½½",
    "🦀",
    "=",
];

fn help_and_name(input: &Input, typed: &str, refusal: &Refusal) {
    let said = refusal.to_string();
    assert!(said.starts_with(&format!("`{}`", input.name)), "{}={typed:?}: {said}", input.name);
    assert!(refusal.help().is_some_and(|help| !help.is_empty()), "{}={typed:?}: {said} has no help", input.name);
    assert!(said.chars().count() < 400, "{said}");
}

/// A name is any text: its table refuses it later.
fn takes_any_text(input: &Input) -> bool {
    matches!(input.kind, Kind::Name)
}

#[test]
fn garbage_is_refused_at_every_input_of_every_reckoning() {
    let long = "9".repeat(5_000);
    for reckoning in ALL {
        for input in reckoning.inputs {
            for typed in GARBAGE.iter().copied().chain([long.as_str()]) {
                match reckoning.read([(input.name, typed)], None) {
                    Err(refusals) => refusals.iter().for_each(|refusal| help_and_name(input, typed, refusal)),
                    // Some of these are in order at one input and not at another: -1 as an angle.
                    Ok(given) => match reckoning.work_out(&given, &Data::shipped()) {
                        Err(refusal) => assert!(refusal.help().is_some(), "{}: {refusal}", reckoning.name),
                        Ok(outcome) => panic!("{} comes to {outcome:?} of {typed:?} alone", reckoning.name),
                    },
                }
            }
        }
    }
}

#[test]
fn a_value_of_another_kind_is_refused_by_name() {
    // No input takes all of these, and each takes at most one.
    let kinds = ["9.92 kg", "12 parsecs", "garbage", "1e308", "NaN", ""];
    for reckoning in ALL {
        for input in reckoning.inputs.iter().filter(|input| !takes_any_text(input)) {
            for typed in kinds {
                let refusals = reckoning.read([(input.name, typed)], None).expect_err(input.name);
                assert_eq!(refusals.len(), 1, "{refusals:?}");
                help_and_name(input, typed, &refusals[0]);
            }
        }
    }
}

#[test]
fn an_unknown_name_and_one_given_twice_are_refused() {
    for reckoning in ALL {
        let typed = format!("{}x", reckoning.inputs[0].name);
        let refusals = reckoning.read([(typed.as_str(), "1 mm")], None).expect_err("it is unknown");
        let help = refusals[0].help().expect("there is a near name");
        assert_eq!(help, format!("did you mean `{}`?", reckoning.inputs[0].name));
        let far = reckoning.read([("zzzzzzzzzzzz", "1 mm")], None).expect_err("it is unknown");
        let help = far[0].help().expect("all are listed");
        assert!(reckoning.inputs.iter().all(|input| help.contains(input.name)), "{help}");
    }
    let twice = [("hole", "10 mm"), ("hole", "10 mm")];
    let refusals = stepjig::reckon::named("wall").expect("it is one").read(twice, None).expect_err("it is given twice");
    assert_eq!(refusals, [Refusal::Twice { input: "hole" }]);
}

#[test]
fn nothing_given_asks_for_the_first_input() {
    for reckoning in ALL {
        let given = reckoning.read([], None).expect("nothing is wrong with nothing");
        match reckoning.work_out(&given, &Data::shipped()) {
            Err(Refusal::Missing { input, meaning }) => {
                assert!(reckoning.input(input).is_some() && !meaning.is_empty(), "{}: {input}", reckoning.name);
            }
            other => panic!("{}: {other:?}", reckoning.name),
        }
    }
}

#[test]
fn every_reckoning_is_one_that_guides_may_name() {
    let names: Vec<&str> = ALL.iter().map(|reckoning| reckoning.name).collect();
    assert!(names.is_sorted() && names.iter().all(|name| NAMES.contains(name)), "{names:?}");
    for reckoning in ALL {
        assert!(reckoning.inputs.iter().all(|input| !input.meaning.is_empty()), "{}", reckoning.name);
    }
}

fn typed_value() -> impl Strategy<Value = String> {
    let pieces = vec![
        "1", "25", "64", "0", "/", ".", ",", "-", " ", "mm", "in", "min", "s", "C", "%", "rev/min", "m/min", "yes",
        "drops", "epoxy", "ca", "metric", "letter", "½", "\u{a0}",
    ];
    prop_oneof![
        prop::collection::vec(prop::sample::select(pieces), 0..6).prop_map(|pieces| pieces.concat()),
        (0.0..200.0_f64, prop::sample::select(vec!["mm", "in", "min", "C", "%", "rev/min", "m/min", ""]))
            .prop_map(|(number, unit)| format!("{number:.2} {unit}")),
        ".{0,20}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 2_000, ..ProptestConfig::default() })]

    #[test]
    fn no_typed_values_panic(which in 0..ALL.len(), values in prop::collection::vec(typed_value(), 10)) {
        let reckoning = ALL[which];
        let all = reckoning.inputs.iter().zip(&values).map(|(input, value)| (input.name, value.as_str()));
        // What reads is kept, so that the sum itself is reached.
        let good: Vec<_> = all.filter(|pair| reckoning.read([*pair], None).is_ok()).collect();
        let given = reckoning.read(good, None).expect("each of them reads");
        match reckoning.work_out(&given, &Data::shipped()) {
            Ok(outcome) => reckoning::assert_told(reckoning.name, &outcome),
            Err(refusal) => prop_assert!(refusal.help().is_some(), "{}", refusal),
        }
    }
}

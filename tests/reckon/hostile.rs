//! Whatever is typed for whichever input of whichever reckoning: a value, or a refusal that names the input and helps.

use proptest::prelude::*;
use stepjig::reckon::{ALL, Data, Input, Kind, Reckoning, Refusal, Way};

use crate::helper::assert_told;

/// What is mostly no length, time, speed, count or word, and alone never enough for a sum.
const BAD: [&str; 49] = [
    "",
    " ",
    "\t\n",
    "\0",
    "\u{1b}[2J",
    "\u{202e}mm 9",
    "garbage",
    "NaN",
    "nan mm",
    "inf",
    "-inf",
    "1e308",
    "-1e308",
    "1e-308",
    "1e308 mm",
    "99999999999999999999999999999999",
    "99999 mm",
    "-1",
    "-1 mm",
    "-5 mm",
    "-5 min",
    "-40 F",
    "0",
    "0 mm",
    "7",
    "3 kg",
    "9.92 kg",
    "12 parsecs",
    "3 mm mm",
    "3 o'clock somewhere",
    "12:99",
    "25:00",
    "3,5 mm",
    "9,92 mm",
    "1/0",
    "--",
    ",",
    ",,,,",
    "1 mm,,2 mm",
    "yes,no,",
    "20C/",
    "/65%",
    "20C/65%/3",
    "½",
    "½½",
    "≈3 mm",
    "mm",
    "🦀",
    "=",
];

/// Those of them that one or the other input takes, and that make a sum: half an inch, an hour on the clock.
const READ: [&str; 3] = ["½", "0", "7"];

/// A refusal names its input, says what to do, and shows nothing that acts on a terminal.
fn names_and_helps(name: &str, typed: &str, refusal: &Refusal) {
    let said = refusal.to_string();
    assert!(said.starts_with(&format!("`{name}`")), "{name}={typed:?}: {said}");
    let help = refusal.help().unwrap_or_else(|| panic!("{name}={typed:?}: no help with {said}"));
    assert!(!help.is_empty() && said.chars().count() < 400, "{name}={typed:?}: {said}");
    assert!(!format!("{said}{help}").chars().any(char::is_control), "{name}={typed:?}: {said}: {help}");
}

/// A name is any text: its table refuses it later.
fn takes_any_text(input: &Input) -> bool {
    matches!(input.kind, Kind::Name(_))
}

#[test]
fn bad_input_is_refused_by_name_and_with_help() {
    let long = "9".repeat(5_000);
    let data = Data::shipped();
    let mut refused = 0;
    for reckoning in ALL {
        for input in reckoning.inputs {
            for typed in BAD.into_iter().chain([long.as_str()]) {
                match reckoning.read([(input.name, typed)], None) {
                    Err(refusals) => {
                        refused += 1;
                        refusals.iter().for_each(|refusal| names_and_helps(input.name, typed, refusal));
                    }
                    // Some of these are in order at one input and not at another: -1 as an angle.
                    Ok(given) => match reckoning.work_out(&given, &data) {
                        Err(refusal) => assert!(refusal.help().is_some(), "{}: {refusal}", reckoning.name),
                        Ok(outcome) => assert!(READ.contains(&typed), "{}: {typed:?}: {outcome:?}", reckoning.name),
                    },
                }
            }
            let empty = reckoning.read([(input.name, "")], None);
            assert_eq!(empty.is_err(), !takes_any_text(input), "{} {}", reckoning.name, input.name);
        }
    }
    assert!(refused > 1_500, "{refused}");
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
                names_and_helps(input.name, typed, &refusals[0]);
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
        for far in ["zzzzzzzzzzzz", "hmm"] {
            let refusals = reckoning.read([(far, "3 mm")], None).expect_err("it is unknown");
            names_and_helps(far, "3 mm", &refusals[0]);
        }
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
fn the_reckonings_are_in_order_and_every_input_has_a_meaning() {
    let names: Vec<&str> = ALL.iter().map(|reckoning| reckoning.name).collect();
    assert!(names.is_sorted() && names.len() == 11, "{names:?}");
    for reckoning in ALL {
        assert!(reckoning.inputs.iter().all(|input| !input.meaning.is_empty()), "{}", reckoning.name);
    }
}

/// What a prompt asks besides, and each way that it offers, is something that the reckoning asks for.
#[test]
fn a_prompt_asks_only_for_inputs_that_there_are() {
    for reckoning in ALL {
        let asking = &reckoning.asking;
        let is_input = |name: &str| reckoning.input(name).is_some();
        assert!(asking.also.iter().all(|name| is_input(name)), "{}", reckoning.name);
        for fork in asking.forks {
            assert!(is_input(fork.at) && fork.inputs().all(is_input), "{} {}", reckoning.name, fork.at);
            assert!(fork.inputs().any(|input| input == fork.at), "{} {}", reckoning.name, fork.at);
            assert!(fork.ways.len() > 1 && !fork.asks.is_empty(), "{} {}", reckoning.name, fork.at);
            let sumless = fork.ways.iter().filter(|way| matches!(way, Way::WithoutSum { .. }));
            assert!(sumless.count() <= 1 && fork.ways.iter().all(|way| !way.say().is_empty()));
        }
    }
}

/// What a usual value is written as reads as the input, and ranges and examples are said of every kind.
#[test]
fn what_is_usual_reads_and_what_is_said_of_an_input_helps() {
    for reckoning in ALL {
        for input in reckoning.inputs {
            let usual = input.usual(&Data::shipped()).expect("the shipped figures are in order");
            let read = usual.map(|usual| input.read(&usual, None).map(|_| ()));
            assert!(read.is_none_or(|read| read.is_ok()), "{} {}", reckoning.name, input.name);
            assert!(!input.kind.range().is_empty() && !input.kind.examples().is_empty());
            let example = input.kind.examples().split(" or ").last().expect("there is one");
            let read = input.read(example, None);
            let is_out = matches!(read, Err(Refusal::OutOfRange { .. }));
            assert!(read.is_ok() || is_out, "{} {}: {example} {read:?}", reckoning.name, input.name);
        }
    }
}

/// Values of each kind, so that many a sum is reached; pieces of values; numbers with any unit; and any text.
fn text() -> impl Strategy<Value = String> {
    let values = vec![
        "3 mm",
        "9 mm",
        "12 mm",
        "100 mm",
        "1/64 in",
        "letter X",
        "#7",
        "0 mm",
        "9:00",
        "12:00",
        "1.5",
        "45",
        "-350",
        "2",
        "8",
        "0.35",
        "0.003",
        "3 MPa",
        "1GPa",
        "20C/65%",
        "8 %",
        "0 %",
        "30 %",
        "right",
        "left",
        "figure",
        "brass",
        "yes",
        "clockwise",
        "bore",
        "blank",
        "black cherry",
        "not sure",
        "cocobolo",
        "20 min",
        "40 s",
        "21 C",
    ];
    let pieces = vec![
        "1", "25", "64", "0", "/", ".", ",", "-", " ", "mm", "in", "min", "s", "C", "%", "rev/min", "m/min", "yes",
        "drops", "epoxy", "ca", "metric", "letter", "½", "\u{a0}",
    ];
    let units = vec!["mm", "in", "min", "C", "%", "rev/min", "m/min", ""];
    prop_oneof![
        6 => prop::sample::select(values).prop_map(str::to_owned),
        1 => prop::collection::vec(prop::sample::select(pieces), 0..6).prop_map(|pieces| pieces.concat()),
        2 => (0.0..200.0_f64, prop::sample::select(units)).prop_map(|(number, unit)| format!("{number:.2} {unit}")),
        1 => ".{0,24}",
    ]
}

/// Works out what reads of the texts, so that the sum itself is reached.
fn survives(reckoning: &'static Reckoning, texts: &[String]) -> Result<(), TestCaseError> {
    let typed = reckoning.inputs.iter().zip(texts).map(|(input, text)| (input.name, text.as_str()));
    let readable: Vec<_> = typed.filter(|pair| reckoning.read([*pair], None).is_ok()).collect();
    let given = reckoning.read(readable, None).expect("each of them reads");
    match reckoning.work_out(&given, &Data::shipped()) {
        Ok(outcome) => assert_told(reckoning.name, &outcome),
        Err(refusal) => prop_assert!(refusal.help().is_some(), "{}", refusal),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 2_000, ..ProptestConfig::default() })]

    #[test]
    fn nothing_that_is_typed_breaks_a_sum(texts in prop::collection::vec(text(), 13)) {
        for reckoning in ALL {
            survives(reckoning, &texts)?;
        }
    }
}

//! Whatever is typed for whichever input of whichever reckoning: a value, or a refusal that names the input and helps.

mod sums;

use proptest::prelude::*;
use stepjig::reckon::{ALL, Data, Refusal};

const BAD: [&str; 29] = [
    "",
    " ",
    "\t\n",
    "garbage",
    "1e308",
    "-1e308",
    "1e-308",
    "NaN",
    "inf",
    "-inf",
    "-1",
    "-5 mm",
    "0",
    "0 mm",
    "99999 mm",
    "3 kg",
    "3 mm mm",
    "3,5 mm",
    "7",
    "12:99",
    "25:00",
    "1/0",
    "20C/",
    "/65%",
    "20C/65%/3",
    "\u{1b}[2J",
    "½",
    "≈3 mm",
    "mm",
];

/// A refusal names its input, says what to do, and shows nothing that acts on a terminal.
fn check(input: &str, typed: &str, refusal: &Refusal) {
    let said = refusal.to_string();
    assert!(said.contains(&format!("`{input}`")), "{input}={typed:?}: {said}");
    let help = refusal.help().unwrap_or_else(|| panic!("{input}={typed:?}: no help with {said}"));
    assert!(!help.is_empty() && said.chars().count() < 400, "{input}={typed:?}: {said}");
    assert!(!format!("{said}{help}").chars().any(char::is_control), "{input}={typed:?}: {said}: {help}");
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
                        refusals.iter().for_each(|refusal| check(input.name, typed, refusal));
                    }
                    // It reads alone; then the sum itself must do something sensible with it.
                    Ok(given) => _ = reckoning.work_out(&given, &data).map_err(|refusal| refusal.help().expect("help")),
                }
            }
            let empty = reckoning.read([(input.name, "")], None);
            let is_name = matches!(input.kind, stepjig::reckon::Kind::Name);
            assert_eq!(empty.is_err(), !is_name, "{} {}", reckoning.name, input.name);
        }
        let unknown = reckoning.read([("hmm", "3 mm")], None).expect_err("it is no input");
        check("hmm", "3 mm", &unknown[0]);
    }
    assert!(refused > 500, "{refused}");
}

/// Values of each kind, so that many a sum is reached, and any text.
fn text() -> impl Strategy<Value = String> {
    let values = vec![
        "3 mm",
        "9 mm",
        "12 mm",
        "100 mm",
        "1/64 in",
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
    prop_oneof![9 => prop::sample::select(values).prop_map(str::to_owned), 1 => ".{0,24}"]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn nothing_that_is_typed_breaks_a_sum(texts in prop::collection::vec(text(), 13)) {
        for reckoning in ALL {
            let typed = reckoning.inputs.iter().zip(&texts).map(|(input, text)| (input.name, text.as_str()));
            let readable: Vec<_> = typed.filter(|pair| reckoning.read([*pair], None).is_ok()).collect();
            let given = reckoning.read(readable, None).expect("each of them reads");
            match reckoning.work_out(&given, &Data::shipped()) {
                Ok(outcome) => {
                    let finite = outcome.outputs.iter().filter_map(|output| output.value).all(f64::is_finite);
                    prop_assert!(finite, "{outcome:?}");
                }
                Err(refusal) => prop_assert!(refusal.help().is_some(), "{refusal:?}"),
            }
        }
    }
}

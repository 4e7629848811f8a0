//! How the tests of reckonings work one out.

#![allow(dead_code, reason = "not every file of tests uses all of it")]

use stepjig::reckon::{Data, Outcome, Refusal, named};

/// Works a reckoning out of typed texts, `tube=9.7 mm hole=25/64 in`, one a line or with `;` between.
pub fn try_with(data: &Data, name: &str, typed: &str) -> Result<Outcome, Refusal> {
    let reckoning = named(name).unwrap_or_else(|| panic!("there is no reckoning {name}"));
    let pairs = typed.split(';').filter_map(|pair| pair.trim().split_once('='));
    let given = reckoning.read(pairs, None).map_err(|refusals| refusals[0].clone())?;
    reckoning.work_out(&given, data)
}

pub fn try_out(name: &str, typed: &str) -> Result<Outcome, Refusal> {
    try_with(&Data::shipped(), name, typed)
}

/// As [`try_out`], where it must come to something that a person can use.
pub fn out(name: &str, typed: &str) -> Outcome {
    let outcome = try_out(name, typed).unwrap_or_else(|wrong| panic!("{name} {typed}: {wrong}"));
    assert_told(name, &outcome);
    outcome
}

/// Sees that an outcome is fit to be shown: all is said, the verdict is one of those that are listed.
pub fn assert_told(name: &str, outcome: &Outcome) {
    let reckoning = named(name).expect("it is one of them");
    assert!(!outcome.say.is_empty() && !outcome.working.is_empty() && !outcome.sources.is_empty(), "{outcome:?}");
    assert!(outcome.sources.iter().all(|source| !source.is_empty()), "{outcome:?}");
    assert!(!outcome.say.contains("  ") && !outcome.working.contains("NaN"), "{outcome:?}");
    match outcome.verdict {
        Some(verdict) => assert!(reckoning.verdicts.iter().any(|(listed, _)| *listed == verdict), "{verdict}"),
        None => assert!(reckoning.verdicts.is_empty(), "{name} has verdicts"),
    }
    for output in &outcome.outputs {
        assert!(!output.text.is_empty(), "{output:?}");
        assert!(output.value.is_none_or(f64::is_finite), "{output:?}");
    }
}

/// Returns the value of an output.
pub fn value(outcome: &Outcome, name: &str) -> f64 {
    let output = outcome.output(name).unwrap_or_else(|| panic!("there is no output {name}: {outcome:?}"));
    output.value.unwrap_or_else(|| panic!("{name} has no value: {}", output.text))
}

/// Returns the text of an output, with plain spaces.
pub fn text(outcome: &Outcome, name: &str) -> String {
    let output = outcome.output(name).unwrap_or_else(|| panic!("there is no output {name}: {outcome:?}"));
    output.text.replace('\u{a0}', " ")
}

/// Sees that a value is what a source has, to within what the source is rounded to.
pub fn assert_near(got: f64, expected: f64, within: f64, of: &str) {
    assert!((got - expected).abs() <= within, "{of}: {got} is not {expected}");
}

/// Returns a refusal as a person reads it.
pub fn refused(name: &str, typed: &str) -> String {
    match try_out(name, typed) {
        Ok(outcome) => panic!("{name} {typed} is not refused: {outcome:?}"),
        Err(refusal) => match refusal.help() {
            Some(help) => format!("{refusal}: {help}").replace('\u{a0}', " "),
            None => panic!("{refusal} says nothing of what to do"),
        },
    }
}

//! A reckoning from typed texts, as the shell gives them.
#![allow(dead_code, reason = "each test file uses its share")]

use stepjig::reckon::{Data, Outcome, Refusal, named};

pub type Typed<'t> = &'t [(&'t str, &'t str)];

pub fn with(data: &Data, name: &str, typed: Typed) -> Result<Outcome, Refusal> {
    let reckoning = named(name).unwrap_or_else(|| panic!("{name} is no reckoning"));
    let given = reckoning.read(typed.iter().copied(), None).map_err(|mut refusals| refusals.remove(0))?;
    reckoning.work_out(&given, data)
}

pub fn work_out(name: &str, typed: Typed) -> Result<Outcome, Refusal> {
    with(&Data::shipped(), name, typed)
}

pub fn worked(name: &str, typed: Typed) -> Outcome {
    work_out(name, typed).unwrap_or_else(|refusal| panic!("{typed:?}: {refusal}"))
}

/// Returns what is wrong, and what to do about it.
pub fn refused(name: &str, typed: Typed) -> String {
    said(&work_out(name, typed).map_or_else(|refusal| refusal, |outcome| panic!("{typed:?}: {outcome:?}")))
}

pub fn said(refusal: &Refusal) -> String {
    plain(&format!("{refusal}: {}", refusal.help().expect("every refusal says what to do")))
}

pub fn value(outcome: &Outcome, name: &str) -> f64 {
    let output = outcome.output(name).unwrap_or_else(|| panic!("{name} is no output of {outcome:?}"));
    output.value.unwrap_or_else(|| panic!("{name} has no value: {}", output.text))
}

pub fn text(outcome: &Outcome, name: &str) -> String {
    plain(&outcome.output(name).unwrap_or_else(|| panic!("{name} is no output of {outcome:?}")).text)
}

pub fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// Sees that a number is within a tolerance.
pub fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected} ± {tolerance}");
}

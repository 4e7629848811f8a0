//! How the tests of reckonings work one out of typed texts, as the shell gives them.

use stepjig::finding::Source;
use stepjig::reckon::{Data, DataFile, Outcome, Refusal, named};

/// Names and values, as rows of a table have them.
pub type Typed<'t> = &'t [(&'t str, &'t str)];

/// What is typed: such a row, or a text, `tube=9.7 mm; hole=25/64 in`.
#[derive(Debug, Clone)]
pub struct Pairs<'t>(Vec<(&'t str, &'t str)>);

impl<'t> From<&'t str> for Pairs<'t> {
    fn from(typed: &'t str) -> Pairs<'t> {
        Pairs(typed.split(';').filter_map(|pair| pair.trim().split_once('=')).collect())
    }
}

impl<'t> From<&'t String> for Pairs<'t> {
    fn from(typed: &'t String) -> Pairs<'t> {
        typed.as_str().into()
    }
}

impl<'t> From<Typed<'t>> for Pairs<'t> {
    fn from(typed: Typed<'t>) -> Pairs<'t> {
        Pairs(typed.to_vec())
    }
}

impl<'t> From<&Vec<(&'t str, &'t str)>> for Pairs<'t> {
    fn from(typed: &Vec<(&'t str, &'t str)>) -> Pairs<'t> {
        Pairs(typed.clone())
    }
}

impl<'t, const N: usize> From<&[(&'t str, &'t str); N]> for Pairs<'t> {
    fn from(typed: &[(&'t str, &'t str); N]) -> Pairs<'t> {
        Pairs(typed.to_vec())
    }
}

/// Returns the tables with a shop's own file laid over them.
pub fn shop_file(file: DataFile, text: &str) -> Data {
    Data::shipped().with(file, &Source::new(format!("shop/data/{}", file.name()), text))
}

pub fn with<'t>(data: &Data, name: &str, typed: impl Into<Pairs<'t>>) -> Result<Outcome, Refusal> {
    let reckoning = named(name).unwrap_or_else(|| panic!("there is no reckoning {name}"));
    let given = reckoning.read(typed.into().0, None).map_err(|mut refusals| refusals.remove(0))?;
    reckoning.work_out(&given, data)
}

pub fn work_out<'t>(name: &str, typed: impl Into<Pairs<'t>>) -> Result<Outcome, Refusal> {
    with(&Data::shipped(), name, typed)
}

/// As [`work_out`], where it must come to something that a person can use.
pub fn worked<'t>(name: &str, typed: impl Into<Pairs<'t>>) -> Outcome {
    let typed = typed.into();
    let outcome = with(&Data::shipped(), name, typed.clone());
    let outcome = outcome.unwrap_or_else(|wrong| panic!("{name} {typed:?}: {wrong}"));
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

/// Returns what is wrong, and what to do about it.
pub fn refused<'t>(name: &str, typed: impl Into<Pairs<'t>>) -> String {
    said(&work_out(name, typed).map_or_else(|refusal| refusal, |outcome| panic!("{name} is not refused: {outcome:?}")))
}

/// Returns a refusal as a person reads it.
pub fn said(refusal: &Refusal) -> String {
    plain(&format!("{refusal}: {}", refusal.help().expect("every refusal says what to do")))
}

/// Returns the value of an output.
pub fn value(outcome: &Outcome, name: &str) -> f64 {
    let output = outcome.output(name).unwrap_or_else(|| panic!("there is no output {name}: {outcome:?}"));
    output.value.unwrap_or_else(|| panic!("{name} has no value: {}", output.text))
}

/// Returns the text of an output, with plain spaces.
pub fn text(outcome: &Outcome, name: &str) -> String {
    plain(&outcome.output(name).unwrap_or_else(|| panic!("there is no output {name}: {outcome:?}")).text)
}

pub fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// Sees that a value is what a source has, to within what the source is rounded to.
pub fn near(found: f64, expected: f64, within: f64, of: &str) {
    assert!((found - expected).abs() <= within, "{of}: {found} is not {expected} ± {within}");
}

//! What a reckoning comes to, as text, line by line, or as JSON.

use serde_json::{Map, Value as Json, json};

use crate::cli::output::Output;
use crate::cli::page::Page;
use crate::cli::screen;
use crate::cli::settings::{self, Settings};
use crate::reckon::{self, Data, Given, Outcome, Reckoning, Value, in_words};
use crate::sheet::clock_face;

/// Lays it out for reading: the answer and what it means for the work, then the numbers and how they came about.
pub(super) fn page(reckoning: &Reckoning, given: &Given, outcome: &Outcome, data: &Data, settings: &Settings) -> Page {
    let mut page = Page::default();
    if let Some((verdict, means)) = outcome.verdict.and_then(|verdict| Some((verdict, reckoning.meaning(verdict)?))) {
        page.drawn(screen::strong(&format!("{}: {means}.", in_words(verdict)), settings::width()));
    }
    page.say(&outcome.say);
    page.space();
    page.named(&outcome.shown().map(|output| (output.name, output.said())).collect::<Vec<_>>());
    page.space();
    page.say(&outcome.working);
    if let Some(face) = &outcome.face {
        page.space();
        page.drawn(clock_face::draw(&face.marks, settings.ascii));
    }
    page.space();
    page.say_all(as_usual(reckoning, given, data));
    page.say(&format!("Sources: {}.", outcome.sources.join("; ").trim_end_matches('.')));
    page
}

/// Says which usual values stood in for what was not given.
fn as_usual(reckoning: &Reckoning, given: &Given, data: &Data) -> Option<String> {
    let left_out = reckoning.inputs.iter().filter(|input| !given.has(input.name));
    let usual = left_out.filter_map(|input| Some(format!("{}={}", input.name, input.usual(data).ok()??)));
    let usual: Vec<String> = usual.collect();
    (!usual.is_empty()).then(|| format!("Not given, so as usual: {}.", usual.join(", ")))
}

/// Writes its numbers, one a line: name, value, unit.
pub(super) fn plain(outcome: &Outcome, output: &mut Output) {
    for number in &outcome.outputs {
        let value = number.value.map(|value| value.to_string()).unwrap_or_default();
        output.line(&format!("{}\t{value}\t{}", number.name, number.unit));
    }
}

/// Returns it for other programs.
pub(super) fn json(reckoning: &Reckoning, given: &Given, outcome: &Outcome) -> Json {
    let inputs: Map<String, Json> = given.all().map(|(name, value)| (name.to_owned(), input(name, value))).collect();
    let outputs = outcome.outputs.iter().map(|output| (output.name.to_owned(), number(output)));
    json!({
        "stepjig": 1,
        "name": reckoning.name,
        "inputs": inputs,
        "outputs": outputs.collect::<Map<String, Json>>(),
        "verdict": outcome.verdict,
        "say": outcome.say,
        "working": outcome.working,
        "sources": outcome.sources,
    })
}

fn number(number: &reckon::Output) -> Json {
    json!({"value": number.value, "unit": number.unit, "text": number.text})
}

/// A word stands as it is, a number with its unit and text; several are a list.
fn input(name: &'static str, value: &Value) -> Json {
    let several = matches!(value, Value::Lengths(_) | Value::Words(_));
    let numbers = value.numbers(name);
    let mut all: Vec<Json> = value.words().into_iter().map(Json::from).chain(numbers.iter().map(number)).collect();
    match all.pop() {
        Some(only) if all.is_empty() && !several => only,
        last => all.into_iter().chain(last).collect(),
    }
}

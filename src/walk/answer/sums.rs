//! What is typed at a reckoning: a value that it wants, `input=value` for any of them, or on with the verdict.

use super::super::event::{Event, Leave};
use super::super::sum::{Comes, Sum};
use super::{Answer, Read, Reader, Refusal, refuse};
use crate::finding::did_you_mean;
use crate::guide::{Label, Picked, fold, pick};
use crate::reckon::{ALL, Input, Kind as InputKind, Reckoning, Value, named, pairs};
use crate::units::LengthUnit;

impl Reader<'_, '_> {
    /// Reads a line at a reckoning step.
    pub(super) fn sum(&self, typed: &str, words: &str) -> Read {
        let Some(sum) = Sum::of_step(self.guide, self.state, self.state.here) else { return self.verdict(words) };
        if typed.contains('=') {
            let given = values(sum.reckoning, typed, self.unit);
            return Some(given.map(|values| self.given(self.id(), values)));
        }
        let comes = sum.comes(self.data);
        match (&comes, words) {
            (Comes::To(outcome), "" | "done" | "yes") => {
                return self.left(Leave::Verdict(outcome.verdict.unwrap_or_default().to_owned()));
            }
            (_, "done") | (Comes::Nothing(_), "") => return self.left(Leave::Verdict(String::new())),
            (Comes::Wants(input) | Comes::Refuses(input, _), "") => {
                return Some(refuse(format!("wanted: {}", input.meaning), "`done` goes on without the sum"));
            }
            _ => {}
        }
        if let Some(left) = self.verdict(words) {
            return Some(left);
        }
        let (Comes::Wants(input) | Comes::Refuses(input, _)) = comes else { return None };
        // A name is any words at all, so that a command is looked for first.
        if matches!(input.kind, InputKind::Name(_) | InputKind::Bore { .. }) && self.command(typed).is_some() {
            return None;
        }
        match value(input, typed, self.unit) {
            Ok(text) => Some(Ok(self.given(self.id(), vec![(input.name.to_owned(), text)]))),
            Err(refusal) if typed.trim_start_matches(['-', '+', '.']).starts_with(|c: char| c.is_ascii_digit()) => {
                Some(Err(refusal))
            }
            Err(refusal) if !input.kind.choices().is_empty() && self.command(typed).is_none() => Some(Err(refusal)),
            Err(_) => None,
        }
    }

    fn given(&self, to: String, values: Vec<(String, String)>) -> Answer {
        Answer::Event(Event::Given { to, values, at: self.now })
    }

    /// Reads `reckon`, `reckon wall`, `reckon wall hole=10.5 mm bushing=13 mm`, or a value for what is wanted next.
    pub(super) fn reckon(&self, rest: &str) -> Result<Answer, Refusal> {
        let (name, rest) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
        if name.is_empty() {
            let mut told = vec!["Type `reckon` and a name:".to_owned()];
            told.extend(ALL.iter().map(|reckoning| format!("{}: {}", reckoning.name, reckoning.answers)));
            return Ok(Answer::Tell(told));
        }
        let Some(reckoning) = named(name) else {
            let help = did_you_mean(name, ALL.iter().map(|reckoning| reckoning.name));
            let help = help.unwrap_or_else(|| "`reckon` lists them".to_owned());
            return refuse(format!("there is no reckoning `{name}`"), help);
        };
        let rest = rest.trim();
        if rest.is_empty() {
            return Ok(Answer::Reckon(name.to_owned()));
        }
        if rest.contains('=') {
            return Ok(self.given(name.to_owned(), values(reckoning, rest, self.unit)?));
        }
        let wanted = Sum::called(self.state, name).map(|sum| sum.comes(self.data));
        let Some(Comes::Wants(input) | Comes::Refuses(input, _)) = wanted else {
            return refuse("it wants nothing more", "put a value right by its name, such as `hole=10.5 mm`");
        };
        Ok(self.given(name.to_owned(), vec![(input.name.to_owned(), value(input, rest, self.unit)?)]))
    }

    /// Reads a verdict by its word: a person may know better than the sum.
    fn verdict(&self, words: &str) -> Read {
        if words.is_empty() || words == "done" {
            return self.left(Leave::Verdict(String::new()));
        }
        let verdicts = self.guide.ways_out(self.state.here).iter().filter_map(|way| match &way.label {
            Label::Verdict(verdict) => Some(verdict),
            _ => None,
        });
        let mut named = verdicts.filter(|verdict| fold(verdict) == words || verdict.starts_with(words));
        named.next().and_then(|verdict| self.left(Leave::Verdict(verdict.clone())))
    }
}

/// Returns what was typed for an input, if it reads: the word of a choice, a length with its unit, else the text as it
/// is. `bare` is the shop's unit for lengths without one.
fn value(input: &Input, typed: &str, bare: Option<LengthUnit>) -> Result<String, Refusal> {
    let words: Vec<String> = input.kind.choices().iter().map(|word| (*word).to_owned()).collect();
    let text = match pick(typed, &words, words.len()) {
        Picked::One(place) => words[place].clone(),
        _ => typed.trim().to_owned(),
    };
    match input.read(&text, bare) {
        // What is kept says its unit, whatever the shop's is later.
        Ok(Value::Quantity(quantity)) if quantity.length().is_some() => Ok(quantity.exact()),
        Ok(Value::Lengths(lengths)) => Ok(lengths.iter().map(|length| length.exact()).collect::<Vec<_>>().join(", ")),
        Ok(_) => Ok(text),
        Err(refusal) => {
            let meant = refusal.comma_reading().map(str::to_owned);
            Err(Refusal { message: refusal.to_string(), help: refusal.what_to_type(Some(input)), meant })
        }
    }
}

/// Reads `input=value` pairs.
fn values(
    reckoning: &'static Reckoning,
    typed: &str,
    bare: Option<LengthUnit>,
) -> Result<Vec<(String, String)>, Refusal> {
    let pairs = pairs(typed.split_whitespace());
    let pairs = pairs.or_else(|word| refuse(format!("`{word}` has no `=`"), "write it like `hole=10.5 mm`"))?;
    let mut values = Vec::new();
    for (name, text) in pairs {
        let Some(input) = reckoning.input(&name) else {
            let names: Vec<&str> = reckoning.inputs.iter().map(|input| input.name).collect();
            let help = did_you_mean(&name, names.iter().copied());
            let help = help.unwrap_or_else(|| format!("it asks for {}", names.join(", ")));
            return refuse(format!("`{}` asks for no `{name}`", reckoning.name), help);
        };
        values.push((name, value(input, &text, bare)?));
    }
    Ok(values)
}

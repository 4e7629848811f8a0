//! Answers as a file: what is parked and taken up again, and what `--answers` reads.

use std::fmt;
use std::fmt::Write;
use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::answers::Answers;
use super::interview::Interview;
use super::question::is_part_name;
use super::style::{ENDS, TUBES};
use crate::finding::{Source, did_you_mean};
use crate::guide::write::quoted;

/// Why a file of answers could not be read: which line, what is wrong, what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong.
    pub message: String,
    /// What to do, where there is something to say.
    pub help: Option<String>,
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.message)
    }
}

impl std::error::Error for Unreadable {}

/// The keys whose answers are kept when they do not apply, by what they end in.
const OF_A_TUBE: [&str; 3] = ["outside", "drill", "length"];
const OF_A_PART: [&str; 7] = ["into", "home", "proud", "faces", "out", "rod", "held-by"];
const ALONE: [&str; 10] =
    ["tubes", "closes", "writes", "parts", "loose", "top", "title", "use-when", "not-when", "name"];

/// Returns the answers as a file: those that apply in the order of their questions, then the others.
pub fn to_text(answers: &Answers) -> String {
    let mut text = String::from(
        "# How a pen is built, as it was told to `stepjig draft`.\n# `stepjig draft --answers` with this file writes its guide.\nstepjig = 1\n\n[draft]\n",
    );
    let interview = Interview::of(answers);
    let mut applies = Vec::new();
    for (question, _) in interview.answered() {
        applies.push(question.key.as_str());
        if let Some(said) = answers.get(&question.key) {
            line(&mut text, &question.key, said);
        }
    }
    let others: Vec<_> = answers.iter().filter(|(key, _)| !applies.contains(key)).collect();
    if !others.is_empty() {
        text.push_str("# Said before, and not asked at present.\n");
        others.into_iter().for_each(|(key, said)| line(&mut text, key, said));
    }
    text
}

fn line(text: &mut String, key: &str, said: &str) {
    writeln!(text, "{key} = {}", quoted(said)).expect("writing to a string cannot fail");
}

/// Reads a file of answers.
///
/// Whether an answer holds is for its question to say; here only that it may be one.
///
/// # Errors
/// [`Unreadable`] where the file is no TOML, is no file of answers, or has a key that is no question's.
pub fn parse(source: &Source) -> Result<Answers, Unreadable> {
    let text = source.text();
    let at =
        |span: Range<usize>| 1 + text.as_bytes()[..span.start.min(text.len())].iter().filter(|b| **b == b'\n').count();
    let fault =
        |span: Range<usize>, message: String, help: Option<String>| Unreadable { line: at(span), message, help };
    let table =
        DeTable::parse(text).map_err(|wrong| fault(wrong.span().unwrap_or(0..0), wrong.message().to_owned(), None))?;
    let table = table.get_ref();
    if table.get("stepjig").and_then(|version| version.get_ref().as_integer()?.as_str().parse::<u32>().ok()) != Some(1)
    {
        return Err(fault(
            0..0,
            "this is no file of answers".to_owned(),
            Some("it begins with `stepjig = 1`".to_owned()),
        ));
    }
    let mut answers = Answers::default();
    for (key, value) in table {
        match key.get_ref().as_ref() {
            "stepjig" => {}
            "draft" => match value.get_ref() {
                DeValue::Table(said) => flatten(said, "", &mut answers, &fault)?,
                _ => return Err(fault(value.span(), "`draft` is no table".to_owned(), None)),
            },
            other => {
                let help = did_you_mean(other, ["draft"]).or(Some("the answers stand under `[draft]`".to_owned()));
                return Err(fault(key.span(), format!("there is no table `{other}` in a file of answers"), help));
            }
        }
    }
    Ok(answers)
}

type Fault<'f> = dyn Fn(Range<usize>, String, Option<String>) -> Unreadable + 'f;

fn flatten(table: &DeTable<'_>, above: &str, answers: &mut Answers, fault: &Fault<'_>) -> Result<(), Unreadable> {
    for (name, value) in table {
        let key = if above.is_empty() { name.get_ref().to_string() } else { format!("{above}.{}", name.get_ref()) };
        if let DeValue::Table(below) = value.get_ref() {
            if key.matches('.').count() > 2 {
                return Err(no_such_key(&key, value.span(), fault));
            }
            flatten(below, &key, answers, fault)?;
            continue;
        }
        if !is_key(&key) {
            return Err(no_such_key(&key, name.span(), fault));
        }
        let said = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Integer(number) => match (number.as_str(), key.as_str()) {
                ("1", "tubes") => "one".to_owned(),
                ("2", "tubes") => "two".to_owned(),
                (other, _) => other.to_owned(),
            },
            DeValue::Float(number) => number.as_str().to_owned(),
            DeValue::Array(list) if key == "parts" || key == "loose" => {
                let names = list.iter().map(|name| name.get_ref().as_str().map(str::to_owned));
                let names: Option<Vec<String>> = names.collect();
                names.ok_or_else(|| fault(value.span(), format!("`{key}` is a list of names"), None))?.join(", ")
            }
            _ => return Err(fault(value.span(), format!("`{key}` is no text"), Some("put it in quotes".to_owned()))),
        };
        answers.set(&key, said);
    }
    Ok(())
}

fn is_key(key: &str) -> bool {
    match key.split('.').collect::<Vec<_>>().as_slice() {
        [key] => ALONE.contains(key),
        [tube, what] if TUBES.contains(tube) => {
            OF_A_TUBE.contains(what) || what.strip_suffix("-rim").is_some_and(|end| ENDS.contains(&end))
        }
        ["part", name, what] => is_part_name(name) && OF_A_PART.contains(what),
        _ => false,
    }
}

fn no_such_key(key: &str, span: Range<usize>, fault: &Fault<'_>) -> Unreadable {
    let named = |what: &str, of: &[&str]| of.iter().map(|last| format!("{what}.{last}")).collect::<Vec<_>>();
    let part = key.strip_prefix("part.").and_then(|rest| rest.split('.').next()).unwrap_or("tip");
    let mut known: Vec<String> = ALONE.iter().map(|key| (*key).to_owned()).collect();
    let tube = key.split('.').next().filter(|tube| TUBES.contains(tube)).unwrap_or("body");
    known.extend(named(tube, &OF_A_TUBE));
    known.extend(named(tube, &ENDS).into_iter().map(|rim| format!("{rim}-rim")));
    known.extend(named(&format!("part.{part}"), &OF_A_PART));
    let help = did_you_mean(key, known.iter().map(String::as_str));
    let help = help.unwrap_or_else(|| format!("the questions are {}", known.join(", ")));
    fault(span, format!("no question is called `{key}`"), Some(help))
}

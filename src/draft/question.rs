//! One question: what it asks, what may be said to it, and how that is read.

use std::collections::BTreeSet;
use std::fmt;

use crate::finding::plain_text::clean_line;
use crate::guide::{Picked, is_shipped, pick};
use crate::units::Length;

/// What is said of a number that the sheet does not give.
pub const NOT_KNOWN: &str = "not known";

/// What is said where there is no loose part.
pub(super) const NONE: &str = "none";

/// The most parts that are pressed, and the most that are loose.
const MOST_PARTS: usize = 6;

/// The most letters in the name of a part.
const MOST_LETTERS: usize = 20;

/// Names that the pieces of a pen and what it writes with have already.
const TAKEN: [&str; 16] = [
    "body", "cap", "lower", "upper", "barrel", "pen", "pencil", "nib", "refill", "lead", "closing", "halves", "top",
    "loose", "none", "parts",
];

/// What may be said to a question.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// One of these.
    Choice(Vec<String>),
    /// A length from the first number of millimetres to the second, or that it is not known.
    Length(f64, f64),
    /// The names of parts that are pressed, separated by commas.
    Parts,
    /// The names of loose parts, or that there are none; the pressed ones have these names already.
    Loose(Vec<String>),
    /// A text of at most so many characters.
    Text(usize),
    /// The name of a file.
    Name,
}

/// A question of the conversation.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// What its answer is kept under: `front.drill`, `part.tail.into`.
    pub key: String,
    /// The question.
    pub asks: String,
    /// What it is for, where the answer is found, an example.
    pub help: String,
    /// What may be said.
    pub asked: Asked,
    /// What is taken where a person says nothing of their own; nothing where the names do not tell.
    pub proposal: Option<String>,
    /// The length that it has to hang together with, where one is known.
    pub beside: Option<Beside>,
}

/// A length that was said, beside which another has to hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Beside {
    /// The outside of a tube: its bit is wider.
    Outside(String),
    /// The bit of a tube: its outside is less.
    Bit(String),
}

impl Beside {
    /// Returns the length that was said, if it holds beside this one.
    fn holds(&self, said: String) -> Result<String, Refused> {
        // Both were read as lengths before; one that is not known holds beside any.
        let in_mm = |said: &str| Length::parse(said, None).ok().map(Length::in_mm);
        let (outside, bit, help) = match self {
            Beside::Outside(outside) => {
                (outside.as_str(), said.as_str(), "say one that is wider, or put the tube's outside right")
            }
            Beside::Bit(bit) => (said.as_str(), bit.as_str(), "say one that is less, or put the bit right first"),
        };
        match in_mm(bit).zip(in_mm(outside)) {
            Some((bit_mm, outside_mm)) if bit_mm <= outside_mm => {
                refused(format!("a tube {outside} wide does not go into the hole of a bit of {bit}"), help)
            }
            _ => Ok(said),
        }
    }
}

/// An answer that a question does not take: what is wrong, and what to say instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// What is wrong with it.
    pub message: String,
    /// What to say instead.
    pub help: String,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.message, self.help)
    }
}

impl std::error::Error for Refused {}

impl Question {
    /// Returns what was typed as it is kept.
    ///
    /// # Errors
    /// [`Refused`] where the question does not take it.
    pub fn read(&self, typed: &str) -> Result<String, Refused> {
        let typed = typed.trim();
        match &self.asked {
            Asked::Choice(choices) => one_of(typed, choices),
            Asked::Length(least, most) => {
                let said = length(typed, *least, *most)?;
                self.beside.as_ref().map_or(Ok(said.clone()), |beside| beside.holds(said))
            }
            Asked::Parts => parts(typed, "in the order in which they are pressed, "),
            Asked::Loose(pressed) => loose(typed, pressed),
            Asked::Text(most) => text(typed, *most),
            Asked::Name => name(typed),
        }
    }

    /// Returns an answer that the question takes: what is proposed, else the first that is offered.
    pub fn any_answer(&self) -> String {
        match (&self.proposal, &self.asked) {
            (Some(proposal), _) => proposal.clone(),
            (None, Asked::Choice(choices)) => choices.first().cloned().unwrap_or_default(),
            (None, _) => NOT_KNOWN.to_owned(),
        }
    }

    /// Returns what may be said, in a line.
    pub fn may_be(&self) -> String {
        match &self.asked {
            Asked::Choice(choices) => choices.join(" / "),
            Asked::Length(least, most) => {
                let (_, such) = such_as(*least, *most);
                format!("{least} mm to {most} mm, such as {such}, or {NOT_KNOWN}")
            }
            Asked::Parts => format!("up to {MOST_PARTS} names in their order, separated by commas"),
            Asked::Loose(_) => format!("up to {MOST_PARTS} names, separated by commas, or {NONE}"),
            Asked::Text(most) => format!("a text of up to {most} characters"),
            Asked::Name => "a name in small letters, digits and hyphens".to_owned(),
        }
    }
}

fn refused<T>(message: impl Into<String>, help: impl Into<String>) -> Result<T, Refused> {
    Err(Refused { message: message.into(), help: help.into() })
}

/// Returns a text as it is quoted in a message.
fn quotable(typed: &str) -> String {
    let line = clean_line(typed);
    let short: String = line.chars().take(40).collect();
    if short == line { short } else { format!("{short}…") }
}

fn one_of(typed: &str, choices: &[String]) -> Result<String, Refused> {
    let several = |places: &[usize]| places.iter().map(|place| choices[*place].as_str()).collect::<Vec<_>>().join(", ");
    match pick(typed, choices, choices.len()) {
        Picked::One(place) => Ok(choices[place].clone()),
        Picked::Several(places) => refused(
            format!("`{}` may be several of these", quotable(typed)),
            format!("say which: {}", several(&places)),
        ),
        Picked::None => refused(
            format!("`{}` is none of these", quotable(typed)),
            format!("say a number or one of: {}", choices.join(", ")),
        ),
    }
}

/// Returns how a length from one of these to the other can be written: in mm, and in all ways that there are.
fn such_as(least: f64, most: f64) -> (&'static str, &'static str) {
    let examples = [
        (9.92, "9.92 mm", "9.92 mm, 25/64 in or .391 in"),
        (54.2, "54.2 mm", "54.2 mm, 2 1/8 in or 2.13 in"),
        (1.5, "1.5 mm", "1.5 mm, 1/16 in or .059 in"),
    ];
    let fits = examples.iter().find(|(mm, ..)| (least..=most).contains(mm));
    let (_, in_mm, all) = fits.unwrap_or(&examples[0]);
    (in_mm, all)
}

fn length(typed: &str, least: f64, most: f64) -> Result<String, Refused> {
    if crate::guide::fold(typed) == NOT_KNOWN || typed == "?" {
        return Ok(NOT_KNOWN.to_owned());
    }
    let range = format!("it is from {least} mm to {most} mm");
    let so = |meant: &str| format!("type it as `{meant}`, or `{NOT_KNOWN}` to fill it in later");
    let (such, all) = such_as(least, most);
    match Length::parse(typed, None) {
        Ok(length) if least <= length.in_mm() && length.in_mm() <= most => Ok(length.exact()),
        Ok(length) => {
            let help = format!("{range}, such as {all}; `{NOT_KNOWN}` leaves it to be filled in later");
            refused(format!("{} is out of range", length.exact()), help)
        }
        Err(wrong) => {
            let meant = wrong.comma_reading().or_else(|| wrong.readings().first().map(String::as_str));
            let help = wrong.help().unwrap_or(range);
            refused(wrong.to_string(), format!("{help}; {}", so(meant.unwrap_or(such))))
        }
    }
}

fn text(typed: &str, most: usize) -> Result<String, Refused> {
    let n_characters = typed.chars().count();
    if typed.is_empty() {
        refused("nothing was said", "say it in a few words")
    } else if n_characters > most {
        refused(format!("this has {n_characters} characters"), format!("{most} are the most"))
    } else {
        Ok(typed.to_owned())
    }
}

fn name(typed: &str) -> Result<String, Refused> {
    let is_name = typed.starts_with(|c: char| c.is_ascii_lowercase())
        && typed.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
        && !typed.ends_with('-')
        && typed.len() <= 60;
    match is_name {
        true if is_shipped(typed) => refused(
            format!("`{typed}` comes with stepjig, and this guide would hide it"),
            format!("choose another name, such as `my-{typed}`"),
        ),
        true => Ok(typed.to_owned()),
        false => refused(
            format!("`{}` cannot be a guide's name", quotable(typed)),
            "write small letters a to z, digits and hyphens, a letter first, 60 at most",
        ),
    }
}

fn loose(typed: &str, pressed: &[String]) -> Result<String, Refused> {
    if typed.eq_ignore_ascii_case(NONE) {
        return Ok(NONE.to_owned());
    }
    let names = parts(typed, "")?;
    match names.split(", ").find(|name| pressed.iter().any(|part| part == name)) {
        Some(name) => refused(
            format!("`{name}` is a part that is pressed"),
            format!(
                "name the parts that nothing presses, or say `{NONE}`; `change parts` puts those that are pressed right"
            ),
        ),
        None => Ok(names),
    }
}

fn parts(typed: &str, in_order: &str) -> Result<String, Refused> {
    // "The tip part is home": a guide says the word itself.
    let one_word = |name: &str| {
        let name = clean_line(name).to_lowercase().replace(' ', "-");
        name.strip_suffix("-part").map_or(name.clone(), str::to_owned)
    };
    let names: Vec<String> = typed.split(',').map(one_word).filter(|name| !name.is_empty()).collect();
    if names.is_empty() || names.len() > MOST_PARTS {
        return refused(
            format!("{} parts are named", names.len()),
            format!("name 1 to {MOST_PARTS}, {in_order}separated by commas"),
        );
    }
    let mut seen = BTreeSet::new();
    for name in &names {
        if !is_part_name(name) {
            return refused(
                format!("`{}` cannot be a part's name", quotable(name)),
                format!("write a word of letters a to z, or up to three with hyphens, {MOST_LETTERS} letters at most"),
            );
        }
        if TAKEN.contains(&name.as_str()) {
            return refused(
                format!("`{name}` is not a part's own name"),
                "say which part of it, such as `coupler`, `ring`, `spring`",
            );
        }
        if !seen.insert(name.clone()) {
            return refused(
                format!("two parts are called `{}`", quotable(name)),
                "give each a name of its own, such as `front-ring, rear-ring`",
            );
        }
    }
    Ok(names.join(", "))
}

/// Tells whether a part may be called so. Its name becomes part of the names of conditions, hence no other letters.
pub(super) fn is_part_name(name: &str) -> bool {
    let is_word = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase());
    name.len() <= MOST_LETTERS && name.split('-').count() <= 3 && name.split('-').all(is_word)
}

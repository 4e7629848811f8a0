//! The shop's reckonings: sums over typed inputs, each with its formula, its source, its range and a verdict.
//!
//! A [`Reckoning`] says what it asks for ([`Input`]) and what its verdicts mean. [`Reckoning::read`] makes [`Given`]
//! values of what was typed, [`Reckoning::work_out`] an [`Outcome`] of those and of the [`Data`] tables, or a
//! [`Refusal`] that says what is wrong or which value is missing next: a prompt asks for that one and tries again.
//!
//! ```
//! use stepjig::reckon::{Data, named};
//!
//! let wall = named("wall").expect("it is one of the reckonings");
//! let given = wall.read([("bushing", "13.1 mm"), ("hole", "25/64 in")], None).expect("both are lengths");
//! let outcome = wall.work_out(&given, &Data::shipped())?;
//! assert_eq!(outcome.verdict, Some("sound"));
//! assert_eq!(outcome.output("wall").map(|wall| wall.text.replace('\u{a0}', " ")).as_deref(), Some("1.589 mm"));
//! # Ok::<(), stepjig::reckon::Refusal>(())
//! ```

mod asking;
pub mod blank_cut;
mod climate;
pub mod cure;
mod data;
pub mod drill_for;
mod face;
mod given;
pub mod grain_match;
mod input;
pub mod lathe_speed;
mod limit;
pub mod open_time;
mod outcome;
mod pairs;
pub mod press_fit;
mod refusal;
pub mod temperature_rule;
pub mod thread_stop;
pub mod tube_gap;
mod value;
pub mod wall;
pub mod wood_move;

pub use asking::{Asking, Fork, Way};
pub use climate::{Air, Climate};
pub use data::{
    Bit, BitName, BitSet, Data, DataFile, Drills, Glue, Glues, Hardening, SpeedBand, Speeds, ThingKind, Things,
};
pub use face::Face;
pub use given::Given;
pub use input::{Input, Kind, Usual};
pub use outcome::{Outcome, Output, in_words};
pub use pairs::pairs;
pub use refusal::Refusal;
pub use value::Value;

use crate::units::LengthUnit;

/// One of the shop's reckonings: what it asks for, and the sum.
pub struct Reckoning {
    /// Its name, as guides and the shell write it.
    pub name: &'static str,
    /// What it answers, as what is worked out: "how much wood is left at the bushing".
    pub answers: &'static str,
    /// What it asks for, in the order a prompt asks.
    pub inputs: &'static [Input],
    /// How it is done with a pencil; a threshold stands in braces, [`by_hand`](Reckoning::by_hand).
    pencil: &'static [&'static str],
    /// What a prompt asks besides what is missing.
    pub asking: Asking,
    /// Its verdicts, from good to bad, each with what it means.
    pub verdicts: &'static [(&'static str, &'static str)],
    sum: fn(&Given, &Data) -> Result<Outcome, Refusal>,
}

/// All reckonings, by name.
pub static ALL: [&Reckoning; 11] = [
    &blank_cut::RECKONING,
    &cure::RECKONING,
    &drill_for::RECKONING,
    &grain_match::RECKONING,
    &lathe_speed::RECKONING,
    &open_time::RECKONING,
    &press_fit::RECKONING,
    &thread_stop::RECKONING,
    &tube_gap::RECKONING,
    &wall::RECKONING,
    &wood_move::RECKONING,
];

/// Returns the reckoning with a name.
pub fn named(name: &str) -> Option<&'static Reckoning> {
    ALL.into_iter().find(|reckoning| reckoning.name == name)
}

impl Reckoning {
    /// Returns its input with a name.
    pub fn input(&self, name: &str) -> Option<&'static Input> {
        self.inputs.iter().find(|input| input.name == name)
    }

    /// Returns what a verdict of it means.
    pub fn meaning(&self, verdict: &str) -> Option<&'static str> {
        self.verdicts.iter().find(|(listed, _)| *listed == verdict).map(|(_, meaning)| *meaning)
    }

    /// Returns how it is done with a pencil where no program is at hand, with the thresholds of `data` put in.
    ///
    /// # Errors
    /// [`Refusal::Table`] where the shop's own thresholds have a fault.
    pub fn by_hand(&self, data: &Data) -> Result<Vec<String>, Refusal> {
        let filled = |line: &&str| {
            line.split('{').enumerate().try_fold(String::new(), |said, (n, part)| match part.split_once('}') {
                Some((key, rest)) if n > 0 => Ok(said + &data.practice(key)?.replace(' ', "\u{a0}") + rest),
                _ => Ok(said + part),
            })
        };
        self.pencil.iter().map(filled).collect()
    }

    /// Reads what was typed for each input; `bare` is the shop's unit for lengths without one.
    ///
    /// # Errors
    /// Everything that is wrong: names that it does not ask for, names given twice, values that do not read or lie out
    /// of range.
    pub fn read<'t>(
        &self,
        typed: impl IntoIterator<Item = (&'t str, &'t str)>,
        bare: Option<LengthUnit>,
    ) -> Result<Given, Vec<Refusal>> {
        Given::read(self, typed, bare)
    }

    /// Works it out.
    ///
    /// # Errors
    /// [`Refusal::Missing`] names the next value that it cannot do without; the others what is wrong with those given.
    pub fn work_out(&self, given: &Given, data: &Data) -> Result<Outcome, Refusal> {
        (self.sum)(given, data)
    }
}

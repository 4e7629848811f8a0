//! One value that a reckoning was given.

use super::{BitName, Climate, Output};
use crate::units::{Length, Quantity, Stress, SurfaceSpeed, shown};

/// One value that was read.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Something measured.
    Quantity(Quantity),
    /// Several lengths.
    Lengths(Vec<Length>),
    /// A surface speed.
    SurfaceSpeed(SurfaceSpeed),
    /// A stress, strength or stiffness.
    Stress(Stress),
    /// The air, or the wood's own moisture.
    Climate(Climate),
    /// A bit by its name.
    Bit(BitName),
    /// A number without a unit.
    Number(f64),
    /// A word, or a name.
    Word(String),
    /// Several words.
    Words(Vec<String>),
}

impl Value {
    /// Returns the numbers that it is, in the units in which results are told, each with its text as it was typed;
    /// nothing where it is words.
    pub fn numbers(&self, name: &'static str) -> Vec<Output> {
        match self {
            Value::Quantity(quantity) => vec![number(name, *quantity)],
            Value::Lengths(lengths) => lengths.iter().map(|length| Output::length(name, *length)).collect(),
            Value::SurfaceSpeed(speed) => {
                vec![Output::number(name, speed.in_metres_a_minute(), "m/min", speed.to_string())]
            }
            Value::Stress(stress) => vec![Output::stress(name, *stress)],
            Value::Climate(Climate::Air(air)) => {
                let (celsius, percent) = (air.celsius(), air.percent());
                vec![
                    Output::number(name, celsius, "C", format!("{}\u{a0}°C", shown(celsius, 1))),
                    Output::number(name, percent, "%", format!("{}\u{a0}%", shown(percent, 1))),
                ]
            }
            Value::Climate(moisture @ Climate::Moisture(percent)) => {
                vec![Output::number(name, *percent, "%", moisture.to_string())]
            }
            Value::Number(number) => vec![Output::number(name, *number, "", number.to_string())],
            Value::Bit(_) | Value::Word(_) | Value::Words(_) => Vec::new(),
        }
    }

    /// Returns the words that it is; nothing where it is a number.
    pub fn words(&self) -> Vec<String> {
        match self {
            Value::Bit(bit) => vec![bit.to_string()],
            Value::Word(word) => vec![word.clone()],
            Value::Words(words) => words.clone(),
            _ => Vec::new(),
        }
    }
}

fn number(name: &'static str, quantity: Quantity) -> Output {
    let length = quantity.length().map(|length| Output::length(name, length));
    let clock = || quantity.clock_position().map(|position| Output::clock(name, position));
    let angle = || quantity.angle().map(|angle| (angle.degrees(), "deg"));
    let time = || quantity.span().map(|span| (span.minutes(), "min"));
    length.or_else(clock).unwrap_or_else(|| {
        let (value, unit) = angle().or_else(time).unwrap_or_else(|| (quantity.value(), quantity.unit().label()));
        Output::number(name, value, unit, quantity.to_string())
    })
}

//! What a reckoning is given: typed texts, read and held to their ranges.

use std::collections::BTreeMap;

use super::input::{Kind, Usual, from_to};
use super::{Bit, BitName, Climate, Data, DataFile, Input, Reckoning, Refusal, Value};
use crate::finding::nearest;
use crate::finding::plain_text::clean_line;
use crate::units::{Angle, ClockPosition, Length, LengthUnit, Quantity, Span, Stress, SurfaceSpeed, Unit};

/// What bits there are, where one is none of them.
const BITS: &str = "letters go from A to Z and numbers from 1 to 80; or give its size, 9.92 mm or 25/64 in";

/// What a reckoning is given, by the names of its inputs.
#[derive(Debug, Clone)]
pub struct Given {
    inputs: &'static [Input],
    values: BTreeMap<&'static str, Value>,
}

impl Given {
    pub(super) fn read<'t>(
        reckoning: &Reckoning,
        typed: impl IntoIterator<Item = (&'t str, &'t str)>,
        bare: Option<LengthUnit>,
    ) -> Result<Given, Vec<Refusal>> {
        let mut given = Given { inputs: reckoning.inputs, values: BTreeMap::new() };
        let mut refusals = Vec::new();
        for (name, text) in typed {
            let Some(input) = reckoning.input(name) else {
                let names: Vec<&'static str> = reckoning.inputs.iter().map(|input| input.name).collect();
                let near = nearest(name, names.iter().copied());
                let near = names.iter().copied().find(|listed| Some(*listed) == near);
                refusals.push(Refusal::Unknown { typed: quoted(name), near, names });
                continue;
            };
            match input.read(text, bare) {
                Err(refusal) => refusals.push(refusal),
                Ok(_) if given.values.contains_key(input.name) => refusals.push(Refusal::Twice { input: input.name }),
                Ok(value) => _ = given.values.insert(input.name, value),
            }
        }
        if refusals.is_empty() { Ok(given) } else { Err(refusals) }
    }

    /// Returns all that was given, by name, in the order that it is asked for.
    pub fn all(&self) -> impl Iterator<Item = (&'static str, &Value)> {
        self.inputs.iter().filter_map(|input| self.values.get_key_value(input.name).map(|(name, value)| (*name, value)))
    }

    /// Returns the value that was given for an input.
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.values.get(name)
    }

    /// Tells whether an input was given.
    pub fn has(&self, name: &str) -> bool {
        self.values.contains_key(name)
    }

    /// Returns the refusal that asks for an input.
    pub(super) fn missing(&self, name: &'static str) -> Refusal {
        let meaning = self.inputs.iter().find(|input| input.name == name).map_or("", |input| input.meaning);
        Refusal::Missing { input: name, meaning }
    }

    /// Returns the value of an input: what was given, else what is usual.
    fn value(&self, name: &'static str, data: &Data) -> Result<Value, Refusal> {
        if let Some(value) = self.values.get(name) {
            return Ok(value.clone());
        }
        let missing = Refusal::Missing { input: name, meaning: "" };
        let input = self.inputs.iter().find(|input| input.name == name).ok_or(missing)?;
        match input.usual(data)? {
            Some(text) => input.read(&text, None),
            None => Err(Refusal::Missing { input: input.name, meaning: input.meaning }),
        }
    }

    fn quantity(&self, name: &'static str, data: &Data) -> Result<Quantity, Refusal> {
        match self.value(name, data)? {
            Value::Quantity(quantity) => Ok(quantity),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns a length; what was not given and is not usual is missing. So for the others below.
    pub(super) fn length(&self, name: &'static str, data: &Data) -> Result<Length, Refusal> {
        if let Value::Bit(bit) = self.value(name, data)? {
            return self.bit(name, &bit, data);
        }
        let quantity = self.quantity(name, data)?;
        quantity.length().ok_or(Refusal::Missing { input: name, meaning: "" })
    }

    /// Returns the size of a bit that was given by its name, if that is in range for the input.
    fn bit(&self, name: &'static str, bit: &BitName, data: &Data) -> Result<Length, Refusal> {
        let drills = data.drills()?;
        let Some(Bit { diameter, .. }) = drills.named(bit) else {
            let names: Vec<String> = drills.names().collect();
            // Of one letter or digit every other is near.
            let wanted = bit.to_string();
            let near = if bit.name.len() == 1 { None } else { nearest(&wanted, names.iter().map(String::as_str)) };
            let near = near.map(str::to_owned).into_iter().collect();
            return Err(Refusal::NotListed { input: name, typed: quoted(&bit.to_string()), near, instead: Some(BITS) });
        };
        match self.inputs.iter().find(|input| input.name == name) {
            Some(input @ Input { kind: Kind::Bore { least, most, .. }, .. }) => {
                input.check_length(&bit.to_string(), *diameter, *least, *most).map(|()| *diameter)
            }
            _ => Ok(*diameter),
        }
    }

    /// Returns several lengths, at least one.
    pub(super) fn lengths(&self, name: &'static str, data: &Data) -> Result<Vec<Length>, Refusal> {
        match self.value(name, data)? {
            Value::Lengths(lengths) => Ok(lengths),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns a surface speed.
    pub(super) fn surface_speed(&self, name: &'static str, data: &Data) -> Result<SurfaceSpeed, Refusal> {
        match self.value(name, data)? {
            Value::SurfaceSpeed(speed) => Ok(speed),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns the word that was given for an input that may also be a length, if it was a word.
    pub(super) fn word_given(&self, name: &str) -> Option<&str> {
        match self.values.get(name) {
            Some(Value::Word(word)) => Some(word),
            _ => None,
        }
    }

    /// Returns an angle, in turns or degrees.
    pub(super) fn angle(&self, name: &'static str, data: &Data) -> Result<Angle, Refusal> {
        self.quantity(name, data)?.angle().ok_or(Refusal::Missing { input: name, meaning: "" })
    }

    /// Returns a clock position.
    pub(super) fn clock(&self, name: &'static str, data: &Data) -> Result<ClockPosition, Refusal> {
        self.quantity(name, data)?.clock_position().ok_or(Refusal::Missing { input: name, meaning: "" })
    }

    /// Returns a time.
    pub(super) fn span(&self, name: &'static str, data: &Data) -> Result<Span, Refusal> {
        self.quantity(name, data)?.span().ok_or(Refusal::Missing { input: name, meaning: "" })
    }

    /// Returns a stress.
    pub(super) fn stress(&self, name: &'static str, data: &Data) -> Result<Stress, Refusal> {
        match self.value(name, data)? {
            Value::Stress(stress) => Ok(stress),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns the air, or a moisture content.
    pub(super) fn climate(&self, name: &'static str, data: &Data) -> Result<Climate, Refusal> {
        match self.value(name, data)? {
            Value::Climate(climate) => Ok(climate),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns a number: a count, or the value of a temperature, a humidity or a speed in its unit.
    pub(super) fn number(&self, name: &'static str, data: &Data) -> Result<f64, Refusal> {
        match self.value(name, data)? {
            Value::Number(number) => Ok(number),
            Value::Quantity(quantity) => Ok(quantity.value()),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns a word.
    pub(super) fn word(&self, name: &'static str, data: &Data) -> Result<String, Refusal> {
        match self.value(name, data)? {
            Value::Word(word) => Ok(word),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }

    /// Returns several words, at least one.
    pub(super) fn words(&self, name: &'static str, data: &Data) -> Result<Vec<String>, Refusal> {
        match self.value(name, data)? {
            Value::Words(words) => Ok(words),
            _ => Err(Refusal::Missing { input: name, meaning: "" }),
        }
    }
}

impl Input {
    /// Returns what is taken where nothing is given, as it is written.
    ///
    /// # Errors
    /// [`Refusal::Table`] where the shop's own file has a fault.
    pub fn usual(&self, data: &Data) -> Result<Option<String>, Refusal> {
        match self.usual {
            Usual::Asked => Ok(None),
            Usual::Text(text) => Ok(Some(text.to_owned())),
            Usual::Practice(key) => data.practice(key).map(Some),
        }
    }

    /// Returns what can be named for it, of what a table lists: woods, glues, bits.
    ///
    /// # Errors
    /// [`Refusal::Table`] where the shop's own file has a fault.
    pub fn listed(&self, data: &Data) -> Result<Vec<String>, Refusal> {
        match self.kind {
            Kind::Name(file) => data.names(file),
            Kind::Bore { .. } => data.names(DataFile::Drills),
            _ => Ok(Vec::new()),
        }
    }

    /// Reads what was typed for it.
    ///
    /// # Errors
    /// [`Refusal`] where it does not read, or lies out of range.
    pub fn read(&self, text: &str, bare: Option<LengthUnit>) -> Result<Value, Refusal> {
        let unreadable = |fault| Refusal::Unreadable { input: self.name, fault };
        let quantity = |unit: Unit| Quantity::parse(text, unit, bare).map_err(unreadable);
        match self.kind {
            Kind::Length { least, most } => self.length(text, bare, least, most),
            Kind::Bore { words, least, most } => match (self.choice(text, words), BitName::parse(text)) {
                (Ok(word), _) => Ok(Value::Word(word.to_owned())),
                (Err(_), Some(bit)) => Ok(Value::Bit(bit)),
                (Err(unlisted), None) if !words.is_empty() && !text.contains(|c: char| c.is_ascii_digit()) => {
                    Err(unlisted)
                }
                (Err(_), None) => self.length(text, bare, least, most),
            },
            Kind::Lengths { least, most } => {
                let each = text.split(',').map(|part| {
                    let length = Length::parse(part, bare).map_err(unreadable)?;
                    self.check_length(part, length, least, most).map(|()| length)
                });
                each.collect::<Result<_, _>>().map(Value::Lengths)
            }
            Kind::Angle { least, most } => self.within(text, quantity(Unit::Degree)?, least, most),
            Kind::Turns { least, most } => self.within(text, quantity(Unit::Turn)?, least, most),
            Kind::Clock => quantity(Unit::Clock).map(Value::Quantity),
            Kind::Seconds { least, most } => self.within(text, quantity(Unit::Second)?, least, most),
            Kind::Minutes { least, most } => self.within(text, quantity(Unit::Minute)?, least, most),
            Kind::Temperature { least, most } => self.within(text, quantity(Unit::Celsius)?, least, most),
            Kind::Speed { least, most } => self.within(text, quantity(Unit::TurnsAMinute)?, least, most),
            Kind::SurfaceSpeed { least, most } => {
                let speed = SurfaceSpeed::parse(text).map_err(unreadable)?;
                let fits = (least..=most).contains(&speed.in_metres_a_minute());
                let refused = || self.out_of_range(text, from_to(least, most, "m/min"), None);
                if fits { Ok(Value::SurfaceSpeed(speed)) } else { Err(refused()) }
            }
            Kind::Stress { least, most } => {
                let stress = Stress::parse(text).map_err(unreadable)?;
                let fits = (least..=most).contains(&stress.in_mpa());
                let refused = || self.out_of_range(text, from_to(least, most, "MPa"), None);
                fits.then_some(Value::Stress(stress)).ok_or_else(refused)
            }
            Kind::Climate => self.climate(text).map(Value::Climate),
            Kind::Humidity => self.humidity(text, quantity(Unit::Percent)?),
            Kind::Count { least, most } => {
                let count = text.trim().parse::<u32>().ok().filter(|count| (least..=most).contains(count));
                let refused = || self.out_of_range(text, self.kind.range(), self.no_number(text));
                count.map(|count| Value::Number(f64::from(count))).ok_or_else(refused)
            }
            Kind::Number { above, most } => {
                let number = text.trim().parse::<f64>().ok().filter(|number| above < *number && *number <= most);
                let refused = || self.out_of_range(text, self.kind.range(), self.no_number(text));
                number.map(Value::Number).ok_or_else(refused)
            }
            Kind::Choice(words) => self.choice(text, words).map(|word| Value::Word(word.to_owned())),
            Kind::Choices(words) => {
                let each = text.split(',').map(|part| self.choice(part, words).map(str::to_owned));
                each.collect::<Result<_, _>>().map(Value::Words)
            }
            Kind::Name(_) => Ok(Value::Word(text.trim().to_lowercase())),
        }
    }

    fn length(&self, text: &str, bare: Option<LengthUnit>, least: f64, most: f64) -> Result<Value, Refusal> {
        let unreadable = |fault| Refusal::Unreadable { input: self.name, fault };
        let length = Length::parse(text, bare).map_err(unreadable)?;
        self.check_length(text, length, least, most)?;
        Quantity::parse(text, Unit::Millimetre, bare).map(Value::Quantity).map_err(unreadable)
    }

    /// Refuses a length out of range, with the reading in the other unit where that one fits: the usual slip.
    fn check_length(&self, typed: &str, length: Length, least: f64, most: f64) -> Result<(), Refusal> {
        let mm = length.in_mm();
        if (least..=most).contains(&mm) {
            return Ok(());
        }
        let fits = |mm: f64| (least..=most).contains(&mm).then(|| Length::from_mm(mm).ok()).flatten();
        let inches_as_mm = fits(length.in_inches()).map(|length| length.written_in(LengthUnit::Millimetre));
        let mm_as_inches = fits(mm * 25.4).map(|length| length.written_in(LengthUnit::Inch));
        let slip = match length.unit() {
            LengthUnit::Inch => inches_as_mm,
            LengthUnit::Millimetre => mm_as_inches.or(fits(mm / 10.0)).or(fits(mm * 10.0)),
        };
        Err(Refusal::OutOfRange {
            input: self.name,
            typed: quoted(typed),
            range: from_to(least, most, "mm"),
            slip: slip.as_ref().map(|length| format!("are the units mixed up? did you mean {length}?")),
            meant: Some(slip.map_or_else(|| self.example(), |length| length.to_string())),
        })
    }

    pub(super) fn within(&self, typed: &str, quantity: Quantity, least: f64, most: f64) -> Result<Value, Refusal> {
        if (least..=most).contains(&quantity.value()) {
            return Ok(Value::Quantity(quantity));
        }
        Err(self.out_of_range(typed, from_to(least, most, quantity.unit().label()), None))
    }

    pub(super) fn humidity(&self, typed: &str, quantity: Quantity) -> Result<Value, Refusal> {
        let percent = quantity.value();
        if percent <= 0.0 || 100.0 <= percent {
            return Err(self.out_of_range(typed, Kind::Humidity.range(), None));
        }
        Ok(Value::Quantity(quantity))
    }

    fn choice(&self, text: &str, words: &'static [&'static str]) -> Result<&'static str, Refusal> {
        let typed = text.trim().to_lowercase();
        let near = words.iter().map(|word| (*word).to_owned()).collect();
        let instead = match self.kind {
            Kind::Bore { .. } => Some("or a length or a bit: 9.92 mm, 25/64 in, letter X"),
            _ => None,
        };
        let unlisted = || Refusal::NotListed { input: self.name, typed: quoted(&typed), near, instead };
        words.iter().copied().find(|word| *word == typed).ok_or_else(unlisted)
    }

    /// Says how to write a number where none was typed.
    fn no_number(&self, text: &str) -> Option<String> {
        let is_number = text.trim().parse::<f64>().is_ok();
        (!is_number).then(|| format!("type the number alone, like {}", self.kind.examples()))
    }

    pub(super) fn out_of_range(&self, typed: &str, range: String, slip: Option<String>) -> Refusal {
        Refusal::OutOfRange { input: self.name, typed: quoted(typed), range, slip, meant: Some(self.example()) }
    }
}

/// Returns what was typed, short and safe enough to be shown.
pub(super) fn quoted(typed: &str) -> String {
    clean_line(&typed.trim().chars().take(40).collect::<String>())
}

//! What is typed at a table: a number, words, or a reading that is sorted into its band.

use super::asking::Asking;
use crate::cli::failure::Failure;
use crate::cli::prompt::Typed;
use crate::guide::document::Text;
use crate::guide::fault_table::RawCheck;
use crate::guide::fold;
use crate::units::{Quantity, Unit};

impl Asking<'_, '_> {
    /// Asks until one of the words is chosen, by the number that the first of them have, words or a unique beginning; none where the input ends.
    pub(super) fn choose(&mut self, words: &[String], numbered: usize) -> Result<Option<usize>, Failure> {
        self.choose_or_read(words, numbered, None)
    }

    /// Asks as [`Asking::choose`]; where a gauge is given, a reading with its unit chooses its band.
    pub(super) fn choose_or_read(
        &mut self,
        words: &[String],
        numbered: usize,
        gauge: Option<&RawCheck>,
    ) -> Result<Option<usize>, Failure> {
        let prompt = match gauge.and_then(|gauge| gauge.unit.as_ref()) {
            Some(unit) => format!("number, words, or a reading with its unit ({})> ", unit.value),
            None => "number or words> ".to_owned(),
        };
        loop {
            let line = match self.lines.ask(&prompt, words.to_vec())? {
                Typed::Line(line) => line,
                Typed::Dropped => continue,
                Typed::End => return Ok(None),
            };
            if let Some(band) = gauge.and_then(|gauge| band_of(gauge, &line)) {
                return Ok(Some(band));
            }
            let typed = fold(&line);
            let exact = words.iter().position(|word| fold(word) == typed);
            let number = typed.parse::<usize>().ok().filter(|n| (1..=numbered).contains(n)).map(|n| n - 1);
            let begins: Vec<usize> = (0..words.len()).filter(|n| fold(&words[*n]).starts_with(&typed)).collect();
            match (exact.or(number), begins.as_slice()) {
                (Some(chosen), _) => return Ok(Some(chosen)),
                (None, [chosen]) if !typed.is_empty() => return Ok(Some(*chosen)),
                _ => self.tell(&[format!("Please type a number, or one of: {}.", words.join(" · "))]),
            }
        }
    }
}

/// Returns the band that a reading with its unit falls into: a band holds its lower end and not its upper.
fn band_of(gauge: &RawCheck, typed: &str) -> Option<usize> {
    let unit: Unit = gauge.unit.as_ref()?.value.parse().ok()?;
    // A bare number is that of an answer; a reading says its unit.
    let value = |written: &str| Quantity::parse_signed(written, unit, None).ok().map(|quantity| quantity.value());
    let read = value(typed.trim())?;
    gauge.outcomes.iter().position(|band| {
        let end = |text: &Option<Text>| text.as_ref().and_then(|text| value(&text.value));
        end(&band.min).is_none_or(|min| min <= read) && end(&band.max).is_none_or(|max| read < max)
    })
}

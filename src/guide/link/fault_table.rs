//! A fault table with its parameters put in.

use super::scope::{Scope, Value};
use crate::guide::Limits;
use crate::guide::document::Text;
use crate::guide::fault_table::{Part, RawFaultTable};
use crate::guide::phrase;

impl RawFaultTable {
    /// Returns the table for these parameters; one that is not given stands for its own name.
    ///
    /// A value that begins with `kit.` is a branch of the kit's numbers, any other is words. `number` says the numbers
    /// that the texts use, by their full names; one that it does not know is called by its last word.
    pub fn filled(
        &self,
        takes: &[Text],
        with: &[(String, String)],
        number: impl Fn(&str) -> Option<String>,
    ) -> RawFaultTable {
        let mut scope = Scope::new(Limits::default().field_bytes);
        for taken in takes {
            let given = with.iter().find(|(name, _)| *name == taken.value).map_or(&taken.value, |(_, value)| value);
            scope.push(&taken.value, Value::of(given));
        }
        let mut filled = self.clone();
        filled.each_text(|text, part| {
            let put_in = match part {
                Part::Name => scope.name(&text.value),
                Part::Handed => scope.handed_on(&text.value),
                Part::Words => scope.text(&text.value, |name| Some(name.to_owned())).map(|words| {
                    phrase::said(&words, |name| {
                        Some(number(name).unwrap_or_else(|| name.rsplit('.').next().unwrap_or(name).replace('-', " ")))
                    })
                }),
            };
            // What names nothing was told when the table was read.
            if let Ok(put_in) = put_in {
                text.value = put_in;
            }
        });
        filled
    }
}

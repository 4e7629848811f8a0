//! Where a fault in a file of figures stands.

use std::ops::Range;
use std::sync::Arc;

use serde::de::DeserializeOwned;
use toml::de::DeTable;

use super::Refusal;
use crate::finding::{Place, Source};

/// Reads a whole file of a shop.
pub(super) fn file<T: DeserializeOwned>(own: &Arc<Source>) -> Result<T, Refusal> {
    toml::from_str(own.text()).map_err(|wrong| at(own, wrong.span().unwrap_or(0..0), wrong.message().to_owned()))
}

/// A fault in an entry of a shop's file, at its key; `path` leads to it from table to table.
pub(super) fn at_entry(own: &Arc<Source>, path: &[&str], fault: String) -> Refusal {
    at(own, entry(own.text(), path).map_or(0..0, |(key, _)| key), fault)
}

/// A fault in a line of an entry of a shop's file that is a text of many lines.
pub(super) fn at_line(own: &Arc<Source>, path: &[&str], line: &str, fault: String) -> Refusal {
    let Some((_, value)) = entry(own.text(), path) else { return at(own, 0..0, fault) };
    let start = own.text().get(value.clone()).and_then(|text| text.find(line)).map(|at| value.start + at);
    at(own, start.map_or(value, |start| start..start + line.len()), fault)
}

/// A fault in a shipped file, which no one sees whose tests have passed.
pub(super) fn in_shipped(name: &'static str, fault: String) -> Refusal {
    at(&Source::new(name, ""), 0..0, fault)
}

fn at(source: &Arc<Source>, span: Range<usize>, fault: String) -> Refusal {
    Refusal::Table { place: Place::new(source, span), fault }
}

/// Returns where the key of an entry and its value stand in a file that is TOML.
fn entry(text: &str, path: &[&str]) -> Option<(Range<usize>, Range<usize>)> {
    let (last, tables) = path.split_last()?;
    let file = DeTable::parse(text).ok()?;
    let mut table = file.get_ref();
    for name in tables {
        table = table.get(*name)?.get_ref().as_table()?;
    }
    let (key, value) = table.get_key_value(*last)?;
    Some((key.span(), value.span()))
}

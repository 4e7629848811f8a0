//! What kind of thing a step asks for: a part, a bit, what is used up, a tool, a paper.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Refusal, fault};
use crate::finding::{Source, did_you_mean};

/// A kind of thing, in the order in which a pick list has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThingKind {
    /// It becomes part of the pen.
    Part,
    /// It drills.
    Bit,
    /// It is used up.
    Consumable,
    /// It is used again.
    Tool,
    /// It is read, or written on.
    Paper,
}

impl ThingKind {
    /// All of them, each with the key it has in a file.
    pub const ALL: [(&str, ThingKind); 5] = [
        ("part", ThingKind::Part),
        ("bit", ThingKind::Bit),
        ("consumable", ThingKind::Consumable),
        ("tool", ThingKind::Tool),
        ("paper", ThingKind::Paper),
    ];
}

/// The kind of each thing that is listed.
#[derive(Debug)]
pub struct Things {
    /// Name and kind; what a shop has listed comes first.
    named: Vec<(String, ThingKind)>,
}

impl Things {
    /// Reads the shipped text, and the shop's own over it.
    pub(super) fn read(name: &'static str, shipped: &str, own: Option<&Arc<Source>>) -> Result<Things, Refusal> {
        let mut named = Vec::new();
        if let Some(own) = own {
            let kinds = listed(fault::file(own)?);
            named.extend(kinds.map_err(|(key, said)| fault::at_entry(own, &[&key], said))?);
        }
        let shipped = toml::from_str(shipped).map_err(|wrong| fault::in_shipped(name, wrong.message().to_owned()))?;
        named.extend(listed(shipped).map_err(|(_, said)| fault::in_shipped(name, said))?);
        Ok(Things { named })
    }

    /// Returns what kind of thing it is; none where it is not listed.
    ///
    /// A name that is listed as it stands goes before one whose braces hold any words.
    ///
    /// ```
    /// use stepjig::reckon::{Data, ThingKind};
    ///
    /// let data = Data::shipped();
    /// let things = data.things().unwrap();
    /// assert_eq!(things.kind("body bit"), Some(ThingKind::Bit));
    /// assert_eq!(things.kind("blue moon"), None);
    /// ```
    pub fn kind(&self, thing: &str) -> Option<ThingKind> {
        let as_it_stands = self.named.iter().find(|(name, _)| name == thing);
        as_it_stands.or_else(|| self.named.iter().find(|(name, _)| holds(name, thing))).map(|(_, kind)| *kind)
    }
}

/// Tells whether a name with one pair of braces, which hold any words, is this thing's.
fn holds(name: &str, thing: &str) -> bool {
    let Some((before, rest)) = name.split_once('{') else { return false };
    let Some((_, after)) = rest.split_once('}') else { return false };
    let held = thing.strip_prefix(before).and_then(|rest| rest.strip_suffix(after));
    held.is_some_and(|held| !held.trim().is_empty())
}

/// Returns name and kind of each thing that a file lists, else the key that is no kind and what is wrong with it.
fn listed(lists: BTreeMap<String, Vec<String>>) -> Result<Vec<(String, ThingKind)>, (String, String)> {
    let mut named = Vec::new();
    for (key, things) in lists {
        let Some((_, kind)) = ThingKind::ALL.into_iter().find(|(known, _)| *known == key) else {
            let keys = ThingKind::ALL.map(|(key, _)| key);
            let near = did_you_mean(&key, keys).map_or(format!("they are {}", keys.join(", ")), |near| near);
            let said = format!("`{key}` is no kind of thing: {near}");
            return Err((key, said));
        };
        named.extend(things.into_iter().map(|thing| (thing, kind)));
    }
    Ok(named)
}

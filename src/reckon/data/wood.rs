//! Woods: how they move, and how strong they are across the grain, with a shop's own laid over them.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::{Refusal, fault};
use crate::finding::{Source, nearest};
use crate::reckon::given::quoted;
use crate::units::Stress;

/// The woods, by their entry's key, `cherry-black`.
///
/// Reading the whole shipped file would take longer than all else that a reckoning does. It has a wood a line, so only
/// the lines that hold what was typed are read, when they are asked for.
#[derive(Debug)]
pub(in crate::reckon) struct Woods {
    own: BTreeMap<String, Wood>,
    shipped: Vec<&'static str>,
    sources: BTreeMap<String, String>,
}

/// What is known of a wood.
#[derive(Debug, Clone)]
pub(in crate::reckon) struct Wood {
    pub(in crate::reckon) name: String,
    also: Vec<String>,
    /// Share of the width for each percent of moisture, 6 to 14 %.
    pub(in crate::reckon) moves: Sides,
    /// Percent, from green to dry.
    pub(in crate::reckon) shrinks: Sides,
    /// Tension across the grain at 12 % moisture.
    pub(in crate::reckon) strength: Option<Stress>,
    /// Stiffness across the grain.
    pub(in crate::reckon) e: Option<Stress>,
    /// Poisson's ratio across the grain.
    pub(in crate::reckon) nu: Option<f64>,
    /// Where each of `moves`, `shrinks` and `strength` is from, of those that there are.
    from: Vec<String>,
}

/// A figure for each way across the grain.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::reckon) struct Sides {
    pub(in crate::reckon) tangential: Option<f64>,
    pub(in crate::reckon) radial: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    sources: BTreeMap<String, String>,
    #[serde(default)]
    wood: BTreeMap<String, toml::Value>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    #[serde(default)]
    moves: Vec<f64>,
    #[serde(default)]
    shrinks: Vec<f64>,
    strength: Option<String>,
    e: Option<String>,
    nu: Option<f64>,
    #[serde(default)]
    from: Vec<String>,
}

/// How a fault in the shipped file is named, which no one sees whose tests have passed.
const SHIPPED: &str = "wood.toml";

impl Woods {
    /// Reads the shop's own file, and what the shipped one says before its woods.
    pub(super) fn read(shipped: &'static str, own: Option<&Arc<Source>>) -> Result<Woods, Refusal> {
        let head = shipped.split("\n[wood]").next().unwrap_or("");
        let woods = shipped.lines().skip_while(|line| line.trim() != "[wood]").skip(1);
        let File { sources, .. } = parse(head)?;
        let mut read = Woods { own: BTreeMap::new(), shipped: woods.filter(is_entry).collect(), sources };
        let Some(own) = own else { return Ok(read) };
        let file: File = fault::file(own)?;
        for (key, entry) in file.wood {
            let wood = entry.try_into().map_err(|wrong: toml::de::Error| wrong.message().to_owned());
            let wood = wood.and_then(|entry| Wood::read(entry, &file.sources));
            let wood = wood.map_err(|wrong| fault::at_entry(own, &["wood", &key], format!("`{key}`: {wrong}")))?;
            read.own.insert(key, wood);
        }
        Ok(read)
    }

    /// Returns the wood with a name, its words in any order; `input` is where it was typed.
    pub(in crate::reckon) fn find(
        &self,
        input: &'static str,
        typed: &str,
        instead: &'static str,
    ) -> Result<Wood, Refusal> {
        let wanted = words(typed);
        let holds = |line: &str| {
            let line = line.to_lowercase();
            wanted.iter().all(|word| line.contains(word))
        };
        for (key, wood) in self.woods(holds)? {
            if wood.names(&key).any(|name| words(name) == wanted) {
                return Ok(wood);
            }
        }
        let near = self.near(typed, &wanted)?;
        Err(Refusal::NotListed { input, typed: quoted(typed), near, instead: Some(instead) })
    }

    /// Returns the names of all woods, in small letters.
    pub(super) fn names(&self) -> Result<Vec<String>, Refusal> {
        Ok(self.woods(|_| true)?.into_iter().map(|(_, wood)| wood.name.to_lowercase()).collect())
    }

    /// Returns the wood that is weakest across the grain.
    pub(in crate::reckon) fn weakest(&self) -> Result<Option<Wood>, Refusal> {
        let stands = |line: &&&str| line.split(' ').next().is_none_or(|key| !self.own.contains_key(key));
        let shipped = self.shipped.iter().filter(stands);
        let weakest = shipped.filter_map(|line| Some((strength(line)?, *line))).min();
        let all = self.woods(|line| weakest.is_some_and(|(_, weakest)| line == weakest))?;
        Ok(all
            .into_iter()
            .map(|(_, wood)| wood)
            .filter(|wood| wood.strength.is_some())
            .min_by_key(|wood| wood.strength))
    }

    /// Returns the keys that share a word with what was typed, else the one that is spelt nearly so.
    fn near(&self, typed: &str, wanted: &[String]) -> Result<Vec<String>, Refusal> {
        const MOST: usize = 6;
        let all = self.woods(|_| true)?;
        let meant = |word: String| wanted.contains(&word) || nearest(&word, strs(wanted)).is_some();
        let shares = |(key, wood): &&(String, Wood)| wood.names(key).flat_map(words).any(meant);
        let sharing: Vec<String> = all.iter().filter(shares).map(|(key, _)| key.clone()).take(MOST).collect();
        Ok(match sharing.is_empty() {
            true => nearest(typed, all.iter().map(|(key, _)| key.as_str())).map(str::to_owned).into_iter().collect(),
            false => sharing,
        })
    }

    /// Returns the shop's own woods, and those shipped ones that it does not replace and whose line is wanted.
    fn woods(&self, wanted: impl Fn(&str) -> bool) -> Result<Vec<(String, Wood)>, Refusal> {
        let mut woods: Vec<_> = self.own.iter().map(|(key, wood)| (key.clone(), wood.clone())).collect();
        for line in self.shipped.iter().filter(|line| wanted(line)) {
            let entry: BTreeMap<String, Entry> = parse(line)?;
            for (key, entry) in entry.into_iter().filter(|(key, _)| !self.own.contains_key(key)) {
                let fault = |wrong| fault::in_shipped(SHIPPED, format!("`{key}`: {wrong}"));
                woods.push((key.clone(), Wood::read(entry, &self.sources).map_err(fault)?));
            }
        }
        Ok(woods)
    }
}

/// Returns the strength that stands on a wood's line, without making sense of the rest.
fn strength(line: &str) -> Option<Stress> {
    Stress::parse(line.split("strength = \"").nth(1)?.split('"').next()?).ok()
}

fn is_entry(line: &&str) -> bool {
    !line.starts_with('#') && line.contains('=')
}

/// Reads a part of the shipped file.
fn parse<T: DeserializeOwned>(text: &str) -> Result<T, Refusal> {
    toml::from_str(text).map_err(|wrong| fault::in_shipped(SHIPPED, wrong.message().to_owned()))
}

fn strs(words: &[String]) -> impl Iterator<Item = &str> {
    words.iter().map(String::as_str)
}

/// Returns the words of a name in small letters, sorted: "Cherry, black" and `cherry-black` are alike.
fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> =
        name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase).collect();
    words.sort_unstable();
    words
}

impl Wood {
    fn read(entry: Entry, sources: &BTreeMap<String, String>) -> Result<Wood, String> {
        let stress = |name: &str, text: Option<String>| {
            let read = text.map(|text| Stress::parse(&text).map_err(|fault| format!("`{name}`: {fault:#}")));
            read.transpose()
        };
        if let Some(nu) = entry.nu.filter(|nu| !(0.0 < *nu && *nu <= 0.5)) {
            return Err(format!("`nu`: {nu} is out of range, it goes from over 0 to 0.5"));
        }
        let from = entry.from.into_iter().map(|key| sources.get(&key).cloned().unwrap_or(key)).collect();
        Ok(Wood {
            moves: Sides::read("moves", &entry.moves, 0.02)?,
            shrinks: Sides::read("shrinks", &entry.shrinks, 30.0)?,
            strength: stress("strength", entry.strength)?,
            e: stress("e", entry.e)?,
            nu: entry.nu,
            name: entry.name,
            also: entry.also,
            from,
        })
    }

    fn names<'a>(&'a self, key: &'a str) -> impl Iterator<Item = &'a str> {
        [key, &self.name].into_iter().chain(strs(&self.also))
    }

    /// Returns where its figures are from: of `moves` and `shrinks`, or else of `strength`.
    pub(in crate::reckon) fn movement_sources(&self) -> Vec<String> {
        self.from.iter().take(self.n_movements()).map(|from| self.cited(from)).collect()
    }

    /// Returns where its strength is from.
    pub(in crate::reckon) fn strength_source(&self) -> Option<String> {
        self.from.get(self.n_movements()).map(|from| self.cited(from))
    }

    fn n_movements(&self) -> usize {
        [self.moves, self.shrinks].into_iter().filter(|sides| *sides != Sides::default()).count()
    }

    fn cited(&self, from: &str) -> String {
        format!("{}: {from}", self.name)
    }
}

impl Sides {
    /// Reads one figure or two, tangential first, each over 0 and up to `most`.
    fn read(name: &str, figures: &[f64], most: f64) -> Result<Sides, String> {
        if let Some(figure) = figures.iter().find(|figure| !(0.0 < **figure && **figure <= most)) {
            return Err(format!("`{name}`: {figure} is out of range, it goes from over 0 to {most}"));
        }
        match *figures {
            [] => Ok(Sides::default()),
            [tangential] => Ok(Sides { tangential: Some(tangential), radial: None }),
            [tangential, radial] => Ok(Sides { tangential: Some(tangential), radial: Some(radial) }),
            _ => Err(format!("`{name}`: it has {} figures, and takes two: tangential, then radial", figures.len())),
        }
    }
}

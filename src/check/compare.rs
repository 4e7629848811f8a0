//! Two editions of a guide, by steps and conditions rather than by lines.
//!
//! Both are linked, so that a change in a procedure is told at the steps that it touches. A step is the same when its
//! id is; one that is only in the old edition and one that is only in the new are the same when they say the same.

mod pairs;
mod step;

use crate::guide::Guide;
use crate::guide::document::KitValue;

use pairs::Pairs;

/// What kind of difference it is, those that can hurt first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// A step cannot be taken back any more.
    BecameOneWay,
    /// A step no longer asks for something before it.
    NeedGone,
    /// A caution went away.
    CautionGone,
    /// A wait became shorter.
    WaitShorter,
    /// A gauge's limits, or what it reads.
    Limits,
    /// A step can be taken back now.
    NoLongerOneWay,
    /// A step asks for more.
    NeedCame,
    /// A caution came.
    CautionCame,
    /// A wait became longer.
    WaitLonger,
    /// A step that was not there.
    Came,
    /// A step that is no longer there.
    Went,
    /// The same step in another place.
    Moved,
    /// The same step under another id.
    Renamed,
    /// Where a step leads.
    Ways,
    /// What it makes true, or removes.
    Effects,
    /// What it says.
    Text,
    /// Anything else about a step.
    Other,
    /// A kit number.
    Kit,
    /// How a condition is said, or whether it comes and goes.
    Words,
    /// What stands at the top of the guide.
    Opening,
}

impl What {
    /// Returns the word that reports use.
    pub fn as_str(self) -> &'static str {
        match self {
            What::BecameOneWay => "became-one-way",
            What::NeedGone => "need-gone",
            What::CautionGone => "caution-gone",
            What::WaitShorter => "wait-shorter",
            What::Limits => "limits",
            What::NoLongerOneWay => "no-longer-one-way",
            What::NeedCame => "need-came",
            What::CautionCame => "caution-came",
            What::WaitLonger => "wait-longer",
            What::Came => "came",
            What::Went => "went",
            What::Moved => "moved",
            What::Renamed => "renamed",
            What::Ways => "ways",
            What::Effects => "effects",
            What::Text => "text",
            What::Other => "other",
            What::Kit => "kit",
            What::Words => "words",
            What::Opening => "opening",
        }
    }
}

/// One difference.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Difference {
    /// Its kind.
    pub what: What,
    /// The step's place in the order of its edition, for sorting; steps before all else.
    pub(crate) order: usize,
    /// The step, by its id in the new edition, or in the old where it went away.
    pub step: Option<String>,
    /// What is different, in a clause.
    pub said: String,
}

/// Returns what is different in the new edition, what can hurt first; nothing where they are alike.
pub fn compare(old: &Guide, new: &Guide) -> Vec<Difference> {
    let mut found = of_steps(old, new);
    let mut tell = |what, said| found.push(Difference { what, order: usize::MAX, step: None, said });
    opening(old, new, &mut tell);
    kit(old, new, &mut tell);
    words(old, new, &mut tell);
    let care = match (old.care(), new.care()) {
        (Some(old), Some(new)) => of_steps(old, new),
        _ => Vec::new(),
    };
    if old.care().map(Guide::id) != new.care().map(Guide::id) {
        let named = |guide: &Guide| guide.care().map_or("nothing".to_owned(), |care| format!("`{}`", care.id()));
        tell(What::Opening, format!("what the owner does was {}, is {}", named(old), named(new)));
    }
    found.extend(care);
    found.sort();
    found
}

fn of_steps(old: &Guide, new: &Guide) -> Vec<Difference> {
    let pairs = Pairs::new(old, new);
    let mut found = Vec::new();
    pairs.tell(old, new, &mut found);
    for (before, after) in pairs.both() {
        step::compare(&pairs, (old, before), (new, after), &mut found);
    }
    found
}

fn opening(old: &Guide, new: &Guide, tell: &mut impl FnMut(What, String)) {
    let rows = [
        ("the id", Some(old.id()), Some(new.id())),
        ("the title", Some(old.title()), Some(new.title())),
        ("the edition", old.edition(), new.edition()),
        ("when to use it", old.use_when(), new.use_when()),
        ("when not to use it", old.not_when(), new.not_when()),
    ];
    for (what, before, after) in rows.into_iter().filter(|(_, before, after)| before != after) {
        tell(What::Opening, was_is(what, before.unwrap_or("not said"), after.unwrap_or("not said")));
    }
}

fn kit(old: &Guide, new: &Guide, tell: &mut impl FnMut(What, String)) {
    let written = |value: Option<&KitValue>| value.map_or("not given".to_owned(), KitValue::written);
    let paths: std::collections::BTreeSet<_> = old.kit().keys().chain(new.kit().keys()).collect();
    for path in paths {
        let (before, after) = (written(old.kit().get(path)), written(new.kit().get(path)));
        if before != after {
            tell(What::Kit, was_is(&format!("`{path}`"), &before, &after));
        }
    }
}

fn words(old: &Guide, new: &Guide, tell: &mut impl FnMut(What, String)) {
    let mut names: Vec<&str> = old.conditions().map(|condition| old.name(condition)).collect();
    names.extend(new.conditions().map(|condition| new.name(condition)));
    names.sort_unstable();
    names.dedup();
    for name in names {
        // A condition that only one edition has is told at its steps.
        let (Some(before), Some(after)) = (old.condition(name), new.condition(name)) else { continue };
        let said = |words: Option<&str>| words.unwrap_or("not said").to_owned();
        if old.words(before) != new.words(after) {
            let (before, after) = (said(old.words(before)), said(new.words(after)));
            tell(What::Words, was_is(&format!("`{name}`"), &before, &after));
        }
        match (old.is_passing(before), new.is_passing(after)) {
            (false, true) => tell(What::Words, format!("`{name}` comes and goes now")),
            (true, false) => tell(What::Words, format!("`{name}` no longer comes and goes")),
            _ => {}
        }
    }
}

fn was_is(what: &str, before: &str, after: &str) -> String {
    format!("{what} was: {before}; is: {after}")
}

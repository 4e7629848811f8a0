//! Small pieces of a file as they were written: a text with its place, a caution.

use crate::finding::Span;

/// A string and where it stands, quotes included.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// What it says.
    pub value: String,
    /// Where it stands.
    pub span: Span,
}

/// How bad the outcome may be, in the words of ANSI Z535.6.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// The work, the tool or the kit may suffer.
    Notice,
    /// A person may be hurt slightly.
    Caution,
    /// A person could be killed or badly hurt.
    Warning,
    /// A person will be killed or badly hurt.
    Danger,
}

impl Level {
    /// The levels by the word a guide writes.
    pub const WORDS: [(&str, Level); 4] = [
        ("danger", Level::Danger),
        ("warning", Level::Warning),
        ("caution", Level::Caution),
        ("notice", Level::Notice),
    ];

    /// Returns what the signal word means, as ANSI Z535.6 uses it.
    pub fn meaning(self) -> &'static str {
        match self {
            Level::Notice => "The work, the tool or the kit may be spoilt; nobody is hurt.",
            Level::Caution => "Somebody may be hurt slightly.",
            Level::Warning => "Somebody may be killed or badly hurt.",
            Level::Danger => "Somebody will be killed or badly hurt.",
        }
    }

    /// Returns the signal word.
    pub fn signal_word(self) -> &'static str {
        match self {
            Level::Notice => "NOTICE",
            Level::Caution => "CAUTION",
            Level::Warning => "WARNING",
            Level::Danger => "DANGER",
        }
    }
}

/// A hazard message.
#[derive(Debug, Clone)]
pub struct Caution {
    /// Where it stands.
    pub span: Span,
    /// How bad it may be.
    pub level: Level,
    /// The hazard and what it does.
    pub hazard: Text,
    /// How to avoid it.
    pub avoid: Text,
}

/// A walk through a guide that it is tried by, as it was written.
#[derive(Debug, Clone)]
pub struct RawRehearsal {
    /// The `[[rehearsal]]` line.
    pub header: Span,
    /// What it tries.
    pub title: Text,
    /// Kit numbers that go before the guide's, by path.
    pub numbers: Vec<(Text, Text)>,
    /// What is said at a step, by its id: one reply for each time that it is come to.
    pub answers: Vec<(Text, Vec<Text>)>,
    /// Steps that are passed by as if they could be.
    pub leaves_out: Vec<Text>,
    /// The step or the end where it must arrive.
    pub arrives: Option<Text>,
    /// The finding that must show.
    pub finding: Option<Text>,
}

/// A record of how a guide was tried.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verified {
    /// The day, as it was written: 2026-11-26.
    pub on: String,
    /// Who tried it.
    pub by: String,
    /// How: `desk`, `table-top` or `bench`.
    pub method: String,
    /// What was looked at, and what came of it.
    pub what: String,
    /// Which edition it was, where that is said.
    pub edition: Option<String>,
}

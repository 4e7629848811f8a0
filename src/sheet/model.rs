//! The sheet as data: words in the order they are read, and what each line is. Nothing here knows of guides.

use std::fmt;

use crate::finding::plain_text::clean;

/// Words that act on nothing: cleaned, on one line, and with one space between them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plain(String);

impl Plain {
    /// Returns a text as plain words; what could act on a terminal or hide text is made visible.
    ///
    /// The no-break space between a number and its unit is kept.
    ///
    /// ```
    /// use stepjig::sheet::Plain;
    /// assert_eq!(Plain::new(" press\n \u{1b}[2Jhome ").as_str(), "press ^[[2Jhome");
    /// ```
    pub fn new(text: &str) -> Plain {
        let shown = clean(text);
        Plain(shown.split([' ', '\n']).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" "))
    }

    /// Returns the words.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Plain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A piece of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Run {
    /// Words.
    Words(Plain),
    /// Words that stand out: a signal word, a hold.
    Strong(Plain),
    /// A place to write in.
    Blank,
    /// The step of this number, named so that it can be gone to.
    Step(usize),
}

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// What is to be done, asked, read or waited for: the line that has the step's number and box.
    Action,
    /// The beginning of a hold: stop and look before a step that cannot be taken back.
    Hold,
    /// One thing that must be true at a hold.
    Need,
    /// What can hurt, with its signal word.
    Hazard,
    /// A move of an action that cannot be interrupted.
    Move,
    /// A place to write a reading or a time in, and what the time waits for.
    Fill,
    /// Where one goes on, and when.
    Way,
    /// What to do when it goes wrong.
    Wrong,
    /// A remark.
    Note,
}

/// A line; a renderer may wrap it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub role: Role,
    /// Whether it has a box to tick.
    pub tick: bool,
    /// What it says; see [`Line::said`].
    pub runs: Vec<Run>,
}

impl Line {
    /// Returns a line of words without a box.
    pub fn new(role: Role, text: &str) -> Line {
        Line { role, tick: false, runs: vec![Run::Words(Plain::new(text))] }
    }

    /// Gives the line a box.
    #[must_use]
    pub fn ticked(self) -> Line {
        Line { tick: true, ..self }
    }

    /// Adds a piece.
    #[must_use]
    pub fn with(mut self, run: Run) -> Line {
        self.runs.push(run);
        self
    }

    /// Returns what it says with each piece as `piece` shows it: one space between them, none before a comma or a
    /// full stop.
    pub fn said(&self, piece: impl Fn(&Run) -> String) -> String {
        let mut said = String::new();
        for run in &self.runs {
            let closes = matches!(run, Run::Words(words) if [",", "."].contains(&words.as_str()));
            if !said.is_empty() && !closes {
                said.push(' ');
            }
            said.push_str(&piece(run));
        }
        said
    }

    /// Adds words.
    #[must_use]
    pub fn and(self, text: &str) -> Line {
        self.with(Run::Words(Plain::new(text)))
    }
}

/// What a block is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlockKind {
    /// The beginning of a run of steps that belong together.
    Heading,
    /// The step of this number.
    Step(usize),
    /// A thing on a list.
    Item,
    /// The end of a run of steps.
    EndMark,
}

/// Lines that stand together on one page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// What it is.
    pub kind: BlockKind,
    /// Its lines in the order they are read.
    pub lines: Vec<Line>,
}

/// A stage, or a part of a list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Section {
    /// Its title.
    pub title: Plain,
    /// What is in it.
    pub blocks: Vec<Block>,
    /// The words that mark its end.
    pub end: Plain,
}

/// What a sheet is told of the day and the work it is printed for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Stamp {
    /// The day, as it is to be shown.
    pub date: Option<String>,
    /// The piece it is for; without one there is a line to write it on.
    pub job: Option<String>,
}

/// A sheet, laid out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sheet {
    /// The guide's title.
    pub title: Plain,
    /// What sheet it is.
    pub name: Plain,
    /// Guide, edition and day: with the title, what tells one sheet from another on every page.
    pub stamp: Plain,
    /// The piece it is for, or a place to write it, and remarks on the whole.
    pub head: Vec<Line>,
    /// Its sections.
    pub sections: Vec<Section>,
    /// The words that mark its end.
    pub end: Plain,
}

impl Sheet {
    /// Returns what stands at the head of every printed page: title, sheet, guide, edition, day and piece.
    pub fn running_head(&self) -> String {
        let all = [&self.title, &self.name, &self.stamp];
        all.map(Plain::as_str).into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" · ")
    }
}

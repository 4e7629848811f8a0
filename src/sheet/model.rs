//! The sheet as data: words in the order they are read, and what each line is. Nothing here knows of guides.

use super::drawing::Drawing;
use super::plain::Plain;

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
    /// A box to tick, and the number of the step that it is for.
    Tick(usize),
}

impl Run {
    /// Returns whether it closes the run before it: a comma or a full stop, with no space between.
    pub fn closes(&self) -> bool {
        matches!(self, Run::Words(words) if [",", "."].contains(&words.as_str()))
    }
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
            if !said.is_empty() && !run.closes() {
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
    /// A label to cut out.
    Label,
    /// The end of a run of steps.
    EndMark,
}

/// Lines that stand together on one page.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// What it is.
    pub kind: BlockKind,
    /// Its lines in the order they are read.
    pub lines: Vec<Line>,
    /// What is drawn under them.
    pub figure: Option<Drawing>,
}

impl Block {
    /// Returns a block of lines without a figure.
    pub fn new(kind: BlockKind, lines: Vec<Line>) -> Block {
        Block { kind, lines, figure: None }
    }
}

/// A stage, or a part of a list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Section {
    /// Its title; empty where there is but one section.
    pub title: Plain,
    /// What is in it.
    pub blocks: Vec<Block>,
    /// The words that mark its end; empty where the sheet's own end is enough.
    pub end: Plain,
}

/// Returns a title as it stands over what goes on with it.
pub(super) fn continued(title: &str) -> String {
    format!("{title} (continued)")
}

impl Section {
    /// Returns what stands over the rest of it on a further page.
    pub fn continued(&self) -> Plain {
        match self.title.as_str() {
            "" => Plain::default(),
            title => Plain::new(&continued(title)),
        }
    }
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
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// The guide's title.
    pub title: Plain,
    /// What sheet it is.
    pub name: Plain,
    /// Guide, edition and day: with the title, what tells one sheet from another on every page.
    pub stamp: Plain,
    /// The piece it is for; without one there is a place to write it.
    pub piece: Option<Plain>,
    /// A place to write the piece, and remarks on the whole.
    pub head: Vec<Line>,
    /// Its sections.
    pub sections: Vec<Section>,
    /// Whether it is one page to be looked at as a whole: narrow, its lines close together.
    pub close: bool,
    /// The words that mark its end.
    pub end: Plain,
}

impl Sheet {
    /// Returns whether there is a line on it to write the piece on: then there is one on every page.
    pub fn has_pen_line(&self) -> bool {
        self.piece.is_none() && self.head.iter().any(|line| line.role == Role::Fill)
    }

    /// Returns what stands at the head of every printed page: title, sheet, guide, edition, day and piece.
    pub fn running_head(&self) -> String {
        let all = [&self.title, &self.name, &self.stamp];
        all.map(Plain::as_str).into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" · ")
    }
}

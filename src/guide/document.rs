//! A guide file as it was written: everything still has its span, nothing is resolved.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::fault_table::RawFaultTable;
use super::keys::{self, Table};
pub use super::written::{Caution, Level, RawRehearsal, Text, Verified};
use crate::finding::{Place, Source, Span};

/// Which kind of file it is, by the table it opens with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shelf {
    /// `[guide]`: one kit style.
    Guide,
    /// `[procedure]`: a shared piece of graph.
    Procedure,
    /// `[trouble]`: a fault table.
    Trouble,
}

impl Shelf {
    /// Returns the key that such a file opens with, and what that table may hold.
    pub fn opening(self) -> (&'static str, &'static Table) {
        match self {
            Shelf::Guide => ("guide", &keys::GUIDE),
            Shelf::Procedure => ("procedure", &keys::PROCEDURE),
            Shelf::Trouble => ("trouble", &keys::TROUBLE),
        }
    }
}

/// A file read: what could be read of it, in the order of the file.
#[derive(Debug, Clone)]
pub struct Document {
    /// The text it was read from.
    pub source: Arc<Source>,
    /// Which kind of file it is.
    pub shelf: Shelf,
    /// Where its opening table stands, for findings about the file as a whole.
    pub header: Span,
    /// Its id.
    pub id: Text,
    /// Its title.
    pub title: String,
    /// The edition, where the file gives one.
    pub edition: Option<String>,
    /// When to use the guide.
    pub use_when: Option<Text>,
    /// When not to.
    pub not_when: Option<Text>,
    /// Who keeps the guide, and is told what did not go as written.
    pub kept_by: Option<String>,
    /// How it was tried.
    pub verified: Vec<Verified>,
    /// The procedure that says what the owner of the pen does.
    pub care: Option<Care>,
    /// The parameters of a procedure or a fault table.
    pub takes: Vec<Text>,
    /// Conditions that come and go.
    pub passing: Vec<Text>,
    /// How conditions are said to a person.
    pub words: Vec<(Text, Text)>,
    /// The numbers off the kit's sheet, flattened: `kit.tube.body.drill`.
    pub kit: Vec<(Text, KitValue)>,
    /// Only in a linked guide: which numbers came off a kit file.
    pub measured: Vec<Text>,
    /// Whether it is a linked guide as it is kept with a job.
    pub linked: bool,
    /// The steps.
    pub steps: Vec<RawStep>,
    /// Ids of steps that could not be read: their findings are told, and no name that leads to them is.
    pub unread: BTreeSet<String>,
    /// Walks through the guide that it is tried by.
    pub rehearsals: Vec<RawRehearsal>,
    /// What a trouble file says.
    pub fault_table: Option<Box<RawFaultTable>>,
}

impl Document {
    /// Returns the place of a span in this file.
    pub fn place(&self, span: &Span) -> Place {
        Place::new(&self.source, span.clone())
    }
}

/// What the owner of the pen does, by the name of a procedure.
#[derive(Debug, Clone)]
pub struct Care {
    /// The procedure.
    pub name: Text,
    /// Only in a linked guide: its steps.
    pub steps: Vec<RawStep>,
}

/// A value of the kit's sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum KitValue {
    /// A length with its unit, or words.
    Text(String),
    /// A bare number, such as how many thread starts.
    Number(f64),
}

impl KitValue {
    /// Returns the value as it was written.
    pub fn written(&self) -> String {
        match self {
            KitValue::Text(text) => text.clone(),
            KitValue::Number(number) => number.to_string(),
        }
    }
}

/// A step as it was written.
#[derive(Debug, Clone)]
pub struct RawStep {
    /// The `[[step]]` line.
    pub header: Span,
    /// Its id.
    pub id: Text,
    /// What it is.
    pub kind: RawKind,
    /// What must already be true.
    pub needs: Vec<Text>,
    /// What it makes true.
    pub gives: Vec<Text>,
    /// What it removes.
    pub spoils: Vec<Text>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Text>,
    /// Whether it cannot be taken back.
    pub one_way: bool,
    /// Whether it can be skipped.
    pub optional: bool,
    /// What can hurt, and how to avoid it.
    pub cautions: Vec<Caution>,
    /// What to do when it goes wrong.
    pub if_wrong: Option<Text>,
    /// Why it is done.
    pub why: Option<Text>,
    /// A note under the step.
    pub tell: Option<Text>,
    /// Minutes of attention.
    pub minutes: Option<f64>,
    /// The place or machine.
    pub at: Option<Text>,
    /// What to have at hand.
    pub parts: Vec<Text>,
    /// The fault tables to offer first.
    pub trouble: Vec<TroubleRef>,
    /// The stage that begins here.
    pub stage: Option<Text>,
    /// Marks to draw on a clock face.
    pub clock: Vec<(Text, Text)>,
}

impl RawStep {
    /// Returns a step of which only the id is known yet.
    pub(in crate::guide) fn bare(header: Span, id: Text, kind: RawKind) -> RawStep {
        RawStep {
            header,
            id,
            kind,
            needs: Vec::new(),
            gives: Vec::new(),
            spoils: Vec::new(),
            undoes: Vec::new(),
            one_way: false,
            optional: false,
            cautions: Vec::new(),
            if_wrong: None,
            why: None,
            tell: None,
            minutes: None,
            at: None,
            parts: Vec::new(),
            trouble: Vec::new(),
            stage: None,
            clock: Vec::new(),
        }
    }
}

/// What a step is.
#[derive(Debug, Clone)]
pub enum RawKind {
    /// One action.
    Do {
        /// What to do.
        text: Text,
        /// Moves that cannot be interrupted.
        in_one_go: Vec<Text>,
        /// Where it leads.
        then: Option<Box<RawWay>>,
    },
    /// A question.
    Ask {
        /// The question.
        text: Text,
        /// The `answers` key, for findings about them all.
        key: Span,
        /// Its answers.
        answers: Vec<(Text, RawWay)>,
    },
    /// A reading.
    Gauge {
        /// What to measure.
        text: Text,
        /// The unit of the reading.
        unit: Text,
        /// The lowest good reading.
        min: Option<Text>,
        /// The highest good reading.
        max: Option<Text>,
        /// The kit number that the reading becomes.
        sets: Option<Text>,
        /// Where a good reading leads.
        within: Option<Box<RawWay>>,
        /// Where a low one leads.
        under: Option<Box<RawWay>>,
        /// Where a high one leads.
        over: Option<Box<RawWay>>,
    },
    /// A named calculation.
    Reckon {
        /// Its name.
        name: Text,
        /// Its inputs, by name.
        from: Vec<(Text, Text)>,
        /// Where each verdict leads.
        verdicts: Vec<(Text, RawWay)>,
        /// Where any other leads.
        then: Option<Box<RawWay>>,
    },
    /// A wait.
    Wait {
        /// How long.
        text: Text,
        /// What is being waited for.
        waiting_for: Option<Text>,
        /// The sign that it is really over.
        ready: Text,
        /// The longest wait.
        up_to: Option<Text>,
        /// Whether other work goes on meanwhile.
        meanwhile: bool,
        /// Where it leads when ready.
        then: Option<Box<RawWay>>,
        /// Where it leads when not.
        not_ready: Option<Box<RawWay>>,
    },
    /// A procedure.
    Run {
        /// Its name; in a linked guide its title.
        name: Text,
        /// Its parameters.
        with: Vec<(Text, Text)>,
        /// The values it is repeated for.
        each: Vec<Text>,
        /// Only in a linked guide: where an optional run leads when it is passed by.
        skip_to: Option<Text>,
        /// Where it leads.
        then: Option<Box<RawWay>>,
    },
    /// An end.
    End {
        /// Which.
        text: Text,
        /// Only of a `return` in a linked guide: where the run leads.
        then: Option<Box<RawWay>>,
        /// Only of a `return` in a linked guide: the run that it ends.
        of: Option<Text>,
    },
}

impl RawKind {
    /// Returns the step's main text.
    pub fn text(&self) -> &Text {
        match self {
            RawKind::Do { text, .. }
            | RawKind::Ask { text, .. }
            | RawKind::Gauge { text, .. }
            | RawKind::Wait { text, .. }
            | RawKind::End { text, .. } => text,
            RawKind::Reckon { name, .. } | RawKind::Run { name, .. } => name,
        }
    }
}

/// A way out of a step as it was written.
#[derive(Debug, Clone)]
pub struct RawWay {
    /// Where it stands.
    pub span: Span,
    /// The step it leads to; without one, the next in the file.
    pub to: Option<Text>,
    /// The fault table it opens.
    pub trouble: Option<TroubleRef>,
    /// What it makes true.
    pub gives: Vec<Text>,
    /// What it removes.
    pub spoils: Vec<Text>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Text>,
}

/// A fault table named by a step or a way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TroubleRef {
    /// Its id.
    pub table: Text,
    /// Its parameters, where they are not taken from the procedure's.
    pub with: Vec<(Text, Text)>,
}

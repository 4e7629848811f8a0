//! A step, and the ways out of it.

use std::ops::Range;
use std::sync::Arc;

use super::condition::Condition;
use crate::finding::{Place, Span};
use crate::guide::document::{Caution, Document, RawStep};

/// A step of one guide, by its place in the expanded order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepIdx(pub(in crate::guide) u32);

impl StepIdx {
    /// Returns its place in the expanded order, from 0.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A way of one guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WayIdx(pub(in crate::guide) u32);

impl WayIdx {
    /// Returns its place among the guide's ways, from 0; the ways out of a step stand together.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A condition where a step names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mention {
    /// The condition.
    pub condition: Condition,
    /// Where in the step's file it is named.
    pub span: Span,
}

/// How a guide ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndKind {
    /// A finished pen.
    Finished,
    /// The blank is lost.
    Scrap,
    /// A remedy did not help, and nothing is lost by it.
    NotFixed,
}

/// A wait's times.
#[derive(Debug, Clone, PartialEq)]
pub struct Pause {
    /// Minutes to wait.
    pub minutes: f64,
    /// The longest wait, in minutes.
    pub up_to: Option<f64>,
    /// The sign that it is really over.
    pub ready: String,
    /// What is being waited for.
    pub waiting_for: Option<String>,
    /// Whether other work goes on meanwhile.
    pub meanwhile: bool,
}

/// What a step is.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// One action, with the moves that cannot be interrupted.
    Do {
        /// The moves.
        in_one_go: Vec<String>,
    },
    /// A question; its answers are its ways.
    Ask,
    /// A reading.
    Gauge {
        /// The unit of the reading, as the guide names it.
        unit: String,
        /// The lowest good reading: a number, a length, or a reference in braces.
        min: Option<String>,
        /// The highest.
        max: Option<String>,
        /// The kit number that it becomes.
        sets: Option<String>,
        /// The condition that the reading has been taken.
        read: Condition,
    },
    /// A named calculation.
    Reckon {
        /// Its inputs by name: kit paths, readings in braces, or literals.
        from: Vec<(String, String)>,
    },
    /// A wait.
    Wait(Pause),
    /// The beginning of a procedure.
    Run,
    /// The end of a procedure; it carries what the run gives.
    Return {
        /// The run it belongs to.
        run: StepIdx,
    },
    /// The end of the guide.
    End(EndKind),
}

/// One node of the graph.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its full id, `glue-body/scuff`.
    pub id: Arc<str>,
    /// What it is.
    pub kind: Kind,
    /// What it says: the action, the question, the reckoning's name, the procedure's title.
    pub text: String,
    /// What must be true before it, readings that its text uses included.
    pub needs: Vec<Mention>,
    /// What it makes true by itself.
    pub gives: Vec<Mention>,
    /// What it removes.
    pub spoils: Vec<Mention>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Mention>,
    /// Whether it cannot be taken back.
    pub one_way: bool,
    /// Whether it can be skipped.
    pub optional: bool,
    /// Minutes of attention, 0 where the guide gives none.
    pub minutes: f64,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// What to do when it goes wrong.
    pub if_wrong: Option<String>,
    /// Why it is done.
    pub why: Option<String>,
    /// A note.
    pub tell: Option<String>,
    /// The place or machine.
    pub at: Option<String>,
    /// What to have at hand.
    pub parts: Vec<String>,
    /// Fault tables to offer first.
    pub trouble: Vec<TroubleCall>,
    /// The stage it belongs to.
    pub stage: Option<Arc<str>>,
    /// Marks to draw on a clock face: word and position.
    pub clock: Vec<(String, String)>,
    pub(in crate::guide) document: Arc<Document>,
    pub(in crate::guide) raw: usize,
    pub(in crate::guide) used_at: Arc<[Place]>,
    pub(in crate::guide) ways: Range<u32>,
}

impl Step {
    /// Tells whether it has a number of its own: each has but where a procedure begins or returns.
    pub fn has_number(&self) -> bool {
        !matches!(self.kind, Kind::Run | Kind::Return { .. })
    }

    /// Returns a step that is laid at a place of a document and says nothing yet.
    pub(in crate::guide) fn bare(
        id: Arc<str>,
        kind: Kind,
        stage: Option<Arc<str>>,
        (document, raw): (Arc<Document>, usize),
        used_at: Arc<[Place]>,
    ) -> Step {
        Step {
            id,
            kind,
            text: String::new(),
            needs: Vec::new(),
            gives: Vec::new(),
            spoils: Vec::new(),
            undoes: Vec::new(),
            one_way: false,
            optional: false,
            minutes: 0.0,
            cautions: Vec::new(),
            if_wrong: None,
            why: None,
            tell: None,
            at: None,
            parts: Vec::new(),
            trouble: Vec::new(),
            stage,
            clock: Vec::new(),
            document,
            raw,
            used_at,
            ways: 0..0,
        }
    }

    /// Returns the place of its id in its file.
    pub fn place(&self) -> Place {
        self.place_of(&self.raw_step().id.span)
    }

    /// Returns the place of one of its spans.
    pub fn place_of(&self, span: &Span) -> Place {
        self.document.place(span)
    }

    /// Returns where the procedures that hold it are run, innermost first.
    pub fn used_at(&self) -> &[Place] {
        &self.used_at
    }

    /// Returns the step as it stands in its file.
    pub fn raw_step(&self) -> &RawStep {
        &self.document.steps[self.raw]
    }

    pub(crate) fn way_range(&self) -> Range<usize> {
        self.ways.start as usize..self.ways.end as usize
    }

    /// Returns the minutes it takes, a wait's own time included.
    pub fn minutes_with_wait(&self) -> f64 {
        match &self.kind {
            Kind::Wait(pause) => self.minutes + pause.minutes,
            _ => self.minutes,
        }
    }
}

/// Which way out of a step it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Label {
    /// The only way, done.
    Then,
    /// The answer of these words.
    Answer(String),
    /// A reading within its limits.
    Within,
    /// A reading below them.
    Under,
    /// A reading above them.
    Over,
    /// The wait was over.
    Ready,
    /// It was not.
    NotReady,
    /// The reckoning's verdict.
    Verdict(String),
    /// An optional step passed by.
    Skip,
}

impl Label {
    /// Tells whether what a step itself gives acts on a way of this label.
    pub(in crate::guide) fn gives_own(&self) -> bool {
        match self {
            Label::Then | Label::Answer(_) | Label::Within | Label::Ready => true,
            Label::Under | Label::Over | Label::NotReady | Label::Verdict(_) | Label::Skip => false,
        }
    }
}

/// A fault table that a step or a way calls.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TroubleCall {
    /// The table's id.
    pub table: String,
    /// Its parameters, resolved.
    pub with: Vec<(String, String)>,
}

/// A way out of a step and what it does to what is held.
///
/// `held` becomes `(held − removes − undoes with all built on them) ∪ gives`; `gives` is what is left after the way's
/// own removals.
#[derive(Debug, Clone)]
pub struct Way {
    /// The step it leaves.
    pub from: StepIdx,
    /// Which way out it is.
    pub label: Label,
    /// The step it leads to; none where it opens a fault table.
    pub to: Option<StepIdx>,
    /// The fault table it opens.
    pub trouble: Option<TroubleCall>,
    /// What it makes true.
    pub gives: Vec<Condition>,
    /// What it removes.
    pub removes: Vec<Condition>,
    /// What it removes with all that was built on it.
    pub undoes: Vec<Condition>,
    /// Whether it removes every passing condition that it does not give.
    pub drops_passing: bool,
    /// Where it is written, where it is.
    pub span: Option<Span>,
}

impl Way {
    /// Returns a way that is not written down and does nothing to what is held.
    pub(in crate::guide) fn plain(from: StepIdx, label: Label, to: Option<StepIdx>) -> Way {
        Way {
            from,
            label,
            to,
            trouble: None,
            gives: Vec::new(),
            removes: Vec::new(),
            undoes: Vec::new(),
            drops_passing: false,
            span: None,
        }
    }
}

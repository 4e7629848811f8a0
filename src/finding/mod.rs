//! Findings: what is wrong with a guide, where, and what to do about it.
//!
//! A [`Finding`] is data. It names its [`Code`], the [`Place`] in the file, and where it helps the step, the
//! condition and the shortest walk that shows the fault. Turning one into lines for a terminal, one line, or JSON
//! is the business of [`render`] and [`json`]; nothing here prints.

mod code;
mod fix;
pub mod json;
pub mod plain_text;
pub mod render;
pub(crate) mod sentence;
mod source;

pub use code::{Code, Severity};
pub use fix::{Edit, Fix, edited};
pub use source::{Place, Source, Span};

/// One thing that is wrong, or doubtful, in a guide.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What kind of fault it is.
    pub code: Code,
    /// The smallest piece of text that shows it.
    pub place: Place,
    /// The step it is about, by its full id.
    pub step: Option<String>,
    /// The condition it is about.
    pub condition: Option<String>,
    /// What is wrong, in one clause.
    pub message: String,
    /// A few words beside the caret, where they add something.
    pub label: Option<String>,
    /// What to do about it.
    pub help: Option<String>,
    /// The ids of a shortest walk, first step included, that shows the fault.
    pub walk: Option<Vec<String>>,
    /// Where the procedure that holds the fault is run, outermost last.
    pub used_at: Vec<Place>,
    /// What mends it, where that can be told without knowing the work.
    pub fix: Option<Fix>,
}

impl Finding {
    /// Returns a finding with a code, a place and a message; the rest is added with the methods below.
    pub fn new(code: Code, place: Place, message: impl Into<String>) -> Finding {
        Finding {
            code,
            place,
            step: None,
            condition: None,
            message: message.into(),
            label: None,
            help: None,
            walk: None,
            used_at: Vec::new(),
            fix: None,
        }
    }

    /// Names the step it is about.
    pub fn step(mut self, step: impl Into<String>) -> Finding {
        self.step = Some(step.into());
        self
    }

    /// Names the condition it is about.
    pub fn condition(mut self, condition: impl Into<String>) -> Finding {
        self.condition = Some(condition.into());
        self
    }

    /// Adds words beside the caret.
    pub fn label(mut self, label: impl Into<String>) -> Finding {
        self.label = Some(label.into());
        self
    }

    /// Says what to do.
    pub fn help(mut self, help: impl Into<String>) -> Finding {
        self.help = Some(help.into());
        self
    }

    /// Says what to do, where there is something to say.
    pub fn maybe_help(mut self, help: Option<String>) -> Finding {
        self.help = help.or(self.help);
        self
    }

    /// Says which name was meant for the one that was written, and mends it where it can be found at the place.
    pub fn meant(mut self, written: &str, near: &str) -> Finding {
        self.fix = Fix::rename(&self.place, written, near);
        self.help(format!("did you mean `{near}`?"))
    }

    /// Says which of the names was meant for the one that was written; where none is near, says what else to do.
    pub fn suggest<'a>(
        &mut self,
        written: &str,
        names: impl IntoIterator<Item = &'a str>,
        else_help: impl Into<String>,
    ) {
        match nearest(written, names) {
            Some(near) => {
                self.fix = Fix::rename(&self.place, written, near);
                self.help = Some(format!("did you mean `{near}`?"));
            }
            None => self.help = Some(else_help.into()),
        }
    }

    /// Adds the walk that shows the fault.
    pub fn walk(mut self, walk: Vec<String>) -> Finding {
        self.walk = Some(walk);
        self
    }

    /// Adds where the procedure that holds it is run.
    pub fn used_at(mut self, places: Vec<Place>) -> Finding {
        self.used_at = places;
        self
    }

    /// Returns how much it weighs: an error, or a warning.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }
}

/// Sorts findings as they are reported: by file, line, column and code.
pub fn sort(findings: &mut [Finding]) {
    findings.sort_by(|a, b| {
        let key = |f: &Finding| (f.place.span.start, f.code.as_str());
        (a.place.source.name())
            .cmp(b.place.source.name())
            .then_with(|| key(a).cmp(&key(b)))
            .then_with(|| (&a.step, &a.condition, &a.message).cmp(&(&b.step, &b.condition, &b.message)))
    });
}

/// Returns "did you mean `near`?" where one of the candidates is near what was written.
///
/// Near is an optimal string alignment distance of at most a third of the word's length, and at least 1.
pub fn did_you_mean<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(written, candidates).map(|near| format!("did you mean `{near}`?"))
}

/// How many candidates of a fitting length are looked at; a stranger's file may have tens of thousands.
const CANDIDATES: usize = 1_000;

/// How long a word may be to be compared with all the candidates; no name in a guide is as long.
const LONGEST_NEAR: usize = 40;

/// How many of the findings in a guide get a suggestion where each costs a look at all its names.
pub(crate) const SUGGESTIONS: usize = 50;

/// Returns the candidate nearest to what was written, if one is near enough to be meant.
pub fn nearest<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let length = written.chars().count();
    if length > LONGEST_NEAR {
        return None;
    }
    let most = (length / 3).max(1);
    candidates
        .into_iter()
        .filter(|candidate| candidate.chars().count().abs_diff(length) <= most)
        .take(CANDIDATES)
        .map(|candidate| (strsim::osa_distance(written, candidate), candidate))
        .filter(|(distance, _)| *distance <= most)
        .min()
        .map(|(_, candidate)| candidate)
}

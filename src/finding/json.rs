//! Findings as JSON, version 1 of the report.

use serde::Serialize;

use super::plain_text::{clean, cleaned};
use super::{Finding, Place};

/// One guide's entry in the report of `check --format json`.
#[derive(Debug, Serialize)]
pub struct GuideReport {
    guide: String,
    steps: usize,
    findings: Vec<FindingReport>,
}

impl GuideReport {
    /// Returns the entry of a guide: its id, how many steps it has after expansion, what was found.
    pub fn new(guide: impl Into<String>, steps: usize, findings: &[Finding]) -> GuideReport {
        GuideReport { guide: cleaned(guide.into()), steps, findings: findings.iter().map(FindingReport::of).collect() }
    }
}

/// The whole report.
#[derive(Debug, Serialize)]
pub struct Report {
    stepjig: u32,
    guides: Vec<GuideReport>,
}

impl Report {
    /// Returns the report of several guides.
    pub fn new(guides: Vec<GuideReport>) -> Report {
        Report { stepjig: 1, guides }
    }
}

#[derive(Debug, Serialize)]
struct FindingReport {
    code: &'static str,
    severity: &'static str,
    file: String,
    line: usize,
    column: usize,
    step: Option<String>,
    condition: Option<String>,
    message: String,
    help: Option<String>,
    walk: Option<Vec<String>>,
    #[serde(rename = "used-at")]
    used_at: Option<Vec<PlaceReport>>,
}

#[derive(Debug, Serialize)]
struct PlaceReport {
    file: String,
    line: usize,
    column: usize,
}

impl PlaceReport {
    fn of(place: &Place) -> PlaceReport {
        let (line, column) = place.line_column();
        PlaceReport { file: plain(place.source.name()), line, column }
    }
}

impl FindingReport {
    fn of(finding: &Finding) -> FindingReport {
        let place = PlaceReport::of(&finding.place);
        FindingReport {
            code: finding.code.as_str(),
            severity: finding.severity().as_str(),
            file: place.file,
            line: place.line,
            column: place.column,
            step: finding.step.as_deref().map(plain),
            condition: finding.condition.as_deref().map(plain),
            message: plain(&finding.message),
            help: finding.help.as_deref().map(plain),
            walk: finding.walk.as_ref().map(|walk| walk.iter().map(|id| plain(id)).collect()),
            used_at: (!finding.used_at.is_empty()).then(|| finding.used_at.iter().map(PlaceReport::of).collect()),
        }
    }
}

/// JSON escapes the control characters of ASCII and no others.
fn plain(text: &str) -> String {
    clean(text).into_owned()
}

//! What a rehearsal came to, for other programs.

use serde::Serialize;

use super::Rehearsed;
use crate::finding::plain_text::clean_line;
use crate::guide::WayIdx;
use crate::walk::rehearse::{Move, Said, branch_said};

/// The report, version 1.
#[derive(Debug, Serialize)]
pub(super) struct Report {
    stepjig: u32,
    guide: String,
    walks: Walks,
    rehearsals: Vec<Written>,
    coverage: Covered,
}

#[derive(Debug, Serialize)]
struct Walks {
    number: usize,
    bound: usize,
    smallest: bool,
    apart: Vec<BranchReport>,
    sheets: Vec<Walk>,
}

#[derive(Debug, Serialize)]
struct Walk {
    end: String,
    stuck: Option<BranchReport>,
    moves: Vec<MoveReport>,
}

#[derive(Debug, Serialize)]
struct MoveReport {
    step: String,
    said: String,
    to: String,
    #[serde(rename = "picked-up")]
    picked_up: bool,
}

#[derive(Debug, Serialize)]
struct Written {
    title: String,
    line: usize,
    holds: bool,
    step: String,
    expected: String,
    came: String,
}

#[derive(Debug, Serialize)]
struct Covered {
    branches: usize,
    taken: usize,
    open: Vec<BranchReport>,
}

#[derive(Debug, Serialize)]
struct BranchReport {
    step: String,
    way: String,
}

impl Report {
    pub(super) fn new(rehearsed: &Rehearsed<'_>) -> Report {
        let Rehearsed { guide, cover, walks, written, coverage, .. } = rehearsed;
        let branch = |way: WayIdx| {
            let (step, way) = rehearsed.branch(way);
            BranchReport { step, way }
        };
        let move_report = |said: &Move| MoveReport {
            step: rehearsed.id(said.step),
            said: clean_line(&word(rehearsed, &said.said)),
            to: rehearsed.id(said.to),
            picked_up: said.picked_up,
        };
        let sheets = walks.iter().map(|walk| Walk {
            end: rehearsed.id(walk.at),
            stuck: walk.stuck.map(branch),
            moves: walk.moves.iter().map(move_report).collect(),
        });
        let rehearsals = guide.rehearsals().iter().zip(written).map(|(rehearsal, outcome)| Written {
            title: clean_line(&rehearsal.title),
            line: rehearsal.place.line_column().0,
            holds: outcome.holds,
            step: rehearsed.id(outcome.at),
            expected: outcome.expected.clone(),
            came: outcome.came.clone(),
        });
        Report {
            stepjig: 1,
            guide: clean_line(guide.id()),
            walks: Walks {
                number: cover.routes.len(),
                bound: cover.bound(),
                smallest: cover.is_smallest(),
                apart: cover.witness.iter().map(|way| branch(*way)).collect(),
                sheets: sheets.collect(),
            },
            rehearsals: rehearsals.collect(),
            coverage: Covered {
                branches: coverage.all,
                taken: coverage.all - coverage.open.len(),
                open: coverage.open.iter().map(|open| branch(open.way)).collect(),
            },
        }
    }
}

/// Returns what was said as it would be written in a rehearsal.
fn word(rehearsed: &Rehearsed<'_>, said: &Said) -> String {
    let names = |word: &str, conditions: &[crate::guide::Condition]| {
        let names = conditions.iter().map(|condition| rehearsed.guide.name(*condition));
        std::iter::once(word).chain(names).collect::<Vec<_>>().join(" ")
    };
    match said {
        Said::Left { reading: Some(reading), .. } => reading.clone(),
        Said::Left { label, .. } => branch_said(label),
        Said::Yes => "yes".to_owned(),
        Said::No(conditions) => names("no", conditions),
        Said::Sign { ready: true, .. } => "ready".to_owned(),
        Said::Sign { ready: false, .. } => "not ready".to_owned(),
        Said::Values(values) => {
            values.iter().map(|(name, value)| format!("{name}={value}")).collect::<Vec<_>>().join(" ")
        }
        Said::Again => "again".to_owned(),
        Said::Trouble(lost) => names("trouble", lost),
    }
}

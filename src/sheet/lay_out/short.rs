//! The short form: on one page only what must not be got wrong, for those who know the rest.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::numbers::Numbered;
use super::points::{Asked, Point, What, points};
use super::{fits_a_page, headed};
use crate::finding::sentence::ended;
use crate::guide::Guide;
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};
use crate::sheet::plain::Plain;

/// How much is said.
#[derive(Debug, Clone)]
struct Fullness<'p> {
    /// Whether steps are told in the guide's words, and not by their names; whether questions are asked.
    words: bool,
    /// Whether readings and waits are told that are met only where something is amiss.
    asides: bool,
    /// What a hold asks is told in words: all of it, or these; the rest by the number of the step that gives it.
    holds: Option<BTreeSet<&'p str>>,
}

/// Returns a guide's short form.
///
/// Of the checklist's steps it has those that cannot be taken back, with what their hold asks, the readings with their
/// limits, the waits, and the questions on which the path turns, by the numbers of the checklist. The same step of a
/// procedure that is run for each piece is told once. The fullest form that fits on a page is taken: what gives way
/// first are the guide's own words, then what is met only where something is amiss, then what a hold asks: what was
/// done long ago is told in words as long as there is room. Where nothing fits, the sheet says that it has two pages.
pub fn short(guide: &Guide, stamp: &Stamp) -> Sheet {
    let points = points(&Numbered::new(guide));
    let full = Fullness { words: true, asides: true, holds: None };
    let by_name = Fullness { words: false, ..full.clone() };
    let without_asides = Fullness { asides: false, ..by_name.clone() };
    for fullness in [full, by_name, without_asides.clone()] {
        let sheet = laid_out(guide, &points, &fullness, stamp);
        if fits_a_page(&sheet) {
            return sheet;
        }
    }
    let mut fullness = Fullness { holds: Some(BTreeSet::new()), ..without_asides };
    let mut sheet = laid_out(guide, &points, &fullness, stamp);
    if !fits_a_page(&sheet) {
        sheet.name = Plain::new(&format!("{} · two pages", sheet.name));
        return sheet;
    }
    let holds = points.iter().filter_map(|point| match &point.what {
        What::OneWay { hold } => Some(hold),
        _ => None,
    });
    // Of each hold first what was done longest ago; what an earlier hold asks already is told by its number there.
    let mut known = BTreeSet::new();
    let ranked = holds.flat_map(|hold| {
        let mut asked: Vec<&Asked> = hold.iter().filter(|asked| known.insert(&*asked.words)).collect();
        asked.sort_by_key(|asked| Reverse(asked.ago));
        asked.into_iter().enumerate()
    });
    let mut ranked: Vec<(usize, &Asked)> = ranked.collect();
    // Short ones leave room for others, so that as many holds as may be have one in words.
    ranked.sort_by_key(|(rank, asked)| (*rank, asked.words.chars().count()));
    for (_, asked) in ranked {
        let mut holds = fullness.holds.clone().unwrap_or_default();
        holds.insert(&asked.words);
        let fuller = Fullness { holds: Some(holds), ..fullness.clone() };
        let laid = laid_out(guide, &points, &fuller, stamp);
        if fits_a_page(&laid) {
            (sheet, fullness) = (laid, fuller);
        }
    }
    sheet
}

fn laid_out(guide: &Guide, points: &[Point], fullness: &Fullness<'_>, stamp: &Stamp) -> Sheet {
    let mut sheet = headed(guide, "Short form", stamp);
    sheet.name = Plain::new(&format!("{} · {}", sheet.name, sheet.stamp));
    (sheet.stamp, sheet.close, sheet.end) = (
        Plain::default(),
        true,
        Plain::new(
            "End of the short form. Numbers are the checklist's; what is met only where something is amiss is there.",
        ),
    );
    let is_told = |point: &&Point| match point.what {
        What::OneWay { .. } => true,
        What::Question => fullness.words,
        What::Reading { .. } | What::Wait => fullness.asides || point.is_met,
    };
    let (mut blocks, mut stage, mut said) = (Vec::new(), "", BTreeSet::new());
    let shown: Vec<&Point> = points.iter().filter(is_told).collect();
    for together in shown.chunk_by(|a, b| ![a, b].iter().any(|point| matches!(point.what, What::OneWay { .. }))) {
        let mut line = Line { role: Role::Action, tick: false, runs: Vec::new() };
        for point in together {
            if !line.runs.is_empty() {
                line = line.and("·");
            }
            let begins = (point.stage != stage).then_some(&*point.stage);
            if let Some(begun) = begins {
                stage = begun;
                line = line.with(Run::Strong(Plain::new(&format!("{stage}:"))));
            }
            line = told(line, (point, begins), fullness, &mut said);
        }
        blocks.push(Block::new(BlockKind::Item, vec![line]));
    }
    if !fullness.words {
        let questions = points.iter().filter(|point| point.what == What::Question && point.is_met);
        let steps: BTreeSet<usize> = questions.flat_map(|point| point.steps.iter().copied()).collect();
        let steps: Vec<String> = steps.iter().map(usize::to_string).collect();
        let line = Line::new(Role::Note, &format!("Questions on which the path turns: {}.", steps.join(", ")));
        blocks.extend((!steps.is_empty()).then(|| Block::new(BlockKind::Item, vec![line])));
    }
    sheet.sections = vec![Section { title: Plain::default(), blocks, end: Plain::default() }];
    sheet
}

/// Adds a point to a line, with the stage that begins with it; `said` is what was asked above.
fn told<'p>(
    line: Line,
    (point, stage): (&'p Point, Option<&str>),
    fullness: &Fullness<'_>,
    said: &mut BTreeSet<&'p str>,
) -> Line {
    let words = if fullness.words { &point.words } else { &point.name };
    let ticked = |line: Line| point.steps.iter().fold(line, |line, step| line.with(Run::Tick(*step)));
    match &point.what {
        What::OneWay { hold } => {
            let in_words = |asked: &Asked| fullness.holds.as_ref().is_none_or(|holds| holds.contains(&*asked.words));
            let mut asked = |asked: &'p Asked| match &asked.giver {
                // What was asked above is told by its step.
                Some(giver) if !in_words(asked) || !said.insert(&asked.words) => giver.clone(),
                _ => asked.words.clone(),
            };
            let asked: Vec<String> = hold.iter().map(&mut asked).collect();
            // The stage may have said it.
            let is_said = stage.is_some_and(|stage| {
                let stage = stage.to_lowercase();
                words.split(' ').all(|word| stage.contains(word))
            });
            let line = ticked(line);
            let line = if is_said { line } else { line.and(&ended(words)) };
            line.with(Run::Strong(Plain::new("Hold:"))).and(&format!("{}.", asked.join("; ")))
        }
        What::Reading { limits } => {
            let read = |line: Line, step: &usize| line.with(Run::Tick(*step)).with(Run::Blank);
            let line = point.steps.iter().fold(line.and(&format!("{words}:")), read);
            line.and(limits)
        }
        What::Wait => {
            let times =
                |line: Line, step: &usize| line.with(Run::Tick(*step)).with(Run::Blank).and("to").with(Run::Blank);
            point.steps.iter().fold(line.and(&format!("{words}:")), times)
        }
        What::Question => ticked(line).and(words),
    }
}

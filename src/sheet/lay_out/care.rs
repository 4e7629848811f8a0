//! The owner's care card: what to do with the pen, in words that need no shop.

use std::collections::BTreeSet;

use super::numbers::{Numbered, minutes};
use super::{headed, section};
use crate::finding::sentence::{ended, small};
use crate::guide::{Guide, Kind, Label, StepIdx};
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};
use crate::sheet::plain::Plain;

/// Returns the care card of a guide's pen; none where the guide does not say what its owner does.
///
/// Each step of the owner's procedure is a line, in the order of its path; of a question the answers are told, each
/// with the steps that are its own: "If …, …". Where an answer only goes on, it is not told.
pub fn care(guide: &Guide, stamp: &Stamp) -> Option<Sheet> {
    let care = guide.care()?;
    let mut sheet = headed(guide, "Care card", stamp);
    if let Some((_, run)) = care.steps().find(|(_, step)| step.kind == Kind::Run) {
        sheet.title = Plain::new(&run.text);
    }
    let whose = ["Wood", "Nib or refill", "Made by", "On"];
    let whose = whose
        .into_iter()
        .fold(Line { role: Role::Fill, tick: false, runs: Vec::new() }, |line, word| line.and(word).with(Run::Blank));
    (sheet.head, sheet.close) = (vec![whose], true);
    sheet.end = Plain::new("If it will not write after all this, ask whoever made it.");
    let numbered = Numbered::new(care);
    let branches: Vec<(StepIdx, Vec<Branch>)> =
        care.steps().filter(|(_, step)| step.kind == Kind::Ask).map(|(idx, _)| (idx, answers(care, idx))).collect();
    let apart: BTreeSet<StepIdx> =
        branches.iter().flat_map(|(_, answers)| answers.iter().flat_map(|(_, steps)| steps)).copied().collect();
    for (idx, step) in care.steps() {
        if matches!(step.kind, Kind::Run | Kind::Return { .. } | Kind::End(_)) || apart.contains(&idx) {
            continue;
        }
        let stage = step.stage.as_deref().unwrap_or("Its care");
        let section = match sheet.sections.last_mut() {
            Some(last) if last.title.as_str() == Plain::new(stage).as_str() => last,
            _ => {
                sheet.sections.push(Section { end: Plain::default(), ..section(stage) });
                let last = sheet.sections.len() - 1;
                &mut sheet.sections[last]
            }
        };
        let answers = branches.iter().find(|(ask, _)| *ask == idx).map(|(_, answers)| answers);
        match answers {
            Some(answers) => {
                for (answer, steps) in answers.iter().filter(|(_, steps)| !steps.is_empty()) {
                    let done: Vec<String> = steps.iter().map(|step| said(&numbered, *step)).collect();
                    let mut lines: Vec<Line> = steps.iter().flat_map(|step| hazards(&numbered, *step)).collect();
                    lines.push(Line::new(Role::Note, &format!("If {answer}, {}", small(&done.join(" ")))));
                    section.blocks.push(Block::new(BlockKind::Item, lines));
                }
            }
            None => {
                let mut lines = hazards(&numbered, idx);
                lines.push(Line::new(Role::Note, &said(&numbered, idx)));
                section.blocks.push(Block::new(BlockKind::Item, lines));
            }
        }
    }
    Some(sheet)
}

/// An answer, and the steps that it leads to.
type Branch = (String, Vec<StepIdx>);

/// Returns what an owner reads of a step.
fn said(care: &Numbered, idx: StepIdx) -> String {
    let step = care.guide.step(idx);
    let text = match &step.kind {
        Kind::Wait(pause) => {
            format!("Wait {}, until {}", minutes(pause.minutes), care.say(&pause.ready, 0))
        }
        _ => care.say(&step.text, 0),
    };
    let tell = step.tell.iter().map(|tell| ended(&care.say(tell, 0)));
    std::iter::once(ended(&text)).chain(tell).collect::<Vec<_>>().join(" ")
}

fn hazards(care: &Numbered, idx: StepIdx) -> Vec<Line> {
    let said = |caution: &crate::guide::document::Caution| {
        let word = Run::Strong(Plain::new(caution.level.signal_word()));
        let line = Line { role: Role::Hazard, tick: false, runs: vec![word] };
        let say = |text: &str| ended(&care.say(text, 0));
        line.and(&say(&caution.hazard.value)).and(&say(&caution.avoid.value))
    };
    care.guide.step(idx).cautions.iter().map(said).collect()
}

/// Returns the answers to a question, each with the steps that no other answer leads to.
fn answers(care: &Guide, ask: StepIdx) -> Vec<Branch> {
    let ways = care.ways_out(ask).iter().filter_map(|way| match (&way.label, way.to) {
        // An answer that asks again says nothing.
        (Label::Answer(say), Some(to)) if to > ask => Some((say.clone(), care.path_from(to).collect())),
        _ => None,
    });
    let ways: Vec<Branch> = ways.collect();
    let own = |n: usize| -> Vec<StepIdx> {
        let others = |idx: &StepIdx| ways.iter().enumerate().any(|(m, (_, path))| m != n && path.contains(idx));
        let is_told = |idx: &StepIdx| matches!(care.step(*idx).kind, Kind::Do { .. } | Kind::Wait(_));
        ways[n].1.iter().take_while(|idx| **idx != ask && is_told(idx) && !others(idx)).copied().collect()
    };
    (0..ways.len()).map(|n| (ways[n].0.clone(), own(n))).collect()
}

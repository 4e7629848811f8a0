//! The whole checklist: every step once, by stages, each procedure's steps under its heading.

use super::numbers::Numbered;
use super::{headed, section, step, using};
use crate::guide::{Guide, Kind, StepIdx};
use crate::reckon::Data;
use crate::sheet::model::{Block, BlockKind, Line, Role, Section, Sheet, Stamp};

/// Returns a guide's checklist.
///
/// Steps are numbered in the order of the file; where a procedure begins is a heading and where it returns an end
/// mark. A jump names the step that it leads to, loops back and ways out of trouble too. The guide's numbers are put
/// in; one that is read in the work is told by the step that reads it. A sum is told as it is done with a pencil, with
/// the thresholds of `data`.
pub fn checklist(guide: &Guide, data: &Data, stamp: &Stamp) -> Sheet {
    let mut sheet = headed(guide, "Checklist", stamp);
    let when = [("Use it when:", guide.use_when()), ("Do not use it when:", guide.not_when())];
    let when = when.into_iter().filter_map(|(word, text)| Some(Line::new(Role::Note, &format!("{word} {}", text?))));
    sheet.head.extend(when);
    let steps = sections(&Numbered::new(guide).with_data(data));
    sheet.sections = std::iter::once(using::how(guide)).chain(steps).chain([using::signed(guide)]).collect();
    sheet
}

/// Returns every step of a guide once, by stages, each procedure's steps under its heading.
pub(super) fn sections(numbered: &Numbered<'_>) -> Vec<Section> {
    let guide = numbered.guide;
    let mut sections = Sections { done: Vec::new(), stages: Vec::new() };
    // A heading waits for its first step, which may open a stage of its own.
    let mut headings: Vec<StepIdx> = Vec::new();
    for (idx, step) in guide.steps() {
        match (&step.kind, numbered.number(idx)) {
            (Kind::Run, _) => headings.push(idx),
            (_, Some(number)) => {
                let blocks = sections.of_stage(super::stage_of(step));
                for run in headings.drain(..) {
                    let lines = step::heading(numbered, run, number);
                    blocks.push(Block::new(BlockKind::Heading, lines));
                }
                let lines = step::lines(numbered, idx, number);
                blocks.push(Block { figure: step::figure(step), ..Block::new(BlockKind::Step(number), lines) });
            }
            (Kind::Return { run }, None) => {
                // A procedure that only returns has nothing to head.
                if headings.last() == Some(run) {
                    headings.pop();
                    continue;
                }
                let title = numbered.say(&guide.step(*run).text, 0);
                let lines = vec![Line::new(Role::Note, &format!("End of: {title}"))];
                sections.last().push(Block::new(BlockKind::EndMark, lines));
            }
            (_, None) => {}
        }
    }
    sections.done
}

/// Sections that are being filled.
struct Sections {
    done: Vec<Section>,
    stages: Vec<String>,
}

impl Sections {
    /// Returns the blocks of the stage; one that comes again after another is continued.
    fn of_stage(&mut self, stage: &str) -> &mut Vec<Block> {
        if self.stages.last().is_none_or(|last| last != stage) {
            let again = self.stages.iter().any(|known| known == stage);
            self.done.push(section(&if again { crate::sheet::model::continued(stage) } else { stage.to_owned() }));
            self.stages.push(stage.to_owned());
        }
        self.last()
    }

    fn last(&mut self) -> &mut Vec<Block> {
        if self.done.is_empty() {
            self.done.push(section(super::FIRST));
            self.stages.push(super::FIRST.to_owned());
        }
        let last = self.done.len() - 1;
        &mut self.done[last].blocks
    }
}

//! How remedies are done: the steps of each procedure once, with numbers of their own on the sheet.

use super::Fault;
use crate::finding::sentence::{capital, small};
use crate::guide::{FIXED, Guide, Kind, StepIdx};
use crate::sheet::lay_out::checklist;
use crate::sheet::lay_out::numbers::Numbered;
use crate::sheet::model::{Block, BlockKind, Line, Role, Section};
use crate::sheet::plain::Plain;

/// The steps of the remedies of some tables, those that are the same once.
pub(super) struct Doings<'f> {
    done: Vec<Doing<'f>>,
}

struct Doing<'f> {
    title: String,
    guide: &'f Guide,
    /// What its steps say: two remedies that say the same are one.
    says: Vec<(&'f str, &'f str)>,
    /// The number of its first step, and of the end where it is put right.
    numbers: (usize, usize),
}

impl<'f> Doings<'f> {
    /// Numbers the steps of all remedies from `first` on.
    pub(super) fn new(faults: &'f [Fault], mut first: usize) -> Doings<'f> {
        let mut doings = Doings { done: Vec::new() };
        for fault in faults {
            for (remedy, guide) in fault.table.words.remedies.iter().zip(&fault.remedies) {
                let Some(guide) = guide else { continue };
                let says = says(guide);
                if doings.done.iter().any(|known| known.says == says) {
                    continue;
                }
                let n = guide.steps().filter(|(_, step)| step.has_number()).count();
                let numbers = (first, first + n - 1);
                doings.done.push(Doing { title: capital(remedy.called()), guide, says, numbers });
                first += n;
            }
        }
        doings
    }

    /// Returns the first and the last number of a remedy's steps.
    pub(super) fn steps(&self, fault: &Fault, remedy: usize) -> Option<(usize, usize)> {
        let says = says(fault.remedies.get(remedy)?.as_ref()?);
        self.done.iter().find(|known| known.says == says).map(|known| known.numbers)
    }

    /// Returns a section for each remedy.
    pub(super) fn sections(&self) -> Vec<Section> {
        self.done.iter().map(Doing::section).collect()
    }
}

impl Doing<'_> {
    fn section(&self) -> Section {
        let numbered = Numbered::from(self.guide, self.numbers.0);
        let stages = checklist::sections(&numbered);
        let blocks = stages.into_iter().flat_map(|stage| stage.blocks).map(|block| self.with_its_end(block, &numbered));
        let title = Plain::new(&format!("How: {}", small(&self.title)));
        Section { title, blocks: blocks.collect(), end: Plain::new(&format!("End of: {}", small(&self.title))) }
    }

    /// Says of the remedy's ends what they mean where it was begun.
    fn with_its_end(&self, block: Block, numbered: &Numbered<'_>) -> Block {
        let at = |idx: &StepIdx| numbered.number(*idx).is_some_and(|number| block.kind == BlockKind::Step(number));
        let Some(step) = self.guide.steps().map(|(idx, _)| idx).find(at).map(|idx| self.guide.step(idx)) else {
            return block;
        };
        let said = match &step.kind {
            Kind::End(_) if &*step.id == FIXED => {
                "It is put right. Where the work goes on stands with the remedy; else it is where all holds that the checklist needs."
            }
            Kind::End(crate::guide::EndKind::NotFixed) => {
                "It is not put right. Back to the row that sent you here, and on from there."
            }
            _ => return block,
        };
        Block::new(block.kind, vec![Line::new(Role::Action, said).ticked()])
    }
}

/// Returns what the steps of a remedy are and say; its first step has the name that the table gives it.
fn says(guide: &Guide) -> Vec<(&str, &str)> {
    let tail = |id: &'_ str| id.find('/').map_or(0, |at| at + 1);
    let numbered = guide.steps().filter(|(_, step)| step.has_number());
    numbered.map(|(_, step)| (&step.id[tail(&step.id)..], &*step.text)).collect()
}

//! The walks that take every way of a guide, for going through it at a table before anybody works by it.

use std::collections::HashMap;

use super::numbers::Numbered;
use super::step::limit_with;
use super::{headed, section};
use crate::guide::{EndKind, Guide, Kind, Label, StepIdx};
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};
use crate::walk::rehearse::{Move, Played, Said};

/// Returns the sheets of walks that were played, one after another.
///
/// Each thing that is decided has a line of its own: its step of the checklist, what is said there, where that leads,
/// and room to write down what was found wrong with it. What is simply done between them is summed up. The walk that a
/// line belongs to stands over it; the lines are numbered through all walks.
pub fn rehearsal(guide: &Guide, walks: &[Played], stamp: &Stamp) -> Sheet {
    let mut sheet = headed(guide, "Rehearsal", stamp);
    let head = [
        "One reads the checklist aloud, step by step, with the kit's parts and no glue on the table; one gives the answers of this sheet.",
        "Write down where a word was not clear, where a hand would have been missing, where the guide led somewhere else. Step numbers are those of the checklist.",
    ];
    sheet.head = head.map(|text| Line::new(Role::Note, text)).into();
    let numbered = Numbered::new(guide);
    let mut n_lines = 0;
    for (n, walk) in walks.iter().enumerate() {
        let mut told = Told { guide, numbered: &numbered, n_lines, blocks: Vec::new(), plain: Vec::new() };
        let by = Line::new(Role::Fill, "Walked by").with(Run::Blank).and("on").with(Run::Blank);
        told.blocks.push(Block::new(BlockKind::Item, vec![by]));
        told.walk(walk);
        n_lines = told.n_lines;
        let title = format!("Walk {} of {}, to {}", n + 1, walks.len(), end_of(guide, walk));
        sheet.sections.push(Section { blocks: told.blocks, ..section(&title) });
    }
    sheet
}

fn end_of(guide: &Guide, walk: &Played) -> &'static str {
    match guide.step(walk.at).kind {
        Kind::End(EndKind::Finished) => "a finished pen",
        Kind::End(EndKind::Scrap) => "a lost blank",
        Kind::End(EndKind::NotFixed) => "what is not put right",
        _ => "where it cannot go on",
    }
}

/// A walk that is being told.
struct Told<'t, 'g> {
    guide: &'g Guide,
    numbered: &'t Numbered<'g>,
    n_lines: usize,
    blocks: Vec<Block>,
    /// What was simply done since the last line: the steps' numbers, and whether each had a hold.
    plain: Vec<(usize, bool)>,
}

impl Told<'_, '_> {
    fn walk(&mut self, walk: &Played) {
        let mut times: HashMap<StepIdx, usize> = HashMap::new();
        for said in &walk.moves {
            let number = self.number(said.step);
            if matches!(said.said, Said::Yes) {
                continue;
            }
            let times = times.entry(said.step).or_default();
            *times += usize::from(!matches!(said.said, Said::Sign { .. } | Said::Values(_)));
            if self.is_decided(said) {
                self.sum_up();
                self.decided(said, number, *times);
            } else {
                self.plain.push((number, self.guide.step(said.step).one_way));
            }
        }
        self.sum_up();
        let number = self.number(walk.at);
        let line = match (walk.stuck, matches!(self.guide.step(walk.at).kind, Kind::End(_))) {
            (None, true) => format!("The walk ends at step\u{a0}{number}: {}", self.numbered.title(walk.at, number)),
            _ => format!("Step\u{a0}{number} takes no such answer as it stands: this walk cannot be gone to its end."),
        };
        self.blocks.push(Block::new(BlockKind::Item, vec![Line::new(Role::Note, &line)]));
    }

    fn number(&self, idx: StepIdx) -> usize {
        self.numbered.number(idx).or_else(|| self.numbered.lands(idx)).unwrap_or(0)
    }

    /// Tells whether something is decided: a step that has other ways, or anything that is amiss.
    fn is_decided(&self, said: &Move) -> bool {
        match &said.said {
            Said::Left { .. } => said.picked_up || self.guide.ways_out(said.step).len() > 1,
            Said::Yes => false,
            Said::Sign { ready, .. } => !ready || said.picked_up,
            Said::No(_) | Said::Values(_) | Said::Again | Said::Trouble(_) => true,
        }
    }

    fn decided(&mut self, said: &Move, number: usize, times: usize) {
        self.n_lines += 1;
        let again = match times {
            0 | 1 => String::new(),
            2 => " (2nd time in this walk)".to_owned(),
            3 => " (3rd time in this walk)".to_owned(),
            n => format!(" ({n}th time in this walk)"),
        };
        let title = self.numbered.title(said.step, number);
        let leads = match (said.picked_up, self.number(said.to)) {
            (true, to) if to == number => format!("it is put right, and step\u{a0}{to} is asked again."),
            (true, to) => format!("it is put right, and the work is picked up again at step\u{a0}{to}."),
            (false, to) if to == number => format!("then step\u{a0}{to} again."),
            (false, to) if to < number => format!("then back to step\u{a0}{to}."),
            (false, to) => format!("then step\u{a0}{to}."),
        };
        let lines = vec![
            Line::new(Role::Action, &format!("Step\u{a0}{number}{again}: {title}")).ticked(),
            Line::new(Role::Way, &format!("{}; {leads}", self.said(said))),
            Line::new(Role::Fill, "Found").with(Run::Blank),
        ];
        self.blocks.push(Block::new(BlockKind::Step(self.n_lines), lines));
    }

    /// Returns what is to be said, as an order.
    fn said(&self, said: &Move) -> String {
        let names = |conditions: &[crate::guide::Condition]| {
            let said: Vec<String> = conditions.iter().map(|condition| self.guide.said(*condition)).collect();
            said.join("; ")
        };
        match &said.said {
            Said::Left { label, reading, trouble } => {
                let answer = self.answer(said.step, label, reading.as_deref());
                match trouble {
                    Some(trouble) => format!("{answer}. That is trouble, `stepjig trouble {}`", trouble.table),
                    None => answer,
                }
            }
            Said::Yes => "Say that all of it is true".to_owned(),
            Said::No(conditions) => format!("Say that this is not true: {}", names(conditions)),
            Said::Sign { ready: true, .. } => "Say that the wait is over".to_owned(),
            Said::Sign { ready: false, .. } => "Say that the wait is not over".to_owned(),
            Said::Values(values) => {
                let values: Vec<String> = values.iter().map(|(name, value)| format!("{name} {value}")).collect();
                format!("Give the sum {}", values.join(", "))
            }
            Said::Again => "Say that what was passed over, being done already, is done once more".to_owned(),
            Said::Trouble(lost) if lost.is_empty() => "Call trouble; nothing is lost by it".to_owned(),
            Said::Trouble(lost) => format!("Call trouble; no longer true: {}", names(lost)),
        }
    }

    fn answer(&self, step: StepIdx, label: &Label, reading: Option<&str>) -> String {
        let number = self.number(step);
        let beyond = |word: &str| {
            let limit = limit_with(self.guide.step(step), label, |limit| self.numbered.say_short(limit, number));
            limit.map_or_else(String::new, |limit| format!(", {word} {limit}"))
        };
        match (label, reading) {
            (Label::Within, Some(reading)) => format!("Read {reading}, which is good"),
            (Label::Under, Some(reading)) => format!("Read {reading}{}", beyond("under")),
            (Label::Over, Some(reading)) => format!("Read {reading}{}", beyond("over")),
            (Label::Answer(say), _) => format!("Say “{}”", self.numbered.say_short(say, number)),
            (Label::Ready, _) => "Say that the wait is over".to_owned(),
            (Label::NotReady, _) => "Say that the wait is not over, the longest time gone by".to_owned(),
            (Label::Verdict(verdict), _) => format!("Say that it comes to “{}”", verdict.replace('-', " ")),
            (Label::Skip, _) => "Leave it out".to_owned(),
            (Label::Then, _) if matches!(self.guide.step(step).kind, Kind::Reckon { .. }) => {
                "Say that it comes to nothing amiss".to_owned()
            }
            _ => "Do it".to_owned(),
        }
    }

    /// Tells in a line what was simply done since the last one.
    fn sum_up(&mut self) {
        let steps = std::mem::take(&mut self.plain);
        if steps.is_empty() {
            return;
        }
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for (number, _) in &steps {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == *number || *last == *number => *last = *number,
                _ => runs.push((*number, *number)),
            }
        }
        let said = |(first, last): &(usize, usize)| match last - first {
            0 => first.to_string(),
            _ => format!("{first} to {last}"),
        };
        let runs: Vec<String> = runs.iter().map(said).collect();
        let holds = steps.iter().filter(|(_, has_hold)| *has_hold).count();
        let with = match holds {
            0 => String::new(),
            1 => "; one has a hold, all of it true".to_owned(),
            n => format!("; {n} have a hold, all of it true"),
        };
        let word = if steps.len() == 1 { "Step" } else { "Steps" };
        let line = Line::new(Role::Note, &format!("{word} {}: done as they stand{with}.", runs.join(", ")));
        self.blocks.push(Block::new(BlockKind::Item, vec![line]));
    }
}

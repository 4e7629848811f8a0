//! One fault table: its questions with where their answers lead, its remedies, beginning again, laying aside.

use std::collections::{BTreeMap, BTreeSet};

use super::Fault;
use super::doing::Doings;
use super::rows::{Leads, Row, likeliest, numbered, rows};
use crate::finding::sentence::{capital, ended};
use crate::guide::document::Caution;
use crate::guide::fault_table::RawStartOver;
use crate::sheet::lay_out::section;
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section};
use crate::sheet::plain::Plain;
use crate::trouble::consult::in_100;
use crate::trouble::plan::{Next, Policy};
use crate::trouble::problem::Effect;
use crate::walk::{minutes_said, work_said};

/// A table with the rows of its policy.
pub(super) struct Page<'f> {
    fault: &'f Fault,
    rows: Vec<Row>,
    /// The rows that have a number.
    asked: BTreeSet<usize>,
    /// The remedies that some row leads to.
    remedies: Vec<usize>,
    /// Where the work goes on, by remedy.
    goes_on: Option<&'f [String]>,
    /// The number of its first row.
    first: usize,
    is_alone: bool,
}

/// The numbers of a page's rows.
struct Numbers {
    /// The rows on the page, and those after it.
    rows: BTreeMap<usize, usize>,
    remedies: BTreeMap<usize, usize>,
    new_blank: usize,
}

impl<'f> Page<'f> {
    pub(super) fn new(
        fault: &'f Fault,
        policy: Option<&Policy>,
        goes_on: Option<&'f [String]>,
        first: usize,
        is_alone: bool,
    ) -> Page<'f> {
        let rows = policy.map_or(Vec::new(), rows);
        let asked = numbered(&rows, |action| fault.table.remedy(action).is_some());
        let is_done = |action: &usize| rows.iter().any(|row| row.next == Next::Do(*action));
        let actions = 0..fault.table.problem.actions().len();
        let remedies = actions.filter(|action| fault.table.remedy(*action).is_some()).filter(is_done).collect();
        Page { fault, rows, asked, remedies, goes_on, first, is_alone }
    }

    /// Returns how many rows have a number.
    pub(super) fn n_rows(&self) -> usize {
        self.asked.len()
    }

    /// Returns how many numbers it takes: its rows, its remedies, and beginning again.
    pub(super) fn n_numbers(&self) -> usize {
        self.asked.len() + self.remedies.len() + 1
    }

    /// Returns the page with so many rows on it, and the rest of its rows after it.
    pub(super) fn sections(&self, room: usize, doings: &Doings<'_>) -> Vec<Section> {
        let shown = likeliest(&self.rows, &self.asked, room);
        let rest: BTreeSet<usize> = self.asked.difference(&shown).copied().collect();
        let mut next = self.first..;
        let mut rows: BTreeMap<usize, usize> = shown.iter().copied().zip(&mut next).collect();
        let remedies = self.remedies.iter().copied().zip(&mut next).collect();
        let new_blank = next.next().unwrap_or_default();
        rows.extend(rest.iter().copied().zip(&mut next));
        let numbers = Numbers { rows, remedies, new_blank };
        // The sheet of one table has its title already.
        let named = format!("{} ({})", self.fault.table.title, self.fault.table.id);
        let title = if self.is_alone { "" } else { &named };
        let mut sections = vec![self.page(title, &shown, &numbers, doings)];
        if !rest.is_empty() {
            let title = if self.is_alone { "Further questions" } else { &format!("{title}: further questions") };
            let blocks = self.asks(&rest, &numbers);
            sections.push(Section { title: Plain::new(title), blocks, end: Plain::default() });
        }
        sections
    }

    fn page(&self, title: &str, shown: &BTreeSet<usize>, numbers: &Numbers, doings: &Doings<'_>) -> Section {
        let words = &self.fault.table.words;
        let mut section = section(title);
        section.end = Plain::default();
        let item = |line: Line| Block::new(BlockKind::Item, vec![line]);
        for first in &words.first {
            section.blocks.push(item(Line::new(Role::Need, &ended(&first.value)).ticked()));
        }
        section.blocks.extend(self.asks(shown, numbers));
        for (action, number) in &numbers.remedies {
            section.blocks.push(Block::new(BlockKind::Step(*number), self.remedy(*action, doings)));
        }
        section.blocks.extend(self.same_for_all().map(|said| item(put_right(said))));
        section.blocks.push(Block::new(BlockKind::Step(numbers.new_blank), self.again()));
        let aside = words.lay_aside.as_ref().map_or("nothing more today.", |aside| &aside.value);
        section.blocks.push(item(Line::new(Role::Note, &format!("Or lay it aside: {}", ended(aside)))));
        if self.rows.is_empty() {
            let said = format!("The table is too large for paper: ask `stepjig trouble {}`.", self.fault.table.id);
            section.blocks.push(item(Line::new(Role::Note, &said)));
        }
        section
    }

    /// Returns rows in the order of their numbers; a caution stands in full where its question comes first.
    fn asks(&self, shown: &BTreeSet<usize>, numbers: &Numbers) -> Vec<Block> {
        let mut told = BTreeSet::new();
        let block = |place: &usize| {
            let row = &self.rows[*place];
            let lines = match row.next {
                Next::Do(action) => match self.fault.table.check(action) {
                    Some(check) => {
                        let mut lines = cautions(&check.cautions, !told.insert(action));
                        lines.push(Line::new(Role::Action, &check.text.value));
                        lines.extend(self.answers(row, action, numbers));
                        lines
                    }
                    None => vec![self.leads(Line::new(Role::Action, ""), Leads::Row(*place), numbers, true)],
                },
                _ => vec![self.stopped(row)],
            };
            Block::new(BlockKind::Step(numbers.rows[place]), lines)
        };
        shown.iter().map(block).collect()
    }

    /// Returns where the answers to a question lead, those that lead to one row together.
    fn answers(&self, row: &Row, action: usize, numbers: &Numbers) -> Vec<Line> {
        let outcomes = self.fault.table.problem.actions()[action].outcomes();
        let mut tos: Vec<(Leads, Vec<String>)> = Vec::new();
        for (outcome, leads) in &row.ways {
            let outcome = &outcomes[*outcome];
            let lost = if outcome.effect() == Effect::Lost { " (it is lost)" } else { "" };
            let said = format!("“{}”{lost}", outcome.label());
            match tos.iter_mut().find(|(known, _)| known == leads) {
                Some((_, all)) => all.push(said),
                None => tos.push((*leads, vec![said])),
            }
        }
        let line = |(leads, said): &(Leads, Vec<String>)| {
            self.leads(Line::new(Role::Way, &format!("If {},", said.join(" or "))), *leads, numbers, false)
        };
        tos.iter().map(line).collect()
    }

    /// Adds to a line where it leads: remedies one after the other, until one puts it right or more is asked.
    fn leads(&self, mut line: Line, mut leads: Leads, numbers: &Numbers, is_row: bool) -> Line {
        let mut is_first = true;
        loop {
            let place = match leads {
                Leads::Row(place) => place,
                Leads::Fixed => return line.and("it is put right."),
                Leads::StartOver | Leads::Lost => {
                    let go = if is_first { "go to" } else { "if not, go to" };
                    return line.and(go).with(Run::Step(numbers.new_blank)).and(".");
                }
            };
            let row = &self.rows[place];
            let remedy = match row.next {
                Next::Do(action) => self.fault.table.remedy(action).map(|_| action),
                _ => None,
            };
            let Some(action) = remedy.filter(|_| !numbers.rows.contains_key(&place) || (is_row && is_first)) else {
                let go = if is_first { "go to" } else { "if not, go to" };
                let number = numbers.rows.get(&place).copied().unwrap_or(numbers.new_blank);
                return line.and(go).with(Run::Step(number)).and(".");
            };
            let cures = in_100(self.fault.table.prospect(action, &row.chances).cures);
            let go = match (is_first, is_row) {
                (true, true) => "Do",
                (true, false) => "do",
                (false, _) => "if not, do",
            };
            let number = numbers.remedies.get(&action).copied().unwrap_or(numbers.new_blank);
            line = line.and(go).with(Run::Step(number)).and(&format!("({cures})"));
            match row.not_put_right() {
                Some(next) => (line, leads) = (line.and(","), next),
                None => return line.and("."),
            }
            is_first = false;
        }
    }

    /// Returns what a remedy takes, and where its steps stand.
    fn remedy(&self, action: usize, doings: &Doings<'_>) -> Vec<Line> {
        let Some(remedy) = self.fault.table.remedy(action) else { return Vec::new() };
        let place = action - self.fault.table.words.checks.len();
        let steps = doings.steps(self.fault, place);
        // With steps of its own its cautions stand on them.
        let mut lines = if steps.is_some() { Vec::new() } else { cautions(&remedy.cautions, false) };
        let mut line = Line::new(Role::Action, &ended(&capital(remedy.called())));
        line = line.and(&format!("{}.", work_said(remedy.minutes, remedy.wait)));
        let parts: Vec<&str> = remedy.parts.iter().map(|part| part.value.as_str()).collect();
        if !parts.is_empty() {
            line = line.and(&format!("Uses up: {}.", parts.join(", ")));
        }
        if let Some((from, to)) = steps {
            line = line.and("How:").with(Run::Step(from));
            line = if from == to { line } else { line.and("to").with(Run::Step(to)) }.and(".");
        }
        lines.push(line);
        if self.same_for_all().is_none() {
            lines.extend(self.goes_on(action).map(put_right));
        }
        lines
    }

    /// Returns where the work goes on after a remedy.
    fn goes_on(&self, action: usize) -> Option<&str> {
        let place = action - self.fault.table.words.checks.len();
        self.goes_on?.get(place).map(String::as_str).filter(|said| !said.is_empty())
    }

    /// Returns where the work goes on, where that is the same after every remedy.
    fn same_for_all(&self) -> Option<&str> {
        let said = self.goes_on(*self.remedies.first()?)?;
        self.remedies.iter().all(|action| self.goes_on(*action) == Some(said)).then_some(said)
    }

    /// Returns the row of a point from which nothing can be decided any more.
    fn stopped(&self, row: &Row) -> Line {
        let causes = self.fault.table.words.causes.iter().zip(&row.chances).filter(|(_, chance)| **chance > 0.0);
        let mut causes: Vec<(f64, &str)> = causes.map(|(cause, chance)| (*chance, &*cause.say.value)).collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0));
        let said: Vec<String> =
            causes.iter().map(|(chance, say)| format!("{say} ({} in 100)", in_100(*chance))).collect();
        Line::new(Role::Action, &format!("Nothing tells more here. It is: {}.", said.join("; ")))
    }

    /// Returns the row of beginning again.
    fn again(&self) -> Vec<Line> {
        let over = self.fault.table.words.start_over.as_ref();
        let say = over.and_then(|over| over.say.as_ref()).map_or("a new blank", |say| &say.value);
        let minutes = over.and_then(|over| over.minutes).map(|minutes| format!(", {}", minutes_said(minutes)));
        let line = Line::new(Role::Action, &format!("Begin again: {say}{}.", minutes.unwrap_or_default()));
        let parts = |over: &RawStartOver| over.parts.iter().map(|part| part.value.clone()).collect::<Vec<_>>();
        let parts = over.map_or(Vec::new(), parts);
        vec![if parts.is_empty() { line } else { line.and(&format!("Uses up: {}.", parts.join(", "))) }]
    }
}

fn put_right(said: &str) -> Line {
    Line::new(Role::Note, &format!("Put right: {said}"))
}

/// Returns what can hurt; where it stands in full above, only how to avoid it.
fn cautions(cautions: &[Caution], is_again: bool) -> Vec<Line> {
    let said = |caution: &Caution| {
        let word = Run::Strong(Plain::new(caution.level.signal_word()));
        let line = Line { role: Role::Hazard, tick: false, runs: vec![word] };
        let line = if is_again { line } else { line.and(&ended(&caution.hazard.value)) };
        line.and(&ended(&caution.avoid.value))
    };
    cautions.iter().map(said).collect()
}

//! A fault table on a page: what to do first, then its questions and remedies in the order that costs the least.

mod rows;

use std::collections::BTreeMap;

use self::rows::{Leads, Row, likeliest, rows};
use super::{Head, fits_a_page, head, section, sentence};
use crate::guide::document::Caution;
use crate::guide::fault_table::RawStartOver;
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};
use crate::sheet::plain::Plain;
use crate::trouble::consult::in_100;
use crate::trouble::findings::Findings;
use crate::trouble::plan::{Budget, Next, NoPolicy, compile};
use crate::trouble::problem::Effect;
use crate::trouble::table::Table;
use crate::walk::{minutes_said, work_said};

/// How many points a policy may have that is laid out.
const MOST_NODES: usize = 100_000;

/// Returns fault tables as a sheet with this title, each on a page, its questions in the order of the best policy.
///
/// A policy that is larger than a page is cut where it is least likely to come to; what is cut is a numbered row that
/// says where it goes on.
pub fn fault_trees(title: &str, id: &str, tables: &[Table], stamp: &Stamp) -> Sheet {
    let mut sheet = head(Head { title, id, edition: None }, "When it goes wrong", stamp);
    let odds =
        "Chances and minutes are estimates. Put right: go on where the checklist still holds. Lost: begin again.";
    (sheet.head, sheet.close) = (vec![Line::new(Role::Note, odds)], true);
    let mut first = 1;
    for table in tables {
        let (laid, steps) = on_a_page(table, first, &sheet, tables.len() == 1);
        first += steps;
        sheet.sections.push(laid);
    }
    sheet
}

/// Returns a table as a section that fits on a page with the sheet's head, where that can be, and how many numbers it
/// took.
fn on_a_page(table: &Table, first: usize, sheet: &Sheet, is_alone: bool) -> (Section, usize) {
    let policy = compile(&table.problem, &Findings::none(), &Budget::default(), MOST_NODES);
    let rows = policy.as_ref().map_or(Vec::new(), rows);
    let lay = |room: usize| Tree::new(table, &rows, room, first).section(is_alone);
    let fits = |section: &Section| fits_a_page(&Sheet { sections: vec![section.clone()], ..sheet.clone() });
    // The more rows, the more lines: the most that fit are found by halving.
    let (mut room, mut too_much) = (rows.len().min(1), rows.len() + 1);
    while room + 1 < too_much {
        let middle = room.midpoint(too_much);
        if fits(&lay(middle).0) { room = middle } else { too_much = middle }
    }
    let mut laid = lay(room);
    if let Err(NoPolicy::TooLarge { .. }) = policy {
        let said = format!("The table is too large for a page: ask `stepjig trouble {}`.", table.id);
        laid.0.blocks.push(Block::new(BlockKind::Item, vec![Line::new(Role::Note, &said)]));
    }
    laid
}

/// A table with the rows of its policy that are shown.
struct Tree<'t> {
    table: &'t Table,
    rows: &'t [Row],
    /// The number of each row that is shown.
    numbers: BTreeMap<usize, usize>,
    /// The number of beginning again.
    new_blank: usize,
    /// The number of what is not shown.
    not_shown: usize,
}

impl<'t> Tree<'t> {
    fn new(table: &'t Table, rows: &'t [Row], room: usize, first: usize) -> Tree<'t> {
        let numbers: BTreeMap<usize, usize> = likeliest(rows, room).into_iter().zip(first..).collect();
        let new_blank = first + numbers.len();
        Tree { table, rows, numbers, new_blank, not_shown: new_blank + 1 }
    }

    /// Returns the section, and how many numbers it has.
    fn section(&self, is_alone: bool) -> (Section, usize) {
        let words = &self.table.words;
        // The sheet of one table has its title already.
        let mut section = section(if is_alone { "" } else { &self.table.title });
        section.end = Plain::default();
        let mut push = |kind, lines: Vec<Line>| section.blocks.push(Block::new(kind, lines));
        for first in &words.first {
            push(BlockKind::Item, vec![Line::new(Role::Need, &sentence(&first.value)).ticked()]);
        }
        let mut told = BTreeMap::new();
        for (place, number) in &self.numbers {
            push(BlockKind::Step(*number), self.row(&self.rows[*place], *number, &mut told));
        }
        push(BlockKind::Step(self.new_blank), self.again());
        let mut numbers = self.numbers.len() + 1;
        if self.numbers.len() < self.rows.len() {
            let said = "Here the page ends: what is less likely is not on it.";
            let asks = format!("`stepjig trouble {}` asks on. Without it: lay it aside, or", self.table.id);
            let line = Line::new(Role::Action, said).and(&asks).with(Run::Step(self.new_blank)).and(".");
            push(BlockKind::Step(self.not_shown), vec![line]);
            numbers += 1;
        }
        let aside = words.lay_aside.as_ref().map_or("nothing more today.", |aside| &aside.value);
        push(BlockKind::Item, vec![Line::new(Role::Note, &format!("Or lay it aside: {}", sentence(aside)))]);
        (section, numbers)
    }

    /// Returns the lines of a row: a question with where its answers lead, or a remedy with its chance.
    fn row(&self, row: &Row, number: usize, told: &mut BTreeMap<usize, usize>) -> Vec<Line> {
        let Next::Do(action) = row.next else { return vec![self.stopped(row)] };
        let first = *told.entry(action).or_insert(number);
        let is_again = first != number;
        match (self.table.check(action), self.table.remedy(action)) {
            (Some(check), _) => {
                let mut lines = cautions(&check.cautions, is_again);
                lines.push(Line::new(Role::Action, &check.text.value));
                lines.extend(self.answers(row, action));
                lines
            }
            (None, Some(remedy)) => {
                let chance = self.table.prospect(action, &row.chances);
                let mut lines = cautions(&remedy.cautions, is_again);
                let takes = work_said(remedy.minutes, remedy.wait);
                let chance = format!("Of 100 about {} put right, {} lost;", in_100(chance.cures), in_100(chance.loses));
                let line = Line::new(Role::Action, &sentence(&capital(remedy.called())));
                let line = line.and(&format!("{chance} {takes}."));
                let parts: Vec<&str> = remedy.parts.iter().map(|part| part.value.as_str()).collect();
                lines.push(match parts.is_empty() {
                    true => line,
                    false => line.and(&format!("Uses up: {}.", parts.join(", "))),
                });
                let goes_on = row.ways.iter().find(|(_, leads)| matches!(leads, Leads::Row(_) | Leads::StartOver));
                lines.extend(goes_on.map(|(_, leads)| {
                    Line::new(Role::Way, "If it is not put right, go to").with(Run::Step(self.number(*leads))).and(".")
                }));
                lines
            }
            (None, None) => vec![self.stopped(row)],
        }
    }

    /// Returns where the answers to a question lead, those that lead to one row together.
    fn answers(&self, row: &Row, action: usize) -> Vec<Line> {
        let outcomes = self.table.problem.actions()[action].outcomes();
        let mut tos: Vec<(Option<usize>, Vec<String>)> = Vec::new();
        for (outcome, leads) in &row.ways {
            let outcome = &outcomes[*outcome];
            let lost = if outcome.effect() == Effect::Lost { " (it is lost)" } else { "" };
            let said = format!("“{}”{lost}", outcome.label());
            let to = (*leads != Leads::Fixed).then(|| self.number(*leads));
            match tos.iter_mut().find(|(known, _)| *known == to) {
                Some((_, all)) => all.push(said),
                None => tos.push((to, vec![said])),
            }
        }
        let line = |(to, said): &(Option<usize>, Vec<String>)| match to {
            Some(to) => Line::new(Role::Way, &format!("If {}, go to", said.join(" or "))).with(Run::Step(*to)).and("."),
            None => Line::new(Role::Way, &format!("If {}, it is put right.", said.join(" or "))),
        };
        tos.iter().map(line).collect()
    }

    fn number(&self, leads: Leads) -> usize {
        match leads {
            Leads::Row(place) => self.numbers.get(&place).copied().unwrap_or(self.not_shown),
            Leads::StartOver | Leads::Lost | Leads::Fixed => self.new_blank,
        }
    }

    /// Returns the row of a point from which nothing can be decided any more.
    fn stopped(&self, row: &Row) -> Line {
        let causes = self.table.words.causes.iter().zip(&row.chances).filter(|(_, chance)| **chance > 0.0);
        let mut causes: Vec<(f64, &str)> = causes.map(|(cause, chance)| (*chance, &*cause.say.value)).collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0));
        let said: Vec<String> =
            causes.iter().map(|(chance, say)| format!("{say} ({} in 100)", in_100(*chance))).collect();
        Line::new(Role::Action, &format!("Nothing tells more here. It is: {}.", said.join("; ")))
    }

    /// Returns the row of beginning again.
    fn again(&self) -> Vec<Line> {
        let over = self.table.words.start_over.as_ref();
        let say = over.and_then(|over| over.say.as_ref()).map_or("a new blank", |say| &say.value);
        let minutes = over.and_then(|over| over.minutes).map(|minutes| format!(", {}", minutes_said(minutes)));
        let line = Line::new(Role::Action, &format!("Begin again: {say}{}.", minutes.unwrap_or_default()));
        let parts = |over: &RawStartOver| over.parts.iter().map(|part| part.value.clone()).collect::<Vec<_>>();
        let parts = over.map_or(Vec::new(), parts);
        vec![if parts.is_empty() { line } else { line.and(&format!("Uses up: {}.", parts.join(", "))) }]
    }
}

/// Returns what can hurt; where it stands in full above, only how to avoid it.
fn cautions(cautions: &[Caution], is_again: bool) -> Vec<Line> {
    let said = |caution: &Caution| {
        let word = Run::Strong(Plain::new(caution.level.signal_word()));
        let line = Line { role: Role::Hazard, tick: false, runs: vec![word] };
        let line = if is_again { line } else { line.and(&sentence(&caution.hazard.value)) };
        line.and(&sentence(&caution.avoid.value))
    };
    cautions.iter().map(said).collect()
}

/// Returns words with a capital.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

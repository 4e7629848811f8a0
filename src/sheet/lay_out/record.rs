//! The record of a pen: what was done when, read, chosen, reckoned; what went wrong, what is owed, how long it took.

mod history;
mod trouble;

use std::sync::Arc;

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp, ZonedDateTime};

use self::history::{Entry, History, What, history};
use super::{headed, section};
use crate::finding::sentence::ended;
use crate::guide::document::Document;
use crate::guide::{EndKind, Guide, Kind};
use crate::reckon::{Data, named};
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};
use crate::sheet::plain::Plain;
use crate::walk::{Event, Phase, Walk, minutes_said, span_said, work_said};

/// A job as it is kept.
#[derive(Debug, Clone, Copy)]
pub struct Kept<'k> {
    /// The guide as it stood when the job began.
    pub guide: &'k Guide,
    /// What happened.
    pub events: &'k [Event],
    /// The fault tables that were asked.
    pub tables: &'k [Document],
    /// The time zone in which times are said.
    pub zone: &'k TimeZone,
    /// The figures that sums use.
    pub data: &'k Arc<Data>,
    /// What is wrong with the journal, where something is.
    pub damage: Option<&'k str>,
}

/// Returns the record of a job, finished or not.
///
/// What was taken back by `back` stands in a list of its own. A step has its number on the checklist. Minutes are the author's; beside them stands what the clock says.
pub fn record(kept: Kept<'_>, stamp: &Stamp) -> Sheet {
    let mut sheet = headed(kept.guide, "Record", stamp);
    let begin = || Walk::from_events(kept.guide, []).in_zone(kept.zone.clone()).with_data(Arc::clone(kept.data));
    let history = history(begin(), kept.events);
    let mut walk = begin();
    kept.events.iter().for_each(|event| walk.take(event));
    let told = Teller { kept, walk: &walk, history: &history };
    sheet.head.extend(told.status().into_iter().map(|line| Line::new(Role::Note, &line)));
    sheet.sections = told.readings_choices_sums();
    sheet.sections.extend(told.work());
    let rest = [told.holds(), told.trouble(), told.taken_back(), told.notes(), told.parts(), Some(told.time())];
    sheet.sections.extend(rest.into_iter().flatten());
    sheet
}

/// Tells of a job.
struct Teller<'k> {
    kept: Kept<'k>,
    walk: &'k Walk<'k>,
    history: &'k History,
}

impl Teller<'_> {
    fn when(&self, at: Timestamp) -> String {
        ZonedDateTime::new(at, self.kept.zone.clone()).strftime("%-d %b %H:%M").to_string().replace(' ', "\u{a0}")
    }

    fn on_day(&self, at: Timestamp) -> String {
        ZonedDateTime::new(at, self.kept.zone.clone()).strftime("%-d %b %Y at %H:%M").to_string()
    }

    /// Says whether the pen is finished, and what is still to come.
    fn status(&self) -> Vec<String> {
        let (state, guide) = (self.walk.state(), self.kept.guide);
        let last = self.history.last.map(|last| self.on_day(last)).unwrap_or_default();
        let began = self.history.began.map(|began| self.on_day(began)).unwrap_or_default();
        let mut told = Vec::new();
        match (&state.phase, &guide.step(state.here).kind) {
            (Phase::Ended, Kind::End(EndKind::Finished)) => told.push(format!("Finished on {last}, begun on {began}.")),
            (Phase::Ended, _) => told.push(format!("The blank was lost on {last}; begun on {began}.")),
            _ => {
                let aside = if state.parked.is_some() { ", laid aside" } else { "" };
                told.push(format!("Running, begun on {began}, last touched on {last}{aside}."));
                let next = self.walk.title(state.here);
                told.push(match (&state.trouble, self.walk.onward_from_here()) {
                    (Some(trouble), _) => format!("It is in trouble: {}.", trouble.title),
                    (None, Some(onward)) => {
                        let work = work_said(onward.attention, onward.waits);
                        format!("Still to come: about {work}. Next: {next}")
                    }
                    (None, None) => format!("Next: {next}"),
                });
            }
        }
        if let Some(damage) = self.kept.damage {
            told.push(format!("The journal is damaged, so that something may be missing here: {damage}."));
        }
        told
    }

    /// Returns the sections of what was read, chosen and reckoned.
    fn readings_choices_sums(&self) -> Vec<Section> {
        let mut sections = [section("Readings"), section("Choices"), section("Sums")];
        for entry in &self.history.entries {
            let (n, words) = match &entry.what {
                What::Read { said, limits, beyond } => {
                    let limits = if limits.is_empty() { String::new() } else { format!(" (good: {limits})") };
                    let beyond = if *beyond { ", out of its limits" } else { "" };
                    (0, format!("{said}{limits}{beyond}"))
                }
                What::Answered(answer) => (1, format!("“{answer}”")),
                What::Reckoned { verdict, told } => {
                    let meaning = named(&self.kept.guide.step(entry.step).text).and_then(|sum| sum.meaning(verdict));
                    let verdict = verdict.replace('-', " ");
                    let verdict = meaning.map_or(verdict.clone(), |meaning| format!("{verdict}: {meaning}"));
                    let told = told.get(1).map_or(String::new(), |told| format!(" {told}"));
                    (2, format!("{}{told}", ended(&verdict)))
                }
                _ => continue,
            };
            let line = self.line(entry);
            // A sum has the same name wherever it is asked.
            let line = if n == 2 { line.and(&format!("({})", self.stage(entry))) } else { line };
            let line = line.and("–").with(Run::Strong(Plain::new(&words)));
            sections[n].blocks.push(Block::new(BlockKind::Item, vec![line]));
        }
        sections.into_iter().filter(|section| !section.blocks.is_empty()).collect()
    }

    fn line(&self, entry: &Entry) -> Line {
        Line::new(Role::Need, &format!("{} {}", self.when(entry.at), self.titled(entry)))
    }

    /// Returns what a step said, after its number on the checklist.
    fn titled(&self, entry: &Entry) -> String {
        let number = self.kept.guide.number(entry.step).map_or(String::new(), |number| format!("step\u{a0}{number}: "));
        format!("{number}{}", entry.title)
    }

    /// Returns the sections of what was done, by stages; a stage that is come back to is continued.
    fn work(&self) -> Vec<Section> {
        let mut sections: Vec<(String, Section)> = Vec::new();
        for (n, entry) in self.history.entries.iter().enumerate() {
            let again = |later: &Entry| later.step == entry.step && matches!(later.what, What::Done);
            let note = match &entry.what {
                What::Done if self.history.entries[n + 1..].iter().any(again) => "done again later",
                What::Done => "",
                What::Skipped | What::WaitBegun | What::Waited { .. } => &entry.what.short(),
                What::Number { path, value } => {
                    let line = Line::new(Role::Need, &format!("{} put right: {path} is {value}", self.when(entry.at)));
                    let block = Block::new(BlockKind::Item, vec![line]);
                    of_stage(&mut sections, self.stage(entry)).blocks.push(block);
                    continue;
                }
                _ => continue,
            };
            let line = self.line(entry);
            let line = if note.is_empty() { line } else { line.and("–").with(Run::Strong(Plain::new(note))) };
            of_stage(&mut sections, self.stage(entry)).blocks.push(Block::new(BlockKind::Item, vec![line]));
        }
        sections.into_iter().map(|(_, section)| section).collect()
    }

    fn stage(&self, entry: &Entry) -> String {
        super::stage_of(self.kept.guide.step(entry.step)).to_owned()
    }

    fn holds(&self) -> Option<Section> {
        let mut holds = section("Holds that were refused");
        for entry in &self.history.entries {
            let What::Refused { needs, after } = &entry.what else { continue };
            let mut lines = vec![self.line(entry), Line::new(Role::Note, &format!("Not true: {}.", needs.join("; ")))];
            lines.extend(trouble::after(after));
            holds.blocks.push(Block::new(BlockKind::Item, lines));
        }
        (!holds.blocks.is_empty()).then_some(holds)
    }

    fn trouble(&self) -> Option<Section> {
        let mut wrong = section("What went wrong");
        wrong.blocks = trouble::blocks(&self.kept, self.walk, &self.history.entries, |at| self.when(at));
        (!wrong.blocks.is_empty()).then_some(wrong)
    }

    fn taken_back(&self) -> Option<Section> {
        let mut slips = section("Taken back");
        let told = |(at, entry): &(Timestamp, Entry)| {
            let line = Line::new(Role::Need, &format!("{} {}", self.when(*at), self.titled(entry)));
            Block::new(BlockKind::Item, vec![line.and("–").with(Run::Strong(Plain::new(&entry.what.short())))])
        };
        slips.blocks = self.history.taken_back.iter().map(told).collect();
        (!slips.blocks.is_empty()).then_some(slips)
    }

    fn notes(&self) -> Option<Section> {
        let mut notes = section("Notes");
        let note = |(at, text): &(Timestamp, String)| {
            let line = Line::new(Role::Need, &format!("{} {text}", self.when(*at)));
            Block::new(BlockKind::Item, vec![line])
        };
        notes.blocks = self.history.notes.iter().map(note).collect();
        (!notes.blocks.is_empty()).then_some(notes)
    }

    fn parts(&self) -> Option<Section> {
        let mut parts = section("Parts borrowed from other kits");
        let owed = self.walk.state().record.borrowed.iter().map(|(part, kit)| format!("still owed: {part}, to {kit}"));
        let settled = self.history.settled.iter();
        let settled = settled.map(|(at, part, kit)| format!("{} settled: {part}, {kit}", self.when(*at)));
        let item = |words: String| Block::new(BlockKind::Item, vec![Line::new(Role::Need, &words)]);
        parts.blocks = settled.chain(owed).map(item).collect();
        (!parts.blocks.is_empty()).then_some(parts)
    }

    /// Returns how long it took: by the guide's minutes, and by the clock.
    fn time(&self) -> Section {
        let (mut attention, mut waits) = (0.0, 0.0);
        for entry in &self.history.entries {
            let step = self.kept.guide.step(entry.step);
            match &entry.what {
                What::Done | What::Answered(_) | What::Read { .. } | What::Reckoned { .. } => attention += step.minutes,
                What::WaitBegun | What::Waited { ready: true } => {
                    // A wait that runs meanwhile is counted where it is begun.
                    if let Kind::Wait(pause) = &step.kind
                        && pause.meanwhile == matches!(entry.what, What::WaitBegun)
                    {
                        waits += pause.minutes;
                    }
                }
                _ => {}
            }
        }
        let mut time = section("Time");
        let mut item = |words: &str| {
            time.blocks.push(Block::new(BlockKind::Item, vec![Line::new(Role::Need, words)]));
        };
        item(&format!("By the guide: {} of work, {} of waiting.", minutes_said(attention), minutes_said(waits)));
        if let (Some(began), Some(last)) = (self.history.began, self.history.last) {
            let away = SignedDuration::from_secs(self.walk.state().record.parked_s);
            let all = last.duration_since(began);
            let aside =
                if away.is_positive() { format!(", laid aside for {} of it", span_said(away)) } else { String::new() };
            item(&format!("By the clock: {} from the first mark to the last{aside}.", span_said(all)));
        }
        time
    }
}

/// Returns the last section where it is of this stage, else a new one.
fn of_stage(sections: &mut Vec<(String, Section)>, stage: String) -> &mut Section {
    if sections.last().is_none_or(|(last, _)| *last != stage) {
        let again = sections.iter().any(|(known, _)| *known == stage);
        let title = if again { crate::sheet::model::continued(&stage) } else { stage.clone() };
        sections.push((stage, section(&title)));
    }
    let last = sections.len() - 1;
    &mut sections[last].1
}

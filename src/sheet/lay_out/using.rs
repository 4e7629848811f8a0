//! What stands before the first step of a checklist and after its last: how it is used, and who answers for it.

use super::{PARTS, section};
use crate::finding::sentence::ended;
use crate::guide::Guide;
use crate::guide::document::{Level, Verified};
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section};
use crate::sheet::plain::Plain;

/// Returns how a checklist is used. A hold, a signal word and a jump mean the same on every sheet.
pub(super) fn how(guide: &Guide) -> Section {
    let mut section = section("How to use this sheet");
    let first = [
        format!("Before the first step: tick off the sheet “{}”. All that a step asks for stands there.", PARTS),
        "Go by the numbers, one step at a time. Tick a box when its step is done; write a reading down as it is read."
            .to_owned(),
        "Where an answer or a reading names another step, go on there. The steps between are left out.".to_owned(),
    ];
    section.blocks.push(block(first.iter().map(|text| Line::new(Role::Note, text)).collect()));
    let hold = "The step after it cannot be taken back. Tick what is true now. Where something is not, go to the step \
                named beside it, and on from there.";
    section.blocks.push(block(vec![told("Hold.", hold)]));
    let words = Level::WORDS.iter().map(|(_, level)| told(level.signal_word(), level.meaning()));
    section.blocks.push(block(words.collect()));
    let aside = Line::new(Role::Note, "Stop only between two steps. Laid aside before step").with(Run::Blank);
    let aside = aside.and("on").with(Run::Blank);
    let again = "Taken up again: mask, shield, gloves, air as if you had just come. Where you do not know how far you \
                 were, go back to the last hold.";
    section.blocks.push(block(vec![aside, Line::new(Role::Note, again)]));
    let amiss = "What did not go as written: write it beside the step, with what you saw.";
    let amiss = match guide.document().kept_by.as_deref() {
        Some(keeper) => format!("{amiss} Then tell who keeps this guide: {}", ended(keeper)),
        None => amiss.to_owned(),
    };
    section.blocks.push(block(vec![Line::new(Role::Note, &amiss)]));
    section
}

/// Returns where it is signed, and how the guide was tried before it was handed on.
pub(super) fn signed(guide: &Guide) -> Section {
    let mut section = section("Sign it off");
    let by = Line::new(Role::Fill, "Finished").with(Run::Blank).and("By").with(Run::Blank);
    let odd = Line::new(Role::Fill, "Steps left out, done again, or not as written").with(Run::Blank);
    section.blocks.push(block(vec![by, odd]));
    let records = &guide.document().verified;
    let mut lines: Vec<Line> = records.iter().map(|record| Line::new(Role::Note, &trial(record))).collect();
    if !records.iter().any(|record| record.method == "bench") {
        let text = "This guide was not yet tried at the bench with real parts. Where it and the kit's own sheet differ, \
                    the sheet is right.";
        lines.push(Line::new(Role::Note, text));
    }
    section.blocks.push(block(lines));
    section
}

fn trial(record: &Verified) -> String {
    let how = match record.method.as_str() {
        "bench" => "at the bench, with real parts",
        "table-top" => "at a table, without parts",
        _ => "at the desk",
    };
    let edition = record.edition.as_ref().map_or(String::new(), |edition| format!(", edition {edition}"));
    format!("Tried {how}{edition}, {}, by {}: {}", record.on, record.by, ended(&record.what))
}

fn told(word: &str, text: &str) -> Line {
    Line { role: Role::Note, tick: false, runs: vec![Run::Strong(Plain::new(word))] }.and(text)
}

fn block(lines: Vec<Line>) -> Block {
    Block::new(BlockKind::Item, lines)
}

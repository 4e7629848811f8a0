//! What went wrong with a pen, and how it was put right.

use jiff::Timestamp;

use super::Kept;
use super::history::{After, Entry, What};
use crate::guide::fault_table::RawFaultTable;
use crate::sheet::model::{Block, BlockKind, Line, Role};
use crate::walk::Walk;
use crate::walk::trouble::TroubleEvent;

/// How many things that were undone are named.
const NAMED: usize = 8;

/// Returns a block for each trouble, in the order in which they came.
pub(super) fn blocks(
    kept: &Kept<'_>,
    walk: &Walk<'_>,
    entries: &[Entry],
    when: impl Fn(Timestamp) -> String,
) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut words = RawFaultTable::default();
    for entry in entries {
        let line = match &entry.what {
            What::LostByHand { lost, after: then } => {
                let said = format!("{} {}", when(entry.at), entry.title);
                let lost = if lost.is_empty() { "nothing".to_owned() } else { lost.join("; ") };
                let mut lines =
                    vec![Line::new(Role::Need, &said), Line::new(Role::Note, &format!("No longer true: {lost}."))];
                lines.extend(after(then));
                blocks.push(Block::new(BlockKind::Item, lines));
                continue;
            }
            What::Trouble(TroubleEvent::Opened { table, with, title }) => {
                words = table_words(kept, walk, table, with);
                let title = if title.is_empty() { table } else { title };
                let said = format!("{} {title}, at: {}", when(entry.at), entry.title);
                blocks.push(Block::new(BlockKind::Item, vec![Line::new(Role::Need, &said)]));
                continue;
            }
            What::Trouble(event) => vec![told(event, &words, &when(entry.at))],
            What::TroubleOver(then) => after(then).into_iter().map(Some).collect(),
            _ => continue,
        };
        if let Some(block) = blocks.last_mut() {
            block.lines.extend(line.into_iter().flatten());
        }
    }
    blocks
}

/// Returns what a fault table says, as it was kept when it was asked; nothing where it is not there.
fn table_words(kept: &Kept<'_>, walk: &Walk<'_>, table: &str, with: &[(String, String)]) -> RawFaultTable {
    let document = kept.tables.iter().find(|document| document.id.value == table);
    let Some((document, raw)) = document.and_then(|document| Some((document, document.fault_table.as_deref()?))) else {
        return RawFaultTable::default();
    };
    raw.filled(&document.takes, with, |name| walk.state().number(kept.guide, name))
}

fn told(event: &TroubleEvent, words: &RawFaultTable, when: &str) -> Option<Line> {
    let remedy = |id: &str| {
        let known = words.remedies.iter().find(|remedy| remedy.id.value == id);
        known.map_or_else(|| id.replace('-', " "), |remedy| remedy.called().to_owned())
    };
    let said = match event {
        TroubleEvent::Found { check, answer, fixed, .. } => {
            let known = words.checks.iter().find(|known| known.id.value == *check);
            let asked = known.map_or_else(|| format!("{}:", check.replace('-', " ")), |known| known.text.value.clone());
            let fixed = if *fixed { ", and with that it was put right" } else { "" };
            format!("{asked} “{answer}”{fixed}")
        }
        TroubleEvent::LeftOut { action } => format!("could not be done here: {}", remedy(action)),
        TroubleEvent::RemedyBegun { remedy: id, .. } => format!("begun: {}", remedy(id)),
        TroubleEvent::RemedyEnded { remedy: id, outcome, .. } => {
            let outcome = match outcome.as_str() {
                "fixed" => "it is put right",
                "lost" => "the blank is lost",
                _ => "it is not put right",
            };
            format!("{}: {outcome}", remedy(id))
        }
        TroubleEvent::StartedOver { .. } => "begun again with a new blank".to_owned(),
        TroubleEvent::Confirmed { cause, .. } => {
            let known = words.causes.iter().find(|known| known.id.value == *cause);
            format!("it was: {}", known.map_or_else(|| cause.replace('-', " "), |known| known.say.value.clone()))
        }
        TroubleEvent::Closed => "left; nothing was put right by it".to_owned(),
        TroubleEvent::Opened { .. } | TroubleEvent::InRemedy(_) => return None,
    };
    Some(Line::new(Role::Note, &format!("{when} {said}")))
}

/// Returns what was undone, and where the pen was picked up again.
pub(super) fn after(after: &After) -> Vec<Line> {
    let mut lines = Vec::new();
    let n = after.undone.len();
    if n > 0 {
        let named = after.undone[..n.min(NAMED)].join("; ");
        let more = if n > NAMED { format!("; and {} more", n - NAMED) } else { String::new() };
        lines.push(Line::new(Role::Note, &format!("Undone by it: {named}{more}.")));
    }
    lines.push(Line::new(Role::Note, &format!("Picked up again at: {}", after.picked_up)));
    lines
}

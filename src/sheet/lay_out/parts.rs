//! The pick list: what to have at hand, by the stage that wants it first.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use super::numbers::Numbered;
use super::{PARTS, headed, section};
use crate::guide::Guide;
use crate::reckon::{ThingKind, Things};
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Section, Sheet, Stamp};

/// How many of the steps that want a thing are named.
const NAMED: usize = 3;

/// Returns a guide's pick list.
///
/// First come the kit's own numbers, a spare of every tube, places and machines, then each thing once, under the stage
/// that wants it first, with the numbers of its steps on the checklist, last what is wanted only where something is
/// amiss; in a stage the kit's parts, bits, what is used up, tools,
/// papers, and what `things` does not list.
pub fn parts(guide: &Guide, things: &Things, stamp: &Stamp) -> Sheet {
    let mut sheet = headed(guide, PARTS, stamp);
    let numbered = Numbered::new(guide);
    let mut wanted: IndexMap<String, Wanted> = IndexMap::new();
    for (idx, step) in guide.steps() {
        let Some(number) = numbered.lands(idx) else { continue };
        for part in &step.parts {
            let new = || Wanted { stage: super::stage_of(step).to_owned(), kind: things.kind(part), steps: Vec::new() };
            let steps = &mut wanted.entry(numbered.say(part, number)).or_insert_with(new).steps;
            if steps.last() != Some(&number) {
                steps.push(number);
            }
        }
    }
    sheet.sections.extend(kit(guide, &numbered));
    let mut stages: IndexMap<&str, Vec<(&str, &Wanted)>> = IndexMap::new();
    let mut amiss: Vec<(&str, &Wanted)> = Vec::new();
    for (part, wanted) in &wanted {
        match wanted.steps.iter().any(|step| numbered.is_main(*step)) {
            true => stages.entry(&wanted.stage).or_default().push((part, wanted)),
            false => amiss.push((part, wanted)),
        }
    }
    sheet.head.push(Line::new(Role::Note, "Each thing stands once, at the stage that wants it first, with its steps."));
    sheet.sections.extend(places(guide));
    let only = (ONLY_AMISS, amiss);
    for (stage, mut wanted) in stages.into_iter().chain((!only.1.is_empty()).then_some(only)) {
        // What is not listed has no place in the order but the last.
        wanted.sort_by_key(|(_, wanted)| (wanted.kind.is_none(), wanted.kind));
        let mut section = section(stage);
        for of_kind in wanted.chunk_by(|(_, a), (_, b)| a.kind == b.kind) {
            let items = of_kind.iter().map(|(part, wanted)| item(wanted_at(part, &wanted.steps)));
            let first = section.blocks.len();
            section.blocks.extend(items);
            let heading = Line::new(Role::Note, said(of_kind[0].1.kind));
            section.blocks[first].lines.insert(0, heading);
        }
        sheet.sections.push(section);
    }
    sheet
}

/// The last of the list: what no pen wants that goes well.
const ONLY_AMISS: &str = "Only where something is amiss";

/// Returns the places and machines that the steps are done at.
fn places(guide: &Guide) -> Option<Section> {
    let mut at: Vec<&str> = Vec::new();
    for place in guide.steps().filter_map(|(_, step)| step.at.as_deref()) {
        if !at.contains(&place) {
            at.push(place);
        }
    }
    let mut section = section("Places and machines");
    section.blocks = at.into_iter().map(|place| item(Line::new(Role::Need, place))).collect();
    (!section.blocks.is_empty()).then_some(section)
}

/// A thing that some steps want.
struct Wanted {
    /// The stage that wants it first.
    stage: String,
    kind: Option<ThingKind>,
    steps: Vec<usize>,
}

/// Returns what things of a kind are called.
fn said(kind: Option<ThingKind>) -> &'static str {
    match kind {
        Some(ThingKind::Part) => "Parts",
        Some(ThingKind::Bit) => "Bits",
        Some(ThingKind::Consumable) => "Consumables",
        Some(ThingKind::Tool) => "Tools",
        Some(ThingKind::Paper) => "To read and write on",
        None => "Also",
    }
}

fn item(line: Line) -> Block {
    Block::new(BlockKind::Item, vec![line.ticked()])
}

fn wanted_at(part: &str, steps: &[usize]) -> Line {
    let mut line = Line::new(Role::Need, part).and("–");
    for (n, step) in steps.iter().take(NAMED).enumerate() {
        line = if n > 0 { line.and(",") } else { line }.with(Run::Step(*step));
    }
    match steps.len().saturating_sub(NAMED) {
        0 => line,
        more => line.and(&format!("and {more} more")),
    }
}

/// Returns the kit's numbers to hold against its sheet, and a spare of every tube.
fn kit(guide: &Guide, numbered: &Numbered) -> Vec<Section> {
    let (mut numbers, mut spares) = (section("The kit's numbers, held against its own sheet"), section("Spares"));
    let mut tubes = BTreeSet::new();
    for path in guide.kit().keys() {
        let name = path.strip_prefix("kit.").unwrap_or(path).replace(['.', '-'], " ");
        let number = numbered.say(&format!("{{{path}}}"), 0);
        numbers.blocks.push(item(Line::new(Role::Need, &format!("{name}: {number}"))));
        tubes.extend(path.strip_prefix("kit.tube.").and_then(|rest| rest.split('.').next()));
    }
    let size = |tube: &str, what: &str| {
        let path = format!("kit.tube.{tube}.{what}");
        guide.kit().contains_key(&path).then(|| format!(", {what} {}", numbered.say(&format!("{{{path}}}"), 0)))
    };
    for tube in tubes {
        let sizes: String = ["outside", "length"].into_iter().filter_map(|what| size(tube, what)).collect();
        spares.blocks.push(item(Line::new(Role::Need, &format!("a spare {} tube{sizes}", tube.replace('-', " ")))));
    }
    [numbers, spares].into_iter().filter(|section| !section.blocks.is_empty()).collect()
}

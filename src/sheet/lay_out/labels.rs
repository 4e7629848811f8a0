//! Labels for the pieces of a batch: which pen, which piece, which bit, which end meets the band.

use std::collections::BTreeSet;

use super::numbers::Numbered;
use super::{headed, section};
use crate::guide::Guide;
use crate::sheet::model::{Block, BlockKind, Line, Role, Run, Sheet, Stamp};
use crate::sheet::plain::Plain;

/// Returns labels for the pieces of so many pens, one for each tube of the kit.
///
/// Each says the pen, the piece, its bit and how wide that is, with a box for when the bit is tried in scrap, and has
/// an arrow that is laid towards the band. Without a kit file the bit is the guide's, and the sheet says so.
pub fn labels(guide: &Guide, pens: usize, stamp: &Stamp) -> Sheet {
    let mut sheet = headed(guide, "Labels", stamp);
    let numbered = Numbered::new(guide);
    let paths = guide.kit().keys().filter_map(|path| path.strip_prefix("kit.tube.")?.split('.').next());
    let tubes: BTreeSet<&str> = paths.collect();
    sheet.head = vec![Line::new(
        Role::Note,
        "Cut along the lines; fix each to its piece before the saw parts them, its arrow towards the band.",
    )];
    let drill = |tube: &str| format!("kit.tube.{tube}.drill");
    if tubes.iter().any(|tube| !guide.measured().contains(&drill(tube))) {
        let own = "The bits are the guide's. Your kit's sheet and the hole in scrap have the last word: `--kit` puts measured numbers in.";
        sheet.head.push(Line::new(Role::Note, own));
    }
    if tubes.is_empty() {
        sheet.head = vec![Line::new(Role::Note, "The guide's kit names no tube, so that there is nothing to label.")];
        return sheet;
    }
    let mut all = section("Labels");
    all.end = Plain::default();
    for pen in 1..=pens {
        for tube in &tubes {
            let which = match &stamp.job {
                Some(job) if pens == 1 => format!("Pen {job}"),
                Some(job) => format!("Pen {job}, {pen} of {pens}"),
                None => format!("Pen {pen}"),
            };
            let piece = Run::Strong(Plain::new(&format!("{which}: {}", tube.replace('-', " "))));
            let bit = match guide.kit().contains_key(&drill(tube)) {
                true => Line::new(
                    Role::Note,
                    &format!("bit {}", in_one_unit(&numbered.say(&format!("{{{}}}", drill(tube)), 0))),
                ),
                false => Line::new(Role::Note, "bit").with(Run::Blank),
            };
            let lines = vec![
                Line { role: Role::Action, tick: false, runs: vec![piece] },
                bit,
                Line::new(Role::Need, "tried in scrap").ticked(),
                Line::new(Role::Action, "→ to the band →"),
            ];
            all.blocks.push(Block::new(BlockKind::Label, lines));
        }
    }
    sheet.sections = vec![all];
    sheet
}

/// Returns a length as the guide writes it, without the other unit in its brackets: there is little room on a label.
fn in_one_unit(said: &str) -> &str {
    said.split_once(" (").map_or(said, |(written, _)| written)
}

//! What is tried and kept safe before any wood is cut: what writes, and the small parts that get lost.

use super::block::{Block, Steps};
use super::said;
use crate::draft::build::{Build, Holder, Home, Writes};
use crate::draft::style::Style;

/// Tries what writes while a dead one is swapped for nothing, and lays the loose parts by.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build) {
    if build.has_cap_thread() {
        let block = Block::run("count-starts", "count-starts").stage("Know the thread").uses(["parts.laid-out"]);
        steps.add(block.leaves(["starts.known"]));
    }
    try_writer(steps, style, build);
    if build.loose.is_empty() {
        return;
    }
    let names: Vec<&str> = build.loose.iter().map(|loose| loose.name.as_str()).collect();
    let block = Block::run("box-loose", "box-loose").with(&[("parts", &names.join(", "))]).uses(["parts.laid-out"]);
    steps.add(block.leaves(["loose.boxed"]));
}

fn try_writer(steps: &mut Steps, style: Style, build: &Build) {
    let refill = said::refill(style);
    let has_depth = build.parts.iter().any(|part| part.home == Home::Depth);
    match style.writes {
        Writes::Nib => {
            let block = Block::run("try-nib", "try-nib").stage("Try the nib").uses(["parts.laid-out"]);
            steps.add(block.leaves(["nib.writes", "nib.rinsed"]));
            let block = Block::run("try-fillers", "try-fillers").stage("Try the fillers");
            steps.add(block.uses(["nib.rinsed", "nib.writes"]).leaves(["filler.fits"]));
        }
        // A mechanism's depth is found by a point that writes; else the lead is tried in its mechanism.
        Writes::Pencil if !has_depth => {
            let block = Block::run("try-lead", "try-lead").stage("Try the lead").with(&[("what", "mechanism")]);
            steps.add(block.uses(["parts.laid-out"]).leaves(["mechanism.lead-works"]));
        }
        Writes::Rollerball | Writes::Ballpoint | Writes::Pencil => {
            let block = Block::run(&format!("try-{refill}"), "try-refill")
                .stage(&format!("Try the {refill}"))
                .with(&[("refill", refill)])
                .uses(["parts.laid-out"]);
            steps.add(block.leaves([format!("{refill}.writes")]));
        }
    }
}

/// Puts the loose parts of a holder in their place, before it closes over them, and begins a stage with the first.
///
/// Returns the stage where there was no such part to begin it with.
pub(super) fn put_loose<'s>(
    steps: &mut Steps,
    style: Style,
    build: &Build,
    holder: &Holder,
    mut stage: Option<&'s str>,
) -> Option<&'s str> {
    for loose in build.held_by(holder) {
        let place = said::place(holder, style, build);
        let block = Block::run(&format!("put-{}", loose.name), "put-loose")
            .comment("fill in: how it goes in, which way round")
            .maybe_stage(stage.take())
            .with(&[("part", &loose.name), ("place", &place), ("how", "As the kit's sheet shows it.")])
            .uses(["loose.boxed"]);
        steps.add(block.leaves([in_place(&loose.name)]));
    }
    stage
}

/// Returns what has to hold of the loose parts of a holder before it closes over them.
pub(super) fn placed<'b>(build: &'b Build, holder: &'b Holder) -> impl Iterator<Item = String> + 'b {
    build.held_by(holder).map(|loose| in_place(&loose.name))
}

fn in_place(name: &str) -> String {
    format!("{name}.in-place")
}

//! A cap that is pushed on: tried, and set until it holds, while what sets it can still be come at.

use super::block::{Block, Steps};
use super::{dry, said};
use crate::draft::build::{Build, Closes, Holder, Part, Writes};
use crate::draft::style::Style;

/// Returns before which part the cap is tried: the first of those that close its far end; else after all.
pub(super) fn tried_before(style: Style, build: &Build) -> Option<usize> {
    let [_, cap] = build.tubes.as_slice() else { return None };
    if style.closes != Closes::PushCap {
        return None;
    }
    let is_last = |part: &&Part| part.tube == cap.name && part.end == cap.far.name;
    let n_last = build.parts.iter().rev().take_while(is_last).count();
    let first = build.parts.len() - n_last;
    (n_last > 0 && first > 0).then_some(first)
}

/// Tries how the cap holds, with what is pressed by then.
pub(super) fn try_it(steps: &mut Steps, style: Style, build: &Build, before: &[Part]) {
    let mut needs = joint(build, before);
    let mut stage = Some("Try how the cap holds");
    if style.writes == Writes::Nib && is_nib_seen_half_on(style, build) {
        steps.add(nib_home(style, build).maybe_stage(stage.take()).needs(&needs));
        steps.word("nib.home", "grip section and nib are tight in the pen");
        needs.push("nib.home".to_owned());
    }
    let block = Block::action("push-cap", "Push the cap home, three times.")
        .maybe_stage(stage)
        .says("why", "A cap is felt by its third time, not by its first.")
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("then = \"cap-holds\"")
        .needs(&needs)
        .gives(["closing.pushed"]);
    steps.add(block);
    // Off the path of a cap that holds, so they stand before the question that sends there.
    let set = |id: &str, text: &str| {
        Block::action(id, text)
            .comment("fill in: what this kit's cap is set by: tongues bent by a hair, a ring turned, a liner changed")
            .says("tell", "Three goes at most, the cap pushed home after each.")
            .says("why", "What holds a pushed cap wears, and is made to be set.")
            .line("minutes = 3")
            .says("at", "bench")
            .line("parts = [\"kit sheet\"]")
            .needs(&needs)
            .gives(["closing.pushed"])
    };
    let block = set("tighter", "Set the cap to hold harder, as the kit's sheet shows it.");
    steps.add(block.line("then = \"cap-holds\""));
    steps.add(set("looser", "Set the cap to hold less hard, as the kit's sheet shows it."));
    let answers = [
        "{ say = \"it stays, and comes off by hand\", gives = [\"closing.holds\"] }",
        "{ say = \"it falls off\", to = \"tighter\", undoes = [\"closing.pushed\"] }",
        "{ say = \"it takes the whole hand\", to = \"looser\", undoes = [\"closing.pushed\"] }",
        "{ say = \"cannot tell\", to = \"push-cap\", undoes = [\"closing.pushed\"] }",
    ];
    let asked = "Shaken once, held by the cap, and then pulled by two fingers, what does the cap do?";
    let block = Block::question("cap-holds", asked, &answers)
        .says("tell", "Over a cloth.")
        .says("why", &format!("A cap that drops off leaves {} bare in a pocket.", said::point(style)))
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("parts = [\"cloth\"]")
        .needs(["closing.pushed"])
        .leaves(["closing.holds"]);
    steps.add(block);
    steps.word("closing.pushed", "the cap was pushed home three times");
    steps.word("closing.holds", "the cap holds, and comes off by hand");
}

/// Returns what the cap meets, in conditions: what is in the cap, and what is in the end that goes into it.
///
/// A part at the pen's other end is no matter of the cap's: what becomes of it leaves the cap as it is.
fn joint(build: &Build, before: &[Part]) -> Vec<String> {
    let Some(front) = build.tubes.first() else { return Vec::new() };
    let meets = |part: &&Part| part.tube != front.name || part.end == front.near.name;
    before.iter().filter(meets).map(|part| format!("{}.pressed", part.name)).collect()
}

/// Tells whether the nib is in its place when the cap is tried, and is looked at under the clip with the cap half on.
pub(super) fn is_nib_seen_half_on(style: Style, build: &Build) -> bool {
    tried_before(style, build).is_some() && build.parts.iter().any(|part| build.is_clip(part))
}

/// Screws grip section and nib home.
pub(super) fn nib_home(style: Style, build: &Build) -> Block {
    let front = style.tubes()[0].name;
    Block::action("nib-home", &format!("Screw grip section with nib into the {front}, hand tight."))
        .says("why", "The nib writes only from its own place.")
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("parts = [\"grip section with nib\"]")
        .needs(dry::placed(build, &Holder::Writer))
        .gives(["nib.home"])
}

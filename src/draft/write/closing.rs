//! From a pen in one piece to its owner: it is closed, written with, looked over, handed over.

use super::block::{Block, Steps};
use super::{cap, dry, join, said};
use crate::draft::build::{Build, Closes, Holder, Top, Writes};
use crate::draft::style::Style;

/// Everything after the press, once all parts are known.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build) {
    if !build.is_whole() {
        return;
    }
    steps.heading("close it, write, hand it over");
    let pressed: Vec<String> = build.parts.iter().map(|part| format!("{}.pressed", part.name)).collect();
    let mut needs = pressed.clone();
    needs.extend(join::write(steps, style, build, &pressed));
    if style.closes == Closes::PushCap {
        if cap::tried_before(style, build).is_none() {
            cap::try_it(steps, style, build, &build.parts);
        }
        needs.push("closing.holds".to_owned());
    }
    last_look(steps, style, build, &needs);
    if build.has_cap_thread() {
        let block = Block::run("look-at-band", "look-at-band").uses(["pen.tight", "tapes.off", "band.seen"]);
        steps.add(block.leaves(["grain.looked"]));
    }
    match style.writes {
        Writes::Nib => write_with_nib(steps, style, build, &pressed),
        Writes::Pencil => write_with_lead(steps, build),
        Writes::Rollerball | Writes::Ballpoint => write_with_refill(steps, style, build),
    }
    let block = Block::run("hand-over", "hand-over")
        .comment("fill in: what the owner of such a pen is shown and told")
        .maybe_stage((style.writes != Writes::Nib).then_some("Hand it over"))
        .with(&[("say", &said::told(style, build))])
        .needs(["pen.ready-to-go"]);
    steps.add(block.leaves(["pen.handed-over"]));
}

fn write_with_refill(steps: &mut Steps, style: Style, build: &Build) {
    let (refill, (forward, back)) = (said::refill(style), said::to_and_fro(style));
    let block = Block::run("write", "try-writing")
        .stage("Write with it")
        .with(&[("refill", refill), ("forward", forward)])
        .needs(["pen.tight", "refill.writes"])
        .needs(dry::placed(build, &Holder::Writer));
    steps.add(block.leaves(["refill.in-pen", "pen.writes"]));
    if !style.closes.is_cap() {
        let block = Block::run("work", "try-mechanism")
            .with(&[("refill", refill), ("forward", forward), ("back", back)])
            .needs(["pen.writes"])
            .uses(["refill.in-pen"]);
        steps.add(block.leaves(["pen.hides"]));
    }
    let block = Block::run("change", "try-change").with(&[("refill", refill)]).needs(["pen.writes"]);
    let block = if style.closes.is_cap() { block } else { block.needs(["pen.hides"]) };
    steps.add(block.uses(["refill.in-pen"]).gives(["pen.ready-to-go"]));
    steps.word("pen.ready-to-go", "the pen is ready for its owner");
}

fn write_with_lead(steps: &mut Steps, build: &Build) {
    let block = Block::run("write", "try-lead")
        .comment("fill in: how the lead is brought out, if it is not by a button")
        .stage("Write with it")
        .with(&[("what", "pencil")])
        .needs(["pen.tight"])
        .needs(dry::placed(build, &Holder::Writer))
        .gives(["pen.ready-to-go"]);
    steps.add(block.leaves(["pencil.lead-works"]));
    steps.word("pen.ready-to-go", "the pencil is ready for its owner");
}

fn last_look(steps: &mut Steps, style: Style, build: &Build, needs: &[String]) {
    let Some(last) = build.parts.last() else { return };
    let block = Block::run("last-look", "last-look")
        .stage("Look the pen over")
        .with(&[("last", &last.name), ("writer", said::writer(style, build)), ("held", said::held(style.closes))])
        .needs(needs)
        .needs(build.tubes.iter().map(|tube| format!("{}.taped", tube.name)));
    // The mark for the clip is on the tape that comes off.
    let is_marked = build.top == Some(Top::WithClip) || build.parts.iter().any(|part| build.is_clip(part));
    let block = block.gives(build.has_cap_thread().then_some("band.seen"));
    let block = if is_marked { block.line("spoils = [\"clip.place-marked\"]") } else { block };
    steps.add(block.leaves(["pen.tight", "tapes.off"]));
}

fn write_with_nib(steps: &mut Steps, style: Style, build: &Build, pressed: &[String]) {
    const STAGE: &str = "Fill it and write";
    const KEPT: &str = "{ say = \"to one side, kept as it is\", gives = [\"clip.looked\", \"fillers.known\"] }";
    let looked = |asked: &str, answers: &[&str]| {
        Block::question("nib-looked", asked, answers)
            .comment("fill in: what the nib is looked at against: the clip over it, the mark on the wood")
            .says("tell", "Three looks at most. What is off goes on the pen's card, for the next pen; the card says which fillers fit.")
            .says("why", "What is seen now, with the card at hand, betters the next pen.")
            .line("minutes = 1")
            .says("at", "bench")
            .line("parts = [\"pen's card\", \"lamp\"]")
            .leaves(["clip.looked", "fillers.known"])
    };
    if cap::is_nib_seen_half_on(style, build) {
        let block = Block::action("half-on", "Push the cap half on, the grain in line at the band.")
            .stage(STAGE)
            .says("why", "Half on, both are seen in one line.")
            .line("minutes = 0.3")
            .says("at", "bench")
            .needs(["pen.tight", "nib.home"])
            .gives(["nib.seen"]);
        steps.add(block);
        let answers = [
            "{ say = \"nib straight in, under the clip\", gives = [\"clip.looked\", \"fillers.known\"] }",
            KEPT,
            "{ say = \"cannot tell\", to = \"half-on\", undoes = [\"nib.seen\"] }",
        ];
        steps.add(looked("Half drawn off, how do nib with clip stand?", &answers).needs(["nib.seen"]));
        steps.word("nib.seen", "the clip can be looked at over the nib");
    } else {
        steps.add(cap::nib_home(style, build).stage(STAGE).needs(pressed).needs(["pen.tight"]));
        let answers = [
            "{ say = \"right by the mark it was set to\", gives = [\"clip.looked\", \"fillers.known\"] }",
            KEPT,
            "{ say = \"cannot tell\", to = \"nib-home\", undoes = [\"nib.home\"] }",
        ];
        steps.add(looked("How does the nib's top stand in the finished pen?", &answers).needs(["nib.home"]));
        steps.word("nib.home", "grip section and nib are tight in the pen");
    }
    steps.word("clip.looked", "the nib was looked at in the finished pen");
    steps.word("fillers.known", "the card with its fillers is at hand");
    let block =
        Block::run("write", "write-fountain").needs(["nib.home", "clip.looked", "fillers.known"]).uses(["filler.fits"]);
    steps.add(block.leaves(["pen.starts"]));
    let give = Block::run("give", "give-fountain").stage("Hand it over");
    steps.add(give.uses(["pen.starts"]).leaves(["pen.ready-to-go"]));
}

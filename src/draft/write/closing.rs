//! From a pen in one piece to its owner: it is closed, written with, looked over, handed over.

use super::block::{Block, Steps};
use super::said;
use crate::draft::build::{Build, Closes, Writes};
use crate::draft::style::Style;

/// Everything after the press, once all parts are known.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build) {
    if !build.is_whole() {
        return;
    }
    steps.heading("close it, write, hand it over");
    let pressed: Vec<String> = build.parts.iter().map(|part| format!("{}.pressed", part.name)).collect();
    let mut needs = pressed.clone();
    if let ([front, rear], false) = (build.tubes.as_slice(), style.closes.is_cap()) {
        join(steps, rear.name, front.name, &pressed);
        needs.push(format!("{}.in-line", rear.name));
    }
    if style.closes == Closes::PushCap {
        push_cap(steps, style, &pressed);
        needs.push("closing.holds".to_owned());
    }
    last_look(steps, style, build, &needs);
    if build.has_cap_thread() {
        let block = Block::run("band", "look-at-band").uses(["pen.tight", "tapes.off", "band.seen"]);
        steps.add(block.leaves(["grain.looked"]));
    }
    match style.writes {
        Writes::Nib => write_with_nib(steps, &pressed),
        Writes::Pencil => write_with_lead(steps),
        Writes::Rollerball | Writes::Ballpoint => write_with_refill(steps, style),
    }
    let block = Block::run("hand-over", "hand-over")
        .comment("fill in: what the owner of such a pen is shown and told")
        .stage("Hand it over")
        .with(&[("say", said::told(style))])
        .needs(["pen.ready-to-go"]);
    steps.add(block.leaves(["pen.handed-over"]));
}

/// Puts the two halves of a pen without a cap together, and brings their grain into line.
fn join(steps: &mut Steps, rear: &str, front: &str, pressed: &[String]) {
    let block = Block::action("join-halves", "Join both halves by hand.")
        .comment("fill in: how they join in this kit: pushed on the mechanism, or screwed together")
        .stage("Put it together")
        .line("caution = [{ level = \"notice\", hazard = \"A press used here drives parts too deep and spoils the pen.\", avoid = \"By hand only.\" }]")
        .says("tell", "As the kit's sheet shows it, until wood or band meets.")
        .says("why", "By hand they go on and come off; what writes is changed that way.")
        .line("minutes = 1")
        .says("at", "bench")
        .needs(pressed)
        .gives(["halves.joined"]);
    steps.add(block);
    steps.word("halves.joined", "both halves are joined, by hand");
    let block = Block::run("into-line", "bring-into-line")
        .with(&[("one", rear), ("other", front), ("marks", "the marks on their tapes")])
        .needs(["halves.joined"]);
    steps.add(block.leaves([format!("{rear}.in-line")]));
}

fn write_with_refill(steps: &mut Steps, style: Style) {
    let (refill, (forward, back)) = (said::refill(style), said::to_and_fro(style));
    let block = Block::run("write", "try-writing")
        .stage("Write with it")
        .with(&[("refill", refill), ("forward", forward)])
        .needs(["pen.tight", "refill.writes"]);
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

fn write_with_lead(steps: &mut Steps) {
    let block = Block::run("write", "try-lead")
        .comment("fill in: how the lead is brought out, if it is not by a button")
        .stage("Write with it")
        .with(&[("what", "pencil")])
        .needs(["pen.tight"])
        .gives(["pen.ready-to-go"]);
    steps.add(block.leaves(["pencil.lead-works"]));
    steps.word("pen.ready-to-go", "the pencil is ready for its owner");
}

fn last_look(steps: &mut Steps, style: Style, build: &Build, needs: &[String]) {
    let Some(last) = build.parts.last() else { return };
    let block = Block::run("last-look", "last-look")
        .stage("Look the pen over")
        .with(&[("last", &last.name), ("writer", said::writer(style)), ("held", said::held(style.closes))])
        .needs(needs)
        .needs(build.tubes.iter().map(|tube| format!("{}.taped", tube.name)));
    let block = block.gives(build.has_cap_thread().then_some("band.seen"));
    steps.add(block.leaves(["pen.tight", "tapes.off"]));
}

fn write_with_nib(steps: &mut Steps, pressed: &[String]) {
    let block = Block::action("nib-home", "Screw grip section with nib into the pen, hand tight.")
        .stage("Fill it and write")
        .says("why", "The nib writes only from its own place.")
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("parts = [\"grip section with nib\"]")
        .needs(pressed)
        .needs(["pen.tight"])
        .gives(["nib.home"]);
    steps.add(block);
    let answers = [
        "{ say = \"right by the mark it was set to\", gives = [\"clip.looked\", \"fillers.known\"] }",
        "{ say = \"to one side, kept as it is\", gives = [\"clip.looked\", \"fillers.known\"] }",
        "{ say = \"cannot tell\", to = \"nib-home\", undoes = [\"nib.home\"] }",
    ];
    let block = Block::question("nib-looked", "How does the nib's top stand in the finished pen?", &answers)
        .comment("fill in: what the nib is looked at against: the clip over it, the mark on the wood")
        .says("tell", "Three looks at most. What is off goes on the pen's card, for the next pen; the card says which fillers fit.")
        .says("why", "What is seen now, with the card at hand, betters the next pen.")
        .line("minutes = 1")
        .says("at", "bench")
        .line("parts = [\"pen's card\", \"lamp\"]")
        .needs(["nib.home"])
        .leaves(["clip.looked", "fillers.known"]);
    steps.add(block);
    steps.word("nib.home", "grip section and nib are tight in the pen");
    steps.word("clip.looked", "the nib was looked at in the finished pen");
    steps.word("fillers.known", "the card with its fillers is at hand");
    let block =
        Block::run("write", "write-fountain").needs(["nib.home", "clip.looked", "fillers.known"]).uses(["filler.fits"]);
    steps.add(block.leaves(["pen.starts"]));
    steps.add(Block::run("give", "give-fountain").uses(["pen.starts"]).leaves(["pen.ready-to-go"]));
}

fn push_cap(steps: &mut Steps, style: Style, pressed: &[String]) {
    let block = Block::action("push-cap", "Push the cap home, three times.")
        .stage("Try the cap")
        .says("why", "A cap is felt by its third time, not by its first.")
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("then = \"cap-holds\"")
        .needs(pressed)
        .gives(["closing.pushed"]);
    steps.add(block);
    // Off the path of a cap that holds, so it stands before the question that sends there.
    let block = Block::action("set-cap", "Set how hard the cap holds, as the kit's sheet shows it.")
        .comment("fill in: what this kit's cap is set by: tongues bent by a hair, a ring turned, a liner changed")
        .says("why", "What holds a pushed cap wears, and is made to be set.")
        .line("minutes = 3")
        .says("at", "bench")
        .line("parts = [\"kit sheet\"]")
        .needs(pressed)
        .gives(["closing.pushed"]);
    steps.add(block);
    let answers = [
        "{ say = \"it stays on, and comes off by hand\", gives = [\"closing.holds\"] }",
        "{ say = \"it drops off, or will not come\", to = \"set-cap\", undoes = [\"closing.pushed\"] }",
        "{ say = \"cannot tell\", to = \"push-cap\", undoes = [\"closing.pushed\"] }",
    ];
    let block = Block::question("cap-holds", "How does the pushed cap hold?", &answers)
        .says("tell", "Pen held by its cap, shaken once over a cloth. Three rounds at most.")
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

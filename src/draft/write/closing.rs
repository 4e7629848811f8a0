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
        let block = Block::run("into-line", "bring-into-line")
            .stage("Bring the grain into line")
            .with(&[("one", rear.name), ("other", front.name)])
            .needs(&pressed);
        let in_line = format!("{}.in-line", rear.name);
        steps.add(block.leaves([&in_line]));
        needs.push(in_line);
    }
    if style.closes == Closes::PushCap {
        push_cap(steps, &pressed);
        needs.push("cap.holds".to_owned());
    }
    let writes = match style.writes {
        Writes::Nib => {
            last_look(steps, style, build, &needs);
            write_with_nib(steps, &pressed);
            "pen.starts"
        }
        Writes::Rollerball | Writes::Ballpoint | Writes::Pencil => {
            let (refill, (forward, back)) = (said::refill(style), said::to_and_fro(style));
            let block = Block::run("try-pen", "try-writer")
                .stage("Write with it")
                .with(&[("refill", refill), ("forward", forward), ("back", back)])
                .needs(&needs)
                .uses([format!("{refill}.writes")]);
            steps.add(block.leaves(["pen.writes", "pen.hides", &format!("{refill}.changes")]));
            last_look(steps, style, build, &needs);
            "pen.writes"
        }
    };
    let block = Block::action("wipe-pen", "Wipe the pen clean with a dry soft cloth.")
        .comment("fill in: what else this kit wants before it is given away, such as an empty nib or a spare refill")
        .stage("Hand it over")
        .says("why", "Pencil, wax and fingers show in the box.")
        .line("minutes = 1")
        .says("at", "desk")
        .line("parts = [\"soft cloth\"]")
        .needs(["pen.tight", "tapes.off", writes])
        .gives(["pen.ready-to-go"]);
    steps.add(block);
    steps.word("pen.ready-to-go", "the pen is ready for its owner");
    let block = Block::run("hand-over", "hand-over").with(&[("say", said::told(style))]).uses(["pen.ready-to-go"]);
    steps.add(block.leaves(["pen.handed-over"]));
}

fn last_look(steps: &mut Steps, style: Style, build: &Build, needs: &[String]) {
    let Some(last) = build.parts.last() else { return };
    let block = Block::run("last-look", "last-look")
        .stage("Look the pen over")
        .with(&[("last", &last.name), ("writer", said::writer(style)), ("held", said::held(style.closes))])
        .needs(needs);
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
    let block = Block::run("write", "write-fountain").needs(["nib.home", "clip.looked", "fillers.known"]).uses(["filler.fits"]);
    steps.add(block.leaves(["pen.starts"]));
}

fn push_cap(steps: &mut Steps, pressed: &[String]) {
    let block = Block::action("push-cap", "Push the cap home, three times.")
        .stage("Try the cap")
        .says("why", "A cap is felt by its third time, not by its first.")
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("then = \"cap-holds\"")
        .needs(pressed)
        .gives(["cap.pushed"]);
    steps.add(block);
    // Off the path of a cap that holds, so it stands before the question that sends there.
    let block = Block::action("set-cap", "Set how hard the cap holds, as the kit's sheet shows it.")
        .comment("fill in: what this kit's cap is set by: tongues bent by a hair, a ring turned, a liner changed")
        .says("why", "What holds a pushed cap wears, and is made to be set.")
        .line("minutes = 3")
        .says("at", "bench")
        .line("parts = [\"kit sheet\"]")
        .needs(pressed)
        .gives(["cap.pushed"]);
    steps.add(block);
    let answers = [
        "{ say = \"it stays on, and comes off by hand\", gives = [\"cap.holds\"] }",
        "{ say = \"it drops off, or will not come\", to = \"set-cap\", undoes = [\"cap.pushed\"] }",
        "{ say = \"cannot tell\", to = \"push-cap\", undoes = [\"cap.pushed\"] }",
    ];
    let block = Block::question("cap-holds", "How does the pushed cap hold?", &answers)
        .says("tell", "Pen held by its cap, shaken once over a cloth. Three rounds at most.")
        .says("why", "A cap that drops off leaves a nib bare in a pocket.")
        .line("minutes = 0.5")
        .says("at", "bench")
        .line("parts = [\"cloth\"]")
        .needs(["cap.pushed"])
        .leaves(["cap.holds"]);
    steps.add(block);
    steps.word("cap.pushed", "the cap was pushed home three times");
    steps.word("cap.holds", "the cap holds, and comes off by hand");
}

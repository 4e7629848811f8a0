//! What goes on by hand after the press: the other half of a pen without a cap, or a top part.

use super::block::{Block, Steps};
use super::dry;
use super::pressing::by_face_line;
use crate::draft::build::{Build, Holder, Top};
use crate::draft::style::Style;

/// Puts the pen together; returns what has to hold after it.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build, pressed: &[String]) -> Vec<String> {
    match (build.tubes.as_slice(), style.closes.is_cap()) {
        ([front, rear], false) => halves(steps, style, build, (front.name, rear.name), pressed),
        ([barrel], false) => match build.top {
            Some(top @ (Top::WithClip | Top::Plain)) => on_mechanism(steps, barrel.name, barrel.far.name, top, pressed),
            _ => Vec::new(),
        },
        _ => Vec::new(),
    }
}

/// Puts the two halves together, and brings their grain into line.
fn halves(
    steps: &mut Steps,
    style: Style,
    build: &Build,
    (front, rear): (&str, &str),
    pressed: &[String],
) -> Vec<String> {
    let stage = dry::put_loose(steps, style, build, &Holder::Halves, Some("Put it together"));
    let placed: Vec<String> = dry::placed(build, &Holder::Halves).collect();
    let is_on_mechanism = build.mechanism().is_some_and(|part| part.tube == front);
    let joined = if is_on_mechanism {
        let until = build.held_by(&Holder::Halves).next().map_or("wood", |loose| loose.name.as_str());
        let block = Block::run("join", "push-on-mechanism")
            .comment("fill in: how the halves join in this kit, if not by a push on the mechanism")
            .maybe_stage(stage)
            .with(&[("one", rear), ("other", front), ("until", until)]);
        let block = block.uses(["mechanism.tip-right", "mechanism.tip-hides"]);
        steps.add(block.needs(pressed).needs(placed).leaves([format!("{rear}.holds")]));
        format!("{rear}.holds")
    } else {
        let block = Block::action("join", "Join both halves by hand.")
            .comment("fill in: how they join in this kit: pushed on the mechanism, or screwed together")
            .maybe_stage(stage)
            .line("caution = [{ level = \"notice\", hazard = \"A press used here drives parts too deep and spoils the pen.\", avoid = \"By hand only.\" }]")
            .says("tell", "As the kit's sheet shows it, until wood or band meets.")
            .says("why", "By hand they go on and come off; what writes is changed that way.")
            .line("minutes = 1")
            .says("at", "bench")
            .needs(pressed)
            .needs(placed)
            .gives(["halves.joined"]);
        steps.add(block);
        steps.word("halves.joined", "both halves are joined, by hand");
        "halves.joined".to_owned()
    };
    let block = Block::run("line-up", "bring-into-line")
        .with(&[("one", rear), ("other", front), ("marks", "the marks on their tapes")])
        .needs([joined]);
    let in_line = format!("{rear}.in-line");
    steps.add(block.leaves([&in_line]));
    vec![in_line]
}

/// Pushes a top part on the mechanism of a pen with one tube, its clip to the face mark.
fn on_mechanism(steps: &mut Steps, barrel: &str, end: &str, top: Top, pressed: &[String]) -> Vec<String> {
    let has_clip = top == Top::WithClip;
    let mut stage = Some("Put the top part on");
    if has_clip {
        steps.add(by_face_line(barrel, end).maybe_stage(stage.take()));
        steps.word("clip.place-marked", "the clip's place is marked on the tape");
    }
    let block = Block::run("top-on", "push-on-mechanism")
        .maybe_stage(stage)
        .with(&[("one", "top"), ("other", barrel), ("until", "wood")])
        .needs(pressed)
        .needs(has_clip.then_some("clip.place-marked"))
        .uses(["mechanism.tip-right", "mechanism.tip-hides"]);
    steps.add(block.leaves(["top.holds"]));
    if !has_clip {
        return vec!["top.holds".to_owned()];
    }
    let block = Block::run("line-up", "bring-into-line")
        .with(&[("one", "top"), ("other", barrel), ("marks", "clip, mark on the tape")])
        .needs(["top.holds", "clip.place-marked"]);
    steps.add(block.leaves(["top.in-line"]));
    vec!["top.in-line".to_owned()]
}

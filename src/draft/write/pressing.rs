//! From taped wood to a pen in one piece: what writes is tried, then the parts, then each is pressed in its order.

use super::block::{Block, Steps};
use super::said;
use crate::draft::build::{Build, Home, Part, Writes};
use crate::draft::style::Style;

/// Everything up to the last part that is pressed, as far as the parts are known.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build) {
    if !build.is_measured() || build.parts.is_empty() {
        return;
    }
    steps.heading("try it dry");
    try_writer(steps, style, build);
    try_parts(steps, build);
    steps.heading("press");
    if build.has_cap_thread() {
        let block = Block::run("count-starts", "count-starts").stage("Know the thread").uses(["parts.laid-out"]);
        steps.add(block.leaves(["starts.known"]));
    }
    let bare = build.tubes.iter().filter(|tube| build.parts.iter().all(|part| part.tube != tube.name));
    let block = Block::run("ready-press", "ready-press")
        .stage("Ready the press")
        .with(&[("ways", &said::ways_out(&build.parts, &build.tubes))])
        .needs(bare.map(|tube| format!("{}.rags-out", tube.name)))
        .uses(["parts.laid-out"]);
    steps.add(block.leaves(["ways-out.known", "press.padded"]));
    for (n, part) in build.parts.iter().enumerate() {
        press(steps, style, build, part, &build.parts[..n]);
    }
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

fn try_parts(steps: &mut Steps, build: &Build) {
    for tube in &build.tubes {
        let name = tube.name;
        let parts: Vec<String> =
            build.parts.iter().filter(|part| part.tube == name).map(|part| format!("the {}", part.name)).collect();
        if parts.is_empty() {
            continue;
        }
        let block = Block::run(&format!("try-{name}-parts"), "try-parts")
            .stage(&format!("Try the {name}'s press parts"))
            .with(&[("tube", &format!("kit.tube.{name}")), ("parts", &parts.join(", "))])
            .needs([format!("{name}.rags-out")]);
        steps.add(block.leaves([format!("{name}.parts-start")]));
    }
}

/// Presses one part: by a procedure made for just it where there is one, else lined up and pressed as any other.
fn press(steps: &mut Steps, style: Style, build: &Build, part: &Part, before: &[Part]) {
    let pressed: Vec<String> = before.iter().map(|part| format!("{}.pressed", part.name)).collect();
    let name = part.name.as_str();
    let tube = format!("kit.tube.{}", part.tube);
    let id = format!("press-{name}");
    let stage = format!("Press the {name}");
    let of_tube = |what: &str| format!("{}.{what}", part.tube);
    // The tape stays on to the last look: a part that came out is set back by its mark.
    let all = [of_tube("parts-start"), "press.padded".to_owned(), "ways-out.known".to_owned()];
    let home = format!("{name}.pressed");
    if build.is_nib_coupler(part) {
        let block = Block::run(&id, "press-nib-coupler").stage(&stage).with(&[("tube", &tube)]).needs(pressed);
        steps.add(block.needs(["filler.fits"]).uses(all).uses(["nib.rinsed"]).leaves([home]));
        return;
    }
    if build.is_cap_thread(part) {
        let body = format!("kit.tube.{}", build.tubes[0].name);
        let rim = format!("kit.rim.{}", part.end);
        let block = Block::run(&id, "press-cap-thread").stage(&stage);
        let block = block.with(&[("cap", &tube), ("body", &body), ("rim", &rim)]).needs(pressed);
        steps.add(block.uses(all).uses(["starts.known"]).leaves([home.clone()]));
        let block = Block::run("find-stop", "find-cap-stop").stage("Find where the cap stops").uses([home]);
        steps.add(block.leaves(["cap.stop-known"]));
        return;
    }
    let other = said::other_end(part, &build.tubes);
    let foot = format!("{other} end");
    let out = said::way_out(part.out, other);
    let mut with = vec![("tube", tube.as_str()), ("mouth", part.end)];
    if build.is_clip(part) {
        mark_clip(steps, style, build, part, before);
        with.extend([("foot", foot.as_str()), ("out", out.as_str())]);
        let block = Block::run(&id, "press-clip").stage(&stage).with(&with).needs(pressed).needs(["clip.place-marked"]);
        steps.add(block.uses(all).leaves([home]));
        return;
    }
    let mut needs = pressed;
    if let Some((face, to)) = said::face(part.faces) {
        let block = Block::run(&format!("face-{name}"), "turn-to-face")
            .stage(&format!("Set what the {name} faces"))
            .with(&[("tube", &tube), ("part", name), ("face", face), ("to", to)])
            .uses([of_tube("parts-start")]);
        steps.add(block.leaves([format!("{name}.faces")]));
        needs.push(format!("{name}.faces"));
    }
    with.extend([("part", name), ("foot", foot.as_str()), ("out", out.as_str())]);
    match part.home {
        Home::Rim => {
            let block = Block::run(&id, "press-part").stage(&stage).with(&with).needs(needs);
            steps.add(block.uses(all).leaves([home]));
        }
        Home::Depth => {
            let (refill, (forward, back)) = (said::refill(style), said::to_and_fro(style));
            let stop = format!("kit.stop.{name}");
            with.extend([("stop", stop.as_str()), ("refill", refill), ("forward", forward), ("back", back)]);
            let block = Block::run(&id, "press-to-depth")
                .comment("fill in: the sheet's own way of finding the depth, where it has one")
                .stage(&stage)
                .with(&with)
                .needs(needs);
            let leaves = [home, format!("{name}.tip-right"), format!("{name}.tip-hides")];
            steps.add(block.uses(all).uses([format!("{refill}.writes")]).leaves(leaves));
        }
    }
}

/// Marks where the clip goes: over the nib where a capped pen has one, else on the face line.
fn mark_clip(steps: &mut Steps, style: Style, build: &Build, part: &Part, before: &[Part]) {
    let has_nib = style.writes == Writes::Nib && before.iter().any(|part| build.is_nib_coupler(part));
    let has_stop = before.iter().any(|part| build.is_cap_thread(part));
    let fill_in = "fill in: where this kit's clip is to stand, if it is another place";
    let block = match has_nib && has_stop {
        true => Block::action("mark-clip", "At the cap's let-go, mark its tape over the nib's top.")
            .comment(fill_in)
            .stage("Mark the clip's place")
            .says("why", "Set here, the clip stands over the nib each time the cap goes on.")
            .line("minutes = 1")
            .says("at", "bench")
            .line("parts = [\"low-tack tape\", \"pencil\", \"grip section with nib\"]")
            .needs(["coupler.pressed"])
            .gives(["clip.place-marked"]),
        false => Block::run("mark-clip", "mark-clip")
            .comment(fill_in)
            .stage("Mark the clip's place")
            .with(&[("tube", &format!("kit.tube.{}", part.tube)), ("end", part.end)])
            .leaves(["clip.place-marked"]),
    };
    steps.add(block.needs(has_stop.then_some("cap.stop-known")));
    steps.word("clip.place-marked", "the clip's place is marked on the tape");
}

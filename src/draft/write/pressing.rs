//! From taped wood to a pen in one piece: the parts are tried by hand, then each is pressed in its order.

use super::block::{Block, Steps};
use super::{cap, dry, said};
use crate::draft::build::{Build, Holder, Home, Part, Writes};
use crate::draft::style::Style;

/// Everything up to the last part that is pressed, as far as the parts are known.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build) {
    if !build.is_measured() || build.parts.is_empty() {
        return;
    }
    steps.heading("press");
    try_parts(steps, build);
    let bare = build.tubes.iter().filter(|tube| build.parts.iter().all(|part| part.tube != tube.name));
    let block = Block::run("ready-press", "ready-press")
        .stage("Ready the press")
        .with(&[("ways", &said::ways_out(&build.parts, &build.tubes))])
        .needs(bare.map(|tube| format!("{}.rags-out", tube.name)))
        .uses(["parts.laid-out"]);
    steps.add(block.leaves(["ways-out.known", "press.padded"]));
    // What writes is put in, or a depth is tried with it, from here on.
    dry::put_loose(steps, style, build, &Holder::Writer, None);
    let tried = cap::tried_before(style, build);
    for n in 0..build.parts.len() {
        if tried == Some(n) {
            cap::try_it(steps, style, build, &build.parts[..n]);
        }
        press(steps, style, build, n, tried.is_some_and(|tried| tried <= n));
    }
}

fn try_parts(steps: &mut Steps, build: &Build) {
    let mut stage = Some("Try the press parts");
    for tube in &build.tubes {
        let name = tube.name;
        let parts: Vec<String> =
            build.parts.iter().filter(|part| part.tube == name).map(|part| said::called(&part.name)).collect();
        if parts.is_empty() {
            continue;
        }
        let block = Block::run(&format!("try-{name}-parts"), "try-parts")
            .maybe_stage(stage.take())
            .with(&[("tube", &format!("kit.tube.{name}")), ("parts", &parts.join(", "))])
            .needs([format!("{name}.rags-out")]);
        steps.add(block.leaves([format!("{name}.parts-start")]));
    }
}

/// Presses one part: by a procedure made for just it where there is one, else lined up and pressed as any other.
fn press(steps: &mut Steps, style: Style, build: &Build, n: usize, is_cap_tried: bool) {
    let (before, part) = (&build.parts[..n], &build.parts[n]);
    let holder = Holder::Part(part.name.clone());
    let name = part.name.as_str();
    let stage = format!("Press the {name}");
    let stage = dry::put_loose(steps, style, build, &holder, Some(&stage));
    let tube = format!("kit.tube.{}", part.tube);
    let of_tube = |what: &str| format!("{}.{what}", part.tube);
    // What is in the same piece by then, and for a cap's thread what it is tried on. A piece that has to be made anew
    // leaves the other as it is.
    let at_joint = |there: &Part| build.is_cap_thread(part) && there.end == build.tubes[0].near.name;
    let in_piece = before.iter().filter(|there| there.tube == part.tube || at_joint(there));
    let needs: Vec<String> = in_piece
        .map(|part| format!("{}.pressed", part.name))
        .chain(dry::placed(build, &holder))
        .chain(is_cap_tried.then(|| "closing.holds".to_owned()))
        .collect();
    // The tape stays on to the last look: a part that came out is set back by its mark.
    let all = [of_tube("parts-start"), "press.padded".to_owned(), "ways-out.known".to_owned()];
    let home = format!("{name}.pressed");
    let run = |procedure: &str, stage: Option<&str>| Block::run(&format!("press-{name}"), procedure).maybe_stage(stage);
    if build.is_nib_coupler(part) {
        let block = run("press-nib-coupler", stage).with(&[("tube", &tube)]).needs(needs);
        steps.add(block.needs(["filler.fits"]).uses(all).uses(["nib.rinsed"]).leaves([home]));
        return;
    }
    if build.is_cap_thread(part) {
        let body = format!("kit.tube.{}", build.tubes[0].name);
        let rim = format!("kit.rim.{}", part.end);
        let block = run("press-cap-thread", stage).with(&[("cap", &tube), ("body", &body), ("rim", &rim)]).needs(needs);
        steps.add(block.uses(all).uses(["starts.known"]).leaves([home.clone()]));
        let block = Block::run("find-stop", "find-cap-stop").stage("Find where the cap stops").uses([home]);
        steps.add(block.leaves(["cap.stop-known"]));
        return;
    }
    let foot = said::foot(part, before, &build.tubes);
    let out = said::way_out(part.out, part.past.as_ref(), said::other_end(part, &build.tubes));
    let mut with = vec![("tube", tube.as_str()), ("mouth", part.end)];
    if build.is_clip(part) {
        mark_clip(steps, style, build, (part, before), stage);
        with.extend([("foot", foot.as_str()), ("out", out.as_str())]);
        let block = run("press-clip", None).with(&with).needs(needs).needs(["clip.place-marked"]);
        steps.add(block.uses(all).leaves([home]));
        return;
    }
    let mut faces = None;
    let mut stage = stage;
    if let Some((face, to)) = said::face(part.faces) {
        let block = Block::run(&format!("face-{name}"), "turn-to-face")
            .maybe_stage(stage.take())
            .with(&[("tube", &tube), ("part", name), ("face", face), ("to", to)])
            .uses([of_tube("parts-start")]);
        steps.add(block.leaves([format!("{name}.faces")]));
        faces = Some(format!("{name}.faces"));
    }
    with.extend([("part", name), ("foot", foot.as_str()), ("out", out.as_str())]);
    match part.home {
        Home::Rim => {
            let block = run("press-part", stage).with(&with).needs(needs).needs(faces);
            steps.add(block.uses(all).leaves([home]));
        }
        Home::Depth => {
            let (refill, (forward, back)) = (said::refill(style), said::to_and_fro(style));
            let stop = format!("kit.stop.{name}");
            with.extend([("stop", stop.as_str()), ("refill", refill), ("forward", forward), ("back", back)]);
            let block = run("press-to-depth", stage)
                .comment("fill in: the sheet's own way of finding the depth, where it has one")
                .with(&with)
                .needs(needs)
                .needs(faces)
                .needs(dry::placed(build, &Holder::Writer));
            let leaves = [home, format!("{name}.tip-right"), format!("{name}.tip-hides")];
            steps.add(block.uses(all).uses([format!("{refill}.writes")]).leaves(leaves));
        }
    }
}

/// Marks where the clip goes: over the nib where a capped pen has one, else on the face line.
fn mark_clip(steps: &mut Steps, style: Style, build: &Build, (part, before): (&Part, &[Part]), stage: Option<&str>) {
    let has_nib = style.writes == Writes::Nib && before.iter().any(|part| build.is_nib_coupler(part));
    let has_stop = before.iter().any(|part| build.is_cap_thread(part));
    let block = match has_nib && has_stop {
        true => Block::action("mark-clip", "At the cap's let-go, mark its tape over the nib's top.")
            .comment(CLIP_PLACE)
            .says("why", "Set here, the clip stands over the nib each time the cap goes on.")
            .line("minutes = 1")
            .says("at", "bench")
            .line("parts = [\"low-tack tape\", \"pencil\", \"grip section with nib\"]")
            .needs(["coupler.pressed"])
            .gives(["clip.place-marked"]),
        false => by_face_line(part.tube, part.end),
    };
    steps.add(block.maybe_stage(stage).needs(has_stop.then_some("cap.stop-known")));
    steps.word("clip.place-marked", "the clip's place is marked on the tape");
}

const CLIP_PLACE: &str = "fill in: where this kit's clip is to stand, if it is another place";

/// Marks the clip's place on the face line.
pub(super) fn by_face_line(tube: &str, end: &str) -> Block {
    Block::run("mark-clip", "mark-clip")
        .comment(CLIP_PLACE)
        .with(&[("tube", &format!("kit.tube.{tube}")), ("end", end)])
        .leaves(["clip.place-marked"])
}

//! From the bag to finished wood: measure, choose, cut, drill, glue, square, turn, finish.

use super::block::{Block, Steps};
use super::{dry, said};
use crate::draft::build::{Build, Figure, Tube};
use crate::draft::style::Style;

/// The kit read and laid out.
pub(super) fn read_kit(steps: &mut Steps, style: Option<Style>) {
    steps.heading("before cutting");
    let block = Block::run("read-kit", "read-kit").with(&[("time", said::time(style))]);
    steps.add(block.leaves(["parts.laid-out", "caliper.zero", "tubes.at-hand"]));
}

/// Everything up to the taped pieces, as far as the figures are known.
pub(super) fn write(steps: &mut Steps, style: Style, build: &Build) {
    measure(steps, build);
    dry::write(steps, style, build);
    if !build.is_measured() {
        return;
    }
    choose(steps, build);
    cut(steps, build);
    glue(steps, build);
    turn(steps, build);
}

fn tube_path(tube: &Tube) -> String {
    format!("kit.tube.{}", tube.name)
}

fn measure(steps: &mut Steps, build: &Build) {
    let known: Vec<&Tube> = build.tubes.iter().filter(|tube| tube.figures.is_some()).collect();
    for (n, tube) in known.iter().enumerate() {
        let name = tube.name;
        let block = Block::run(&format!("measure-{name}"), "measure-tube")
            .with(&[("tube", &tube_path(tube))])
            .needs(["parts.laid-out"])
            .uses(["caliper.zero", "tubes.at-hand"])
            .leaves(["outside", "length", "bit", "gap"].map(|what| format!("{name}.{what}-known")));
        let is_last = n + 1 == build.tubes.len();
        let others = known[..n].iter().filter(|_| is_last).map(|other| format!("{}.length-known", other.name));
        steps.add(block.needs(others).gives(is_last.then_some("tubes.measured")));
        if is_last {
            steps.word("tubes.measured", "each tube is measured");
        }
    }
}

/// The pieces in the order in which they lie in the blank: the rear one first, so that the grain runs on to the front.
fn in_the_blank(build: &Build) -> impl Iterator<Item = &Tube> {
    build.tubes.iter().rev()
}

fn order(build: &Build) -> String {
    let mut names: Vec<&str> = in_the_blank(build).map(|tube| tube.name).collect();
    names.push("tail");
    names.join(", ")
}

fn choose(steps: &mut Steps, build: &Build) {
    let pieces: Vec<String> = in_the_blank(build).map(|tube| format!("{{{}.length}}", tube_path(tube))).collect();
    let ends = build.tubes.iter().flat_map(|tube| [&tube.near, &tube.far]);
    let mm = |across: &Option<Figure>| across.as_ref().map_or(0.0, Figure::in_mm);
    let widest = ends.max_by(|a, b| mm(&a.across).total_cmp(&mm(&b.across)));
    let widest = format!("kit.rim.{}", widest.map_or("band", |end| end.name));
    let block = Block::run("choose-blank", "choose-blank")
        .stage("Choose the blank")
        .with(&[("pieces", &pieces.join(", ")), ("order", &order(build)), ("widest", &widest)])
        .needs(["tubes.measured"])
        .uses(["parts.laid-out", "caliper.zero"])
        .uses(build.tubes.iter().map(|tube| format!("{}.length-known", tube.name)))
        .leaves(["blank.true", "blank.cuts-known", "wood.dry", "wood.safe", "wood.kind-written"]);
    steps.add(block);
    let block = Block::run("choose-face", "choose-face")
        .comment("fill in: what the face is for in this kit, such as a clip or a nib that it is set to")
        .stage("Mark the blank")
        .with(&[("use", "shows while writing")])
        .needs(["wood.kind-written", "wood.safe", "wood.dry", "blank.true"]);
    steps.add(block.leaves(["face.chosen"]));
}

fn cut(steps: &mut Steps, build: &Build) {
    let tubes: Vec<&Tube> = in_the_blank(build).collect();
    let show = match tubes.as_slice() {
        [rear, front] => format!("near the band, where {} meets {}", rear.name, front.name),
        _ => "in the middle".to_owned(),
    };
    let block = Block::run("mark-out", "mark-out").with(&[("order", &order(build)), ("show", &show)]);
    steps.add(block.uses(["face.chosen", "blank.cuts-known"]).leaves(["pieces.lined", "face.lined"]));
    for tube in &tubes {
        let end = match (tubes.len(), tube.near.name) {
            (2, "band") => "the band".to_owned(),
            (2, other) => format!("the band, which is its {other} end"),
            (_, only) => format!("its {only} end"),
        };
        let block = Block::run(&format!("mark-{}", tube.name), "mark-piece")
            .with(&[("tube", &tube_path(tube)), ("end", &end)])
            .uses(["face.lined"])
            .leaves([format!("{}.written", tube.name)]);
        steps.add(block);
    }
    for (n, tube) in tubes.iter().enumerate() {
        let next = tubes.get(n + 1).map_or("tail", |next| next.name);
        let mut block = Block::run(&format!("saw-{}", tube.name), "saw-piece");
        if n == 0 {
            block = block.stage("Saw the blank");
        }
        let block = block
            .with(&[("tube", &tube_path(tube)), ("next", next)])
            .needs(tubes[n..].iter().map(|tube| format!("{}.written", tube.name)))
            .uses(["blank.cuts-known", "face.lined", "pieces.lined"])
            .leaves([format!("{}.lined", tube.name)]);
        steps.add(block);
    }
}

fn glue(steps: &mut Steps, build: &Build) {
    steps.heading("drill and glue");
    let lined = build.tubes.iter().map(|tube| format!("{}.lined", tube.name));
    let block = Block::run("know-glue", "know-glue").stage("Know the glue").needs(lined).uses(["parts.laid-out"]);
    steps.add(block.leaves(["glue.open-known", "glue.warmth-known"]));
    for tube in &build.tubes {
        let (name, path) = (tube.name, tube_path(tube));
        let of = |what: &str| format!("{name}.{what}");
        let drill = Block::run(&format!("drill-{name}"), "drill-piece")
            .stage(&format!("Try the {name} bit"))
            .with(&[("tube", &path)])
            .needs([of("lined")])
            .uses(["bit-known", "gap-known"].map(of));
        steps.add(drill.leaves([of("cool")]));
        let glue = Block::run(&format!("glue-{name}"), "glue-up")
            .stage(&format!("Prepare the {name} for glue"))
            .with(&[("tube", &path), ("glue", "kit.glue")])
            .needs([of("cool")])
            .uses([&of("outside-known"), "glue.open-known", "glue.warmth-known", "wood.kind-written"]);
        steps.add(glue.leaves(["ends-filled", "gloves-off"].map(of)));
        let cure = Block::run(&format!("cure-{name}"), "cure-tube")
            .stage(&format!("Let the {name}'s glue harden"))
            .with(&[("tube", &path)]);
        steps.add(cure.uses(["ends-filled", "gloves-off"].map(of)).leaves([of("glued")]));
    }
    for tube in &build.tubes {
        let name = tube.name;
        let block = Block::run(&format!("square-{name}"), "square-ends")
            .stage(&format!("Square the {name}"))
            .with(&[("tube", &tube_path(tube))])
            .needs([format!("{name}.glued")])
            .leaves([format!("{name}.mark-inside")]);
        steps.add(block);
    }
}

fn turn(steps: &mut Steps, build: &Build) {
    steps.heading("turn and finish");
    let block = Block::run("set-lathe", "set-lathe").stage("Set the lathe").uses(["parts.laid-out"]);
    steps.add(block.leaves(["lathe.speed-known"]));
    for tube in &build.tubes {
        let (name, path) = (tube.name, tube_path(tube));
        let rim = |end: &str| format!("kit.rim.{end}");
        let block = Block::run(&format!("turn-{name}"), "turn-piece")
            .stage(&format!("Turn the {name}"))
            .with(&[("tube", &path), ("near", &rim(tube.near.name)), ("far", &rim(tube.far.name))])
            .needs([&format!("{name}.mark-inside"), "lathe.speed-known"]);
        steps.add(block.leaves([format!("{name}.scratch-free")]));
        let block = Block::run(&format!("finish-{name}"), "finish-build")
            .stage(&format!("Seal the {name}"))
            .with(&[("tube", &path)])
            .needs([format!("{name}.scratch-free")]);
        steps.add(block.leaves([format!("{name}.taped"), format!("{name}.rags-out")]));
    }
}

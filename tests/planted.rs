//! Guides with one planted fault each: exactly the right error, at the right place, with the right shortest walk.
//!
//! Each tells a way in which a pen is spoiled at the press. The mended guide beside it has no error, so that it is the
//! fault that is found and nothing else.

use snapbox::{assert_data_eq, str};
use stepjig::check::check_file;
use stepjig::finding::render::{Look, for_people};
use stepjig::finding::{Finding, Severity, Source};
use stepjig::guide::Library;

const HEAD: &str = "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n";

/// Returns the errors of a guide.
fn errors(text: &str) -> Vec<Finding> {
    let checked = check_file(&Library::empty(), &Source::new("g.toml", format!("{HEAD}{text}")));
    checked.findings.into_iter().filter(|finding| finding.severity() == Severity::Error).collect()
}

/// An error as code, place and what stands there, with its step, condition and walk.
fn told(finding: &Finding) -> String {
    let marked = &finding.place.source.text()[finding.place.span.clone()];
    let (step, condition) = (finding.step.as_deref().unwrap_or("-"), finding.condition.as_deref().unwrap_or("-"));
    let walk = finding.walk.as_ref().map_or(String::new(), |walk| format!(" | {}", walk.join(" > ")));
    format!("{} {} {marked} | {step} | {condition}{walk}", finding.code, finding.place)
}

/// Checks that the guide with the fault has these errors and none other, and that the mended one has none.
#[track_caller]
fn check_planted(guide: &str, fault: &str, mended: &str, expected: &[&str]) {
    assert_eq!(guide.matches(fault).count(), 1, "the fault stands in one place");
    let found: Vec<String> = errors(guide).iter().map(told).collect();
    assert_eq!(found, expected);
    let found: Vec<String> = errors(&guide.replace(fault, mended)).iter().map(told).collect();
    assert_eq!(found, Vec::<String>::new(), "mended");
}

/// Where the thread did not stop, nobody knows where the clip belongs; one answer leads past the mark all the same.
const CLIP: &str = r#"
[[step]]
id = "turn-cap"
do = "Turn the cap on the body to its stop."
gives = ["cap.on"]
[[step]]
id = "stop"
ask = "Does the cap come to a hard stop?"
needs = ["cap.on"]
answers = [
  { say = "it stops hard", gives = ["stop.found"] },
  { say = "it turns on", to = "shim" },
  { say = "cannot tell", to = "turn-cap" },
]
[[step]]
id = "mark-clip"
do = "Mark where the clip belongs."
needs = ["stop.found"]
gives = ["clip.marked"]
then = "press-clip"
[[step]]
id = "shim"
do = "Put a paper ring under the thread."
then = { to = "press-clip" }
[[step]]
id = "press-clip"
do = "Press the clip on its mark."
needs = ["clip.marked"]
gives = ["clip.pressed"]
one-way = true
[[step]]
id = "end"
end = "finished"
needs = ["clip.pressed"]
"#;

#[test]
fn a_clip_pressed_on_the_branch_where_the_thread_stop_was_not_found() {
    check_planted(
        CLIP,
        r#"then = { to = "press-clip" }"#,
        r#"then = { to = "turn-cap" }"#,
        &[r#"need-unmet g.toml:32:10 "clip.marked" | press-clip | clip.marked | turn-cap > stop > shim > press-clip"#],
    );
}

/// A look at the seat leads back past the glue-up and takes it apart, and the way on no longer glues.
const JUMP_BACK: &str = r#"
[[step]]
id = "scuff"
do = "Scuff the tube."
gives = ["tube.scuffed"]
[[step]]
id = "glue"
do = "Push the tube home with glue."
needs = ["tube.scuffed"]
gives = ["tube.glued"]
one-way = true
[[step]]
id = "look"
ask = "Is the tube home?"
needs = ["tube.glued"]
answers = [
  { say = "it is home", gives = ["tube.seen"] },
  { say = "it sits proud", to = "look-again", undoes = ["tube.glued"] },
]
[[step]]
id = "square"
do = "Square the ends until brass shows."
needs = ["tube.glued", "tube.seen"]
gives = ["ends.square"]
then = "end"
[[step]]
id = "look-again"
ask = "Can the tube be pushed home by hand?"
answers = [{ say = "it goes home", to = "square", gives = ["tube.seen"] }, { say = "it is stuck", to = "scuff" }]
[[step]]
id = "end"
end = "finished"
needs = ["ends.square"]
"#;

#[test]
fn a_jump_back_past_a_glue_up() {
    check_planted(
        JUMP_BACK,
        r#"{ say = "it goes home", to = "square", gives = ["tube.seen"] }"#,
        r#"{ say = "it goes home", to = "glue" }"#,
        &[r#"need-unmet g.toml:27:10 "tube.glued" | square | tube.glued | scuff > glue > look > look-again > square"#],
    );
}

/// What was built on the glue-up goes with it: the square ends are not square any more.
const BUILT_ON: &str = r#"
[[step]]
id = "glue"
do = "Push the tube home with glue."
gives = ["tube.glued"]
[[step]]
id = "square"
do = "Square the ends until brass shows."
needs = ["tube.glued"]
gives = ["ends.square"]
[[step]]
id = "look"
ask = "Is the tube still tight?"
answers = [{ say = "tight" }, { say = "loose", to = "glue-again", undoes = ["tube.glued"] }]
[[step]]
id = "press"
do = "Press the tail end home."
needs = ["tube.glued", "ends.square"]
gives = ["tail.pressed"]
one-way = true
then = "end"
[[step]]
id = "glue-again"
do = "Glue it once more."
gives = ["tube.glued"]
then = "press"
[[step]]
id = "end"
end = "finished"
needs = ["tail.pressed"]
"#;

#[test]
fn a_thing_built_on_what_was_undone() {
    check_planted(
        BUILT_ON,
        r#"then = "press""#,
        r#"then = "square""#,
        &[r#"need-unmet g.toml:22:24 "ends.square" | press | ends.square | glue > square > look > glue-again > press"#],
    );
}

/// The pencil line is sanded off, and the nib's coupler is then pressed by it.
const SPOILED: &str = r#"
[[step]]
id = "line"
do = "Draw a pencil line across."
gives = ["line.visible"]
[[step]]
id = "sand"
do = "Sand the body to 400 grit."
needs = ["line.visible"]
gives = ["body.sanded"]
spoils = ["line.visible"]
[[step]]
id = "press"
do = "Press the coupler home, line to line."
needs = ["body.sanded", "line.visible"]
gives = ["coupler.pressed"]
one-way = true
[[step]]
id = "end"
end = "finished"
needs = ["coupler.pressed"]
"#;

#[test]
fn a_spoiled_condition_used_later() {
    check_planted(
        SPOILED,
        "spoils = [\"line.visible\"]\n",
        "",
        &[r#"need-unmet g.toml:19:25 "line.visible" | press | line.visible | line > sand > press"#],
    );
}

/// The tube reads too thick, and the way for that goes on as if the reading had been good.
const FAILING_WAY: &str = r#"
[[step]]
id = "measure"
gauge = "Measure the tube."
unit = "mm"
limits = { max = "10.3 mm" }
gives = ["tube.fits"]
over = "glue"
[[step]]
id = "glue"
do = "Push the tube home with glue."
needs = ["tube.fits"]
gives = ["tube.glued"]
one-way = true
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
"#;

#[test]
fn a_failing_way_that_is_taken_for_a_good_one() {
    check_planted(
        FAILING_WAY,
        r#"over = "glue""#,
        r#"over = "measure""#,
        &[r#"need-unmet g.toml:16:10 "tube.fits" | glue | tube.fits | measure > glue"#],
    );
}

#[test]
fn a_wait_that_was_not_over_taken_for_one_that_was() {
    let guide = r#"
[[step]]
id = "glue"
do = "Push the tube home with glue."
gives = ["tube.in"]
[[step]]
id = "cure"
wait = "20 min"
ready = "The drop on scrap is hard."
up-to = "24 h"
needs = ["tube.in"]
gives = ["tube.glued"]
not-ready = "square"
[[step]]
id = "square"
do = "Square the ends until brass shows."
needs = ["tube.glued"]
gives = ["ends.square"]
[[step]]
id = "end"
end = "finished"
needs = ["ends.square"]
"#;
    check_planted(
        guide,
        r#"not-ready = "square""#,
        r#"not-ready = "glue""#,
        &[r#"need-unmet g.toml:21:10 "tube.glued" | square | tube.glued | glue > cure > square"#],
    );
}

#[test]
fn a_passing_condition_used_after_a_wait() {
    let guide = r#"
[[step]]
id = "wipe"
do = "Wipe the bore with alcohol."
gives = ["bore.ready"]
[[step]]
id = "rest"
wait = "5 min"
ready = "The bore is dry."
gives = ["bore.dry"]
[[step]]
id = "glue"
do = "Push the tube home with glue."
needs = ["bore.ready", "bore.dry"]
gives = ["tube.glued"]
one-way = true
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
[words]
"#;
    let passing = "passing = [\"bore.ready\"]\n";
    assert_eq!(errors(guide), []);
    let checked = check_file(&Library::empty(), &Source::new("g.toml", format!("{HEAD}{passing}{guide}")));
    let found: Vec<String> = checked.findings.iter().filter(|f| f.severity() == Severity::Error).map(told).collect();
    assert_eq!(found, [r#"need-unmet g.toml:19:10 "bore.ready" | glue | bore.ready | wipe > rest > glue"#]);
}

/// Looking and wetting lead to one another and nowhere else.
const LOOP: &str = r#"
[[step]]
id = "look"
ask = "Can the grain be seen?"
answers = [{ say = "it is plain", gives = ["grain.seen"], to = "end" }, { say = "cannot tell", to = "wet" }]
[[step]]
id = "wet"
do = "Wet the wood."
then = "look-again"
[[step]]
id = "look-again"
ask = "Can it be seen now?"
answers = [{ say = "still dry", to = "wet" }, { say = "it has dried again", to = "wet" }]
[[step]]
id = "end"
end = "finished"
needs = ["grain.seen"]
"#;

#[test]
fn a_loop_with_no_way_out() {
    check_planted(
        LOOP,
        r#"{ say = "still dry", to = "wet" }"#,
        r#"{ say = "still dry", to = "look" }"#,
        &[r#"no-way-out g.toml:11:6 "wet" | wet | -"#, r#"no-way-out g.toml:15:6 "look-again" | look-again | -"#],
    );
}

#[test]
fn a_guide_that_only_goes_round_has_no_finish() {
    let found: Vec<String> = errors("[[step]]\nid = \"a\"\ndo = \"Turn.\"\nthen = \"a\"\n").iter().map(told).collect();
    assert_eq!(found, ["no-finish g.toml:2:2 guide | - | -", r#"no-way-out g.toml:6:6 "a" | a | -"#]);
}

#[test]
fn a_misspelt_key() {
    check_planted(
        SPOILED,
        "spoils = [\"line.visible\"]\n",
        "",
        &[r#"need-unmet g.toml:19:25 "line.visible" | press | line.visible | line > sand > press"#],
    );
    let mended = SPOILED.replace("spoils = [\"line.visible\"]\n", "");
    for (key, misspelt, place) in [
        ("one-way = true", "oneway = true", "20:1 oneway"),
        ("do = \"Draw", "dp = \"Draw", "8:1 dp"),
        ("gives = [\"body.sanded\"]", "give = [\"body.sanded\"]", "14:1 give"),
        ("needs = [\"coupler.pressed\"]", "need = [\"coupler.pressed\"]", "24:1 need"),
    ] {
        assert_eq!(mended.matches(key).count(), 1, "{key}");
        let found = errors(&mended.replace(key, misspelt));
        let told: Vec<String> = found.iter().map(|f| told(f).split(" | ").next().unwrap_or("").to_owned()).collect();
        assert_eq!(told, [format!("unknown-key g.toml:{place}")], "{misspelt}");
        let meant = key.split(' ').next().unwrap_or("");
        assert_eq!(found[0].help.as_deref(), Some(format!("did you mean `{meant}`?").as_str()));
    }
}

#[test]
fn a_misspelt_id_of_a_step_or_a_condition() {
    check_planted(
        CLIP,
        r#"then = { to = "press-clip" }"#,
        r#"then = { to = "turn-cap" }"#,
        &[r#"need-unmet g.toml:32:10 "clip.marked" | press-clip | clip.marked | turn-cap > stop > shim > press-clip"#],
    );
    let mended = CLIP.replace(r#"then = { to = "press-clip" }"#, r#"then = { to = "turn-cap" }"#);
    check_planted(
        &mended.replace(r#"{ to = "turn-cap" }"#, r#"{ to = "turn-pac" }"#),
        "turn-pac",
        "turn-cap",
        &[r#"no-such-step g.toml:28:15 "turn-pac" | shim | -"#],
    );
    check_planted(
        &mended.replace(r#"gives = ["clip.marked"]"#, r#"gives = ["clip.makred"]"#),
        "clip.makred",
        "clip.marked",
        &[
            r#"never-given g.toml:32:10 "clip.marked" | press-clip | clip.marked | turn-cap > stop > mark-clip > press-clip"#,
        ],
    );
}

#[test]
fn a_step_that_cannot_be_taken_back_and_an_end_that_need_nothing() {
    check_planted(
        SPOILED,
        "needs = [\"body.sanded\", \"line.visible\"]\n",
        "needs = [\"body.sanded\"]\n",
        &[r#"need-unmet g.toml:19:25 "line.visible" | press | line.visible | line > sand > press"#],
    );
    let bare = SPOILED.replace("needs = [\"body.sanded\", \"line.visible\"]\n", "");
    let bare = bare.replace("needs = [\"coupler.pressed\"]\n", "");
    let found: Vec<String> = errors(&bare).iter().map(told).collect();
    assert_eq!(
        found,
        [r#"one-way-unguarded g.toml:17:6 "press" | press | -"#, r#"end-unguarded g.toml:22:6 "end" | end | -"#]
    );
}

/// A fault inside a procedure that is run twice: where it stands, and where it is run.
const INSIDE: &str = r#"
[[step]]
id = "glue-body"
run = "glue-up"
with = { tube = "body" }
gives = ["body.glued"]
[[step]]
id = "glue-cap"
run = "glue-up"
with = { tube = "cap" }
gives = ["cap.glued"]
[[step]]
id = "end"
end = "finished"
needs = ["body.glued", "cap.glued"]
"#;

const GLUE_UP: &str = r#"stepjig = 1
[procedure]
id = "glue-up"
title = "Glue the {tube} in"
takes = ["tube"]
[[step]]
id = "dry-run"
do = "Slide the dry {tube} tube through."
gives = ["{tube}.slides"]
optional = true
[[step]]
id = "push"
do = "Push the {tube} tube home with glue."
needs = ["{tube}.slides"]
one-way = true
[[step]]
id = "return"
end = "return"
"#;

fn inside() -> Vec<Finding> {
    let mut library = Library::empty();
    library.add(stepjig::guide::document::Shelf::Procedure, "glue-up", Source::new("procedures/glue-up.toml", GLUE_UP));
    let checked = check_file(&library, &Source::new("g.toml", format!("{HEAD}{INSIDE}")));
    checked.findings.into_iter().filter(|finding| finding.severity() == Severity::Error).collect()
}

#[test]
fn a_fault_inside_a_procedure_has_a_walk_through_it() {
    let found = inside();
    let expected = [
        r#"need-unmet procedures/glue-up.toml:14:10 "{tube}.slides" | glue-body/push | body.slides | glue-body > glue-body/dry-run > glue-body/push"#,
        r#"need-unmet procedures/glue-up.toml:14:10 "{tube}.slides" | glue-cap/push | cap.slides | glue-body > glue-body/dry-run > glue-body/push > glue-body/return > glue-cap > glue-cap/dry-run > glue-cap/push"#,
    ];
    assert_eq!(found.iter().map(told).collect::<Vec<_>>(), expected);
    let used_at: Vec<String> = found.iter().map(|finding| finding.used_at[0].to_string()).collect();
    assert_eq!(used_at, ["g.toml:7:6", "g.toml:12:6"]);
}

fn shown(findings: &[Finding], width: usize) -> String {
    for_people(findings, Look { width, colour: false, ascii: false })
}

#[test]
fn people_read_the_fault_its_walk_and_what_to_do() {
    assert_data_eq!(
        shown(&errors(CLIP), 80),
        str![[r#"
error[need-unmet]: `press-clip` can be reached without `clip.marked`
   ╭▸ g.toml:32:10
   │
32 │ needs = ["clip.marked"]
   │          ━━━━━━━━━━━━━
   ╰╴
note: the shortest walk there, 4 steps:
          1 turn-cap
          2 stop
          3 shim
          4 press-clip
help: lead that walk through `mark-clip` first, or give `clip.marked` on its
      way


"#]]
    );
    assert_data_eq!(
        shown(&inside(), 80),
        str![[r#"
error[need-unmet]: `glue-body/push` can be reached without `body.slides`
   ╭▸ procedures/glue-up.toml:14:10
   │
14 │ needs = ["{tube}.slides"]
   │          ━━━━━━━━━━━━━━━
   ╰╴
note: the procedure is run here
   ╭▸ g.toml:7:6
   │
 7 │ id = "glue-body"
   ╰╴     ━━━━━━━━━━━
note: the shortest walk there, 3 steps:
          1 glue-body
          2 glue-body/dry-run
          3 glue-body/push
help: lead that walk through `glue-body/dry-run` first, or give `body.slides`
      on its way
  also procedures/glue-up.toml:14:10 in step `glue-cap/push`


"#]]
    );
    assert_data_eq!(
        shown(&errors(LOOP), 80),
        str![[r#"
error[no-way-out]: from `wet` no end can be reached
   ╭▸ g.toml:11:6
   │
11 │ id = "wet"
   │      ━━━━━
   ╰╴
help: let one of its ways lead on towards an end

error[no-way-out]: from `look-again` no end can be reached
   ╭▸ g.toml:15:6
   │
15 │ id = "look-again"
   │      ━━━━━━━━━━━━
   ╰╴
help: let one of its ways lead on towards an end


"#]]
    );
}

#[test]
fn people_read_it_at_40_columns_too() {
    assert_data_eq!(
        shown(&errors(CLIP), 40),
        str![[r#"
error[need-unmet]: `press-clip` can be
                   reached without
                   `clip.marked`
   ╭▸ g.toml:32:10
   │
32 │ needs = ["clip.marked"]
   │          ━━━━━━━━━━━━━
   ╰╴
note: the shortest walk there, 4 steps:
          1 turn-cap
          2 stop
          3 shim
          4 press-clip
help: lead that walk through
      `mark-clip` first, or give
      `clip.marked` on its way


"#]]
    );
    assert_data_eq!(
        shown(&inside(), 40),
        str![[r#"
error[need-unmet]: `glue-body/push` can
                   be reached without
                   `body.slides`
   ╭▸ procedures/glue-up.toml:14:10
   │
14 │ needs = ["{tube}.slides"]
   │          ━━━━━━━━━━━━━━━
   ╰╴
note: the procedure is run here
   ╭▸ g.toml:7:6
   │
 7 │ id = "glue-body"
   ╰╴     ━━━━━━━━━━━
note: the shortest walk there, 3 steps:
          1 glue-body
          2 glue-body/dry-run
          3 glue-body/push
help: lead that walk through
      `glue-body/dry-run` first, or
      give `body.slides` on its way
  also
       procedures/glue-up.toml:14:10 in
       step `glue-cap/push`


"#]]
    );
}

#[test]
fn a_long_walk_is_shortened_in_the_middle() {
    let steps: String =
        (0..40).map(|n| format!("[[step]]\nid = \"turn-{n}\"\ndo = \"Turn.\"\ngives = [\"c{n}\"]\n")).collect();
    let end = "[[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [\"c7\", \"pen.dry\"]\n";
    assert_data_eq!(
        shown(&errors(&format!("{steps}{end}")), 80),
        str![[r#"
error[never-given]: nothing gives `pen.dry`, which `end` needs
    ╭▸ g.toml:168:16
    │
168 │ needs = ["c7", "pen.dry"]
    │                ━━━━━━━━━
    ╰╴
note: the shortest walk there, 41 steps:
          1 turn-0
          2 turn-1
          3 turn-2
          4 turn-3
          5 turn-4
          6 turn-5
          7 turn-6
          8 turn-7
          9 turn-8
         10 turn-9
         11 turn-10
         12 turn-11
        … 17 steps …
         30 turn-29
         31 turn-30
         32 turn-31
         33 turn-32
         34 turn-33
         35 turn-34
         36 turn-35
         37 turn-36
         38 turn-37
         39 turn-38
         40 turn-39
         41 end
help: let the step that makes it true say `gives = ["pen.dry"]`


"#]]
    );
}

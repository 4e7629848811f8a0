//! Names: targets, procedures, fault tables, reckonings, references in texts.

use super::fixture::{check_guide, ids, links};
use stepjig::guide::{Kind, Label};

#[test]
fn a_target_that_no_step_has_is_told_on_every_kind_of_way() {
    check_guide(
        r#"
[[step]]
id = "press-nib"
do = "Press the nib home."
then = "press-clipp"
    #  ^^^^^^^^^^^^^ no-such-step: no step is named `press-clipp` … did you mean `press-clip`
[[step]]
id = "ask"
ask = "Is it home?"
answers = [{ say = "home", to = "x-1" }, { say = "proud", to = "x-2" }]
                              # ^^^^^ no-such-step: `x-1`
                                                             # ^^^^^ no-such-step: `x-2`
[[step]]
id = "gauge"
gauge = "Measure the tube."
unit = "mm"
limits = { min = "9 mm", max = "10 mm" }
within = "x-3"
       # ^^^^^ no-such-step: `x-3`
under = { to = "x-4" }
             # ^^^^^ no-such-step: `x-4`
over = "x-5"
     # ^^^^^ no-such-step: `x-5`
[[step]]
id = "wait"
wait = "20 min"
ready = "It is hard."
up-to = "1 h"
not-ready = "x-6"
          # ^^^^^ no-such-step: `x-6`
[[step]]
id = "press-clip"
do = "Press the clip home."
"#,
    );
}

#[test]
fn a_last_step_that_leads_on_runs_off_the_end() {
    check_guide(
        r#"
[[step]]
id = "end"
end = "scrap"
[[step]]
id = "a"
   # ^^^ no-such-step: after `a` the guide runs off the end of the file … add a last step with `end = "finished"`
do = "Scuff the tube."
optional = true
"#,
    );
}

#[test]
fn a_step_that_has_a_fault_is_not_told_of_again_where_it_is_named() {
    check_guide(
        r#"
[[step]]
id = "a"
do = "Scuff the tube."
then = "b"
[[step]]
id = "b"
doo = "Glue it."
#<^ unknown-key: there is no key `doo` in a step … did you mean `do`
"#,
    );
    check_guide(
        r#"
[[step]]
id = "a"
do = "Scuff the tube."
then = "end"
[[step]]
id = "b"
do = "Glue it."
[[step]]
id = "end"
end = "finnished"
    # ^^^^^^^^^^^ bad-value: there is no end `finnished`
"#,
    );
}

#[test]
fn procedures_fault_tables_and_reckonings_are_found_by_name() {
    check_guide(
        r#"
[[step]]
id = "a"
run = "glue-upp"
    # ^^^^^^^^^^ no-such-procedure: there is no procedure `glue-upp` … did you mean `glue-up`
[[step]]
id = "b"
reckon = "stop-angel"
       # ^^^^^^^^^^^^ no-such-reckoning: there is no reckoning `stop-angel`
[[step]]
id = "c"
do = "Press the nib home."
trouble = ["pressed-askew", { table = "tube-stuck" }]
         # ^^^^^^^^^^^^^^^ no-such-trouble: there is no fault table `pressed-askew`
                                    # ^^^^^^^^^^^^ no-such-trouble: there is no fault table `tube-stuck`
[[step]]
id = "d"
gauge = "Measure the tube."
unit = "mm"
limits = { max = "10 mm" }
over = { trouble = "bore-wide" }
                 # ^^^^^^^^^^^ no-such-trouble: there is no fault table `bore-wide`
--- glue-up.toml
stepjig = 1
[procedure]
id = "glue-up"
title = "Glue"
[[step]]
id = "return"
end = "return"
"#,
    );
}

#[test]
fn references_in_every_text_are_resolved() {
    check_guide(
        r#"
[kit.tube.body]
drill = "10.5 mm"
[words]
"{kit.x}" = "w"
#<^^^^^^^ no-such-value: nothing here is called `kit.x`
[[step]]
id = "a"
stage = "S {y}"
      # ^^^^^^^ no-such-value: nothing here is called `y`
do = "Drill {kit.tube.body.dril} in."
   # ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ no-such-value: nothing here is called `kit.tube.body.dril` … did you mean `kit.tube.body.drill`
in-one-go = ["Push {a1}."]
           # ^^^^^^^^^^^^ no-such-value: `a1`
if-wrong = "See {a2}."
         # ^^^^^^^^^^^ no-such-value: `a2`
why = "See {a3}."
    # ^^^^^^^^^^^ no-such-value: `a3`
tell = "See {read.b}"
     # ^^^^^^^^^^^^^^ no-such-value: `read.b`
parts = ["{a4} tube"]
       # ^^^^^^^^^^^ no-such-value: `a4`
caution = [{ level = "notice", hazard = "{a5}", avoid = "{a6}" }]
                                      # ^^^^^^ no-such-value: `a5`
                                                      # ^^^^^^ no-such-value: `a6`
clock = { nib = "{a7}" }
              # ^^^^^^ no-such-value: `a7`
needs = ["{a8}.b"]
       # ^^^^^^^^ no-such-value: `a8`
then = { to = "end", gives = ["{a9}"] }
                            # ^^^^^^ no-such-value: `a9`
[[step]]
id = "b"
ask = "Is it {b1} wide?"
    # ^^^^^^^^^^^^^^^^^^ no-such-value: `b1`
answers = [{ say = "{b2} wide" }, { say = "an open { brace" }]
                 # ^^^^^^^^^^^ no-such-value: `b2`
                                        # ^^^^^^^^^^^^^^^^^ bad-value: a brace is opened and not closed … write `{{`
[[step]]
id = "c"
gauge = "Measure the tube."
unit = "mm"
limits = { min = "{c1}" }
               # ^^^^^^ no-such-value: `c1`
under = "end"
sets = "tube.outside"
     # ^^^^^^^^^^^^^^ bad-value: `tube.outside` is no kit number … name a path such as
[[step]]
id = "d"
wait = "{d1} min"
     # ^^^^^^^^^^ no-such-value: `d1`
ready = "{d2}"
      # ^^^^^^ no-such-value: `d2`
for = "{d3}"
    # ^^^^^^ no-such-value: `d3`
"#,
    );
}

#[test]
fn a_brace_twice_is_a_brace_and_a_kit_number_stays_a_reference() {
    let guide = links(
        r#"
[kit.tube.body]
drill = "10.5 mm"
starts = 3
[[step]]
id = "a"
do = "Drill {kit.tube.body.drill} in {{scrap}, {kit.tube.body.starts} times."
"#,
    );
    let text = &guide.step(guide.first()).text;
    let said = guide.say(text, |name| Some(guide.kit().get(name)?.written()));
    assert_eq!(said, "Drill 10.5 mm in {scrap}, 3 times.");
}

#[test]
fn a_reading_in_a_text_is_a_need_of_its_step() {
    let guide = links(
        r#"
[[step]]
id = "let-go"
gauge = "Where do the threads let go?"
unit = "clock"
limits = {}
[[step]]
id = "mark"
do = "Mark the clip's place at {read.let-go}."
in-one-go = ["Turn to {read.let-go}.", "Mark it."]
gives = ["clip.marked"]
"#,
    );
    let mark = guide.step(guide.step_of_id("mark").expect("it is laid"));
    let needs: Vec<&str> = mark.needs.iter().map(|need| guide.name(need.condition)).collect();
    assert_eq!(needs, ["read.let-go"]);
    assert_eq!(&mark.place_of(&mark.needs[0].span).to_string(), "g.toml:10:6", "it points at the text");
    let gauge = guide.ways_out(guide.first());
    assert_eq!(gauge[0].label, Label::Within);
    assert_eq!(gauge[0].gives, [guide.condition("read.let-go").expect("it is given")]);
}

#[test]
fn a_number_that_a_gauge_sets_exists_and_any_other_does_not() {
    let guide = links(
        r#"
[[step]]
id = "measure"
gauge = "Measure the tube."
unit = "mm"
limits = {}
sets = "kit.tube.body.outside"
[[step]]
id = "turn"
do = "Turn the piece to {kit.tube.body.outside}."
"#,
    );
    let Kind::Gauge { sets, .. } = &guide.step(guide.first()).kind else { panic!("it is a gauge") };
    assert_eq!(sets.as_deref(), Some("kit.tube.body.outside"));
}

#[test]
fn a_stage_holds_until_the_next_and_inside_a_run() {
    let guide = links(
        r#"
[[step]]
id = "a"
do = "Scuff the tube."
[[step]]
id = "b"
stage = "Glue"
do = "Open the glue."
[[step]]
id = "r"
run = "p"
[[step]]
id = "c"
do = "Close the glue."
[[step]]
id = "d"
stage = "Turn"
do = "Turn it."
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "first"
do = "Push."
[[step]]
id = "second"
stage = "Dry"
do = "Dry it."
[[step]]
id = "return"
end = "return"
"#,
    );
    let stages: Vec<(&str, Option<&str>)> = guide.steps().map(|(_, step)| (&*step.id, step.stage.as_deref())).collect();
    let expected = [
        ("a", None),
        ("b", Some("Glue")),
        ("r", Some("Glue")),
        ("r/first", Some("Glue")),
        ("r/second", Some("Dry")),
        ("r/return", Some("Dry")),
        ("c", Some("Glue")),
        ("d", Some("Turn")),
        ("end", Some("Turn")),
    ];
    assert_eq!(stages, expected);
}

#[test]
fn an_optional_step_can_be_passed_by_without_effect_and_no_other_can() {
    let guide = links(
        r#"
[[step]]
id = "wax"
do = "Wax it."
gives = ["waxed"]
spoils = ["dusty"]
optional = true
then = "end"
[[step]]
id = "ask"
ask = "Is it dull?"
optional = true
answers = [{ say = "dull", to = "wax" }, { say = "bright", to = "wax" }]
[[step]]
id = "sand"
run = "p"
optional = true
gives = ["sanded"]
then = "wax"
[[step]]
id = "end"
end = "finished"
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "round"
do = "Sand it."
[[step]]
id = "return"
end = "return"
"#,
    );
    let skips: Vec<(&str, &str, bool)> = guide
        .ways()
        .iter()
        .filter(|way| way.label == Label::Skip)
        .map(|way| {
            let to = way.to.expect("a skip leads on");
            let bare = way.gives.is_empty() && way.removes.is_empty() && way.undoes.is_empty();
            (&*guide.step(way.from).id, &*guide.step(to).id, bare)
        })
        .collect();
    assert_eq!(skips, [("wax", "end", true), ("ask", "sand", true), ("sand", "wax", true)]);
    assert_eq!(ids(&guide), ["wax", "ask", "sand", "sand/round", "sand/return", "end"]);
}

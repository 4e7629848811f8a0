//! Procedures: expansion, parameters, `each`, depth, and findings inside them.

use super::fixture::{check_guide, check_guide_with, ids, links};
use stepjig::finding::render::{Look, for_people, one_line};
use stepjig::guide::{Kind, Limits};

/// Procedures `p1` to `pN`, each of which runs the next; the last one acts.
fn nested(depth: usize) -> String {
    let mut text = "[[step]]\nid = \"r\"\nrun = \"p1\"\n".to_owned();
    for n in 1..=depth {
        text +=
            &format!("--- p{n}.toml\nstepjig = 1\n[procedure]\nid = \"p{n}\"\ntitle = \"P\"\n[[step]]\nid = \"s\"\n");
        text += &if n == depth { "do = \"Push.\"\n".to_owned() } else { format!("run = \"p{}\"\n", n + 1) };
        if n == 5 {
            text = text.replace(
                "run = \"p5\"\n",
                "run = \"p5\"\n    # ^^^^ run-loop: procedures run each other more than 4 deep here @ s < s < s < r\n",
            );
        }
        text += "[[step]]\nid = \"return\"\nend = \"return\"\n";
    }
    text
}

#[test]
fn procedures_run_procedures_to_depth_4_and_no_deeper() {
    let guide = links(&nested(4));
    let all = [
        "r",
        "r/s",
        "r/s/s",
        "r/s/s/s",
        "r/s/s/s/s",
        "r/s/s/s/return",
        "r/s/s/return",
        "r/s/return",
        "r/return",
        "end",
    ];
    assert_eq!(ids(&guide), all);
    check_guide(&nested(5));
}

#[test]
fn a_procedure_that_runs_itself_is_told_and_reading_ends() {
    check_guide(
        r#"
[[step]]
id = "r"
run = "p"
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "q"
run = "p"
    # ^^^ run-loop: procedures run each other more than 4 deep here … a procedure cannot run itself @ q < q < q < r
[[step]]
id = "return"
end = "return"
"#,
    );
    check_guide(
        r#"
[[step]]
id = "r"
run = "p"
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "q"
run = "o"
[[step]]
id = "return"
end = "return"
--- o.toml
stepjig = 1
[procedure]
id = "o"
title = "O"
[[step]]
id = "n"
run = "p"
    # ^^^ run-loop: procedures run each other @ q < n < q < r
[[step]]
id = "return"
end = "return"
"#,
    );
}

/// A list of as many lengths as a guide has pieces is handed over as one value.
#[test]
fn words_with_kit_numbers_are_handed_over_whole() {
    let guide = links(
        r#"
[kit.tube.cap]
length = "46.0 mm"
[kit.tube.body]
length = "54.0 mm"
[[step]]
id = "two"
run = "outer"
with = { pieces = "{kit.tube.cap.length}, {kit.tube.body.length}" }
[[step]]
id = "one"
run = "outer"
with = { pieces = "{kit.tube.cap.length}" }
--- outer.toml
stepjig = 1
[procedure]
id = "outer"
title = "Outer"
takes = ["pieces"]
[[step]]
id = "in"
run = "inner"
with = { lengths = "{pieces}", more = "{pieces}, 5 mm" }
[[step]]
id = "return"
end = "return"
--- inner.toml
stepjig = 1
[procedure]
id = "inner"
title = "Inner"
takes = ["lengths", "more"]
[[step]]
id = "cuts"
reckon = "blank-cut"
from = { pieces = "{lengths}, 12 mm", kerf = "2 mm" }
[[step]]
id = "bare"
reckon = "blank-cut"
from = { pieces = "{lengths}" }
[[step]]
id = "say"
do = "Saw {more} off."
[[step]]
id = "return"
end = "return"
"#,
    );
    let step = |id: &str| guide.step(guide.step_of_id(id).unwrap_or_else(|| panic!("no step `{id}`")));
    let pieces = |id: &str| match &step(id).kind {
        Kind::Reckon { from } => from.iter().find(|(key, _)| key == "pieces").map(|(_, value)| value.clone()),
        _ => None,
    };
    let two = "{kit.tube.cap.length}, {kit.tube.body.length}";
    assert_eq!(pieces("two/in/cuts"), Some(format!("{two}, 12 mm")));
    assert_eq!(pieces("two/in/bare").as_deref(), Some(two));
    assert_eq!(pieces("one/in/cuts").as_deref(), Some("{kit.tube.cap.length}, 12 mm"));
    assert_eq!(pieces("one/in/bare").as_deref(), Some("{kit.tube.cap.length}"));
    assert_eq!(step("two/in/say").text, format!("Saw {two}, 5 mm off."));
    check_guide(
        r#"
[kit.tube.cap]
length = "46.0 mm"
[[step]]
id = "r"
run = "p"
with = { a = "{kit.tube.cap.lenght}, 5 mm" }
           # ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ no-such-value: nothing here is called `kit.tube.cap.lenght`
[[step]]
id = "s"
run = "p"
with = { a = "{kit.tube.cap.length}, 5 mm" }
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
takes = ["a"]
[[step]]
id = "s"
do = "Push."
gives = ["{a}.pushed"]
       # ^^^^^^^^^^^^ bad-value: `{kit.tube.cap.length}, 5 mm.pushed` is no name for a condition @ s
[[step]]
id = "return"
end = "return"
"#,
    );
}

#[test]
fn parameters_are_paths_or_literals_and_are_passed_on() {
    let guide = links(
        r#"
[kit.tube.body]
drill = "10.5 mm"
outside = "10.3 mm"
[[step]]
id = "r"
run = "outer"
with = { tube = "kit.tube.body", glue = "thin {{ glue" }
--- outer.toml
stepjig = 1
[procedure]
id = "outer"
title = "Drill the {tube}"
takes = ["tube", "glue"]
[[step]]
id = "q"
run = "inner"
with = { piece = "{tube}", grit = "2{tube}" }
gives = ["{tube}.drilled"]
[[step]]
id = "glue"
do = "Use {glue}."
[[step]]
id = "return"
end = "return"
--- inner.toml
stepjig = 1
[procedure]
id = "inner"
title = "Drill the {piece} with {grit}"
takes = ["piece", "grit"]
[[step]]
id = "drill-{piece}"
do = "Drill the {piece} at {piece.drill} in {grit}."
then = "measure"
[[step]]
id = "measure"
gauge = "Measure the {piece}."
unit = "mm"
limits = { min = "{piece.outside}", max = 11 }
sets = "{piece.drill}"
under = "drill-{piece}"
over = "drill-{piece}"
[[step]]
id = "show"
do = "Write {read.measure} on it."
[[step]]
id = "return"
end = "return"
"#,
    );
    let expected = ["r", "r/q", "r/q/drill-body", "r/q/measure", "r/q/show", "r/q/return", "r/glue", "r/return", "end"];
    assert_eq!(ids(&guide), expected);
    let step = |id: &str| guide.step(guide.step_of_id(id).expect("it is laid"));
    assert_eq!(step("r").text, "Drill the body");
    assert_eq!(step("r/q").text, "Drill the body with 2body");
    assert_eq!(step("r/q/drill-body").text, "Drill the body at {kit.tube.body.drill} in 2body.");
    let Kind::Gauge { min, max, sets, .. } = &step("r/q/measure").kind else { panic!("it is a gauge") };
    assert_eq!(min.as_deref(), Some("{kit.tube.body.outside}"));
    assert_eq!(max.as_deref(), Some("11"));
    assert_eq!(sets.as_deref(), Some("kit.tube.body.drill"));
    assert_eq!(step("r/q/show").text, "Write {read.r/q/measure} on it.");
    assert_eq!(guide.name(step("r/q/show").needs[0].condition), "read.r/q/measure");
    assert_eq!(guide.name(step("r/q/return").gives[0].condition), "body.drilled");
    let said = guide.say(&step("r/glue").text, |_| None);
    assert_eq!(said, "Use thin { glue.");
}

#[test]
fn parameters_that_are_not_there_or_not_given_are_told() {
    check_guide(
        r#"
[kit.tube.body]
drill = "10.5 mm"
[[step]]
id = "a"
run = "p"
    # ^^^ missing-key: the procedure `p` takes `tube`, and this run does not give it … add `with = { tube = … }`
[[step]]
id = "b"
run = "p"
with = { tube = "kit.tube.bodi" }
              # ^^^^^^^^^^^^^^^ no-such-value: nothing here is called `kit.tube.bodi`
[[step]]
id = "c"
run = "p"
with = { tube = "kit.tube.body", tubes = "x" }
                               # ^^^^^ unknown-key: the procedure `p` takes no `tubes` … did you mean `tube`
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
takes = ["tube"]
[[step]]
id = "s"
do = "Drill {tube.lenght} in the {tub}."
   # ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ no-such-value: nothing here is called `tube.lenght` @ c
[[step]]
id = "t"
gauge = "Measure the {tube}."
unit = "mm"
limits = {}
sets = "kit.{tub}.x"
     # ^^^^^^^^^^^^^ no-such-value: nothing here is called `tub` … did you mean `tube` @ c
[[step]]
id = "return"
end = "return"
"#,
    );
}

#[test]
fn each_in_the_id_makes_a_run_of_each_value_in_sequence() {
    let guide = links(
        r#"
[[step]]
id = "sand-{each}"
run = "sand"
each = ["240", "400"]
with = { grit = "{each}" }
gives = ["sanded-{each}"]
then = "wax"
[[step]]
id = "again"
ask = "Is it smooth?"
answers = [{ say = "smooth", to = "end" }, { say = "rough", to = "sand-{each}" }, { say = "fine", to = "sand-400" }]
[[step]]
id = "wax"
do = "Wax it."
needs = ["sanded-240", "sanded-400"]
then = "again"
[[step]]
id = "end"
end = "finished"
--- sand.toml
stepjig = 1
[procedure]
id = "sand"
title = "Sand with {grit}"
takes = ["grit"]
[[step]]
id = "round"
do = "Sand with {grit} and {each}."
[[step]]
id = "return"
end = "return"
"#,
    );
    let expected = ["sand-240", "sand-240/round", "sand-240/return", "sand-400", "sand-400/round", "sand-400/return"];
    assert_eq!(ids(&guide)[..6], expected);
    let to = |id: &str| -> Vec<&str> {
        let ways = guide.ways_out(guide.step_of_id(id).expect("it is laid"));
        ways.iter().map(|way| &*guide.step(way.to.expect("it leads on")).id).collect()
    };
    assert_eq!(to("sand-240/return"), ["sand-400"], "the next value comes first, whatever `then` says");
    assert_eq!(to("sand-400/return"), ["wax"]);
    assert_eq!(to("again"), ["end", "sand-240", "sand-400"]);
    let round = guide.step(guide.step_of_id("sand-400/round").expect("it is laid"));
    assert_eq!(round.text, "Sand with 400 and 400.");
    assert_eq!(stepjig::check::check(&guide).iter().filter(|f| f.code.as_str() == "need-unmet").count(), 0);
}

#[test]
fn each_without_the_id_repeats_the_procedure_inside_one_run() {
    let guide = links(
        r#"
[[step]]
id = "sand"
run = "sand"
each = ["240", "400"]
gives = ["sanded"]
--- sand.toml
stepjig = 1
[procedure]
id = "sand"
title = "Sand"
[[step]]
id = "round"
do = "Sand with {each}."
gives = ["sanded-{each}"]
[[step]]
id = "done"
end = "return"
"#,
    );
    let expected = ["sand", "sand/240/round", "sand/240/done", "sand/400/round", "sand/400/done", "sand/return", "end"];
    assert_eq!(ids(&guide), expected);
    for (idx, pair) in guide.steps().map(|(idx, _)| idx).zip(expected.windows(2)) {
        let ways = guide.ways_out(idx);
        assert_eq!(ways.len(), 1);
        assert_eq!(&*guide.step(ways[0].to.expect("it leads on")).id, pair[1]);
    }
    let gives = |id: &str| guide.ways_out(guide.step_of_id(id).expect("it is laid"))[0].gives.len();
    assert_eq!((gives("sand/240/done"), gives("sand/return")), (0, 1), "the run gives once, at its return");
}

#[test]
fn each_value_is_known_in_texts_and_nothing_else_is() {
    check_guide(
        r#"
[[step]]
id = "sand-{each}"
   # ^^^^^^^^^^^^^ no-such-value: nothing here is called `each`
do = "Sand it."
[[step]]
id = "sand-{eech}"
   # ^^^^^^^^^^^^^ no-such-value: nothing here is called `eech`
run = "sand"
each = ["240"]
[[step]]
id = "r-{each}"
   # ^^^^^^^^^^ duplicate-id: there is already a step `r-240`
run = "sand"
each = ["240", "240"]
--- sand.toml
stepjig = 1
[procedure]
id = "sand"
title = "Sand"
[[step]]
id = "return"
end = "return"
"#,
    );
}

const TWO_RUNS: &str = r#"
[kit.tube.body]
drill = "10.5 mm"
[kit.tube.cap]
drill = "12.5 mm"
[[step]]
id = "glue-body"
run = "glue-up"
with = { tube = "kit.tube.body" }
[[step]]
id = "glue-cap"
run = "glue-up"
with = { tube = "kit.tube.cap" }
--- glue-up.toml
stepjig = 1
[procedure]
id = "glue-up"
title = "Glue the {tube} in"
takes = ["tube"]
[[step]]
id = "push"
do = "Push the tube home."
then = "waitt"
     # ^^^^^^^ no-such-step: no step is named `waitt` … did you mean `wait` @ glue-body
     # ^^^^^^^ no-such-step: no step is named `waitt` … did you mean `wait` @ glue-cap
[[step]]
id = "wait"
wait = "20 min"
ready = "The drop on scrap is hard."
[[step]]
id = "return"
end = "return"
"#;

#[test]
fn a_finding_inside_a_procedure_names_both_places_once_a_run() {
    let findings = check_guide(TWO_RUNS);
    let told: Vec<(String, Vec<String>, &str)> = findings
        .iter()
        .map(|finding| {
            let used_at = finding.used_at.iter().map(ToString::to_string).collect();
            (finding.place.to_string(), used_at, finding.step.as_deref().unwrap_or(""))
        })
        .collect();
    let place = || "glue-up.toml:9:8".to_owned();
    let expected = [
        (place(), vec!["g.toml:8:6".to_owned()], "glue-body/push"),
        (place(), vec!["g.toml:12:6".to_owned()], "glue-cap/push"),
    ];
    assert_eq!(told, expected);
}

#[test]
fn people_are_told_once_of_what_two_runs_of_a_procedure_share() {
    let findings = check_guide(TWO_RUNS);
    let told = for_people(&findings, Look { width: 80, colour: false, ascii: true });
    assert_eq!(told.matches("error[no-such-step]").count(), 1, "{told}");
    assert_eq!(told.matches("the procedure is run here").count(), 1, "{told}");
    assert!(told.contains("also glue-up.toml:9:8 in step `glue-cap/push`"), "{told}");
    let lines: Vec<String> = findings.iter().map(one_line).collect();
    assert_eq!(
        lines,
        [
            "glue-up.toml:9:8: error[no-such-step]: no step is named `waitt` (step glue-body/push); did you mean `wait`?",
            "glue-up.toml:9:8: error[no-such-step]: no step is named `waitt` (step glue-cap/push); did you mean `wait`?",
        ]
    );
}

#[test]
fn a_return_that_is_no_end_and_a_procedure_that_runs_off_are_told() {
    check_guide(
        r#"
[[step]]
id = "r"
run = "p"
[[step]]
id = "o"
run = "off"
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "return"
   # ^^^^^^^^ bad-value: only a step with `end = "return"` can have the id `return` @ r
do = "Push."
[[step]]
id = "done"
end = "return"
--- off.toml
stepjig = 1
[procedure]
id = "off"
title = "P"
[[step]]
id = "push"
   # ^^^^^^ no-such-step: after `push` the guide runs off the end of the file … `end = "return"` @ o
do = "Push."
"#,
    );
}

#[test]
fn a_guide_has_at_most_so_many_steps_when_expanded() {
    let limits = Limits { steps: 4, ..Limits::default() };
    check_guide_with(
        limits,
        r#"
[[step]]
id = "r-{each}"
run = "p"
each = ["1", "2", "3"]
--- p.toml
stepjig = 1
[procedure]
id = "p"
title = "P"
[[step]]
id = "push"
   # ^^^^^^ bad-value: the guide has more than 4 steps when expanded @ r-{each}
do = "Push."
[[step]]
id = "return"
end = "return"
"#,
    );
}

//! Rehearsals that stand in a guide: what they say is said, and what must come of it is held against what came.

use std::sync::Arc;

use stepjig::check::check_file;
use stepjig::finding::Source;
use stepjig::guide::{Guide, Library};
use stepjig::reckon::Data;
use stepjig::walk::rehearse::{Outcome, coverage, rehearse};

const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "choir"
title = "A raffle pen"
passing = ["air.clear"]
[kit.tube.body]
outside = "10.34 mm"
[[step]]
id = "read"
gauge = "Measure the tube."
unit = "mm"
limits = { min = 5, max = "{kit.tube.body.outside}" }
under = "read"
over = "lost"
gives = ["tube.read"]
[[step]]
id = "wipe"
do = "Wipe the tube with alcohol."
optional = true
gives = ["tube.wiped"]
[[step]]
id = "scuff"
do = "Scuff the tube."
gives = ["tube.scuffed"]
[[step]]
id = "glue"
do = "Push the tube home."
needs = ["tube.scuffed", "tube.read"]
gives = ["tube.in"]
one-way = true
if-wrong = "Stop."
[[step]]
id = "cure"
wait = "12 h"
ready = "the drop is hard"
meanwhile = true
needs = ["tube.in"]
gives = ["tube.hard"]
[[step]]
id = "face"
ask = "What does the face show?"
answers = [
  { say = "bare brass", gives = ["face.seen"] },
  { say = "glue", to = "face" },
  { say = "a split", to = "lost" },
]
[[step]]
id = "square"
do = "Trim both ends."
needs = ["tube.hard", "face.seen"]
gives = ["ends.square"]
[[step]]
id = "air"
wait = "20 min"
ready = "the smell is gone"
up-to = "1 h"
not-ready = "lost"
needs = ["ends.square"]
gives = ["pen.done"]
[[step]]
id = "wall"
reckon = "wall"
from = { hole = "10.5 mm" }
verdicts = { eggshell = "lost" }
needs = ["pen.done"]
gives = ["wall.known"]
[[step]]
id = "end"
end = "finished"
needs = ["wall.known"]
[[step]]
id = "lost"
end = "scrap"
"#;

fn guide(rehearsals: &str) -> Guide {
    let source = Source::new("choir.toml", format!("{GUIDE}{rehearsals}"));
    let checked = check_file(&Library::empty(), &source);
    let errors: Vec<String> = checked.findings.iter().map(stepjig::finding::render::one_line).collect();
    assert!(checked.is_sound(), "{errors:#?}");
    checked.guide.expect("it is sound")
}

fn outcome(rehearsal: &str) -> Outcome {
    let guide = guide(&format!("[[rehearsal]]\ntitle = \"t\"\n{rehearsal}\n"));
    rehearse(&guide, &guide.rehearsals()[0], &Arc::new(Data::shipped()))
}

#[track_caller]
fn holds(rehearsal: &str) {
    let outcome = outcome(rehearsal);
    assert!(outcome.holds, "must be: {}; came: {}", outcome.expected, outcome.came);
}

#[track_caller]
fn fails(rehearsal: &str, came: &str) {
    let outcome = outcome(rehearsal);
    assert!(!outcome.holds && outcome.came == came, "{}: {}", outcome.holds, outcome.came);
}

#[test]
fn where_nothing_is_said_all_is_well() {
    holds("arrives = \"finished\"");
    holds("arrives = \"end\"");
    holds("arrives = \"face\"");
    fails("arrives = \"scrap\"", "it ends at `end`, finished");
    fails("arrives = \"lost\"", "it ends at `end`, finished");
}

/// A run is no place to stand at: who comes to it comes to the first step in it.
#[test]
fn a_walk_arrives_at_a_run_when_it_goes_into_it() {
    let library = Library::shipped();
    let text = library.guide("click-one-tube").expect("it is shipped").text().to_owned();
    let rehearsal = "\n[[rehearsal]]\ntitle = \"t\"\narrives = \"choose-blank\"\n";
    let guide = library.link(&Source::new("g.toml", text + rehearsal)).guide.expect("it links");
    let outcome = rehearse(&guide, guide.rehearsals().last().expect("it is read"), &Arc::new(Data::shipped()));
    assert!(outcome.holds, "{}", outcome.came);
    assert!(guide.step(outcome.at).id.starts_with("choose-blank/"), "{}", guide.step(outcome.at).id);
}

#[test]
fn what_is_said_at_a_step_is_said_the_first_the_second_the_third_time() {
    holds("answers = { face = [\"glue\", \"glue\", \"a split\"] }\narrives = \"scrap\"");
    holds("answers = { face = [\"glue\", \"Bare brass.\"] }\narrives = \"finished\"");
    let told = "it ends at `lost`, scrap, and what was to be said at `face` was never asked for";
    fails("answers = { face = [\"a split\", \"glue\"] }\narrives = \"scrap\"", told);
    fails(
        "answers = { face = \"a split\", air = \"not ready\" }\narrives = \"scrap\"",
        &told.replace("`face`", "`air`"),
    );
    // A step where it is to arrive counts when all is said.
    holds("answers = { face = [\"glue\", \"glue\"] }\narrives = \"face\"");
}

#[test]
fn readings_waits_sums_and_what_may_be_left_out() {
    holds("answers = { read = [\"3 mm\", \"10.4 mm\"] }\narrives = \"scrap\"");
    holds(
        "answers = { read = \"10.4 mm\" }\nnumbers = { \"kit.tube.body.outside\" = \"10.5 mm\" }\narrives = \"finished\"",
    );
    holds("answers = { air = \"not ready\" }\narrives = \"scrap\"");
    holds("answers = { air = \"ready\", wipe = \"skip\" }\narrives = \"finished\"");
    holds("answers = { wall = \"eggshell\" }\narrives = \"scrap\"");
    // (13 mm − 10.5 mm) / 2 = 1.25 mm of wood stands; (10.6 mm − 10.5 mm) / 2 = 0.05 mm does not.
    holds("answers = { wall = \"bushing=13mm\" }\narrives = \"finished\"");
    holds("answers = { wall = \"bushing=10.6mm\" }\narrives = \"scrap\"");
}

#[test]
fn a_wait_that_runs_meanwhile_is_answered_where_it_is_waited_for() {
    let not_ready = outcome("answers = { cure = [\"not ready\", \"ready\"] }\narrives = \"finished\"");
    assert!(not_ready.holds, "{}", not_ready.came);
    let all_well = outcome("arrives = \"finished\"");
    assert!(not_ready.moves.len() > all_well.moves.len(), "it is waited for twice");
}

#[test]
fn a_no_at_a_hold_and_trouble_lead_back_and_the_walk_still_arrives() {
    let all_well = outcome("arrives = \"finished\"").moves.len();
    for said in ["glue = \"no tube.scuffed\"", "square = \"trouble tube.in\"", "square = \"trouble\""] {
        let outcome = outcome(&format!("answers = {{ {said} }}\narrives = \"finished\""));
        assert!(outcome.holds, "{said}: {}", outcome.came);
        assert!(outcome.moves.iter().any(|said| said.picked_up), "{said}");
        assert!(outcome.moves.len() > all_well, "{said}");
    }
}

#[test]
fn who_leaves_a_step_out_meets_what_needs_it() {
    holds("leaves-out = [\"scuff\"]\nfinding = \"need-unmet\"");
    holds("leaves-out = [\"scuff\"]\nfinding = \"need-unmet\"\narrives = \"glue\"");
    let came = "need-unmet: `glue` is come to without `tube.scuffed`";
    fails("leaves-out = [\"scuff\"]\nfinding = \"need-unmet\"\narrives = \"square\"", came);
    fails("leaves-out = [\"scuff\"]\narrives = \"finished\"", came);
    // Nothing rests on the wiping, which may be left out.
    fails("leaves-out = [\"wipe\"]\nfinding = \"need-unmet\"", "it ends at `end`, finished");
    holds("leaves-out = [\"face\"]\nfinding = \"need-unmet\"\narrives = \"square\"");
}

#[test]
fn what_no_rehearsal_takes_is_told_by_step_and_way() {
    let guide = guide(
        "[[rehearsal]]\ntitle = \"a\"\nanswers = { face = [\"glue\", \"bare brass\"], wipe = \"skip\" }\narrives = \"end\"\n\
         [[rehearsal]]\ntitle = \"b\"\nanswers = { read = \"11 mm\" }\narrives = \"lost\"\n",
    );
    let data = Arc::new(Data::shipped());
    let outcomes: Vec<Outcome> =
        guide.rehearsals().iter().map(|rehearsal| rehearse(&guide, rehearsal, &data)).collect();
    let coverage = coverage(&guide, &outcomes);
    // 3 ways of the gauge, 2 of the wiping, 3 answers, 2 of the wait, 2 of the sum.
    assert_eq!(coverage.all, 12);
    let open: Vec<String> = coverage
        .open
        .iter()
        .map(|open| format!("{} {:?}", guide.step(open.step).id, guide.way(open.way).label))
        .collect();
    let expected =
        ["read Under", "wipe Then", "face Answer(\"a split\")", "air NotReady", "wall Verdict(\"eggshell\")"];
    assert_eq!(open, expected);
}

#[test]
fn a_guide_that_is_kept_with_a_job_leaves_its_rehearsals_out() {
    let guide = guide("[[rehearsal]]\ntitle = \"t\"\narrives = \"end\"\n");
    assert!(!stepjig::guide::write::linked(&guide).contains("rehearsal"));
}

/// The rehearsals of every guide that is shipped hold, each has one straight through and one that must be held up.
#[test]
fn the_rehearsals_of_the_shipped_guides_hold() {
    let library = Library::shipped();
    let data = Arc::new(Data::shipped());
    let mut n_guides = 0;
    for id in library.guide_ids() {
        let guide = library.link_id(id).and_then(|linked| linked.guide).expect("shipped guides link");
        assert!(guide.rehearsals().len() >= 4, "{id}: {} rehearsals", guide.rehearsals().len());
        for rehearsal in guide.rehearsals() {
            let outcome = rehearse(&guide, rehearsal, &data);
            assert!(outcome.holds, "{id}: must be {}, came {}", outcome.expected, outcome.came);
        }
        n_guides += 1;
    }
    assert_eq!(n_guides, 7);
}

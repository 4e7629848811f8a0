//! Fault tables: what is read, and every fault of a table at its place.

use stepjig::finding::Source;
use stepjig::guide::document::Document;
use stepjig::guide::fault_table::{RawAction, RawGoal};
use stepjig::guide::{Limits, read};

use super::fixture::check_guide;

const WHOLE: &str = r#"
stepjig = 1
[trouble]
id = "tube-stuck"
title = "The tube stopped before it was home"
takes = ["tube"]
needs = ["{tube}.scuffed"]
seen = ["halfway"]
first = ["Do not push again."]
lay-aside = "Leave the {tube} a night."
[start-over]
minutes = 45
undoes = ["{tube}.cut"]
again = { tight-hole = 40 }
parts = ["blank"]
[[cause]]
id = "glue-grabbed"
say = "the glue set"
odds = 35
[[cause]]
id = "tight-hole"
say = "the hole is tight"
odds = 20
because = "A worn bit."
[[check]]
id = "push"
ask = "Push with a dowel: what does it do?"
minutes = 0.5
answers = [
  { say = "springs back", chance = { glue-grabbed = 0.05, tight-hole = 0.1 } },
  { say = "does not move", chance = { glue-grabbed = 0.93, tight-hole = 0.82 } },
  { say = "it slid home", fixed = true, gives = ["{tube}.seated"], chance = { glue-grabbed = 0.02, tight-hole = 0.08 } },
]
[[check]]
id = "play"
gauge = "Measure the bore, less {tube.outside}."
unit = "mm"
minutes = 2
bands = [
  { say = "under 0.05 mm", max = "0.05 mm", chance = { glue-grabbed = 0.1, tight-hole = 0.9 } },
  { say = "0.05 mm or more", min = "0.05 mm", chance = { glue-grabbed = 0.9, tight-hole = 0.1 } },
]
[[remedy]]
id = "drill-out"
run = "drill-out-tube"
with = { tube = "{tube}" }
minutes = 22
wait = 720
cures = { glue-grabbed = 0.75, tight-hole = 0.85 }
loses = { glue-grabbed = 0.2 }
undoes = ["{tube}.seated"]
parts = ["{tube} tube"]
[[remedy]]
id = "tap"
do = "Tap it home."
minutes = 1
cures = { tight-hole = 0.1 }
"#;

fn document(text: &str) -> Document {
    let (document, findings) = read(&Source::new("t.toml", text), &Limits::default());
    assert!(findings.is_empty(), "{:?}", findings.first());
    document.expect("it is a table")
}

#[test]
fn a_whole_table_is_read() {
    let document = document(WHOLE);
    let table = document.fault_table.expect("it is a fault table");
    assert_eq!((table.goal, table.seen[0].value.as_str()), (RawGoal::Fix, "halfway"));
    assert_eq!((table.causes.len(), table.checks.len(), table.remedies.len()), (2, 2, 2));
    assert_eq!((table.causes[1].odds, table.checks[0].outcomes[2].fixed), (20.0, true));
    assert_eq!(table.checks[1].outcomes[0].max.as_ref().map(|max| max.value.as_str()), Some("0.05 mm"));
    assert_eq!((table.remedies[0].wait, table.remedies[1].wait), (720.0, 0.0));
    assert!(matches!(&table.remedies[0].action, RawAction::Run { name, .. } if name.value == "drill-out-tube"));
    assert_eq!(table.start_over.and_then(|start_over| start_over.minutes), Some(45.0));
    let identify = WHOLE.replace("seen =", "goal = \"identify\"\nconfidence = 0.9\nseen =");
    let table = self::document(&identify).fault_table.expect("it is a fault table");
    assert_eq!(table.goal, RawGoal::Identify(0.9));
}

/// Section 9 of the definitions that the engine is built to: what is an error.
#[test]
fn every_fault_of_a_table_is_told() {
    check_guide(
        r#"
stepjig = 1
[trouble]
id = "t"
title = "T"
takes = ["tube"]
needs = ["{tubes}.scuffed"]
     #   ^^^^^^^^^^^^^^^^^ no-such-value: nothing here is called `tubes` … `tube`
goal = "mend"
  #    ^^^^^^ bad-value: there is no goal `mend` … `fix` and `identify`
confidence = 1.5
        #    ^^^ bad-value: a confidence of 1.5 cannot be
sen = ["stuck"]
#<^ unknown-key: there is no key `sen` … `seen`
[[cause]]
id = "grabbed"
say = "it grabbed"
odds = -1
  #    ^^ bad-value: `odds` is -1
[[cause]]
id = "tight"
say = "it is tight"
odds = 2
[[cause]]
id = "tight"
#    ^^^^^^^ duplicate-id: there is already a cause `tight`
say = "it is too tight"
odds = 1
[[check]]
id = "push"
#    ^^^^^^ bad-value: under `tight` the chances of the answers come to 0.9, not to 1
ask = "Push it: what does it do?"
minutes = 1
answers = [
  { say = "springs back", chance = { tigt = 0.5, tight = 0.4 } },
                                #    ^^^^ no-such-value: there is no cause `tigt` … `tight`
  { say = "Springs back", chance = { tight = 0.5 } },
        # ^^^^^^^^^^^^^^ duplicate-answer: is there already
]
[[check]]
id = "look"
ask = "What does it show?"
minutes = 1
answers = [{ say = "nothing", fixed = true, chance = { tight = 1 } }]
#<^^^^^ one-answer: the check has fewer than two answers
[[remedy]]
id = "push"
#    ^^^^^^ duplicate-id: there is already a check or remedy `push`
do = "Push it."
minutes = 1
cures = { tight = 0.8 }
       #          ^^^ bad-value: under `tight` curing and losing come to 1.1, more than 1
loses = { tight = 0.3 }
[[remedy]]
#<^^^^^^^^ missing-key: this remedy does not say what to do
id = "nothing"
minutes = 1
cures = {}
"#,
    );
}

#[test]
fn some_cause_has_odds_and_an_answer_is_no_word_of_the_prompt() {
    check_guide(
        r#"
stepjig = 1
[trouble]
id = "t"
title = "T"
[[cause]]
id = "tight"
#    ^^^^^^^ bad-value: no cause has odds above 0
say = "it is tight"
odds = 0
[[cause]]
id = "loose"
say = "it is loose"
odds = 0
[[check]]
id = "push"
ask = "Push it: what does it do?"
minutes = 1
answers = [
  { say = "fixed", chance = { tight = 1 } },
  #       ^^^^^^^ reserved-answer: `fixed` is a word of the prompt's own
  { say = "lost", fixed = true, chance = { loose = 1 } },
  #       ^^^^^^ reserved-answer: `lost` is a word of the prompt's own
]
"#,
    );
}

#[test]
fn a_table_is_filled_with_what_it_takes() {
    let document = document(WHOLE);
    let table = document.fault_table.as_ref().expect("it is a fault table");
    let filled = |with: &[(&str, &str)]| {
        let with: Vec<_> = with.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
        let number = |name: &str| (name == "kit.tube.body.outside").then(|| "10.3 mm".to_owned());
        table.filled(&document.takes, &with, number)
    };
    let body = filled(&[("tube", "kit.tube.body")]);
    assert_eq!(body.needs[0].value, "body.scuffed");
    assert_eq!(body.checks[1].text.value, "Measure the bore, less 10.3 mm.");
    assert_eq!(body.remedies[0].parts[0].value, "body tube");
    let bare = filled(&[]);
    assert_eq!(bare.needs[0].value, "tube.scuffed");
    assert_eq!(bare.checks[1].text.value, "Measure the bore, less outside.");
}

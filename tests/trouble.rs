//! `trouble` from the shell: a table is asked at once or walked, found by what is seen, and steps through a remedy.

mod home;
mod typing;

use home::Home;
use serde_json::Value;

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8").replace('\u{a0}', " ")
}

/// Two causes, a check with noise, one remedy; the numbers are worked by hand in the tests.
const TABLE: &str = r#"
stepjig = 1
[trouble]
id = "stop"
title = "The tube stopped"
takes = ["tube"]
needs = ["{tube}.scuffed"]
seen = ["halfway", "stuck fast"]
first = ["Do not push again."]
lay-aside = "Leave it a night."
[start-over]
minutes = 60
again = { tight = 40 }
[[cause]]
id = "grabbed"
say = "the glue grabbed"
odds = 3
[[cause]]
id = "tight"
say = "the hole is tight"
odds = 1
[[check]]
id = "push"
ask = "Push the {tube} tube: what does it do?"
minutes = 1
answers = [
  { say = "springs back", chance = { grabbed = 0.2, tight = 0.8 } },
  { say = "does not move", chance = { grabbed = 0.8, tight = 0.2 } },
]
[[remedy]]
id = "drill"
say = "drill it out"
do = "Drill the tube out."
minutes = 20
cures = { grabbed = 0.9, tight = 0.9 }
loses = { grabbed = 0.1, tight = 0.1 }
gives = ["{tube}.empty"]
"#;

fn json(output: &std::process::Output) -> Value {
    serde_json::from_slice(&output.stdout).expect("it is JSON and nothing else")
}

/// By Bayes' rule: 3/4 × 0.8 = 0.6 against 1/4 × 0.2 = 0.05, so evidence 0.65 and 12/13 for grabbed. The remedy costs
/// 20 and, one time in ten, a new blank at 60 and 40 more where the hole is tight: 20 + 0.1 × (60 + 40/13).
#[test]
fn with_findings_it_answers_at_once() {
    let home = Home::new("trouble-json");
    home.write("stop.toml", TABLE);
    let answer = json(&home.run(&["trouble", "stop.toml", "push=does not move", "--format", "json"], ""));
    let near = |value: &Value, expected: f64| {
        let value = value.as_f64().expect("a number");
        assert!((value - expected).abs() < 1e-9, "{value} is not {expected}");
    };
    near(&answer["evidence"], 0.65);
    near(&answer["causes"][0]["chance"], 12.0 / 13.0);
    near(&answer["minutes"], 20.0 + 0.1 * (60.0 + 40.0 / 13.0));
    near(&answer["bound"], 20.0 + 0.1 * (60.0 + 40.0 / 13.0));
    assert_eq!(answer["next"], serde_json::json!({"kind": "remedy", "id": "drill"}));
    assert_eq!((&answer["tied"], &answer["exact"]), (&serde_json::json!(["drill"]), &Value::Bool(true)));
    assert_eq!((&answer["trouble"], &answer["goal"]), (&Value::from("stop"), &Value::from("fix")));
    let without = json(&home.run(&["trouble", "stop.toml", "--without", "drill", "--format", "json"], ""));
    assert_eq!(without["next"]["kind"], "start-over");
    near(&without["minutes"], 70.0);
}

#[test]
fn findings_that_no_cause_explains_are_named() {
    let home = Home::new("trouble-contradiction");
    let sure =
        TABLE.replace("grabbed = 0.2, tight = 0.8", "tight = 1").replace("grabbed = 0.8, tight = 0.2", "grabbed = 1");
    home.write("stop.toml", &sure.replace("odds = 1\n", "odds = 0\n"));
    let answer = home.run(&["trouble", "stop.toml", "push=springs back", "--format", "json"], "");
    assert_eq!(answer.status.code(), Some(1));
    let (wrong, answer) = (text(&answer.stderr), json(&answer));
    assert!(wrong.contains("push=springs back"), "{wrong}");
    assert_eq!((&answer["evidence"], &answer["causes"]), (&Value::from(0), &serde_json::json!([])));
    assert!(answer["next"].is_null() && answer["minutes"].is_null() && answer["bound"].is_null());
}

#[test]
fn a_table_is_walked_to_a_good_pen() {
    let home = Home::new("trouble-walk");
    home.write("stop.toml", TABLE);
    let walk = home.run(&["trouble", "stop.toml", "--with", "tube=body"], "do it\n1\n");
    let said = text(&walk.stdout);
    assert_eq!(walk.status.code(), Some(0), "{said}{}", text(&walk.stderr));
    assert!(said.starts_with("The tube stopped.\nDo not push again.\n"), "{said}");
    assert!(said.contains(" 75  the glue grabbed"), "{said}");
    assert!(said.contains("Of 100 such tries about 90 put it right, 10 lose the blank."), "{said}");
    assert!(
        said.contains("Drill the tube out.") && said.contains("It is put right, after about 20 min of work."),
        "{said}"
    );
    let lost = home.run(&["trouble", "stop.toml"], "do it\nthe blank is lost\n");
    assert_eq!(lost.status.code(), Some(1));
    assert!(text(&lost.stdout).contains("Begin again with a new one."));
}

#[test]
fn what_cannot_be_done_here_drops_out_and_a_new_blank_or_a_night_is_always_there() {
    let home = Home::new("trouble-cannot");
    home.write("stop.toml", TABLE);
    let walk = home.run(&["trouble", "stop.toml"], "cannot do this here\nnew blank\n");
    let said = text(&walk.stdout);
    assert!(said.contains("Best now: begin again with a new blank, about 1 h 10 min of work."), "{said}");
    assert!(said.contains("Begin again") && said.contains("the next blank meets it too: the hole is tight"), "{said}");
    let aside = home.run(&["trouble", "stop.toml"], "lay it aside\n");
    assert!(text(&aside.stdout).contains("Leave it a night."));
    let blank = home.run(&["trouble", "stop.toml"], "new blank\n");
    assert!(text(&blank.stdout).contains("about 1 h 10 min of work"), "{}", text(&blank.stdout));
    let silent = home.run(&["trouble", "stop.toml", "--no-input"], "");
    assert_eq!(silent.status.code(), Some(2));
    assert!(text(&silent.stderr).contains("drill"), "{}", text(&silent.stderr));
}

#[test]
fn a_table_is_found_by_what_is_seen_and_a_slip_is_told() {
    let home = Home::new("trouble-seen");
    let answer = json(&home.run(&["trouble", "halfway", "--format", "json"], ""));
    assert_eq!(answer["trouble"], "tube-stuck");
    let two = home.run(&["trouble", "stuck"], "");
    assert_eq!(two.status.code(), Some(2));
    assert!(text(&two.stderr).contains("`tube-stuck`") && text(&two.stderr).contains("`glue-in-tube`"));
    for (arguments, expected) in [
        (&["trouble", "tube-stuk"][..], "did you mean `tube-stuck`?"),
        (&["trouble", "tube-stuck", "strok=x"], "did you mean `stroke`?"),
        (&["trouble", "tube-stuck", "stroke=x"], "after a halt, or a look"),
        (&["trouble", "tube-stuck", "stroke"], "has no `=`"),
        (&["trouble", "tube-stuck", "--with", "tub=body"], "did you mean `tube`?"),
    ] {
        let refused = home.run(arguments, "");
        assert_eq!(refused.status.code(), Some(2), "{arguments:?}");
        assert!(text(&refused.stderr).contains(expected), "{arguments:?}: {}", text(&refused.stderr));
    }
    let listed = text(&home.run(&["list", "--format", "plain"], "").stdout);
    let row = listed.lines().find(|line| line.starts_with("trouble\ttube-stuck\t")).expect("it is listed");
    assert!(row.contains("won't go in"), "{row}");
}

/// Every shipped table is proved, and its plan from the start is the best there is.
#[test]
fn every_shipped_table_is_planned_to_the_end() {
    let library = stepjig::guide::Library::shipped();
    assert_eq!(library.trouble_ids().count(), 18);
    for id in library.trouble_ids() {
        let source = library.trouble(id).expect("it is listed");
        let checked = stepjig::check::check_file(&library, &source);
        assert!(checked.findings.is_empty(), "{id}: {:?}", checked.findings.first());
        let (document, _) = stepjig::guide::read(&source, library.limits());
        let table = stepjig::trouble::table::Table::alone(&document.expect("it is read"), &Default::default());
        let table = table.unwrap_or_else(|faults| panic!("{id}: {faults:?}"));
        let consultation = stepjig::trouble::consult::Consultation::begin(table);
        let standing = consultation.standing(&Default::default()).expect("nothing was found yet");
        assert!(standing.plan.exact, "{id}: {} against {}", standing.plan.minutes, standing.plan.bound);
        assert!(standing.start_over.is_some_and(|over| standing.plan.minutes <= over + 1e-9), "{id}");
    }
}

/// The policy of each shipped table is a graph without an error, and its first step costs what the plan says.
#[test]
fn the_charts_of_the_shipped_tables_pass_check() {
    use stepjig::finding::{Severity, Source};
    use stepjig::guide::{Library, Limits, read};
    use stepjig::trouble::findings::Findings;
    use stepjig::trouble::plan::{Budget, compile, plan};
    use stepjig::trouble::{chart, table::Table};

    let library = Library::shipped();
    for id in library.trouble_ids() {
        let (document, _) = read(&library.trouble(id).expect("it is listed"), library.limits());
        let table = Table::alone(&document.expect("it is read"), &Default::default());
        let table = table.unwrap_or_else(|faults| panic!("{id}: {faults:?}"));
        let budget = Budget::default();
        let policy = compile(&table.problem, &Findings::none(), &budget, 100_000).expect("it is not too large");
        let minutes = plan(&table.problem, &Findings::none(), &budget).expect("nothing is found").minutes;
        assert!((policy.nodes[0].minutes - minutes).abs() <= 1e-9 * minutes, "{id}");
        let text = chart::guide(&table, &policy);
        let lifted = Library::empty().with_limits(Limits::lifted());
        let checked = stepjig::check::check_file(&lifted, &Source::new("chart.toml", text.clone()));
        let error = checked.findings.iter().find(|finding| finding.severity() == Severity::Error);
        assert!(error.is_none(), "{id}: {error:?}\n{text}");
        let guide = checked.guide.expect("it links");
        let nodes = guide.steps().filter(|(_, step)| !step.id.contains('-') && step.id.starts_with('n')).count();
        assert_eq!(nodes, policy.nodes.len(), "{id}");
    }
}

/// Where a check can only show one thing any more, its words may hold a comma: they are no part of the way.
#[test]
fn a_chart_with_commas_in_its_words_can_be_read() {
    use stepjig::finding::Source;
    use stepjig::guide::{Library, Limits, read};
    use stepjig::trouble::plan::{Next, Node, Policy, To, Way};
    use stepjig::trouble::{chart, table::Table};

    let text = TABLE.replace("springs back", "springs, and comes back");
    let document = read(&Source::new("stop.toml", text), &Limits::default()).0.expect("it is read");
    let table = Table::alone(&document, &Default::default()).expect("it is sound");
    let ways = vec![Way { outcome: 0, chance: 1.0, minutes: 0.0, to: To::Fixed }];
    let node = Node { next: Next::Do(0), minutes: 1.0, chances: vec![0.5, 0.5], ways };
    let chart = chart::guide(&table, &Policy { nodes: vec![node], bound: 1.0, exact: true });
    let linked = Library::empty().link(&Source::new("chart.toml", chart.clone()));
    assert!(linked.guide.is_some(), "{:?}\n{chart}", linked.findings.first());
}

/// A remedy that runs a procedure is stepped through: its return is a cure, its other ends are not.
#[test]
fn a_remedy_is_stepped_through() {
    let home = Home::new("trouble-steps");
    let walk = home.run(&["trouble", "tube-stuck", "--with", "tube=body"], "after a halt\ndo it\na night or longer\n");
    let said = text(&walk.stdout);
    assert!(said.contains("How long has the glue in the body had to harden?"), "{said}");
    assert!(said.contains("How does the stuck body tube stand in its wood?"), "{said}");
    assert!(!said.contains('{'), "a placeholder is left: {said}");
    assert_eq!(walk.status.code(), Some(1), "the end of the input lays it aside");
}

/// A reading with its unit is sorted into its band; the lower end belongs to it (0.05 mm is no longer under 0.05 mm).
#[test]
fn a_reading_is_sorted_into_its_band() {
    let home = Home::new("trouble-band");
    let gauge = r#"
[[check]]
id = "play"
gauge = "Measure the play."
unit = "mm"
minutes = 1
bands = [
  { say = "under 0.05 mm", max = "0.05 mm", chance = { tight = 1 } },
  { say = "0.05 to 0.25 mm", min = "0.05 mm", max = "0.25 mm", chance = { grabbed = 0.9 } },
  { say = "0.25 mm or more", min = "0.25 mm", chance = { grabbed = 0.1 } },
]
"#;
    let table = TABLE
        .replace("cures = { grabbed = 0.9, tight = 0.9 }", "cures = { grabbed = 0.9 }")
        .replace("loses = { grabbed = 0.1, tight = 0.1 }", "loses = { grabbed = 0.1, tight = 0.9 }");
    let at = table.find("[[check]]").expect("it has a check");
    let end = table.find("[[remedy]]").expect("it has a remedy");
    home.write("stop.toml", &format!("{}{gauge}{}", &table[..at], &table[end..]));
    for (reading, expected) in
        [("0.04 mm", "100  the hole"), ("0.05 mm", "100  the glue"), ("3/64 in", "100  the glue")]
    {
        let said = text(&home.run(&["trouble", "stop.toml"], &format!("{reading}\n")).stdout);
        let after = said.rsplit("Likeliest now").next().expect("it goes on");
        assert!(after.contains(expected), "{reading}: {after}");
    }
}

/// Every remedy that a shipped guide can come to links with the kit's numbers, is walked when all goes well, and ends.
#[test]
fn every_remedy_that_a_guide_comes_to_is_walked_to_its_end() {
    use stepjig::guide::fault_table::RawAction;
    use stepjig::guide::{Library, read};
    use stepjig::walk::{Phase, Walk};

    let library = Library::shipped();
    let now = jiff::Timestamp::UNIX_EPOCH;
    let (mut walked, mut tables) = (0, std::collections::BTreeSet::new());
    let guides: Vec<_> = library.guide_ids().filter_map(|id| library.link_id(id)?.guide).collect();
    let calls = guides.iter().flat_map(|guide| {
        Walk::begin(guide, now).trouble_calls().into_iter().map(move |call| (guide, call)).collect::<Vec<_>>()
    });
    for (guide, call) in calls {
        let kit: Vec<_> = guide.kit().iter().map(|(path, value)| (path.clone(), value.clone())).collect();
        let (document, _) = read(&library.trouble(&call.table).expect("it is shipped"), library.limits());
        let document = document.expect("it is read");
        let table = document.fault_table.as_deref().expect("it is a table");
        let table = table.filled(&document.takes, &call.with, |_| None);
        tables.insert(call.table.clone());
        for need in &table.needs {
            assert!(guide.condition(&need.value).is_some(), "{}: the guide has no `{}`", call.table, need.value);
        }
        let given = table.remedies.iter().flat_map(|remedy| remedy.gives.iter().chain(&remedy.undoes));
        for name in given.chain(table.start_over.iter().flat_map(|over| &over.undoes)) {
            assert!(guide.condition(&name.value).is_some(), "{}: the guide has no `{}`", call.table, name.value);
        }
        for remedy in table.remedies.iter().filter(|remedy| matches!(remedy.action, RawAction::Run { .. })) {
            let undone = |name: &String| remedy.undoes.iter().any(|undone| undone.value == *name);
            let held: Vec<String> =
                table.needs.iter().map(|need| need.value.clone()).filter(|name| !undone(name)).collect();
            let linked = library.link_remedy(&document, &table, remedy, &held, Some(&kit));
            let steps = linked.guide.unwrap_or_else(|| panic!("{}: {:?}", remedy.id.value, linked.findings.first()));
            let mut walk = Walk::begin(&steps, now);
            for _ in 0..300 {
                if walk.state().phase == Phase::Ended {
                    break;
                }
                let line = typing::all_well(&walk.scene(now));
                walk.answer(&line, now).unwrap_or_else(|refusal| panic!("{}: {line}: {refusal}", remedy.id.value));
                let step = steps.step(walk.state().here);
                let unmet = step.needs.iter().find(|need| !walk.state().held.contains(need.condition));
                assert!(unmet.is_none(), "{}: {} is shown without a need", remedy.id.value, step.id);
            }
            assert_eq!(walk.state().phase, Phase::Ended, "{} of {} does not end", remedy.id.value, call.table);
            walked += 1;
        }
    }
    assert_eq!(tables.len(), 18, "every shipped table is named by a step: {tables:?}");
    assert!(walked >= 300, "{walked}");
}

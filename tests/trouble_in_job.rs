//! Trouble in a job: the tube grabs halfway, the table is asked, the remedy is stepped through, and the pen is picked up
//! again at the right step with nothing skipped.

mod home;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use home::{Home, piped};

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8").replace('\u{a0}', " ")
}

const GUIDE: &str = r#"
stepjig = 1
[guide]
id = "glue"
title = "Glue a tube"
use-when = "Testing."
not-when = "Turning."
[words]
"body.drilled" = "the body is drilled"
"body.scuffed" = "the tube is scuffed"
"body.seated" = "the tube is seated"
"body.square" = "the ends are square"
[kit.tube.body]
outside = "10.3 mm"
[[step]]
id = "drill"
do = "Drill the body."
gives = ["body.drilled"]
minutes = 20
[[step]]
id = "scuff"
do = "Scuff the tube."
needs = ["body.drilled"]
gives = ["body.scuffed"]
minutes = 2
[[step]]
id = "seat"
do = "Push the tube home."
needs = ["body.drilled", "body.scuffed"]
gives = ["body.seated"]
one-way = true
if-wrong = "Stop and leave it."
trouble = [{ table = "stop", with = { tube = "kit.tube.body" } }]
minutes = 1
[[step]]
id = "square"
do = "Square the ends."
needs = ["body.seated"]
gives = ["body.square"]
minutes = 5
[[step]]
id = "end"
end = "finished"
needs = ["body.square"]
"#;

const TABLE: &str = r#"
stepjig = 1
[trouble]
id = "stop"
title = "The tube stopped before it was home"
takes = ["tube"]
needs = ["{tube}.scuffed"]
seen = ["halfway"]
first = ["Do not push again."]
[start-over]
minutes = 90
undoes = ["{tube}.drilled"]
[[cause]]
id = "grabbed"
say = "the glue grabbed"
odds = 3
[[cause]]
id = "tight"
say = "the hole is tight"
odds = 1
[[remedy]]
id = "drill-out"
say = "drill it out"
run = "drill-out"
with = { tube = "{tube}" }
minutes = 20
cures = { grabbed = 0.6, tight = 0.9 }
loses = { grabbed = 0.1, tight = 0.1 }
undoes = ["{tube}.scuffed"]
gives = ["{tube}.empty"]
parts = ["{tube} tube"]
[[remedy]]
id = "tap"
do = "Tap it home."
minutes = 19
cures = { grabbed = 0.1, tight = 0.1 }
gives = ["{tube}.seated"]
"#;

const PROCEDURE: &str = r#"
stepjig = 1
[procedure]
id = "drill-out"
title = "Drill the {tube} tube out"
takes = ["tube"]
[words]
"{tube}.centred" = "the bit is over the old hole"
"{tube}.empty" = "the bore is empty"
[[step]]
id = "centre"
do = "Set the bit over the old hole, {tube.outside} wide."
gives = ["{tube}.centred"]
[[step]]
id = "drill"
do = "Drill the tube out."
needs = ["{tube}.centred"]
gives = ["{tube}.drilled-out"]
one-way = true
if-wrong = "It spins: stop."
[[step]]
id = "look"
ask = "What does the bore show?"
needs = ["{tube}.drilled-out"]
answers = [
  { say = "bright wood", gives = ["{tube}.empty"] },
  { say = "brass", to = "still-brass" },
  { say = "a split", to = "lost" },
]
[[step]]
id = "return"
end = "return"
[[step]]
id = "still-brass"
end = "not-fixed"
[[step]]
id = "lost"
end = "scrap"
"#;

/// A shop with the guide, its table and its remedy.
fn shop(name: &str) -> Home {
    let home = Home::new(name);
    home.write("guides/kits/glue.toml", GUIDE);
    home.write("guides/trouble/stop.toml", TABLE);
    home.write("guides/procedures/drill-out.toml", PROCEDURE);
    home
}

fn walk(home: &Home, input: &str) -> (Option<i32>, String) {
    let output = home.run(&["walk", "glue", "--guides", "guides", "--job", "a"], input);
    (output.status.code(), (text(&output.stdout) + &text(&output.stderr)).replace("\n    ", " "))
}

const TO_THE_STOP: &str = "done\ndone\nyes\ntrouble\nhalfway\n";
const DRILLED_OUT: &str = "do it\ndone\nyes\ndone\nbright wood\n";

/// The remedy undid the scuffing, so that is done again; the drilled body stands.
#[test]
fn after_a_cure_what_was_undone_is_done_again_and_nothing_else() {
    let home = shop("job-cure");
    let (code, said) = walk(&home, &format!("{TO_THE_STOP}{DRILLED_OUT}done\nyes\ndone\ndone\n"));
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("Do not push again.") && said.contains("Best now: drill it out."), "{said}");
    assert!(said.contains("Then, to be where you were: 2 min of work."), "the scuffing is done again: {said}");
    assert!(said.contains("No longer so, to be done again: the tube is scuffed."), "{said}");
    assert!(said.contains("Set the bit over the old hole, 10.3 mm (13/32 in"), "the kit's number is said: {said}");
    let after = said.split("It is put right, after about 20 min of work.").nth(1).expect("it is put right");
    assert!(
        after.contains("Pick up again here, it is put right: all that is needed from here on is so.")
            && after.contains("Scuff the tube."),
        "{after}"
    );
    assert!(!after.contains("Drill the body."), "{after}");
    assert!(
        after.contains("Went wrong: The tube stopped before it was home (body): drill out: fixed; it is put right"),
        "{after}"
    );
}

#[test]
fn a_remedy_that_failed_is_a_finding_and_a_blank_that_is_lost_is_begun_again() {
    let home = shop("job-fail");
    let failed = "do it\ndone\nyes\ndone\nbrass\n";
    let (code, said) = walk(&home, &format!("{TO_THE_STOP}{failed}new blank\ndone\ndone\nyes\ndone\ndone\n"));
    assert_eq!(code, Some(0), "{said}");
    // 3/4 × 0.3 to 1/4 × 0: only the glue is left, and tapping or a new blank.
    assert!(said.contains("100  the glue grabbed"), "{said}");
    let after = said.split("Pick up again here, with a new blank: all").nth(1).expect("a new blank");
    assert!(after.contains("Drill the body."), "{after}");

    let home = shop("job-lost");
    let lost = "do it\ndone\nyes\ndone\na split\n";
    let (code, said) = walk(&home, &format!("{TO_THE_STOP}{lost}done\ndone\nyes\ndone\ndone\n"));
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("The blank is lost") && said.contains("Pick up again here, with a new blank: all"), "{said}");
}

#[test]
fn none_of_these_stops_safely_and_what_is_no_longer_true_can_be_said_by_hand() {
    let home = shop("job-none");
    let (code, said) =
        walk(&home, "done\ndone\nyes\ntrouble\nnone of these\ntrouble\nlost\n2\ndone\ndone\nyes\ndone\ndone\n");
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("Write it down by `note`"), "{said}");
    assert!(said.contains("Pick up again here, after the trouble: all"), "{said}");
}

/// A table that says of a remedy that it never loses the blank is not asked on from what it does not know: the journal
/// has only outcomes of the table, and the blank is begun again all the same.
#[test]
fn an_outcome_that_the_table_does_not_know_is_not_recorded() {
    let home = shop("job-unknown");
    home.write("guides/trouble/stop.toml", &TABLE.replace("loses = { grabbed = 0.1, tight = 0.1 }\n", ""));
    let (_, said) = walk(&home, &format!("{TO_THE_STOP}do it\ndone\nyes\ndone\na split\n"));
    assert!(said.contains("Pick up again here, with a new blank: all"), "{said}");
    let journal = std::fs::read_to_string(journal(&home.0)).expect("a journal");
    assert!(journal.contains("\"not fixed\"") && !journal.contains("\"outcome\":\"lost\""), "{journal}");
}

/// By the definition: the running table takes *not fixed* and closes; the list of troubles is there at once.
#[test]
fn trouble_inside_a_remedy_that_is_something_else_closes_the_table() {
    let home = shop("job-inside");
    let (_, said) = walk(&home, &format!("{TO_THE_STOP}do it\ndone\nyes\ntrouble\nsomething else\npark\n"));
    let after = said.split("That is trouble of its own; the one before is closed.").nth(1).expect("it is told");
    assert!(after.contains("no longer true"), "no table's needs hold any more: {said}");
    let journal = std::fs::read_to_string(journal(&home.0)).expect("a journal");
    assert!(journal.contains("\"not fixed\"") && journal.contains("\"closed\""), "{journal}");
}

/// A remedy that does not work is a finding of its own table, and what was found before it is kept.
#[test]
fn trouble_inside_a_remedy_that_did_not_work_goes_on_with_the_table() {
    let home = shop("job-inside-on");
    let (_, said) = walk(&home, &format!("{TO_THE_STOP}do it\ndone\nyes\ntrouble\n1\npark\n"));
    assert!(said.contains("That did not put it right: drill it out."), "{said}");
    assert!(said.contains("100  the glue grabbed"), "{said}");
    let journal = std::fs::read_to_string(journal(&home.0)).expect("a journal");
    assert!(journal.contains("\"not fixed\"") && !journal.contains("\"closed\""), "{journal}");
}

/// One answer after another is taken back, out of the remedy, and out of the table.
#[test]
fn a_slip_at_the_table_is_taken_back() {
    let home = shop("job-slip");
    let slips = "cannot do this here\nback\ndo it\nback\nback\n";
    let (code, said) = walk(&home, &format!("{TO_THE_STOP}{slips}park\n"));
    assert_eq!(code, Some(1), "{said}");
    let offers: Vec<usize> = said.match_indices("Best now: drill it out.").map(|(at, _)| at).collect();
    assert_eq!(offers.len(), 3, "offered, after it was left out, and after it was begun: {said}");
    let last = said.rsplit("Laid aside").nth(1).expect("it is parked");
    assert!(last.contains("Push the tube home."), "back at the step that it was called from: {last}");
    let journal = std::fs::read_to_string(journal(&home.0)).expect("a journal");
    assert_eq!(journal.matches("\"back\"").count(), 3, "{journal}");
}

/// A new blank that was begun by a slip is taken back too; the table is open again.
#[test]
fn a_new_blank_is_taken_back() {
    let home = shop("job-slip-blank");
    let (_, said) = walk(&home, &format!("{TO_THE_STOP}new blank\nback\npark\n"));
    let after = said.split("with a new blank: all").nth(1).expect("a new blank");
    assert!(after.contains("Best now: drill it out."), "{said}");
}

/// What could not be done is asked again after a time away.
#[test]
fn what_could_not_be_done_is_offered_again_another_day() {
    let home = shop("job-again");
    let (_, said) = walk(&home, &format!("{TO_THE_STOP}cannot do this here\npark\n"));
    assert_eq!(said.matches("Best now: drill it out.").count(), 1, "{said}");
    let again = home.run(&["walk", "--job", "a", "--guides", "guides"], "\npark\n");
    assert!(text(&again.stdout).contains("Best now: drill it out."), "{}", text(&again.stdout));
}

/// What is seen can be said at the step itself.
#[test]
fn trouble_is_called_by_what_is_seen() {
    for (line, expected) in [
        ("trouble halfway", "Do not push again."),
        ("trouble it stuck half way", "Do not push again."),
        ("it stuck halfway", "if it went wrong, type `trouble it stuck halfway`"),
        ("trouble on fire", "No trouble that is known here is called `on fire`."),
    ] {
        let home = shop("job-words");
        let (_, said) = walk(&home, &format!("done\ndone\nyes\n{line}\n"));
        assert!(said.contains(expected), "{line}: {said}");
    }
}

fn journal(home: &Path) -> PathBuf {
    home.join(".local/share/stepjig/jobs/a/journal.jsonl")
}

/// Killed after any line of the trouble, the walk goes on in place; nothing is asked twice, nothing is lost.
#[test]
fn killed_in_trouble_it_goes_on_in_place() {
    let before = "done\ndone\nyes\n";
    let trouble: Vec<&str> = "trouble\nhalfway\ndo it\ndone\nyes\ndone\nbright wood\n".split_inclusive('\n').collect();
    // The lines that are no record themselves are typed again.
    for (kill_after, records, rest) in [
        (2, 5, "do it\ndone\nyes\ndone\nbright wood\n"),
        (3, 7, "done\nyes\ndone\nbright wood\n"),
        (4, 8, "yes\ndone\nbright wood\n"),
        (5, 9, "yes\ndone\nbright wood\n"),
        (6, 10, "bright wood\n"),
    ] {
        let home = shop(&format!("job-kill-{kill_after}"));
        let mut child =
            piped(home.command(&["walk", "glue", "--guides", "guides", "--job", "a"])).spawn().expect("it starts");
        let mut stdin = child.stdin.take().expect("a pipe");
        write!(stdin, "{before}{}", trouble[..kill_after].concat()).expect("it reads");
        let mut written = 0;
        for _ in 0..2_000 {
            written = std::fs::read_to_string(journal(&home.0)).map_or(0, |text| text.lines().count());
            if written >= records {
                break;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        assert!(written >= records, "after {kill_after}: {written} records");
        child.kill().expect("it can be killed");
        child.wait().expect("it is gone");
        if kill_after > 2 {
            // The shop's guides are gone too: of a remedy that is begun the job has all that it needs.
            std::fs::remove_dir_all(home.0.join("guides")).expect("they were there");
            std::fs::create_dir_all(home.0.join("guides")).expect("an empty folder");
        }
        let rest = format!("{rest}done\nyes\ndone\ndone\n");
        let again = home.run(&["walk", "--job", "a", "--guides", "guides"], &rest);
        let said = text(&again.stdout).replace("\n    ", " ");
        assert_eq!(again.status.code(), Some(0), "after {kill_after}: {said}{}", text(&again.stderr));
        assert!(
            said.contains("Went wrong: The tube stopped before it was home (body): drill out: fixed; it is put right"),
            "after {kill_after}: {said}"
        );
    }
}

/// A part is borrowed from another kit; it is owed over all jobs till it is settled.
#[test]
fn what_is_borrowed_is_owed_till_it_is_settled() {
    use stepjig::walk::trouble::TroubleEvent;
    use stepjig::walk::{Event, journal};

    let home = shop("job-owed");
    let (code, _) = walk(&home, &format!("{TO_THE_STOP}do it\n"));
    assert_eq!(code, Some(1));
    // A person is asked at a terminal; here the answer is put into the journal.
    let path = journal(&home.0);
    let lines = std::fs::read_to_string(&path).expect("a journal");
    let seq = lines.lines().count() as u64 + 1;
    let at = jiff::Timestamp::now();
    let borrowed = vec![("body tube".to_owned(), "maple-2".to_owned())];
    let event = TroubleEvent::RemedyBegun { remedy: "tap".to_owned(), undone: Vec::new(), borrowed };
    let record = journal::Record { seq, at, event: event.at(at) };
    let line = journal::encode::<Event>("a", &record).expect("it can be written");
    std::fs::write(&path, lines + &line).expect("it is written");

    let owed = home.run(&["owed", "--format", "json"], "");
    let owed: serde_json::Value = serde_json::from_slice(&owed.stdout).expect("it is JSON");
    let row = serde_json::json!({"n": 1, "job": "a", "part": "body tube", "kit": "maple-2"});
    assert_eq!(owed["owed"], serde_json::json!([row]));
    assert_eq!(home.run(&["owed", "--settled", "2"], "").status.code(), Some(2));
    assert_eq!(home.run(&["owed", "--settled", "1"], "").status.code(), Some(0));
    assert!(text(&home.run(&["owed"], "").stdout).contains("Nothing is owed"));
}

/// Four cases, all the second cause: (20 × 3/4 + 0) to (20 × 1/4 + 4), as shares of 24; the mean of the Dirichlet
/// distribution after the cases (Gelman and others, Bayesian Data Analysis, section 3.4).
#[test]
fn what_the_shop_has_seen_moves_the_odds_until_it_is_forgotten() {
    use stepjig::walk::trouble::TroubleEvent;
    use stepjig::walk::{Event, journal};

    let home = shop("job-odds");
    walk(&home, "done\n");
    let path = journal(&home.0);
    let mut lines = std::fs::read_to_string(&path).expect("a journal");
    for _ in 0..4 {
        let (seq, at) = (lines.lines().count() as u64 + 1, jiff::Timestamp::now());
        let confirmed = TroubleEvent::Confirmed { table: "stop".to_owned(), cause: "tight".to_owned() };
        let record = journal::Record { seq, at, event: confirmed.at(at) };
        lines += &journal::encode::<Event>("a", &record).expect("it can be written");
    }
    std::fs::write(&path, lines).expect("it is written");
    let shown = |arguments: &[&str]| {
        let all = [&["trouble", "stop", "--guides", "guides", "--format", "json"], arguments].concat();
        let output = home.run(&all, "");
        serde_json::from_slice::<serde_json::Value>(&output.stdout)
            .unwrap_or_else(|_| panic!("{}", text(&output.stderr)))
    };
    let odds = shown(&["--odds"]);
    assert_eq!((&odds["causes"][0]["author"], &odds["causes"][1]["cases"]), (&0.75.into(), &4.0.into()));
    let near = |value: &serde_json::Value, expected: f64| (value.as_f64().expect("a number") - expected).abs() < 1e-12;
    assert!(near(&odds["causes"][0]["odds"], 15.0 / 24.0), "{odds}");
    assert!(near(&shown(&[])["causes"][1]["chance"], 9.0 / 24.0), "the plan goes by them");
    home.write(".stepjig.toml", "learn = false\n");
    assert!(near(&shown(&[])["causes"][1]["chance"], 0.25), "a shop can leave it off");
    home.write(".stepjig.toml", "");
    assert_eq!(home.run(&["trouble", "stop", "--guides", "guides", "--forget"], "").status.code(), Some(0));
    assert!(near(&shown(&[])["causes"][1]["chance"], 0.25), "and begin anew");
}

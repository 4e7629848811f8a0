//! The program as its users run it: a scripted walk, killed and gone on with; exit codes; what goes where.

mod home;
mod typing;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use home::{Home, piped};

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

const STEPS: &str = r#"
[[step]]
id = "glue"
do = "Push the tube home."
needs = ["tube.scuffed", "kind.known"]
gives = ["tube.glued"]
one-way = true
if-wrong = "Stop."
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
[[step]]
id = "lost"
end = "scrap"
"#;

#[test]
fn a_scripted_walk_finishes_with_0_scrap_and_park_with_1_bad_use_with_2() {
    let home = Home::new("exit");
    let guide = home.small(STEPS);
    let finished = home.run(&["walk", guide, "--job", "a"], "done\n1\nyes\ndone\n");
    assert_eq!(finished.status.code(), Some(0), "{}", text(&finished.stderr));
    assert!(text(&finished.stdout).contains("A small guide: finished"));
    let scrap = home.run(&["walk", guide, "--job", "b"], "done\ncannot\n");
    assert_eq!(scrap.status.code(), Some(1));
    let parked = home.run(&["walk", guide, "--job", "c"], "done\n");
    assert_eq!(parked.status.code(), Some(1));
    assert!(text(&parked.stdout).contains("stepjig walk --job c"));
    let wrong = home.run(&["walk", "smal.toml"], "");
    assert_eq!(wrong.status.code(), Some(2));
    let missing = home.run(&["walk", guide, "--job", "d", "--no-input"], "done\n");
    assert_eq!(missing.status.code(), Some(2));
    assert!(text(&missing.stderr).contains("`scuff` wants an answer"));
}

#[test]
fn all_that_is_shipped_is_clean() {
    let check = Home::new("clean").run(&["check", "--strict"], "");
    assert_eq!(check.status.code(), Some(0), "{}{}", text(&check.stdout), text(&check.stderr));
    let said = text(&check.stdout);
    let is_clean = |line: &str| line.ends_with(": nothing found") || line.ends_with(" steps, every proof holds");
    assert!(said.lines().count() > 20 && said.lines().all(is_clean), "{said}");
}

#[test]
fn enter_alone_answers_neither_a_question_nor_a_hold() {
    let home = Home::new("enter");
    let guide = home.small(STEPS);
    let walk = home.run(&["walk", guide, "--job", "a"], "\n\n\n2\n\ndone\nyes\n\ndone\n");
    assert_eq!(walk.status.code(), Some(0), "{}", text(&walk.stdout));
    let said = text(&walk.stdout);
    assert!(said.contains("a question wants an answer"), "{said}");
    assert!(said.contains("it wants a look first"), "{said}");
}

/// The walk is killed at once after each answer and gone on with; every step is met in order, none twice.
#[test]
fn killed_after_any_answer_the_walk_goes_on_at_the_next_step() {
    let home = Home::new("kill");
    let guide = home.small(STEPS);
    let answers = ["done", "the band end", "yes", "done"];
    let steps = ["Scuff the tube.", "Which end", "Push the tube home.", "Push the tube home."];
    for kill_after in 1..answers.len() {
        let job = format!("k{kill_after}");
        let mut child = piped(home.command(&["walk", guide, "--job", &job])).spawn().expect("it starts");
        let mut stdin = child.stdin.take().expect("a pipe");
        for answer in &answers[..kill_after] {
            writeln!(stdin, "{answer}").expect("it reads");
        }
        wait_for_records(&home.0, &job, kill_after + 1);
        child.kill().expect("it can be killed");
        child.wait().expect("it is gone");
        // After a kill inside the glue-up the hold is asked again: nobody knows how far the hands had got.
        let rest = if kill_after == 3 { &answers[2..] } else { &answers[kill_after..] };
        let again = home.run(&["walk", "--job", &job], &(rest.join("\n") + "\n"));
        let said = text(&again.stdout);
        assert_eq!(again.status.code(), Some(0), "after {kill_after}: {said}{}", text(&again.stderr));
        assert!(said.contains(steps[kill_after]), "after {kill_after}: {said}");
        let asked = said.contains("Is all of this true?");
        assert_eq!(asked, kill_after >= 1, "after {kill_after}: the hold before the glue is asked, again where it was");
        let journal = std::fs::read_to_string(journal(&home.0, &job)).expect("a journal");
        for id in ["\"scuff\"", "\"kind\"", "\"glue\""] {
            let left = journal.lines().filter(|line| line.contains("\"left\"") && line.contains(id)).count();
            assert_eq!(left, 1, "after {kill_after}: {id}\n{journal}");
        }
    }
}

fn journal(home: &Path, job: &str) -> PathBuf {
    home.join(".local/share/stepjig/jobs").join(job).join("journal.jsonl")
}

fn wait_for_records(home: &Path, job: &str, n: usize) {
    for _ in 0..2_000 {
        let lines = std::fs::read_to_string(journal(home, job)).map_or(0, |text| text.lines().count());
        if lines >= n {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("record {n} of {job} was never written");
}

#[test]
fn json_goes_to_standard_output_and_nothing_else_does() {
    let home = Home::new("json");
    let guide = home.small(STEPS);
    let check = home.run(&["check", guide, "--format", "json"], "");
    let report: serde_json::Value = serde_json::from_slice(&check.stdout).expect("JSON");
    assert_eq!(report["stepjig"], 1);
    assert_eq!(report["guides"][0]["guide"], "small");
    assert_eq!(report["guides"][0]["steps"], 5);
    let rejoin = home.run(&["rejoin", guide, "tube.scuffed", "kind.known", "--format", "json"], "");
    let answer: serde_json::Value = serde_json::from_slice(&rejoin.stdout).expect("JSON");
    assert_eq!(answer["step"], "glue");
    assert_eq!(answer["again"], serde_json::json!(["glue", "end"]));
    let wrong = home.run(&["rejoin", guide, "tube.scufed", "--format", "json"], "");
    assert_eq!((wrong.status.code(), wrong.stdout.len()), (Some(2), 0));
    assert!(text(&wrong.stderr).contains("did you mean `tube.scuffed`?"));
}

#[test]
fn no_escape_reaches_a_pipe_and_ascii_is_seven_bit() {
    let home = Home::new("plain");
    let walk = home.run(&["walk", "two-tube-fountain", "--job", "a"], "done\nwhy\nwhere\nahead\n?\n");
    assert!(!walk.stdout.contains(&0x1b) && !walk.stdout.contains(&7));
    let ascii = home.run(&["walk", "two-tube-fountain", "--job", "b", "--ascii"], "done\nwhere\nahead\n?\n");
    assert!(ascii.stdout.is_ascii(), "{}", text(&ascii.stdout));
    let bare = home.run(&[], "");
    assert_eq!(bare.status.code(), Some(2));
    assert!(text(&bare.stderr).contains("stepjig walk two-tube-fountain"));
}

#[test]
fn a_second_window_is_refused_with_the_first_ones_number() {
    let home = Home::new("lock");
    let guide = home.small(STEPS);
    let mut first = piped(home.command(&["walk", guide, "--job", "a"])).spawn().expect("it starts");
    wait_for_records(&home.0, "a", 1);
    let second = home.run(&["walk", "--job", "a"], "done\n");
    assert_eq!(second.status.code(), Some(2));
    assert!(text(&second.stderr).contains(&first.id().to_string()), "{}", text(&second.stderr));
    first.kill().expect("it can be killed");
    first.wait().expect("it is gone");
    let third = home.run(&["walk", "--job", "a"], "done\n1\nyes\ndone\n");
    assert_eq!(third.status.code(), Some(0), "{}", text(&third.stderr));
}

/// Every line that finishes the shipped guide when all goes well, by the library.
fn lines_to_a_finished_pen() -> Vec<String> {
    use stepjig::walk::Walk;
    let linked = stepjig::guide::Library::shipped().link_id("two-tube-fountain").expect("it is shipped");
    let guide = linked.guide.expect("it links");
    let now = jiff::Timestamp::UNIX_EPOCH;
    typing::to_the_end(Walk::begin(&guide, now), now)
}

#[test]
fn a_pipe_of_answers_finishes_the_shipped_guide() {
    let home = Home::new("pear");
    let lines = lines_to_a_finished_pen();
    let walk =
        home.run(&["walk", "two-tube-fountain", "--job", "demo", "--save-kit", "mine"], &(lines.join("\n") + "\n"));
    let said = text(&walk.stdout);
    assert_eq!(walk.status.code(), Some(0), "{}{}", &said[said.len().saturating_sub(600)..], text(&walk.stderr));
    assert!(said.contains("Threaded-cap fountain pen, two tubes: finished"));
    let list = text(&home.run(&["list", "--format", "plain"], "").stdout);
    assert!(list.contains("job\tdemo\tfinished"), "{list}");
    // The second pen of the kit is not measured from nothing.
    let second = home.run(&["walk", "two-tube-fountain", "--job", "second", "--kit", "mine"], "");
    assert_eq!(second.status.code(), Some(1), "{}", text(&second.stderr));
}

/// Killed after an answer anywhere on the way, the walk of the shipped guide still comes to a finished pen.
#[test]
fn the_shipped_guide_killed_anywhere_is_finished_all_the_same() {
    let home = Home::new("killed");
    let lines = lines_to_a_finished_pen();
    for kill_after in [1, 7, 40, 64, lines.len() / 2, lines.len() - 3] {
        let job = format!("k{kill_after}");
        let mut command = piped(home.command(&["walk", "two-tube-fountain", "--job", &job]));
        // Nobody reads what it says, and a full pipe would stop it.
        let mut child = command.stdout(Stdio::null()).spawn().expect("it starts");
        let mut stdin = child.stdin.take().expect("a pipe");
        writeln!(stdin, "{}", lines[..kill_after].join("\n")).expect("it reads");
        wait_for_records(&home.0, &job, kill_after + 1);
        child.kill().expect("it can be killed");
        child.wait().expect("it is gone");
        let before = std::fs::read_to_string(journal(&home.0, &job)).expect("a journal");
        // What comes and goes is gone now, so that the rest differs from the lines above: it is worked out as it comes.
        let rest = rest_of(&before);
        let again = home.run(&["walk", "--job", &job], &(rest.join("\n") + "\n"));
        let said = text(&again.stdout);
        assert_eq!(again.status.code(), Some(0), "after {kill_after}: {}", &said[said.len().saturating_sub(600)..]);
        let after = std::fs::read_to_string(journal(&home.0, &job)).expect("a journal");
        assert!(after.starts_with(&before), "after {kill_after}: what was recorded is changed");
    }
}

/// The lines that finish a killed walk, by the library, from its journal.
fn rest_of(journal: &str) -> Vec<String> {
    use stepjig::walk::{Event, Walk};
    let linked = stepjig::guide::Library::shipped().link_id("two-tube-fountain").expect("it is shipped");
    let guide = linked.guide.expect("it links");
    let job = journal.split("\"job\":\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a job's name");
    let records = stepjig::walk::journal::decode::<Event>(journal.as_bytes(), job).expect("it can be read").records;
    let events: Vec<Event> = records.into_iter().map(|record| record.event).collect();
    let now = jiff::Timestamp::now();
    let mut walk = Walk::from_events(&guide, &events);
    walk.take(&Event::Resumed { at: now });
    typing::to_the_end(walk, now)
}

#[test]
fn the_kits_name_is_kept_with_the_job_over_a_park() {
    let home = Home::new("kitname");
    home.write(
        "measured.toml",
        r#"
stepjig = 1
[guide]
id = "measured"
title = "A measured guide"
[kit]
length = "50 mm"
[[step]]
id = "measure"
gauge = "Measure the tube."
unit = "mm"
limits = {}
sets = "kit.length"
[[step]]
id = "glue"
do = "Push the tube home."
needs = ["read.measure"]
gives = ["tube.glued"]
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
"#,
    );
    home.run(&["walk", "measured.toml", "--job", "a", "--save-kit", "mine"], "51.5 mm\n");
    let again = home.run(&["walk", "--job", "a"], "done\n");
    assert_eq!(again.status.code(), Some(0), "{}", text(&again.stdout));
    let kept = std::fs::read_to_string(home.0.join(".local/share/stepjig/measured/mine.toml")).expect("it is kept");
    assert_eq!(kept, "stepjig = 1\nkit.length = \"51.5 mm\"\n");
}

#[test]
fn every_fault_of_a_kit_file_is_told_with_its_place() {
    let home = Home::new("kitfaults");
    let kit = "stepjig = 1\n[kit.tube.body]\ndril = \"25/64 in\"\noutside = \"9.75 mmm\"\nlength = 54\n";
    std::fs::write(home.0.join("kit.toml"), kit).expect("a kit");
    let walk = home.run(&["walk", "two-tube-fountain", "--job", "a", "--kit", "kit.toml"], "");
    let said = text(&walk.stderr);
    assert_eq!(walk.status.code(), Some(2));
    for place in
        ["kit.toml:3:8", "did you mean `kit.tube.body.drill`?", "kit.toml:4:11", "kit.toml:5:10", "54 mm or 54 in"]
    {
        assert!(said.contains(place), "{place}: {said}");
    }
    assert!(!home.0.join(".local/share/stepjig/jobs/a").exists(), "nothing is begun with a faulty kit");
}

/// A slip of a unit, or two numbers changed over: no tube is 999 mm long, no bit is narrower than its tube.
#[test]
fn numbers_of_a_kit_file_that_cannot_be_are_told_with_their_places() {
    let home = Home::new("kitrange");
    let walk = |kit: &str| {
        std::fs::write(home.0.join("kit.toml"), format!("stepjig = 1\n[kit.tube.body]\n{kit}\n")).expect("a kit");
        let walk = home.run(&["walk", "two-tube-fountain", "--job", "a", "--kit", "kit.toml"], "");
        (walk.status.code(), text(&walk.stderr).split_whitespace().collect::<Vec<_>>().join(" "))
    };
    for (kit, place, says) in [
        ("length = \"999 mm\"", "kit.toml:3:10", "999 mm is no such length in a pen: it is 5 mm to 300 mm"),
        ("drill = \"9 mm\"", "kit.toml:3:9", "a bit of 9 mm makes no room for a tube of"),
        ("outside = \"12 mm\"", "kit.toml:3:11", "makes no room for a tube of 12 mm"),
    ] {
        let (code, said) = walk(kit);
        assert!(code == Some(2) && said.contains(place) && said.contains(says), "{kit}: {said}");
    }
    let (_, said) = walk("drill = \"12.2 mm\"\noutside = \"12 mm\"");
    assert!(!said.contains("kit.toml"), "{said}");
}

/// The file system takes no more bytes of the journal: the walk ends with the last record said, and what was confirmed
/// is there when there is room again.
#[cfg(unix)]
#[test]
fn where_nothing_more_can_be_written_the_walk_ends_and_what_was_confirmed_is_kept() {
    let home = Home::new("full");
    let guide = home.small(STEPS);
    let mut limited = std::process::Command::new("/bin/sh");
    let program = home.command(&["walk", guide, "--job", "a"]);
    limited.args(["-c", "ulimit -f 16; exec \"$0\" \"$@\""]).arg(program.get_program()).args(program.get_args());
    limited.current_dir(&home.0).env_clear().envs(program.get_envs().filter_map(|(key, value)| Some((key, value?))));
    let notes = format!("done\n{}", "note a long remark about the pear wood of the choir's third pen\n".repeat(2_000));
    let walk = home::run(limited, &notes);
    let wrong = text(&walk.stderr);
    assert_eq!(walk.status.code(), Some(2), "{wrong}");
    let last: usize = (wrong.split("; record ").nth(1).and_then(|rest| rest.split(' ').next()))
        .and_then(|number| number.parse().ok())
        .unwrap_or_else(|| panic!("the last record is not said: {wrong}"));
    assert!(wrong.contains("File too large") && wrong.contains("go on with: stepjig walk --job a"), "{wrong}");
    let said = text(&walk.stdout);
    assert_eq!(said.matches("Noted.").count(), last - 2, "each note that was confirmed is a record: {wrong}");
    assert!(!said.contains("Laid aside"), "{said}");

    let again = home.run(&["walk", "--job", "a"], "1\nyes\ndone\n");
    assert_eq!(again.status.code(), Some(0), "{}", text(&again.stderr));
    let said = text(&again.stdout);
    let at_the_end = said.split("A small guide: finished").nth(1).expect("it is finished");
    assert_eq!(at_the_end.matches("Note: a long remark").count(), last - 2);
}

#[test]
fn a_damaged_journal_is_refused_until_it_is_repaired() {
    let home = Home::new("damaged");
    let guide = home.small(STEPS);
    home.run(&["walk", guide, "--job", "a"], "done\nnote pear\nthe band end\n");
    let path = journal(&home.0, "a");
    let damaged = std::fs::read_to_string(&path).expect("a journal").replace("pear", "PEAR");
    std::fs::write(&path, &damaged).expect("it is damaged");

    let refused = home.run(&["walk", "--job", "a"], "yes\ndone\n");
    let wrong = text(&refused.stderr);
    assert_eq!(refused.status.code(), Some(2));
    assert!(wrong.contains("record 3 at byte") && wrong.contains("stepjig walk --job a --repair"), "{wrong}");
    assert_eq!(std::fs::read_to_string(&path).expect("a journal"), damaged, "nothing is changed unasked");

    let repaired = home.run(&["walk", "--job", "a", "--repair"], "the band end\nyes\ndone\n");
    let wrong = text(&repaired.stderr);
    assert_eq!(repaired.status.code(), Some(0), "{}{wrong}", text(&repaired.stdout));
    assert!(wrong.contains("the 2 records before the damage are kept"), "{wrong}");
    let kept = std::fs::read_to_string(path.with_file_name("journal.damaged-1")).expect("it is kept");
    assert_eq!(kept, damaged);

    let whole = home.run(&["walk", "--job", "a", "--repair"], "");
    assert_eq!(whole.status.code(), Some(2));
    assert!(text(&whole.stderr).contains("needs no repair"), "{}", text(&whole.stderr));
}

#[test]
fn what_a_half_made_pen_is_built_on_counts_where_that_is_said() {
    let home = Home::new("builton");
    let step = |arguments: &[&str]| {
        let answer = home.run(&[&["rejoin", "two-tube-fountain", "--format", "json"], arguments].concat(), "");
        let answer: serde_json::Value = serde_json::from_slice(&answer.stdout).expect("it is JSON");
        answer["step"].as_str().expect("a step").to_owned()
    };
    assert_eq!(step(&["body.glued"]), "read-kit/read-sheet", "only what is named is held");
    assert_ne!(step(&["body.glued", "--built-on"]), "read-kit/read-sheet");
    let said = text(&home.run(&["rejoin", "two-tube-fountain", "body.glued"], "").stdout);
    assert!(said.contains("--built-on"), "{said}");
    let near = text(&home.run(&["rejoin", "two-tube-fountain", "glued"], "").stderr);
    assert!(near.contains("`body.glued` (") && near.contains("stepjig list two-tube-fountain"), "{near}");
}

#[test]
fn a_guide_is_listed_by_its_conditions_and_their_words() {
    let home = Home::new("inside");
    let guide = home.small(STEPS);
    let listed = home.run(&["list", guide, "--format", "plain"], "");
    assert_eq!(
        text(&listed.stdout),
        "tube.scuffed\tthe tube is scuffed\nkind.known\tthe kind is known\ntube.glued\tthe tube is glued and hard\n"
    );
    let listed = home.run(&["list", guide, "--format", "json"], "");
    let listed: serde_json::Value = serde_json::from_slice(&listed.stdout).expect("it is JSON");
    assert_eq!(listed["conditions"].as_array().map(Vec::len), Some(3));
}

#[test]
fn a_job_is_not_gone_on_with_under_another_guides_name_nor_begun_where_nothing_may_be_asked() {
    let home = Home::new("othername");
    let guide = home.small(STEPS);
    home.run(&["walk", guide, "--job", "a"], "done\n");
    let other = home.run(&["walk", "two-tube-fountain", "--job", "a"], "");
    assert_eq!(other.status.code(), Some(2));
    assert!(text(&other.stderr).contains("the job `a` is a `small`"), "{}", text(&other.stderr));
    let silent = home.run(&["walk", guide, "--job", "b", "--no-input"], "done\n");
    assert_eq!(silent.status.code(), Some(2));
    assert!(text(&silent.stderr).contains("`scuff` wants an answer"), "{}", text(&silent.stderr));
    assert!(!journal(&home.0, "b").exists(), "nothing is begun");
}

//! `stepjig rehearse` as its users run it.

use crate::home::{GLUE, Home};

const REHEARSALS: &str = r#"
[[rehearsal]]
title = "The band end, straight through"
answers = { kind = "the band end" }
arrives = "finished"
[[rehearsal]]
title = "Who does not scuff is held up at the glue"
leaves-out = ["scuff"]
finding = "need-unmet"
arrives = "kind"
"#;

fn with_rehearsals() -> String {
    format!("{GLUE}{REHEARSALS}")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

#[test]
fn it_says_how_many_walks_there_are_what_held_and_what_no_rehearsal_takes() {
    let home = Home::new("rehearse");
    let shown = home.run(&["rehearse", home.small(&with_rehearsals())], "");
    assert_eq!((shown.status.code(), text(&shown.stderr)), (Some(0), String::new()));
    // Lines are wrapped to the width.
    let said = text(&shown.stdout).split_whitespace().collect::<Vec<_>>().join(" ");
    for expected in [
        "small: 3 walks through the 5 steps take every branch there is.",
        "no walk takes two of these 3: kind “the band end”, kind “the tail end”",
        "2 rehearsals written in the guide: all hold.",
        "holds The band end, straight through",
        "take 1 of its 3 branches",
        "kind: “the tail end”, “cannot tell”",
        "`stepjig rehearse small.toml -o walks.pdf`",
    ] {
        assert!(said.contains(expected), "{expected} is missing in\n{said}");
    }
}

#[test]
fn a_rehearsal_that_fails_says_where_what_must_be_and_what_came_and_ends_with_1() {
    let home = Home::new("rehearse-fails");
    let guide = home.small(
        &with_rehearsals().replace("the band end\" }\narrives = \"finished", "the band end\" }\narrives = \"scrap"),
    );
    let shown = home.run(&["rehearse", guide], "");
    assert_eq!(shown.status.code(), Some(1), "{}", text(&shown.stderr));
    let said = text(&shown.stdout);
    for expected in [
        "2 rehearsals written in the guide: 1 hold.",
        "  fails  The band end, straight through",
        "small.toml:",
        "must be: it arrives at an end, scrap",
        "came:    it ends at `end`, finished",
    ] {
        assert!(said.contains(expected), "{expected} is missing in\n{said}");
    }
}

#[test]
fn for_other_programs_it_is_one_json_object_or_a_record_a_line() {
    let home = Home::new("rehearse-json");
    let guide = home.small(&with_rehearsals());
    let shown = home.run(&["rehearse", guide, "--format", "json"], "");
    let report: serde_json::Value = serde_json::from_slice(&shown.stdout).expect("JSON");
    assert_eq!((&report["stepjig"], &report["guide"]), (&1.into(), &"small".into()));
    let walks = &report["walks"];
    assert_eq!((&walks["number"], &walks["bound"], &walks["smallest"]), (&3.into(), &3.into(), &true.into()));
    assert_eq!(walks["apart"].as_array().map(Vec::len), Some(3));
    let sheets = walks["sheets"].as_array().expect("a list");
    let ends: Vec<&str> = sheets.iter().filter_map(|walk| walk["end"].as_str()).collect();
    assert_eq!(ends.len(), 3);
    assert_eq!((ends.iter().filter(|end| **end == "end").count(), sheets[0]["stuck"].is_null()), (2, true));
    let first = &sheets[0]["moves"][0];
    assert_eq!((&first["step"], &first["said"], &first["to"]), (&"scuff".into(), &"done".into(), &"kind".into()));
    assert_eq!(first["picked-up"], false);
    let rehearsals = report["rehearsals"].as_array().expect("a list");
    assert_eq!((rehearsals.len(), &rehearsals[0]["holds"], &rehearsals[1]["step"]), (2, &true.into(), &"kind".into()));
    assert!(rehearsals[0]["line"].as_u64().is_some_and(|line| line > 20));
    assert_eq!((&report["coverage"]["branches"], &report["coverage"]["taken"]), (&3.into(), &1.into()));
    assert_eq!(report["coverage"]["open"][1]["way"], "cannot tell");
    let plain = text(&home.run(&["rehearse", guide, "--format", "plain"], "").stdout);
    assert_eq!(plain.lines().count(), 3 + 2 + 2, "{plain}");
}

#[test]
fn the_walks_are_sheets_in_every_form() {
    let home = Home::new("rehearse-sheets");
    let guide = home.small(&with_rehearsals());
    let shown = text(&home.run(&["rehearse", guide, "--as", "text"], "").stdout);
    for expected in [
        "Walk 1 of 3, to a finished pen",
        "Step 1: done as they stand.",
        "[ ]   1. Step 2: Which end does the tube take?",
        "Say “the band end”; then step 3.",
        "Found ____",
        "The walk ends at step 4: Finished: the pen is done.",
        "to a lost blank",
    ] {
        assert!(shown.replace('\u{a0}', " ").contains(expected), "{expected} is missing in\n{shown}");
    }
    let page = text(&home.run(&["rehearse", guide, "--as", "html"], "").stdout);
    assert!(page.contains("Walk 3 of 3"), "{page}");
    let written = home.run(&["rehearse", guide, "-o", "walks.md"], "");
    assert_eq!((written.status.code(), text(&written.stdout)), (Some(0), String::new()));
    assert!(std::fs::read_to_string(home.0.join("walks.md")).expect("it is written").contains("Walk 2 of 3"));
    let again = home.run(&["rehearse", guide, "-o", "walks.md"], "");
    assert_eq!(again.status.code(), Some(2));
    let both = home.run(&["rehearse", guide, "--as", "text", "--format", "json"], "");
    assert_eq!((both.status.code(), text(&both.stdout)), (Some(2), String::new()));
}

#[test]
fn a_guide_with_errors_is_not_rehearsed() {
    let home = Home::new("rehearse-errors");
    let guide = home.small(&with_rehearsals().replace("\"kind.known\"]", "\"kind.knwn\"]"));
    let shown = home.run(&["rehearse", guide], "");
    assert_eq!((shown.status.code(), text(&shown.stdout)), (Some(2), String::new()));
    assert!(text(&shown.stderr).contains("the guide has errors"), "{}", text(&shown.stderr));
}

//! `print` of a job: its record, the other sheets of its own guide, and what is said where it cannot be.

use crate::home::Home;

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

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8").replace('\u{a0}', " ")
}

fn printed(home: &Home, arguments: &[&str]) -> (Option<i32>, String) {
    let shown = home.run(&[&["print"], arguments].concat(), "");
    (shown.status.code(), text(&shown.stdout) + &text(&shown.stderr))
}

#[test]
fn a_job_is_printed_by_its_name_or_folder_in_every_form() {
    let home = Home::new("print-job");
    let guide = home.small(STEPS);
    let walked = home.run(&["walk", guide, "--job", "pear-1"], "done\nthe band end\n");
    assert_eq!(walked.status.code(), Some(1), "it is parked");
    let (code, shown) = printed(&home, &["pear-1"]);
    assert_eq!(code, Some(0), "{shown}");
    assert!(shown.contains("Record\nsmall ·") && shown.contains("job pear-1"), "{shown}");
    assert!(shown.contains("laid aside") && shown.contains("Next: Push the tube home."), "{shown}");
    assert!(shown.contains("Which end does the tube take? – “the band end”"), "{shown}");
    let folder = ".local/share/stepjig/jobs/pear-1";
    assert_eq!(printed(&home, &[folder]).1, shown);
    for form in ["markdown", "html"] {
        let (code, shown) = printed(&home, &["pear-1", "--as", form]);
        assert!(code == Some(0) && shown.contains("the band end"), "{shown}");
    }
    let (_, checklist) = printed(&home, &["pear-1", "--sheet", "checklist"]);
    assert!(checklist.contains("job pear-1") && checklist.contains("[ ]   3. Push the tube home."), "{checklist}");
    home.run(&["walk", "--job", "pear-1"], "\nyes\ndone\n");
    let (_, finished) = printed(&home, &["pear-1"]);
    assert!(finished.contains("Finished on"), "{finished}");
}

#[test]
fn what_is_measured_at_the_bench_is_on_the_jobs_other_sheets() {
    let home = Home::new("print-measured");
    let typed = format!("{}10.31 mm\n54 mm\n10.45 mm\n", "done\n".repeat(6));
    home.run(&["walk", "two-tube-fountain", "--job", "pear-1"], &typed);
    let (_, labels) = printed(&home, &["pear-1", "--sheet", "labels"]);
    assert!(labels.contains("Pen pear-1: body\nbit 10.45 mm"), "{labels}");
    assert!(labels.contains("Pen pear-1: cap\nbit 12.5 mm"), "{labels}");
}

#[test]
fn a_guide_goes_before_a_job_of_its_name_and_its_folder_is_the_job() {
    let home = Home::new("print-both");
    home.run(&["walk", "two-tube-fountain", "--job", "two-tube-fountain"], "done\n");
    assert!(printed(&home, &["two-tube-fountain"]).1.contains("Checklist"));
    assert!(printed(&home, &[".local/share/stepjig/jobs/two-tube-fountain"]).1.contains("Record"));
}

#[test]
fn what_is_no_job_is_said() {
    let home = Home::new("print-no-job");
    let guide = home.small(STEPS);
    home.run(&["walk", guide, "--job", "a"], "done\n");
    for (arguments, says) in [
        (vec!["pear-9"], "`stepjig list` shows what there is"),
        (vec![guide, "--sheet", "record"], "is a guide, and a record is of a job"),
        (vec!["a", "--kit", "x"], "a job has its kit's numbers already"),
        (vec!["a", "--sheet", "trouble"], "names no fault table"),
        (vec!["a", "--sheet", "care"], "does not say what the pen's owner does"),
    ] {
        let (code, said) = printed(&home, &arguments);
        assert_eq!(code, Some(2), "{arguments:?}");
        assert!(said.contains(says), "{said}");
    }
    home.write(".local/share/stepjig/jobs/a/guide.toml", "no guide");
    let (code, said) = printed(&home, &["a"]);
    assert!(code == Some(2) && said.contains("the guide that is kept with the job `a` cannot be read"), "{said}");
}

/// A damaged journal is printed as far as it goes, and says so.
#[test]
fn a_damaged_journal_is_told() {
    let home = Home::new("print-damaged");
    let guide = home.small(STEPS);
    home.run(&["walk", guide, "--job", "a"], "done\nthe band end\n");
    let path = home.0.join(".local/share/stepjig/jobs/a/journal.jsonl");
    let journal = std::fs::read_to_string(&path).expect("a journal");
    std::fs::write(&path, journal.replacen("\"scuff\"", "\"scufF\"", 1)).expect("it is damaged");
    let before = std::fs::read(&path).expect("it is there");
    let (code, shown) = printed(&home, &["a"]);
    assert!(code == Some(0) && shown.contains("The journal is damaged"), "{shown}");
    assert_eq!(std::fs::read(&path).expect("it is there"), before, "nothing is changed");
}

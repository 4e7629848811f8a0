//! `stepjig print` as its users run it.

use crate::home::{GLUE, Home};

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

#[test]
fn it_prints_to_the_screen_or_into_a_whole_file_and_writes_over_none_unasked() {
    let home = Home::new("print");
    let guide = home.small(GLUE);
    let shown = home.run(&["print", guide], "");
    assert_eq!(shown.status.code(), Some(0), "{}", text(&shown.stderr));
    assert!(text(&shown.stdout).contains("[ ]   3. Push the tube <b>home</b>."), "{}", text(&shown.stdout));
    let page = home.run(&["print", guide, "--as", "html", "-o", "pen.html"], "");
    assert_eq!((page.status.code(), text(&page.stdout)), (Some(0), String::new()));
    let written = std::fs::read_to_string(home.0.join("pen.html")).expect("it is written");
    assert!(written.starts_with("<!DOCTYPE html>") && written.ends_with("</html>\n"));
    assert!(written.contains("&lt;b&gt;home&lt;/b&gt;"));
    let again = home.run(&["print", guide, "--as", "markdown", "-o", "pen.html"], "");
    assert_eq!(again.status.code(), Some(2));
    assert!(text(&again.stderr).contains("`--force` writes over it"), "{}", text(&again.stderr));
    assert_eq!(std::fs::read_to_string(home.0.join("pen.html")).expect("it stays"), written);
    let forced = home.run(&["print", guide, "--as", "markdown", "-o", "pen.html", "--force"], "");
    assert_eq!(forced.status.code(), Some(0));
    let written = std::fs::read_to_string(home.0.join("pen.html")).expect("it is written over");
    assert!(written.starts_with("# A small guide"));
}

#[test]
fn what_it_cannot_do_is_said_and_leaves_no_file() {
    let home = Home::new("print-not");
    let guide = home.small(GLUE);
    for (arguments, says) in [
        (vec!["print", guide, "--far"], "`--far` is of pages, and text has none"),
        (vec!["print", guide, "--paper", "letter", "-o", "pen.md"], "`--paper` is of pages"),
        (vec!["print", guide, "-o", "no/such/pen.pdf"], "there is no folder no/such"),
        (vec!["print", guide, "--as", "ps"], "[possible values: text, markdown, html, pdf]"),
        (
            vec!["print", guide, "--sheet", "map"],
            "[possible values: checklist, short, parts, labels, care, trouble, record]",
        ),
        (vec!["print", "two-tube-fountan"], "there is no guide"),
        (vec!["print", guide, "--kit", "none.toml"], "none.toml"),
    ] {
        let failed = home.run(&arguments, "");
        assert_eq!(failed.status.code(), Some(2), "{arguments:?}");
        assert!(text(&failed.stderr).contains(says), "{}", text(&failed.stderr));
        assert_eq!(text(&failed.stdout), "");
    }
    let names: Vec<_> =
        home.0.read_dir().expect("a folder").filter_map(|entry| Some(entry.ok()?.file_name())).collect();
    assert_eq!(names, ["small.toml"]);
}

#[test]
fn in_ascii_a_sheet_has_no_other_character() {
    let home = Home::new("print-ascii");
    let shown = home.run(&["print", "two-tube-fountain", "--ascii"], "");
    assert_eq!(shown.status.code(), Some(0));
    assert!(shown.stdout.is_ascii() && shown.stdout.len() > 10_000);
}

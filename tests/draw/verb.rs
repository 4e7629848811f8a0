//! `stepjig draw` as its users run it.

use crate::home::Home;

const STEPS: &str = r#"
[[step]]
id = "glue"
stage = "Glue"
do = "Push the tube <b>home</b>."
needs = ["tube.scuffed", "kind.known"]
gives = ["tube.glued"]
[[step]]
id = "end"
end = "finished"
needs = ["tube.glued"]
[[step]]
id = "lost"
end = "scrap"
"#;

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

#[test]
fn it_draws_to_the_screen_or_into_a_file_and_writes_over_none_unasked() {
    let home = Home::new("draw");
    let guide = home.small(STEPS);
    let shown = home.run(&["draw", guide], "");
    assert_eq!(shown.status.code(), Some(0), "{}", text(&shown.stderr));
    assert!(text(&shown.stdout).contains("<svg ") && text(&shown.stdout).contains("&lt;b&gt;home&lt;/b&gt;"));
    let written = home.run(&["draw", guide, "--as", "dot", "-o", "pen.dot"], "");
    assert_eq!((written.status.code(), text(&written.stdout)), (Some(0), String::new()));
    let file = || std::fs::read_to_string(home.0.join("pen.dot")).expect("it is written");
    let first = file();
    assert!(first.starts_with("digraph guide {") && first.ends_with("}\n"));
    let again = home.run(&["draw", guide, "-o", "pen.dot"], "");
    assert_eq!((again.status.code(), file()), (Some(2), first));
    assert!(text(&again.stderr).contains("`--force` writes over it"), "{}", text(&again.stderr));
    let page = home.run(&["draw", guide, "--as", "html", "-o", "pen.dot", "--force"], "");
    assert_eq!(page.status.code(), Some(0), "{}", text(&page.stderr));
    assert!(file().starts_with("<!DOCTYPE html>") && file().ends_with("</html>\n") && file().contains("<svg "));
}

#[test]
fn what_it_cannot_do_is_said() {
    let home = Home::new("draw-not");
    let guide = home.small(STEPS);
    for (arguments, says) in [
        (vec!["draw", guide, "--as", "png"], "[possible values: svg, dot, html, pdf]"),
        (vec!["draw", guide, "--stage", "Glüe"], "did you mean `Glue`?"),
        (vec!["draw", guide, "--stage", "\u{1b}[2JGlue up the whole pen"], "has no stage `^[[2JGlue up the whole pen`"),
        (vec!["draw", "two-tube-fountan"], "there is no guide"),
        (vec!["draw", guide, "-o", "no/such/folder.svg"], "there is no folder no/such"),
        (vec!["draw", guide, "--paper", "a4"], "only a PDF of a chart has them"),
        (vec!["draw", "tube-stuck"], "`stepjig print tube-stuck` shows its questions"),
    ] {
        let failed = home.run(&arguments, "");
        assert_eq!((failed.status.code(), text(&failed.stdout)), (Some(2), String::new()), "{arguments:?}");
        assert!(text(&failed.stderr).contains(says), "{}", text(&failed.stderr));
    }
}

/// The pages are counted by their entries in the file: PDF 1.7 (ISO 32000-1), 7.7.3.3.
#[cfg(feature = "pdf")]
#[test]
fn on_paper_a_chart_is_as_many_sheets_as_it_takes() {
    let home = Home::new("draw-paper");
    let pages = |arguments: &[&str]| {
        let drawn = home.run(&[&["draw", "two-tube-fountain", "-o", "chart.pdf", "--force"], arguments].concat(), "");
        assert_eq!(drawn.status.code(), Some(0), "{}", text(&drawn.stderr));
        let bytes = std::fs::read(home.0.join("chart.pdf")).expect("it is written");
        String::from_utf8_lossy(&bytes).split("/Type/Page").filter(|rest| !rest.starts_with('s')).count() - 1
    };
    assert_eq!(pages(&[]), 1);
    assert!(pages(&["--paper", "a4"]) > 20);
    assert!((1..8).contains(&pages(&["--paper", "letter", "--stage", "Read the kit"])));
}

#[test]
fn in_ascii_a_chart_has_no_other_character_and_is_still_a_picture() {
    let home = Home::new("draw-ascii");
    for form in ["svg", "dot"] {
        let shown = home.run(&["draw", "two-tube-fountain", "--ascii", "--as", form], "");
        assert_eq!(shown.status.code(), Some(0));
        assert!(shown.stdout.is_ascii() && shown.stdout.len() > 10_000);
        if form == "svg" {
            super::picture::read(&text(&shown.stdout));
        }
    }
}

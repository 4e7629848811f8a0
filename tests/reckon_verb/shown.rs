//! How a result is shown to a person: the answer first, in words.

use super::home::Home;
use super::{LINES, json, out, reckon, running};

#[test]
fn the_verdict_and_what_it_means_come_before_the_numbers() {
    let home = Home::new("reckon-order");
    for line in LINES {
        let shown = out(&reckon(&home, line, &[]));
        let all = json(&reckon(&home, line, &["--format", "json"]));
        let text = |key: &str| running(&all[key].as_str().unwrap_or("").replace('\u{a0}', " "));
        if let Some(verdict) = all["verdict"].as_str() {
            assert!(shown.starts_with(&format!("{}: ", verdict.replace('-', " "))), "{shown}");
        }
        // The numbers are the first lines that are set in, under a free one.
        let (before, after) = shown.split_once("\n\n  ").unwrap_or_else(|| panic!("{line}: {shown}"));
        assert!(running(before).ends_with(&text("say")), "{line}: {shown}");
        assert!(running(after).contains(&text("working")), "{line}: {shown}");
    }
}

#[test]
fn a_verdict_is_said_in_words_and_kept_by_its_name_for_programs() {
    let home = Home::new("reckon-words-of-verdicts");
    let line = "press-fit part=9.03mm tube-in=9mm tube-out=9.5mm wood-out=12mm strength=3.9MPa e=1GPa";
    let shown = running(&out(&reckon(&home, line, &[])));
    assert!(shown.starts_with("will split: ") && shown.contains("anything from snug to will split;"), "{shown}");
    assert!(!shown.contains("will-split"), "{shown}");
    assert_eq!(json(&reckon(&home, line, &["--format", "json"]))["verdict"], "will-split");
}

/// What is for programs alone is in JSON and in the plain form, and not on a person's page.
#[test]
fn a_number_is_told_once() {
    let home = Home::new("reckon-once");
    let line = "lathe-speed diameter=20mm speed=2000";
    let shown = out(&reckon(&home, line, &[]));
    let surfaces: Vec<&str> = shown.lines().filter(|row| row.starts_with("  surface")).collect();
    assert_eq!(surfaces, ["  surface  125.7 m/min (412.3 ft/min)"]);
    assert!(out(&reckon(&home, line, &["--format", "plain"])).contains("\nsurface-ft\t412."));
    assert!(json(&reckon(&home, line, &["--format", "json"]))["outputs"]["surface-ft"]["value"].is_number());
}

#[test]
fn what_a_number_would_take_is_said_as_it_is_typed() {
    let home = Home::new("reckon-takes");
    let rows = [
        (
            "press-fit part=9.01mm tube-in=9mm tube-out=9.5mm wood-out=12mm strength=4MPa e=1GPa",
            "force none: it takes how far the part goes in: length=6 mm",
        ),
        ("thread-stop let-go=9:00", "ways none: it takes the thread ends at the mouth: starts=3"),
        ("thread-stop let-go=9:00", "slip none: it takes the lead, lead=2.4 mm, or pitch=0.8 mm starts=3"),
        (
            "thread-stop let-go=9:00 lead=2.4mm",
            "slip-arc none: it takes the cap's diameter at the clip: diameter=14 mm",
        ),
        (
            "blank-cut blank=90mm pieces=52mm,40mm allowance=1.5mm kerf=2mm",
            "allowance-that-fits none does: the bare tubes lack 4 mm",
        ),
    ];
    for (line, expected) in rows {
        let shown = running(&out(&reckon(&home, line, &[])));
        assert!(shown.contains(expected), "{line}: {shown}");
    }
    // What is told of `ways` is not told again.
    let shown = running(&out(&reckon(&home, "thread-stop let-go=9:00", &[])));
    assert_eq!(shown.matches("none: ").count(), 2, "{shown}");
    let asked = running(&out(&reckon(&home, "thread-stop", &["--inputs"])));
    assert!(asked.contains("(else type travel=5.2 mm, or turns=1.25)"), "{asked}");
}

//! The short form: one page, no one-way step left out, and what a hold asks.

use std::collections::BTreeSet;

use stepjig::guide::{Guide, Kind, Library};
use stepjig::reckon::Data;
use stepjig::sheet::{BlockKind, Run, Sheet, Stamp, lay_out, text};

use super::steps::{guides, small};

fn shipped() -> Guide {
    Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links")
}

fn ticks(sheet: &Sheet) -> BTreeSet<usize> {
    let lines = sheet.sections.iter().flat_map(|section| &section.blocks).flat_map(|block| &block.lines);
    let runs = lines.flat_map(|line| &line.runs);
    runs.filter_map(|run| if let Run::Tick(number) = run { Some(*number) } else { None }).collect()
}

/// Returns the steps of a guide that a test picks, by their number on the checklist.
fn numbered(guide: &Guide, is: impl Fn(&stepjig::guide::Step) -> bool) -> BTreeSet<usize> {
    let checklist = lay_out::checklist(guide, &Data::shipped(), &Stamp::default());
    let blocks = checklist.sections.iter().flat_map(|section| &section.blocks);
    let numbers = blocks.filter_map(|block| if let BlockKind::Step(number) = block.kind { Some(number) } else { None });
    let steps =
        guide.steps().map(|(_, step)| step).filter(|step| !matches!(step.kind, Kind::Run | Kind::Return { .. }));
    numbers.zip(steps).filter(|(_, step)| is(step)).map(|(number, _)| number).collect()
}

/// A page of A4 holds 50 lines of 66 characters: the bound of the task, no source.
#[test]
fn the_shipped_guide_fits_on_a_page() {
    let shown = text::render(&lay_out::short(&shipped(), &Stamp { date: Some("25 Nov 2026".into()), job: None }));
    assert!(shown.lines().count() <= 50, "{} lines", shown.lines().count());
    for line in shown.lines() {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= 66, "{line}");
    }
    assert!(!shown.contains("two pages"), "{shown}");
}

#[test]
fn no_one_way_step_is_left_out_and_each_says_what_its_hold_asks() {
    for guide in guides() {
        let sheet = lay_out::short(&guide, &Stamp::default());
        let one_way = numbered(&guide, |step| step.one_way);
        assert!(!one_way.is_empty() && ticks(&sheet).is_superset(&one_way), "{}: {one_way:?}", guide.id());
        for block in sheet.sections.iter().flat_map(|section| &section.blocks) {
            let has = |run: &Run| matches!(run, Run::Tick(number) if one_way.contains(number));
            let runs = &block.lines[0].runs;
            let asks = runs.iter().position(|run| matches!(run, Run::Strong(words) if words.as_str() == "Hold:"));
            assert_eq!(runs.iter().any(has), asks.is_some(), "{runs:?}");
            if let Some(at) = asks {
                assert!(matches!(&runs[at + 1], Run::Words(words) if words.as_str().len() > 1), "{runs:?}");
            }
        }
    }
}

/// Both pieces are drilled by one procedure: they share a line that has a box for each.
#[test]
fn what_a_procedure_repeats_for_the_other_piece_is_told_once() {
    let sheet = lay_out::short(&shipped(), &Stamp::default());
    let guide = shipped();
    let drills = numbered(&guide, |step| step.id.ends_with("/drill") && step.one_way);
    assert_eq!(drills.len(), 2);
    let line = |block: &stepjig::sheet::Block| -> Vec<usize> {
        let tick = |run: &Run| if let Run::Tick(number) = run { Some(*number) } else { None };
        block.lines[0].runs.iter().filter_map(tick).collect()
    };
    let lines: Vec<Vec<usize>> = sheet.sections[0].blocks.iter().map(line).collect();
    assert!(lines.contains(&drills.into_iter().collect()), "{lines:?}");
}

#[test]
fn readings_have_their_limits_and_waits_their_blanks() {
    let shown = text::render(&lay_out::short(&small(), &Stamp::default())).replace('\u{a0}', " ");
    let flat = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("[ ] 1 ______ 6 to 16 mm"), "{shown}");
    assert!(flat.contains("[ ] 6 ______ to ______"), "{shown}");
    assert!(flat.contains("Hold: the body is drilled; body scuffed."), "a small guide says it in words: {shown}");
}

/// A guide that is too long for a page says so, and has every one-way step all the same.
#[test]
fn a_guide_that_fits_on_no_page_says_two_pages() {
    let mut long = String::from("stepjig = 1\n[guide]\nid = \"long\"\ntitle = \"Long\"\n");
    for n in 0..80 {
        long.push_str(&format!(
            "[[step]]\nid = \"s{n}\"\ndo = \"Press part {n} home.\"\none-way = true\nif-wrong = \"Stop.\"\nneeds = [\"n{n}\"]\ngives = [\"n{}\"]\n",
            n + 1
        ));
    }
    let long = long.replacen("needs = [\"n0\"]\n", "", 1);
    let long = format!("{long}[[step]]\nid = \"end\"\nend = \"finished\"\nneeds = [\"n80\"]\n");
    let guide = Library::empty().link(&stepjig::finding::Source::new("long.toml", long));
    let guide = guide.guide.unwrap_or_else(|| panic!("{:?}", guide.findings));
    let sheet = lay_out::short(&guide, &Stamp::default());
    assert!(sheet.name.as_str().ends_with("two pages"), "{}", sheet.name);
    assert_eq!(ticks(&sheet).len(), 80);
}

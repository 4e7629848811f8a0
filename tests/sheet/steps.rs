//! What is laid out: every step once, every jump to a step that there is, and how a small guide looks.

use stepjig::finding::Source;
use stepjig::guide::{Guide, Kind, Library};
use stepjig::reckon::Data;
use stepjig::sheet::{BlockKind, Role, Run, Sheet, Stamp, lay_out, text};

/// A guide with every kind of step, a procedure, a jump back and a jump over.
pub const SMALL: &str = include_str!("small.toml");

const STUFF: &str = r#"
stepjig = 1
[procedure]
id = "scuff-up"
title = "Scuff the {tube} tube"
takes = ["tube"]
[[step]]
id = "rub"
do = "Rub the {tube} tube dull."
gives = ["{tube}.scuffed"]
parts = ["{tube} tube", "grey paper"]
[[step]]
id = "return"
end = "return"
"#;

/// Links the small guide.
pub fn small() -> Guide {
    let mut library = Library::empty();
    let procedure = Source::new("scuff-up.toml", STUFF);
    library.add(stepjig::guide::document::Shelf::Procedure, "scuff-up", procedure);
    let linked = library.link(&Source::new("small.toml", SMALL));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings))
}

/// Returns every guide that the sheets are tried with.
pub fn guides() -> Vec<Guide> {
    let library = Library::shipped();
    let shipped = library.guide_ids().map(|id| library.link_id(id).and_then(|linked| linked.guide).expect("it links"));
    shipped.chain([small()]).collect()
}

/// Returns the sheets of a guide.
pub fn sheets(guide: &Guide) -> [Sheet; 2] {
    let stamp = Stamp { date: Some("25 Nov 2026".into()), job: None };
    let data = Data::shipped();
    [
        lay_out::checklist(guide, &Data::shipped(), &stamp),
        lay_out::parts(guide, data.things().expect("they are shipped"), &stamp),
    ]
}

/// Returns every sheet of a guide.
pub fn all_sheets(guide: &Guide) -> Vec<Sheet> {
    let stamp = Stamp::default();
    let others = [lay_out::short(guide, &stamp), lay_out::labels(guide, 3, &stamp)];
    sheets(guide).into_iter().chain(others).chain(lay_out::care(guide, &stamp)).collect()
}

#[test]
fn every_step_is_once_on_the_checklist_in_order_under_its_stage() {
    for guide in guides() {
        let sheet = lay_out::checklist(&guide, &Data::shipped(), &Stamp::default());
        let mut shown = Vec::new();
        for section in &sheet.sections {
            for block in &section.blocks {
                let BlockKind::Step(number) = block.kind else { continue };
                let actions = block.lines.iter().filter(|line| line.role == Role::Action);
                let words: Vec<String> = actions.map(|line| line.said(|run| format!("{run:?}"))).collect();
                assert_eq!(words.len(), 1, "step {number} has one action");
                shown.push((number, words[0].clone(), section.title.to_string()));
            }
        }
        let steps = guide.steps().map(|(_, step)| step);
        let steps: Vec<_> = steps.filter(|step| !matches!(step.kind, Kind::Run | Kind::Return { .. })).collect();
        assert_eq!(shown.len(), steps.len(), "{}", guide.id());
        for (n, ((number, words, title), step)) in shown.iter().zip(steps).enumerate() {
            assert_eq!(*number, n + 1);
            if matches!(step.kind, Kind::Do { .. } | Kind::Ask | Kind::Gauge { .. }) {
                let own = step.text.split('{').next().expect("a text");
                assert!(words.contains(own), "{words} is not {own}");
            }
            let stage = step.stage.as_deref().unwrap_or("First");
            assert!(title.starts_with(stage), "{} is under {title}", step.id);
        }
    }
}

#[test]
fn every_jump_names_a_step_that_there_is_and_every_answer_has_one() {
    for guide in guides() {
        let [checklist, parts] = sheets(&guide);
        let n = checklist.sections.iter().flat_map(|section| &section.blocks);
        let n = n.filter(|block| matches!(block.kind, BlockKind::Step(_))).count();
        for sheet in [&checklist, &parts] {
            let blocks = sheet.sections.iter().flat_map(|section| &section.blocks);
            for run in blocks.flat_map(|block| &block.lines).flat_map(|line| &line.runs) {
                if let Run::Step(number) = run {
                    assert!((1..=n).contains(number), "{}: step {number} of {n}", guide.id());
                }
            }
        }
        let answers = guide.ways().iter().filter(|way| matches!(way.label, stepjig::guide::Label::Answer(_))).count();
        let lines = checklist.sections.iter().flat_map(|section| &section.blocks).flat_map(|block| &block.lines);
        assert_eq!(lines.filter(|line| line.role == Role::Way && line.tick).count(), answers, "{}", guide.id());
    }
}

#[test]
fn a_small_guide_looks_so() {
    let [checklist, parts] = sheets(&small()).map(|sheet| text::render(&sheet));
    let plain = |text: &str| text.replace('\u{a0}', " ");
    snapbox::assert_data_eq!(plain(&checklist), snapbox::file!["small.txt"].raw());
    snapbox::assert_data_eq!(plain(&parts), snapbox::file!["small-parts.txt"].raw());
}

#[test]
fn a_number_off_a_kit_file_goes_before_a_reading_and_before_the_guide() {
    let mut guide = small();
    let said = |guide: &Guide| {
        text::render(&lay_out::checklist(guide, &Data::shipped(), &Stamp::default())).replace('\u{a0}', " ")
    };
    assert!(said(&guide).contains("Drill 10.5 mm"), "{}", said(&guide));
    assert!(said(&guide).contains("the reading of step 1 goes first"), "{}", said(&guide));
    let number = |text: &str| stepjig::guide::document::KitValue::Text(text.into());
    assert!(guide.set_number("kit.tube.body.drill", number("11 mm")));
    assert!(guide.set_number("kit.tube.body.outside", number("10.8 mm")));
    assert!(said(&guide).contains("Drill 11 mm"), "{}", said(&guide));
    assert!(!said(&guide).contains("goes first") && said(&guide).contains("10.8 mm"), "{}", said(&guide));
}

//! What stands before the first step of a checklist and after its last, and what a step tells beside its action.

use stepjig::finding::Source;
use stepjig::guide::{Guide, Kind, Library};
use stepjig::reckon::Data;
use stepjig::sheet::{Stamp, lay_out, text};

use super::steps::{SMALL, guides};

fn said(guide: &Guide) -> String {
    let text = text::render(&lay_out::checklist(guide, &Data::shipped(), &Stamp::default()));
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").replace("| ", "").replace('\u{a0}', " ")
}

/// The small guide with more in its file.
fn with(opening: &str, records: &str) -> Guide {
    let mut library = Library::empty();
    let scuff = "stepjig = 1\n[procedure]\nid = \"scuff-up\"\ntitle = \"Scuff the {tube} tube\"\ntakes = [\"tube\"]\n\
                 [[step]]\nid = \"rub\"\ndo = \"Rub the {tube} tube dull.\"\ngives = [\"{tube}.scuffed\"]\n\
                 [[step]]\nid = \"return\"\nend = \"return\"\n";
    library.add(stepjig::guide::document::Shelf::Procedure, "scuff-up", Source::new("scuff-up.toml", scuff));
    let file = format!("{}\n{records}", SMALL.replacen("[guide]\n", &format!("[guide]\n{opening}"), 1));
    let linked = library.link(&Source::new("small.toml", file));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings))
}

/// The four signal words and what each is for: ANSI Z535.6, from memory.
#[test]
fn every_checklist_begins_with_how_it_is_used_and_ends_with_a_place_to_sign() {
    for guide in guides() {
        let said = said(&guide);
        let order = [
            "tick off the sheet “Parts and tools”",
            "Hold. The step after it cannot be taken back",
            "DANGER Somebody will be killed",
            "WARNING Somebody may be killed",
            "CAUTION Somebody may be hurt slightly",
            "NOTICE The work, the tool or the kit",
            "Laid aside before step",
            "End of: How to use this sheet",
            "Finished ____________ By ____________",
            "End of: Sign it off",
        ];
        let mut rest = said.as_str();
        for words in order {
            let (_, after) = rest.split_once(words).unwrap_or_else(|| panic!("{}: {words}", guide.id()));
            rest = after;
        }
    }
}

#[test]
fn a_trial_is_told_as_it_was_and_one_at_the_bench_only_where_there_was_one() {
    let bare = said(&with("", ""));
    assert!(bare.contains("not yet tried at the bench") && !bare.contains("Tried"), "{bare}");
    let desk =
        "[[verified]]\non = \"2026-11-26\"\nby = \"a second reader\"\nmethod = \"desk\"\nwhat = \"Read through\"\n";
    let read = said(&with("kept-by = \"the choir's turner\"\n", desk));
    assert!(read.contains("Tried at the desk, 2026-11-26, by a second reader: Read through."), "{read}");
    assert!(read.contains("not yet tried at the bench"), "{read}");
    assert!(read.contains("tell who keeps this guide: the choir's turner."), "{read}");
    let bench = desk.replace("\"desk\"", "\"bench\"\nedition = \"3\"");
    let made = said(&with("", &bench));
    assert!(made.contains("Tried at the bench, with real parts, edition 3, 2026-11-26"), "{made}");
    assert!(!made.contains("not yet tried"), "{made}");
}

#[test]
fn a_fault_table_is_named_by_its_title_and_a_step_that_cannot_be_taken_back_tells_why() {
    let library = Library::shipped();
    for guide in guides() {
        let said = said(&guide);
        for table in guide.ways().iter().filter_map(|way| way.trouble.as_ref()).map(|call| &call.table) {
            let source = library.trouble(table).expect("it is shipped");
            let title = stepjig::guide::read(&source, library.limits()).0.expect("it is read").title;
            assert!(said.contains(&format!("it is trouble: “{title}” ({table})")), "{}: {table}", guide.id());
        }
        let plain = |step: &&stepjig::guide::Step| matches!(step.kind, Kind::Do { .. }) && step.one_way;
        let whys = guide.steps().map(|(_, step)| step).filter(plain).filter_map(|step| step.why.as_ref());
        for why in whys.filter(|why| !why.contains('{')) {
            assert!(said.contains(&format!("Why: {why}")), "{}: {why}", guide.id());
        }
    }
}

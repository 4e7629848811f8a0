//! The pick list: each thing under its stage, sorted into parts, bits, what is used up, tools, papers.

use std::collections::BTreeSet;

use stepjig::finding::Source;
use stepjig::guide::Library;
use stepjig::reckon::{Data, DataFile, ThingKind};
use stepjig::sheet::{Stamp, lay_out, text};

use super::steps::small;
use crate::home::Home;

/// Everything that a shipped guide asks for is listed; a name that nothing asks for would be a slip of the list.
#[test]
fn the_shipped_list_knows_every_thing_that_the_shipped_files_name() {
    let library = Library::shipped();
    let data = Data::shipped();
    let things = data.things().expect("it is shipped");
    let guide = library.link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
    let mut unlisted: BTreeSet<String> = guide.steps().flat_map(|(_, step)| step.parts.clone()).collect();
    assert!(unlisted.len() > 80);
    // The procedures of remedies, as they are written: what braces hold is any words.
    for id in library.procedure_ids() {
        let document = stepjig::guide::read(&library.procedure(id).expect("it is there"), library.limits()).0;
        let steps = document.expect("it can be read").steps;
        let parts = steps.into_iter().flat_map(|step| step.parts).map(|part| part.value);
        // A thing that is a parameter whole is named where the procedure is run.
        unlisted.extend(parts.filter(|part| !(part.starts_with('{') && part.ends_with('}'))));
    }
    unlisted.retain(|thing| things.kind(thing).is_none());
    assert_eq!(unlisted, BTreeSet::new());
}

fn laid_over(name: &str, own: &str) -> Data {
    Data::shipped().with(DataFile::Things, &Source::new(name, own.to_owned()))
}

#[test]
fn a_name_in_braces_is_any_words_and_a_plain_name_goes_before_it() {
    let own = "bit = [\"left {what} bit\"]\ntool = [\"left odd bit\"]\n";
    let data = laid_over("shop/data/things.toml", own);
    let things = data.things().expect("it can be read");
    let kinds = ["left twist bit", "left odd bit", "left bit", "lamp", "{kit.tube.body.drill} bit"];
    let expected = [
        Some(ThingKind::Bit),
        Some(ThingKind::Tool),
        Some(ThingKind::Bit),
        Some(ThingKind::Tool),
        Some(ThingKind::Bit),
    ];
    assert_eq!(kinds.map(|thing| things.kind(thing)), expected);
}

#[test]
fn a_shops_own_list_goes_first_and_a_fault_in_it_names_its_place() {
    let kind = |own: &str, thing: &str| {
        let data = laid_over("shop/data/things.toml", own);
        data.things().map(|things| things.kind(thing)).map_err(|refusal| refusal.to_string())
    };
    assert_eq!(kind("consumable = [\"lamp\"]", "lamp"), Ok(Some(ThingKind::Consumable)));
    let wrong = kind("tols = [\"lamp\"]", "lamp").expect_err("there is no such kind");
    assert_eq!(
        wrong,
        "shop/data/things.toml:1:1: `tols` is no kind of thing: they are part, bit, consumable, tool, paper"
    );
    let wrong = kind("tool = \"lamp\"", "lamp").expect_err("it is no list");
    assert!(wrong.starts_with("shop/data/things.toml:1:"), "{wrong}");
}

#[test]
fn what_is_not_listed_is_under_also() {
    let said = |own: &str| {
        let data = laid_over("own", own);
        text::render(&lay_out::parts(&small(), data.things().expect("it can be read"), &Stamp::default()))
    };
    let (plain, own) = (said(""), said("consumable = [\"grey paper\"]").replace('\u{a0}', " "));
    assert!(plain.replace('\u{a0}', " ").contains("Also\n[ ] grey paper – step 2\n"), "{plain}");
    assert!(own.contains("Consumables\n[ ] grey paper") && own.contains("Also\n[ ] drill"), "{own}");
}

#[test]
fn the_program_takes_a_shops_own_list() {
    let home = Home::new("print-things");
    home.write("guides/data/things.toml", "tool = [\"blank\"]\n");
    let shown = home.run(&["print", "two-tube-fountain", "--sheet", "parts", "--guides", "guides"], "");
    let shown = String::from_utf8(shown.stdout).expect("output is UTF-8");
    let stage =
        shown.split("Choose the blank\n===").nth(1).and_then(|rest| rest.split("End of").next()).expect("a stage");
    assert!(stage.split("Tools\n").nth(1).is_some_and(|tools| tools.contains("[ ] blank –")), "{stage}");
    home.write("guides/data/things.toml", "tool = 3\n");
    let failed = home.run(&["print", "two-tube-fountain", "--sheet", "parts", "--guides", "guides"], "");
    assert_eq!(failed.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&failed.stderr).contains("things.toml:1:"));
}

//! The shipped styles are what `draft` writes from their answers, completed by hand: added to and reworded, nothing else.
//!
//! The library's own comparison of editions tells what is different between the two.

use stepjig::check::compare::{Difference, What, compare};
use stepjig::draft::{Interview, write};
use stepjig::finding::Source;
use stepjig::guide::{Guide, Library};

use super::checked;
use super::styles::{FILES, answers};

/// What the texts of a step are about, as `compare` tells them: these may be worded otherwise.
const REWORDED: [&str; 9] = [
    "why",
    "the note",
    "if it goes wrong",
    "to have at hand",
    "the minutes",
    "the place",
    "the stage",
    "the clock",
    "what the sum is given",
];

/// Tells whether completing a draft by hand may make this difference.
fn is_completion(one: &Difference) -> bool {
    let said = one.said.as_str();
    match one.what {
        // Added.
        What::Came | What::NeedCame | What::CautionCame => true,
        What::Ways => said.starts_with("it can now be left by"),
        What::Effects => ["now true", "now spoiled", "now undone"].iter().any(|now| said.starts_with(now)),
        // Filled in: a kit number that the draft had stands in the guide too.
        What::Kit => !said.ends_with("is: not given"),
        // Reworded.
        What::Text | What::Words | What::Opening => true,
        What::Other => {
            let was_is = said.strip_prefix("the fault tables was: ").and_then(|rest| rest.split_once("; is: "));
            was_is.is_some_and(|(was, is)| is.starts_with(was))
                || REWORDED.iter().any(|what| said.starts_with(&format!("{what} was: ")))
        }
        What::BecameOneWay
        | What::NoLongerOneWay
        | What::NeedGone
        | What::CautionGone
        | What::WaitShorter
        | What::WaitLonger
        | What::Limits
        | What::Went
        | What::Moved
        | What::Renamed => false,
    }
}

/// Returns what a guide does otherwise than its draft, beyond completing it.
fn otherwise(drafted: &Guide, completed: &Guide) -> Vec<String> {
    compare(drafted, completed)
        .into_iter()
        .filter(|one| !is_completion(one))
        .map(|one| format!("{} {}: {}", one.what.as_str(), one.step.unwrap_or_default(), one.said))
        .collect()
}

fn drafted(name: &str, text: &str) -> Guide {
    checked(&write(&Interview::of(&answers(name, text)).build)).guide.unwrap_or_else(|| panic!("{name} does not link"))
}

fn shipped(library: &Library, name: &str) -> String {
    library.guide(name).unwrap_or_else(|| panic!("{name} is not shipped")).text().to_owned()
}

/// The files of answers of the styles that are shipped.
fn styles() -> impl Iterator<Item = (&'static str, &'static str)> {
    FILES.into_iter().filter(|(name, _)| *name != "three-parts-pencil")
}

#[test]
fn each_shipped_style_is_its_draft_completed_by_hand() {
    let library = Library::shipped();
    assert_eq!(styles().count(), 6);
    for (name, text) in styles() {
        let drafted = drafted(name, text);
        let shipped = shipped(&library, name);
        let completed = checked(&shipped).guide.unwrap_or_else(|| panic!("{name} does not link"));
        assert_eq!(otherwise(&drafted, &completed), Vec::<String>::new(), "{name}");
        // It was completed: it says more, and nothing is left to fill in.
        assert!(completed.len() >= drafted.len() && !shipped.contains("# fill in"), "{name}");
        assert!(shipped.contains("[[rehearsal]]"), "{name}");
    }
}

/// What the test above would not let pass, one by one.
#[test]
fn a_guide_that_departs_from_its_draft_is_found_out() {
    let library = Library::shipped();
    let (name, text) = styles().find(|(name, _)| *name == "twist-two-tube").expect("it is one of them");
    let (drafted, guide) = (drafted(name, text), shipped(&library, name));
    for (from, to, kind) in [
        (
            "\"mechanism.pressed\", \"clip.pressed\", \"band.in-place\"",
            "\"clip.pressed\", \"band.in-place\"",
            "need-gone join",
        ),
        ("id = \"try-refill\"", "id = \"try-the-refill\"", "renamed try-the-refill"),
        ("[kit.stop.mechanism]\nmark = \"33.0 mm\"", "[kit.stop.mechanism]", "kit"),
        (
            "drill = \"7.0 mm\"\noutside = \"6.88 mm\"\nlength = \"51.0 mm\"",
            "drill = \"7.0 mm\"\noutside = \"6.88 mm\"\nlength = \"52.0 mm\"",
            "",
        ),
        ("gives = [\"pen.ready-to-go\"]", "gives = [\"pen.all-done\"]", "effects change"),
        ("[[step]]\nid = \"box-loose\"\nrun = \"box-loose\"\nwith = { parts = \"band\" }\n", "", "went box-loose"),
    ] {
        assert!(guide.contains(from), "{from}");
        let changed = guide.replacen(from, to, 1);
        let source = Source::new("changed.toml", changed);
        let linked = library.link(&source).guide;
        let found =
            linked.map(|changed| otherwise(&drafted, &changed)).unwrap_or_else(|| panic!("{to}: does not link"));
        match kind {
            // Another figure is what is filled in.
            "" => assert_eq!(found, Vec::<String>::new(), "{to}"),
            kind => assert!(found.iter().any(|one| one.starts_with(kind)), "{to}: {found:#?}"),
        }
    }
    // Two steps in each other's place.
    let at = |id: &str| guide.find(&format!("[[step]]\nid = \"{id}\"")).unwrap_or_else(|| panic!("{id}"));
    let (first, second, third) = (at("mark-upper"), at("mark-lower"), at("saw-upper"));
    let swapped = [&guide[..first], &guide[second..third], &guide[first..second], &guide[third..]].concat();
    let swapped = checked(&swapped).guide.expect("it links");
    assert!(
        otherwise(&drafted, &swapped).iter().any(|one| one.starts_with("moved mark-")),
        "they stand in another order"
    );
}

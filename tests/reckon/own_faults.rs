//! What `check` finds in a shop's own files of figures: what the sums would refuse sooner or later.

use stepjig::check::check_figures;
use stepjig::finding::Source;
use stepjig::finding::render::one_line;
use stepjig::reckon::DataFile;

fn found(file: DataFile, text: &str) -> Vec<String> {
    let checked = check_figures(file, &Source::new(file.name(), text));
    checked.findings.iter().map(one_line).collect()
}

#[test]
fn each_fault_is_found_at_its_place() {
    // File | what it says | where, and what is found there.
    let rows = [
        (DataFile::Practice, "[wall]\nthin = \"thick\"", "2:1: error[bad-value]: `wall.thin`: `thick` is not a length"),
        (DataFile::Practice, "[wall]\n  thing = 1", "2:3: error[bad-value]: `wall.thing` is no usual value"),
        (DataFile::Practice, "[press-fit]\nnu = 0.9", "2:1: error[bad-value]: `press-fit.nu`: `0.9` is out of range"),
        (
            DataFile::Practice,
            "[thread-stop]\nlead-in = \"1 mm\"",
            "2:1: error[bad-value]: `thread-stop.lead-in`: `mm` is",
        ),
        (
            DataFile::Practice,
            "[cure]\nband-least = \"much\"",
            "2:1: error[bad-value]: `cure.band-least`: `much` is not",
        ),
        (DataFile::Practice, "[wall]\nthin = [1]", "2:1: error[bad-value]: `wall.thin` is neither a text nor a number"),
        (
            DataFile::Drills,
            "letter = '''\nA 0.234\nZ 0.41 im\n'''",
            "3:1: error[bad-value]: `letter.Z`: `im` is not a unit",
        ),
        (DataFile::Drills, "leter = ''", "1:1: error[bad-value]: unknown field `leter`"),
        (DataFile::Speeds, "[lathe]\npens = { most = 9 }", "2:1: error[bad-value]: `lathe.pens`: missing field"),
        (DataFile::Speeds, "[lath]\npens = 1", "1:2: error[bad-value]: `lath` is no table of speeds.toml"),
        (DataFile::Adhesives, "[glue.mine]\nfactor = 2", "1:7: error[bad-value]: `glue.mine`: missing field `sign`"),
        (DataFile::Wood, "[wood]\n\npear = { moves = [0.003] }", "3:1: error[bad-value]: `pear`: missing field `name`"),
        (DataFile::Wood, "[wood\n", "1:6: error[syntax]: unclosed table"),
    ];
    for (file, text, expected) in rows {
        let found = found(file, text);
        let expected = format!("{}:{expected}", file.name());
        assert!(found.len() == 1 && found[0].starts_with(&expected), "{text}: {found:?}");
        assert!(found[0].ends_with("; mend that entry, or take it out of the file"), "{found:?}");
    }
}

#[test]
fn all_faults_of_the_usual_values_are_found_at_once() {
    let text = "[wall]\nthin = \"thick\"\neggshell = 3\n[open-time]\ntight = \"tight\"\ngrabs = 2";
    assert_eq!(found(DataFile::Practice, text).len(), 3);
}

/// Nothing is found in what is in order: an empty file, and the shipped one as a shop's own.
#[test]
fn what_is_in_order_is_left_alone() {
    let shipped = [
        (DataFile::Adhesives, include_str!("../../guides/data/adhesives.toml")),
        (DataFile::Drills, include_str!("../../guides/data/drills.toml")),
        (DataFile::Practice, include_str!("../../guides/data/practice.toml")),
        (DataFile::Speeds, include_str!("../../guides/data/speeds.toml")),
        (DataFile::Wood, include_str!("../../guides/data/wood.toml")),
    ];
    for (file, text) in shipped {
        for text in ["", text] {
            assert_eq!(found(file, text), Vec::<String>::new(), "{}", file.name());
        }
    }
}

#[test]
fn hostile_files_are_found_out_and_never_a_panic() {
    let texts =
        ["\0", "\u{feff}", "[wood]\n\"\u{1b}[2J\" = 1", "wood = 1", "[[wood]]", "letter = \"\u{202e} x\"", "a.b.c = 1"];
    for text in texts {
        for file in DataFile::ALL {
            let found = found(file, text);
            assert!(found.iter().all(|line| !line.chars().any(char::is_control)), "{found:?}");
            assert!(found.iter().all(|line| line.starts_with(&format!("{}:", file.name()))), "{found:?}");
        }
    }
}

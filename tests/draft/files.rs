//! Files of answers that are wrong are refused with their line.

use stepjig::draft::parse;
use stepjig::finding::Source;

#[test]
fn a_file_that_is_no_answers_is_refused_with_its_line() {
    for (text, line, message) in [
        ("", 1, "this is no file of answers"),
        ("stepjig = 2\n", 1, "this is no file of answers"),
        ("stepjig = 1\n[draft]\ntubes = ", 3, ""),
        ("stepjig = 1\n[drfat]\n", 2, "there is no table `drfat`"),
        ("stepjig = 1\ndraft = 3\n", 2, "`draft` is no table"),
        ("stepjig = 1\n[draft]\ntubes = \"two\"\nclose = \"twist\"\n", 4, "no question is called `close`"),
        ("stepjig = 1\n[draft]\nbody.drlil = \"7 mm\"\n", 3, "no question is called `body.drlil`"),
        ("stepjig = 1\n[draft]\npart.tip.into.x.y = \"7 mm\"\n", 3, "no question is called"),
        ("stepjig = 1\n[draft.part.\"a b\"]\ninto = \"x\"\n", 3, "no question is called `part.a b.into`"),
        ("stepjig = 1\n[draft]\nname = true\n", 3, "`name` is no text"),
        ("stepjig = 1\n[draft]\nparts = [1]\n", 3, "`parts` is a list of names"),
    ] {
        let wrong = parse(&Source::new("a.toml", text)).expect_err(text);
        assert!(wrong.line == line && wrong.message.contains(message), "{text:?}: {wrong:?}");
    }
    let wrong = parse(&Source::new("a.toml", "stepjig = 1\n[draft]\nclose = \"twist\"\n")).expect_err("it is misspelt");
    assert_eq!(wrong.help.as_deref(), Some("did you mean `closes`?"));
}

#[test]
fn numbers_and_lists_are_taken_as_a_person_would_write_them() {
    let text = "stepjig = 1\n[draft]\ntubes = 2\nparts = [\"tip\", \"clip\"]\n[draft.body]\ndrill = \"7 mm\"\n";
    let answers = parse(&Source::new("a.toml", text)).expect("it reads");
    assert_eq!(answers.get("tubes"), Some("two"));
    assert_eq!(answers.get("parts"), Some("tip, clip"));
    assert_eq!(answers.get("body.drill"), Some("7 mm"));
}

//! The record of how a guide was tried: what is read of it, and what is wrong with one.

use stepjig::finding::Source;
use stepjig::guide::{Limits, read};

fn file(record: &str) -> String {
    format!(
        "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\nkept-by = \"the choir\"\n[[step]]\nid = \"a\"\nend = \
         \"scrap\"\n[[verified]]\n{record}"
    )
}

const WHOLE: &str = "on = \"2026-11-26\"\nby = \"the choir's turner\"\nmethod = \"bench\"\nwhat = \"Six pens of one \
                     pear tree.\"\nedition = \"2\"\n";

#[test]
fn a_record_is_read_whole() {
    let (document, findings) = read(&Source::new("g.toml", file(WHOLE)), &Limits::default());
    assert!(findings.is_empty(), "{findings:?}");
    let document = document.expect("it is read");
    let [record] = document.verified.as_slice() else { panic!("{:?}", document.verified) };
    let told = [&record.on, &record.by, &record.method, &record.what];
    assert_eq!(told, ["2026-11-26", "the choir's turner", "bench", "Six pens of one pear tree."]);
    assert_eq!((record.edition.as_deref(), document.kept_by.as_deref()), (Some("2"), Some("the choir")));
}

/// What is written in place of what; the finding's code; the text it stands at; what it says.
const ROWS: [(&str, &str, &str, &str, &str); 7] = [
    ("\"2026-11-26\"", "\"2026-02-30\"", "bad-value", "\"2026-02-30\"", "is not a day"),
    ("\"2026-11-26\"", "\"26 Nov\"", "bad-value", "\"26 Nov\"", "is not a day"),
    ("\"2026-11-26\"", "\"20261126\"", "bad-value", "\"20261126\"", "is not a day"),
    ("\"bench\"", "\"bensh\"", "bad-value", "\"bensh\"", "a guide is not tried by `bensh`"),
    ("by = ", "buy = ", "unknown-key", "buy", "there is no key `buy` in a `[[verified]]`"),
    ("by = \"the choir's turner\"\n", "", "missing-key", "[[verified]]", "this record has no `by`"),
    ("what = \"Six pens of one pear tree.\"", "what = 6", "wrong-type", "6", "text in quotes"),
];

#[test]
fn each_fault_is_found_at_its_place() {
    for (from, to, code, at, says) in ROWS {
        assert!(WHOLE.contains(from), "{from}");
        let source = Source::new("g.toml", file(&WHOLE.replace(from, to)));
        let (document, found) = read(&source, &Limits::default());
        let told: Vec<_> = found
            .iter()
            .map(|found| (found.code.as_str(), source.text()[found.place.span.clone()].trim_end(), &found.message))
            .collect();
        let [(told_code, told_at, message)] = told.as_slice() else { panic!("{to}: {told:?}") };
        assert_eq!((*told_code, *told_at), (code, at), "{to}");
        assert!(
            message.contains(says) || found[0].help.as_deref().is_some_and(|help| help.contains(says)),
            "{message}"
        );
        assert!(document.expect("it is read").verified.is_empty(), "{to}: a record with a fault is left out");
    }
}

//! The wording lints: what a person at the bench would trip over in a text.
//!
//! They read a file as it was written, so that a procedure is told of once however often it is run. [`text`] splits
//! every text once; [`lexicon`] knows what single words can mean; [`word_lists`] gathers
//! the lists; every other file is one lint, with its list of words.
//! The rules and their sources stand on the pages of the codes, [`Code::page`](crate::finding::Code::page).

mod action_in_caution;
mod answers_overlap;
mod caution_apart;
mod caution_shape;
mod condition_last;
mod grammar;
mod lexicon;
mod long_sentence;
mod no_cannot_tell;
mod no_hold;
mod no_pass_state;
mod no_use_when;
mod open_repeat;
mod question_unclear;
mod senses;
mod signal_word;
mod text;
mod trial_behind;
mod two_actions;
mod vague_word;
mod verb_first;
mod verbs;
mod wait_unclear;
mod word_lists;

use crate::finding::Finding;
use crate::guide::document::Document;
use text::Worded;

/// Lints all texts of a file.
pub(super) fn check(document: &Document, findings: &mut Vec<Finding>) {
    no_use_when::check(document, findings);
    trial_behind::check(document, findings);
    let Some(first) = document.steps.first() else { return };
    let mut worded = Worded::new(document, first, &word_lists::LEXICON);
    for step in &document.steps {
        worded.read(step);
        for lint in LINTS {
            lint(&worded, findings);
        }
    }
}

type Lint = fn(&Worded<'_>, &mut Vec<Finding>);

const LINTS: &[Lint] = &[
    vague_word::check,
    no_pass_state::check,
    two_actions::check,
    wait_unclear::check,
    caution_apart::check,
    action_in_caution::check,
    signal_word::check,
    caution_shape::check,
    no_cannot_tell::check,
    answers_overlap::check,
    question_unclear::check,
    long_sentence::check,
    verb_first::check,
    condition_last::check,
    open_repeat::check,
    no_hold::check,
];

#[cfg(test)]
mod testing {
    use crate::finding::{Code, Source};

    /// Returns what the findings of a code point at, for a guide that has one step with these keys.
    pub(super) fn marked(code: Code, step: &str) -> Vec<String> {
        marked_in_file(
            code,
            &format!("stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n[[step]]\nid = \"s\"\n{step}\n"),
        )
    }

    /// Returns what the findings of a code point at.
    pub(super) fn marked_in_file(code: Code, text: &str) -> Vec<String> {
        let source = Source::new("g.toml", text);
        let (document, unread) = crate::guide::read(&source, &crate::guide::Limits::default());
        assert!(unread.is_empty(), "{text}: {unread:#?}");
        let mut findings = Vec::new();
        super::check(&document.expect("the file is a guide"), &mut findings);
        findings.retain(|finding| finding.code == code);
        crate::finding::sort(&mut findings);
        for finding in &findings {
            assert!(finding.help.is_some(), "{} has no help", finding.code);
            assert!(
                !finding.message.ends_with('.') && !finding.message.starts_with(char::is_uppercase),
                "{}",
                finding.message
            );
        }
        findings.iter().map(|finding| text[finding.place.span.clone()].to_owned()).collect()
    }

    /// Asserts for each `do` text what a code points at, `""` for nothing.
    pub(super) fn check_dos(code: Code, table: &[(&str, &str)]) {
        for (said, expected) in table {
            let step = format!("do = {said:?}");
            assert_eq!(marked(code, &step).join(" | "), *expected, "{said}");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::testing::marked_in_file;
    use crate::finding::Code;

    const HEAD: &str = "stepjig = 1\n[guide]\nid = \"g\"\ntitle = \"G\"\n[[step]]\nid = \"s\"\n";

    #[test]
    fn the_caret_stands_under_the_word() {
        let in_quotes = |quoted: &str| marked_in_file(Code::VagueWord, &format!("{HEAD}do = {quoted}\n")).concat();
        assert_eq!(in_quotes("\"Press it gently.\""), "gently");
        assert_eq!(in_quotes("'Press it gently.'"), "gently");
        assert_eq!(in_quotes("\"\"\"\nPress it gently.\"\"\""), "gently");
        assert_eq!(in_quotes("'''Press the „ł” gently.'''"), "gently");
        assert_eq!(in_quotes("\"Press \\\"it\\\" gently.\""), "\"Press \\\"it\\\" gently.\"", "escapes move the words");
    }

    #[test]
    fn a_finding_names_its_step() {
        let source = crate::finding::Source::new("g.toml", format!("{HEAD}do = \"Press it gently.\"\n"));
        let (document, _) = crate::guide::read(&source, &crate::guide::Limits::default());
        let mut findings = Vec::new();
        super::check(&document.expect("the file is a guide"), &mut findings);
        let vague = findings.iter().find(|finding| finding.code == Code::VagueWord).expect("it is vague");
        assert_eq!(vague.step.as_deref(), Some("s"));
        assert_eq!(vague.place.line_column(), (7, 16));
    }

    #[test]
    fn odd_texts_do_not_stop_it() {
        for said in
            ["…", "?", "{", "{{", "}", "a {b", "unless", "not", "1", ".", "\u{a0}", "if", "{tube}.", "İ ẞ", "again"]
        {
            for step in [
                format!(
                    "do = {said:?}\nin-one-go = [{said:?}]\nif-wrong = {said:?}\ncaution = [{{ level = \"danger\", hazard = {said:?}, avoid = {said:?} }}]"
                ),
                format!("ask = {said:?}\nanswers = [{{ say = {said:?} }}, {{ say = \"yes\" }}]"),
                format!("wait = \"1 min\"\nready = {said:?}\nfor = {said:?}"),
            ] {
                let step = step.replace("\\u{a0}", "\u{a0}");
                let source = crate::finding::Source::new("g.toml", format!("{HEAD}{step}\n"));
                if let (Some(document), _) = crate::guide::read(&source, &crate::guide::Limits::default()) {
                    super::check(&document, &mut Vec::new());
                }
            }
        }
    }
}

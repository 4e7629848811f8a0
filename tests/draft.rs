//! A guide is drafted by answers: whatever they are, `check` finds nothing in it, and it can be walked to a pen.

#[path = "draft/any_answers.rs"]
mod any_answers;
#[path = "draft/editions.rs"]
mod editions;
#[path = "draft/files.rs"]
mod files;
#[path = "draft/hangs_together.rs"]
mod hangs_together;
mod home;
#[path = "draft/parts.rs"]
mod parts;
#[path = "draft/shelf.rs"]
mod shelf;
#[path = "draft/styles.rs"]
mod styles;
#[path = "draft/typed.rs"]
mod typed;
mod typing;
#[path = "draft/verb.rs"]
mod verb;
#[path = "draft/writing.rs"]
mod writing;

use stepjig::check::{Checked, check_file};
use stepjig::draft::{Answers, Interview, write};
use stepjig::finding::{Source, render::one_line};
use stepjig::guide::Library;

/// Returns what `check` makes of a guide's text.
fn checked(text: &str) -> Checked {
    check_file(&Library::shipped(), &Source::new("draft.toml", text))
}

/// Fails where `check` finds anything in the guide that answers give so far.
fn assert_clean(answers: &Answers, when: &str) {
    let text = write(&Interview::of(answers).build);
    let checked = checked(&text);
    let found: Vec<String> = checked.findings.iter().map(one_line).collect();
    assert!(found.is_empty() && checked.guide.is_some(), "{when}: {found:#?}\n{answers:#?}\n{text}");
}

/// Answers every open question by its proposal.
fn by_proposals(mut answers: Answers) -> Answers {
    loop {
        let interview = Interview::of(&answers);
        let Some(question) = interview.next() else { return answers };
        let said = question.read(&question.any_answer()).expect("what is proposed is an answer");
        let key = question.key.clone();
        answers.set(&key, said);
    }
}

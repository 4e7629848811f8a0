//! `open-repeat`: a text asks for doing it again and says no most.
//!
//! A round in the graph is looked at by the check of the same name among the proofs.

use super::senses::Senses;
use super::text::{Role, Sentence, Worded};
use crate::finding::{Code, Finding};

/// Words that ask for doing it again.
pub(super) const REPEATS: &[&str] = &["again", "often", "repeat", "repeatedly", "repeating"];

/// Words that say how often.
pub(super) const LIMITS: &[&str] = &["most", "once", "thrice", "twice"];

const ROLES: &[Role] = &[Role::Do, Role::Move, Role::IfWrong, Role::Tell];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for (phrase, sentence) in worded.sentences_of(ROLES, Senses::REPEAT) {
        if phrase.senses.has(Senses::LIMIT) || worded.sentences(phrase).any(|sentence| counts(&sentence)) {
            continue;
        }
        if let Some(n) = sentence.all(Senses::REPEAT).find(|n| asks(&sentence, *n)) {
            let message = format!("`{}` sets no end to it", sentence.word(n).to_lowercase());
            let finding = worded.at_words(Code::OpenRepeat, phrase, &sentence, n, n, message);
            findings.push(finding.help(
                "say how often at most: `three times at most`; or make it a question with a way back and a way out",
            ));
        }
    }
}

/// Tells whether the word asks for a round without end: `again` does so only with `until`, or as `again and again`.
fn asks(sentence: &Sentence<'_>, n: usize) -> bool {
    if sentence.is(n, "again") {
        return sentence.is_one_of(n + 1, &["and", "till", "until"])
            || n > 0 && (0..n).any(|n| sentence.is_one_of(n, &["till", "until"]));
    }
    !sentence.is(n, "often") || n > 0 && sentence.is(n - 1, "as")
}

/// Tells whether a number of times stands there: `three times`, `2 coats`.
fn counts(sentence: &Sentence<'_>) -> bool {
    sentence.all(Senses::UNIT).any(|n| {
        n > 0
            && sentence.senses_of(n - 1).has(Senses::NUMBER.and(Senses::REFERENCE))
            && sentence.is_one_of(n, &["coats", "passes", "strokes", "time", "times", "turns"])
    })
}

#[cfg(test)]
mod tests {
    use super::super::testing::check_dos;
    use crate::finding::Code;

    #[test]
    fn a_repeat_says_how_often_at_most() {
        check_dos(
            Code::OpenRepeat,
            &[
                ("Repeat until the rag stays clean.", "Repeat"),
                ("Wipe the bore again until the rag stays clean.", "again"),
                ("Wipe the bore as often as it takes.", "often"),
                ("Wipe it again and again.", "again"),
                ("Repeat until the rag stays clean, three times at most.", ""),
                ("Repeat {n} times.", ""),
                ("Repeat it once.", ""),
                ("Weigh the blank again.", ""),
                ("Wax the blank in 4 coats; repeat each.", ""),
                ("At the drill press, clamp the blank in the vice.", ""),
            ],
        );
    }
}

//! `no-cannot-tell`: a question without a way out for whoever cannot tell.
//!
//! An answer is such a way out if it has one of the words of [`OPEN`], or a negation before one of [`OPEN_ENDS`]:
//! `cannot tell`, `not sure`, `don't know`, `neither`, `something else`.

use super::senses::Senses;
use super::text::{Role, Worded};
use crate::finding::{Code, Finding};
use crate::guide::document::RawKind;

/// Words that leave the question open.
#[rustfmt::skip]
pub(super) const OPEN: &[&str] =
    &[
    "doubt", "doubtful", "else", "neither", "none", "other", "unclear", "undecided", "unknown", "unsure",
];

/// Words that leave it open behind a negation.
#[rustfmt::skip]
pub(super) const OPEN_ENDS: &[&str] =
    &[
    "certain", "clear", "decide", "idea", "know", "known", "say", "see", "sure", "tell",
];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let RawKind::Ask { text, .. } = &worded.step.kind else { return };
    let open = worded.of(&[Role::Answer]).any(|phrase| {
        phrase.senses.has(Senses::OPEN.and(Senses::OPEN_END))
            && worded.sentences(phrase).any(|sentence| {
                let negated = |n: usize| {
                    sentence.words[..n].iter().any(|word| word.senses.has(Senses::NEGATION))
                        || n > 0 && sentence.is_one_of(n - 1, &["cant", "dont"])
                };
                sentence.senses.has(Senses::OPEN) || sentence.all(Senses::OPEN_END).any(negated)
            })
    });
    if !open {
        let finding = worded.at(Code::NoCannotTell, &text.span, "no answer is left for whoever cannot tell");
        findings.push(
            finding.help("add an answer such as `cannot tell`, with a way to a reading, to help or to a safe stop"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    #[test]
    fn a_question_has_an_answer_for_whoever_cannot_tell() {
        for say in [
            "cannot tell",
            "Can't tell",
            "cant tell",
            "not sure yet",
            "I don't know",
            "neither",
            "none of these",
            "something else",
            "no idea",
            "hard to see, cannot say",
        ] {
            let step =
                format!("ask = \"Which face?\"\nanswers = [{{ say = \"the straight grain\" }}, {{ say = {say:?} }}]");
            assert_eq!(marked(Code::NoCannotTell, &step), [""; 0], "{say}");
        }
        for say in ["no", "the other-side grain", "tell me", "not clean", "known"] {
            let step =
                format!("ask = \"Which face?\"\nanswers = [{{ say = \"the straight grain\" }}, {{ say = {say:?} }}]");
            assert_eq!(marked(Code::NoCannotTell, &step), ["\"Which face?\""], "{say}");
        }
    }
}

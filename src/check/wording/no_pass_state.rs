//! `no-pass-state`: a step that looks, and does not say what passes; an answer that does not say what was seen.

use super::senses::Senses;
use super::text::{After, Role, Worded};
use crate::finding::{Code, Finding};

/// Verbs that look.
pub(super) const LOOKS: &[&str] = &["check", "confirm", "ensure", "examine", "inspect", "test", "verify"];

/// Answers that say nothing of what was seen.
#[rustfmt::skip]
pub(super) const EMPTY_ANSWERS: &[&str] =
    &[
    "checked", "fine", "good", "ok", "okay", "right", "set", "tested", "verified",
];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for (phrase, sentence) in worded.sentences_of(&[Role::Do], Senses::LOOK) {
        let begins = sentence.main_clause();
        if !sentence.senses_of(begins).has(Senses::LOOK) {
            continue;
        }
        let rest = &sentence.words[begins + 1..];
        let states = rest.iter().any(|word| word.senses.has(Senses::STATES.and(Senses::MEASURE)));
        // `Check the bore: bright brass all round.`
        let colon = sentence.words[begins..].iter().any(|word| word.after == After::Colon);
        if !states && !colon {
            let verb = sentence.word(begins).to_lowercase();
            let message = format!("`{verb}` without the state or the value that passes");
            let finding = worded.at_words(Code::NoPassState, phrase, &sentence, begins, begins, message);
            findings.push(finding.help(format!("say what passes: `{verb} that …`; or make it a question, or a gauge")));
        }
    }
    for phrase in worded.of(&[Role::Answer]).filter(|phrase| phrase.senses.has(Senses::EMPTY)) {
        if worded.sentences(phrase).all(|sentence| sentence.words.iter().all(|word| word.senses.has(Senses::EMPTY))) {
            let message = format!("the answer `{}` does not say what was seen", phrase.text.value);
            let finding = worded.at(Code::NoPassState, &phrase.text.span, message);
            findings.push(finding.help("say it as it looks or feels: `bright brass all round`"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{check_dos, marked};
    use crate::finding::Code;

    #[test]
    fn a_look_says_what_passes() {
        check_dos(
            Code::NoPassState,
            &[
                ("Check the bore.", "Check"),
                ("At the bench, inspect the rim.", "inspect"),
                ("Test the fit of the cap.", "Test"),
                ("Check that the bore is clean.", ""),
                ("Inspect the rim: bright brass all round.", ""),
                ("Check the length with a caliper, 54.0 mm.", ""),
                ("Verify the drill is {tube.drill}.", ""),
                ("Drill a test hole.", ""),
                ("At the drill press, clamp the blank in the vice.", ""),
            ],
        );
    }

    #[test]
    fn an_answer_says_what_was_seen() {
        let ask = |say: &str| {
            marked(
                Code::NoPassState,
                &format!("ask = \"How is the rim?\"\nanswers = [{{ say = \"{say}\" }}, {{ say = \"a chip\" }}]"),
            )
        };
        for say in ["checked", "OK", "Good."] {
            assert_eq!(ask(say), [format!("\"{say}\"")]);
        }
        for say in ["yes", "good brass", "bright all round", "the right hand"] {
            assert_eq!(ask(say), [""; 0], "{say}");
        }
    }
}

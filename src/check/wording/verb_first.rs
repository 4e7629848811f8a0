//! `verb-first`: a `do` that does not begin with its verb.
//!
//! A place of at most six words, or a condition, may stand before it with a comma.

use super::senses::Senses;
use super::text::{Phrase, Role, Sentence, Worded};
use crate::finding::{Code, Finding};

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for phrase in worded.of(&[Role::Do]) {
        for (n, sentence) in worded.sentences(phrase).enumerate() {
            if let Some((from, to)) = passive(&sentence) {
                let words = (from..=to).map(|n| sentence.word(n).to_lowercase()).collect::<Vec<_>>().join(" ");
                let message = format!("`{words}` describes the action and does not ask for it");
                let finding = worded.at_words(Code::VerbFirst, phrase, &sentence, from, to, message);
                findings.push(finding.help("begin with the verb: `Press …`, or with a place: `At the press, set …`"));
            } else if n == 0 {
                findings.extend(first_word(worded, phrase, &sentence));
            }
        }
    }
}

/// Returns the words that describe rather than ask: `should be`, `you must`.
fn passive(sentence: &Sentence<'_>) -> Option<(usize, usize)> {
    let be = sentence.all(Senses::MODAL).find(|n| {
        sentence.is_one_of(*n, &["must", "should"]) && sentence.is(n + 1, "be")
            || sentence.is(*n, "needs") && sentence.is(n + 1, "to")
    });
    if let Some(n) = be {
        return Some((n, n + 1));
    }
    if let Some(n) = sentence
        .all(Senses::STATES)
        .find(|n| sentence.is_one_of(*n, &["are", "is"]) && sentence.is(n + 1, "to") && sentence.is(n + 2, "be"))
    {
        return Some((n, n + 2));
    }
    let you = |n: &usize| sentence.is(*n, "you") && sentence.senses_of(n + 1).has(Senses::MODAL.and(Senses::WORK));
    sentence.all(Senses::PERIL).find(you).map(|n| (n, n + 1))
}

fn first_word(worded: &Worded<'_>, phrase: &Phrase<'_>, sentence: &Sentence<'_>) -> Option<Finding> {
    let n = sentence.main_clause();
    let forbids = sentence.is(n, "do") && sentence.senses_of(n + 1).has(Senses::NEGATION);
    if sentence.senses_of(n).has(Senses::VERB) && !forbids {
        return None;
    }
    let (message, help) = if forbids || sentence.senses_of(n).has(Senses::NEGATION) {
        ("the step says what not to do".to_owned(), "say what to do; what to keep clear of is a `caution`")
    } else {
        let word = sentence.word(n);
        (
            format!("`{word}` is no verb that a step begins with"),
            "begin with what the hand does: `Press …`, or with a place: `At the press, set …`",
        )
    };
    Some(worded.at_words(Code::VerbFirst, phrase, sentence, n, n, message).help(help))
}

#[cfg(test)]
mod tests {
    use super::super::testing::{check_dos, marked};
    use crate::finding::Code;

    #[test]
    fn a_step_begins_with_its_verb() {
        check_dos(
            Code::VerbFirst,
            &[
                ("The coupler goes home.", "The"),
                ("Gently press the coupler home.", "Gently"),
                ("Now, press the coupler home.", ""),
                ("You press the coupler home.", "You press"),
                ("The coupler should be pressed home.", "should be"),
                ("The rim is to be bright.", "is to be"),
                ("Press the coupler. The rim must be bright.", "must be"),
                ("Do not press the thread.", "Do"),
                ("Never press the thread.", "Never"),
                ("At the drill press, clamp the blank in the vice.", ""),
                ("At the very far end of the lathe bed, clamp it.", "At"),
                ("If the tube stops before it is all the way home, push it out.", ""),
                ("{tube} tube in the bore.", "{tube}"),
                ("Screw the nut on until you feel it touch.", ""),
                ("Press the nib coupler home, pencil line to pencil line.", ""),
            ],
        );
    }

    #[test]
    fn moves_may_name_a_state() {
        let step = "do = \"Press it home.\"\nin-one-go = [\"Nib off and in its box.\", \"Look along the ram: is it straight?\"]";
        assert_eq!(marked(Code::VerbFirst, step), [""; 0]);
    }
}

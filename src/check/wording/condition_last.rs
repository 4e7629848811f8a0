//! `condition-last`: an action with its condition behind it, an `unless`, or a double negation.

use super::senses::Senses;
use super::text::{After, Phrase, Role, Sentence, Worded};
use crate::finding::{Code, Finding};

const ROLES: &[Role] =
    &[Role::Do, Role::Move, Role::Ask, Role::Gauge, Role::Ready, Role::IfWrong, Role::Tell, Role::Avoid];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for (phrase, sentence) in worded.sentences_of(ROLES, Senses::CONDITION) {
        if let Some(n) = sentence.all(Senses::CONDITION).find(|n| sentence.is(*n, "unless")) {
            let finding = at(worded, phrase, &sentence, n, n, "`unless` has to be turned round in the head");
            findings.push(finding.help("say it with `if`, the condition first: `If the rim is dull, …`"));
        } else if matches!(phrase.role, Role::Do | Role::Move | Role::IfWrong)
            && let Some(n) = trailing(&sentence)
        {
            let word = sentence.word(n).to_lowercase();
            let message = format!("the condition after `{word}` is read when the action is done already");
            let finding = at(worded, phrase, &sentence, n, n, &message);
            findings.push(finding.help(format!("put it first: `{} …, …`", if word == "if" { "If" } else { "When" })));
        }
    }
    for (phrase, sentence) in worded.sentences_of(ROLES, Senses::NEGATION) {
        if let Some((from, to)) = double_negation(&sentence) {
            let words = (sentence.word(from).to_lowercase(), sentence.word(to).to_lowercase());
            let message = format!("`{} … {}` is a double negation", words.0, words.1);
            let finding = at(worded, phrase, &sentence, from, to, &message);
            findings.push(finding.help("say what is to be: `Press only with …`"));
        }
    }
}

fn at(
    worded: &Worded<'_>,
    phrase: &Phrase<'_>,
    sentence: &Sentence<'_>,
    from: usize,
    to: usize,
    message: &str,
) -> Finding {
    worded.at_words(Code::ConditionLast, phrase, sentence, from, to, message.to_owned())
}

/// Returns an `if` or `when` that stands behind the action it belongs to.
fn trailing(sentence: &Sentence<'_>) -> Option<usize> {
    let begins = sentence.main_clause();
    if !sentence.senses_of(begins).has(Senses::VERB) {
        return None;
    }
    // A look may ask whether (`See if it slides`), and `Stop when` is how an end is said.
    let looks = sentence.senses_of(begins).has(Senses::LOOK) || sentence.is_one_of(begins, LOOKS);
    let stops = sentence.is(begins, "stop");
    sentence.all(Senses::CONDITION).filter(|n| *n > begins).find(|n| {
        let whether =
            looks || stops && !sentence.is(*n, "if") || sentence.is_one_of(n - 1, &["as", "even", "only", "see"]);
        sentence.words[n - 1].after != After::Colon && !whether
    })
}

/// Verbs that may be followed by what is to be found out.
const LOOKS: &[&str] = &["ask", "decide", "feel", "find", "look", "note", "see"];

/// Returns two negations in one clause.
fn double_negation(sentence: &Sentence<'_>) -> Option<(usize, usize)> {
    let mut first = None;
    for (n, word) in sentence.words.iter().enumerate() {
        if word.senses.has(Senses::JOIN) {
            first = None;
        }
        if word.senses.has(Senses::NEGATION) {
            if let Some(first) = first {
                return Some((first, n));
            }
            first = Some(n);
        }
        if word.after != After::Nothing {
            first = None;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::super::testing::{check_dos, marked};
    use crate::finding::Code;

    #[test]
    fn the_condition_stands_first() {
        check_dos(
            Code::ConditionLast,
            &[
                ("Push the tube out if it stops.", "if"),
                ("Stop if it tilts.", "if"),
                ("Wipe the bore when the glue is hard.", "when"),
                ("Press on unless it tilts.", "unless"),
                ("Unless it tilts, press on.", "Unless"),
                ("Do not press without the shoulder rest.", "not press without"),
                ("If it tilts, stop.", ""),
                ("When brass shines all round, stop.", ""),
                ("Stop when brass shines all round.", ""),
                ("See if the tube slides.", ""),
                ("Check with a finger if the bore is dry.", ""),
                ("Press on the shoulder, never on its thread.", ""),
                ("Press on the shoulder only if it is square.", ""),
                ("At the drill press, clamp the blank in the vice.", ""),
                ("Leave no gap and no glue.", ""),
            ],
        );
    }

    #[test]
    fn what_to_do_when_it_goes_wrong_is_read_too_and_reasons_are_not() {
        assert_eq!(marked(Code::ConditionLast, "do = \"Press it.\"\nif-wrong = \"If it tilts, stop.\""), [""; 0]);
        assert_eq!(marked(Code::ConditionLast, "do = \"Press it.\"\nif-wrong = \"Pull it out if it tilts.\""), ["if"]);
        assert_eq!(marked(Code::ConditionLast, "do = \"Press it.\"\nwhy = \"It splits if it tilts.\""), [""; 0]);
        let avoid = "do = \"Press it.\"\ncaution = [{ level = \"warning\", hazard = \"It throws slivers\", avoid = \"Never press without a shield\" }]";
        assert_eq!(marked(Code::ConditionLast, avoid), ["Never press without"]);
    }
}

//! `long-sentence`: more words than can be held at the bench, or a note of too many sentences.

use super::text::{Role, Worded};
use crate::finding::{Code, Finding};

const MOST_IN_A_STEP: usize = 20;
const MOST_IN_A_NOTE: usize = 25;
const MOST_SENTENCES: usize = 6;

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for phrase in worded.phrases() {
        // The smallest text of so many words has them of one letter each.
        if phrase.text.value.len() < 2 * MOST_IN_A_STEP {
            continue;
        }
        let note = matches!(phrase.role, Role::IfWrong | Role::Why | Role::Tell | Role::Hazard | Role::Avoid);
        let most = if note { MOST_IN_A_NOTE } else { MOST_IN_A_STEP };
        for sentence in worded.sentences(phrase).filter(|sentence| sentence.words.len() > most) {
            let n_words = sentence.words.len();
            let message = format!("this sentence has {n_words} words; {most} are the most here");
            let finding = worded.at_words(Code::LongSentence, phrase, &sentence, 0, n_words - 1, message);
            findings.push(finding.help("make two sentences of it; put the reason into `why`"));
        }
        let n_sentences = worded.sentences(phrase).count();
        if note && n_sentences > MOST_SENTENCES {
            let message = format!("this note has {n_sentences} sentences; {MOST_SENTENCES} are the most");
            let finding = worded.at(Code::LongSentence, &phrase.text.span, message);
            findings.push(finding.help("keep what is needed at this step, leave the rest out"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    #[test]
    fn sentences_are_counted_not_texts() {
        let words = |n: usize| vec!["word"; n].join(" ");
        let a_step = |n: usize| marked(Code::LongSentence, &format!("do = \"{}.\"", words(n)));
        assert_eq!(a_step(20), [""; 0]);
        assert_eq!(a_step(21), [words(21)]);
        let note = |said: &str| marked(Code::LongSentence, &format!("do = \"Press it.\"\nwhy = \"{said}\"")).len();
        assert_eq!((note(&words(25)), note(&words(26))), (0, 1));
        assert_eq!((note(&"It holds fast. ".repeat(6)), note(&"It holds fast. ".repeat(7))), (0, 1));
        assert_eq!(
            marked(Code::LongSentence, &format!("do = \"{}. {}.\"", words(20), words(20).to_uppercase())),
            [""; 0]
        );
    }

    #[test]
    fn a_reference_is_one_word() {
        let said = format!("{}{{tube.outside}} wide.", "word ".repeat(18));
        assert_eq!(marked(Code::LongSentence, &format!("do = \"{said}\"")), [""; 0]);
    }
}

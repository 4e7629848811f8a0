//! `question-unclear`: a question that is none, asks two things, or is asked the wrong way round.
//!
//! Any question ends with `?` and is one. One that is answered with yes or no is positive and holds one proposition.

use super::senses::Senses;
use super::text::{Phrase, Role, Sentence, Worded};
use crate::finding::{Code, Finding};

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for phrase in worded.of(&[Role::Ask]) {
        let mut questions = worded.sentences(phrase).filter(|sentence| sentence.asks);
        let Some(question) = questions.next() else {
            let finding = worded.at(Code::QuestionUnclear, &phrase.text.span, "the question has no question mark");
            findings.push(finding.help("ask it: end with `?`; what is only to be done is a `do`"));
            continue;
        };
        if let Some(second) = questions.next() {
            let last = second.words.len() - 1;
            let message = "two questions are asked, and one answer is taken".to_owned();
            let finding = worded.at_words(Code::QuestionUnclear, phrase, &second, 0, last, message);
            findings.push(finding.help("make two steps of it"));
        } else if !worded.sentences(phrase).next_back().is_some_and(|last| last.asks) {
            let finding = worded.at(Code::QuestionUnclear, &phrase.text.span, "the question does not stand last");
            findings.push(finding.help("end with the question; put what explains it before, or in `tell`"));
        } else if is_yes_or_no(worded) {
            yes_or_no(worded, phrase, &question, findings);
        }
    }
}

fn is_yes_or_no(worded: &Worded<'_>) -> bool {
    let first_word =
        |phrase: &Phrase<'_>| worded.sentences(phrase).next().is_some_and(|answer| answer.is_one_of(0, &["yes", "no"]));
    worded.of(&[Role::Answer]).any(first_word)
}

fn yes_or_no(worded: &Worded<'_>, phrase: &Phrase<'_>, question: &Sentence<'_>, findings: &mut Vec<Finding>) {
    if let Some(n) = question.all(Senses::NEGATION).next() {
        let message = format!("`{}` makes it unclear what yes means", question.word(n).to_lowercase());
        let finding = worded.at_words(Code::QuestionUnclear, phrase, question, n, n, message);
        findings.push(finding.help("ask for what should be: `Is the bore clean?`"));
    }
    let joins = |n: &usize| {
        let measure = question.is_one_of(n + 1, &["above", "below", "less", "more", "over", "under"]);
        // `end to end and all round`, `cap and body` may be one thing; a second proposition has its own words, but
        // nothing in a text tells them apart, so each is asked about.
        !measure && !question.is(*n, "but")
    };
    if let Some(n) = question.all(Senses::JOIN).find(joins) {
        let message = format!("`{}` asks two things, and one answer is taken", question.word(n).to_lowercase());
        let finding = worded.at_words(Code::QuestionUnclear, phrase, question, n, n, message);
        findings.push(finding.help("ask one thing a step; or name what is seen in the answers instead of yes and no"));
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    fn asked(question: &str, yes: &str) -> String {
        let step = format!("ask = {question:?}\nanswers = [{{ say = \"{yes}\" }}, {{ say = \"cannot tell\" }}]");
        marked(Code::QuestionUnclear, &step).join(" | ")
    }

    #[test]
    fn a_question_asks_one_thing() {
        for (question, expected) in [
            ("Look at the rim", "\"Look at the rim\""),
            ("Is the rim bright? Look all round.", "\"Is the rim bright? Look all round.\""),
            ("Is it bright? Is it square?", "Is it square"),
            ("Is the rim not bright?", "not"),
            ("Is the rim bright and square?", "and"),
            ("Hold it to the light. Is the rim bright all round?", ""),
            ("Is the gap 1 mm or less?", ""),
            ("Does the rim (no plug in it) shine?", "no"),
        ] {
            assert_eq!(asked(question, "yes"), expected, "{question}");
        }
    }

    #[test]
    fn answers_in_words_may_choose_between_two() {
        assert_eq!(asked("Is it bright or dull?", "bright"), "");
        assert_eq!(asked("Is it bright or dull?", "no, dull"), "or");
    }
}

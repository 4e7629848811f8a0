//! `caution-apart`: a hazard told in another text than a `caution`.
//!
//! A caution stays on the screen with its step and is printed beside it; a note, a reason or an `if-wrong` need not be.
//! What counts, so that it stays quiet where nothing is wrong:
//!
//! - a sentence that opens with a signal word and a mark (`Warning: …`), or sends the reader to one (`see the caution
//!   above`), in any text but a caution;
//! - on a step that has no caution about people, a sentence that says what may happen to a person (`thin glue can burn
//!   your fingers`), or opens with `Beware` or `Watch out`.

use super::senses::Senses;
use super::signal_word::hurts;
use super::text::{After, Role, Sentence, Worded};
use crate::finding::{Code, Finding};
use crate::guide::document::Level;

const ROLES: &[Role] =
    &[Role::Do, Role::Move, Role::Ask, Role::Gauge, Role::For, Role::Ready, Role::IfWrong, Role::Why, Role::Tell];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let any = Senses::SIGNAL.and(Senses::HARM).and(Senses::BODY).and(Senses::PERIL);
    let told = worded.step.cautions.iter().any(|caution| caution.level > Level::Notice);
    for (phrase, sentence) in worded.sentences_of(ROLES, any) {
        if let Some(n) = signal(&sentence) {
            let message = format!("`{}` stands in a text where it can scroll away from its step", sentence.word(n));
            findings.push(help(worded.at_words(Code::CautionApart, phrase, &sentence, n, n, message)));
        } else if let Some((from, to)) = (!told).then(|| beware(&sentence).or(threat(&sentence))).flatten() {
            let message = "a hazard is told here, and the step has no caution about it".to_owned();
            findings.push(help(worded.at_words(Code::CautionApart, phrase, &sentence, from, to, message)));
        }
    }
}

fn help(finding: Finding) -> Finding {
    finding.help("say it as the step's own: `caution = [{ level = …, hazard = …, avoid = … }]`")
}

/// Returns a signal word that opens a message, or that the reader is sent to.
fn signal(sentence: &Sentence<'_>) -> Option<usize> {
    sentence.all(Senses::SIGNAL).find(|n| {
        let opens = *n == 0
            && (sentence.words[0].after != After::Nothing && sentence.words.len() > 1
                || super::signal_word::shouted(sentence.word(0)));
        // `Danger! Keep clear.` is a sentence of one word.
        let alone = sentence.words.len() == 1 && !sentence.is(0, "notice");
        let sent = sentence.is_one_of(n + 1, &["above", "below", "earlier"]) || *n >= 2 && sentence.is(n - 2, "see");
        opens || alone || sent
    })
}

fn beware(sentence: &Sentence<'_>) -> Option<(usize, usize)> {
    if sentence.is(0, "beware") {
        return Some((0, 0));
    }
    (sentence.is(0, "watch") && sentence.is(1, "out")).then_some((0, 1))
}

/// Returns the words that say what may happen to a person: `can burn`, `can catch fire`, `blinds`.
fn threat(sentence: &Sentence<'_>) -> Option<(usize, usize)> {
    let n = hurts(sentence)?;
    let may = (n.saturating_sub(4)..n).rev().find(|n| sentence.is_one_of(*n, MAY));
    let does = n > 0 && (sentence.is_one_of(n, DOES) || injures(sentence, n));
    may.map(|may| (may, n)).or(does.then_some((n, n)))
}

fn injures(sentence: &Sentence<'_>, n: usize) -> bool {
    sentence.senses_of(n).has(Senses::INJURY) && sentence.word(n).ends_with('s')
}

const MAY: &[&str] = &["can", "could", "may", "might", "will"];

/// What harms a person, said as what happens and not as a thing.
#[rustfmt::skip]
const DOES: &[&str] = &[
    "blinds", "chokes", "deafens", "explodes", "hurts", "ignites", "injures", "kills", "poisons",
];

#[cfg(test)]
mod tests {
    use super::super::testing::{check_dos, marked};
    use crate::finding::Code;

    #[test]
    fn a_hazard_outside_a_caution_is_flagged() {
        check_dos(
            Code::CautionApart,
            &[
                ("Warning: spray the accelerator away from the face.", "Warning"),
                ("Press the clip. DANGER the ram is down.", "DANGER"),
                ("Press the clip (see the caution above).", "caution"),
                ("Press the clip. Thin glue can burn your fingers.", "can burn"),
                ("Fill the ends. It bonds skin.", "bonds"),
                ("Beware of the fumes.", "Beware"),
                ("Spread the rags: in a heap they can catch fire.", "can catch fire"),
                ("Close the box. The dust can get into your lungs.", "can get into your lungs"),
                ("With the eyes half closed, sight along the ram.", ""),
                ("Let the fumes clear.", ""),
                ("Look at the face that the bit cuts.", ""),
                ("At the drill press, clamp the blank in the vice.", ""),
                ("Press with the fingers, cut a strip a finger wide.", ""),
                ("Cut a strip that a hand can hold.", ""),
                ("Sand until the face shines.", ""),
                ("Notice the grain.", ""),
                ("Put the warning card on the vice.", ""),
            ],
        );
    }

    #[test]
    fn notes_are_read_and_a_caution_on_the_step_is_enough() {
        let tell = "do = \"Fill the ends.\"\ntell = \"Thin glue can burn skin.\"\n";
        assert_eq!(marked(Code::CautionApart, tell), ["can burn"]);
        let caution = |level: &str| {
            format!("caution = [{{ level = \"{level}\", hazard = \"Hot glue burns skin\", avoid = \"Gloves off\" }}]")
        };
        assert_eq!(marked(Code::CautionApart, &format!("{tell}{}", caution("warning"))), [""; 0]);
        assert_eq!(marked(Code::CautionApart, &format!("{tell}{}", caution("notice"))), ["can burn"]);
        let worded = "do = \"Fill the ends.\"\nwhy = \"Caution: hot.\"\n";
        assert_eq!(marked(Code::CautionApart, &format!("{worded}{}", caution("warning"))), ["Caution"]);
    }
}

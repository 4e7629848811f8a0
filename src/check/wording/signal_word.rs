//! `signal-word`: the level does not fit what may be hurt, or a text shouts the signal word itself.
//!
//! ANSI Z535.6 keeps danger, warning and caution for people, by outcome, and notice for the work, the tool and the kit.
//! Both tests are cautious: `burns` alone may be the finish, so a part of the body or an unmistakable word has to be
//! named; and a level for people is doubted only where damage is named and nothing that could hurt.

use super::senses::Senses;
use super::text::{Role, Sentence, Worded};
use crate::finding::{Code, Finding};
use crate::guide::document::Level;

/// The signal words.
pub(super) const SIGNALS: &[&str] = &["caution", "danger", "notice", "warning"];

/// What can only happen to a person, or parts of one that nothing else has.
#[rustfmt::skip]
pub(super) const HARMS: &[&str] = &[
    "allergic", "allergy", "asthma", "beware", "bleed", "bleeds", "blind", "blinding", "blinds", "blood", "breathe",
    "breathed", "breathes", "breathing", "cancer", "choke", "chokes", "deaf", "deafens", "dizziness", "dizzy",
    "drowsy", "explode", "explodes", "explosion", "eye", "eyes", "eyesight", "fire", "flames", "fumes", "hurt",
    "hurts", "ignite", "ignites", "inhale", "inhaled", "injure", "injures", "injuries", "injury", "kill", "kills",
    "lung", "lungs", "poison", "poisonous", "poisons", "rash", "suffocate", "swallow", "toxic", "wounds",
];

/// What may hurt a person, though it need not.
#[rustfmt::skip]
pub(super) const PERILS: &[&str] = &[
    "alight", "burst", "bursts", "dust", "ear", "ears", "electric", "flies", "fling", "flings", "flung", "fly",
    "flying", "hearing", "heat", "heats", "hot", "noise", "person", "razor-sharp", "sharp", "shock", "sliver",
    "slivers", "snatch", "snatches", "solvent", "someone", "spinning", "swarf", "throw", "thrown", "throws",
    "turning", "vapour", "vapours", "watch", "whip", "whips", "you", "your",
];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let mut hazards = worded.of(&[Role::Hazard]);
    for caution in &worded.step.cautions {
        let Some(hazard) = hazards.next() else { break };
        let hurt = worded.sentences(hazard).find_map(|sentence| Some((sentence, hurts(&sentence)?)));
        match (caution.level, hurt) {
            (Level::Notice, Some((sentence, n))) => {
                let message = format!(
                    "`{}` is about people, and `notice` is for the work, the tool and the kit",
                    sentence.word(n)
                );
                let finding = worded.at_words(Code::SignalWord, hazard, &sentence, n, n, message);
                findings.push(finding.help("use `caution`, `warning` or `danger`, by how badly someone may be hurt"));
            }
            (Level::Notice, None) => {}
            (level, _) => {
                let people = Senses::HARM.and(Senses::BODY).and(Senses::PERIL);
                if hazard.senses.has(Senses::DAMAGE) && !hazard.senses.has(people) {
                    let word = level.signal_word().to_lowercase();
                    let message = format!("`{word}` is for people, and this is about the work, the tool or the kit");
                    let finding = worded.at(Code::SignalWord, &hazard.text.span, message);
                    findings.push(finding.help("use `notice`; or say who may be hurt"));
                }
            }
        }
    }
    for phrase in worded.phrases().filter(|phrase| phrase.senses.has(Senses::SIGNAL)) {
        let in_caution = matches!(phrase.role, Role::Hazard | Role::Avoid);
        for sentence in worded.sentences(phrase) {
            // At the head of another text it is a hazard told apart; `caution-apart` says so.
            let shouted = sentence.all(Senses::SIGNAL).find(|n| {
                let opens =
                    *n == 0 && sentence.words.len() > 1 && sentence.words[0].after != super::text::After::Nothing;
                if in_caution { shouted(sentence.word(*n)) || opens } else { *n > 0 && shouted(sentence.word(*n)) }
            });
            if let Some(n) = shouted {
                let message = format!("`{}` in the text says the level twice, or says another", sentence.word(n));
                let finding = worded.at_words(Code::SignalWord, phrase, &sentence, n, n, message);
                findings.push(finding.help("leave it out: the signal word is shown from `level`"));
            }
        }
    }
}

/// Tells whether a word is all capitals.
pub(super) fn shouted(word: &str) -> bool {
    word.len() > 1 && word.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// Returns the word that says that a person may be hurt.
pub(super) fn hurts(sentence: &Sentence<'_>) -> Option<usize> {
    // A blind hole is none; what can blind is.
    let harm = |n: &usize| !sentence.is(*n, "blind") || *n > 0 && sentence.senses_of(n - 1).has(Senses::MODAL);
    let injury = || sentence.all(Senses::INJURY).next();
    if let Some(n) = sentence.all(Senses::HARM).find(harm) {
        // `into the eyes` says less than the word that tells what happens to them.
        return injury().filter(|_| sentence.senses_of(n).has(Senses::BODY)).or(Some(n));
    }
    sentence.all(Senses::BODY).find(|n| !belongs_to_the_work(sentence, *n)).and(injury())
}

/// Tells whether `skin` is what forms on glue, `face` a side of the blank, or `hand` only how something is done.
fn belongs_to_the_work(sentence: &Sentence<'_>, n: usize) -> bool {
    let before = |back: usize, words: &[&str]| n >= back && sentence.is_one_of(n - back, words);
    match sentence.word(n).to_ascii_lowercase().as_str() {
        "skin" => before(1, &["a"]) || sentence.is_one_of(n + 1, &["forms", "of", "on", "over"]),
        "face" => !(before(1, &["your"]) || before(1, &["the"]) && before(2, &["in", "into"])),
        "hand" => before(1, &["by"]),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    fn hazard(level: &str, hazard: &str) -> String {
        let step = format!(
            "do = \"Press it.\"\ncaution = [{{ level = \"{level}\", hazard = {hazard:?}, avoid = \"Keep clear\" }}]"
        );
        marked(Code::SignalWord, &step).join(" | ")
    }

    #[test]
    fn notice_is_not_for_people() {
        for (said, expected) in [
            ("Thin glue burns the fingers", "burns"),
            ("Brass swarf cuts hands", "cuts"),
            ("Dust in the lungs", "lungs"),
            ("Accelerator stings the eyes", "stings"),
            ("Oil rags can catch fire", "fire"),
            ("Too much heat burns the finish", ""),
            ("Accelerator leaves a skin on the glue", ""),
            ("The bit splinters the rim", ""),
            ("Greasy hands leave prints in the finish", ""),
            ("The cut face of the blank chips", ""),
            ("A dull bit tears the face", ""),
            ("Chips can burn in the face", "burn"),
            ("A blind hole traps chips", ""),
            ("A shard can blind", "blind"),
            ("Slivers of brass scratch the finish", ""),
            ("Taping by hand tears it", ""),
        ] {
            assert_eq!(hazard("notice", said), expected, "{said}");
        }
    }

    #[test]
    fn the_other_levels_are_not_for_things() {
        for (said, expected) in [
            ("The drill chips the rim", "\"The drill chips the rim\""),
            ("The thread strips", "\"The thread strips\""),
            ("A split barrel throws slivers", ""),
            ("A cracked blank flies off", ""),
            ("Sharp rims cut", ""),
            ("The bit grabs and cracks the blank into the hand", ""),
        ] {
            assert_eq!(hazard("warning", said), expected, "{said}");
        }
    }

    #[test]
    fn the_level_says_the_word_and_no_text_shouts_it() {
        assert_eq!(hazard("warning", "WARNING: slivers fly"), "WARNING");
        assert_eq!(hazard("warning", "Danger: slivers fly"), "Danger");
        assert_eq!(hazard("warning", "Slivers fly without warning"), "");
        assert_eq!(marked(Code::SignalWord, "do = \"Press it past the WARNING line.\""), ["WARNING"]);
        assert_eq!(marked(Code::SignalWord, "do = \"Press it past the warning line.\""), [""; 0]);
    }
}

//! `caution-shape`: a hazard message that is too long, or names a hazard and not what it does.

use super::senses::Senses;
use super::text::{Role, Worded};
use crate::finding::{Code, Finding};

/// What happens to the work, the tool or the kit.
#[rustfmt::skip]
pub(super) const DAMAGES: &[&str] = &[
    "bend", "bends", "break", "breaks", "chip", "chips", "cloud", "clouds", "crack", "cracks", "dent", "dents",
    "discolour", "discolours", "dull", "dulls", "jam", "jams", "loosen", "loosens", "mar", "mars", "overheat",
    "overheats", "ruin", "ruins", "rust", "rusts", "scorch", "scorches", "scratch", "scratches", "seize", "seizes",
    "smear", "smears", "snap", "snaps", "split", "splits", "spoil", "spoils", "stain", "stains", "strip", "strips",
    "tarnish", "tarnishes", "wander", "wanders", "warp", "warps",
];

const MOST_WORDS: usize = 40;
const MOST_SENTENCES: usize = 3;

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let mut phrases = worded.of(&[Role::Hazard, Role::Avoid]);
    for caution in &worded.step.cautions {
        let (Some(hazard), Some(avoid)) = (phrases.next(), phrases.next()) else { break };
        let sentences = || worded.sentences(hazard).chain(worded.sentences(avoid));
        let (n_sentences, n_words) =
            (sentences().count(), sentences().map(|sentence| sentence.words.len()).sum::<usize>());
        if n_words > MOST_WORDS || n_sentences > MOST_SENTENCES {
            let message = format!("the caution has {n_sentences} sentences and {n_words} words");
            let finding = worded.at(Code::CautionShape, &caution.span, message);
            findings.push(finding.help(format!(
                "keep it to {MOST_SENTENCES} sentences and {MOST_WORDS} words; move the reason to `why`"
            )));
        }
        if !worded.sentences(hazard).any(|sentence| does_something(&sentence)) {
            let message = format!("`{}` names a hazard and not what it does", hazard.text.value);
            let finding = worded.at(Code::CautionShape, &hazard.text.span, message);
            findings.push(finding.help("say what may happen: `thin glue runs under a glove and burns`"));
        }
    }
}

/// Tells whether a sentence has a verb that says what happens: a known one, or a later word that ends as one.
fn does_something(sentence: &super::text::Sentence<'_>) -> bool {
    let senses = Senses::STATES.and(Senses::MODAL).and(Senses::INJURY).and(Senses::DAMAGE).and(Senses::HARM);
    let known = sentence.all(senses).any(|n| n > 0 && !is_part_of_a_body(sentence.senses_of(n)));
    known || (1..sentence.words.len()).any(|n| ends_as_a_verb(sentence.word(n)))
}

/// Tells whether it is a part of a body: that alone is no verb.
fn is_part_of_a_body(senses: Senses) -> bool {
    senses.has(Senses::BODY) && !senses.has(Senses::INJURY)
}

fn ends_as_a_verb(word: &str) -> bool {
    word.len() > 3 && word.ends_with('s') && !word.ends_with("ss")
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    fn caution(hazard: &str, avoid: &str) -> String {
        let step = format!(
            "do = \"Press it.\"\ncaution = [{{ level = \"warning\", hazard = {hazard:?}, avoid = {avoid:?} }}]"
        );
        marked(Code::CautionShape, &step).join(" | ")
    }

    #[test]
    fn a_hazard_says_what_it_does() {
        for (hazard, expected) in [
            ("Hot glue", "\"Hot glue\""),
            ("Fine dust", "\"Fine dust\""),
            ("Sharp brass in the eye", "\"Sharp brass in the eye\""),
            ("A split barrel throws slivers", ""),
            ("Fine dust can make the lungs sore", ""),
            ("Glue on cloth gets hot and smokes", ""),
            ("Brass swarf cuts", ""),
        ] {
            assert_eq!(caution(hazard, "Keep clear"), expected, "{hazard}");
        }
    }

    #[test]
    fn a_caution_is_short() {
        let long = "Wear the shield ".repeat(13);
        let whole = format!("{{ level = \"warning\", hazard = \"It throws slivers\", avoid = \"{long}\" }}");
        assert_eq!(caution("It throws slivers", &long), whole);
        assert!(!caution("It throws slivers", "One. Two. Three.").is_empty());
        assert_eq!(caution("It throws slivers", "One. Two."), "");
    }
}

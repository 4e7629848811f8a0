//! `vague-word`: a word that nobody can measure.
//!
//! `do` and `tell` may lean on a number with its unit, or on a sign that can be seen or felt, anywhere in the step's
//! text, moves and note; any other text has to bring its own.

use super::senses::Senses;
use super::text::{Role, Sentence, Worded};
use crate::finding::{Code, Finding};

/// Vague wherever they stand.
#[rustfmt::skip]
pub(super) const WORDS: &[&str] = &[
    "adequate", "adequately", "appropriate", "appropriately", "briefly", "careful", "carefully", "correctly",
    "enough", "firm", "firmly", "frequently", "gentle", "gently", "good", "lightly", "moderate", "moderately",
    "nicely", "normally", "occasionally", "often", "ok", "okay", "periodically", "proper", "properly", "quickly",
    "reasonable", "reasonably", "regularly", "roughly", "shortly", "slightly", "slowly", "snug", "snugly", "soon",
    "sufficient", "sufficiently", "suitable", "suitably", "thoroughly", "tightly",
];

/// Vague behind the words that [`phrase_start`] names.
#[rustfmt::skip]
pub(super) const ENDS: &[&str] =
    &[
    "appropriate", "care", "desired", "few", "little", "moment", "necessary", "needed", "required", "while",
];

const ROLES: &[Role] =
    &[Role::Do, Role::Move, Role::Ask, Role::Gauge, Role::Ready, Role::IfWrong, Role::Tell, Role::Avoid];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    let measured = Senses::MEASURE.and(Senses::SIGN);
    let vague = Senses::VAGUE.and(Senses::VAGUE_END);
    if !worded.of(ROLES).any(|phrase| phrase.senses.has(vague)) {
        return;
    }
    let step_measured = worded.of(&[Role::Do, Role::Move, Role::Tell]).any(|phrase| phrase.senses.has(measured));
    for (phrase, sentence) in worded.sentences_of(ROLES, vague) {
        let leans = matches!(phrase.role, Role::Do | Role::Tell) && step_measured;
        if leans || phrase.senses.has(measured) {
            continue;
        }
        for end in sentence.all(vague) {
            let Some(start) = phrase_start(&sentence, end) else { continue };
            let words = (start..=end).map(|n| sentence.word(n).to_lowercase()).collect::<Vec<_>>().join(" ");
            let message = format!("nobody can measure `{words}`");
            let finding = worded.at_words(Code::VagueWord, phrase, &sentence, start, end, message);
            findings.push(finding.help("say a number with its unit, or the sign to go by: `until …`"));
        }
    }
}

/// Returns where the vague words that end here begin.
fn phrase_start(sentence: &Sentence<'_>, end: usize) -> Option<usize> {
    if sentence.senses_of(end).has(Senses::VAGUE) {
        return Some(end);
    }
    let start = end.checked_sub(1)?;
    let starts: &[&str] = match sentence.word(end).to_ascii_lowercase().as_str() {
        "while" | "moment" | "little" | "few" => &["a"],
        "care" => &["take", "with"],
        _ => &["as", "if", "when", "where"],
    };
    sentence.is_one_of(start, starts).then_some(start)
}

#[cfg(test)]
mod tests {
    use super::super::testing::{check_dos, marked};
    use crate::finding::Code;

    #[test]
    fn a_word_nobody_can_measure_is_flagged_unless_the_step_says_more() {
        check_dos(
            Code::VagueWord,
            &[
                ("Press the coupler slowly.", "slowly"),
                ("Tighten the nut snugly and firmly.", "snugly | firmly"),
                ("Clean the bore as needed.", "as needed"),
                ("Let the glue rest for a while.", "a while"),
                ("Sand it If Necessary.", "If Necessary"),
                ("Take care with the clip.", "Take care"),
                ("Press the coupler slowly until the rim meets the wood.", ""),
                ("Squeeze the {tube} tube gently, to {tube.outside}.", ""),
                ("Move it slightly, 1 mm.", ""),
                ("At the drill press, clamp the blank in the vice.", ""),
                ("While the lathe runs, hold the paper on the blank.", ""),
                ("Fit a few drops.", "a few"),
                ("Turn the nut finger tight.", ""),
                ("Take the few drops that are left.", ""),
            ],
        );
    }

    #[test]
    fn moves_and_the_note_say_more_for_the_action_but_not_for_each_other() {
        let step = r#"do = "Seat the tube carefully."
in-one-go = ["Start it 1 mm by hand.", "Push firmly."]"#;
        assert_eq!(marked(Code::VagueWord, step), ["firmly"]);
        assert_eq!(marked(Code::VagueWord, "do = \"Turn it slowly.\"\ntell = \"500 rev/min.\""), [""; 0]);
        assert_eq!(marked(Code::VagueWord, "do = \"Turn it slowly.\"\nwhy = \"500 rev/min.\""), ["slowly"]);
        let avoid = r#"do = "Turn it." 
caution = [{ level = "notice", hazard = "The rim chips slightly", avoid = "Be careful" }]"#;
        assert_eq!(marked(Code::VagueWord, avoid), ["careful"]);
    }
}

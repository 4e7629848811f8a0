//! `two-actions`: a `do` that asks for more than one action.
//!
//! The moves of `in-one-go` are meant to follow each other and are free of it; so are questions, gauges and notes.

use super::senses::Senses;
use super::text::{After, Phrase, Role, Sentence, Worded};
use crate::finding::{Code, Finding};

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for phrase in worded.of(&[Role::Do]) {
        let mut acted = false;
        for sentence in worded.sentences(phrase) {
            let begins = sentence.main_clause();
            let acts = sentence.senses_of(begins).has(Senses::WORK);
            if acted && sentence.acts(begins) {
                findings.push(second(worded, phrase, &sentence, begins, begins));
                break;
            }
            acted |= acts || sentence.senses_of(begins).has(Senses::VERB);
            if let Some((from, to)) = joined(&sentence, begins) {
                findings.push(second(worded, phrase, &sentence, from, to));
                break;
            }
        }
    }
}

/// Returns the words that join a second action on: `and then`, `, then`, `; `, `and wipe the`.
fn joined(sentence: &Sentence<'_>, begins: usize) -> Option<(usize, usize)> {
    (begins + 1..sentence.words.len()).find_map(|n| {
        let before = sentence.words[n - 1].after;
        if sentence.is(n, "then") && (before != After::Nothing || sentence.is(n - 1, "and")) {
            return Some((n, n));
        }
        let and = sentence.is(n - 1, "and") && n > begins + 1;
        let joins = and || before == After::Semicolon || before == After::Comma;
        (joins && sentence.acts(n)).then_some(if and { (n - 1, n) } else { (n, n) })
    })
}

fn second(worded: &Worded<'_>, phrase: &Phrase<'_>, sentence: &Sentence<'_>, from: usize, to: usize) -> Finding {
    let words = (from..=to).map(|n| sentence.word(n).to_lowercase()).collect::<Vec<_>>().join(" ");
    let message = format!("a second action begins with `{words}`");
    let finding = worded.at_words(Code::TwoActions, phrase, sentence, from, to, message);
    finding.help("make it a step of its own; if the two cannot be interrupted, list them in `in-one-go`")
}

#[cfg(test)]
mod tests {
    use super::super::testing::{check_dos, marked};
    use crate::finding::Code;

    #[test]
    fn a_second_action_is_flagged() {
        check_dos(
            Code::TwoActions,
            &[
                ("Drill the blank and then square it.", "then"),
                ("Wipe the bore, then let it dry.", "then"),
                ("Wipe the bore and dry the rim.", "and dry"),
                ("Clean and dry the bore.", "and dry"),
                ("Wipe the bore; dry the rim.", "dry"),
                ("Wipe the bore, dry the rim, scuff it.", "dry"),
                ("Wipe the bore. Scuff the tube.", "Scuff"),
                ("Turn the blank and press {tube} home.", "and press"),
                ("At the drill press, clamp the blank in the vice.", ""),
                ("Press the nib coupler home, pencil line to pencil line.", ""),
                ("Mark the drill and press.", ""),
                ("Take the tube, the glue and the plug to the bench.", ""),
                ("Drill the blank. The bit comes out at the tail.", ""),
                ("Drill the blank. Keep the bit cool.", ""),
                ("Face it until brass shines all round, then stop.", "then"),
                ("If the rim is proud, file it flush.", ""),
                ("Press the clip and finial home.", ""),
            ],
        );
    }

    #[test]
    fn moves_in_one_go_are_free() {
        let step =
            "do = \"Glue the tube in.\"\nin-one-go = [\"Wet the tube, then push it in.\", \"Turn it. Push it home.\"]";
        assert_eq!(marked(Code::TwoActions, step), [""; 0]);
        assert_eq!(
            marked(Code::TwoActions, "gauge = \"Measure the tube and write it down.\"\nunit = \"mm\"\nlimits = {}"),
            [""; 0]
        );
    }
}

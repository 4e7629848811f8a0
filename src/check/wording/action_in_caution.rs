//! `action-in-caution`: work that must be ticked hides in a hazard message.
//!
//! Restraints (`do not …`, `keep clear of …`), what is worn, and what is done to the room may stay. A sentence counts as
//! work where it, or what follows its `then`, begins with a verb of the trade that has its object: `Wipe the bore`.

use super::senses::Senses;
use super::text::{Role, Sentence, Worded};
use crate::finding::{Code, Finding};

/// Verbs of work that a caution may ask for: they are about oneself or the room.
#[rustfmt::skip]
pub(super) const PRECAUTIONS: &[&str] = &[
    "clear", "close", "cover", "dry", "empty", "guide", "hang", "lay", "light", "move", "open", "pull", "push", "put",
    "roll", "secure", "spread", "start", "store", "switch", "throw", "tie",
];

pub(super) fn check(worded: &Worded<'_>, findings: &mut Vec<Finding>) {
    for phrase in worded.of(&[Role::Hazard, Role::Avoid]) {
        for sentence in worded.sentences(phrase) {
            if let Some(n) = action(&sentence) {
                let message = format!("`{}` begins an action that nobody ticks", sentence.word(n).to_lowercase());
                let finding = worded.at_words(Code::ActionInCaution, phrase, &sentence, n, n, message);
                findings
                    .push(finding.help("make it a step before this one; here say what to keep clear of, or to wear"));
            }
        }
    }
}

fn action(sentence: &Sentence<'_>) -> Option<usize> {
    let work = |n: &usize| sentence.acts(*n) && !sentence.senses_of(*n).has(Senses::PRECAUTION);
    let sequence = sentence.all(Senses::ORDER).find(|n| {
        let counts = sentence.is(*n, "then") || *n == 0 && sentence.words[0].after != super::text::After::Nothing;
        counts && sentence.senses_of(n + 1).has(Senses::WORK)
    });
    Some(sentence.main_clause()).filter(work).or(sequence.map(|n| n + 1))
}

#[cfg(test)]
mod tests {
    use super::super::testing::marked;
    use crate::finding::Code;

    fn avoid(said: &str) -> String {
        let step = format!(
            "do = \"Press it.\"\ncaution = [{{ level = \"warning\", hazard = \"A split barrel throws slivers\", avoid = {said:?} }}]"
        );
        marked(Code::ActionInCaution, &step).join(" | ")
    }

    #[test]
    fn work_in_a_hazard_message_is_flagged() {
        for (said, expected) in [
            ("Wipe the bore with alcohol first", "Wipe"),
            ("Eye shield on. Before pressing, measure the bore", "measure"),
            ("Open the window, then drill", "drill"),
            ("First, drill", "drill"),
            ("Eye shield on, fingers out of the gap", ""),
            ("Wear an eye shield. Keep the fingers clear", ""),
            ("Open the window", ""),
            ("Put the gloves on", ""),
            ("Do not press the threads", ""),
            ("Spread the rags flat to dry", ""),
            ("Press only on the shoulder", ""),
            ("Hold the work in a vice, never in the hand", ""),
        ] {
            assert_eq!(avoid(said), expected, "{said}");
        }
    }

    #[test]
    fn a_hazard_may_begin_with_a_tool_that_is_also_a_verb() {
        for (hazard, expected) in [("Press jaws crush fingers", ""), ("Drill a hole and it splits", "Drill")] {
            let step = format!(
                "do = \"Press it.\"\ncaution = [{{ level = \"warning\", hazard = {hazard:?}, avoid = \"Hands off\" }}]"
            );
            assert_eq!(marked(Code::ActionInCaution, &step).concat(), expected, "{hazard}");
        }
    }
}

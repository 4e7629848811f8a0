//! The words that the lints know, each list with what it means.

use std::sync::LazyLock;

use super::lexicon::Lexicon;
use super::senses::Senses;
use super::{
    action_in_caution, caution_shape, grammar, no_cannot_tell, no_pass_state, open_repeat, signal_word, vague_word,
    verbs, wait_unclear,
};

/// The one lexicon, made when the first text is read.
pub(super) static LEXICON: LazyLock<Lexicon> = LazyLock::new(|| Lexicon::of(LISTS));

/// The lists and what their words mean.
const LISTS: &[(&[&str], Senses)] = &[
    (verbs::WORK, Senses::VERB.and(Senses::WORK)),
    (verbs::STILL, Senses::VERB),
    (no_pass_state::LOOKS, Senses::LOOK),
    (no_pass_state::EMPTY_ANSWERS, Senses::EMPTY),
    (vague_word::WORDS, Senses::VAGUE),
    (vague_word::ENDS, Senses::VAGUE_END),
    (grammar::UNITS, Senses::UNIT),
    (grammar::NUMBERS, Senses::NUMBER),
    (signal_word::SIGNALS, Senses::SIGNAL),
    (signal_word::HARMS, Senses::HARM),
    (signal_word::PERILS, Senses::PERIL),
    (caution_shape::DAMAGES, Senses::DAMAGE),
    (grammar::CONDITIONS, Senses::CONDITION),
    (grammar::NEGATIONS, Senses::NEGATION),
    (grammar::JOINS, Senses::JOIN),
    (grammar::ORDERS, Senses::ORDER),
    (grammar::OBJECTS, Senses::OBJECT),
    (grammar::SIGNS, Senses::SIGN.and(Senses::STATES)),
    (grammar::STATEMENTS, Senses::STATES),
    (grammar::MODALS, Senses::MODAL),
    (grammar::BODY, Senses::BODY),
    (grammar::INJURIES, Senses::INJURY),
    (open_repeat::REPEATS, Senses::REPEAT),
    (open_repeat::LIMITS, Senses::LIMIT),
    (no_cannot_tell::OPEN, Senses::OPEN),
    (no_cannot_tell::OPEN_ENDS, Senses::OPEN_END),
    (wait_unclear::OVER, Senses::OVER),
    (action_in_caution::PRECAUTIONS, Senses::PRECAUTION),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_sorted_and_their_words_fit() {
        for (list, _) in LISTS {
            let unsorted = list.windows(2).find(|pair| pair[0] >= pair[1]);
            assert_eq!(unsorted, None, "out of order, or twice");
            let too_long: Vec<_> = list.iter().filter(|word| word.len() > 16).collect();
            assert!(too_long.is_empty(), "never looked up: {too_long:?}");
        }
        let both: Vec<_> = verbs::WORK.iter().filter(|verb| verbs::STILL.contains(verb)).collect();
        assert!(both.is_empty(), "in both lists of verbs: {both:?}");
    }

    #[test]
    fn a_word_is_found_whatever_its_case() {
        let lexicon = Lexicon::of(LISTS);
        assert!(lexicon.senses("Press").has(Senses::WORK));
        assert!(lexicon.senses("CHECK").has(Senses::LOOK));
        assert_eq!(lexicon.senses("mandrel"), Senses::default());
        assert_eq!(lexicon.senses("cyanoacrylate-proof"), Senses::default());
        assert!(lexicon.fill() < 0.5, "the words crowd the table: {}", lexicon.fill());
    }
}

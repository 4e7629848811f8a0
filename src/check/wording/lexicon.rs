//! What single words can mean to the lints: every word is looked up once, all lints read the same answer.

use std::sync::LazyLock;

use super::{
    action_in_caution, caution_shape, no_cannot_tell, no_pass_state, open_repeat, signal_word, vague_word, verbs,
    wait_unclear,
};

/// The senses a word can have, a set of bits: `press` is work, `not` is a negation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Senses(u32);

impl Senses {
    /// A word that nobody can measure.
    pub(super) const VAGUE: Senses = Senses(1 << 0);
    /// The end of a phrase that nobody can measure: `as needed`.
    pub(super) const VAGUE_END: Senses = Senses(1 << 1);
    /// A verb that looks: `check`.
    pub(super) const LOOK: Senses = Senses(1 << 2);
    /// A verb that a step may begin with.
    pub(super) const VERB: Senses = Senses(1 << 3);
    /// A verb of work that is ticked.
    pub(super) const WORK: Senses = Senses(1 << 4);
    /// A unit, or what is counted.
    pub(super) const UNIT: Senses = Senses(1 << 5);
    /// A number, in figures or words.
    pub(super) const NUMBER: Senses = Senses(1 << 6);
    /// A number that has its unit.
    pub(super) const MEASURE: Senses = Senses(1 << 7);
    /// A reference in braces.
    pub(super) const REFERENCE: Senses = Senses(1 << 8);
    /// One of the four signal words.
    pub(super) const SIGNAL: Senses = Senses(1 << 9);
    /// `if`, `when`, `unless`.
    pub(super) const CONDITION: Senses = Senses(1 << 10);
    /// `not` and its kin.
    pub(super) const NEGATION: Senses = Senses(1 << 11);
    /// `and`, `or`, `but`.
    pub(super) const JOIN: Senses = Senses(1 << 12);
    /// `then`, `next`, `first`.
    pub(super) const ORDER: Senses = Senses(1 << 13);
    /// What may follow a verb and shows that it is one: `the`, `it`, `off`.
    pub(super) const OBJECT: Senses = Senses(1 << 14);
    /// A sign that one can see or feel: `until`, `flush`.
    pub(super) const SIGN: Senses = Senses(1 << 15);
    /// A finite verb that states something: `is`, `fits`.
    pub(super) const STATES: Senses = Senses(1 << 16);
    /// `can`, `may`, `should`.
    pub(super) const MODAL: Senses = Senses(1 << 17);
    /// Asks for doing it over again.
    pub(super) const REPEAT: Senses = Senses(1 << 18);
    /// A part of the body.
    pub(super) const BODY: Senses = Senses(1 << 19);
    /// What may happen to a part of the body, and to a pen too.
    pub(super) const INJURY: Senses = Senses(1 << 20);
    /// What can only happen to a person.
    pub(super) const HARM: Senses = Senses(1 << 21);
    /// What may hurt a person, though it need not.
    pub(super) const PERIL: Senses = Senses(1 << 22);
    /// What happens to the work, the tool or the kit.
    pub(super) const DAMAGE: Senses = Senses(1 << 23);
    /// An answer that leaves the question open.
    pub(super) const OPEN: Senses = Senses(1 << 24);
    /// The end of an answer that leaves it open: `cannot tell`.
    pub(super) const OPEN_END: Senses = Senses(1 << 25);
    /// A word that says that a wait is over and names no sign of it.
    pub(super) const OVER: Senses = Senses(1 << 26);
    /// An action about oneself or the room, which a caution may ask for.
    pub(super) const PRECAUTION: Senses = Senses(1 << 27);
    /// An answer that says nothing of what was seen.
    pub(super) const EMPTY: Senses = Senses(1 << 28);
    /// A limit on how often: `once`, `most`.
    pub(super) const LIMIT: Senses = Senses(1 << 29);

    /// Returns both sets together.
    pub(super) const fn and(self, other: Senses) -> Senses {
        Senses(self.0 | other.0)
    }

    /// Tells whether the word has any of these senses.
    pub(super) const fn has(self, any: Senses) -> bool {
        self.0 & any.0 != 0
    }
}

#[rustfmt::skip]
const UNITS: &[&str] = &[
    "c", "cm", "coat", "coats", "day", "days", "deg", "degree", "degrees", "drop", "drops", "f", "g", "gram", "grams",
    "grit", "h", "hour", "hours", "in", "inch", "inches", "litre", "litres", "m", "metre", "metres", "millimetre",
    "millimetres", "min", "minute", "minutes", "ml", "mm", "n", "nm", "o'clock", "part", "parts", "pass", "passes",
    "per", "percent", "rev/min", "rpm", "s", "sec", "second", "seconds", "sheet", "sheets", "strip", "strips",
    "stroke", "strokes", "time", "times", "turn", "turns", "week", "weeks", "width", "°", "°c", "°f",
];
#[rustfmt::skip]
const NUMBERS: &[&str] = &[
    "dozen", "eight", "eleven", "five", "four", "half", "nine", "one", "quarter", "seven", "six", "ten", "third",
    "three", "twelve", "twenty", "two",
];
const CONDITIONS: &[&str] = &["if", "unless", "when", "whenever"];
#[rustfmt::skip]
const NEGATIONS: &[&str] = &[
    "aren't", "can't", "cannot", "doesn't", "don't", "isn't", "mustn't", "neither", "never", "no", "nobody", "none",
    "nor", "not", "nothing", "nowhere", "shouldn't", "without", "won't",
];
const JOINS: &[&str] = &["and", "but", "or"];
const ORDERS: &[&str] = &["afterwards", "finally", "first", "firstly", "next", "second", "secondly", "then"];
#[rustfmt::skip]
const OBJECTS: &[&str] = &[
    "a", "across", "all", "an", "another", "any", "around", "away", "back", "both", "down", "each", "every", "home",
    "into", "it", "its", "off", "onto", "out", "over", "that", "the", "them", "these", "this", "those", "together",
    "up", "your",
];
#[rustfmt::skip]
const SIGNS: &[&str] =
    &[
    "clicks", "flush", "meets", "rattles", "shines", "shows", "slides", "stops", "till", "touches", "until",
];
#[rustfmt::skip]
const STATEMENTS: &[&str] = &[
    "are", "comes", "drops", "falls", "fits", "goes", "has", "have", "is", "lie", "lies", "meet", "moves", "no",
    "passes", "points", "reads", "runs", "sits", "spins", "stands", "stays", "that", "turns",
];
const MODALS: &[&str] = &["can", "could", "may", "might", "must", "needs", "should", "will"];
#[rustfmt::skip]
const BODY: &[&str] = &[
    "airways", "arm", "arms", "eye", "eyes", "face", "finger", "fingers", "fingertip", "fingertips", "hair", "hand",
    "hands", "knuckle", "knuckles", "lips", "lung", "lungs", "nose", "palm", "palms", "scalp", "skin", "sleeve",
    "sleeves", "throat", "thumb", "thumbs", "wrist", "wrists",
];
#[rustfmt::skip]
const INJURIES: &[&str] = &[
    "bond", "bonds", "burn", "burns", "catch", "catches", "crush", "crushes", "cut", "cuts", "drag", "drags", "grab",
    "grabs", "hit", "hits", "irritate", "irritates", "pierce", "pierces", "pinch", "pinches", "scald", "scalds",
    "slice", "slices", "splinter", "splinters", "stab", "stabs", "stick", "sticks", "sting", "stings", "strike",
    "strikes", "tear", "tears", "trap", "traps",
];

/// The lists and what their words mean.
const LISTS: &[(&[&str], Senses)] = &[
    (verbs::WORK, Senses::VERB.and(Senses::WORK)),
    (verbs::STILL, Senses::VERB),
    (no_pass_state::LOOKS, Senses::LOOK),
    (no_pass_state::EMPTY_ANSWERS, Senses::EMPTY),
    (vague_word::WORDS, Senses::VAGUE),
    (vague_word::ENDS, Senses::VAGUE_END),
    (UNITS, Senses::UNIT),
    (NUMBERS, Senses::NUMBER),
    (signal_word::SIGNALS, Senses::SIGNAL),
    (signal_word::HARMS, Senses::HARM),
    (signal_word::PERILS, Senses::PERIL),
    (caution_shape::DAMAGES, Senses::DAMAGE),
    (CONDITIONS, Senses::CONDITION),
    (NEGATIONS, Senses::NEGATION),
    (JOINS, Senses::JOIN),
    (ORDERS, Senses::ORDER),
    (OBJECTS, Senses::OBJECT),
    (SIGNS, Senses::SIGN.and(Senses::STATES)),
    (STATEMENTS, Senses::STATES),
    (MODALS, Senses::MODAL),
    (BODY, Senses::BODY),
    (INJURIES, Senses::INJURY),
    (open_repeat::REPEATS, Senses::REPEAT),
    (open_repeat::LIMITS, Senses::LIMIT),
    (no_cannot_tell::OPEN, Senses::OPEN),
    (no_cannot_tell::OPEN_ENDS, Senses::OPEN_END),
    (wait_unclear::OVER, Senses::OVER),
    (action_in_caution::PRECAUTIONS, Senses::PRECAUTION),
];

/// Every word of the lists with its senses, in an open-addressed table keyed by the word itself.
pub(super) struct Lexicon {
    slots: Vec<(u128, Senses)>,
}

const SLOT_BITS: u32 = 11;

/// The one lexicon, made when the first text is read.
pub(super) static LEXICON: LazyLock<Lexicon> = LazyLock::new(Lexicon::new);

impl Lexicon {
    fn new() -> Lexicon {
        let mut lexicon = Lexicon { slots: vec![(0, Senses::default()); 1 << SLOT_BITS] };
        for (words, senses) in LISTS {
            for word in *words {
                lexicon.add(word, *senses);
            }
        }
        lexicon
    }

    fn add(&mut self, word: &str, senses: Senses) {
        if let Some(key) = key(word) {
            let slot = self.slot(key);
            self.slots[slot] = (key, self.slots[slot].1.and(senses));
        }
    }

    /// Returns the slot that holds the key, or the empty one where it would stand.
    fn slot(&self, key: u128) -> usize {
        let folded = (key as u64) ^ ((key >> 64) as u64).rotate_left(29);
        let mut slot = (folded.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> (64 - SLOT_BITS)) as usize;
        while self.slots[slot].0 != key && self.slots[slot].0 != 0 {
            slot = (slot + 1) & ((1 << SLOT_BITS) - 1);
        }
        slot
    }

    /// Returns the senses of a word, whatever its case; none for a word that is on no list.
    pub(super) fn senses(&self, word: &str) -> Senses {
        key(word).map_or(Senses::default(), |key| self.slots[self.slot(key)].1)
    }
}

/// Packs a word of up to 16 bytes, in lower case; longer ones are on no list.
fn key(word: &str) -> Option<u128> {
    let pack = |bytes: &[u8]| bytes.iter().fold(0, |packed, byte| packed << 8 | u64::from(byte.to_ascii_lowercase()));
    let bytes = word.as_bytes();
    match bytes.split_at_checked(8) {
        None => Some(u128::from(pack(bytes))),
        Some((head, tail)) => (tail.len() <= 8).then(|| u128::from(pack(head)) | u128::from(pack(tail)) << 64),
    }
}

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
        let lexicon = Lexicon::new();
        assert!(lexicon.senses("Press").has(Senses::WORK));
        assert!(lexicon.senses("CHECK").has(Senses::LOOK));
        assert_eq!(lexicon.senses("mandrel"), Senses::default());
        assert_eq!(lexicon.senses("cyanoacrylate-proof"), Senses::default());
        let filled = lexicon.slots.iter().filter(|(key, _)| *key != 0).count();
        assert!(filled * 2 < lexicon.slots.len(), "{filled} words crowd the table");
    }
}

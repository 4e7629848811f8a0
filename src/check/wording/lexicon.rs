//! What single words can mean to the lints: every word is looked up once, all lints read the same answer.

use super::senses::Senses;

/// Every word of the lists with its senses, in an open-addressed table keyed by the word itself.
pub(super) struct Lexicon {
    slots: Vec<(u128, Senses)>,
}

const SLOT_BITS: u32 = 11;

impl Lexicon {
    /// Returns the lexicon of these lists and of what their words mean.
    pub(super) fn of(lists: &[(&[&str], Senses)]) -> Lexicon {
        let mut lexicon = Lexicon { slots: vec![(0, Senses::default()); 1 << SLOT_BITS] };
        for (words, senses) in lists {
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

    /// Tells how much of the table is taken, from 0 to 1.
    #[cfg(test)]
    pub(super) fn fill(&self) -> f64 {
        self.slots.iter().filter(|(key, _)| *key != 0).count() as f64 / self.slots.len() as f64
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

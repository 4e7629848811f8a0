//! A hash for keys of whole words: quick, and the same on every machine.

use std::hash::{BuildHasherDefault, Hasher};

/// What the maps of the search are built with.
pub(super) type Spread = BuildHasherDefault<Words>;

/// Mixes words by multiplying and rotating; the keys come from the table, so nobody aims at collisions.
#[derive(Debug, Default)]
pub(super) struct Words(u64);

impl Words {
    fn mix(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(26) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}

impl Hasher for Words {
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.mix(u64::from_le_bytes(word));
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.mix(word);
    }

    fn write_usize(&mut self, word: usize) {
        self.mix(word as u64);
    }

    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 32)
    }
}

//! A set of small numbers.

/// A set of the numbers below some limit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::trouble) struct Bits(Box<[u64]>);

/// Word by word: all sets of a search are of one length.
impl std::hash::Hash for Bits {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.0.iter().for_each(|word| state.write_u64(*word));
    }
}

impl Bits {
    /// Returns those of the numbers below a limit that are wanted.
    pub fn of(limit: usize, is_wanted: impl Fn(usize) -> bool) -> Bits {
        let mut words = vec![0u64; limit.div_ceil(64)].into_boxed_slice();
        for n in (0..limit).filter(|n| is_wanted(*n)) {
            words[n / 64] |= 1 << (n % 64);
        }
        Bits(words)
    }

    pub fn has(&self, n: usize) -> bool {
        self.0.get(n / 64).is_some_and(|word| word >> (n % 64) & 1 == 1)
    }

    pub fn without(&self, n: usize) -> Bits {
        let mut rest = self.clone();
        if let Some(word) = rest.0.get_mut(n / 64) {
            *word &= !(1 << (n % 64));
        }
        rest
    }

    pub fn and(&self, other: &Bits) -> Bits {
        Bits(self.0.iter().zip(&other.0).map(|(one, other)| one & other).collect())
    }

    pub fn meets(&self, other: &Bits) -> bool {
        self.0.iter().zip(&other.0).any(|(one, other)| one & other != 0)
    }

    /// Tells whether some but not all of the other set's numbers are in this one.
    pub fn splits(&self, other: &Bits) -> bool {
        self.meets(other) && self.0.iter().zip(&other.0).any(|(one, other)| !one & other != 0)
    }

    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// Returns how many of this set's numbers are in the other.
    pub fn count_in(&self, other: &Bits) -> u32 {
        self.0.iter().zip(&other.0).map(|(one, other)| (one & other).count_ones()).sum()
    }

    pub fn words(&self) -> &[u64] {
        &self.0
    }

    /// Returns the numbers in rising order.
    pub fn iter(&self) -> impl Iterator<Item = usize> {
        self.0.iter().enumerate().flat_map(|(n, word)| {
            let next = |rest: &u64| Some(rest & (rest - 1)).filter(|rest| *rest != 0);
            let first = Some(*word).filter(|word| *word != 0);
            std::iter::successors(first, next).map(move |rest| n * 64 + rest.trailing_zeros() as usize)
        })
    }
}

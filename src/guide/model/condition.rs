//! Conditions of one guide, and sets of them.

/// Something true of the work, in one guide.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Condition(pub(in crate::guide) u32);

impl Condition {
    /// Returns the condition of a number.
    pub(crate) fn at(index: usize) -> Condition {
        Condition(index as u32)
    }

    /// Returns its number in the guide, from 0 in order of first mention.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A set of conditions of one guide.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ConditionSet(Vec<u64>);

impl ConditionSet {
    /// Adds a condition; tells whether it is new.
    pub fn insert(&mut self, condition: Condition) -> bool {
        let (word, bit) = (condition.index() / 64, 1 << (condition.index() % 64));
        if self.0.len() <= word {
            self.0.resize(word + 1, 0);
        }
        let new = self.0[word] & bit == 0;
        self.0[word] |= bit;
        new
    }

    /// Takes a condition out; tells whether it was in.
    pub fn remove(&mut self, condition: Condition) -> bool {
        let was = self.contains(condition);
        if was {
            self.0[condition.index() / 64] &= !(1 << (condition.index() % 64));
        }
        was
    }

    /// Tells whether a condition is in.
    pub fn contains(&self, condition: Condition) -> bool {
        self.0.get(condition.index() / 64).is_some_and(|word| word >> (condition.index() % 64) & 1 == 1)
    }

    /// Yields the conditions in order of first mention in the guide.
    pub fn iter(&self) -> impl Iterator<Item = Condition> + '_ {
        self.0.iter().enumerate().flat_map(|(n, word)| {
            (0..64).filter(move |bit| word >> bit & 1 == 1).map(move |bit| Condition((n * 64 + bit) as u32))
        })
    }

    /// Returns the 64 conditions from `64 × chunk` on, as bits.
    pub fn word(&self, chunk: usize) -> u64 {
        self.0.get(chunk).copied().unwrap_or(0)
    }

    /// Tells whether every condition of this set is in the other.
    pub fn is_subset(&self, of: &ConditionSet) -> bool {
        self.0.iter().enumerate().all(|(n, word)| word & !of.word(n) == 0)
    }

    /// Tells whether nothing is in it.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }
}

impl FromIterator<Condition> for ConditionSet {
    fn from_iter<I: IntoIterator<Item = Condition>>(conditions: I) -> ConditionSet {
        let mut set = ConditionSet::default();
        set.extend(conditions);
        set
    }
}

impl Extend<Condition> for ConditionSet {
    fn extend<I: IntoIterator<Item = Condition>>(&mut self, conditions: I) {
        for condition in conditions {
            self.insert(condition);
        }
    }
}

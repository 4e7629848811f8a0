//! How few checks can tell causes apart: the length of the best code for them.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Returns minutes that no walk with sure checks can beat, whose ends tell groups of causes apart.
///
/// The walk is a code for the groups with as many letters as the widest check has outcomes, so on average it makes at
/// least as many checks as the best code (Huffman 1952) has letters. A walk of so many checks costs at least as much
/// as so many of the cheapest ones; since that cost grows ever faster, its mean is at least its value at the mean
/// number, the last check counted in part.
pub(super) fn fewest_minutes(chances: Vec<f64>, letters: usize, mut minutes: Vec<f64>) -> f64 {
    let mut checks = mean_length(chances, letters);
    minutes.sort_by(f64::total_cmp);
    let mut sum = 0.0;
    for minutes in minutes {
        sum += minutes * checks.clamp(0.0, 1.0);
        checks -= 1.0;
    }
    sum
}

/// Returns the mean length of the best code for chances that sum to 1, with so many letters, 2 or more.
pub(super) fn mean_length(chances: Vec<f64>, letters: usize) -> f64 {
    let letters = letters.max(2);
    let mut heap: BinaryHeap<Reverse<Ordered>> = chances.into_iter().map(|chance| Reverse(Ordered(chance))).collect();
    if heap.len() < 2 {
        return 0.0;
    }
    // Words of chance 0 make the last joining a full one.
    while !(heap.len() - 1).is_multiple_of(letters - 1) {
        heap.push(Reverse(Ordered(0.0)));
    }
    let mut length = 0.0;
    while heap.len() > 1 {
        let joined: f64 = (0..letters).filter_map(|_| heap.pop()).map(|Reverse(Ordered(chance))| chance).sum();
        length += joined;
        heap.push(Reverse(Ordered(joined)));
    }
    length
}

/// A number in its total order.
#[derive(Debug, Clone, Copy)]
struct Ordered(f64);

impl PartialEq for Ordered {
    fn eq(&self, other: &Ordered) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Ordered {}

impl PartialOrd for Ordered {
    fn partial_cmp(&self, other: &Ordered) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ordered {
    fn cmp(&self, other: &Ordered) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

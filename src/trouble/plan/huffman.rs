//! How few checks can tell causes apart: the length of the best code for them.

use std::collections::VecDeque;

/// Returns minutes that no walk with sure checks can beat, whose ends tell groups of causes apart.
///
/// The walk is a code for the groups with as many letters as the widest check has outcomes, so on average it makes at
/// least as many checks as the best code (Huffman 1952) has letters. A walk of so many checks costs at least as much
/// as so many of the cheapest ones; since that cost grows ever faster, its mean is at least its value at the mean
/// number, the last check counted in part.
pub(super) fn fewest_minutes(mut chances: Vec<f64>, letters: usize, mut minutes: Vec<f64>) -> f64 {
    chances.sort_by(f64::total_cmp);
    minutes.sort_by(f64::total_cmp);
    first_minutes(joined(&chances, letters.max(2)), minutes.into_iter())
}

/// Returns the sum of the first so many of these minutes, the last counted in part.
pub(super) fn first_minutes(mut checks: f64, minutes: impl Iterator<Item = f64>) -> f64 {
    let mut sum = 0.0;
    for minutes in minutes {
        sum += minutes * checks.clamp(0.0, 1.0);
        checks -= 1.0;
        if checks <= 0.0 {
            break;
        }
    }
    sum
}

/// Returns the sum of all joinings of the best code for rising chances, with so many letters, 2 or more: the chances'
/// sum times the mean length.
///
/// What was joined is never less than what was joined before, so two queues take the place of a heap (van Leeuwen
/// 1976).
pub(super) fn joined(rising: &[f64], letters: usize) -> f64 {
    let mut single = rising.iter().copied().peekable();
    let mut pairs: VecDeque<f64> = VecDeque::with_capacity(rising.len());
    let mut left = rising.len();
    let mut sum = 0.0;
    // The first joining takes so few that all that follow are full ones.
    let mut taken = match left.saturating_sub(1) % (letters - 1) {
        0 => letters,
        rest => rest + 1,
    };
    while left > 1 {
        let mut chance = 0.0;
        for _ in 0..taken {
            let next = match (single.peek(), pairs.front()) {
                (Some(one), Some(pair)) if one <= pair => single.next(),
                (Some(_), None) => single.next(),
                _ => pairs.pop_front(),
            };
            chance += next.unwrap_or(0.0);
        }
        sum += chance;
        pairs.push_back(chance);
        left = left + 1 - taken;
        taken = letters;
    }
    sum
}

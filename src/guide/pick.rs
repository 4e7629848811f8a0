//! What of a list was typed: exact words win, then a number, then a unique beginning.

use super::fold;

/// What of a list was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Picked {
    /// The entry at this place.
    One(usize),
    /// Nothing in it.
    None,
    /// The beginning of several entries.
    Several(Vec<usize>),
}

/// Returns what of a list was typed; so many of its entries, from the first, have numbers.
pub fn pick(typed: &str, listed: &[String], numbered: usize) -> Picked {
    let words = fold(typed);
    let exact = listed.iter().position(|entry| fold(entry) == words);
    let number = || typed.trim().parse::<usize>().ok().filter(|n| (1..=numbered).contains(n)).map(|n| n - 1);
    if let Some(place) = exact.or_else(number) {
        return Picked::One(place);
    }
    let begins = |place: &usize| !words.is_empty() && fold(&listed[*place]).starts_with(&words);
    match (0..listed.len()).filter(begins).collect::<Vec<_>>().as_slice() {
        [] => Picked::None,
        [place] => Picked::One(*place),
        several => Picked::Several(several.to_vec()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_words_win_then_numbers_then_beginnings() {
        let listed = ["2", "slid home", "slid halfway", "does not move"].map(str::to_owned);
        for (typed, picked) in [
            ("2", Picked::One(0)),
            ("3", Picked::One(2)),
            ("4", Picked::None),
            ("Does not", Picked::One(3)),
            ("slid", Picked::Several(vec![1, 2])),
            ("", Picked::None),
        ] {
            assert_eq!(pick(typed, &listed, 3), picked, "{typed}");
        }
    }
}

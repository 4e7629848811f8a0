//! Where pages are turned: never inside a block, best before a section, else before a hold or a heading.

/// How well a page is turned before a slab.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turn {
    /// A section begins.
    Section,
    /// A hold or a run of steps begins.
    Rest,
    /// A step begins.
    Step,
    /// It belongs to the slab before it: only where one page does not hold both.
    Torn,
}

impl Turn {
    /// What a turn there costs; a page that is left a third empty costs 11, one that is half empty 25.
    fn cost(self) -> f32 {
        match self {
            Turn::Section => 0.0,
            Turn::Rest => 2.0,
            Turn::Step => 5.0,
            Turn::Torn => 1_000.0,
        }
    }
}

/// What is placed: a slab's height, the room before it where it does not begin a page, and how well a page is turned
/// there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub height: f32,
    pub gap: f32,
    pub turn: Turn,
}

/// What every page costs, so that no more are used than help.
const A_PAGE: f32 = 15.0;

/// Returns where each page begins: the cheapest way to turn pages of this height, each piece on one of them.
///
/// A piece that is higher than a page stands on one of its own. The work grows with the pieces times those on a page.
pub(super) fn turns(pieces: &[Piece], page: f32) -> Vec<usize> {
    // The least that pieces up to here cost, and where their last page begins.
    let mut best: Vec<(f32, usize)> = vec![(0.0, 0)];
    for end in 1..=pieces.len() {
        let (mut cheapest, mut begins) = (f32::INFINITY, end - 1);
        let mut used = 0.0;
        for begin in (0..end).rev() {
            used += pieces[begin].height;
            if used > page && begin + 1 < end {
                break;
            }
            let empty = (1.0 - used / page).max(0.0);
            let left_empty = if end == pieces.len() { 0.0 } else { empty * empty * 100.0 };
            let turn = if begin == 0 { 0.0 } else { pieces[begin].turn.cost() };
            let cost = best[begin].0 + A_PAGE + left_empty + turn;
            if cost < cheapest {
                (cheapest, begins) = (cost, begin);
            }
            used += pieces[begin].gap;
        }
        best.push((cheapest, begins));
    }
    let mut turns = Vec::new();
    let mut end = pieces.len();
    while end > 0 {
        end = best[end].1;
        turns.push(end);
    }
    turns.reverse();
    turns
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn piece(height: f32, turn: Turn) -> Piece {
        Piece { height, gap: 5.0, turn }
    }

    #[test]
    fn a_page_is_turned_before_a_section_where_one_is_near() {
        let pieces = [piece(80.0, Turn::Section), piece(15.0, Turn::Section), piece(40.0, Turn::Step)];
        assert_eq!(turns(&pieces, 100.0), [0, 1]);
    }

    #[test]
    fn what_belongs_together_is_torn_only_where_no_page_holds_it() {
        let together = [piece(40.0, Turn::Section), piece(40.0, Turn::Step), piece(40.0, Turn::Torn)];
        assert_eq!(turns(&together, 100.0), [0, 1]);
        let too_high = [piece(60.0, Turn::Section), piece(60.0, Turn::Torn)];
        assert_eq!(turns(&too_high, 100.0), [0, 1]);
    }

    fn any_turn() -> impl Strategy<Value = Turn> {
        prop_oneof![Just(Turn::Section), Just(Turn::Rest), Just(Turn::Step), Just(Turn::Torn)]
    }

    proptest! {
        /// Each piece stands on one page, in order, and no page with more than one piece is too full.
        #[test]
        fn pages_hold_what_is_on_them(
            pieces in proptest::collection::vec((1.0_f32..120.0, 0.0_f32..20.0, any_turn()), 0..60)
        ) {
            let pieces: Vec<Piece> =
                pieces.into_iter().map(|(height, gap, turn)| Piece { height, gap, turn }).collect();
            let begins = turns(&pieces, 100.0);
            prop_assert_eq!(begins.first().copied(), (!pieces.is_empty()).then_some(0));
            for (n, begin) in begins.iter().enumerate() {
                let end = begins.get(n + 1).copied().unwrap_or(pieces.len());
                prop_assert!(*begin < end);
                let on_page = &pieces[*begin..end];
                let gaps: f32 = on_page[1..].iter().map(|piece| piece.gap).sum();
                let used = on_page.iter().map(|piece| piece.height).sum::<f32>() + gaps;
                prop_assert!(used <= 100.01 || on_page.len() == 1, "{}", used);
            }
        }
    }
}

//! The rows that a policy needs on paper: points where the same is done, and that lead to the same, are one row.

use std::collections::{BTreeMap, BTreeSet};

use crate::trouble::plan::{Next, Policy, To};

/// A row: what is done, and where what it shows leads.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) next: Next,
    /// The chance of each cause for who comes here.
    pub(super) chances: Vec<f64>,
    /// Each outcome by its place, and where it leads.
    pub(super) ways: Vec<(usize, Leads)>,
    /// The chance of coming here.
    pub(super) reach: f64,
}

/// Where an outcome leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Leads {
    /// To the row of this place.
    Row(usize),
    /// To the row of beginning again.
    StartOver,
    /// The pen is good.
    Fixed,
    /// The blank is lost.
    Lost,
}

/// Returns the rows of a policy, the first first, each before those that it leads to.
pub(super) fn rows(policy: &Policy) -> Vec<Row> {
    let order = leads_before(policy);
    let mut reach = vec![0.0; policy.nodes.len()];
    if let Some(first) = reach.first_mut() {
        *first = 1.0;
    }
    for place in &order {
        for way in &policy.nodes[*place].ways {
            if let To::Node(to) = way.to {
                reach[to] += reach[*place] * way.chance;
            }
        }
    }
    // From the last to the first: what a point leads to is known before it.
    let mut rows: Vec<Row> = Vec::new();
    let mut by_content: BTreeMap<(usize, Vec<(usize, Leads)>), usize> = BTreeMap::new();
    let mut stands_for: Vec<Leads> = vec![Leads::StartOver; policy.nodes.len()];
    for place in order.into_iter().rev() {
        let node = &policy.nodes[place];
        let leads = |to: &To| match to {
            To::Node(to) => stands_for[*to],
            To::Fixed => Leads::Fixed,
            To::Lost { .. } => Leads::Lost,
        };
        let ways: Vec<(usize, Leads)> = node.ways.iter().map(|way| (way.outcome, leads(&way.to))).collect();
        let known = match node.next {
            Next::StartOver => continue,
            Next::Do(action) => by_content.entry((action, ways.clone())).or_insert(rows.len()),
            // What cannot be told apart any more differs by its chances.
            Next::Stop => &mut rows.len(),
        };
        let known = *known;
        stands_for[place] = Leads::Row(known);
        if known == rows.len() {
            rows.push(Row { next: node.next, chances: vec![0.0; node.chances.len()], ways, reach: 0.0 });
        }
        rows[known].reach += reach[place];
        for (sum, chance) in rows[known].chances.iter_mut().zip(&node.chances) {
            *sum += chance * reach[place];
        }
    }
    for row in &mut rows {
        let sum: f64 = row.chances.iter().sum();
        row.chances.iter_mut().for_each(|chance| *chance /= if sum > 0.0 { sum } else { 1.0 });
    }
    turned_round(rows)
}

/// Turns the order of rows round.
fn turned_round(mut rows: Vec<Row>) -> Vec<Row> {
    let last = rows.len().saturating_sub(1);
    rows.reverse();
    for (_, leads) in rows.iter_mut().flat_map(|row| &mut row.ways) {
        if let Leads::Row(place) = leads {
            *place = last - *place;
        }
    }
    rows
}

impl Row {
    /// Returns where it leads when what is done does not put it right; none where it only can, or is a question.
    pub(super) fn not_put_right(&self) -> Option<Leads> {
        self.ways.iter().map(|(_, leads)| *leads).find(|leads| matches!(leads, Leads::Row(_) | Leads::StartOver))
    }
}

/// Tells which rows have a number of their own: the first, and all but the remedies, which are named where they are
/// led to.
pub(super) fn numbered(rows: &[Row], is_remedy: impl Fn(usize) -> bool) -> BTreeSet<usize> {
    let named = |row: &Row| matches!(row.next, Next::Do(action) if is_remedy(action));
    rows.iter().enumerate().filter(|(place, row)| *place == 0 || !named(row)).map(|(place, _)| place).collect()
}

/// Returns the rows with a number that a row leads to, by way of the remedies on the way.
fn leads_to(rows: &[Row], numbered: &BTreeSet<usize>, place: usize) -> BTreeSet<usize> {
    let mut met = BTreeSet::new();
    for (_, leads) in &rows[place].ways {
        let mut leads = Some(*leads);
        while let Some(Leads::Row(to)) = leads {
            if numbered.contains(&to) {
                met.insert(to);
                break;
            }
            leads = rows[to].not_put_right();
        }
    }
    met
}

/// Returns the rows with a number that are shown where there is room for so many: always one to which a shown row
/// leads, the likeliest first.
pub(super) fn likeliest(rows: &[Row], numbered: &BTreeSet<usize>, room: usize) -> BTreeSet<usize> {
    let (mut shown, mut open) = (BTreeSet::new(), BTreeSet::from([0]));
    while shown.len() < room {
        let likelier = |a: &&usize, b: &&usize| rows[**a].reach.total_cmp(&rows[**b].reach).then(b.cmp(a));
        let Some(next) = open.iter().filter(|place| **place < rows.len()).max_by(likelier).copied() else { break };
        open.remove(&next);
        shown.insert(next);
        open.extend(leads_to(rows, numbered, next).into_iter().filter(|to| !shown.contains(to)));
    }
    shown
}

/// Returns the points of a policy so that each comes before all that it leads to.
fn leads_before(policy: &Policy) -> Vec<usize> {
    let mut waiting = vec![0_usize; policy.nodes.len()];
    let tos = |place: usize| {
        policy.nodes[place].ways.iter().filter_map(|way| match way.to {
            To::Node(to) => Some(to),
            _ => None,
        })
    };
    (0..policy.nodes.len()).flat_map(tos).for_each(|to| waiting[to] += 1);
    let mut order: Vec<usize> = (0..policy.nodes.len()).take(1).collect();
    let mut at = 0;
    while let Some(place) = order.get(at).copied() {
        at += 1;
        for to in tos(place) {
            waiting[to] -= 1;
            if waiting[to] == 0 {
                order.push(to);
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trouble::plan::{Node, Way};

    fn node(next: Next, ways: &[(usize, f64, To)]) -> Node {
        let way = |(outcome, chance, to): &(usize, f64, To)| Way {
            outcome: *outcome,
            chance: *chance,
            minutes: 0.0,
            to: *to,
        };
        Node { next, minutes: 1.0, chances: vec![1.0], ways: ways.iter().map(way).collect() }
    }

    fn policy() -> Policy {
        let nodes = vec![
            node(Next::Do(0), &[(0, 0.6, To::Node(1)), (1, 0.3, To::Node(3)), (2, 0.1, To::Node(5))]),
            node(Next::Do(1), &[(0, 0.5, To::Fixed), (1, 0.5, To::Node(2))]),
            node(Next::StartOver, &[]),
            node(Next::Do(1), &[(0, 0.5, To::Fixed), (1, 0.5, To::Node(4))]),
            node(Next::StartOver, &[]),
            node(Next::Do(2), &[(0, 1.0, To::Node(2))]),
        ];
        Policy { nodes, bound: 1.0, exact: true }
    }

    #[test]
    fn points_where_the_same_is_done_are_one_row_with_the_chance_of_both() {
        let rows = rows(&policy());
        assert_eq!(rows.len(), 3);
        let of = |action| rows.iter().position(|row| row.next == Next::Do(action)).expect("it has a row");
        assert_eq!(of(0), 0, "the first is first");
        assert!((rows[of(1)].reach - 0.9).abs() < 1e-9);
        assert_eq!(rows[of(1)].ways, [(0, Leads::Fixed), (1, Leads::StartOver)]);
        assert_eq!(rows[0].ways[0].1, Leads::Row(of(1)));
        assert_eq!(rows[0].ways[0].1, rows[0].ways[1].1);
    }

    #[test]
    fn what_has_no_room_is_the_least_likely() {
        let rows = rows(&policy());
        let all = numbered(&rows, |_| false);
        let shown = likeliest(&rows, &all, 2);
        assert!(shown.iter().all(|place| rows[*place].next != Next::Do(2)) && shown.len() == 2);
        assert_eq!(likeliest(&rows, &all, 9).len(), 3);
    }

    #[test]
    fn a_remedy_has_no_row_but_what_it_leads_to_has() {
        let mut policy = policy();
        // The remedy, action 1, leads to a question where it fails.
        policy.nodes[1].ways[1].to = To::Node(5);
        let rows = rows(&policy);
        let asked = numbered(&rows, |action| action == 1);
        assert!(asked.iter().all(|place| rows[*place].next != Next::Do(1)));
        assert_eq!(likeliest(&rows, &asked, 9), asked, "the question behind the remedy is met");
    }
}

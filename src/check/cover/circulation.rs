//! The cheapest way round a network that takes some of its arcs at least once.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// An arc of a network.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Arc {
    pub(super) from: usize,
    pub(super) to: usize,
    /// How often it must be taken; it may be taken any number of times.
    pub(super) least: u32,
    /// What it costs each time, not below 0.
    pub(super) cost: u64,
}

/// Returns how often each arc is taken by a cheapest circulation: into each node as often as out of it.
///
/// The network must be such that from each node every other can be reached. What the least numbers leave unequal is
/// carried along shortest paths (successive shortest paths with potentials; Edmonds and Karp, 1972), many paths of the
/// same length at a time.
pub(super) fn circulation(n_nodes: usize, arcs: &[Arc]) -> Vec<u32> {
    let mut network = Network::new(n_nodes, arcs);
    while network.excess.iter().any(|excess| *excess > 0) {
        if !network.reprice() {
            break;
        }
        while network.carry_at_no_price() {}
    }
    network.extra.iter().zip(arcs).map(|(extra, arc)| extra + arc.least).collect()
}

/// An arc gone forwards, or taken back: its number, and whether it is taken back.
type Hop = (usize, bool);

struct Network<'a> {
    arcs: &'a [Arc],
    /// How much more often than it must each arc is taken.
    extra: Vec<u32>,
    /// How much more often each node is come to than left.
    excess: Vec<i64>,
    hops: Vec<Vec<Hop>>,
    price: Vec<i64>,
}

impl Network<'_> {
    fn new(n_nodes: usize, arcs: &[Arc]) -> Network<'_> {
        let (mut excess, mut hops) = (vec![0; n_nodes], vec![Vec::new(); n_nodes]);
        for (n, arc) in arcs.iter().enumerate() {
            excess[arc.to] += i64::from(arc.least);
            excess[arc.from] -= i64::from(arc.least);
            hops[arc.from].push((n, false));
            hops[arc.to].push((n, true));
        }
        Network { arcs, extra: vec![0; arcs.len()], excess, hops, price: vec![0; n_nodes] }
    }

    /// Returns where a hop leads and what it costs beyond the prices of its ends; none where it cannot be taken.
    fn hop(&self, (arc, back): Hop) -> Option<(usize, i64)> {
        let Arc { from, to, cost, .. } = self.arcs[arc];
        let beyond = cost as i64 + self.price[from] - self.price[to];
        match back {
            false => Some((to, beyond)),
            true => (self.extra[arc] > 0).then_some((from, -beyond)),
        }
    }

    /// Sets the prices so that each shortest path from where there is too much costs nothing beyond them; tells whether
    /// one leads to where there is too little.
    fn reprice(&mut self) -> bool {
        let mut far: Vec<Option<i64>> = vec![None; self.excess.len()];
        let sources = self.excess.iter().enumerate().filter(|(_, excess)| **excess > 0);
        let mut open: BinaryHeap<Reverse<(i64, usize)>> = sources.map(|(node, _)| Reverse((0, node))).collect();
        while let Some(Reverse((cost, node))) = open.pop() {
            if far[node].is_some() {
                continue;
            }
            far[node] = Some(cost);
            for (to, beyond) in self.hops[node].iter().filter_map(|hop| self.hop(*hop)) {
                if far[to].is_none() {
                    open.push(Reverse((cost + beyond, to)));
                }
            }
        }
        let farthest = far.iter().flatten().max().copied().unwrap_or(0);
        for (price, far) in self.price.iter_mut().zip(&far) {
            *price += far.unwrap_or(farthest);
        }
        self.excess.iter().zip(&far).any(|(excess, far)| *excess < 0 && far.is_some())
    }

    /// Carries what it can along paths that cost nothing beyond the prices, no two of them through the same node; tells
    /// whether there was one.
    fn carry_at_no_price(&mut self) -> bool {
        let mut seen = vec![false; self.excess.len()];
        let mut carried = false;
        for source in 0..self.excess.len() {
            if self.excess[source] > 0
                && !seen[source]
                && let Some(path) = self.free_path(source, &mut seen)
            {
                self.carry(source, &path);
                carried = true;
            }
        }
        carried
    }

    fn free_path(&self, source: usize, seen: &mut [bool]) -> Option<Vec<Hop>> {
        seen[source] = true;
        let mut path: Vec<Hop> = Vec::new();
        let mut open = vec![(source, 0)];
        while let Some((node, next)) = open.last_mut() {
            if self.excess[*node] < 0 {
                return Some(path);
            }
            let Some(hop) = self.hops[*node].get(*next).copied() else {
                open.pop();
                path.pop();
                continue;
            };
            *next += 1;
            if let Some((to, 0)) = self.hop(hop)
                && !seen[to]
            {
                seen[to] = true;
                path.push(hop);
                open.push((to, 0));
            }
        }
        None
    }

    fn carry(&mut self, source: usize, path: &[Hop]) {
        let ends_at = |(arc, back): Hop| if back { self.arcs[arc].from } else { self.arcs[arc].to };
        let target = path.last().map_or(source, |hop| ends_at(*hop));
        let given_back = path.iter().filter(|(_, back)| *back).map(|(arc, _)| self.extra[*arc]).min();
        let most = self.excess[source].min(-self.excess[target]).max(0) as u32;
        let amount = given_back.map_or(most, |given_back| given_back.min(most));
        for (arc, back) in path {
            match back {
                false => self.extra[*arc] += amount,
                true => self.extra[*arc] -= amount,
            }
        }
        self.excess[source] -= i64::from(amount);
        self.excess[target] += i64::from(amount);
    }
}

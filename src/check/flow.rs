//! The two analyses over the graph: what is held on every way in, and what is still needed on some way out.
//!
//! Backward, `Live(s) = needs(s) ∪ ⋃ (Live(t) − gives)` over the ways out of `s`. Forward, a condition may be missing at
//! `s` when a path gets there on which nothing gives it after the start, or after the last way that removes it. A
//! missing condition matters only where it is live, so the forward analysis runs inside the live ranges and costs
//! nothing in a guide without fault.
//!
//! Both work on 64 conditions at a time, a word a step, and visit only the steps where one of the 64 is live. A guide
//! whose conditions are used near where they are given costs time in proportion to its length; the worst case is that
//! of dense bit sets, `steps × conditions / 64`.

use petgraph::visit::{Dfs, Reversed};

use crate::guide::{Condition, ConditionSet, Guide, Kind, StepIdx};

/// The analyses of one guide.
pub struct Flow<'g> {
    guide: &'g Guide,
    reachable: Vec<bool>,
    ends: Vec<bool>,
    /// Ways into each step: `(way, from)`, those of step `s` at `into[s]..into[s + 1]`.
    into: Vec<u32>,
    ways_into: Vec<(u32, u32)>,
    needs: Buckets,
    gives: Buckets,
    removes: Buckets,
}

/// Words by chunk of 64 conditions: `(where, bits)` rows, those of chunk `c` at `starts[c]..starts[c + 1]`.
struct Buckets {
    starts: Vec<u32>,
    rows: Vec<(u32, u64)>,
}

impl Buckets {
    fn new(n_chunks: usize, items: &[(u32, Condition)]) -> Buckets {
        let mut starts = vec![0u32; n_chunks + 1];
        for (_, condition) in items {
            starts[condition.index() / 64 + 1] += 1;
        }
        for n in 0..n_chunks {
            starts[n + 1] += starts[n];
        }
        let mut next = starts.clone();
        let mut rows = vec![(0, 0); starts[n_chunks] as usize];
        for (place, condition) in items {
            let chunk = condition.index() / 64;
            rows[next[chunk] as usize] = (*place, 1 << (condition.index() % 64));
            next[chunk] += 1;
        }
        Buckets { starts, rows }
    }

    fn of(&self, chunk: usize) -> &[(u32, u64)] {
        &self.rows[self.starts[chunk] as usize..self.starts[chunk + 1] as usize]
    }
}

/// What the analyses say of 64 conditions.
pub struct Chunk<'f> {
    /// The chunk's number: its conditions are `64 × number` and on.
    pub number: usize,
    /// The steps where one of them is live.
    pub steps: &'f [u32],
    /// The conditions live at each step.
    pub live: &'f [u64],
    /// The conditions needed by each step itself.
    pub needs: &'f [u64],
    /// The conditions given on each way.
    pub gives: &'f [u64],
    /// The ways on which one of them is given.
    pub giving: &'f [(u32, u64)],
    flow: &'f Flow<'f>,
}

impl<'g> Flow<'g> {
    /// Prepares the analyses of a guide.
    pub fn new(guide: &'g Guide) -> Flow<'g> {
        let graph = guide.graph();
        let mut reachable = vec![false; guide.len()];
        let mut walk = Dfs::new(graph, petgraph::graph::NodeIndex::new(0));
        while let Some(node) = walk.next(graph) {
            reachable[node.index()] = true;
        }
        let mut ends = vec![false; guide.len()];
        let mut back = Dfs::empty(Reversed(graph));
        for (idx, step) in guide.steps() {
            if matches!(step.kind, Kind::End(_)) {
                back.move_to(petgraph::graph::NodeIndex::new(idx.index()));
                while let Some(node) = back.next(Reversed(graph)) {
                    ends[node.index()] = true;
                }
            }
        }
        let (into, ways_into) = ways_into(guide);
        let n_chunks = guide.n_conditions().div_ceil(64);
        let ways = || guide.ways().iter().zip(0u32..);
        let needs: Vec<_> = guide
            .steps()
            .flat_map(|(idx, step)| step.needs.iter().map(move |need| (idx.index() as u32, need.condition)))
            .collect();
        let gives: Vec<_> = ways().flat_map(|(way, n)| way.gives.iter().map(move |given| (n, *given))).collect();
        let passing: Vec<Condition> = guide.passing().iter().collect();
        let dropped = ways().filter(|(way, _)| way.drops_passing).flat_map(|(way, n)| {
            passing.iter().filter(|condition| !way.gives.contains(condition)).map(move |condition| (n, *condition))
        });
        let removes = ways().flat_map(|(way, n)| way.removes.iter().map(move |removed| (n, *removed)));
        let removes: Vec<_> = removes.chain(dropped).collect();
        Flow {
            guide,
            reachable,
            ends,
            into,
            ways_into,
            needs: Buckets::new(n_chunks, &needs),
            gives: Buckets::new(n_chunks, &gives),
            removes: Buckets::new(n_chunks, &removes),
        }
    }

    /// Returns the guide.
    pub fn guide(&self) -> &'g Guide {
        self.guide
    }

    /// Tells whether a step can be reached from the first.
    pub fn is_reachable(&self, idx: StepIdx) -> bool {
        self.reachable[idx.index()]
    }

    /// Tells whether an end can be reached from a step.
    pub fn can_end(&self, idx: StepIdx) -> bool {
        self.ends[idx.index()]
    }

    /// Returns the ways into a step, each with the step it leaves.
    fn into(&self, step: usize) -> &[(u32, u32)] {
        &self.ways_into[self.into[step] as usize..self.into[step + 1] as usize]
    }

    /// Calls `look` with every 64 conditions of which one is needed somewhere.
    pub fn each_chunk(&self, mut look: impl FnMut(&Chunk<'_>)) {
        let (n_steps, n_ways) = (self.guide.len(), self.guide.ways().len());
        let (mut live, mut needs, mut gives) = (vec![0u64; n_steps], vec![0u64; n_steps], vec![0u64; n_ways]);
        let mut dirty = Dirty::new(n_steps);
        let mut steps = Vec::new();
        for number in 0..self.needs.starts.len() - 1 {
            if self.needs.of(number).is_empty() {
                continue;
            }
            for (step, bits) in self.needs.of(number) {
                if live[*step as usize] == 0 {
                    steps.push(*step);
                }
                needs[*step as usize] |= bits;
                live[*step as usize] |= bits;
                dirty.mark(*step as usize);
            }
            for (way, bits) in self.gives.of(number) {
                gives[*way as usize] |= bits;
            }
            while let Some(step) = dirty.take() {
                let wanted = live[step];
                for (way, from) in self.into(step) {
                    let before = live[*from as usize];
                    let after = before | wanted & !gives[*way as usize];
                    if after != before {
                        if before == 0 {
                            steps.push(*from);
                        }
                        live[*from as usize] = after;
                        dirty.mark(*from as usize);
                    }
                }
            }
            look(&Chunk {
                number,
                steps: &steps,
                live: &live,
                needs: &needs,
                gives: &gives,
                giving: self.gives.of(number),
                flow: self,
            });
            for step in steps.drain(..) {
                live[step as usize] = 0;
                needs[step as usize] = 0;
            }
            for (way, _) in self.gives.of(number) {
                gives[*way as usize] = 0;
            }
        }
    }

    /// Returns, for each step, whether everything that may still be needed from there on is held.
    pub fn ready_for(&self, held: &ConditionSet) -> Vec<bool> {
        let mut ready = vec![true; self.guide.len()];
        self.each_chunk(|chunk| {
            for step in chunk.steps {
                if chunk.live[*step as usize] & !held.word(chunk.number) != 0 {
                    ready[*step as usize] = false;
                }
            }
        });
        ready
    }

    /// Returns what may still be needed from a step on.
    pub fn live_at(&self, idx: StepIdx) -> ConditionSet {
        let mut live = ConditionSet::default();
        self.each_chunk(|chunk| live.extend(bits(chunk.number, chunk.live[idx.index()])));
        live
    }
}

impl Chunk<'_> {
    /// Returns, for each step, which of the needed conditions may be missing on arrival; `None` where none can.
    pub fn missing(&self) -> Option<Vec<u64>> {
        let flow = self.flow;
        let mut sources: Vec<(usize, u64)> = Vec::new();
        sources.push((0, self.live[0]));
        let mut removed_to = |way: u32, bits: u64| {
            let way_of = &flow.guide.ways()[way as usize];
            if let (Some(to), true) = (way_of.to, flow.is_reachable(way_of.from)) {
                sources.push((to.index(), bits & self.live[to.index()] & !self.gives[way as usize]));
            }
        };
        for (way, bits) in flow.removes.of(self.number) {
            removed_to(*way, *bits);
        }
        for step in self.steps {
            for (way, _) in flow.into(*step as usize) {
                let undoes = &flow.guide.ways()[*way as usize].undoes;
                if !undoes.is_empty() {
                    let kept = self.live[*step as usize] & !self.gives[*way as usize];
                    let conditions: Vec<Condition> = bits(self.number, kept).collect();
                    let left = flow.guide.left(&conditions, undoes);
                    removed_to(*way, left.iter().fold(kept, |word, c| word & !(1 << (c.index() % 64))));
                }
            }
        }
        if sources.iter().all(|(_, bits)| *bits == 0) {
            return None;
        }
        let mut missing = vec![0u64; self.live.len()];
        let mut open = Vec::new();
        let reach = |missing: &mut Vec<u64>, open: &mut Vec<usize>, step: usize, bits: u64| {
            if bits & !missing[step] != 0 {
                missing[step] |= bits;
                open.push(step);
            }
        };
        for (step, bits) in sources {
            reach(&mut missing, &mut open, step, bits);
        }
        while let Some(step) = open.pop() {
            for way in flow.guide.ways_out_idx(flow.guide.step_at(step)) {
                if let Some(to) = flow.guide.way(way).to {
                    let bits = missing[step] & !self.gives[way.index()] & self.live[to.index()];
                    reach(&mut missing, &mut open, to.index(), bits);
                }
            }
        }
        Some(missing)
    }
}

/// Yields the conditions of a chunk's word.
pub(super) fn bits(chunk: usize, word: u64) -> impl Iterator<Item = Condition> {
    (0..64).filter(move |bit| word >> bit & 1 == 1).map(move |bit| Condition::at(chunk * 64 + bit))
}

fn ways_into(guide: &Guide) -> (Vec<u32>, Vec<(u32, u32)>) {
    let mut starts = vec![0u32; guide.len() + 1];
    for way in guide.ways() {
        if let Some(to) = way.to {
            starts[to.index() + 1] += 1;
        }
    }
    for n in 0..guide.len() {
        starts[n + 1] += starts[n];
    }
    let mut next = starts.clone();
    let mut ways = vec![(0, 0); starts[guide.len()] as usize];
    for (way, n) in guide.ways().iter().zip(0u32..) {
        if let Some(to) = way.to {
            ways[next[to.index()] as usize] = (n, way.from.index() as u32);
            next[to.index()] += 1;
        }
    }
    (starts, ways)
}

/// Steps to visit, the last first: most ways lead forward, so that most steps are visited once.
struct Dirty {
    words: Vec<u64>,
    /// No word from here on has a mark.
    top: usize,
}

impl Dirty {
    fn new(n: usize) -> Dirty {
        Dirty { words: vec![0; n.div_ceil(64)], top: 0 }
    }

    fn mark(&mut self, n: usize) {
        self.words[n / 64] |= 1 << (n % 64);
        self.top = self.top.max(n / 64 + 1);
    }

    fn take(&mut self) -> Option<usize> {
        while self.top > 0 {
            let word = &mut self.words[self.top - 1];
            if *word != 0 {
                let bit = 63 - word.leading_zeros() as usize;
                *word &= !(1 << bit);
                return Some((self.top - 1) * 64 + bit);
            }
            self.top -= 1;
        }
        None
    }
}

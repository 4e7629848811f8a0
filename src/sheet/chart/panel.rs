//! A panel: the steps of one band, as many as stand well together, in their places.
//!
//! The main path runs straight down on the left; steps beside it stand in a second column. All other ways between the
//! steps of a panel run in the lanes between the columns, each in one that is free where it runs. A way that leaves
//! the panel ends at the number that it goes on at.

use std::collections::HashMap;

use super::boxes::{Frame, StepBox, WIDTH};
use super::slots::{Slot, SlotKind, spread};
use super::words::{Flow, wrapped};
use super::{Chart, Node, To};
use crate::sheet::drawing::at;
use crate::sheet::font::Face;

/// How many steps stand in one panel at most.
const MOST: usize = 24;

/// How many lanes may be kept free so that the second columns stand in line.
const USUAL: usize = 16;

/// The size of the type of titles.
pub(super) const TITLE_SIZE: f32 = 13.0;

/// From one line of a title to the next.
pub(super) const TITLE_LEADING: f32 = 14.4;

/// Ways that leave one step for the same end: they share a line.
#[derive(Debug)]
pub(super) struct Bundle {
    /// The step that they leave.
    pub(super) from: usize,
    /// The step that they lead to; none where they lead to a fault table.
    pub(super) to: Option<usize>,
    /// Their places among the chart's ways.
    pub(super) ways: Vec<usize>,
}

/// Returns the chart's ways in bundles.
pub(super) fn bundles(chart: &Chart) -> Vec<Bundle> {
    let mut bundles: Vec<Bundle> = Vec::new();
    let mut known: HashMap<(usize, Option<usize>, &str), usize> = HashMap::new();
    for (n, way) in chart.ways.iter().enumerate() {
        let table = if let To::Table(table) = &way.to { table.as_str() } else { "" };
        let at = *known.entry((way.from, way.step(), table)).or_insert(bundles.len());
        if at == bundles.len() {
            bundles.push(Bundle { from: way.from, to: way.step(), ways: Vec::new() });
        }
        bundles[at].ways.push(n);
    }
    bundles
}

/// The lengths that a panel is made of, from left to right.
pub(super) mod room {
    /// From its edge to what is in it.
    pub(in crate::sheet::chart) const EDGE: f32 = 8.0;
    /// For the numbers of steps that ways come from.
    pub(in crate::sheet::chart) const FROM: f32 = 62.0;
    /// Beside a box, for the words of its ways.
    pub(in crate::sheet::chart) const WORDS: f32 = 104.0;
    /// From one lane to the next.
    pub(in crate::sheet::chart) const LANE: f32 = 6.0;
    /// For a title of one line, and what comes into the panel from above.
    pub(in crate::sheet::chart) const TITLE: f32 = 34.0;
    /// Below the last step, for the sign of where the main path goes on.
    pub(in crate::sheet::chart) const SIGN: f32 = 20.0;
    /// From the middle of the first column to the title: what comes in from above passes it.
    pub(in crate::sheet::chart) const ASIDE: f32 = 36.0;
}

/// A step in its place, counted from the panel's corner.
#[derive(Debug)]
pub(super) struct Spot<'c> {
    pub(super) node: &'c Node,
    pub(super) words: StepBox,
    pub(super) frame: Frame,
    /// Whether it stands in the second column.
    pub(super) beside: bool,
    /// What leaves and comes in at the side of the lanes.
    pub(super) slots: Vec<Slot>,
    /// The bundles that come from other panels, and their numbers in words.
    pub(super) comes: (Vec<usize>, Flow),
}

/// A way straight down: the bundle, its words, and the places in `spots` that it joins.
#[derive(Debug)]
pub(super) struct Down {
    pub(super) bundle: usize,
    pub(super) words: Flow,
    pub(super) from: usize,
    pub(super) to: Option<usize>,
}

/// A way in the lanes: the bundle and the lane, from the left.
#[derive(Debug)]
pub(super) struct Route {
    pub(super) bundle: usize,
    pub(super) lane: usize,
}

/// Steps in their places.
#[derive(Debug)]
pub(super) struct Panel<'c> {
    /// The lines of its title.
    pub(super) title: Vec<String>,
    pub(super) spots: Vec<Spot<'c>>,
    /// The ways straight down; the one that leaves the panel has no end in it.
    pub(super) downs: Vec<Down>,
    pub(super) routes: Vec<Route>,
    pub(super) lanes: usize,
    /// The bundle that comes in from above, to the first step.
    pub(super) head: Option<usize>,
    pub(super) height: f32,
    /// Its height where the main path runs on below and needs no sign.
    pub(super) least: f32,
}

impl Panel<'_> {
    /// Puts the second column, where there is one, beside so many lanes or its own.
    fn stand_beside(&mut self, lanes: usize) {
        if self.spots.iter().any(|spot| spot.beside) {
            self.lanes = self.lanes.max(lanes);
        }
        let second = Panel::lane(self.lanes) - 0.5 * room::LANE + room::WORDS;
        for spot in self.spots.iter_mut().filter(|spot| spot.beside) {
            spot.frame.corner.x = second;
        }
    }

    /// Returns how wide it is.
    pub(super) fn width(&self) -> f32 {
        let one = room::EDGE + room::FROM + WIDTH + room::WORDS + self.lanes as f32 * room::LANE + room::EDGE;
        if self.spots.iter().any(|spot| spot.beside) { one + room::WORDS + WIDTH + room::FROM } else { one }
    }

    /// Returns how far below its upper edge the first box stands.
    pub(super) fn top(&self) -> f32 {
        room::TITLE + self.title.len().saturating_sub(1) as f32 * TITLE_LEADING
    }

    /// Returns where the lane of this number runs.
    pub(super) fn lane(lane: usize) -> f32 {
        room::EDGE + room::FROM + WIDTH + room::WORDS + (lane as f32 + 0.5) * room::LANE
    }

    /// Returns the place of a step.
    pub(super) fn place(&self, number: usize) -> Option<usize> {
        self.spots.iter().position(|spot| spot.node.number == number)
    }
}

/// Returns the panels of a chart in order.
pub(super) fn panels<'c>(chart: &'c Chart, bundles: &[Bundle]) -> Vec<Panel<'c>> {
    let mut groups: Vec<(bool, Vec<&Node>)> = Vec::new();
    for node in chart.nodes.iter().filter(|node| !node.elsewhere) {
        match groups.last_mut() {
            Some((_, group)) if group[0].band == node.band && group.len() < MOST => group.push(node),
            last => {
                let continued = last.is_some_and(|(_, group)| group[0].band == node.band);
                groups.push((continued, vec![node]));
            }
        }
    }
    let mut of_step: HashMap<usize, Vec<usize>> = HashMap::new();
    for (n, bundle) in bundles.iter().enumerate() {
        of_step.entry(bundle.from).or_default().push(n);
        if let Some(to) = bundle.to.filter(|to| *to != bundle.from) {
            of_step.entry(to).or_default().push(n);
        }
    }
    // The way from the last main step of a panel to the first one of a later panel leaves and comes straight.
    let mut heads: HashMap<usize, usize> = HashMap::new();
    let mut panels = Vec::new();
    for (continued, group) in groups {
        let mut near: Vec<usize> =
            group.iter().filter_map(|node| of_step.get(&node.number)).flatten().copied().collect();
        near.sort_unstable();
        near.dedup();
        let mut maker = Maker { chart, bundles, near, panel: empty(chart, &group, continued) };
        maker.straight(&mut heads);
        maker.fill();
        maker.set();
        maker.assign_lanes();
        panels.push(maker.panel);
    }
    // The second columns stand in line, but where one panel has many lanes.
    let usual = panels.iter().map(|panel| panel.lanes).filter(|lanes| *lanes <= USUAL).max().unwrap_or(0);
    panels.iter_mut().for_each(|panel| panel.stand_beside(usual));
    panels
}

fn empty<'c>(chart: &Chart, group: &[&'c Node], continued: bool) -> Panel<'c> {
    let title = &chart.bands[group[0].band].title;
    let title = if continued { crate::sheet::model::continued(title.as_str()) } else { title.to_string() };
    let has_main = group.iter().any(|node| node.main);
    let spot = |node: &&'c Node| Spot {
        node,
        words: StepBox::new(node),
        frame: Frame::default(),
        beside: has_main && !node.main,
        slots: Vec::new(),
        comes: (Vec::new(), Flow::default()),
    };
    Panel {
        title: wrapped(&title, WIDTH / 2.0 + room::WORDS - room::ASIDE, Face::Bold, TITLE_SIZE),
        spots: group.iter().map(spot).collect(),
        downs: Vec::new(),
        routes: Vec::new(),
        lanes: 0,
        head: None,
        height: 0.0,
        least: 0.0,
    }
}

struct Maker<'c, 'b> {
    chart: &'c Chart,
    bundles: &'b [Bundle],
    /// The bundles that begin or end here.
    near: Vec<usize>,
    panel: Panel<'c>,
}

impl Maker<'_, '_> {
    fn words(&self, bundle: usize, width: f32) -> Flow {
        let ways = self.bundles[bundle].ways.iter().map(|way| self.chart.ways[*way].words.as_str());
        Flow::new(ways, width)
    }

    /// Finds the ways that run straight down: to the next step of the column, and into the next panel of the main path.
    fn straight(&mut self, heads: &mut HashMap<usize, usize>) {
        for beside in [false, true] {
            let column: Vec<usize> =
                (0..self.panel.spots.len()).filter(|n| self.panel.spots[*n].beside == beside).collect();
            let width = WIDTH / 2.0 - 8.0 + if beside { room::FROM - 8.0 } else { room::WORDS - 8.0 };
            for (n, from) in column.iter().enumerate() {
                let number = self.panel.spots[*from].node.number;
                let next = column.get(n + 1).copied();
                let to = next.map(|next| self.panel.spots[next].node.number);
                let mut out = self.near.iter().copied().filter(|bundle| self.bundles[*bundle].from == number);
                let found = match to {
                    Some(to) => out.find(|bundle| self.bundles[*bundle].to == Some(to)),
                    None if beside || !self.panel.spots[*from].node.main => None,
                    None => out.find(|bundle| self.leads_on(*bundle)),
                };
                let Some(bundle) = found else { continue };
                if let (None, Some(to)) = (next, self.bundles[bundle].to) {
                    heads.insert(to, bundle);
                }
                self.panel.downs.push(Down { bundle, words: self.words(bundle, width), from: *from, to: next });
            }
        }
        let first = self.panel.spots.iter().find(|spot| !spot.beside && spot.node.main);
        self.panel.head = first.and_then(|first| heads.get(&first.node.number).copied());
    }

    /// Tells whether a bundle is the main path's way on from the last main step here to a later panel.
    fn leads_on(&self, bundle: usize) -> bool {
        let Bundle { from, to, .. } = self.bundles[bundle];
        let Some(to) = to.and_then(|to| self.chart.node(to)) else { return false };
        // Between the two there is no other main step.
        let after = self.chart.nodes.partition_point(|node| node.number <= from);
        let next = self.chart.nodes[after..].iter().find(|node| node.main);
        !to.elsewhere && next.is_some_and(|next| next.number == to.number)
    }

    /// Gives every step its slots.
    fn fill(&mut self) {
        let straight: Vec<usize> = self.panel.downs.iter().map(|down| down.bundle).chain(self.panel.head).collect();
        for n in self.near.clone() {
            if straight.contains(&n) {
                continue;
            }
            let Bundle { from, to, .. } = self.bundles[n];
            let (here, there) = (self.panel.place(from), to.and_then(|to| self.panel.place(to)));
            match (here, there) {
                (Some(here), Some(there)) => {
                    let words = self.words(n, room::WORDS - 10.0);
                    self.panel.spots[here].slots.push(Slot::new(n, SlotKind::Leaves, words, there));
                    self.panel.spots[there].slots.push(Slot::new(n, SlotKind::Comes, Flow::default(), here));
                    self.panel.routes.push(Route { bundle: n, lane: 0 });
                }
                (Some(here), None) => {
                    let sign = Slot::sign_width(to);
                    let words = self.words(n, room::WORDS - 18.0 - sign);
                    let goal = self.goal(n, self.panel.spots[here].node);
                    let goal =
                        Flow::new([&*goal].into_iter().filter(|goal| !goal.is_empty()), room::WORDS - 18.0 - sign);
                    self.panel.spots[here].slots.push(Slot::new(n, SlotKind::Ends(goal), words, here));
                }
                (None, Some(there)) => self.panel.spots[there].comes.0.push(n),
                (None, None) => {}
            }
        }
        for spot in &mut self.panel.spots {
            let from = spot.comes.0.iter().enumerate().map(|(n, bundle)| {
                let number = self.bundles[*bundle].from;
                if n == 0 { format!("from {number}") } else { number.to_string() }
            });
            let from: Vec<String> = from.collect();
            spot.comes.1 = Flow::new(from.iter().map(String::as_str), room::FROM - 20.0);
        }
    }

    /// Returns what is told of where a way goes on outside of the panel: the table's name, or the stage.
    fn goal(&self, bundle: usize, here: &Node) -> String {
        let first = self.bundles[bundle].ways[0];
        match &self.chart.ways[first].to {
            To::Table(table) => table.to_string(),
            To::Step(number) => match self.chart.node(*number) {
                Some(node) if node.band != here.band => self.chart.bands[node.band].title.to_string(),
                _ => String::new(),
            },
        }
    }

    /// Puts the steps in their places, and the slots in theirs.
    fn set(&mut self) {
        const GAP: f32 = 18.0;
        let below = |downs: &[Down], n: usize| match downs.iter().find(|down| down.from == n) {
            Some(down) if down.to.is_none() => (down.words.height() + 10.0).max(GAP) + room::SIGN,
            Some(down) => (down.words.height() + 10.0).max(GAP),
            None => 12.0,
        };
        let top = self.panel.top();
        let (mut main, mut beside, mut last_main) = (top, top, top);
        for n in 0..self.panel.spots.len() {
            let gap = below(&self.panel.downs, n);
            let spot = &mut self.panel.spots[n];
            let slots: f32 = spot.slots.iter().map(Slot::height).sum();
            let height = spot.words.height().max(slots + 14.0).max(spot.comes.1.height() + 14.0);
            // Whole steps of 4 points: levels of the two columns never meet.
            let height = (height / 4.0).ceil() * 4.0;
            let left = room::EDGE + room::FROM;
            if spot.beside {
                beside = beside.max(last_main);
                spot.frame = Frame { corner: at(left, beside), height };
                beside += height + gap;
            } else {
                last_main = main;
                spot.frame = Frame { corner: at(left, main), height };
                main += height + gap;
            }
        }
        let middle = |spot: &Spot| spot.frame.corner.y + spot.frame.height / 2.0;
        let middles: Vec<f32> = self.panel.spots.iter().map(middle).collect();
        for (n, spot) in self.panel.spots.iter_mut().enumerate() {
            // What leads up stands above what leads down, so that fewer lines cross.
            spot.slots.sort_by(|a, b| {
                let ends = [a, b].map(|slot| middles[slot.other]);
                ends[0].total_cmp(&ends[1]).then_with(|| {
                    if ends[0] < middles[n] { a.comes().cmp(&b.comes()) } else { b.comes().cmp(&a.comes()) }
                })
            });
            spread(&mut spot.slots, spot.frame, spot.beside);
        }
        self.panel.height = main.max(beside) + 6.0;
        self.panel.least = (main - room::SIGN).max(beside) + 6.0;
    }

    /// Gives each way in the lanes one that is free where it runs.
    fn assign_lanes(&mut self) {
        let ends = |panel: &Panel, bundle: usize| {
            let slots = panel.spots.iter().flat_map(|spot| spot.slots.iter().map(move |slot| (spot.beside, slot)));
            let ends: Vec<(bool, f32)> =
                slots.filter(|(_, slot)| slot.bundle == bundle).map(|(beside, slot)| (beside, slot.y)).collect();
            let (low, high) = ends.iter().fold((f32::MAX, f32::MIN), |(low, high), (_, y)| (low.min(*y), high.max(*y)));
            (ends.iter().all(|(beside, _)| *beside), low, high)
        };
        let mut routes: Vec<(usize, (bool, f32, f32))> =
            (0..self.panel.routes.len()).map(|n| (n, ends(&self.panel, self.panel.routes[n].bundle))).collect();
        routes.sort_by(|(_, a), (_, b)| (a.2 - a.1).total_cmp(&(b.2 - b.1)));
        // Those between steps of the second column take the lanes next to it.
        let mut taken: [Vec<Vec<(f32, f32)>>; 2] = [Vec::new(), Vec::new()];
        let mut lanes = Vec::new();
        for (n, (beside, low, high)) in routes {
            let taken = &mut taken[usize::from(beside)];
            let is_free = |lane: &Vec<(f32, f32)>| lane.iter().all(|(from, to)| high + 3.0 < *from || *to + 3.0 < low);
            let lane = taken.iter().position(is_free).unwrap_or_else(|| {
                taken.push(Vec::new());
                taken.len() - 1
            });
            taken[lane].push((low, high));
            lanes.push((n, beside, lane));
        }
        self.panel.lanes = taken[0].len() + taken[1].len();
        for (n, beside, lane) in lanes {
            self.panel.routes[n].lane = if beside { self.panel.lanes - 1 - lane } else { lane };
        }
    }
}

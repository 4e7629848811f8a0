//! The chart as a drawing: bands, ways and boxes in groups of their own names.

use super::boxes::WIDTH;
use super::panel::{Bundle, Panel, Spot, TITLE_LEADING, TITLE_SIZE, bundles, panels, room};
use super::signs::{SIGN, arrow_head, numbered};
use super::slots::{Slot, SlotKind, sign_width};
use super::words::Flow;
use super::{Chart, boxes, columns, legend};
use crate::sheet::drawing::{Drawing, Mark, Point, Shade, Stroke, at};
use crate::sheet::font::Face;

/// From the edge of the sheet to what is on it.
const EDGE: f32 = 24.0;

/// Returns a chart as a drawing.
///
/// The main path of each band runs straight down, steps beside it stand in a second column, and every other way runs in
/// a lane of its own between the two. A way that leaves its panel ends at the number where it goes on, which has the
/// number that it comes from beside it. Each step is the group `step-N`, each way has its own name, each panel is
/// `panel-N`.
pub fn draw(chart: &Chart) -> Drawing {
    let bundles = bundles(chart);
    let mut panels = panels(chart, &bundles);
    let widest = panels.iter().map(Panel::width).fold(0.0, f32::max);
    let sizes: Vec<(f32, f32)> = panels.iter().map(|panel| (panel.width(), panel.height)).collect();
    let (mut corners, (width, _)) = columns::set(&sizes);
    // What is kept for a sign is not needed where the main path runs on below.
    let mut saved = 0.0;
    for n in 1..panels.len() {
        if corners[n].0 != corners[n - 1].0 {
            saved = 0.0;
        } else if runs_on(&panels[n - 1], &panels[n]) {
            saved += panels[n - 1].height - panels[n - 1].least;
            panels[n - 1].height = panels[n - 1].least;
        }
        corners[n].1.y -= saved;
    }
    let foots = panels.iter().zip(&corners).map(|(panel, (_, corner))| corner.y + panel.height);
    let height = foots.fold(0.0, f32::max);
    let (head, head_height) = legend::head(chart, at(EDGE, EDGE), width.max(widest));
    let top = EDGE + head_height + 12.0;
    let mut sheet = Sheet { chart, bundles: &bundles, ways: vec![Vec::new(); chart.ways.len()] };
    let (mut grounds, mut steps, mut arrivals) = (Vec::new(), Vec::new(), Vec::new());
    for (n, (panel, (column, corner))) in panels.iter().zip(&corners).enumerate() {
        let corner = at(corner.x + EDGE, corner.y + top);
        let in_column = |other: usize| panels.get(other).filter(|_| corners[other].0 == *column);
        let is_from_above = n.checked_sub(1).and_then(in_column).is_some_and(|above| runs_on(above, panel));
        let goes_below = in_column(n + 1).filter(|below| runs_on(panel, below));
        let wide = panels.iter().zip(&corners).filter(|(_, other)| other.0 == *column).map(|(panel, _)| panel.width());
        let wide = wide.fold(0.0, f32::max);
        let ground = Mark::rectangle(corner, (wide, panel.height), Some(Shade::Pale), None);
        grounds.push(Mark::Group { name: format!("panel-{}", n + 1), marks: titled(panel, corner, ground) });
        sheet.downs(panel, corner, goes_below);
        sheet.sides(panel, corner);
        arrivals.push((panel, corner, is_from_above));
        steps.extend(panel.spots.iter().map(|spot| {
            let marks = spot.words.marks(spot.node, moved(spot, corner));
            Mark::Group { name: format!("step-{}", spot.node.number), marks }
        }));
    }
    // Each way is drawn from its beginning to its end.
    for (panel, corner, is_from_above) in arrivals {
        sheet.arrivals(panel, corner, is_from_above);
    }
    let ways = chart.ways.iter().zip(sheet.ways);
    let ways = ways.map(|(way, marks)| Mark::Group { name: way.name.clone(), marks });
    let marks = head.into_iter().chain(grounds).chain(ways).chain(steps).collect();
    Drawing { width: width.max(widest) + 2.0 * EDGE, height: top + height + EDGE, title: chart.title.clone(), marks }
}

/// Tells whether the main path leads from one panel into the other.
fn runs_on(above: &Panel, below: &Panel) -> bool {
    let leaves = above.downs.iter().find(|down| down.to.is_none()).map(|down| down.bundle);
    leaves.is_some() && leaves == below.head
}

/// Returns a panel's ground with its title on it.
fn titled(panel: &Panel, corner: Point, ground: Mark) -> Vec<Mark> {
    let left = corner.x + room::EDGE + room::FROM + WIDTH / 2.0 + room::ASIDE;
    let baseline = |n: usize| corner.y + 20.0 + n as f32 * TITLE_LEADING;
    let title = panel.title.iter().enumerate();
    let title = title.map(|(n, line)| Mark::words(at(left, baseline(n)), TITLE_SIZE, Face::Bold, line));
    std::iter::once(ground).chain(title).collect()
}

/// Returns where a step's box stands on the sheet.
fn moved(spot: &Spot, corner: Point) -> boxes::Frame {
    let own = spot.frame.corner;
    boxes::Frame { corner: at(own.x + corner.x, own.y + corner.y), ..spot.frame }
}

/// The ways while they are being drawn: the marks of each.
struct Sheet<'c> {
    chart: &'c Chart,
    bundles: &'c [Bundle],
    ways: Vec<Vec<Mark>>,
}

impl Sheet<'_> {
    /// Draws one line for all ways of a bundle. Each has it whole; the others lie thin upon the first, so that what
    /// many share looks like one line.
    fn line(&mut self, bundle: usize, points: &[Point]) {
        for (n, way) in self.bundles[bundle].ways.iter().enumerate() {
            let width = if n == 0 { 1.0 } else { 0.2 };
            let stroke = Stroke { dashed: self.chart.ways[*way].is_back(), ..Stroke::black(width) };
            self.ways[*way].push(Mark::Line { points: points.to_vec(), stroke });
        }
        if let [.., before, end] = points {
            self.once(bundle, [arrow_head(*before, *end)]);
        }
    }

    /// Sets the words of the ways of a bundle.
    fn words(&mut self, bundle: usize, words: &Flow, left: f32, top: f32) {
        for (n, way) in self.bundles[bundle].ways.iter().enumerate() {
            self.ways[*way].extend(words.marks(n, left, top));
        }
    }

    /// Draws marks that stand for all ways of a bundle once.
    fn once(&mut self, bundle: usize, marks: impl IntoIterator<Item = Mark>) {
        if let Some(way) = self.bundles[bundle].ways.first() {
            self.ways[*way].extend(marks);
        }
    }

    /// Draws the ways that run straight down.
    fn downs(&mut self, panel: &Panel, corner: Point, below: Option<&Panel>) {
        for down in &panel.downs {
            let foot = moved(&panel.spots[down.from], corner).foot();
            self.words(down.bundle, &down.words, foot.x + 7.0, foot.y + 4.0);
            let to = match (down.to, below) {
                (Some(to), _) => Some((&panel.spots[to], corner)),
                (None, Some(below)) => {
                    let first = below.spots.iter().find(|spot| !spot.beside && spot.node.main);
                    first.map(|first| (first, at(corner.x, corner.y + panel.height + columns::BETWEEN)))
                }
                (None, None) => None,
            };
            match (to, self.bundles[down.bundle].to) {
                (Some((spot, corner)), _) => {
                    let top = moved(spot, corner).top(spot.node.kind);
                    self.line(down.bundle, &[foot, top]);
                }
                (None, Some(to)) => {
                    let end = at(foot.x, corner.y + panel.height - 6.0 - SIGN - 4.0);
                    let end = at(end.x, end.y.min(foot.y + (down.words.height() + 10.0).max(18.0)));
                    self.line(down.bundle, &[foot, end]);
                    let words = format!("to {to}");
                    self.once(down.bundle, numbered(&words, at(end.x - sign_width(&words) / 2.0, end.y)));
                }
                (None, None) => {}
            }
        }
    }

    /// Draws the ways that leave at the sides.
    fn sides(&mut self, panel: &Panel, corner: Point) {
        for spot in &panel.spots {
            let frame = moved(spot, corner);
            for slot in &spot.slots {
                let edge = frame.beside(spot.node.kind, corner.y + slot.y, !spot.beside);
                match &slot.kind {
                    SlotKind::Leaves => self.lane(panel, corner, slot, edge),
                    SlotKind::Ends(goal) => {
                        self.end(slot, goal, edge, frame.corner.x, spot.beside);
                        continue;
                    }
                    SlotKind::Comes => continue,
                }
                let left = if spot.beside { frame.corner.x - room::WORDS + 6.0 } else { frame.corner.x + WIDTH + 4.0 };
                self.words(slot.bundle, &slot.words, left, edge.y - 2.0 - slot.words.height());
            }
        }
    }

    /// Draws what comes into a panel from others.
    fn arrivals(&mut self, panel: &Panel, corner: Point, is_from_above: bool) {
        panel.spots.iter().for_each(|spot| self.comes(spot, moved(spot, corner)));
        let first = panel.spots.iter().find(|spot| !spot.beside && spot.node.main);
        if let (Some(head), Some(first), false) = (panel.head, first, is_from_above) {
            let top = moved(first, corner).top(first.node.kind);
            let sign_top = corner.y + panel.top() - 26.0;
            let words = format!("from {}", self.bundles[head].from);
            self.line(head, &[at(top.x, sign_top + SIGN), top]);
            self.once(head, numbered(&words, at(top.x - sign_width(&words) / 2.0, sign_top)));
        }
    }

    /// Draws a way through its lane.
    fn lane(&mut self, panel: &Panel, corner: Point, slot: &Slot, from: Point) {
        let Some(route) = panel.routes.iter().find(|route| route.bundle == slot.bundle) else { return };
        let end = &panel.spots[slot.other];
        let Some(comes) = end.slots.iter().find(|other| other.bundle == slot.bundle && other.comes()) else { return };
        let to = moved(end, corner).beside(end.node.kind, corner.y + comes.y, !end.beside);
        let x = corner.x + Panel::lane(route.lane);
        self.line(slot.bundle, &[from, at(x, from.y), at(x, to.y), to]);
    }

    /// Draws a way that ends at a number or a fault table.
    fn end(&mut self, slot: &Slot, goal: &Flow, from: Point, side: f32, beside: bool) {
        let to = self.bundles[slot.bundle].to;
        let wide = Slot::sign_width(to);
        let (sign_left, end, left) = if beside {
            let sign_left = side - room::WORDS + 6.0;
            (sign_left, sign_left + wide, sign_left + wide + 4.0)
        } else {
            let sign_left = side + WIDTH + room::WORDS - wide - 4.0;
            (sign_left, sign_left, side + WIDTH + 4.0)
        };
        self.line(slot.bundle, &[from, at(end, from.y)]);
        self.words(slot.bundle, &slot.words, left, from.y - 2.0 - slot.words.height());
        let goal = goal.marks(0, left, from.y + 1.0);
        let sign = match to {
            Some(to) => numbered(&format!("to {to}"), at(sign_left, from.y - SIGN / 2.0)),
            None => vec![boxes::trouble_sign(at(sign_left + 1.5, from.y + 4.0))],
        };
        self.once(slot.bundle, goal.into_iter().chain(sign));
    }

    /// Draws what comes to a step from other panels.
    fn comes(&mut self, spot: &Spot, frame: boxes::Frame) {
        let (bundles, words) = &spot.comes;
        if bundles.is_empty() {
            return;
        }
        let y = frame.corner.y + frame.height / 2.0;
        let edge = frame.beside(spot.node.kind, y, spot.beside);
        let (left, start) = if spot.beside {
            (frame.corner.x + WIDTH + 18.0, frame.corner.x + WIDTH + 16.0)
        } else {
            (frame.corner.x - room::FROM + 2.0, frame.corner.x - 16.0)
        };
        let top = y - words.height() / 2.0;
        for (n, bundle) in bundles.iter().enumerate() {
            self.line(*bundle, &[at(start, y), edge]);
            let marks = words.marks(n, left, top);
            self.once(*bundle, marks);
        }
    }
}

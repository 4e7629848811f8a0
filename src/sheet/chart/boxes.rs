//! A step's box: its shape tells what the step is, and its words always fit.

use super::words::{LEADING, SIZE, wrapped};
use super::{Node, NodeKind};
use crate::sheet::drawing::{Mark, Point, Shade, Stroke, at};
use crate::sheet::font::Face;
use crate::sheet::plain::Plain;

/// How wide every box is.
pub(super) const WIDTH: f32 = 200.0;

/// From the side of a box to its words: more than any shape cuts off.
const SIDE: f32 = 13.0;

/// From the top of a box to its words.
const ABOVE: f32 = 10.0;

/// The room for the number before the words.
const NUMBER: f32 = 26.0;

/// How far a hexagon's points and a slanted top reach.
const SLANT: f32 = 10.0;

/// A box with its words set, not yet in its place.
#[derive(Debug)]
pub(super) struct StepBox {
    lines: Vec<String>,
    /// The names of fault tables, and whether a line begins one.
    tables: Vec<(bool, String)>,
    /// How many lines it has room for.
    room: usize,
}

impl StepBox {
    pub(super) fn new(node: &Node) -> StepBox {
        let room = WIDTH - 2.0 * SIDE - NUMBER;
        let lines = wrapped(node.words.as_str(), room, Face::Regular, SIZE);
        let of_table = |table: &Plain| wrapped(table.as_str(), room - 12.0, Face::Regular, SIZE);
        let tables = node.tables.iter().flat_map(|table| of_table(table).into_iter().enumerate());
        let tables: Vec<_> = tables.map(|(n, line)| (n == 0, line)).collect();
        // The sign of a one-way step stands below the number.
        let room = (lines.len() + tables.len()).max(if node.one_way { 2 } else { 1 });
        StepBox { lines, tables, room }
    }

    /// Returns how high the words and what stands with them need it to be.
    pub(super) fn height(&self) -> f32 {
        self.room as f32 * LEADING + 2.0 * ABOVE
    }

    /// Returns its marks, the outline first.
    pub(super) fn marks(&self, node: &Node, frame: Frame) -> Vec<Mark> {
        let Frame { corner, height } = frame;
        let heavy = if node.one_way { 2.4 } else { 0.9 };
        let outline = |inset: f32, width: f32, fill: Option<Shade>| Mark::Shape {
            points: outline(node.kind, frame, inset),
            fill,
            stroke: Some(Stroke::black(width)),
        };
        let mut marks = vec![outline(0.0, heavy, Some(Shade::White))];
        if node.one_way {
            marks.push(outline(3.5, 0.8, None));
        }
        let (left, right, below) = (corner.x, corner.x + WIDTH, corner.y + height);
        if node.hold {
            let bar = (WIDTH - 7.0, 4.0);
            marks.push(Mark::rectangle(at(left + 3.5, corner.y + 3.5), bar, Some(Shade::Black), None));
        }
        let upright = |x: f32| Mark::Line { points: vec![at(x, corner.y), at(x, below)], stroke: Stroke::black(0.8) };
        match node.kind {
            NodeKind::Sum => marks.extend([upright(left + 5.0), upright(right - 5.0)]),
            NodeKind::Stopped => marks.push(outline(3.0, 0.8, None)),
            _ => {}
        }
        let words = self.room as f32 * LEADING;
        let mut baseline = corner.y + (height - words) / 2.0 + 8.4;
        if node.one_way {
            marks.extend(stop_sign(at(left + SIDE + 7.0, baseline + 9.5)));
        }
        marks.push(Mark::words(at(left + SIDE, baseline), SIZE, Face::Bold, &node.number.to_string()));
        for line in &self.lines {
            marks.push(Mark::words(at(left + SIDE + NUMBER, baseline), SIZE, Face::Regular, line));
            baseline += LEADING;
        }
        for (begins, table) in &self.tables {
            let tip = at(left + SIDE + NUMBER, baseline);
            if *begins {
                marks.push(trouble_sign(tip));
            }
            marks.push(Mark::words(at(tip.x + 12.0, baseline), SIZE, Face::Regular, table));
            baseline += LEADING;
        }
        marks
    }
}

/// Where a box stands.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Frame {
    /// Its upper left corner.
    pub(super) corner: Point,
    /// Its height.
    pub(super) height: f32,
}

impl Frame {
    /// Returns the place where a level line meets the outline on the right, or on the left.
    pub(super) fn beside(self, kind: NodeKind, y: f32, right: bool) -> Point {
        let crossed = crossings(&outline(kind, self, 0.0), y, |point| (point.y, point.x)).into_iter();
        let x = if right { crossed.fold(f32::MIN, f32::max) } else { crossed.fold(f32::MAX, f32::min) };
        at(x, y)
    }

    /// Returns the middle of its upper side.
    pub(super) fn top(self, kind: NodeKind) -> Point {
        let x = self.corner.x + WIDTH / 2.0;
        let crossed = crossings(&outline(kind, self, 0.0), x, |point| (point.x, point.y));
        at(x, crossed.into_iter().fold(f32::MAX, f32::min))
    }

    /// Returns the middle of its lower side.
    pub(super) fn foot(self) -> Point {
        at(self.corner.x + WIDTH / 2.0, self.corner.y + self.height)
    }
}

/// Returns where the sides of a shape cross a line: `along` gives a corner's place across the line and along it.
fn crossings(points: &[Point], across: f32, along: impl Fn(&Point) -> (f32, f32)) -> Vec<f32> {
    let next = points.iter().cycle().skip(1);
    let side = |(a, b): (&Point, &Point)| {
        let ((from, start), (to, end)) = (along(a), along(b));
        let is_crossed = from != to && from.min(to) <= across && across <= from.max(to);
        is_crossed.then(|| start + (end - start) * (across - from) / (to - from))
    };
    points.iter().zip(next).filter_map(side).collect()
}

/// Returns the corners of a step's shape, so far inside of its frame.
pub(super) fn outline(kind: NodeKind, frame: Frame, inset: f32) -> Vec<Point> {
    shape(kind, frame.corner, (WIDTH, frame.height), inset)
}

/// Returns the corners of a shape of this size.
pub(super) fn shape(kind: NodeKind, corner: Point, (width, height): (f32, f32), inset: f32) -> Vec<Point> {
    let (left, top) = (corner.x + inset, corner.y + inset);
    let (right, foot) = (corner.x + width - inset, corner.y + height - inset);
    let slant = SLANT.min(height / 2.0 - inset);
    let middle = (top + foot) / 2.0;
    match kind {
        NodeKind::Action | NodeKind::Sum => vec![at(left, top), at(right, top), at(right, foot), at(left, foot)],
        NodeKind::Question => vec![
            at(left + slant, top),
            at(right - slant, top),
            at(right, middle),
            at(right - slant, foot),
            at(left + slant, foot),
            at(left, middle),
        ],
        NodeKind::Reading => vec![at(left, top + slant), at(right, top), at(right, foot), at(left, foot)],
        NodeKind::Wait => {
            let bow = 12.0 - inset;
            let half = (foot - top) / 2.0;
            let arc = (0..=16).map(|n| {
                let angle = (n as f32 / 16.0 - 0.5) * std::f32::consts::PI;
                at(right - bow + bow * angle.cos(), middle + half * angle.sin())
            });
            [at(left, foot), at(left, top)].into_iter().chain(arc).collect()
        }
        NodeKind::Finished | NodeKind::Stopped => {
            let radius = (14.0 - inset).min(height / 2.0 - inset);
            let corners = [(right, top, 1.0, -1.0, 0), (right, foot, 1.0, 1.0, 1), (left, foot, -1.0, 1.0, 2)];
            let corners = corners.into_iter().chain([(left, top, -1.0, -1.0, 3)]);
            let arc = |(x, y, to_x, to_y, turn): (f32, f32, f32, f32, usize)| {
                let (x, y) = (x - to_x * radius, y - to_y * radius);
                (0..=8).map(move |n| {
                    let angle = (turn as f32 - 1.0 + n as f32 / 8.0) * std::f32::consts::FRAC_PI_2;
                    at(x + radius * angle.cos(), y + radius * angle.sin())
                })
            };
            corners.flat_map(arc).collect()
        }
    }
}

/// Returns the sign of a step that cannot be taken back: a black octagon with a white bar.
pub(super) fn stop_sign(centre: Point) -> Vec<Mark> {
    let corner = |n: u8| {
        let angle = (f32::from(n) + 0.5) * std::f32::consts::FRAC_PI_4;
        at(centre.x + 6.0 * angle.cos(), centre.y + 6.0 * angle.sin())
    };
    let octagon = Mark::Shape { points: (0..8).map(corner).collect(), fill: Some(Shade::Black), stroke: None };
    let bar = Mark::rectangle(at(centre.x - 3.5, centre.y - 1.1), (7.0, 2.2), Some(Shade::White), None);
    vec![octagon, bar]
}

/// Returns the sign of a fault table, with the lower left corner here: a triangle that stands on a side.
pub(super) fn trouble_sign(foot: Point) -> Mark {
    let points = vec![foot, at(foot.x + 4.5, foot.y - 7.8), at(foot.x + 9.0, foot.y)];
    Mark::Shape { points, fill: Some(Shade::Black), stroke: None }
}

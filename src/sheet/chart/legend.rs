//! The head of a chart: what it is of, and what its shapes mean.

use super::boxes::{shape, stop_sign, trouble_sign};
use super::words::SIZE;
use super::{Chart, NodeKind};
use crate::sheet::drawing::{Mark, Point, Shade, Stroke, at};
use crate::sheet::font::Face;

use super::words::wrapped;

/// The size of the shapes in the legend.
const SHAPE: (f32, f32) = (30.0, 16.0);

/// From one row of the legend to the next.
const ROW: f32 = 24.0;

/// The size of the type of the chart's title.
const TITLE: f32 = 24.0;

/// Returns the marks of the head, from this corner on, and how high it is.
pub(super) fn head(chart: &Chart, corner: Point, width: f32) -> (Vec<Mark>, f32) {
    let mut marks = Vec::new();
    let mut y = corner.y;
    for (words, face, size) in [(&chart.title, Face::Bold, TITLE), (&chart.stamp, Face::Regular, 11.0)] {
        for line in wrapped(words.as_str(), width, face, size) {
            y += size * 1.25 + 4.0;
            marks.push(Mark::words(at(corner.x, y), size, face, &line));
        }
    }
    y += 12.0;
    let mut left = corner.x;
    let mut legend = Vec::new();
    for (sign, says) in entries() {
        let long = SHAPE.0 + 6.0 + Face::Regular.width(says, SIZE) + 20.0;
        if left > corner.x && left + long > corner.x + width {
            left = corner.x;
            y += ROW;
        }
        legend.extend(sign.marks(at(left, y)));
        legend.push(Mark::words(at(left + SHAPE.0 + 6.0, y + 11.2), SIZE, Face::Regular, says));
        left += long;
    }
    marks.push(Mark::Group { name: "legend".to_owned(), marks: legend });
    (vec![Mark::Group { name: "head".to_owned(), marks }], y + ROW - corner.y)
}

/// A sign of the legend.
enum Sign {
    Box(NodeKind),
    OneWay,
    Hold,
    Line(bool),
    Elsewhere,
    Table,
}

fn entries() -> [(Sign, &'static str); 13] {
    [
        (Sign::Box(NodeKind::Action), "do it"),
        (Sign::Box(NodeKind::Question), "a question; its answers stand at the ways out"),
        (Sign::Box(NodeKind::Reading), "a reading"),
        (Sign::Box(NodeKind::Sum), "a sum"),
        (Sign::Box(NodeKind::Wait), "a wait"),
        (Sign::Box(NodeKind::Finished), "the end"),
        (Sign::Box(NodeKind::Stopped), "the end, and the work is lost"),
        (Sign::OneWay, "cannot be taken back"),
        (Sign::Hold, "hold: stop and look before it"),
        (Sign::Line(false), "goes on"),
        (Sign::Line(true), "goes back"),
        (Sign::Elsewhere, "goes on at the step of this number, which says where from"),
        (Sign::Table, "something went wrong: `stepjig trouble` and the name beside it"),
    ]
}

impl Sign {
    fn marks(&self, corner: Point) -> Vec<Mark> {
        let outline = |kind: NodeKind, inset: f32, width: f32| Mark::Shape {
            points: shape(kind, corner, SHAPE, inset),
            fill: (inset == 0.0).then_some(Shade::White),
            stroke: Some(Stroke::black(width)),
        };
        let (right, middle, foot) = (corner.x + SHAPE.0, corner.y + SHAPE.1 / 2.0, corner.y + SHAPE.1);
        match self {
            Sign::Box(kind) => {
                let mut marks = vec![outline(*kind, 0.0, 0.9)];
                match kind {
                    NodeKind::Sum => marks.extend([corner.x + 4.0, right - 4.0].map(|x| Mark::Line {
                        points: vec![at(x, corner.y), at(x, foot)],
                        stroke: Stroke::black(0.8),
                    })),
                    NodeKind::Stopped => marks.push(outline(*kind, 3.0, 0.8)),
                    _ => {}
                }
                marks
            }
            Sign::OneWay => {
                let mut marks = vec![outline(NodeKind::Action, 0.0, 2.4), outline(NodeKind::Action, 3.5, 0.8)];
                marks.extend(stop_sign(at(corner.x + SHAPE.0 / 2.0, middle)));
                marks
            }
            Sign::Hold => {
                let bar = Mark::rectangle(at(corner.x + 3.0, corner.y + 3.0), (24.0, 4.0), Some(Shade::Black), None);
                vec![outline(NodeKind::Action, 0.0, 0.9), bar]
            }
            Sign::Line(dashed) => {
                let (from, to) = (at(corner.x, middle), at(right, middle));
                let stroke = Stroke { dashed: *dashed, ..Stroke::black(1.0) };
                vec![Mark::Line { points: vec![from, to], stroke }, super::signs::arrow_head(from, to)]
            }
            Sign::Elsewhere => super::signs::numbered("to 9", at(corner.x, corner.y + 1.0)),
            Sign::Table => vec![trouble_sign(at(corner.x + 10.0, middle + 4.0))],
        }
    }
}

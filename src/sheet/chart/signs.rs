//! Small things that are drawn in more than one place: the head of an arrow, the sign that names a step elsewhere.

use super::slots::sign_width;
use super::words::SIZE;
use crate::sheet::drawing::{Mark, Point, Shade, Stroke, at};
use crate::sheet::font::Face;

/// How high the sign is that names a step elsewhere.
pub(super) const SIGN: f32 = 14.0;

/// Returns the head of an arrow that comes from one point to another.
pub(super) fn arrow_head(from: Point, to: Point) -> Mark {
    let (x, y) = (to.x - from.x, to.y - from.y);
    let long = x.hypot(y).max(f32::EPSILON);
    let (x, y) = (x / long, y / long);
    let wing = |side: f32| at(to.x - 5.5 * x - 2.6 * side * y, to.y - 5.5 * y + 2.6 * side * x);
    Mark::Shape { points: vec![to, wing(1.0), wing(-1.0)], fill: Some(Shade::Black), stroke: None }
}

/// Returns the sign that names a step elsewhere, with its upper left corner here.
pub(super) fn numbered(words: &str, corner: Point) -> Vec<Mark> {
    let wide = sign_width(words);
    let (left, right) = (corner.x + 3.5, corner.x + wide - 3.5);
    let (middle, foot) = (corner.y + SIGN / 2.0, corner.y + SIGN);
    let points = vec![
        at(left, corner.y),
        at(right, corner.y),
        at(corner.x + wide, middle),
        at(right, foot),
        at(left, foot),
        at(corner.x, middle),
    ];
    let shape = Mark::Shape { points, fill: Some(Shade::White), stroke: Some(Stroke::black(0.8)) };
    vec![shape, Mark::words(at(corner.x + 5.0, corner.y + 10.2), SIZE, Face::Bold, words)]
}

//! A drawing as data: words and shapes in their places. Pages, the wall chart and clock faces are drawings.
//!
//! Lengths are in points (1/72 inch); x runs to the right and y down from the upper left corner.

use super::font::Face;
use super::plain::Plain;

/// A place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right of the left edge.
    pub x: f32,
    /// Below the upper edge.
    pub y: f32,
}

/// Returns the point at x and y.
pub const fn at(x: f32, y: f32) -> Point {
    Point { x, y }
}

/// Points in a millimetre.
pub const MM: f32 = 72.0 / 25.4;

/// How dark a shape is. Nothing is told by colour; what is told by shade is told by shape too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// As dark as words.
    Black,
    /// A line beside others.
    Grey,
    /// A ground that words can be read on.
    Pale,
    /// The paper.
    White,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Its width.
    pub width: f32,
    /// Its shade.
    pub shade: Shade,
    /// Whether it is broken into dashes.
    pub dashed: bool,
}

impl Stroke {
    /// Returns a black line of this width.
    pub const fn black(width: f32) -> Stroke {
        Stroke { width, shade: Shade::Black, dashed: false }
    }
}

/// One thing that is drawn; what comes later lies over it.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// Words on one line, from the left end of their baseline.
    Words {
        /// The left end of the baseline.
        at: Point,
        /// The size of the type.
        size: f32,
        /// The face.
        face: Face,
        /// What they say.
        words: Plain,
    },
    /// A line through points.
    Line {
        /// The points, two at least.
        points: Vec<Point>,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A closed shape with straight sides.
    Shape {
        /// Its corners, three at least.
        points: Vec<Point>,
        /// What it is filled with.
        fill: Option<Shade>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// A circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// Its radius.
        radius: f32,
        /// What it is filled with.
        fill: Option<Shade>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// Marks that belong together.
    Group {
        /// What they are called in the drawing: no two groups have one name.
        name: String,
        /// The marks.
        marks: Vec<Mark>,
    },
}

impl Mark {
    /// Returns words with the left end of their baseline here.
    pub fn words(at: Point, size: f32, face: Face, text: &str) -> Mark {
        Mark::Words { at, size, face, words: Plain::new(text) }
    }

    /// Returns words whose middle stands over `at.x`.
    pub fn centred(middle: Point, size: f32, face: Face, text: &str) -> Mark {
        let words = Plain::new(text);
        let left = middle.x - face.width(words.as_str(), size) / 2.0;
        Mark::Words { at: at(left, middle.y), size, face, words }
    }

    /// Moves it to the right and down.
    pub fn shift(&mut self, x: f32, y: f32) {
        let moved = |point: &mut Point| (point.x, point.y) = (point.x + x, point.y + y);
        match self {
            Mark::Words { at, .. } => moved(at),
            Mark::Line { points, .. } | Mark::Shape { points, .. } => points.iter_mut().for_each(moved),
            Mark::Circle { centre, .. } => moved(centre),
            Mark::Group { marks, .. } => marks.iter_mut().for_each(|mark| mark.shift(x, y)),
        }
    }

    /// Returns how far down words stand; none for a shape.
    pub fn baseline(&self) -> Option<f32> {
        match self {
            Mark::Words { at, .. } => Some(at.y),
            _ => None,
        }
    }

    /// Returns an upright rectangle by its upper left corner and size.
    pub fn rectangle(corner: Point, (width, height): (f32, f32), fill: Option<Shade>, stroke: Option<Stroke>) -> Mark {
        let (right, below) = (corner.x + width, corner.y + height);
        let points = vec![corner, at(right, corner.y), at(right, below), at(corner.x, below)];
        Mark::Shape { points, fill, stroke }
    }
}

/// Marks on a sheet of this size.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// Its width.
    pub width: f32,
    /// Its height.
    pub height: f32,
    /// What it is called, for those who cannot see it.
    pub title: Plain,
    /// What is on it, in the order that it is read.
    pub marks: Vec<Mark>,
}

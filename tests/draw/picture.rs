//! A chart read back from the text of its SVG alone, with a general XML reader.

use std::collections::BTreeMap;

use roxmltree::{Document, Node};

pub type Point = (f64, f64);

/// Words in their place: what they cover, from the size of the type and the length that is set for them.
#[derive(Debug, Clone)]
pub struct Words {
    pub said: String,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub foot: f64,
    pub size: f64,
    /// The group that they stand in.
    pub group: String,
}

impl Words {
    pub fn corners(&self) -> [Point; 4] {
        [(self.left, self.top), (self.right, self.top), (self.right, self.foot), (self.left, self.foot)]
    }

    pub fn overlaps(&self, other: &Words) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.foot && other.top < self.foot
    }
}

/// A chart as it is drawn.
#[derive(Debug, Default)]
pub struct Picture {
    pub width: f64,
    pub height: f64,
    /// The outline of each step's box, by the step's number.
    pub boxes: BTreeMap<usize, Vec<Point>>,
    /// The lines of each way, by its name.
    pub ways: BTreeMap<String, Vec<Vec<Point>>>,
    pub words: Vec<Words>,
    /// Every point of every shape and line.
    pub points: Vec<Point>,
}

/// Reads a chart.
pub fn read(svg: &str) -> Picture {
    let document = Document::parse(svg).expect("the SVG is well formed");
    let root = document.root_element();
    let view: Vec<f64> = numbers(root.attribute("viewBox").expect("a view"));
    let mut picture = Picture { width: view[2], height: view[3], ..Picture::default() };
    let mut ids = std::collections::BTreeSet::new();
    for node in root.descendants().filter(Node::is_element) {
        if let Some(id) = node.attribute("id") {
            assert!(ids.insert(id.to_owned()), "{id} is twice in the drawing");
            if id.starts_with("way-") {
                picture.ways.insert(id.to_owned(), Vec::new());
            }
        }
        let group = node.ancestors().find_map(|above| above.attribute("id")).unwrap_or("").to_owned();
        match node.tag_name().name() {
            "text" => picture.words.push(words(node, group)),
            "polygon" => {
                let points = points(node);
                picture.points.extend(&points);
                let number = group.strip_prefix("step-").and_then(|number| number.parse().ok());
                if let Some(number) = number {
                    picture.boxes.entry(number).or_insert(points);
                }
            }
            "polyline" => {
                let points = points(node);
                picture.points.extend(&points);
                if let Some(lines) = picture.ways.get_mut(&group) {
                    lines.push(points);
                }
            }
            "svg" | "title" | "g" | "circle" => {}
            other => panic!("<{other}> is no part of a chart"),
        }
    }
    picture
}

fn words(node: Node, group: String) -> Words {
    let number = |name: &str| node.attribute(name).and_then(|value| value.parse::<f64>().ok()).expect("a number");
    let (x, y, size, long) = (number("x"), number("y"), number("font-size"), number("textLength"));
    // Capitals of the drawn font rise 0.714 of its size above the line; its deepest letters hang 0.24 below.
    let (top, foot) = (y - 0.72 * size, y + 0.24 * size);
    let said = node.text().unwrap_or("").to_owned();
    Words { said, left: x, top, right: x + long, foot, size, group }
}

fn points(node: Node) -> Vec<Point> {
    let pairs = node.attribute("points").expect("points").split(' ').map(|pair| numbers(&pair.replace(',', " ")));
    pairs.map(|pair| (pair[0], pair[1])).collect()
}

fn numbers(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|number| number.parse().expect("a number")).collect()
}

/// Returns the upright rectangle around points: left, top, right, foot.
pub fn around(points: &[Point]) -> (f64, f64, f64, f64) {
    let none = (f64::MAX, f64::MAX, f64::MIN, f64::MIN);
    points.iter().fold(none, |(l, t, r, f), (x, y)| (l.min(*x), t.min(*y), r.max(*x), f.max(*y)))
}

/// Tells whether a point lies in a shape without dents, or on its outline.
pub fn is_in(outline: &[Point], (x, y): Point) -> bool {
    let next = outline.iter().cycle().skip(1);
    let turns = outline.iter().zip(next).map(|(a, b)| (b.0 - a.0) * (y - a.1) - (b.1 - a.1) * (x - a.0));
    let turns: Vec<f64> = turns.collect();
    turns.iter().all(|turn| *turn >= -0.5) || turns.iter().all(|turn| *turn <= 0.5)
}

/// Returns how far a point is from a shape's outline.
pub fn off(outline: &[Point], (x, y): Point) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let sides = outline.iter().zip(next).map(|(a, b)| {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let long = (dx * dx + dy * dy).max(1e-9);
        let along = (((x - a.0) * dx + (y - a.1) * dy) / long).clamp(0.0, 1.0);
        (x - a.0 - along * dx).hypot(y - a.1 - along * dy)
    });
    sides.fold(f64::MAX, f64::min)
}

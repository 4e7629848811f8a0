//! What a person needs of a chart on the wall, measured in its SVG.

use std::collections::BTreeMap;

use super::picture::{Picture, Point, Words, around, is_in, off};

/// Checks all of it.
pub fn all(picture: &Picture, what: &str) {
    inside(picture, what);
    boxes(picture, what);
    words(picture, what);
    ends(picture, what);
    lines(picture, what);
}

fn inside(picture: &Picture, what: &str) {
    let corners = picture.words.iter().flat_map(Words::corners);
    for (x, y) in picture.points.iter().copied().chain(corners) {
        let is_on = (0.0..=picture.width).contains(&x) && (0.0..=picture.height).contains(&y);
        assert!(is_on, "{what}: {x}, {y} is off a sheet of {} by {}", picture.width, picture.height);
    }
}

fn boxes(picture: &Picture, what: &str) {
    let all: Vec<_> = picture.boxes.iter().map(|(number, outline)| (number, around(outline))).collect();
    for (n, (one, a)) in all.iter().enumerate() {
        for (other, b) in &all[n + 1..] {
            let apart = a.2 < b.0 || b.2 < a.0 || a.3 < b.1 || b.3 < a.1;
            assert!(apart, "{what}: the boxes of {one} and {other} overlap");
        }
    }
}

/// Words lie in their own box or beside all boxes, on no other words, and can be read.
fn words(picture: &Picture, what: &str) {
    for words in &picture.words {
        assert!(words.size >= 9.0, "{what}: {words:?} is small");
    }
    let mut sorted: Vec<&Words> = picture.words.iter().collect();
    sorted.sort_by(|a, b| a.top.total_cmp(&b.top));
    for (n, one) in sorted.iter().enumerate() {
        let near = sorted[n + 1..].iter().take_while(|other| other.top < one.foot);
        for other in near {
            assert!(!one.overlaps(other), "{what}: {one:?} lies on {other:?}");
        }
    }
    for words in &picture.words {
        let own = words.group.strip_prefix("step-").map(|number| number.parse::<usize>().expect("a number"));
        for (number, outline) in &picture.boxes {
            if own == Some(*number) {
                let is_inside = words.corners().iter().all(|corner| is_in(outline, *corner));
                assert!(is_inside, "{what}: {words:?} reaches out of its box {outline:?}");
                continue;
            }
            let (left, top, right, foot) = around(outline);
            let apart = words.right < left || right < words.left || words.foot < top || foot < words.top;
            assert!(apart, "{what}: {words:?} lies on the box of {number}");
        }
    }
}

/// Returns the numbers of the steps that a way joins.
pub fn joined(name: &str) -> (usize, Option<usize>) {
    let parts: Vec<&str> = name.split('-').collect();
    (parts[1].parse().expect("a number"), parts[2].parse().ok())
}

/// Every way leaves the outline of its step and comes to the outline of the other.
fn ends(picture: &Picture, what: &str) {
    for (name, lines) in &picture.ways {
        let (from, to) = joined(name);
        let first = lines.first().unwrap_or_else(|| panic!("{what}: {name} has no line"));
        if let Some(outline) = picture.boxes.get(&from) {
            assert!(off(outline, first[0]) < 0.6, "{what}: {name} does not leave its step: {first:?} {outline:?}");
        }
        if let Some(outline) = to.and_then(|to| picture.boxes.get(&to)) {
            let end = *lines.last().and_then(|line| line.last()).expect("a line has an end");
            assert!(off(outline, end) < 0.6, "{what}: {name} does not come to its step: {end:?} {outline:?}");
        }
    }
}

/// A line runs through no box and no words, and along no other line that joins other steps.
fn lines(picture: &Picture, what: &str) {
    let mut drawn: BTreeMap<String, (&str, &Vec<Point>)> = BTreeMap::new();
    for (name, lines) in &picture.ways {
        for line in lines {
            // What several ways share is drawn as one.
            drawn.entry(format!("{line:?}")).or_insert((name, line));
        }
    }
    let mut level = Vec::new();
    for (name, line) in drawn.values() {
        for pair in line.windows(2) {
            let (left, top, right, foot) = around(pair);
            assert!(left == right || top == foot, "{what}: {name} runs askew: {pair:?}");
            for (number, outline) in &picture.boxes {
                let (l, t, r, f) = around(outline);
                let apart = right <= l + 11.0 || r - 11.0 <= left || foot <= t + 11.0 || f - 11.0 <= top;
                assert!(apart, "{what}: {name} runs through the box of {number}");
            }
            for words in &picture.words {
                let apart = right < words.left || words.right < left || foot < words.top || words.foot < top;
                assert!(apart, "{what}: {name} runs through {words:?}");
            }
            level.push((*name, left, top, right, foot));
        }
    }
    for (n, (one, l, t, r, f)) in level.iter().enumerate() {
        for (other, left, top, right, foot) in &level[n + 1..] {
            let along = t == f && top == foot && t == top && *l < *right && *left < *r;
            let down = l == r && left == right && l == left && *t < *foot && *top < *f;
            assert!(one == other || !(along || down), "{what}: {one} and {other} run on one another");
        }
    }
}

//! Words set in lines of a width: a long word is broken, so that none is clipped.

use crate::sheet::drawing::{Mark, Shade, at};
use crate::sheet::font::Face;

/// The size of the type on a chart: nothing is smaller.
pub(super) const SIZE: f32 = 9.0;

/// From one line to the next.
pub(super) const LEADING: f32 = 10.8;

/// Returns the text in pieces of at most this width: its words, and the parts of a word that is longer.
fn pieces(text: &str, width: f32, face: Face, size: f32) -> Vec<String> {
    let mut pieces = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let (mut piece, mut long) = (String::new(), 0.0);
        for character in word.chars() {
            let advance = face.glyph(character).advance * size;
            if long + advance > width && !piece.is_empty() {
                // After a hyphen, where there is one.
                let cut = piece.rfind('-').map_or(piece.len(), |hyphen| hyphen + 1);
                let rest = piece.split_off(cut);
                pieces.push(std::mem::replace(&mut piece, rest));
                long = face.width(&piece, size);
            }
            piece.push(character);
            long += advance;
        }
        pieces.push(piece);
    }
    pieces
}

/// Returns the text in lines of at most this width.
pub(super) fn wrapped(text: &str, width: f32, face: Face, size: f32) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in pieces(text, width, face, size) {
        match lines.last_mut() {
            Some(line) if face.width(line, size) + face.width(&format!(" {piece}"), size) <= width => {
                line.push(' ');
                line.push_str(&piece);
            }
            _ => lines.push(piece),
        }
    }
    lines
}

/// The words of several ways that share a line, one after the other with a dot between them.
#[derive(Debug, Default)]
pub(super) struct Flow {
    /// What is on the lines: which of the texts, on which line, how far from the left, and the words.
    runs: Vec<(usize, usize, f32, String)>,
    /// The dots: before which of the texts, on which line, how far from the left.
    dots: Vec<(usize, usize, f32)>,
    /// How many lines there are.
    pub(super) lines: usize,
}

impl Flow {
    /// Sets texts in lines of at most this width.
    pub(super) fn new<'a>(texts: impl IntoIterator<Item = &'a str>, width: f32) -> Flow {
        /// From a text to the next one, and from the dot to it where it begins a line.
        const BETWEEN: (f32, f32) = (10.0, 7.0);
        let face = Face::Regular;
        let space = face.width(" ", SIZE);
        let (mut flow, mut x) = (Flow::default(), 0.0);
        for (n, text) in texts.into_iter().enumerate() {
            for (of_text, piece) in pieces(text, width - BETWEEN.1, face, SIZE).into_iter().enumerate() {
                let long = face.width(&piece, SIZE);
                let goes_on = of_text > 0;
                let before = if goes_on { space } else { BETWEEN.0 };
                let is_full = flow.lines == 0 || x + before + long > width;
                match flow.runs.last_mut() {
                    Some((.., words)) if goes_on && !is_full => {
                        words.push(' ');
                        words.push_str(&piece);
                        x += before + long;
                        continue;
                    }
                    _ => {}
                }
                let is_first = flow.runs.is_empty();
                flow.lines += usize::from(is_full);
                let (line, end) = (flow.lines - 1, if is_full { 0.0 } else { x });
                let left = match (goes_on || is_first, is_full) {
                    (true, _) => 0.0,
                    (false, true) => BETWEEN.1,
                    (false, false) => end + BETWEEN.0,
                };
                if !goes_on && !is_first {
                    flow.dots.push((n, line, left - BETWEEN.1 / 2.0 - 1.0));
                }
                flow.runs.push((n, line, left, piece));
                x = left + long;
            }
        }
        flow
    }

    /// Returns how high it is.
    pub(super) fn height(&self) -> f32 {
        self.lines as f32 * LEADING
    }

    /// Returns the marks of one of the texts, with the first line's top here.
    pub(super) fn marks(&self, text: usize, left: f32, top: f32) -> Vec<Mark> {
        let baseline = |line: usize| top + line as f32 * LEADING + 8.2;
        let own = self.runs.iter().filter(|(n, ..)| *n == text);
        let words =
            own.map(|(_, line, x, words)| Mark::words(at(left + x, baseline(*line)), SIZE, Face::Regular, words));
        let dots = self.dots.iter().filter(|(n, ..)| *n == text);
        let dots = dots.map(|(_, line, x)| {
            let centre = at(left + x, baseline(*line) - 3.0);
            Mark::Circle { centre, radius: 1.2, fill: Some(Shade::Black), stroke: None }
        });
        words.chain(dots).collect()
    }
}

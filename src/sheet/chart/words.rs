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
                pieces.push(std::mem::take(&mut piece));
                long = 0.0;
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
    /// The dots: on which line, how far from the left.
    dots: Vec<(usize, f32)>,
    /// How many lines there are.
    pub(super) lines: usize,
}

impl Flow {
    /// Sets texts in lines of at most this width.
    pub(super) fn new<'a>(texts: impl IntoIterator<Item = &'a str>, width: f32) -> Flow {
        const BETWEEN: f32 = 10.0;
        let face = Face::Regular;
        let space = face.width(" ", SIZE);
        let (mut flow, mut x) = (Flow::default(), 0.0);
        for (n, text) in texts.into_iter().enumerate() {
            for (of_text, piece) in pieces(text, width, face, SIZE).into_iter().enumerate() {
                let long = face.width(&piece, SIZE);
                let goes_on = of_text > 0;
                let before = if goes_on { space } else { BETWEEN };
                if flow.lines == 0 || x + before + long > width {
                    flow.lines += 1;
                    flow.runs.push((n, flow.lines - 1, 0.0, piece));
                    x = long;
                } else if goes_on {
                    if let Some((.., words)) = flow.runs.last_mut() {
                        words.push(' ');
                        words.push_str(&piece);
                    }
                    x += before + long;
                } else {
                    flow.runs.push((n, flow.lines - 1, x + before, piece));
                    flow.dots.push((flow.lines - 1, x + before / 2.0));
                    x += before + long;
                }
            }
        }
        flow
    }

    /// Returns how high it is.
    pub(super) fn height(&self) -> f32 {
        self.lines as f32 * LEADING
    }

    /// Returns the marks of one of the texts, with the first line's top here; the dots belong to the text before them.
    pub(super) fn marks(&self, text: usize, left: f32, top: f32) -> Vec<Mark> {
        let baseline = |line: usize| top + line as f32 * LEADING + 8.2;
        let own = self.runs.iter().filter(|(n, ..)| *n == text);
        let words =
            own.map(|(_, line, x, words)| Mark::words(at(left + x, baseline(*line)), SIZE, Face::Regular, words));
        let before = |line: usize, x: f32| self.runs.iter().rfind(|run| run.1 == line && run.2 < x).map(|run| run.0);
        let dots = self.dots.iter().filter(|(line, x)| before(*line, *x) == Some(text));
        let dots = dots.map(|(line, x)| {
            let centre = at(left + x, baseline(*line) - 3.0);
            Mark::Circle { centre, radius: 1.2, fill: Some(Shade::Black), stroke: None }
        });
        words.chain(dots).collect()
    }
}

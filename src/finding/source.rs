//! A guide file's text, and places in it.

use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// A range of bytes in a [`Source`].
pub type Span = Range<usize>;

/// The text of one guide file under the name that findings give it.
#[derive(Debug)]
pub struct Source {
    name: String,
    text: String,
    line_starts: OnceLock<Vec<usize>>,
    /// How many characters begin before each block of bytes: thousands of places in one endless line are counted too.
    chars_before: OnceLock<Vec<usize>>,
}

impl Source {
    /// Wraps a text under a name, usually its path.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Source> {
        Arc::new(Source {
            name: name.into(),
            text: text.into(),
            line_starts: OnceLock::new(),
            chars_before: OnceLock::new(),
        })
    }

    /// Returns the name that findings give the file.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Returns the whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    fn line_starts(&self) -> &[usize] {
        self.line_starts.get_or_init(|| {
            let newlines = self.text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
            std::iter::once(0).chain(newlines.map(|(at, _)| at + 1)).collect()
        })
    }

    /// Returns how many characters begin before a byte.
    fn chars_before(&self, byte: usize) -> usize {
        const BLOCK: usize = 1 << 10;
        let begun = |bytes: &[u8]| bytes.iter().filter(|byte| **byte & 0xc0 != 0x80).count();
        let blocks = self.chars_before.get_or_init(|| {
            let mut before = vec![0];
            for block in self.text.as_bytes().chunks(BLOCK) {
                before.push(before.last().unwrap_or(&0) + begun(block));
            }
            before
        });
        let block = byte / BLOCK;
        blocks[block] + begun(&self.text.as_bytes()[block * BLOCK..byte])
    }

    /// Returns the line (from 0) that holds a byte, and where in bytes that line starts.
    fn line_of(&self, byte: usize) -> (usize, usize) {
        let starts = self.line_starts();
        let line = starts.partition_point(|start| *start <= byte).saturating_sub(1);
        (line, starts[line])
    }
}

/// A span of a source: where a finding points.
#[derive(Debug, Clone)]
pub struct Place {
    /// The file.
    pub source: Arc<Source>,
    /// The bytes.
    pub span: Span,
}

impl PartialEq for Place {
    fn eq(&self, other: &Place) -> bool {
        self.span == other.span && self.source.name == other.source.name
    }
}

impl Place {
    /// Returns the place of a span in a source.
    pub fn new(source: &Arc<Source>, span: Span) -> Place {
        Place { source: Arc::clone(source), span }
    }

    /// Returns line and column of the first character, both from 1, the column in characters.
    pub fn line_column(&self) -> (usize, usize) {
        let text = self.source.text();
        let mut at = self.span.start.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        let (line, start) = self.source.line_of(at);
        (line + 1, self.source.chars_before(at) - self.source.chars_before(start) + 1)
    }

    /// Returns the few lines around the span, the number of the first, and the span within them.
    pub fn excerpt(&self) -> (&str, usize, Span) {
        let text = self.source.text();
        let (line, start) = self.source.line_of(self.span.start.min(text.len()));
        let last = self.span.end.clamp(self.span.start, text.len());
        let end = text[last..].find('\n').map_or(text.len(), |more| last + more);
        (&text[start..end], line + 1, self.span.start.min(text.len()) - start..last - start)
    }
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (line, column) = self.line_column();
        write!(f, "{}:{line}:{column}", self.source.name)
    }
}

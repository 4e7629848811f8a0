//! The fonts of what is drawn: which glyph shows a character, and how wide it is.
//!
//! Two faces of one family for words, and a third font for the arrows and signs that the family lacks. All three lie in
//! `fonts/` with their licences, cut down to the scripts and signs that guides are written in.

use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// How words look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Face {
    /// Running text.
    Regular,
    /// What stands out.
    Bold,
}

/// A font file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Font {
    /// The words' regular face.
    Regular,
    /// The words' bold face.
    Bold,
    /// Arrows and signs, in one weight.
    Signs,
}

impl Font {
    /// All of them.
    pub const ALL: [Font; 3] = [Font::Regular, Font::Bold, Font::Signs];

    /// Returns the file's bytes: TrueType.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Font::Regular => include_bytes!("fonts/NotoSans-Regular.ttf"),
            Font::Bold => include_bytes!("fonts/NotoSans-Bold.ttf"),
            Font::Signs => include_bytes!("fonts/DejaVuSans.ttf"),
        }
    }

    fn read(self) -> Option<FontRef<'static>> {
        FontRef::new(self.bytes()).ok()
    }
}

/// A glyph that shows one character.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// The font it is in.
    pub font: Font,
    /// Its number there.
    pub id: u32,
    /// How far the next one stands from it, in ems.
    pub advance: f32,
}

/// The glyphs of a face by character, for the characters that have one.
struct Glyphs(std::collections::HashMap<char, Glyph>);

impl Glyphs {
    fn of(face: Face) -> Glyphs {
        let words = match face {
            Face::Regular => Font::Regular,
            Face::Bold => Font::Bold,
        };
        let mut glyphs = std::collections::HashMap::new();
        for font in [Font::Signs, words] {
            let Some(file) = font.read() else { continue };
            let em = f32::from(file.metrics(Size::unscaled(), LocationRef::default()).units_per_em);
            let advances = file.glyph_metrics(Size::unscaled(), LocationRef::default());
            for (character, id) in file.charmap().mappings() {
                let glyph = Glyph { font, id: id.to_u32(), advance: advances.advance_width(id).unwrap_or(0.0) / em };
                glyphs.extend(char::from_u32(character).map(|character| (character, glyph)));
            }
        }
        Glyphs(glyphs)
    }

    fn get(&self, character: char) -> Glyph {
        // No font has every character of the world; a mark in its place shows that something stands there.
        let nothing = Glyph { font: Font::Regular, id: 0, advance: 0.6 };
        self.0.get(&character).or_else(|| self.0.get(&'\u{fffd}')).copied().unwrap_or(nothing)
    }
}

static REGULAR: LazyLock<Glyphs> = LazyLock::new(|| Glyphs::of(Face::Regular));
static BOLD: LazyLock<Glyphs> = LazyLock::new(|| Glyphs::of(Face::Bold));

impl Face {
    /// Returns the glyph that shows a character; of one that no font has, a mark in its place.
    pub fn glyph(self, character: char) -> Glyph {
        match self {
            Face::Regular => REGULAR.get(character),
            Face::Bold => BOLD.get(character),
        }
    }

    /// Returns how wide a text is at this size, in the size's unit.
    ///
    /// ```
    /// use stepjig::sheet::font::Face;
    /// assert!(Face::Bold.width("drill", 14.0) > Face::Regular.width("drill", 14.0));
    /// assert_eq!(Face::Regular.width("", 14.0), 0.0);
    /// ```
    pub fn width(self, text: &str, size: f32) -> f32 {
        text.chars().map(|character| self.glyph(character).advance).sum::<f32>() * size
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What sheets are written with has a glyph of its own.
    #[test]
    fn no_sign_of_a_sheet_is_missing() {
        for face in [Face::Regular, Face::Bold] {
            let lacking = face.glyph('\u{10ffff}');
            for sign in "0123456789 AaÄäÉéŁłß°×½¼¾⅛⅜⅝⅞≤≥→←↑↓□–—·…•′″µ±÷‘’“”%€№\u{a0}".chars()
            {
                assert_ne!(face.glyph(sign), lacking, "{sign}");
            }
        }
    }

    /// The advance widths of the published font: 572 units of 1000 for every digit, so that columns of them stand.
    #[test]
    fn digits_are_of_one_width() {
        for (face, width) in [(Face::Regular, 0.572), (Face::Bold, 0.572)] {
            for digit in '0'..='9' {
                assert!((face.glyph(digit).advance - width).abs() < 1e-6, "{digit} {:?}", face.glyph(digit));
            }
        }
    }
}

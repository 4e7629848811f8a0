//! What a sheet is set with: sizes, width, how close, and what is known of its pages.

use super::paper::{AFTER_BOX, BOX, LEAST_BOX, Sizes};
use crate::sheet::drawing::{Mark, Shade, Stroke, at};
use crate::sheet::font::Face;

/// Where steps stand: the page of each, once that is known.
pub(super) struct PageNumbers<'a> {
    pub of_step: &'a dyn Fn(usize) -> Option<usize>,
    /// Whether a step stands on this sheet at all.
    pub has_step: &'a dyn Fn(usize) -> bool,
    /// How many digits room is kept for, so that no line moves when the number is known.
    pub digits: usize,
}

/// What a slab is set with.
pub(super) struct Setting<'a> {
    pub sizes: Sizes,
    pub width: f32,
    /// Whether lines stand close together.
    pub close: bool,
    pub numbers: PageNumbers<'a>,
}

/// Returns where a step's words begin: right of its box and of a number of three digits.
pub(super) fn words_at(sizes: &Sizes) -> f32 {
    BOX + AFTER_BOX + Face::Bold.width("000.", sizes.body) + AFTER_BOX
}

impl Setting<'_> {
    /// Returns the side of a box to tick.
    pub fn side(&self) -> f32 {
        if self.close { LEAST_BOX } else { BOX }
    }

    /// Returns the least height of a row with a box in it.
    pub fn boxed(&self) -> f32 {
        self.side() + if self.close { 1.0 } else { 5.0 }
    }

    pub fn tick_box(&self, x: f32, height: f32) -> Mark {
        let side = self.side();
        Mark::rectangle(at(x + 0.5, height - side - 1.0), (side, side), Some(Shade::White), Some(Stroke::black(1.0)))
    }

    /// Returns room of so many points, less where lines stand close.
    pub fn room(&self, points: f32) -> f32 {
        if self.close { points / 3.0 } else { points }
    }
}

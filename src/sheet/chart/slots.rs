//! The slots at a box's side: where each way leaves and comes in, with room for its words.

use super::boxes::Frame;
use super::words::{Flow, SIZE};
use crate::sheet::font::Face;

/// What is at a slot.
#[derive(Debug)]
pub(super) enum SlotKind {
    /// A way leaves for the lanes.
    Leaves,
    /// A way comes out of the lanes.
    Comes,
    /// A way ends at the number of a step elsewhere, or at a fault table; below it stands which.
    Ends(Flow),
}

/// A place at the side of a box.
#[derive(Debug)]
pub(super) struct Slot {
    pub(super) bundle: usize,
    pub(super) kind: SlotKind,
    pub(super) words: Flow,
    /// Where the other end is: the place of its step in the panel, this step's own for a way that ends here.
    pub(super) other: usize,
    /// The level of its line.
    pub(super) y: f32,
}

impl Slot {
    pub(super) fn new(bundle: usize, kind: SlotKind, words: Flow, other: usize) -> Slot {
        Slot { bundle, kind, words, other, y: 0.0 }
    }

    pub(super) fn comes(&self) -> bool {
        matches!(self.kind, SlotKind::Comes)
    }

    /// Returns how wide the sign at the end of a way is that ends outside of the panel.
    pub(super) fn sign_width(to: Option<usize>) -> f32 {
        match to {
            Some(number) => sign_width(&format!("to {number}")),
            None => 12.0,
        }
    }

    /// Returns how far below its top the line may run: below its words, and below half a sign.
    fn line(&self) -> f32 {
        match self.kind {
            SlotKind::Comes => 2.0,
            SlotKind::Leaves => self.words.height() + 2.0,
            SlotKind::Ends(_) => (self.words.height() + 2.0).max(8.0),
        }
    }

    /// Returns how high it is. A line runs up to 4 points lower than it may, for the levels of the two columns.
    pub(super) fn height(&self) -> f32 {
        let below = match &self.kind {
            SlotKind::Comes | SlotKind::Leaves => 3.0,
            SlotKind::Ends(goal) => goal.height().max(8.0) + 2.0,
        };
        self.line() + 4.0 + below
    }
}

/// Returns how wide the sign is that says these words.
pub(super) fn sign_width(words: &str) -> f32 {
    Face::Bold.width(words, SIZE) + 10.0
}

/// Gives the slots of a box their levels, one below the other.
pub(super) fn spread(slots: &mut [Slot], frame: Frame, beside: bool) {
    let needed: f32 = slots.iter().map(Slot::height).sum();
    let mut top = frame.corner.y + (frame.height - needed) / 2.0;
    let off = if beside { 2.0 } else { 0.0 };
    for slot in slots {
        slot.y = ((top + slot.line() - off) / 4.0).ceil() * 4.0 + off;
        top += slot.height();
    }
}

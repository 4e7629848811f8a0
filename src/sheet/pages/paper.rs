//! Paper and the sizes of type on it.
//!
//! Step text of 14 points and a line pitch of 1.25 to 1.33: NASA-CR-177605 (1992) on the typography of flight-deck
//! documents, which asks for an x-height of 0.10 inch. No type under 12 points for what is read at 600 mm, half as
//! much again at 900 mm, and a wider margin where pages are bound: UK CAA CAP 676, issue 3 (2006), chapter 7. The
//! margins' and boxes' sizes in millimetres are our own.

use crate::sheet::drawing::MM;

/// A size of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8½ inches by 11 inches (ANSI/ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// Returns its width and height in points.
    pub fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (210.0 * MM, 297.0 * MM),
            Paper::Letter => (612.0, 792.0),
        }
    }

    /// Returns the name that style sheets know it by.
    pub fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "letter",
        }
    }
}

/// The margin at the left, where pages are bound.
pub const BINDING: f32 = 20.0 * MM;

/// The other margins.
pub const MARGIN: f32 = 12.0 * MM;

/// The side of a box to tick.
pub const BOX: f32 = 5.5 * MM;

/// The same, where lines stand close.
pub const LEAST_BOX: f32 = 5.0 * MM;

/// Room between a box and what it is the box of.
pub const AFTER_BOX: f32 = 5.0;

/// What belongs to a question is set in this far, with a rule at its side.
pub const SET_IN: f32 = 5.0 * MM;

/// The height of a line to write on.
pub const WRITING: f32 = 8.0 * MM;

/// The pitch of lines, in sizes of the type.
pub const PITCH: f32 = 1.26;

/// The most characters on a line; a longer one loses the eye on its way back.
pub const MOST_CHARACTERS: usize = 66;

/// How far a sheet is read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Reach {
    /// In the hand, or on the bench: 600 mm.
    #[default]
    Near,
    /// On the wall by the lathe: 900 mm.
    Far,
}

/// The sizes of type on a sheet, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Steps.
    pub body: f32,
    /// Remarks, end marks, and what stands at the head and foot of a page.
    pub small: f32,
    /// Headings.
    pub heading: f32,
    /// The sheet's title.
    pub title: f32,
}

impl Sizes {
    /// Returns the sizes for a sheet that is read from there.
    pub fn at(reach: Reach) -> Sizes {
        match reach {
            Reach::Near => Sizes { body: 14.0, small: 12.0, heading: 16.0, title: 20.0 },
            Reach::Far => Sizes { body: 18.0, small: 15.0, heading: 20.0, title: 24.0 },
        }
    }

    /// Returns the smallest sizes that are allowed, for what is to stay on one page.
    pub fn least() -> Sizes {
        Sizes { body: 12.0, small: 12.0, heading: 14.0, title: 16.0 }
    }
}

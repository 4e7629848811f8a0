//! Writes a guide for a kit that stepjig has never seen, from how its pen is built.
//!
//! [`Answers`] are what a person has said, as text by key: they are what is parked and taken up again.
//! [`Interview::of`] derives from them which questions there are, and the [`Build`] as far as it is known, so that
//! going back on an answer keeps every other that still applies. [`write()`] makes the text of a guide of a build, at any
//! moment of the conversation one that passes `check`; [`from()`] reads an existing guide back into answers.
//!
//! ```
//! use stepjig::draft::{Answers, Interview, write};
//!
//! let mut answers = Answers::default();
//! let first = Interview::of(&answers).next().cloned().expect("nothing is answered yet");
//! answers.set(&first.key, first.read("two")?);
//! let text = write(&Interview::of(&answers).build);
//! assert!(text.contains("[guide]"));
//! # Ok::<(), stepjig::draft::Refused>(())
//! ```

mod answers;
mod build;
mod from;
mod interview;
mod parked;
mod question;
mod style;
mod write;

pub use answers::Answers;
pub use build::{
    Build, Closes, End, Facing, Figure, Figures, Holder, Home, Loose, Part, Past, Rod, Top, Tube, WayOut, Writes,
};
pub use from::{ReadBack, from};
pub use interview::Interview;
pub use parked::{Unreadable, parse, to_text};
pub use question::{Asked, Beside, NOT_KNOWN, Question, Refused};
pub use write::write;

//! Lengths, angles, clock positions and durations: read what was typed, check it, show it.
//!
//! The nouns, in the order one meets them:
//!
//! - [`Length`], never below zero, and [`Offset`], a length with a side (0.03 mm below the rim);
//! - [`Angle`] and [`ClockPosition`], where something points on the face of a clock;
//! - [`Span`], how long something takes, and [`SurfaceSpeed`], how fast a surface passes the tool;
//! - [`Stress`], how strong, stiff or pressed something is;
//! - [`Unit`], what a gauge reads in, and [`Quantity`], a reading with its unit;
//! - [`UnitError`], what was wrong with a text or a number, and what may have been meant.
//!
//! An inch is exactly 25.4 mm (international yard and pound agreement, 1959). Nothing is rounded before it is shown.
//!
//! ```
//! use stepjig::units::{Length, LengthUnit};
//!
//! let drill = Length::parse("25/64", None)?;
//! assert_eq!(drill.in_mm(), 9.921875);
//! assert_eq!(drill.both().replace('\u{a0}', " "), "25/64 in (9.922 mm)");
//!
//! // A bare number could be either; it needs the shop's own unit, or it is refused with both readings.
//! let refused = Length::parse("9.92", None).unwrap_err();
//! assert_eq!(refused.help().as_deref(), Some("9.92 mm or 9.92 in? say which"));
//! assert_eq!(Length::parse("9.92", Some(LengthUnit::Millimetre))?.in_mm(), 9.92);
//! # Ok::<(), stepjig::units::UnitError>(())
//! ```

mod angle;
mod clock_position;
mod error;
mod finite;
mod inch_fraction;
mod length;
mod measure;
mod number;
mod offset;
mod quantity;
mod span;
mod stress;
mod surface_speed;
mod typed;
mod unit;
mod word;

pub use angle::Angle;
pub use clock_position::ClockPosition;
pub use error::UnitError;
pub use length::{Length, LengthUnit};
pub use measure::Measure;
pub(crate) use number::shown;
pub use offset::Offset;
pub use quantity::Quantity;
pub use span::Span;
pub use stress::Stress;
pub use surface_speed::SurfaceSpeed;
pub use unit::Unit;

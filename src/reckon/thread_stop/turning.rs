//! How a thread turns: the stop, the other thread starts, and where the clip comes over the nib.
//!
//! A screw moves by its lead in each turn, and may be begun at each of its starts, which stand evenly round it: plain
//! geometry, terms as in ISO 5408. Angles count in the way the cap closes: clockwise with a right-hand thread, seen with
//! the capped pen's finial end towards you. Wear, end play and the slack of a thread are not modelled.

use std::f64::consts::PI;

use crate::units::{Angle, ClockPosition, Length, Offset, UnitError};

/// Which way a thread closes, seen with the capped pen's finial end towards you.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// Clockwise, as nearly all do.
    Right,
    /// Anticlockwise: everything is mirrored.
    Left,
}

impl Hand {
    /// Returns degrees in the way of closing as degrees clockwise, and the other way round.
    fn clockwise(self, closing: f64) -> f64 {
        match self {
            Hand::Right => closing,
            Hand::Left => -closing,
        }
    }
}

/// Turns are whole to this share of them: 0.3 / 0.1 is off by far less, and a caliper by far more.
const WHOLE: f64 = 1e-9;

/// What a seat is easily off by, in mm; [`slip`] tells what it does.
pub const SEAT: f64 = 0.05;

/// Returns how far a thread moves in one turn: `lead = pitch × starts`, in the pitch's unit. A gauge reads the pitch only.
///
/// # Errors
/// [`UnitError`] beyond 10 m.
pub fn lead(pitch: Length, starts: u32) -> Result<Length, UnitError> {
    Ok(Length::from_mm(pitch.in_mm() * f64::from(starts))?.written_in(pitch.unit()))
}

/// A lead is so many pitches, but for what is lost where either is typed to three or four figures.
const TYPED: f64 = 0.005;

/// Returns how many starts a lead and a pitch make: `starts = lead / pitch`, a whole number from 1 up; none where they
/// make no whole number.
///
/// To one part in 200, as both are measured: a lead of 2.4 mm and a pitch of 0.8 mm make 3, of 2.5 mm and 1 mm none.
///
/// ```
/// use stepjig::reckon::thread_stop::starts;
/// use stepjig::units::Length;
///
/// assert_eq!(starts(Length::from_mm(8.0)?, Length::from_mm(2.0)?), Some(4));
/// assert_eq!(starts(Length::from_mm(2.5)?, Length::from_mm(1.0)?), None);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
pub fn starts(lead: Length, pitch: Length) -> Option<u32> {
    let ratio = lead.in_mm() / pitch.in_mm();
    let nearest = ratio.round();
    let is_whole = (1.0..=f64::from(u32::MAX)).contains(&nearest) && (ratio - nearest).abs() <= TYPED * nearest;
    // In range, so it fits.
    is_whole.then_some(nearest as u32)
}

/// Returns how far a cap turns while it travels: `turned = 360° × travel / lead`.
///
/// # Errors
/// [`UnitError`] if that is more than 1000 turns, or the lead is 0.
pub fn turned(travel: Length, lead: Length) -> Result<Angle, UnitError> {
    Angle::from_turns(travel.in_mm() / lead.in_mm())
}

/// Returns what is over whole turns: `angle − 360° × whole turns`, from 0 up to but not 360°.
///
/// Whole turns, to 1 part in 10⁹, give exactly 0°. Of the turns from first catch to the stop it is the stop angle φ.
///
/// ```
/// use stepjig::reckon::thread_stop::{over_whole_turns, turned};
/// use stepjig::units::Length;
///
/// let (travel, lead) = (Length::from_mm(0.3)?, Length::from_mm(0.1)?);
/// assert_eq!(over_whole_turns(turned(travel, lead)?).degrees(), 0.0);
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
pub fn over_whole_turns(angle: Angle) -> Angle {
    let turns = angle.turns();
    match (turns - turns.round()).abs() <= WHOLE * turns.abs().max(1.0) {
        true => ClockPosition::TWELVE.to_angle(),
        false => angle.within_a_turn(),
    }
}

/// Returns the stop angle from where the threads let go: `φ = −let-go` mod 360°; left-hand `φ = let-go`.
///
/// `let_go` is where the cap's grain mark has come to when the threads let go, opened from tight; where it stood tight
/// is 12 o'clock.
pub fn stop_from_let_go(let_go: ClockPosition, hand: Hand) -> Angle {
    let opened = match hand {
        Hand::Right => let_go.clockwise_to(ClockPosition::TWELVE),
        Hand::Left => let_go.to_angle(),
    };
    over_whole_turns(opened)
}

/// What to do about a cap that stops past its mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction {
    /// How many thread starts to move on, fewer than there are: each begins 360°/starts further back.
    pub other_start: u32,
    /// How far past the mark it then still stops: over −180°/starts, and up to 180°/starts.
    pub rest: Angle,
}

/// Returns which thread start leaves the least, and what it leaves: `rest = off − k × 360°/starts`.
///
/// `off` is how far past the mark the cap stops. Of two starts that leave as much, the one that leaves it past the mark
/// is taken: material is sooner added at a stop than taken off. No starts count as one.
///
/// ```
/// use stepjig::reckon::thread_stop::correction;
/// use stepjig::units::Angle;
///
/// let found = correction(Angle::from_degrees(130.0)?, 3)?;
/// assert_eq!((found.other_start, found.rest.degrees()), (1, 10.0));
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
///
/// # Errors
/// [`UnitError`] beyond 1000 turns.
pub fn correction(off: Angle, starts: u32) -> Result<Correction, UnitError> {
    let starts = f64::from(starts.max(1));
    let apart = 360.0 / starts;
    let moved = (off.degrees() / apart - 0.5).ceil();
    let rest = off.degrees() - moved * apart;
    let rest = if rest.abs() <= 360.0 * WHOLE { 0.0 } else { rest };
    // From 0 to fewer than there are starts, so it fits.
    Ok(Correction { other_start: moved.rem_euclid(starts) as u32, rest: Angle::from_degrees(rest)? })
}

/// Returns where the clip goes, from the cap's grain mark, to stand over the nib just as the cap goes on:
/// `clip = nib + φ − rest + lead-in` mod 360°; left-hand `nib − φ + rest − lead-in`.
///
/// `nib` is the clock position of the nib's top, `stop` the stop angle φ as it is, `rest` what the stop will be
/// corrected by (0° if by nothing), `lead_in` how far past the first catch the cap should be set on.
///
/// # Errors
/// [`UnitError`] beyond 1000 turns.
pub fn clip(
    nib: ClockPosition,
    stop: Angle,
    rest: Angle,
    lead_in: Angle,
    hand: Hand,
) -> Result<ClockPosition, UnitError> {
    at(nib, stop.degrees() - rest.degrees() + lead_in.degrees(), hand)
}

/// Returns where the cap's grain mark stops that is begun so many thread starts on: `off − k × 360°/starts`.
///
/// # Errors
/// [`UnitError`] beyond 1000 turns.
pub fn lands(off: Angle, moved: u32, starts: u32, hand: Hand) -> Result<ClockPosition, UnitError> {
    let back = f64::from(moved) * 360.0 / f64::from(starts.max(1));
    at(ClockPosition::TWELVE, off.degrees() - back, hand)
}

/// Returns the material at the stop that an angle is worth: `lead × angle / 360°`, in mm. Added, the cap stops sooner.
///
/// # Errors
/// [`UnitError`] beyond 10 m.
pub fn material(lead: Length, angle: Angle) -> Result<Offset, UnitError> {
    Offset::from_mm(lead.in_mm() * angle.turns())
}

/// Returns how far 0.05 mm of seat turns the stop: `slip = 360° × 0.05 mm / lead`.
///
/// # Errors
/// [`UnitError`] for a lead under 0.000 05 mm.
pub fn slip(lead: Length) -> Result<Angle, UnitError> {
    Angle::from_degrees(360.0 * SEAT / lead.in_mm())
}

/// Returns an angle as an arc at the rim: `arc = π × diameter × angle / 360°`, in mm.
///
/// # Errors
/// [`UnitError`] beyond 10 m.
pub fn arc(diameter: Length, angle: Angle) -> Result<Offset, UnitError> {
    Offset::from_mm(PI * diameter.in_mm() * angle.turns())
}

fn at(from: ClockPosition, closing: f64, hand: Hand) -> Result<ClockPosition, UnitError> {
    let angle = Angle::from_degrees(from.to_angle().degrees() + hand.clockwise(closing))?;
    Ok(ClockPosition::from_angle(over_whole_turns(angle)))
}

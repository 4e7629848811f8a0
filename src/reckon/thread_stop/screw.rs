//! A thread as a screw: how steep it is, how hard a hand closes it, and what opens it again.

use std::f64::consts::PI;

use crate::units::{Angle, Length, UnitError};

/// Returns how steep a thread is: `lead angle = atan(lead / (π × d₂))`, from 0° to 90°.
///
/// `lead` is pitch × starts, `d₂` the pitch diameter (see [`pitch_diameter`](super::pitch_diameter)), where the flanks
/// meet. Plain geometry: one turn of the thread unrolled.
///
/// # Errors
/// [`UnitError::NotFinite`] where both are 0.
///
/// ```
/// use stepjig::reckon::thread_stop::lead_angle;
/// use stepjig::units::Length;
///
/// let angle = lead_angle(Length::from_mm(2.4)?, Length::from_mm(9.48)?)?;
/// assert_eq!(angle.to_string(), "4.61°");
/// # Ok::<(), stepjig::units::UnitError>(())
/// ```
pub fn lead_angle(lead: Length, pitch_diameter: Length) -> Result<Angle, UnitError> {
    Angle::from_degrees((lead.in_mm() / (PI * pitch_diameter.in_mm())).atan().to_degrees())
}

/// A thread with square flanks that presses along its axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// How far it moves in one turn.
    pub lead: Length,
    /// Its pitch diameter, d₂, over 0.
    pub pitch_diameter: Length,
    /// The friction of its flanks, µ, 0 or more.
    pub friction: f64,
}

impl Screw {
    /// Returns how hard a torque presses, in N: `W = T / (d₂/2 × tan(λ + φ))`; nothing where no torque moves it.
    ///
    /// `torque` T in N·m, `λ` the [lead angle](lead_angle), `φ = atan µ` the friction angle. λ + φ is under 90°, or the
    /// screw is locked. Exact for square flanks; the sloping ones of a cap's thread rub 1/cos 30° times as much (from
    /// memory), and what rubs at the stop is left out, so that a cap is pressed less hard. Beer and Johnston, Vector Mechanics for
    /// Engineers: Statics, chapter 8.
    pub fn force(&self, torque: f64) -> Option<f64> {
        let Screw { friction, .. } = *self;
        let slope = self.slope();
        let force = torque * 1_000.0 * (1.0 - slope * friction) / (self.radius() * (slope + friction));
        (slope * friction < 1.0 && force.is_finite()).then_some(force)
    }

    /// Returns the torque that loosens what is pressed by a force, in N·m: `T = W × d₂/2 × tan(φ − λ)`; below 0 where it
    /// must be held, or it comes undone by itself.
    ///
    /// `force` W in N; the rest and the source as in [`force`](Screw::force). A steep thread of many starts loosens the
    /// easier.
    pub fn loosening_torque(&self, force: f64) -> Option<f64> {
        let (slope, friction) = (self.slope(), self.friction);
        let torque = force * self.radius() / 1_000.0 * (friction - slope) / (1.0 + slope * friction);
        torque.is_finite().then_some(torque)
    }

    /// The tangent of the lead angle.
    fn slope(&self) -> f64 {
        self.lead.in_mm() / (PI * self.pitch_diameter.in_mm())
    }

    /// Where the flanks bear, in mm.
    fn radius(&self) -> f64 {
        self.pitch_diameter.half().in_mm()
    }
}

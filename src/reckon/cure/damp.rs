//! Glues that a trace of water sets off: by how damp the air is.

use super::super::limit::{is_over, reaches};
use super::super::outcome::about;
use super::Told;
use crate::units::{Length, Span, shown};

/// How damp air suits a glue that water sets off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Air {
    /// It takes longer than rated.
    Dry,
    /// It may take a little longer.
    Dryish,
    /// As rated.
    Good,
    /// It may set a little sooner.
    Dampish,
    /// It sets at once, with stress from shrinking and less strength.
    Shock,
}

/// Returns how the air suits a glue, by its relative humidity in percent, strictly between 0 and 100.
///
/// `slow_under ≤ good[0] < good[1] ≤ shock_over`, all in percent: cyanoacrylate 30, 40, 70, 80 (a trade article with
/// humidity figures). How much longer or shorter it takes is published nowhere that was found, so no time is reckoned.
pub fn air(humidity: f64, good: [f64; 2], slow_under: f64, shock_over: f64) -> Air {
    match humidity {
        at if !reaches(at, slow_under) => Air::Dry,
        at if !reaches(at, good[0]) => Air::Dryish,
        at if !is_over(at, good[1]) => Air::Good,
        at if !is_over(at, shock_over) => Air::Dampish,
        _ => Air::Shock,
    }
}

pub(super) fn told(rated: Span, humidity: f64, air: Air) -> Told {
    const BAND: &str = "no band is published for this glue";
    let at = format!("{}\u{a0}% humidity", shown(humidity, 1));
    let rated_text = about(rated);
    let (time, soonest, latest, what) = match air {
        Air::Dry => {
            (Err("longer than rated; by how much is not published"), Ok(rated), Err(BAND), "dry, so it is slow")
        }
        Air::Dryish => (Ok(rated), Ok(rated), Err(BAND), "a little dry, so it may be slow"),
        Air::Good => (Ok(rated), Err(BAND), Err(BAND), "what this glue likes"),
        Air::Dampish => (Ok(rated), Err(BAND), Ok(rated), "a little damp, so it may set early"),
        Air::Shock => (
            Err("sooner than rated; by how much is not published"),
            Err(BAND),
            Ok(rated),
            "so damp that it sets at once, with less strength",
        ),
    };
    let about = match air {
        Air::Dry => format!("Longer than {rated_text}"),
        Air::Shock => format!("Less than {rated_text}; better glue in drier air"),
        Air::Dryish | Air::Good | Air::Dampish => format!("About {rated_text}"),
    };
    Told {
        time,
        soonest,
        latest,
        say: format!("{about}, an estimate: the air is {what}."),
        working: format!("time = rated = {rated_text} in good air; {at}: the air is {what}"),
    }
}

/// Where the gap is wider than the glue fills.
pub(super) fn too_thick(thickness: Length, fills: Length) -> Told {
    const WHY: &str = "so thick that the middle may never harden";
    Told {
        time: Err(WHY),
        soonest: Err(WHY),
        latest: Err(WHY),
        say: "So thick that the middle may stay wet or weak for good, an estimate; water does not rescue it. Take epoxy, or close the gap.".to_owned(),
        working: format!("{thickness} of glue is more than the {fills} that it fills"),
    }
}

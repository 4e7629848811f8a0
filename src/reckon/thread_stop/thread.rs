//! A thread's lead and starts, from any two of lead, pitch and starts.

use super::super::{Data, Given, Refusal};
use super::turning;
use crate::units::Length;

/// What of a thread is known.
pub(super) struct Thread {
    pub(super) lead: Option<Length>,
    pub(super) starts: Option<u32>,
}

/// A lead is so many pitches, but for what is lost where either is typed to three or four figures.
const TYPED: f64 = 0.005;

impl Thread {
    /// Returns what follows from the values given: `lead = pitch × starts`. A lead that was typed stands as it is.
    pub(super) fn read(given: &Given, data: &Data) -> Result<Thread, Refusal> {
        let length = |name| given.has(name).then(|| given.length(name, data)).transpose();
        let (lead, pitch) = (length("lead")?, length("pitch")?);
        // The input is a whole number from 1 to 8, so it fits.
        let starts = given.has("starts").then(|| given.number("starts", data).map(|starts| starts as u32));
        let starts = starts.transpose()?;
        Ok(match (lead, pitch, starts) {
            (Some(lead), Some(pitch), _) => Thread { lead: Some(lead), starts: Some(whole(lead, pitch, starts)?) },
            (None, Some(pitch), Some(starts)) => Thread { lead: Some(product(pitch, starts)?), starts: Some(starts) },
            (lead, _, starts) => Thread { lead, starts },
        })
    }

    /// Returns the lead, or asks for what it takes.
    pub(super) fn lead(&self, given: &Given) -> Result<Length, Refusal> {
        let missing = if given.has("pitch") { "starts" } else { "lead" };
        self.lead.ok_or_else(|| given.missing(missing))
    }

    /// Returns the number of starts, or asks for it.
    pub(super) fn starts(&self, given: &Given) -> Result<u32, Refusal> {
        self.starts.ok_or_else(|| given.missing("starts"))
    }
}

fn product(pitch: Length, starts: u32) -> Result<Length, Refusal> {
    turning::lead(pitch, starts).map_err(|fault| Refusal::Unreadable { input: "pitch", fault })
}

/// Returns how many starts a lead and a pitch make, and refuses those that make none, or others than were given.
fn whole(lead: Length, pitch: Length, starts: Option<u32>) -> Result<u32, Refusal> {
    let refused = |why: String| Refusal::Contradicts {
        input: "lead",
        why,
        help: "count the thread ends at the mouth, measure the lead as travel over counted turns, and give two of the \
               three"
            .to_owned(),
    };
    let ratio = lead.in_mm() / pitch.in_mm();
    if let Some(starts) = starts {
        let wanted = f64::from(starts);
        return match (ratio - wanted).abs() <= TYPED * wanted {
            true => Ok(starts),
            false => {
                let product = product(pitch, starts)?;
                Err(refused(format!("{lead} is not pitch × starts, which is {pitch} × {starts} = {product}")))
            }
        };
    }
    let nearest = ratio.round();
    match (1.0..=8.0).contains(&nearest) && (ratio - nearest).abs() <= TYPED * nearest {
        // From 1 to 8, so it fits.
        true => Ok(nearest as u32),
        false => Err(refused(format!("{lead} is {ratio:.3} × the pitch of {pitch}, and it is 1 to 8 times, whole"))),
    }
}

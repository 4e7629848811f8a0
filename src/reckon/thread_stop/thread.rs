//! A thread's lead and starts, from any two of lead, pitch and starts.

use super::super::{Data, Given, Refusal};
use super::turning;
use crate::units::Length;

/// What of a thread is known.
pub(super) struct Thread {
    pub(super) lead: Option<Length>,
    pub(super) starts: Option<u32>,
}

/// No pen has more thread starts.
pub(super) const MOST_STARTS: u32 = 8;

impl Thread {
    /// Returns what follows from the values given: `lead = pitch × starts`. A lead that was typed stands as it is.
    pub(super) fn read(given: &Given, data: &Data) -> Result<Thread, Refusal> {
        let length = |name| given.has(name).then(|| given.length(name, data)).transpose();
        let (lead, pitch) = (length("lead")?, length("pitch")?);
        // The input is a small whole number, so it fits.
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
fn whole(lead: Length, pitch: Length, given: Option<u32>) -> Result<u32, Refusal> {
    let found = turning::starts(lead, pitch).filter(|starts| (1..=MOST_STARTS).contains(starts));
    let why = match (given, found) {
        (None, Some(starts)) => return Ok(starts),
        (Some(given), Some(starts)) if given == starts => return Ok(starts),
        (Some(starts), _) => {
            let product = product(pitch, starts)?;
            format!("{lead} is not pitch × starts, which is {pitch} × {starts} = {product}")
        }
        (None, None) => {
            let ratio = lead.in_mm() / pitch.in_mm();
            format!("{lead} is {ratio:.3} × the pitch of {pitch}, and it is 1 to {MOST_STARTS} times, whole")
        }
    };
    Err(Refusal::Contradicts {
        input: "lead",
        why,
        help: "count the thread ends at the mouth, measure the lead as travel over counted turns, and give two of the \
               three"
            .to_owned(),
    })
}

//! `thread-stop`: where the cap stops, and where the clip goes.

mod inputs;
mod profile;
mod say;
mod screw;
mod thread;
mod turning;

pub use profile::{minor_diameter, pitch_diameter};
pub use screw::{Screw, lead_angle};
pub use turning::{
    Correction, Hand, SEAT, arc, clip, correction, lands, lead, material, over_whole_turns, slip, starts,
    stop_from_let_go, turned,
};

use self::thread::Thread;
use super::{Data, Face, Given, Outcome, Output, Reckoning, Refusal};
use crate::units::{Angle, ClockPosition, Length, UnitError};

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "thread-stop",
    answers: "where the cap stops, and where the clip goes",
    inputs: inputs::INPUTS,
    pencil: &[
        "Without a sum: close the cap, open it until the threads let go, mark the cap where the nib's top is. There goes the clip.",
        "Turns: the travel divided by the lead. What is over whole turns, times 360, is the angle.",
    ],
    asking: inputs::ASKING,
    verdicts: &[],
    sum,
};

/// What was found, before it is said.
struct Found {
    /// What touches when the cap is tight, if it was said.
    touches: Option<String>,
    hand: Hand,
    over_nib: bool,
    nib: ClockPosition,
    lead_in: Angle,
    /// φ, and how it came about.
    stop: Angle,
    how: String,
    thread: Thread,
    off: Option<Off>,
    clip: ClockPosition,
    clip_exact: ClockPosition,
}

/// A stop off its mark, and what is done about it.
struct Off {
    off: Angle,
    lead: Length,
    starts: u32,
    correction: Correction,
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let hand = if given.word("hand", data)? == "left" { Hand::Left } else { Hand::Right };
    let touches = given.has("touches").then(|| given.word("touches", data)).transpose()?;
    let over_nib = given.word("clip-over", data)? == "nib";
    let thread = Thread::read(given, data)?;
    let (stop, how) = stop(given, data, hand, &thread)?;
    let off = off(given, data, &thread)?;
    let (nib, lead_in) = (given.clock("nib", data)?, given.angle("lead-in", data)?);
    let none = ClockPosition::TWELVE.to_angle();
    let rest = off.as_ref().map_or(none, |off| off.correction.rest);
    let clip_with = |lead_in| clip(nib, stop, rest, lead_in, hand).map_err(|fault| unreadable("lead-in", fault));
    let (clip, clip_exact) = (clip_with(lead_in)?, clip_with(none)?);
    let found = Found { touches, hand, over_nib, nib, lead_in, stop, how, thread, off, clip, clip_exact };
    let diameter = given.has("diameter").then(|| given.length("diameter", data)).transpose()?;
    let outputs = outputs(&found, diameter).map_err(|fault| unreadable("lead", fault))?;
    Ok(Outcome {
        say: say::say(&found, given, &outputs),
        working: say::working(&found),
        outputs,
        verdict: None,
        sources: vec![
            "a screw moves by its lead in each turn, lead = pitch × starts; terms as in ISO 5408".to_owned(),
            data.practice_source("thread-stop"),
        ],
        face: Some(found.face().map_err(|fault| unreadable("off", fault))?),
    })
}

fn unreadable(input: &'static str, fault: UnitError) -> Refusal {
    Refusal::Unreadable { input, fault }
}

/// Returns φ from the surest of the three readings, and how; two of them are one too many.
fn stop(given: &Given, data: &Data, hand: Hand, thread: &Thread) -> Result<(Angle, String), Refusal> {
    const READINGS: [&str; 3] = ["let-go", "travel", "turns"];
    let mut had = READINGS.into_iter().filter(|name| given.has(name));
    let first = had.next();
    if let (Some(first), Some(second)) = (first, had.next()) {
        return Err(Refusal::Contradicts {
            input: second,
            why: format!("`{first}` says the same, and says it better"),
            help: format!("leave `{second}` out"),
        });
    }
    match first {
        Some("travel") => {
            let (travel, lead) = (given.length("travel", data)?, thread.lead(given)?);
            let angle = turned(travel, lead).map_err(|fault| unreadable("travel", fault))?;
            Ok((over_whole_turns(angle), format!("360° × {travel} / {lead} = {angle} less whole turns")))
        }
        Some("turns") => {
            let angle = given.angle("turns", data)?;
            Ok((over_whole_turns(angle), format!("{angle} less whole turns")))
        }
        _ => {
            let let_go = given.clock("let-go", data)?;
            let how = match hand {
                Hand::Right => format!("360° − {}", let_go.to_angle()),
                Hand::Left => format!("{} (left-hand)", let_go.to_angle()),
            };
            Ok((stop_from_let_go(let_go, hand), how))
        }
    }
}

fn off(given: &Given, data: &Data, thread: &Thread) -> Result<Option<Off>, Refusal> {
    if !given.has("off") {
        return Ok(None);
    }
    let (off, starts, lead) = (given.angle("off", data)?, thread.starts(given)?, thread.lead(given)?);
    let correction = correction(off, starts).map_err(|fault| unreadable("off", fault))?;
    Ok(Some(Off { off, lead, starts, correction }))
}

fn outputs(found: &Found, diameter: Option<Length>) -> Result<Vec<Output>, UnitError> {
    let mut outputs = vec![Output::angle("stop-angle", found.stop)];
    match found.over_nib {
        true => outputs.extend([Output::clock("clip", found.clip), Output::clock("clip-exact", found.clip_exact)]),
        false => outputs.extend(["clip", "clip-exact"].map(|name| Output::none(name, "deg", "over the best figure"))),
    }
    match found.thread.starts {
        Some(starts) => {
            let n = f64::from(starts);
            outputs.push(Output::number("ways", n, "", starts.to_string()));
            outputs.push(Output::angle("apart", Angle::from_degrees(360.0 / n)?));
            outputs.push(Output::number("chance", 1.0 / n, "", format!("1 in {starts}")));
        }
        None => {
            let none = |name, unit| Output::none(name, unit, "it takes the thread ends at the mouth: starts=3");
            outputs.extend([none("ways", ""), none("apart", "deg").aside(), none("chance", "").aside()]);
        }
    }
    let slip = found.thread.lead.map(slip).transpose()?;
    outputs.push(match slip {
        Some(slip) => Output::angle("slip", slip),
        None => Output::none("slip", "deg", "it takes the lead, lead=2.4 mm, or pitch=0.8 mm starts=3"),
    });
    outputs.push(match (slip, diameter) {
        (Some(slip), Some(diameter)) => Output::offset("slip-arc", arc(diameter, slip)?),
        (None, _) => Output::none("slip-arc", "mm", "it takes the lead too").aside(),
        (_, None) => Output::none("slip-arc", "mm", "it takes the cap's diameter at the clip: diameter=14 mm"),
    });
    if let Some(Off { off, lead, correction, .. }) = &found.off {
        let moved = correction.other_start;
        outputs.extend([
            Output::number("other-start", f64::from(moved), "", moved.to_string()),
            Output::angle("rest", correction.rest),
            Output::offset("stop-change", material(*lead, correction.rest)?),
            Output::offset("shim", material(*lead, over_whole_turns(*off))?),
        ]);
    }
    Ok(outputs)
}

impl Found {
    /// The body's grain mark, the nib, the stop as it is, where the other starts would land, and the clip.
    fn face(&self) -> Result<Face, UnitError> {
        const OTHERS: [&str; 7] = ["start 2", "start 3", "start 4", "start 5", "start 6", "start 7", "start 8"];
        let mut marks = vec![("grain", ClockPosition::TWELVE), ("nib", self.nib)];
        let off = self.off.as_ref().map_or(ClockPosition::TWELVE.to_angle(), |off| off.off);
        let starts = self.thread.starts.unwrap_or(1);
        marks.push(("stop", lands(off, 0, starts, self.hand)?));
        for (moved, name) in (1..starts).zip(OTHERS) {
            marks.push((name, lands(off, moved, starts, self.hand)?));
        }
        if self.over_nib {
            marks.push(("clip", self.clip));
        }
        Ok(Face { marks })
    }
}

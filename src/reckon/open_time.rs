//! `open-time`: can it be seated before the glue grabs.

use super::input::{Input, Kind, Usual};
use super::limit::reaches;
use super::outcome::about;
use super::temperature_rule::{self, at_temperature};
use super::{Asking, Data, Given, Outcome, Output, Reckoning, Refusal};
use crate::units::{Span, shown};

/// What `open` is stated for, in °C.
const OPEN_AT: f64 = 20.0;

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "open-time",
    answers: "whether it can be seated before the glue grabs",
    inputs: &[
        Input {
            name: "seat",
            kind: Kind::Seconds { least: 0.5, most: 3_600.0 },
            meaning: "how long a dry run takes, from the first touch to fully seated",
            usual: Usual::Asked,
        },
        Input {
            name: "open",
            kind: Kind::Seconds { least: 1.0, most: 86_400.0 },
            meaning: "how long the glue stays open at 20 °C, from its sheet or a drop on scrap",
            usual: Usual::Asked,
        },
        Input {
            name: "temperature",
            kind: Kind::Temperature { least: 0.0, most: 45.0 },
            meaning: "how warm it is where the glue is used",
            usual: Usual::Asked,
        },
        Input {
            name: "vapour",
            kind: Kind::Choice(&["yes", "no"]),
            meaning: "whether accelerator was sprayed nearby, or on these parts, since the air was last changed",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "The open time at 20 °C, divided by {open-time.factor} for each 10 °C warmer, times {open-time.factor} for each 10 °C colder. Divided by the dry run.",
        "{open-time.tight} or more: enough. Under {open-time.grabs}, or accelerator about: it will grab.",
    ],
    asking: Asking::NOTHING_BESIDES,
    verdicts: &[
        ("enough", "there is time for a second try"),
        ("tight", "it goes in, if the first try goes well"),
        ("will-grab", "the glue sets while the part is on its way"),
    ],
    sum,
};

/// Returns how many times over the part can be seated while the glue is open: `margin = open · factor / seat`.
///
/// `open` is the open time where the glue is used (see [`at_temperature`]), `seat` that of a dry run, both of any
/// length over 0. It is as rough as the open time is.
pub fn margin(open: Span, seat: Span) -> f64 {
    open.seconds() / seat.seconds()
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let (seat, open) = (given.span("seat", data)?, given.span("open", data)?);
    let temperature = given.number("temperature", data)?;
    let vapour = given.word("vapour", data)? == "yes";
    let number = |key: &str| data.practice_number(&format!("open-time.{key}"));
    let (factor, tight, grabs) = (number("factor")?, number("tight")?, number("grabs")?);
    let here = at_temperature(open, OPEN_AT, temperature, factor);
    let here = here.map_err(|fault| Refusal::Unreadable { input: "open", fault })?;
    let margin = margin(here, seat);
    let (verdict, say) = match margin {
        _ if vapour => (
            "will-grab",
            "Accelerator in the air or on a part can set the glue before it is home. Air the room, wipe the parts, then glue.",
        ),
        margin if !reaches(margin, grabs) => {
            ("will-grab", "Take a slower glue, a cooler room, or practise the move until it is quicker.")
        }
        margin if !reaches(margin, tight) => ("tight", "Lay all out, move without a stop, or take a slower glue."),
        _ => ("enough", "Still seat it in one move."),
    };
    let times = |number: f64| format!("{} times", shown(number, 2));
    Ok(Outcome {
        outputs: vec![Output::number("margin", margin, "", times(margin)), Output::estimate("open-here", here)],
        verdict: Some(verdict),
        say: format!("{say} The open time is an estimate: when a drop on scrap draws threads, it is over."),
        working: format!(
            "margin = open × {factor}^((20 − T) / 10) / seat = {open} × {factor}^((20 − {t}) / 10) / {seat} = {here} / {seat} = {margin}",
            factor = shown(factor, 2),
            t = shown(temperature, 1),
            margin = shown(margin, 2),
            here = about(here),
        ),
        face: None,
        sources: vec![temperature_rule::SOURCE.to_owned(), data.practice_source("open-time")],
    })
}

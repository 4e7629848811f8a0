//! `grain-match`: whether the figure of the wood runs on across the band.

use super::input::{Input, Kind, Usual};
use super::thread_stop::Hand;
use super::{Asking, Data, Face, Given, Outcome, Output, Reckoning, Refusal};
use crate::units::{Angle, ClockPosition, Length, Offset, UnitError};

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "grain-match",
    answers: "whether the figure runs on across the band",
    inputs: &[
        Input {
            name: "kerf",
            kind: Kind::Length { least: 0.0, most: 10.0 },
            meaning: "the saw cut between the two pieces",
            usual: Usual::Asked,
        },
        Input {
            name: "squared-off",
            kind: Kind::Length { least: 0.0, most: 50.0 },
            meaning: "the wood trimmed off both ends that meet the band, together",
            usual: Usual::Asked,
        },
        Input {
            name: "band",
            kind: Kind::Length { least: 0.0, most: 50.0 },
            meaning: "the gap between the woods when the pen is assembled",
            usual: Usual::Asked,
        },
        Input {
            name: "slant",
            kind: Kind::Angle { least: 0.0, most: 80.0 },
            meaning: "the angle between the figure and the pen's axis",
            usual: Usual::Asked,
        },
        Input {
            name: "cap",
            kind: Kind::Length { least: 3.0, most: 60.0 },
            meaning: "the cap's diameter at the band",
            usual: Usual::Asked,
        },
        Input {
            name: "lean",
            kind: Kind::Choice(&["clockwise", "anticlockwise"]),
            meaning: "which way the figure goes round towards the finial, seen with the finial end towards you",
            usual: Usual::Asked,
        },
        Input {
            name: "growth-ring",
            kind: Kind::Length { least: 0.0, most: 30.0 },
            meaning: "how far the growth ring that makes the figure lies from the pen's axis",
            usual: Usual::Asked,
        },
        Input {
            name: "body",
            kind: Kind::Length { least: 3.0, most: 60.0 },
            meaning: "the body's diameter at the band",
            usual: Usual::Asked,
        },
        Input {
            name: "band-pressed",
            kind: Kind::Choice(&["no", "yes"]),
            meaning: "whether the band is pressed already",
            usual: Usual::Text("no"),
        },
        Input {
            name: "starts",
            kind: Kind::Count { least: 1, most: 8 },
            meaning: "how many thread ends run out at the mouth",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "Lost at the band: the saw cut, and what was squared off both ends; less the gap that the band holds open.",
        "Times the slope of the figure: how far it runs sideways over 10 mm of pen, divided by 10.",
        "Up to {grain-match.runs-on} it runs on. Else turn the cap so far at its rim, the way the figure leans towards the finial; the other way where less was lost than the band holds open.",
    ],
    asking: Asking { also: &["lean", "band-pressed"], ..Asking::NOTHING_BESIDES },
    verdicts: &[
        ("runs-on", "the figure runs on across the band as it is"),
        ("turn-cap", "the figure runs on once the cap is turned"),
    ],
    sum,
};

/// Returns how far the cap's figure stands ahead of the body's, with its lean, at the rim:
/// `drift = (removed − band) × tan slant`, in mm; below 0 it stands behind.
///
/// `removed` is the wood lost between the pieces, kerf and squaring together; `slant` is the angle between figure and
/// axis, 0 to under 90°. Both pieces keep the place round the axis that they had in the blank. Exact for a straight
/// figure; plain geometry.
///
/// # Errors
/// [`UnitError`] beyond 10 m.
pub fn drift(removed: Length, band: Length, slant: Angle) -> Result<Offset, UnitError> {
    Offset::from_mm((removed.in_mm() - band.in_mm()) * slant.degrees().to_radians().tan())
}

/// Returns the turn of the cap that takes a drift away: `turn = drift / (cap / 2)`, as an angle. It goes against the
/// lean, for a drift below 0 with it.
///
/// # Errors
/// [`UnitError`] for a cap without a diameter.
pub fn turn(drift: Offset, cap: Length) -> Result<Angle, UnitError> {
    Angle::from_degrees((drift.in_mm() / (cap.in_mm() / 2.0)).to_degrees())
}

/// Returns how far a flat growth ring jumps round the rim where cap and body differ:
/// `step = asin(2 × ring / body) − asin(2 × ring / cap)`; nothing where the ring lies outside either.
///
/// `ring` is its distance from the axis. A ring that is curved within the pen jumps a little otherwise.
pub fn step(ring: Length, body: Length, cap: Length) -> Option<Angle> {
    let around = |diameter: Length| (2.0 * ring.in_mm() / diameter.in_mm()).asin().to_degrees();
    Angle::from_degrees(around(body) - around(cap)).ok()
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let length = |name| given.length(name, data);
    let (kerf, squared_off, band) = (length("kerf")?, length("squared-off")?, length("band")?);
    let (slant, cap) = (given.angle("slant", data)?, length("cap")?);
    let fault = |fault| Refusal::Unreadable { input: "slant", fault };
    let removed = Length::from_mm(kerf.in_mm() + squared_off.in_mm()).map_err(fault)?.written_in(kerf.unit());
    let drift = drift(removed, band, slant).map_err(fault)?;
    let turn = turn(drift, cap).map_err(fault)?;
    let runs_on = drift.size() <= data.practice_length("grain-match.runs-on")?;
    let lean = match given.has("lean") {
        true if given.word("lean", data)? == "anticlockwise" => Some(Hand::Left),
        true => Some(Hand::Right),
        false => None,
    };
    let even = band - removed;
    let which_way = which_way(drift, lean);
    let mut outputs = vec![
        Output::length("removed", removed),
        Output::offset("drift", drift),
        Output::number("turn", turn.degrees(), "deg", turn_text(turn, drift, &which_way)),
        Output::number("even", even.in_mm(), "mm", even_text(even)),
    ];
    let ring = given.has("growth-ring").then(|| given.length("growth-ring", data)).transpose()?;
    if let Some(ring) = ring {
        let body = length("body")?;
        let outside = || Refusal::Contradicts {
            input: "growth-ring",
            why: format!("{ring} from the axis lies outside the wood, which is {} thick there", body.min(cap)),
            help: "measure from the axis to the ring, not across the pen".to_owned(),
        };
        outputs.push(Output::angle("step", step(ring, body, cap).ok_or_else(outside)?));
    }
    let pressed = given.word("band-pressed", data)? == "yes";
    let starts = given.has("starts").then(|| given.number("starts", data)).transpose()?;
    let say = match (runs_on, pressed) {
        (true, _) => "The figure runs on as it is: put the grain marks together.".to_owned(),
        (false, false) => {
            format!("Turn the cap {}{which_way} before the band is pressed: until then any angle is free.", size(turn))
        }
        (false, true) => after_pressing(turn, &which_way, starts, lean),
    };
    Ok(Outcome {
        outputs,
        verdict: Some(if runs_on { "runs-on" } else { "turn-cap" }),
        say: format!("{say} {}", even_said(even)),
        working: format!(
            "drift = ({kerf} + {squared_off} − {band}) × tan {slant} = {drift}; turn = {drift} / ({cap} / 2) = {turn}"
        ),
        sources: vec!["a straight line on a cylinder: plain geometry".to_owned(), data.practice_source("grain-match")],
        face: lean.map(|lean| face(turn, lean)).transpose().map_err(fault)?,
    })
}

fn size(turn: Angle) -> Angle {
    Angle::from_degrees(turn.degrees().abs()).unwrap_or(turn)
}

/// Returns which way the cap is to be turned: against the lean where its figure stands ahead.
fn which_way(drift: Offset, lean: Option<Hand>) -> String {
    if drift.in_mm() == 0.0 {
        return String::new();
    }
    let ahead = drift.in_mm() > 0.0;
    let way = if ahead { " against the lean" } else { " with the lean" };
    match lean {
        Some(lean) if (lean == Hand::Right) == ahead => format!("{way} (anticlockwise)"),
        Some(_) => format!("{way} (clockwise)"),
        None => way.to_owned(),
    }
}

fn turn_text(turn: Angle, drift: Offset, which_way: &str) -> String {
    format!("{}{which_way}, {} at the rim", size(turn), drift.size())
}

fn even_text(even: Offset) -> String {
    match even.in_mm() {
        0.0 => "nothing more to lose".to_owned(),
        0.0.. => format!("{even} more to lose"),
        _ => format!("{} too much is lost", even.size()),
    }
}

fn even_said(even: Offset) -> String {
    match even.in_mm() {
        0.0 => "The band takes up just what was lost, so any slant runs on.".to_owned(),
        0.0.. => format!("With {even} more squared off, any slant would run on."),
        _ => format!("A band {} wider would let any slant run on.", even.size()),
    }
}

/// Returns what is left once the band is pressed: another thread start, or a shim.
fn after_pressing(turn: Angle, which_way: &str, starts: Option<f64>, lean: Option<Hand>) -> String {
    let left = match starts {
        Some(starts) if starts > 1.0 && 180.0 / starts < turn.degrees().abs() => {
            format!("another thread start, in steps of {}°, and a shim for the rest", shown(360.0 / starts))
        }
        Some(starts) if starts > 1.0 => {
            format!("a shim, as another thread start, in steps of {}°, would be further off", shown(360.0 / starts))
        }
        Some(_) => "a shim, as one thread start goes on one way only".to_owned(),
        None => "another thread start, in steps of 360° / starts, or a shim".to_owned(),
    };
    let off = match lean {
        Some(Hand::Right) => format!(" (`thread-stop` with `off` {}°)", shown(turn.degrees())),
        Some(Hand::Left) => format!(" (`thread-stop` with `off` {}°)", shown(-turn.degrees())),
        None => String::new(),
    };
    format!("The cap should turn {}{which_way}; with the band pressed only this is left: {left}{off}.", size(turn))
}

fn shown(degrees: f64) -> f64 {
    (degrees * 100.0).round() / 100.0
}

/// The body's figure at 12, and where the cap's stands.
fn face(turn: Angle, lean: Hand) -> Result<Face, UnitError> {
    let cap = match lean {
        Hand::Right => turn,
        Hand::Left => Angle::from_degrees(-turn.degrees())?,
    };
    Ok(Face { marks: vec![("body", ClockPosition::TWELVE), ("cap", ClockPosition::from_angle(cap))] })
}

//! `press-fit`: whether pressing a part will split the barrel.

mod inputs;
mod layers;
mod limits;
mod ring;

pub use layers::{Joint, Pressed, force, pressed};
pub use limits::{Fit, Limits, Tightness, tightness};
pub use ring::{Elastic, Ring, TwoRings, two_rings};

use super::data::Wood;
use super::outcome::in_words;
use super::{Asking, Data, Fork, Given, Outcome, Output, Reckoning, Refusal, Way};
use crate::units::{Length, Offset, Stress, UnitError};

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "press-fit",
    answers: "whether pressing this part will split the barrel",
    inputs: inputs::INPUTS,
    pencil: &[
        "No sum with a pencil. By feel: a part that starts 1 mm by hand goes in; where it does not, ease the bore with fine abrasive.",
    ],
    asking: Asking {
        also: &["part-material", "length"],
        forks: &[Fork {
            at: "wood",
            asks: "What is known of the wood?",
            ways: &[
                Way::Given { say: "its name, or `not sure`", inputs: &["wood"] },
                Way::Given {
                    say: "its tension strength across the grain, from a table or a test",
                    inputs: &["strength"],
                },
            ],
        }],
        ..Asking::NOTHING_BESIDES
    },
    verdicts: &[
        ("snug", "the wood is stressed to less than half of its listed strength"),
        ("loose", "the part is no wider than the bore: it will not hold by itself"),
        ("risky", "the wood is stressed so far that a flaw in it decides"),
        ("will-split", "the wood is stressed to its listed strength or over it"),
    ],
    sum,
};

/// What stands before or instead of a wood's listed figures.
const INSTEAD: &str = "or give its own figures, such as strength=3.9MPa e=1.2GPa";

/// The wood's figures, and where they are from.
struct Grain {
    elastic: Elastic,
    strength: Stress,
    sources: Vec<String>,
}

/// The stress in the wood at one interference, as a share of its strength, and what that is called.
struct Reading {
    pressed: Pressed,
    r#use: f64,
    verdict: &'static str,
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let length = |name| given.length(name, data);
    let (part, bore, tube_out) = (length("part")?, length("tube-in")?, length("tube-out")?);
    layered("tube-out", "the tube's outside", tube_out, "its inside", bore)?;
    let wood_out = length("wood-out")?;
    layered("wood-out", "the wood's outside", wood_out, "the tube's", tube_out)?;
    seats(part, bore, data)?;
    let grain = grain(given, data)?;
    let part_is = given.word("part-material", data)?;
    let joint = Joint {
        part: if part_is == "brass" { Elastic::BRASS } else { Elastic::STEEL },
        tube: Ring { bore, outside: tube_out, made_of: Elastic::BRASS },
        wood_out,
        wood: grain.elastic,
    };
    let (interference, doubt) = (part - bore, length("doubt")?);
    let reading = |by: f64| read(&joint, interference.in_mm() + by * doubt.in_mm(), grain.strength, data);
    let (least, found, most) = (reading(-1.0)?, reading(0.0)?, reading(1.0)?);
    let with_doubt = format!("{interference} ± {doubt}");
    let Pressed { part_pressure, wood_pressure, tube_hoop, wood_hoop, wood_hoop_if_tube_yields, .. } = found.pressed;
    let outputs = vec![
        Output::number("interference", interference.in_mm(), "mm", with_doubt.clone()),
        Output::stress("part-pressure", part_pressure).aside(),
        Output::stress("wood-pressure", wood_pressure).aside(),
        Output::stress("tube-hoop", tube_hoop).aside(),
        Output::stress("wood-hoop", wood_hoop),
        Output::stress("wood-hoop-if-tube-yields", wood_hoop_if_tube_yields).aside(),
        Output::number("use", found.r#use, "", use_text(&least, &found, &most)),
        Output::number("use-least", least.r#use, "", percent(least.r#use)).aside(),
        Output::number("use-most", most.r#use, "", percent(most.r#use)).aside(),
        force_output(given, data, bore, part_pressure)?,
    ];
    let mut sources = vec!["thick cylinders (Lamé): Shigley's Mechanical Engineering Design, 7-39 to 7-47".to_owned()];
    sources.extend(grain.sources);
    sources.push(data.practice_source("press-fit"));
    Ok(Outcome {
        outputs,
        verdict: Some(most.verdict),
        say: say(least.verdict, most.verdict),
        working: format!(
            "interference = {part} − {bore} = {with_doubt}; the layers press {wood_pressure} on the wood's bore; hoop = \
             {wood_pressure} × (({wood_out})² + ({tube_out})²) / (({wood_out})² − ({tube_out})²) = {wood_hoop}; use = \
             {wood_hoop} / {} = {}",
            grain.strength,
            percent(found.r#use)
        ),
        sources,
        face: None,
    })
}

/// Refuses a layer that has no wall round the one inside it.
fn layered(input: &'static str, outer: &str, out: Length, inner: &str, inside: Length) -> Result<(), Refusal> {
    /// No tube that can be pressed into has a thinner wall, in mm.
    const WALL: f64 = 0.05;
    if (out - inside).half().in_mm() >= WALL {
        return Ok(());
    }
    Err(Refusal::Contradicts {
        input,
        why: format!("{outer}, {out}, leaves no wall over {inner}, {inside}"),
        help: "are the two mixed up? all four are diameters".to_owned(),
    })
}

/// Refuses a part that no press could seat.
fn seats(part: Length, bore: Length, data: &Data) -> Result<(), Refusal> {
    let share = data.practice_number("press-fit.most")?;
    if (part - bore).in_mm() <= share * bore.in_mm() {
        return Ok(());
    }
    let widest = Length::from_mm(bore.in_mm() * (1.0 + share)).map(|widest| widest.written_in(bore.unit()));
    let widest = widest.map_err(|fault| Refusal::Unreadable { input: "tube-in", fault })?;
    Err(Refusal::OutOfRange {
        input: "part",
        typed: part.to_string(),
        range: format!("2 mm to {widest} for a bore of {bore}: a wider one no press could seat"),
        slip: Some("is it the right part for this tube, and are both bare of glue and burrs?".to_owned()),
        meant: None,
    })
}

/// Returns the wood's figures: those that were given, else those that are listed.
fn grain(given: &Given, data: &Data) -> Result<Grain, Refusal> {
    let wood = match given.has("wood") {
        true => Some(listed(&given.word("wood", data)?, data)?),
        false => None,
    };
    let mut sources = Vec::new();
    let strength = match &wood {
        _ if given.has("strength") => {
            sources.push("strength: as given".to_owned());
            given.stress("strength", data)?
        }
        Some(wood) => {
            sources.extend(wood.strength_source());
            let none = || Refusal::NoFigure {
                of: wood.name.clone(),
                figure: "strength across the grain",
                instead: "give it as `strength`, such as strength=4MPa",
            };
            wood.strength.ok_or_else(none)?
        }
        None => return Err(given.missing("wood")),
    };
    let listed = wood.as_ref().filter(|_| !given.has("e")).and_then(|wood| wood.e);
    let e = listed.map_or_else(|| given.stress("e", data), Ok)?;
    let listed = wood.as_ref().filter(|_| !given.has("nu")).and_then(|wood| wood.nu);
    let nu = listed.map_or_else(|| given.number("nu", data), Ok)?;
    sources.push("`e` and `nu`: as given".to_owned());
    Ok(Grain { elastic: Elastic { e, nu }, strength, sources })
}

/// Returns the wood with a name; the weakest one for "not sure".
fn listed(name: &str, data: &Data) -> Result<Wood, Refusal> {
    let woods = data.woods()?;
    let weakest = if ["not sure", "not-sure"].contains(&name) { woods.weakest()? } else { None };
    weakest.map_or_else(|| woods.find("wood", name, INSTEAD), Ok)
}

fn read(joint: &Joint, interference: f64, strength: Stress, data: &Data) -> Result<Reading, Refusal> {
    let fault = |fault: UnitError| Refusal::Unreadable { input: "part", fault };
    let interference = Offset::from_mm(interference).map_err(fault)?;
    let pressed = pressed(joint, interference).map_err(fault)?;
    let share = pressed.wood_hoop.in_mpa() / strength.in_mpa();
    let (risky, splits) = (data.practice_number("press-fit.risky")?, data.practice_number("press-fit.will-split")?);
    let verdict = match interference.in_mm() {
        ..=0.0 => "loose",
        _ if share >= splits => "will-split",
        _ if share > risky => "risky",
        _ => "snug",
    };
    Ok(Reading { pressed, r#use: share, verdict })
}

fn force_output(given: &Given, data: &Data, bore: Length, pressure: Stress) -> Result<Output, Refusal> {
    if !given.has("length") {
        return Ok(Output::none("force", "N", "it takes how far the part goes in: length=6 mm"));
    }
    let force = force(bore, given.length("length", data)?, pressure, data.practice_number("press-fit.friction")?);
    Ok(Output::number("force", force, "N", format!("{force:.0}\u{a0}N")))
}

/// The share of its strength that the wood is stressed to, and between what it lies within the caliper's doubt.
fn use_text(least: &Reading, found: &Reading, most: &Reading) -> String {
    let [least, found, most] = [least, found, most].map(|reading| percent(reading.r#use));
    match least == most {
        true => format!("{found} of its strength"),
        false => format!("{found} of its strength ({least} to {most})"),
    }
}

fn percent(share: f64) -> String {
    format!("{:.0}\u{a0}%", share * 100.0)
}

/// The test by hand comes first, then the band within the caliper's doubt, then what the worst of it asks for.
fn say(least: &str, most: &str) -> String {
    let band = match least == most {
        true => format!("By the readings: {}", in_words(most)),
        false => format!("Within the caliper's doubt, anything from {} to {}", in_words(least), in_words(most)),
    };
    let then = match most {
        "loose" => "glue it in, or raise a knurl on it",
        "snug" => "press slowly and straight, and stop at a creak",
        "risky" => "ease the bore a little first, and press a trial piece of the same wood if you have one",
        _ => "ease the bore before you press, until it does start by hand",
    };
    format!(
        "Does it start 1\u{a0}mm by hand? If not, ease the bore with fine abrasive. {band}; {then}. An estimate: wood is \
         taken as alike all ways across its grain, and a knot, a thin place or a drilling crack lowers its strength."
    )
}

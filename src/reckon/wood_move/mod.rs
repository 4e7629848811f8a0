//! `wood-move`: what a change of air does to a bore, a barrel or a blank.

mod moisture;

pub use moisture::{LINEAR, change, change_by_shrinkage, coefficient_of, equilibrium, shrinkage_of};

use super::data::Sides;
use super::input::{Input, Kind, Usual};
use super::{Asking, Climate, Data, DataFile, Fork, Given, Outcome, Output, Reckoning, Refusal, Way};
use crate::units::{Length, Offset};

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "wood-move",
    answers: "what drying or damp does to a bore, a barrel or a blank",
    inputs: &[
        Input {
            name: "question",
            kind: Kind::Choice(&["barrel", "bore", "blank"]),
            meaning: "what is asked: will this barrel crack in a heated house, will this bore bind, or is this blank dry enough to drill",
            usual: Usual::Text("barrel"),
        },
        Input {
            name: "wood",
            kind: Kind::Name(DataFile::Wood),
            meaning: "the wood, such as `black cherry` (else type tangential=0.00248 radial=0.00126)",
            usual: Usual::Asked,
        },
        Input {
            name: "width",
            kind: Kind::Length { least: 1.0, most: 150.0 },
            meaning: "the diameter of the barrel or the bore, or the blank's thickness",
            usual: Usual::Asked,
        },
        Input {
            name: "from",
            kind: Kind::Climate,
            meaning: "the air where it is now, 20C/65%, or the wood's own moisture, 12 %",
            usual: Usual::Asked,
        },
        Input {
            name: "to",
            kind: Kind::Climate,
            meaning: "the air where it will live, 21C/30% in a heated house, or the wood's moisture there",
            usual: Usual::Asked,
        },
        Input {
            name: "tangential",
            kind: Kind::Number { above: 0.0, most: 0.02 },
            meaning: "change along the growth rings for each percent of moisture, as a share of the width: 0.00248",
            usual: Usual::Asked,
        },
        Input {
            name: "radial",
            kind: Kind::Number { above: 0.0, most: 0.02 },
            meaning: "change across the growth rings for each percent of moisture, as a share of the width: 0.00126",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "The width, times the wood's change for each percent of moisture, times the percents that it changes by.",
        "Up to {wood-move.will-move} is not noticed.",
    ],
    asking: Asking {
        also: &["question"],
        forks: &[Fork {
            at: "wood",
            asks: "What is known of the wood?",
            ways: &[
                Way::Given { say: "its name", inputs: &["wood"] },
                Way::Given { say: "how it changes for each percent of moisture", inputs: &["tangential", "radial"] },
            ],
        }],
        ..Asking::NOTHING_BESIDES
    },
    verdicts: &[
        ("settled", "it moves less than is noticed"),
        ("will-move", "it moves: leave room for it, or a wall that bears it"),
        ("dry-it-first", "it is too wet for what comes next"),
    ],
    sum,
};

const INSTEAD: &str = "or give its change for each percent of moisture, such as tangential=0.00248 radial=0.00126";

/// How one way across the grain changes.
struct Across {
    change: Offset,
    working: String,
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let question = given.word("question", data)?;
    let (moves, shrinks, mut sources) = figures(given, data)?;
    let width = given.length("width", data)?;
    let (from, to) = (moisture(given.climate("from", data)?), moisture(given.climate("to", data)?));
    let way = |coefficient: Option<f64>, shrinkage: Option<f64>| way(width, coefficient, shrinkage, from, to);
    let tangential = way(moves.tangential, shrinks.tangential)?;
    let radial = way(moves.radial, shrinks.radial)?;
    // The tangential is the larger, but for a shop's own figures.
    let ways = [&tangential, &radial];
    let Some(most) = ways.into_iter().flatten().max_by(|one, two| one.change.size().cmp(&two.change.size())) else {
        return Err(given.missing("wood"));
    };
    let strain = -most.change.in_mm() / width.in_mm();
    let moves_by = most.change;
    let verdict = verdict(&question, moves_by, from, data)?;
    let round = tangential.as_ref().zip(radial.as_ref()).map(|(one, two)| one.change.in_mm() - two.change.in_mm());
    let round =
        round.map(Offset::from_mm).transpose().map_err(|fault| Refusal::Unreadable { input: "width", fault })?;
    let offset = |name, offset: Option<Offset>| match offset {
        Some(offset) => Output::offset(name, offset),
        None => Output::none(name, "mm", "no figure for both ways across the grain"),
    };
    let outputs = vec![
        Output::number("moisture-from", from, "%", percent(from)),
        Output::number("moisture-to", to, "%", percent(to)),
        offset("tangential", tangential.as_ref().map(|way| way.change)),
        offset("radial", radial.as_ref().map(|way| way.change)),
        offset("out-of-round", round),
        Output::number("strain", strain, "", strain_text(strain)),
    ];
    sources.insert(0, "Wood Handbook (FPL-GTR-190, 2010), equations 4-5, 13-2 and 13-3".to_owned());
    sources.push(data.practice_source("wood-move"));
    Ok(Outcome {
        outputs,
        verdict: Some(verdict),
        say: say(&question, verdict, moves_by, strain),
        working: working(from, to, tangential.as_ref(), radial.as_ref()),
        sources,
        face: None,
    })
}

/// Returns the wood's figures: those that were given, else those that are listed; and where they are from.
fn figures(given: &Given, data: &Data) -> Result<(Sides, Sides, Vec<String>), Refusal> {
    let number = |name| given.has(name).then(|| given.number(name, data)).transpose();
    let own = Sides { tangential: number("tangential")?, radial: number("radial")? };
    if own != Sides::default() {
        return Ok((own, Sides::default(), vec!["coefficients of change: as given".to_owned()]));
    }
    let wood = data.woods()?.find("wood", &given.word("wood", data)?, INSTEAD)?;
    if wood.moves == Sides::default() && wood.shrinks == Sides::default() {
        let (of, figure) = (wood.name, "movement figure");
        return Err(Refusal::NoFigure {
            of,
            figure,
            instead: "give what you measured, such as tangential=0.00248 radial=0.00126",
        });
    }
    Ok((wood.moves, wood.shrinks, wood.movement_sources()))
}

/// Returns the moisture content that a climate brings wood to, in percent.
fn moisture(climate: Climate) -> f64 {
    match climate {
        Climate::Air(air) => equilibrium(air),
        Climate::Moisture(percent) => percent,
    }
}

/// Returns the change one way, by the equation that holds for this moisture; nothing without a figure for that way.
fn way(
    width: Length,
    coefficient: Option<f64>,
    shrinkage: Option<f64>,
    from: f64,
    to: f64,
) -> Result<Option<Across>, Refusal> {
    let fault = |fault| Refusal::Unreadable { input: "width", fault };
    let (m1, m2) = (percent(from), percent(to));
    if LINEAR.contains(&from) && LINEAR.contains(&to) {
        let Some(c) = coefficient.or_else(|| shrinkage.map(coefficient_of)) else { return Ok(None) };
        let change = change(width, c, from, to).map_err(fault)?;
        return Ok(Some(Across { change, working: format!("{width} × {c:.5} × ({m2} − {m1}) = {change}") }));
    }
    let Some(s) = shrinkage.or_else(|| coefficient.map(shrinkage_of)) else { return Ok(None) };
    let change = change_by_shrinkage(width, s, from, to).map_err(fault)?;
    let working = format!("{width} × ({m2} − {m1}) / (3000 / {s:.2} − 30 + {from:.2}) = {change}");
    Ok(Some(Across { change, working }))
}

fn verdict(question: &str, change: Offset, from: f64, data: &Data) -> Result<&'static str, Refusal> {
    let is_wet = from > data.practice_number("wood-move.wet")?;
    Ok(match change.in_mm() < 0.0 {
        _ if change.size() <= data.practice_length("wood-move.will-move")? => "settled",
        true if question == "blank" || is_wet => "dry-it-first",
        _ => "will-move",
    })
}

fn percent(value: f64) -> String {
    format!("{value:.2}\u{a0}%")
}

fn strain_text(strain: f64) -> String {
    let word = match strain {
        0.0 => "",
        0.0.. => " of tension",
        _ => " of compression",
    };
    format!("{:.2}\u{a0}%{word}", strain.abs() * 100.0)
}

fn working(from: f64, to: f64, tangential: Option<&Across>, radial: Option<&Across>) -> String {
    let mut parts = vec![format!("moisture {} to {}", percent(from), percent(to))];
    parts.extend(tangential.map(|way| format!("tangential = {}", way.working)));
    parts.extend(radial.map(|way| format!("radial = {}", way.working)));
    parts.join("; ")
}

fn say(question: &str, verdict: &str, change: Offset, strain: f64) -> String {
    let by = change.size();
    let shrinks = change.in_mm() < 0.0;
    let answer = match (question, verdict, shrinks) {
        ("bore", "settled", _) => format!("The bore changes by {by} at most and will not bind."),
        ("bore", "dry-it-first", _) => {
            format!("Dry it before you bore to size: the bore would shrink by up to {by}, and bind.")
        }
        ("bore", _, true) => format!("The bore shrinks by up to {by} and may bind: give the tube that much more room."),
        ("bore", _, false) => {
            format!("The bore opens by up to {by}: it will not bind, but the glue has that gap to fill.")
        }
        ("blank", "settled", _) => format!("It is dry enough to drill: it changes by {by} at most."),
        ("blank", "dry-it-first", _) => format!(
            "Not yet: it would shrink by up to {by}. Let it stand where the pen will live until its weight stays the same \
             for a week."
        ),
        ("blank", _, _) => {
            format!("It is drier than where it will live and swells by up to {by}: let it stand there first.")
        }
        (_, "settled", _) => format!("It changes by {by} at most: no more than the wood bears on its tube."),
        (_, "dry-it-first", _) => format!(
            "Dry it before you glue the tube in: it would shrink by up to {by} on a tube that does not move ({}), and \
             may crack.",
            strain_text(strain)
        ),
        (_, _, true) => format!(
            "It shrinks by up to {by} on a tube that does not move ({}): it may crack. A thicker wall, glue that gives, or \
             wood dried where the pen will live all help.",
            strain_text(strain)
        ),
        (_, _, false) => {
            format!("It swells by up to {by}: it will not crack, but it may let go of the tube or stand proud.")
        }
    };
    format!(
        "{answer} An estimate: one curve of moisture for all woods, and a turned piece lies between along and across the \
         rings."
    )
}

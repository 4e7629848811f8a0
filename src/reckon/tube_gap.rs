//! `tube-gap`: how the tube sits in the hole, and how much glue the gap takes.

use super::data::BitSet;
use super::drill_for::smallest;
use super::input::{Input, Kind, Usual};
use super::limit::{is_over, reaches};
use super::{Asking, Data, Fork, Given, Outcome, Output, Reckoning, Refusal, Way};
use crate::units::{Length, LengthUnit, Offset, shown};

/// How a tube went into a trial hole: what a hand feels where no gauge reads.
const FEELS: &[&str] = &["drops", "finger", "force"];

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "tube-gap",
    answers: "how the tube sits in the hole, and how much glue the gap takes",
    inputs: &[
        Input {
            name: "tube",
            kind: Kind::Length { least: 1.0, most: 40.0 },
            meaning: "the outside of the tube, measured",
            usual: Usual::Asked,
        },
        Input {
            name: "hole",
            kind: Kind::Bore { words: FEELS, least: 1.0, most: 42.0 },
            meaning: "the hole; or how the tube goes into a trial hole in scrap of the same wood: it `drops` in, a `finger` slides it in, it takes `force`",
            usual: Usual::Asked,
        },
        Input {
            name: "length",
            kind: Kind::Length { least: 3.0, most: 200.0 },
            meaning: "the tube's length",
            usual: Usual::Asked,
        },
        Input {
            name: "drill",
            kind: Kind::Bore { words: &[], least: 1.0, most: 42.0 },
            meaning: "the bit for this tube; it stands for the hole where that was not measured",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "The hole's width, else the bit's, less the tube's outside, halved.",
        "Under {tube-gap.binds} it binds; to {tube-gap.close} close; to {tube-gap.easy} easy; to {tube-gap.roomy} roomy; over that too wide.",
    ],
    asking: Asking {
        forks: &[Fork {
            at: "hole",
            asks: "How is the hole known? No caliper measures a bore in wood.",
            ways: &[
                Way::Given {
                    say: "a trial hole in scrap of the same wood: how the tube goes in, or its size by pin gauges",
                    inputs: &["hole"],
                },
                Way::Given { say: "only by the bit's size", inputs: &["drill"] },
            ],
        }],
        ..Asking::NOTHING_BESIDES
    },
    verdicts: &[
        ("close", "the tube slides in with little room"),
        ("easy", "room for an even coat all round"),
        ("roomy", "more room than an even coat takes"),
        ("too-wide", "no glue holds the tube true in it"),
        ("will-bind", "the tube binds part-way, or scrapes off its glue"),
    ],
    sum,
};

/// Returns the gap on each side of a tube: `gap = (hole − tube) / 2`, in mm; below 0 where the tube is the wider.
///
/// Plain geometry of two circles on one axis. A twist bit often cuts a little over its size in wood, so that the true
/// gap is wider than a bit's size tells.
pub fn gap(hole: Length, tube: Length) -> Offset {
    (hole - tube).half()
}

/// Returns what the gap holds: `volume = π/4 · (hole² − tube²) · length`, in mm³, which are µl; 0 where there is no gap.
///
/// The ring between two cylinders, all lengths in mm. It is what fills the gap, not what is lost on gloves and ends.
pub fn volume(hole: Length, tube: Length, length: Length) -> f64 {
    let (hole, tube) = (hole.in_mm(), tube.in_mm());
    // As a product, so that little is lost where both are nearly alike.
    std::f64::consts::FRAC_PI_4 * ((hole - tube) * (hole + tube)).max(0.0) * length.in_mm()
}

/// The hole, and what is to be said of how it is known.
struct Hole {
    size: Length,
    said: Option<&'static str>,
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let mm = |name| given.length(name, data).map(|length| length.written_in(LengthUnit::Millimetre));
    let tube = mm("tube")?;
    let hole = hole(given, data, tube)?;
    let length = mm("length")?;
    let gap = gap(hole.size, tube);
    let verdict = verdict(gap, data)?;
    let mut say = match verdict {
        "will-bind" => "Do not drive it in.".to_owned(),
        "close" => "Medium glue, a light coat, or slow epoxy; thin glue only wicked in afterwards.".to_owned(),
        "easy" => "Medium glue or epoxy.".to_owned(),
        "roomy" => "Thick glue or epoxy, and turn the tube as it goes in, so that it is coated all round.".to_owned(),
        _ if is_bit(hole.size, given, data)? => "Choose another bit before you drill.".to_owned(),
        _ => "Choose another bit; if the blank is drilled already, plug the hole and drill again.".to_owned(),
    };
    if ["will-bind", "too-wide"].contains(&verdict) {
        say.push(' ');
        say.push_str(&bit_to_use(given, data, tube)?);
    }
    if let Some(said) = hole.said {
        say.push(' ');
        say.push_str(said);
    }
    let volume = volume(hole.size, tube, length);
    let (outputs, filled) = filled(gap, volume, data)?;
    let [h, t, l] = [hole.size, tube, length].map(|length| shown(length.in_mm(), 3));
    Ok(Outcome {
        outputs,
        verdict: Some(verdict),
        say,
        working: format!(
            "gap = (hole − tube) / 2 = ({h} − {t}) / 2 = {gap}; volume = π/4 × ({h}² − {t}²) × {l} = {filled}"
        ),
        face: None,
        sources: vec!["two cylinders on one axis: plain geometry".to_owned(), data.practice_source("tube-gap")],
    })
}

fn hole(given: &Given, data: &Data, tube: Length) -> Result<Hole, Refusal> {
    let Some(feel) = given.word_given("hole") else {
        let (name, said) = match given.has("hole") || !given.has("drill") {
            true => ("hole", None),
            false => {
                ("drill", Some("This takes the bit's size for the hole; a trial hole in scrap shows the true one."))
            }
        };
        let size = given.length(name, data)?.written_in(LengthUnit::Millimetre);
        return Ok(Hole { size, said });
    };
    let gap = data.practice_length(&format!("tube-gap.{feel}"))?;
    let size = Length::from_mm(tube.in_mm() + 2.0 * gap.in_mm());
    let size = size.map_err(|fault| Refusal::Unreadable { input: "hole", fault })?;
    Ok(Hole { size, said: Some("The gap is an estimate by feel (common practice, no source).") })
}

/// Tells whether a hole is the size of a bit, the kit's or one that is listed: that is what it will be, and no reading.
fn is_bit(hole: Length, given: &Given, data: &Data) -> Result<bool, Refusal> {
    let same = |bit: Length| reaches(bit.in_mm(), hole.in_mm()) && reaches(hole.in_mm(), bit.in_mm());
    if given.has("drill") && same(given.length("drill", data)?) {
        return Ok(true);
    }
    Ok(data.drills()?.nearest(hole, &BitSet::ALL).is_some_and(|bit| same(bit.diameter)))
}

fn verdict(gap: Offset, data: &Data) -> Result<&'static str, Refusal> {
    let mm = |key: &str| data.practice_length(&format!("tube-gap.{key}")).map(Length::in_mm);
    if !reaches(gap.in_mm(), mm("binds")?) {
        return Ok("will-bind");
    }
    for verdict in ["close", "easy", "roomy"] {
        if !is_over(gap.in_mm(), mm(verdict)?) {
            return Ok(verdict);
        }
    }
    Ok("too-wide")
}

/// Says which bit to take. A bit over the kit's own is never named where the kit's own clears.
fn bit_to_use(given: &Given, data: &Data, tube: Length) -> Result<String, Refusal> {
    if given.has("drill") {
        let own = given.length("drill", data)?;
        let clears = own.written_in(LengthUnit::Millimetre) - tube;
        match verdict(gap(own, tube), data)? {
            "will-bind" => {}
            "too-wide" => {
                return Ok(format!(
                    "The bit of {own} is {clears} wider than this tube: is it the kit's tube? Measure it again."
                ));
            }
            _ => return Ok(format!("The bit of {own} clears {clears}: use it.")),
        }
    }
    let least = data.practice_length("drill-for.least")?;
    Ok(match smallest(data.drills()?, tube, least, &BitSet::ALL).first() {
        Some(bit) => format!(
            "The smallest bit that clears it is {bit}, by {}; where the kit's own clears, take that one.",
            bit.diameter.written_in(LengthUnit::Millimetre) - tube
        ),
        None => "No listed bit clears it: measure the tube again.".to_owned(),
    })
}

/// The outputs, and the volume for the working.
fn filled(gap: Offset, volume: f64, data: &Data) -> Result<(Vec<Output>, String), Refusal> {
    let gap_output = Output::offset("gap", gap);
    if gap.in_mm() <= 0.0 {
        let none = |name, unit| Output::none(name, unit, "there is no gap to fill");
        return Ok((vec![gap_output, none("volume", "µl"), none("drops", "")], "nothing, there is no gap".to_owned()));
    }
    let drop = data.practice_number("tube-gap.drop")?;
    let drops = volume / drop;
    let volume_text = format!("{}\u{a0}µl", shown(volume, 1));
    let size = format!("{}\u{a0}µl", shown(drop, 1));
    let (drops_text, filled) = match drops < 1.0 {
        true => {
            (format!("less than one of {size}: spread it thin"), format!("{volume_text}, less than a drop of {size}"))
        }
        false => {
            let drops = shown(drops, 1);
            let word = if drops == "1" { "drop" } else { "drops" };
            (format!("{drops} of {size}"), format!("{volume_text}, {drops} {word} of {size}"))
        }
    };
    let volume = Output::number("volume", volume, "µl", volume_text);
    Ok((vec![gap_output, volume, Output::number("drops", drops, "", drops_text)], filled))
}

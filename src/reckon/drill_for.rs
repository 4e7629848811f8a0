//! `drill-for`: which bit for a tube.

use super::data::{Bit, BitSet, Drills};
use super::input::{Input, Kind, Usual};
use super::limit::{is_over, reaches};
use super::{Asking, Data, Given, Outcome, Output, Reckoning, Refusal};
use crate::units::{Length, LengthUnit, Offset};

/// How many of the next bits up are named.
const NEXT: usize = 3;

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "drill-for",
    answers: "which bit for this tube",
    inputs: &[
        Input {
            name: "tube",
            kind: Kind::Length { least: 1.0, most: 40.0 },
            meaning: "the outside of the tube, measured",
            usual: Usual::Asked,
        },
        Input {
            name: "sets",
            kind: Kind::Choices(&["fraction", "letter", "number", "metric"]),
            meaning: "the sets of bits at hand, with commas between",
            usual: Usual::Text("fraction,letter,number,metric"),
        },
        Input {
            name: "least",
            kind: Kind::Length { least: 0.0, most: 1.0 },
            meaning: "the least that hole and tube may differ, both sides together",
            usual: Usual::Practice("drill-for.least"),
        },
        Input {
            name: "most",
            kind: Kind::Length { least: 0.0, most: 2.0 },
            meaning: "the most that they may differ",
            usual: Usual::Practice("drill-for.most"),
        },
    ],
    pencil: &[
        "The tube's outside and {drill-for.least}: the first of your bits that is as wide, or wider.",
        "More than {drill-for.most} over the tube's outside wants glue that fills gaps.",
    ],
    asking: Asking::NOTHING_BESIDES,
    verdicts: &[
        ("found", "a bit clears the tube, and no more than glue takes"),
        ("over", "the best bit clears more than is wished: gap-filling glue"),
        ("none", "no bit in these sets clears the tube"),
    ],
    sum,
};

/// Returns by how much a bit clears a tube: `clearance = bit − tube`, of the diameters, in mm.
///
/// It is that of the sizes; a twist bit often cuts a little over its size in wood.
pub fn clearance(bit: &Bit, tube: Length) -> Offset {
    bit.diameter.written_in(LengthUnit::Millimetre) - tube
}

/// Returns the bits of some sets that clear a tube by at least `least`, in diameter, from the smallest up.
///
/// `bit − tube ≥ least`, to within a millionth of a millimetre: 10.35 mm clears 10.30 mm by 0.05 mm.
pub fn smallest<'d>(drills: &'d Drills, tube: Length, least: Length, sets: &'d [BitSet]) -> Vec<&'d Bit> {
    drills.of(sets).filter(|bit| reaches(clearance(bit, tube).in_mm(), least.in_mm())).collect()
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let tube = given.length("tube", data)?.written_in(LengthUnit::Millimetre);
    let sets = given.words("sets", data)?;
    let sets: Vec<BitSet> = BitSet::ALL.into_iter().filter(|set| sets.iter().any(|word| word == set.name())).collect();
    let (least, most) = (given.length("least", data)?, given.length("most", data)?);
    if most < least {
        return Err(Refusal::Contradicts {
            input: "most",
            why: format!("{most} is less than `least`, {least}"),
            help: "the least comes first; leave both out for what is usual".to_owned(),
        });
    }
    let drills = data.drills()?;
    let bits = smallest(drills, tube, least, &sets);
    let wanted = format!("{tube} + {}", least.written_in(LengthUnit::Millimetre));
    let sources = |own: bool| {
        let sizes = if own { "sizes: the shop's own list" } else { drills.source() };
        vec![sizes.to_owned(), data.practice_source("drill-for")]
    };
    let Some((best, rest)) = bits.split_first() else {
        let none = |name| Output::none(name, "mm", "no bit in these sets clears the tube");
        return Ok(Outcome {
            outputs: ["bit", "clearance", "next", "tie"].map(none).into(),
            verdict: Some("none"),
            say: "No bit in these sets clears it. Measure the tube again, or name more sets.".to_owned(),
            working: format!("{wanted} is more than the widest bit"),
            face: None,
            sources: sources(false),
        });
    };
    let (ties, larger): (Vec<&Bit>, Vec<&Bit>) = rest.iter().partition(|bit| same_size(bit, best));
    let clearance = clearance(best, tube);
    let over = is_over(clearance.in_mm(), most.in_mm());
    let (verdict, then) = match over {
        true => ("over", "That is wide: thick glue or epoxy, and turn the tube as it goes in."),
        false => {
            ("found", "Try it in scrap of the same wood; where the kit's sheet names a bit that clears, take that one.")
        }
    };
    Ok(Outcome {
        outputs: vec![
            Output::number("bit", best.diameter.in_mm(), "mm", with_mm(best)),
            Output::offset("clearance", clearance),
            listed("next", &larger[..larger.len().min(NEXT)], "no larger bit in these sets"),
            listed("tie", &ties, "no other bit in these sets is of the same size"),
        ],
        verdict: Some(verdict),
        say: format!("Take {}: it clears the tube by {clearance}. {then}", with_mm(best)),
        working: format!("the first bit from {wanted} up is {}; {} − {tube} = {clearance}", with_mm(best), mm(best)),
        face: None,
        sources: sources(best.is_own),
    })
}

fn same_size(one: &Bit, other: &Bit) -> bool {
    reaches(one.diameter.in_mm(), other.diameter.in_mm()) && reaches(other.diameter.in_mm(), one.diameter.in_mm())
}

/// Bits by name; the number is the size of the first.
fn listed(name: &'static str, bits: &[&Bit], none: &'static str) -> Output {
    match bits.first() {
        None => Output::none(name, "mm", none),
        Some(first) => {
            let names: Vec<String> = bits.iter().map(|bit| with_mm(bit)).collect();
            Output::number(name, first.diameter.in_mm(), "mm", names.join(", "))
        }
    }
}

/// The bit's name, with its size in mm where the name does not tell it.
fn with_mm(bit: &Bit) -> String {
    match bit.set {
        BitSet::Metric => bit.to_string(),
        _ => format!("{bit} ({})", mm(bit)),
    }
}

fn mm(bit: &Bit) -> Length {
    bit.diameter.written_in(LengthUnit::Millimetre)
}

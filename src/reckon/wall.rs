//! `wall`: how much wood is left at the bushing.

use super::input::{Input, Kind, Usual};
use super::limit::{is_over, reaches};
use super::{Asking, Data, Given, Outcome, Output, Reckoning, Refusal};
use crate::units::{Length, Offset};

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "wall",
    answers: "how much wood is left at the bushing",
    inputs: &[
        Input {
            name: "bushing",
            kind: Kind::Length { least: 3.0, most: 60.0 },
            meaning: "the bushing's diameter, which is what the wood is turned down to",
            usual: Usual::Asked,
        },
        Input {
            name: "hole",
            kind: Kind::Bore { words: &[], least: 1.0, most: 60.0 },
            meaning: "the hole that was drilled, the bit's size or name will do",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "Bushing less hole, halved.",
        "Nothing left: none; under {wall.eggshell} eggshell; under {wall.thin} thin; else sound.",
    ],
    asking: Asking::NOTHING_BESIDES,
    verdicts: &[
        ("sound", "the wall stands turning and sanding"),
        ("thin", "the wall flexes: sharp tools, light cuts, no heat from sanding"),
        ("eggshell", "the wall is so thin that the tube shows through or it cracks when pressed"),
        ("none", "the hole is as wide as the bushing: no wood is left"),
    ],
    sum,
};

/// Returns the wood left between hole and bushing: `wall = (bushing − hole) / 2`, in mm; at most 0 where none is left.
///
/// Plain geometry of two circles on one axis; a hole that runs out is thinner on one side by as much as it runs out.
pub fn wall(bushing: Length, hole: Length) -> Offset {
    (bushing - hole).half()
}

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let (bushing, hole) = (given.length("bushing", data)?, given.length("hole", data)?);
    let hole = hole.written_in(bushing.unit());
    let wall = wall(bushing, hole);
    let (eggshell, thin) = (data.practice_length("wall.eggshell")?, data.practice_length("wall.thin")?);
    let (verdict, say) = match wall.in_mm() {
        mm if !is_over(mm, 0.0) => {
            ("none", "No wood is left at the bushing. Check both readings; else it takes another bushing or bit.")
        }
        mm if !reaches(mm, eggshell.in_mm()) => {
            ("eggshell", "Leave it thicker, or back it with thin glue and take the lightest cuts.")
        }
        mm if !reaches(mm, thin.in_mm()) => ("thin", "Sharp tools, light cuts, and let it cool while sanding."),
        _ => ("sound", "There is wood enough, if the hole runs true."),
    };
    Ok(Outcome {
        outputs: vec![Output::offset("wall", wall)],
        verdict: Some(verdict),
        say: say.to_owned(),
        working: format!("wall = (bushing − hole) / 2 = ({bushing} − {hole}) / 2 = {wall}"),
        sources: vec!["two circles on one axis: plain geometry".to_owned(), data.practice_source("wall")],
        face: None,
    })
}

//! `blank-cut`: where to cut the blank.

mod layout;

use super::input::{Input, Kind, Usual};
use super::limit::reaches;
use super::{Asking, Data, Given, Outcome, Output, Reckoning, Refusal};
use crate::units::{Length, Offset, UnitError};

pub use layout::Layout;

/// What the outputs of each piece are called: its length, and where it ends.
const NAMES: [(&str, &str); 8] = [
    ("cut-1", "at-1"),
    ("cut-2", "at-2"),
    ("cut-3", "at-3"),
    ("cut-4", "at-4"),
    ("cut-5", "at-5"),
    ("cut-6", "at-6"),
    ("cut-7", "at-7"),
    ("cut-8", "at-8"),
];

pub(super) static RECKONING: Reckoning = Reckoning {
    name: "blank-cut",
    answers: "where to cut the blank",
    inputs: &[
        Input {
            name: "blank",
            kind: Kind::Length { least: 10.0, most: 2_000.0 },
            meaning: "the length of the blank",
            usual: Usual::Asked,
        },
        Input {
            name: "pieces",
            kind: Kind::Lengths { least: 5.0, most: 300.0 },
            meaning: "the tubes' lengths in the pen's order, with commas between",
            usual: Usual::Asked,
        },
        Input {
            name: "allowance",
            kind: Kind::Length { least: 0.0, most: 20.0 },
            meaning: "how much longer than its tube a piece is left at each end, to be squared off",
            usual: Usual::Asked,
        },
        Input {
            name: "kerf",
            kind: Kind::Length { least: 0.0, most: 6.0 },
            meaning: "how much the saw takes away, measured on a cut",
            usual: Usual::Asked,
        },
        Input {
            name: "feature",
            kind: Kind::Length { least: 0.0, most: 2_000.0 },
            meaning: "how far from the left end the figure is that should be shown off",
            usual: Usual::Asked,
        },
        Input {
            name: "into",
            kind: Kind::Count { least: 1, most: 8 },
            meaning: "which piece the figure should lie in, counted from the left",
            usual: Usual::Asked,
        },
    ],
    pencil: &[
        "Each piece: its tube's length and twice the allowance.",
        "Needed: all pieces, and a saw cut between each two. It fits where the blank is as long, or longer.",
        "Piece 1 ends at its own length; each further one a saw cut and its own length after the one before.",
    ],
    asking: Asking { also: &["feature"], ..Asking::NOTHING_BESIDES },
    verdicts: &[("fits", "the blank is long enough"), ("short", "the blank is too short for these pieces")],
    sum,
};

fn sum(given: &Given, data: &Data) -> Result<Outcome, Refusal> {
    let blank = given.length("blank", data)?;
    let tubes = given.lengths("pieces", data)?;
    if NAMES.len() < tubes.len() {
        return Err(Refusal::OutOfRange {
            input: "pieces",
            typed: format!("{} pieces", tubes.len()),
            range: format!("1 to {} pieces", NAMES.len()),
            slip: Some("lay out one blank at a time".to_owned()),
            meant: None,
        });
    }
    let (allowance, kerf) = (given.length("allowance", data)?, given.length("kerf", data)?);
    let layout = Layout::new(tubes, allowance, kerf).map_err(too_long)?;
    let n_pieces = layout.cuts().len();
    let figure = figure(given, data, blank, n_pieces)?;
    let needed = layout.needed(n_pieces - 1).map_err(too_long)?;
    let slack = blank - needed.written_in(blank.unit());
    let fits = reaches(slack.in_mm(), 0.0);
    let mut outputs: Vec<Output> =
        layout.cuts().iter().zip(NAMES).map(|(cut, (name, _))| Output::length(name, *cut)).collect();
    outputs.extend([Output::length("needed", needed), Output::offset("slack", slack)]);
    let (more, say) = match fits {
        true => fitting(&layout, slack, figure).map_err(too_long)?,
        false => short(blank, &layout, slack).map_err(too_long)?,
    };
    outputs.extend(more);
    Ok(Outcome {
        outputs,
        verdict: Some(if fits { "fits" } else { "short" }),
        say,
        working: working(blank, &layout, needed, slack),
        face: None,
        sources: vec!["lengths laid end to end: plain arithmetic".to_owned()],
    })
}

/// A figure in the wood that should be shown off: where it lies, and in which piece, counted from 0.
struct Figure {
    at: Length,
    piece: usize,
}

fn figure(given: &Given, data: &Data, blank: Length, n_pieces: usize) -> Result<Option<Figure>, Refusal> {
    if !given.has("feature") && !given.has("into") {
        return Ok(None);
    }
    let at = given.length("feature", data)?;
    let beyond =
        |input, typed: String, range: String| Refusal::OutOfRange { input, typed, range, slip: None, meant: None };
    if blank < at {
        return Err(beyond("feature", at.to_string(), format!("0 to {blank}, the blank's length")));
    }
    let into = if n_pieces == 1 && !given.has("into") { 1.0 } else { given.number("into", data)? };
    if n_pieces < into as usize {
        return Err(beyond("into", into.to_string(), format!("1 to {n_pieces}, the pieces there are")));
    }
    Ok(Some(Figure { at, piece: into as usize - 1 }))
}

fn fitting(layout: &Layout, slack: Offset, figure: Option<Figure>) -> Result<(Vec<Output>, String), UnitError> {
    let mut say = format!("It fits, with {slack} to spare; what is sawn off the outer ends comes out of that.");
    let mut outputs = Vec::new();
    let mut start = Length::from_mm(0.0)?;
    if let Some(Figure { at, piece }) = figure {
        let (shift, off) = layout.shift(at, piece, slack.size())?;
        start = shift;
        let lies = lies(off, layout.cuts()[piece]);
        say.push_str(&format!(" Begin {shift} from the left end: the figure then lies {lies} of piece {}.", piece + 1));
        outputs.extend([Output::length("shift", shift), Output::offset("off", off)]);
    }
    let places = layout.places(start)?;
    outputs.extend(places.into_iter().zip(NAMES).map(|((_, end), (_, name))| Output::length(name, end)));
    say.push_str(" Mark the ends before the first cut, and the way each piece points.");
    Ok((outputs, say))
}

/// Says where a figure lies that is so far past the middle of a piece.
fn lies(off: Offset, piece: Length) -> String {
    let far = off.size();
    let side = if off.in_mm() < 0.0 { "before" } else { "past" };
    match far.in_mm() {
        0.0 => "in the middle".to_owned(),
        mm if piece.half().in_mm() < mm => format!("{far} {side} the middle, outside,"),
        _ => format!("{far} {side} the middle"),
    }
}

fn short(blank: Length, layout: &Layout, slack: Offset) -> Result<(Vec<Output>, String), UnitError> {
    let allowance = layout.allowance_that_fits(blank)?;
    let by = slack.size();
    let (text, say) = match allowance.in_mm() < 0.0 {
        true => {
            let lacks = layout.bare_lacks(blank)?;
            (
                format!("none does: the bare tubes lack {lacks}"),
                format!("Short by {by}. Even the bare tubes and the saw cuts lack {lacks}: take another blank."),
            )
        }
        false => (
            format!("{allowance} at each end"),
            format!(
                "Short by {by}. It would fit with {allowance} left at each end; else a thinner saw, or another blank."
            ),
        ),
    };
    Ok((vec![Output::number("allowance-that-fits", allowance.in_mm(), "mm", text)], say))
}

fn working(blank: Length, layout: &Layout, needed: Length, slack: Offset) -> String {
    let joined = |lengths: &[Length], with: &str| lengths.iter().map(Length::to_string).collect::<Vec<_>>().join(with);
    format!(
        "cut = tube + 2 × {}: {} → {}; needed = {} + {} × {} = {needed}; {blank} − {needed} = {slack}",
        layout.allowance(),
        joined(layout.tubes(), ", "),
        joined(layout.cuts(), ", "),
        joined(layout.cuts(), " + "),
        layout.tubes().len() - 1,
        layout.kerf(),
    )
}

fn too_long(fault: UnitError) -> Refusal {
    Refusal::Unreadable { input: "pieces", fault }
}

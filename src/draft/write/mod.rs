//! Writes a guide's text: what the pieces of a pen go through in order, by runs of the shared procedures.
//!
//! Whatever is not known yet is left out, and what was given so far is needed at the end, so that every proof holds at
//! any moment. What a person has to look at stands in a comment after `fill in`.

mod block;
mod cap;
mod closing;
mod dry;
mod head;
mod join;
mod pressing;
mod said;
mod wood;

use super::build::Build;
use block::{Block, Steps};
pub(super) use head::FILL_IN;
pub(super) use said::{care, face, held, way_out};

/// Returns the text of the guide of a build, as far as that is known.
pub fn write(build: &Build) -> String {
    let style = build.style();
    let mut steps = Steps::default();
    wood::read_kit(&mut steps, style);
    if let Some(style) = style {
        wood::write(&mut steps, style, build);
        pressing::write(&mut steps, style, build);
        closing::write(&mut steps, style, build);
    }
    let mut needs = steps.open().to_vec();
    if build.is_whole() {
        needs.extend(build.parts.iter().map(|part| format!("{}.pressed", part.name)));
    }
    needs.dedup();
    steps.add(Block::end("finished", "finished").needs(needs));

    let words = steps.words();
    let words = if words.is_empty() { words } else { format!("\n[words]\n{words}") };
    [head::HEADER, &head::guide_table(style, build), &head::numbers(build), &words, steps.text()].concat()
}

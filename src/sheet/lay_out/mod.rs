//! Lays a guide out as a sheet: its steps in the order of the file, numbered, with every jump as a step's number.

mod chart;
mod checklist;
mod numbers;
mod parts;
mod step;

use super::model::{Line, Plain, Role, Run, Section, Sheet, Stamp};
use crate::guide::Guide;

pub use chart::chart;
pub use checklist::checklist;
pub use parts::parts;

/// Returns a sheet of this guide with its head filled in.
fn headed(guide: &Guide, name: &str, stamp: &Stamp) -> Sheet {
    let edition = guide.edition().map(|edition| format!("edition {edition}"));
    let job = stamp.job.as_ref().map(|job| format!("job {job}"));
    let told = [Some(guide.id().to_owned()), edition, stamp.date.clone(), job];
    let job = match stamp.job {
        Some(_) => None,
        None => Some(Line::new(Role::Fill, "Pen").with(Run::Blank).and("Begun").with(Run::Blank)),
    };
    Sheet {
        title: Plain::new(guide.title()),
        name: Plain::new(name),
        stamp: Plain::new(&told.into_iter().flatten().collect::<Vec<_>>().join(" · ")),
        head: job.into_iter().collect(),
        sections: Vec::new(),
        end: Plain::new(&format!("End of the sheet. {}: {}.", guide.title(), name.to_lowercase())),
    }
}

/// Returns an empty section with its title and the words at its end.
fn section(title: &str) -> Section {
    Section { title: Plain::new(title), blocks: Vec::new(), end: Plain::new(&format!("End of: {title}")) }
}

/// Returns a text with a full stop, where it has no other end.
fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?', ':']) { text.to_owned() } else { format!("{text}.") }
}

//! Lays a guide out as a sheet: its steps in the order of the file, numbered, with every jump as a step's number.

mod care;
mod chart;
mod checklist;
mod fault_tree;
mod labels;
mod numbers;
mod parts;
mod points;
mod record;
mod rehearsal;
mod short;
mod step;
mod using;

use super::model::{Line, Role, Run, Section, Sheet, Stamp};
use super::pages::{self, Paper, Reach};
use super::plain::Plain;
use super::text;
use crate::guide::{Guide, Step};

pub use care::care;
pub use chart::chart;
pub use checklist::checklist;
pub use fault_tree::{Fault, fault_trees};
pub use labels::labels;
pub use parts::parts;
pub use record::{Kept, record};
pub use rehearsal::rehearsal;
pub use short::short;

/// What a sheet is about: a guide, or a fault table.
struct Head<'t> {
    title: &'t str,
    id: &'t str,
    edition: Option<&'t str>,
}

/// Returns a sheet of this guide with its head filled in.
fn headed(guide: &Guide, name: &str, stamp: &Stamp) -> Sheet {
    head(Head { title: guide.title(), id: guide.id(), edition: guide.edition() }, name, stamp)
}

/// Returns a sheet with its head filled in.
fn head(about: Head<'_>, name: &str, stamp: &Stamp) -> Sheet {
    let edition = about.edition.map(|edition| format!("edition {edition}"));
    let job = stamp.job.as_ref().map(|job| format!("job {job}"));
    let told = [Some(about.id.to_owned()), edition, stamp.date.clone(), job];
    let job = match stamp.job {
        Some(_) => None,
        None => Some(Line::new(Role::Fill, "Pen").with(Run::Blank).and("Begun").with(Run::Blank)),
    };
    Sheet {
        title: Plain::new(about.title),
        name: Plain::new(name),
        stamp: Plain::new(&told.into_iter().flatten().collect::<Vec<_>>().join(" · ")),
        piece: stamp.job.as_deref().map(Plain::new),
        head: job.into_iter().collect(),
        sections: Vec::new(),
        close: false,
        end: Plain::new(&format!("End of the sheet. {}: {}.", about.title, name.to_lowercase())),
    }
}

/// What the pick list is called.
const PARTS: &str = "Parts and tools";

/// What the sheet of fault tables is called.
const TROUBLE: &str = "When it goes wrong";

/// The stage of the steps before the first that names one.
const FIRST: &str = "First";

/// Returns the stage that a step belongs to.
fn stage_of(step: &Step) -> &str {
    step.stage.as_deref().unwrap_or(FIRST)
}

/// Returns an empty section with its title and the words at its end.
fn section(title: &str) -> Section {
    Section { title: Plain::new(title), blocks: Vec::new(), end: Plain::new(&format!("End of: {title}")) }
}

/// The most lines of text that a page has.
const PAGE: usize = 50;

/// Tells whether a sheet is one page: as text, and on every paper.
fn fits_a_page(sheet: &Sheet) -> bool {
    let one = |paper| pages::set(sheet, paper, Reach::Near).pages.len() == 1;
    text::render(sheet).lines().count() <= PAGE && [Paper::A4, Paper::Letter].into_iter().all(one)
}

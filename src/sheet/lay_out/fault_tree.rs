//! A fault table on paper: what to do first, its questions in the order that costs the least, and how each remedy is
//! done.

mod doing;
mod goes_on;
mod page;
mod rows;

use self::doing::Doings;
use self::page::Page;
use super::{Head, TROUBLE, fits_a_page, head};
use crate::guide::Guide;
use crate::guide::document::Document;
use crate::sheet::model::{Line, Role, Section, Sheet, Stamp};
use crate::trouble::findings::Findings;
use crate::trouble::plan::{Budget, Policy, compile};
use crate::trouble::table::Table;

/// How many points a policy may have that is laid out.
const MOST_NODES: usize = 100_000;

/// A fault table with all that is printed of it.
#[derive(Debug, Clone)]
pub struct Fault {
    /// Its file.
    pub document: Document,
    /// What is asked.
    pub table: Table,
    /// The steps of each remedy, where they link: [`link_remedy`](crate::guide::Library::link_remedy).
    pub remedies: Vec<Option<Guide>>,
}

/// Returns fault tables as a sheet with this title, each on a page, its questions in the order of the best policy; after
/// them each remedy's steps, once.
///
/// Where not all rows of a policy fit on its page, the likeliest are on it; the others follow. With the guide whose
/// steps name the tables, a remedy says at which of its steps the work goes on.
pub fn fault_trees(title: &str, id: &str, faults: &[Fault], guide: Option<&Guide>, stamp: &Stamp) -> Sheet {
    let mut sheet = head(Head { title, id, edition: None }, TROUBLE, stamp);
    let odds = "In brackets: of 100, about how many that puts right; an estimate. Put right, go on at the step of the \
                checklist that is named, else where all holds that it needs. No answer fits, or nobody can tell: look again by \
                daylight with a loupe; else lay it aside.";
    (sheet.head, sheet.close) = (vec![Line::new(Role::Note, odds)], true);
    let goes_on = guide.map(|guide| goes_on::goes_on(guide, faults));
    let policies: Vec<Option<Policy>> = faults
        .iter()
        .map(|fault| compile(&fault.table.problem, &Findings::none(), &Budget::default(), MOST_NODES).ok())
        .collect();
    let mut pages: Vec<Page<'_>> = Vec::new();
    let mut first = 1;
    for (n, (fault, policy)) in faults.iter().zip(&policies).enumerate() {
        let leads_on = goes_on.as_ref().map(|goes_on| &*goes_on[n]);
        let page = Page::new(fault, policy.as_ref(), leads_on, first, faults.len() == 1);
        first += page.n_numbers();
        pages.push(page);
    }
    let doings = Doings::new(faults, first);
    for page in &pages {
        sheet.sections.extend(on_a_page(page, &doings, &sheet));
    }
    sheet.sections.extend(doings.sections());
    sheet
}

/// Returns a table as a section that fits on a page with the sheet's head, where that can be, and what follows it.
fn on_a_page(page: &Page<'_>, doings: &Doings<'_>, sheet: &Sheet) -> Vec<Section> {
    let fits = |sections: &[Section]| fits_a_page(&Sheet { sections: sections[..1].to_vec(), ..sheet.clone() });
    // The more rows, the more lines: the most that fit are found by halving.
    let (mut room, mut too_much) = (page.n_rows().min(1), page.n_rows() + 1);
    while room + 1 < too_much {
        let middle = room.midpoint(too_much);
        if fits(&page.sections(middle, doings)) { room = middle } else { too_much = middle }
    }
    page.sections(room, doings)
}

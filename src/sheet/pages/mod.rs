//! A sheet set on pages: every line in its place, every page with its head and foot, every jump with its page.

mod flow;
mod paper;
mod setting;
mod slab;
mod wrap;

use std::collections::{HashMap, HashSet};

pub use paper::{Paper, Reach, Sizes};
pub use wrap::Link;

use self::flow::{Piece, Turn, turns};
use self::paper::{BINDING, MARGIN};
use self::setting::{PageNumbers, Setting};
use self::slab::Slab;
use super::drawing::{Drawing, Mark, Stroke, at};
use super::font::Face;
use super::model::{Block, BlockKind, Role, Section, Sheet};
use super::plain::Plain;

/// A sheet on pages.
#[derive(Debug, Clone, PartialEq)]
pub struct Pages {
    /// What it is printed on.
    pub paper: Paper,
    /// How far it is read from.
    pub reach: Reach,
    /// Margins and sizes.
    pub frame: PageFrame,
    /// The pages in order.
    pub pages: Vec<Page>,
    /// Where each section begins.
    pub bookmarks: Vec<Bookmark>,
    /// The page of each step, from 1.
    pub page_of_step: HashMap<usize, usize>,
}

/// The margins round what is read on a page, and the sizes of its type, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PageFrame {
    /// Down to where what is read begins, the page's head within it.
    pub top: f32,
    /// At the right.
    pub right: f32,
    /// Below what is read and the line that says where it goes on.
    pub bottom: f32,
    /// At the left.
    pub left: f32,
    /// Where a step's words begin, right of its box and number.
    pub words_at: f32,
    /// The sizes of type.
    pub sizes: Sizes,
}

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// What is on it.
    pub drawing: Drawing,
    /// What leads from it to a step.
    pub links: Vec<Link>,
    /// The steps that stand on it, each with how far down.
    pub steps: Vec<(usize, f32)>,
    /// What it begins with.
    pub first: Option<Place>,
    /// What its foot says of the next page.
    pub continued: Plain,
}

/// A block's place in its sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// A section's title.
    Title(usize),
    /// A block of a section.
    Block(usize, usize),
    /// The mark at a section's end.
    End(usize),
}

/// A name that leads to a place on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Bookmark {
    /// What it says.
    pub title: Plain,
    /// The page, from 0.
    pub page: usize,
    /// How far down.
    pub y: f32,
}

/// How many labels stand side by side.
const LABELS_IN_A_ROW: usize = 3;

/// Room under the words that say what is continued.
const AFTER_CONTINUED: f32 = 4.0;

/// The room for the pen's name or number at the head of a page.
const PEN: f32 = 120.0;

/// A slab with what is known of it.
struct Item {
    slab: Slab,
    gap: f32,
    turn: Turn,
    section: Option<usize>,
    step: Option<usize>,
    place: Option<Place>,
}

/// Sets a sheet on pages of this paper, in type for this distance.
///
/// What comes to two pages, or is to stay on one, is set in the smallest type that is allowed where that makes it one.
pub fn set(sheet: &Sheet, paper: Paper, reach: Reach) -> Pages {
    let pages = set_in(sheet, paper, reach, Sizes::at(reach));
    let nearly_one = pages.pages.len() == 2 || (sheet.close && pages.pages.len() > 1);
    if reach == Reach::Near && nearly_one {
        let small = set_in(sheet, paper, reach, Sizes::least());
        if sheet.close || small.pages.len() == 1 {
            return small;
        }
    }
    pages
}

fn set_in(sheet: &Sheet, paper: Paper, reach: Reach, sizes: Sizes) -> Pages {
    let frame = Frame::new(sheet, paper, sizes);
    let steps: HashSet<usize> = sheet.sections.iter().flat_map(|section| &section.blocks).filter_map(step_of).collect();
    let (mut known, mut digits) = (HashMap::new(), 1);
    // A sheet that is to be one page has no other to name, unless it comes to more.
    let mut tells_pages = !sheet.close;
    loop {
        // The first round finds where the steps stand; room is kept for their pages' numbers, so the second finds the
        // same.
        let of_step = |step: usize| known.get(&step).copied();
        let has_step = |step: usize| tells_pages && steps.contains(&step);
        let numbers = PageNumbers { of_step: &of_step, has_step: &has_step, digits };
        let items = items(sheet, &Setting { sizes, width: frame.width, close: sheet.close, numbers }, frame.body);
        let pieces: Vec<Piece> =
            items.iter().map(|item| Piece { height: item.slab.height(), gap: item.gap, turn: item.turn }).collect();
        let begins = turns(&pieces, frame.body);
        let needed = begins.len().to_string().len();
        let on_page = |n: usize| begins.partition_point(|begin| *begin <= n);
        let found: HashMap<usize, usize> =
            items.iter().enumerate().filter_map(|(n, item)| Some((item.step?, on_page(n)))).collect();
        if !tells_pages && begins.len() > 1 {
            tells_pages = true;
            continue;
        }
        if needed > digits || found != known {
            digits = digits.max(needed);
            known = found;
            continue;
        }
        let (pages, bookmarks) = frame.pages(sheet, &items, &begins);
        return Pages { paper, reach, frame: frame.told(), pages, bookmarks, page_of_step: known };
    }
}

/// Returns all that is placed, in order.
fn items(sheet: &Sheet, setting: &Setting, page: f32) -> Vec<Item> {
    let sizes = &setting.sizes;
    let mut items = Vec::new();
    let mut head = Slab::text(sheet.title.as_str(), Face::Bold, sizes.title, setting.width);
    let below = [(&sheet.name, Face::Bold, sizes.heading), (&sheet.stamp, Face::Regular, sizes.small)];
    // Where lines stand close, the page's head alone says what day it is of.
    for (words, face, size) in below.into_iter().take(if setting.close { 1 } else { 2 }) {
        head.rows.extend(Slab::text(words.as_str(), face, size, setting.width).rows);
    }
    let lines = Block::new(BlockKind::Item, sheet.head.clone());
    head.rows.extend(Slab::of(&lines, setting).rows);
    items.push(Item { slab: head, gap: 0.0, turn: Turn::Section, section: None, step: None, place: None });
    for (n, section) in sheet.sections.iter().enumerate() {
        section_items(&mut items, (n, section), setting, page);
    }
    let end = Slab::end(sheet.end.as_str(), setting);
    let gap = if setting.close { 0.0 } else { sizes.body };
    items.push(Item { slab: end, gap, turn: Turn::Torn, section: None, step: None, place: None });
    items
}

fn section_items(items: &mut Vec<Item>, (n, section): (usize, &Section), setting: &Setting, page: f32) {
    let body = setting.sizes.body;
    let mut keeps_next = !section.title.as_str().is_empty();
    if keeps_next {
        let slab = Slab::title(section.title.as_str(), setting);
        let place = Some(Place::Title(n));
        let gap = body * if setting.close { 0.3 } else { 1.2 };
        items.push(Item { slab, gap, turn: Turn::Section, section: Some(n), step: None, place });
    }
    let mut last = None;
    let mut blocks = section.blocks.iter().enumerate().peekable();
    while let Some((at, block)) = blocks.next() {
        let turn = if keeps_next || block.kind == BlockKind::EndMark { Turn::Torn } else { turn_before(block) };
        // Half a line more between steps; the things of a list stand as its lines do.
        let listed = last == Some(BlockKind::Item) && block.kind == BlockKind::Item;
        let gap = match () {
            () if setting.close => 0.0,
            () if listed => 2.0,
            // What stands before a step in its frame belongs to what follows.
            () if begins_framed(block) => body,
            () => body * 0.64,
        };
        let mut slab = Slab::of(block, setting);
        if block.kind == BlockKind::Label {
            let mut row = vec![slab];
            let is_label = |(_, next): &(usize, &Block)| next.kind == BlockKind::Label;
            while row.len() < LABELS_IN_A_ROW
                && let Some((_, next)) = blocks.next_if(is_label)
            {
                row.push(Slab::of(next, setting));
            }
            slab = Slab::side_by_side(row);
        }
        let step = step_of(block);
        for (part, slab) in slab.cut(page).into_iter().enumerate() {
            let first = part == 0;
            items.push(Item {
                slab,
                gap: if first { gap } else { 0.0 },
                turn: if first { turn } else { Turn::Torn },
                section: Some(n),
                step: step.filter(|_| first),
                place: first.then_some(Place::Block(n, at)),
            });
        }
        keeps_next = block.kind == BlockKind::Heading;
        last = Some(block.kind);
    }
    if !section.end.as_str().is_empty() {
        let (slab, place) = (Slab::end(section.end.as_str(), setting), Some(Place::End(n)));
        items.push(Item { slab, gap: body * 0.4, turn: Turn::Torn, section: Some(n), step: None, place });
    }
}

fn step_of(block: &Block) -> Option<usize> {
    if let BlockKind::Step(step) = block.kind { Some(step) } else { None }
}

fn begins_framed(block: &Block) -> bool {
    block.lines.first().is_some_and(|line| matches!(line.role, Role::Hold | Role::Hazard))
}

fn turn_before(block: &Block) -> Turn {
    let held = block.lines.iter().any(|line| line.role == Role::Hold);
    if held || block.kind == BlockKind::Heading { Turn::Rest } else { Turn::Step }
}

/// What surrounds the words of every page.
struct Frame {
    size: (f32, f32),
    width: f32,
    /// The height that is left for what is read.
    body: f32,
    /// How far down that begins.
    top: f32,
    sizes: Sizes,
    head: Slab,
}

impl Frame {
    fn new(sheet: &Sheet, paper: Paper, sizes: Sizes) -> Frame {
        let size = paper.size();
        let width = size.0 - BINDING - MARGIN;
        let pen = if sheet.has_pen_line() { PEN } else { 0.0 };
        let mut head = Slab::text(&sheet.running_head(), Face::Regular, sizes.small, width - pen);
        if let Some(last) = head.rows.last_mut().filter(|_| pen > 0.0) {
            // Each page tells which pen it was used for, should it be taken from the others.
            let baseline = last.height - sizes.small * 0.36;
            let (left, word) = (width - pen + 12.0, Face::Regular.width("Pen ", sizes.small));
            last.marks.push(Mark::words(at(left, baseline), sizes.small, Face::Regular, "Pen"));
            let line = vec![at(left + word, baseline + 2.0), at(width, baseline + 2.0)];
            last.marks.push(Mark::Line { points: line, stroke: Stroke::black(0.8) });
        }
        let line = sizes.small * paper::PITCH;
        let mut frame = Frame { size, width, body: 0.0, top: MARGIN + head.height() + 8.0, sizes, head };
        // A rule under the head, the lines that may say what is continued, and the foot.
        let continued = sheet.sections.iter().map(|section| frame.continued(section).height()).fold(line, f32::max);
        frame.body = size.1 - MARGIN - frame.top - line - continued - AFTER_CONTINUED - 4.0;
        frame
    }

    /// Returns what stands over the rest of a section on a further page.
    fn continued(&self, section: &Section) -> Slab {
        Slab::text(section.continued().as_str(), Face::Bold, self.sizes.small, self.width)
    }

    fn told(&self) -> PageFrame {
        let words_at = setting::words_at(&self.sizes);
        PageFrame { top: self.top, right: MARGIN, bottom: MARGIN, left: BINDING, words_at, sizes: self.sizes }
    }

    fn pages(&self, sheet: &Sheet, items: &[Item], begins: &[usize]) -> (Vec<Page>, Vec<Bookmark>) {
        let mut bookmarks = Vec::new();
        let pages = begins.iter().enumerate().map(|(n, begin)| {
            let end = begins.get(n + 1).copied().unwrap_or(items.len());
            let mut page = self.page(sheet, &items[*begin..end], (n + 1, begins.len()));
            for (title, y) in std::mem::take(&mut page.1) {
                bookmarks.push(Bookmark { title, page: n, y });
            }
            page.0
        });
        (pages.collect(), bookmarks)
    }

    fn page(&self, sheet: &Sheet, items: &[Item], (number, of): (usize, usize)) -> (Page, Vec<(Plain, f32)>) {
        let drawing =
            Drawing { width: self.size.0, height: self.size.1, title: sheet.title.clone(), marks: Vec::new() };
        let first = items.iter().find_map(|item| item.place);
        let mut page = Page { drawing, links: Vec::new(), steps: Vec::new(), first, continued: Plain::default() };
        let mut bookmarks = Vec::new();
        let mut y = page.put(&self.head, MARGIN);
        let rule = vec![at(BINDING, y + 2.0), at(BINDING + self.width, y + 2.0)];
        page.drawing.marks.push(Mark::Line { points: rule, stroke: Stroke::black(0.8) });
        y = self.top;
        let begins_in =
            items.first().and_then(|item| item.section.filter(|_| !matches!(item.place, Some(Place::Title(_)))));
        if let Some(section) = begins_in {
            let continued = self.continued(&sheet.sections[section]);
            let line = self.sizes.small * paper::PITCH;
            y = page.put(&continued, y).max(y + line) + AFTER_CONTINUED;
        }
        for (n, item) in items.iter().enumerate() {
            y += if n > 0 { item.gap } else { 0.0 };
            if let Some(Place::Title(section)) = item.place {
                bookmarks.push((sheet.sections[section].title.clone(), y));
            }
            page.steps.extend(item.step.map(|step| (step, y)));
            y = page.put(&item.slab, y);
        }
        self.foot(&mut page, (number, of));
        (page, bookmarks)
    }

    fn foot(&self, page: &mut Page, (number, of): (usize, usize)) {
        let (size, baseline) = (self.sizes.small, self.size.1 - MARGIN - self.sizes.small * 0.25);
        if number < of {
            page.continued = Plain::new(&format!("continued on page\u{a0}{}", number + 1));
            let words = page.continued.as_str().to_owned();
            page.drawing.marks.push(Mark::words(at(BINDING, baseline), size, Face::Bold, &words));
        }
        let words = format!("page\u{a0}{number} of {of}");
        let left = BINDING + self.width - Face::Regular.width(&words, size);
        page.drawing.marks.push(Mark::words(at(left, baseline), size, Face::Regular, &words));
    }
}

impl Page {
    /// Puts a slab that far down; returns where it ends.
    fn put(&mut self, slab: &Slab, mut y: f32) -> f32 {
        for row in &slab.rows {
            self.drawing.marks.extend(row.marks.iter().cloned().map(|mut mark| {
                mark.shift(BINDING, y);
                mark
            }));
            self.links.extend(row.links.iter().map(|link| Link { x: link.x + BINDING, y: link.y + y, ..*link }));
            y += row.height;
        }
        y
    }
}

//! A block set as a slab: lines, boxes and rules in a width, with its height. Slabs stand under each other on pages.

use super::paper::{AFTER_BOX, BOX, SET_IN};
use super::setting::{Setting, words_at};
use super::wrap::{Link, SetLine, set, set_text};
use crate::sheet::drawing::{Drawing, MM, Mark, Shade, Stroke, at};
use crate::sheet::font::Face;
use crate::sheet::model::{Block, BlockKind, Line, Role};

/// Room between a frame and the words in it.
const PAD: f32 = 4.0;

/// The width of a label, which is to go round a piece of a pen.
const LABEL: f32 = 48.0 * MM;

/// From the left edge of a label to that of the one beside it.
const NEXT_LABEL: f32 = 52.0 * MM;

/// A line's worth of a slab; a page may be turned between two of them where there is no other way.
pub(super) struct Row {
    pub height: f32,
    pub marks: Vec<Mark>,
    pub links: Vec<Link>,
}

/// Rows that stand together.
#[derive(Default)]
pub(super) struct Slab {
    pub rows: Vec<Row>,
}

impl Slab {
    pub fn height(&self) -> f32 {
        self.rows.iter().map(|row| row.height).sum()
    }

    /// Returns a block, set.
    pub fn of(block: &Block, setting: &Setting) -> Slab {
        let mut slab = Slab::default();
        let is_step = matches!(block.kind, BlockKind::Step(_));
        if block.kind == BlockKind::Label {
            slab.label(&block.lines, setting);
            return slab;
        }
        for lines in block.lines.chunk_by(|a, b| stand_together(a.role, b.role)) {
            let Some(first) = lines.first() else { continue };
            match first.role {
                Role::Hold | Role::Need if is_step => slab.hold(lines, setting),
                Role::Hazard => slab.hazard(lines, is_step, setting),
                Role::Way if is_step => slab.ways(lines, setting),
                _ => lines.iter().for_each(|line| slab.plain(line, block.kind, setting)),
            }
        }
        if let Some(figure) = &block.figure {
            slab.figure(figure, words_at(&setting.sizes));
        }
        slab
    }

    /// Returns a heading with a rule over it.
    pub fn title(text: &str, setting: &Setting) -> Slab {
        let mut slab = Slab::default();
        if setting.close {
            slab.put(set_text(text, Face::Bold, setting.sizes.body, setting.width), 0.0);
            return slab;
        }
        let rule = Mark::Line { points: vec![at(0.0, 1.0), at(setting.width, 1.0)], stroke: Stroke::black(2.0) };
        slab.rows.push(Row { height: 6.0, marks: vec![rule], links: Vec::new() });
        slab.put(set_text(text, Face::Bold, setting.sizes.heading, setting.width), 0.0);
        slab.rows.push(Row::space(setting.sizes.body * 0.4));
        slab
    }

    /// Returns words in one face over the whole width.
    pub fn text(text: &str, face: Face, size: f32, width: f32) -> Slab {
        let mut slab = Slab::default();
        slab.put(set_text(text, face, size, width), 0.0);
        slab
    }

    /// Returns the line that marks an end, at the right.
    pub fn end(text: &str, setting: &Setting) -> Slab {
        let mut slab = Slab::default();
        slab.end_mark(&set_text(text, Face::Regular, setting.sizes.small, setting.width - 12.0), setting.width);
        slab
    }

    /// Puts lines at the right, the last with a filled square after it: nothing more comes.
    fn end_mark(&mut self, lines: &[SetLine], wide: f32) {
        for (n, line) in lines.iter().enumerate() {
            let mut row = Row::of(line, (wide - 12.0 - line.width()).max(0.0));
            if n + 1 < lines.len() {
                self.rows.push(row);
                continue;
            }
            let middle = line.height() / 2.0;
            row.marks.push(Mark::rectangle(at(wide - 8.0, middle - 3.0), (7.0, 7.0), Some(Shade::Black), None));
            self.rows.push(row);
        }
    }

    fn put(&mut self, lines: Vec<SetLine>, x: f32) {
        self.rows.extend(lines.iter().map(|line| Row::of(line, x)));
    }

    /// Puts a line, with its box before it where it has one.
    fn put_ticked(&mut self, lines: Vec<SetLine>, ticks: bool, x: f32, setting: &Setting) {
        let words = if ticks { x + BOX + AFTER_BOX } else { x };
        let from = self.rows.len();
        self.put(lines, words);
        if let Some(first) = self.rows.get_mut(from).filter(|_| ticks) {
            first.grow(setting.boxed());
            first.marks.push(setting.tick_box(x, first.height));
        }
    }

    fn plain(&mut self, line: &Line, kind: BlockKind, setting: &Setting) {
        let sizes = &setting.sizes;
        match (kind, line.role) {
            (BlockKind::Step(number), Role::Action) => self.action(line, number, setting),
            (BlockKind::Step(_), role) => {
                let size = if role == Role::Note { sizes.small } else { sizes.body };
                let x = words_at(&setting.sizes) + if role == Role::Move { SET_IN } else { 0.0 };
                let words = x + if line.tick { BOX + AFTER_BOX } else { 0.0 };
                let lines = set(line, Face::Regular, (size, setting.width - words), setting);
                self.put_ticked(lines, line.tick, x, setting);
            }
            (BlockKind::Heading, Role::Action) => {
                let lines = set(line, Face::Bold, (sizes.body, setting.width), setting);
                self.put(lines, 0.0);
                self.rows.push(Row::space(sizes.body * 0.3));
            }
            (BlockKind::EndMark, _) => {
                self.end_mark(&set(line, Face::Regular, (sizes.small, setting.width - 12.0), setting), setting.width)
            }
            (_, role) => {
                let size = if role == Role::Note { sizes.small } else { sizes.body };
                let words = if line.tick { BOX + AFTER_BOX } else { 0.0 };
                let lines = set(line, Face::Regular, (size, setting.width - words), setting);
                self.put_ticked(lines, line.tick, 0.0, setting);
            }
        }
    }

    /// Puts what is to be done, with the step's box and number in their columns.
    fn action(&mut self, line: &Line, number: usize, setting: &Setting) {
        let (size, x) = (setting.sizes.body, words_at(&setting.sizes));
        let from = self.rows.len();
        self.put(set(line, Face::Regular, (size, setting.width - x), setting), x);
        let Some(first) = self.rows.get_mut(from) else { return };
        first.grow(setting.boxed());
        let number = format!("{number}.");
        let right = x - AFTER_BOX - Face::Bold.width(&number, size);
        let mut before = Vec::new();
        if line.tick {
            before.push(setting.tick_box(0.0, first.height));
        }
        let baseline = first.marks.iter().find_map(Mark::baseline).unwrap_or(first.height - size * 0.36);
        before.push(Mark::words(at(right, baseline), size, Face::Bold, &number));
        first.marks.splice(0..0, before);
    }

    /// Puts a hold in a frame.
    fn hold(&mut self, lines: &[Line], setting: &Setting) {
        let x = words_at(&setting.sizes);
        let mut inner = Slab::default();
        for line in lines {
            let tick = if line.tick { BOX + AFTER_BOX } else { 0.0 };
            let width = setting.width - x - 2.0 * PAD - tick;
            let face = if line.role == Role::Hold { Face::Bold } else { Face::Regular };
            inner.put_ticked(set(line, face, (setting.sizes.body, width), setting), line.tick, x + PAD, setting);
        }
        self.framed(inner, (x, 2.0, 2.0), setting);
    }

    /// Puts what can hurt in a frame with a heavy bar at its side.
    fn hazard(&mut self, lines: &[Line], is_step: bool, setting: &Setting) {
        let x = if is_step { words_at(&setting.sizes) } else { 0.0 };
        for line in lines {
            let mut inner = Slab::default();
            let width = setting.width - x - 2.0 * PAD - 6.0;
            inner.put(set(line, Face::Regular, (setting.sizes.body, width), setting), x + PAD + 6.0);
            self.framed(inner, (x, 0.8, 6.0), setting);
        }
    }

    /// Puts where one goes on, set in, with a rule at the side.
    fn ways(&mut self, lines: &[Line], setting: &Setting) {
        let x = words_at(&setting.sizes) + SET_IN;
        self.rows.push(Row::space(setting.room(3.0)));
        let from = self.rows.len();
        for line in lines {
            let tick = if line.tick { BOX + AFTER_BOX } else { 0.0 };
            let width = setting.width - x - tick;
            self.put_ticked(set(line, Face::Regular, (setting.sizes.body, width), setting), line.tick, x, setting);
        }
        for row in &mut self.rows[from..] {
            let points = vec![at(x - 6.0, 0.0), at(x - 6.0, row.height)];
            row.marks.insert(0, Mark::Line { points, stroke: Stroke { shade: Shade::Grey, ..Stroke::black(1.5) } });
        }
    }

    /// Puts rows in a frame, drawn row by row so that it may be cut between two of them.
    fn framed(&mut self, inner: Slab, (x, line, side): (f32, f32, f32), setting: &Setting) {
        let width = setting.width - x;
        self.rows.push(Row::space(setting.room(3.0)));
        let from = self.rows.len();
        self.rows.push(Row::space(setting.room(PAD / 2.0)));
        self.rows.extend(inner.rows);
        self.rows.push(Row::space(setting.room(PAD)));
        let last = self.rows.len() - 1;
        for n in from..=last {
            let row = &mut self.rows[n];
            let below = row.height;
            let stroke = Stroke::black(line);
            let mut lines = vec![
                Mark::Line {
                    points: vec![at(x + side / 2.0, 0.0), at(x + side / 2.0, below)],
                    stroke: Stroke::black(side),
                },
                Mark::Line { points: vec![at(x + width - line / 2.0, 0.0), at(x + width - line / 2.0, below)], stroke },
            ];
            if n == from {
                lines.push(Mark::Line { points: vec![at(x, line / 2.0), at(x + width, line / 2.0)], stroke });
            }
            if n == last {
                lines.push(Mark::Line {
                    points: vec![at(x, below - line / 2.0), at(x + width, below - line / 2.0)],
                    stroke,
                });
            }
            row.marks.splice(0..0, lines);
        }
        self.rows.push(Row::space(setting.room(3.0)));
    }

    /// Returns labels side by side, as one row that is not cut.
    pub fn side_by_side(labels: Vec<Slab>) -> Slab {
        let mut all = Row::space(labels.iter().map(Slab::height).fold(0.0, f32::max));
        let mut x = 0.0;
        for slab in labels {
            let mut y = 0.0;
            for row in slab.rows {
                all.marks.extend(row.marks.into_iter().map(|mut mark| {
                    mark.shift(x, y);
                    mark
                }));
                y += row.height;
            }
            x += NEXT_LABEL;
        }
        Slab { rows: vec![all] }
    }

    /// Puts a label to cut out along its frame.
    fn label(&mut self, lines: &[Line], setting: &Setting) {
        let (from, width) = (self.rows.len(), LABEL.min(setting.width));
        self.rows.push(Row::space(PAD));
        for line in lines {
            let tick = if line.tick { BOX + AFTER_BOX } else { 0.0 };
            let face = if line.role == Role::Action { Face::Bold } else { Face::Regular };
            let room = (setting.sizes.body, width - 4.0 * PAD - tick);
            self.put_ticked(set(line, face, room, setting), line.tick, 2.0 * PAD, setting);
        }
        self.rows.push(Row::space(PAD));
        let height: f32 = self.rows[from..].iter().map(|row| row.height).sum();
        let cut = Stroke { dashed: true, ..Stroke::black(1.0) };
        self.rows[from].marks.push(Mark::rectangle(at(0.0, 0.0), (width, height), None, Some(cut)));
    }

    fn figure(&mut self, figure: &Drawing, x: f32) {
        let marks = figure.marks.iter().cloned().map(|mut mark| {
            mark.shift(x, 0.0);
            mark
        });
        self.rows.push(Row { height: figure.height + 2.0 * MM, marks: marks.collect(), links: Vec::new() });
    }

    /// Cuts it into slabs that are no higher than this; one row is never cut.
    pub fn cut(self, most: f32) -> Vec<Slab> {
        let mut slabs = vec![Slab::default()];
        let mut height = 0.0;
        for row in self.rows {
            if height > 0.0 && height + row.height > most {
                slabs.push(Slab::default());
                height = 0.0;
            }
            height += row.height;
            slabs.last_mut().unwrap_or(&mut Slab::default()).rows.push(row);
        }
        slabs
    }
}

impl Row {
    fn space(height: f32) -> Row {
        Row { height, marks: Vec::new(), links: Vec::new() }
    }

    /// Makes it at least this high; its words stay as far from the next line as they were.
    fn grow(&mut self, height: f32) {
        let lower = (height - self.height).max(0.0);
        self.marks.iter_mut().for_each(|mark| mark.shift(0.0, lower));
        self.links.iter_mut().for_each(|link| link.y += lower);
        self.height += lower;
    }

    fn of(line: &SetLine, x: f32) -> Row {
        let mut row = Row::space(line.height());
        line.put(x, 0.0, &mut row.marks, &mut row.links);
        row
    }
}

/// Returns whether lines of these roles stand in one frame, or along one rule.
fn stand_together(a: Role, b: Role) -> bool {
    let held = |role| matches!(role, Role::Hold | Role::Need);
    (held(a) && held(b)) || (a == b && matches!(a, Role::Hazard | Role::Way))
}

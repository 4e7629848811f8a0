//! A sheet as plain text, 80 columns wide: for a terminal, a printer, or a file.

use std::fmt::Write;

use super::model::{Block, BlockKind, Line, Role, Run, Section, Sheet};

/// The widest line.
const COLUMNS: usize = 80;

/// The widest line of a sheet whose lines stand close.
pub(super) const CLOSE_COLUMNS: usize = 66;

/// Where a step's words begin, right of its box and number.
const INDENT: usize = 9;

/// And where there is no box.
const CLOSE_INDENT: usize = 5;

/// The line to write on, and that of a sheet whose lines stand close.
const BLANKS: [&str; 2] = ["____________", "______"];

/// Returns the sheet as text.
///
/// The boxes of the steps stand in one column; what belongs to a step is set in under its words, a hold and what can
/// hurt with a rule at the side, before the step.
pub fn render(sheet: &Sheet) -> String {
    let columns = if sheet.close { CLOSE_COLUMNS } else { COLUMNS };
    let mut page = Page { out: String::new(), columns, close: sheet.close };
    for words in [&sheet.title, &sheet.name, &sheet.stamp] {
        page.wrap(words.as_str(), "", "");
    }
    for line in &sheet.head {
        page.wrap(&said(line, sheet.close), "", "");
    }
    for section in &sheet.sections {
        page.show(section);
    }
    page.out.push('\n');
    page.wrap(sheet.end.as_str(), "", "");
    page.out
}

/// A page that is being filled.
struct Page {
    out: String,
    columns: usize,
    /// Whether lines stand close: no line is left empty inside a section, none is drawn under a title.
    close: bool,
}

impl Page {
    fn show(&mut self, section: &Section) {
        self.out.push('\n');
        self.wrap(section.title.as_str(), "", "");
        if !section.title.as_str().is_empty() && !self.close {
            self.underline('=');
            self.out.push('\n');
        }
        let mut last = None;
        for block in &section.blocks {
            let apart = last.is_some_and(|last| !matches!((last, block.kind), (BlockKind::Item, BlockKind::Item)));
            if apart && !self.close {
                self.out.push('\n');
            }
            if block.kind == BlockKind::Label {
                self.out.push_str(&format!("{}\n", "- ".repeat(self.columns / 2).trim_end()));
            }
            for line in &block.lines {
                self.show_line(block, line);
                if (block.kind, line.role) == (BlockKind::Heading, Role::Action) && !self.close {
                    self.underline('-');
                }
            }
            last = Some(block.kind);
        }
        if !section.end.as_str().is_empty() {
            self.out.push('\n');
            self.wrap(section.end.as_str(), "", "");
        }
    }

    /// Draws a line under the last one, as long as that is.
    fn underline(&mut self, sign: char) {
        let columns = self.out.lines().next_back().map_or(0, textwrap::core::display_width);
        let _ = writeln!(self.out, "{}", sign.to_string().repeat(columns));
    }

    fn show_line(&mut self, block: &Block, line: &Line) {
        let indent = if self.close { CLOSE_INDENT } else { INDENT };
        let (tick, set_in) = (if line.tick { "[ ] " } else { "" }, " ".repeat(indent));
        let first = match (block.kind, line.role) {
            (BlockKind::Step(number), Role::Action) => format!("{tick:0$}{number:>3}. ", indent - 5),
            (BlockKind::Step(_), Role::Hold | Role::Need | Role::Hazard) => format!("{set_in}| {tick}"),
            (BlockKind::Step(_), _) => format!("{set_in}{tick}"),
            _ => tick.to_owned(),
        };
        let rest = match (block.kind, line.role) {
            (BlockKind::Step(_), Role::Hold | Role::Need | Role::Hazard) => {
                format!("{set_in}|   {:1$}", "", tick.len())
            }
            (BlockKind::Step(_), Role::Action) => " ".repeat(first.chars().count()),
            _ => format!("{:1$}", "", first.len() + 2),
        };
        self.wrap(&said(line, self.close), &first, &rest);
    }

    fn wrap(&mut self, text: &str, first: &str, rest: &str) {
        if text.is_empty() {
            return;
        }
        // A name with hyphens is one word in every form.
        let options = textwrap::Options::new(self.columns).word_splitter(textwrap::WordSplitter::NoHyphenation);
        let options = options.initial_indent(first).subsequent_indent(rest);
        for line in textwrap::wrap(text, options) {
            let _ = writeln!(self.out, "{}", line.trim_end_matches(' '));
        }
    }
}

fn said(line: &Line, close: bool) -> String {
    line.said(|run| match run {
        Run::Words(words) | Run::Strong(words) => words.to_string(),
        Run::Blank => BLANKS[usize::from(close)].to_owned(),
        Run::Step(number) => format!("step\u{a0}{number}"),
        Run::Tick(number) => format!("[\u{a0}]\u{a0}{number}"),
    })
}

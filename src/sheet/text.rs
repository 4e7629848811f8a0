//! A sheet as plain text, 80 columns wide: for a terminal, a printer, or a file.

use std::fmt::Write;

use super::model::{Block, BlockKind, Line, Role, Run, Section, Sheet};

/// The widest line.
const COLUMNS: usize = 80;

/// Where a step's words begin, right of its box and number.
const INDENT: usize = 9;

/// The line to write on.
const BLANK: &str = "____________";

/// Returns the sheet as text.
///
/// The boxes of the steps stand in one column; what belongs to a step is set in under its words, a hold and what can
/// hurt with a rule at the side, before the step.
pub fn render(sheet: &Sheet) -> String {
    let mut out = String::new();
    for words in [&sheet.title, &sheet.name, &sheet.stamp] {
        wrap(&mut out, words.as_str(), "", "");
    }
    for line in &sheet.head {
        wrap(&mut out, &said(line), "", "");
    }
    for section in &sheet.sections {
        show(&mut out, section);
    }
    out.push('\n');
    wrap(&mut out, sheet.end.as_str(), "", "");
    out
}

fn show(out: &mut String, section: &Section) {
    out.push('\n');
    wrap(out, section.title.as_str(), "", "");
    underline(out, '=');
    out.push('\n');
    let mut last = None;
    for block in &section.blocks {
        let apart = last.is_some_and(|last| !matches!((last, block.kind), (BlockKind::Item, BlockKind::Item)));
        if apart {
            out.push('\n');
        }
        for line in &block.lines {
            show_line(out, block, line);
            if (block.kind, line.role) == (BlockKind::Heading, Role::Action) {
                underline(out, '-');
            }
        }
        last = Some(block.kind);
    }
    out.push('\n');
    wrap(out, section.end.as_str(), "", "");
}

/// Draws a line under the last one, as long as that is.
fn underline(out: &mut String, sign: char) {
    let columns = out.lines().next_back().map_or(0, textwrap::core::display_width);
    let _ = writeln!(out, "{}", sign.to_string().repeat(columns));
}

fn show_line(out: &mut String, block: &Block, line: &Line) {
    let (tick, set_in) = (if line.tick { "[ ] " } else { "" }, " ".repeat(INDENT));
    let first = match (block.kind, line.role) {
        (BlockKind::Step(number), Role::Action) => format!("{tick:4}{number:>3}. "),
        (BlockKind::Step(_), Role::Hold | Role::Need | Role::Hazard) => format!("{set_in}| {tick}"),
        (BlockKind::Step(_), _) => format!("{set_in}{tick}"),
        _ => tick.to_owned(),
    };
    let rest = match (block.kind, line.role) {
        (BlockKind::Step(_), Role::Hold | Role::Need | Role::Hazard) => format!("{set_in}|   {:1$}", "", tick.len()),
        (BlockKind::Step(_), Role::Action) => " ".repeat(first.chars().count()),
        _ => format!("{:1$}", "", first.len() + 2),
    };
    wrap(out, &said(line), &first, &rest);
}

fn said(line: &Line) -> String {
    line.said(|run| match run {
        Run::Words(words) | Run::Strong(words) => words.to_string(),
        Run::Blank => BLANK.to_owned(),
        Run::Step(number) => format!("step\u{a0}{number}"),
    })
}

fn wrap(out: &mut String, text: &str, first: &str, rest: &str) {
    // A name with hyphens is one word in every form.
    let options = textwrap::Options::new(COLUMNS).word_splitter(textwrap::WordSplitter::NoHyphenation);
    let options = options.initial_indent(first).subsequent_indent(rest);
    for line in textwrap::wrap(text, options) {
        let _ = writeln!(out, "{}", line.trim_end_matches(' '));
    }
}

//! A sheet as Markdown: every word of a guide stays a word.

use super::model::{BlockKind, Line, Role, Run, Section, Sheet};

/// The line to write on, with each sign escaped.
const BLANK: &str = r"\_\_\_\_\_\_\_\_\_\_\_\_";

/// Stands unseen between two signs that would make a link together.
const JOINER: char = '\u{2060}';

/// Returns the sheet as Markdown, with boxes as task lists have them.
pub fn render(sheet: &Sheet) -> String {
    let mut out = format!("# {}\n\n", escaped(sheet.title.as_str()));
    for words in [&sheet.name, &sheet.stamp].into_iter().filter(|words| !words.as_str().is_empty()) {
        out.push_str(&format!("{}\n\n", escaped(words.as_str())));
    }
    for line in &sheet.head {
        out.push_str(&format!("{}\n\n", said(line)));
    }
    for section in &sheet.sections {
        show(&mut out, section);
    }
    out.push_str(&format!("{}\n", escaped(sheet.end.as_str())));
    out
}

fn show(out: &mut String, section: &Section) {
    if !section.title.as_str().is_empty() {
        out.push_str(&format!("## {}\n\n", escaped(section.title.as_str())));
    }
    for block in &section.blocks {
        match block.kind {
            BlockKind::Heading => {
                let mut lines = block.lines.iter().map(said);
                out.push_str(&format!("### {}\n\n", lines.next().unwrap_or_default()));
                lines.for_each(|line| out.push_str(&format!("{line}\n\n")));
            }
            BlockKind::Step(number) => block.lines.iter().for_each(|line| show_line(out, number, line)),
            BlockKind::Item => block.lines.iter().for_each(|line| out.push_str(&format!("- {}\n", boxed(line)))),
            BlockKind::Label => {
                out.push_str("---\n\n");
                block.lines.iter().for_each(|line| out.push_str(&format!("- {}\n", boxed(line))));
                out.push('\n');
            }
            BlockKind::EndMark => block.lines.iter().for_each(|line| out.push_str(&format!("{}\n\n", said(line)))),
        }
        if let BlockKind::Step(_) = block.kind {
            out.push('\n');
        }
    }
    if section.blocks.last().is_some_and(|block| block.kind == BlockKind::Item) {
        out.push('\n');
    }
    if !section.end.as_str().is_empty() {
        out.push_str(&format!("{}\n\n", escaped(section.end.as_str())));
    }
}

/// Shows a line of a step: a hold and what can hurt as a quotation before it, the rest as a list under it.
fn show_line(out: &mut String, number: usize, line: &Line) {
    match line.role {
        Role::Hold | Role::Hazard => out.push_str(&format!("> {}\n>\n", said(line))),
        Role::Need => out.push_str(&format!("> - {}\n", boxed(line))),
        Role::Action if line.tick => out.push_str(&format!("\n- [ ] {number}\\. {}\n", said(line))),
        Role::Action => out.push_str(&format!("\n- {number}\\. {}\n", said(line))),
        _ => out.push_str(&format!("  - {}\n", boxed(line))),
    }
}

fn boxed(line: &Line) -> String {
    format!("{}{}", if line.tick { "[ ] " } else { "" }, said(line))
}

fn said(line: &Line) -> String {
    line.said(|run| match run {
        Run::Words(words) => escaped(words.as_str()),
        Run::Strong(words) => format!("**{}**", escaped(words.as_str())),
        Run::Blank => BLANK.to_owned(),
        Run::Step(number) => format!("step\u{a0}{number}"),
        Run::Tick(number) => format!(r"\[ \] {number}"),
    })
}

/// Returns the text so that nothing in it is Markdown.
///
/// A backslash stands before every sign that Markdown knows. Some readers make links of bare addresses all the same;
/// there a word joiner, which is not seen, stands before the sign that would make one.
fn escaped(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 8);
    for (at, c) in text.char_indices() {
        let (so_far, next) = (&text.as_bytes()[..at], text[at + c.len_utf8()..].chars().next());
        let begins_address = match c {
            '@' => true,
            ':' => next.is_some_and(|next| !next.is_ascii_digit() && next != ' '),
            '.' => so_far.len() >= 3 && so_far[at - 3..].eq_ignore_ascii_case(b"www"),
            _ => false,
        };
        if begins_address {
            shown.push(JOINER);
        }
        let means_nothing = match c {
            ',' | '\'' | '/' | '?' | '%' | ';' | ':' => true,
            // A full stop makes a list only after a number that begins a line.
            '.' => !so_far.iter().all(u8::is_ascii_digit),
            _ => !c.is_ascii_punctuation(),
        };
        if !means_nothing {
            shown.push('\\');
        }
        shown.push(c);
    }
    shown
}

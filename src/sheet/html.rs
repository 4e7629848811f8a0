//! A sheet as one HTML file: it asks for nothing from elsewhere, fits a phone, can be ticked, and prints the same.

use std::fmt::Write;

use super::model::{Block, BlockKind, Line, Role, Run, Section, Sheet};

/// How it looks; the same for every sheet.
const STYLE: &str = include_str!("sheet.css");

/// A place to write in, or to type in on a screen.
const BLANK: &str = r#"<input class="blank" aria-label="write here">"#;

/// A box to tick.
const BOX: &str = r#"<input type="checkbox">"#;

/// Returns the sheet as an HTML page.
///
/// It has no script and is told to run none. Boxes can be ticked and blanks filled in on screen; a reader that is
/// closed forgets them.
pub fn render(sheet: &Sheet) -> String {
    let [title, name, stamp] = [&sheet.title, &sheet.name, &sheet.stamp].map(|words| escaped(words.as_str()));
    let close = if sheet.close { " class=\"close\"" } else { "" };
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}: {name}</title>\n<style>\n{STYLE}{}</style>\n</head>\n<body>\n<main{close}>\n\
         <h1>{title}</h1>\n",
        page(sheet)
    );
    for (class, words) in [("name", name), ("stamp", stamp)].into_iter().filter(|(_, words)| !words.is_empty()) {
        let _ = writeln!(out, "<p class=\"{class}\">{words}</p>");
    }
    for line in &sheet.head {
        let _ = writeln!(out, "<p>{}</p>", said(line));
    }
    for section in &sheet.sections {
        show(&mut out, section);
    }
    let _ = writeln!(out, "<p class=\"end\">{}</p>\n</main>\n</body>\n</html>", escaped(sheet.end.as_str()));
    out
}

/// Returns the margins of a printed page, with what stands at its head and the page's number at its foot.
fn page(sheet: &Sheet) -> String {
    format!(
        "@page {{\n  margin: 18mm 12mm 16mm 20mm;\n  \
         @top-left {{ content: \"{}\"; font: 10pt sans-serif; }}\n  \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); font: 10pt sans-serif; }}\n}}\n",
        in_style(&sheet.running_head())
    )
}

fn show(out: &mut String, section: &Section) {
    out.push_str("<section>\n");
    if !section.title.as_str().is_empty() {
        let _ = writeln!(out, "<h2>{}</h2>", escaped(section.title.as_str()));
    }
    for block in &section.blocks {
        let (class, id) = match block.kind {
            BlockKind::Heading => ("heading", String::new()),
            BlockKind::Step(number) => ("step", format!(" id=\"step-{number}\"")),
            BlockKind::Item => ("item", String::new()),
            BlockKind::Label => ("label", String::new()),
            BlockKind::EndMark => ("mark", String::new()),
        };
        let _ = writeln!(out, "<div class=\"{class}\"{id}>");
        show_lines(out, block);
        out.push_str("</div>\n");
    }
    if !section.end.as_str().is_empty() {
        let _ = writeln!(out, "<p class=\"mark\">{}</p>", escaped(section.end.as_str()));
    }
    out.push_str("</section>\n");
}

fn show_lines(out: &mut String, block: &Block) {
    let is_step = matches!(block.kind, BlockKind::Step(_));
    let is_held = |line: &Line| is_step && matches!(line.role, Role::Hold | Role::Need);
    for lines in block.lines.chunk_by(|a, b| is_held(a) && is_held(b)) {
        let held = lines.first().is_some_and(is_held);
        if held {
            out.push_str("<div class=\"hold\">\n");
        }
        for line in lines {
            show_line(out, block.kind, line);
        }
        if held {
            out.push_str("</div>\n");
        }
    }
}

fn show_line(out: &mut String, kind: BlockKind, line: &Line) {
    let (said, tick) = (said(line), if line.tick { BOX } else { "" });
    let _ = match (kind, line.role) {
        (BlockKind::Step(number), Role::Action) => {
            let tick = if line.tick { BOX } else { "<span></span>" };
            let number = format!("<span class=\"number\">{number}.</span>");
            writeln!(out, "<p class=\"action\"><label>{tick} {number} <span>{said}</span></label></p>")
        }
        (BlockKind::Heading, Role::Action) => writeln!(out, "<h3>{said}</h3>"),
        (_, role) if line.tick => writeln!(out, "<p class=\"{}\"><label>{tick}{said}</label></p>", class(role)),
        (_, role) => writeln!(out, "<p class=\"{}\">{said}</p>", class(role)),
    };
}

fn class(role: Role) -> &'static str {
    match role {
        Role::Action => "action",
        Role::Hold => "stop",
        Role::Need => "need",
        Role::Hazard => "hazard",
        Role::Move => "move",
        Role::Fill => "fill",
        Role::Way => "way",
        Role::Wrong => "wrong",
        Role::Note => "note",
    }
}

fn said(line: &Line) -> String {
    line.said(|run| match run {
        Run::Words(words) => escaped(words.as_str()),
        Run::Strong(words) => format!("<strong>{}</strong>", escaped(words.as_str())),
        Run::Blank => BLANK.to_owned(),
        Run::Tick(number) => format!("<label class=\"tick\">{BOX}{number}</label>"),
        Run::Step(number) => format!("<a href=\"#step-{number}\">step\u{a0}{number}</a>"),
    })
}

/// Returns the text so that nothing in it is HTML, between tags or in an attribute.
fn escaped(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => shown.push_str("&amp;"),
            '<' => shown.push_str("&lt;"),
            '>' => shown.push_str("&gt;"),
            '"' => shown.push_str("&quot;"),
            '\'' => shown.push_str("&#39;"),
            _ => shown.push(c),
        }
    }
    shown
}

/// Returns the text so that it stays inside a string of a style sheet: all but letters and digits by their numbers.
fn in_style(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            _ if c.is_ascii_alphanumeric() => shown.push(c),
            _ => shown.push_str(&format!("\\{:x} ", u32::from(c))),
        }
    }
    shown
}

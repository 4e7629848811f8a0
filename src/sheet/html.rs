//! A sheet as one HTML file: it asks for nothing from elsewhere, fits a phone, can be ticked, and prints the same.

use std::collections::HashMap;
use std::fmt::Write;
use std::sync::LazyLock;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use super::font::Font;
use super::model::{Block, BlockKind, Line, Role, Run, Section, Sheet};
use super::pages::{Pages, Place};
use super::plain::Plain;
use super::svg;
use super::xml::escaped;

/// How it looks; the same for every sheet.
const STYLE: &str = include_str!("sheet.css");

/// A place to write in, or to type in on a screen.
const BLANK: &str = r#"<input class="blank" aria-label="write here">"#;

/// A box to tick.
const BOX: &str = r#"<input type="checkbox">"#;

/// Returns the sheet as an HTML page.
///
/// It has no script and is told to run none, and asks for nothing: its fonts are in it. Boxes can be ticked and blanks
/// filled in on screen; a reader that is closed forgets them. Printed, its pages are turned where those of the same
/// sheet as PDF are.
pub fn render(sheet: &Sheet, pages: &Pages) -> String {
    page(sheet, pages, &FONTS)
}

/// Returns the sheet as [`render`] does, in whatever fonts its reader has: a small file, whose printed pages may be
/// turned elsewhere.
pub fn render_without_fonts(sheet: &Sheet, pages: &Pages) -> String {
    page(sheet, pages, "")
}

fn page(sheet: &Sheet, pages: &Pages, fonts: &str) -> String {
    let [title, name, stamp] = [&sheet.title, &sheet.name, &sheet.stamp].map(|words| escaped(words.as_str()));
    let close = if sheet.close { " class=\"close\"" } else { "" };
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" \
         content=\"default-src 'none'; style-src 'unsafe-inline'; font-src data:\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}: {name}</title>\n<style>\n{STYLE}{fonts}{}</style>\n</head>\n<body>\n<main{close}>\n\
         <h1>{title}</h1>\n",
        page_style(sheet, pages)
    );
    for (class, words) in [("name", name), ("stamp", stamp)].into_iter().filter(|(_, words)| !words.is_empty()) {
        let _ = writeln!(out, "<p class=\"{class}\">{words}</p>");
    }
    // A sheet of one page has no other to name.
    let is_one = sheet.close && pages.pages.len() == 1;
    let page_of_step = if is_one { HashMap::new() } else { pages.page_of_step.clone() };
    let mut page = Writer { out: String::new(), page_of_step, turns: turns(sheet, pages) };
    for line in &sheet.head {
        let said = page.said(line);
        let _ = writeln!(page.out, "<p class=\"{}\">{said}</p>", class(line.role));
    }
    for (n, section) in sheet.sections.iter().enumerate() {
        page.show(n, section);
    }
    out.push_str(&page.out);
    let _ = writeln!(out, "<p class=\"end\">{}</p>\n</main>\n</body>\n</html>", escaped(sheet.end.as_str()));
    out
}

/// The fonts, each as a rule of the style sheet.
static FONTS: LazyLock<String> = LazyLock::new(|| {
    let faces = [(Font::Regular, "Sheet", "normal"), (Font::Bold, "Sheet", "bold"), (Font::Signs, "Signs", "normal")];
    let rule = |(font, name, weight): (Font, &str, &str)| {
        format!(
            "@font-face {{ font-family: {name}; font-weight: {weight}; \
             src: url(data:font/ttf;base64,{}) format(\"truetype\"); }}\n",
            STANDARD.encode(font.bytes())
        )
    };
    faces.map(rule).concat()
});

/// Returns the paper, the sizes, and what stands at the head and foot of each printed page.
fn page_style(sheet: &Sheet, pages: &Pages) -> String {
    let mut style = String::new();
    let frame = pages.frame;
    let pen = if sheet.has_pen_line() { " · Pen ____________" } else { "" };
    let _ = writeln!(
        style,
        ":root {{ --body: {}pt; --small: {}pt; --heading: {}pt; --title: {}pt; --words: {}pt; }}\n\
         @page {{\n  size: {};\n  margin: {}pt {}pt {}pt {}pt;\n  \
         @top-left {{ content: \"{}\"; font: {}pt/1.26 Sheet, Signs, sans-serif; vertical-align: bottom; \
         padding-bottom: 6pt; }}\n  \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); \
         font: {}pt Sheet, sans-serif; vertical-align: top; }}\n}}",
        frame.sizes.body,
        frame.sizes.small,
        frame.sizes.heading,
        frame.sizes.title,
        frame.words_at,
        pages.paper.name(),
        frame.top,
        frame.right,
        frame.bottom,
        frame.left,
        in_style(&format!("{}{pen}", sheet.running_head())),
        frame.sizes.small,
        frame.sizes.small,
    );
    style
}

/// Where printed pages are turned: what the foot before says, and what the head after says.
fn turns(sheet: &Sheet, pages: &Pages) -> HashMap<Place, (Plain, Plain)> {
    let both = pages.pages.iter().zip(pages.pages.iter().skip(1));
    both.filter_map(|(before, after)| {
        let place = after.first?;
        let continued = match place {
            Place::Title(_) => Plain::default(),
            Place::Block(section, _) | Place::End(section) => sheet.sections[section].continued(),
        };
        Some((place, (before.continued.clone(), continued)))
    })
    .collect()
}

/// The page as far as it is written.
struct Writer {
    out: String,
    /// The page that a jump names.
    page_of_step: HashMap<usize, usize>,
    turns: HashMap<Place, (Plain, Plain)>,
}

impl Writer {
    /// Writes where the page is turned, if it is turned before this place. On a screen nothing is seen of it.
    fn turn(&mut self, place: Place) {
        let Some((foot, head)) = self.turns.get(&place) else { return };
        let (foot, head) = (escaped(foot.as_str()), escaped(head.as_str()));
        let _ = writeln!(
            self.out,
            "<div class=\"foot\" data-say=\"{foot}\"></div>\n<div class=\"turn\" data-say=\"{head}\"></div>"
        );
    }

    fn show(&mut self, n: usize, section: &Section) {
        self.turn(Place::Title(n));
        self.out.push_str("<section>\n");
        if !section.title.as_str().is_empty() {
            let _ = writeln!(self.out, "<h2>{}</h2>", escaped(section.title.as_str()));
        }
        for (at, block) in section.blocks.iter().enumerate() {
            self.turn(Place::Block(n, at));
            let (class, id) = match block.kind {
                BlockKind::Heading => ("heading", String::new()),
                BlockKind::Step(number) => ("step", format!(" id=\"step-{number}\"")),
                BlockKind::Item => ("item", String::new()),
                BlockKind::Label => ("label", String::new()),
                BlockKind::EndMark => ("mark", String::new()),
            };
            let _ = writeln!(self.out, "<div class=\"{class}\"{id}>");
            self.show_lines(block);
            if let Some(figure) = &block.figure {
                self.out.push_str(&svg::element(figure));
            }
            self.out.push_str("</div>\n");
        }
        self.turn(Place::End(n));
        if !section.end.as_str().is_empty() {
            let _ = writeln!(self.out, "<p class=\"mark\">{}</p>", escaped(section.end.as_str()));
        }
        self.out.push_str("</section>\n");
    }

    fn show_lines(&mut self, block: &Block) {
        let is_step = matches!(block.kind, BlockKind::Step(_));
        let is_held = |line: &Line| is_step && matches!(line.role, Role::Hold | Role::Need);
        for lines in block.lines.chunk_by(|a, b| is_held(a) && is_held(b)) {
            let held = lines.first().is_some_and(is_held);
            if held {
                self.out.push_str("<div class=\"hold\">\n");
            }
            for line in lines {
                self.show_line(block.kind, line);
            }
            if held {
                self.out.push_str("</div>\n");
            }
        }
    }

    fn show_line(&mut self, kind: BlockKind, line: &Line) {
        let (said, tick) = (self.said(line), if line.tick { BOX } else { "" });
        let _ = match (kind, line.role) {
            (BlockKind::Step(number), Role::Action) => {
                let tick = if line.tick { BOX } else { "<span></span>" };
                let number = format!("<span class=\"number\">{number}.</span>");
                writeln!(self.out, "<p class=\"action\"><label>{tick} {number} <span>{said}</span></label></p>")
            }
            (BlockKind::Heading, Role::Action) => writeln!(self.out, "<h3>{said}</h3>"),
            (_, role) if line.tick => {
                writeln!(self.out, "<p class=\"{}\"><label>{tick}<span>{said}</span></label></p>", class(role))
            }
            (_, role) => writeln!(self.out, "<p class=\"{}\">{said}</p>", class(role)),
        };
    }

    fn said(&self, line: &Line) -> String {
        line.said(|run| match run {
            Run::Words(words) => escaped(words.as_str()),
            Run::Strong(words) => format!("<strong>{}</strong>", escaped(words.as_str())),
            Run::Blank => BLANK.to_owned(),
            Run::Tick(number) => format!("<label class=\"tick\">{BOX}{number}</label>"),
            Run::Step(number) => {
                let page = self.page_of_step.get(number).map(|page| format!(" data-page=\"{page}\""));
                format!("<a href=\"#step-{number}\"{}>step\u{a0}{number}</a>", page.unwrap_or_default())
            }
        })
    }
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

//! Reads the words of each form back, by rules of its own.

use stepjig::sheet::pages::{self, Paper, Reach};
use stepjig::sheet::{Sheet, html};

/// Returns the words of a page: what stands in its body outside of tags, with its character references resolved.
pub fn of_html(page: &str) -> String {
    let body = page.split_once("<body>").expect("a body").1.split_once("</body>").expect("its end").0;
    // What is drawn is no running text: its caption is.
    let mut kept = String::new();
    for (n, part) in body.split("<svg ").enumerate() {
        kept.push_str(if n == 0 { part } else { part.split_once("</svg>").expect("its end").1 });
    }
    let mut words = String::new();
    for (n, part) in kept.split('<').enumerate() {
        match (n, part.split_once('>')) {
            (0, _) => words.push_str(part),
            // Only what is set in a line of its own parts words.
            (_, Some((tag, text))) => {
                let name = tag.trim_start_matches('/').split([' ', '>']).next().unwrap_or("");
                words.push_str(if matches!(name, "strong" | "a" | "span") { "" } else { " " });
                words.push_str(text);
            }
            (_, None) => panic!("a tag that does not end: {part}"),
        }
    }
    let words = words.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&#39;", "'");
    words.replace("&amp;", "&")
}

/// Returns the words of Markdown: without its marks, and with what a backslash protects.
pub fn of_markdown(text: &str) -> String {
    let mut words = String::new();
    for line in text.lines() {
        let line = line.trim_start_matches(['>', ' ']);
        let line = line.strip_prefix("- ").unwrap_or(line.trim_start_matches('#'));
        let mut chars = line.strip_prefix("[ ] ").unwrap_or(line).chars();
        while let Some(c) = chars.next() {
            match c {
                '\\' => words.extend(chars.next()),
                '*' | '\u{2060}' => {}
                _ => words.push(c),
            }
        }
        words.push('\n');
    }
    words
}

/// Returns the words alone, one space between them: no boxes, no lines to write on, no rules.
pub fn words(text: &str) -> Vec<&str> {
    let is_word = |word: &&str| word.chars().any(|c| !matches!(c, '_' | '|' | '[' | ']' | '=' | '-'));
    text.split_whitespace().filter(is_word).collect()
}

/// Returns a page without the lines that say where its print is turned, which long words turn more often.
pub fn without_turns(page: &str) -> String {
    let turns = |line: &&str| line.starts_with("<div class=\"foot\"") || line.starts_with("<div class=\"turn\"");
    let whole = |line: &&str| line.ends_with("\"></div>") && line.matches('<').count() == 2;
    page.lines().filter(|line| !(turns(line) && whole(line))).map(|line| format!("{line}\n")).collect()
}

/// Returns the sheet as HTML without its fonts, on A4.
pub fn as_html(sheet: &Sheet) -> String {
    html::render_without_fonts(sheet, &pages::set(sheet, Paper::A4, Reach::Near))
}

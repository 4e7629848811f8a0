//! What a stranger's guide says stays text, in every form and at every place of a sheet.

use stepjig::finding::plain_text::clean;
use stepjig::sheet::pages::{self, Paper, Reach};
use stepjig::sheet::{Block, BlockKind, Line, Plain, Role, Run, Section, Sheet, html, markdown, text};

use super::read_back::{of_html, of_markdown, without_turns};

/// Pieces that mean something to some reader of some form.
const PIECES: [&str; 44] = [
    "<script>alert(1)</script>",
    "</style>",
    "</title>",
    "<!--",
    "-->",
    "]]>",
    "<img src=x onerror=y>",
    "\"",
    "'",
    ">",
    "<",
    "&",
    "&lt;",
    "&#x3c;",
    "&amp;lt;",
    "javascript:x",
    "[a](http://b)",
    "![",
    "]",
    "*",
    "**",
    "_",
    "`",
    "```",
    "\\",
    "\\n",
    "\n# head",
    "\n- [x] ",
    "1. ",
    "1) ",
    "+ ",
    "| a |",
    "~~",
    "www.a.example",
    "a@b.example",
    "http://b.example",
    "}",
    "{",
    ";",
    "@import",
    "\u{1b}[2J",
    "\u{202e}",
    "\0",
    "é漢",
];

/// A small generator of numbers, the same on every run (xorshift, Marsaglia 2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n as u64) as usize
    }

    fn text(&mut self) -> String {
        let mut text = String::new();
        for _ in 0..=self.below(5) {
            match self.below(4) {
                0 => text.extend(char::from_u32(self.below(0x500) as u32)),
                _ => text.push_str(PIECES[self.below(PIECES.len())]),
            }
        }
        text
    }
}

/// Returns a sheet that says the text wherever a guide can say something.
fn sheet(said: &str) -> Sheet {
    let line = |role| Line::new(role, said);
    let strong = Line { role: Role::Hazard, tick: false, runs: vec![Run::Strong(Plain::new(said)), Run::Blank] };
    let step = [line(Role::Need).ticked(), strong, line(Role::Action).ticked(), line(Role::Way).with(Run::Step(1))];
    let blocks = vec![
        Block::new(BlockKind::Heading, vec![line(Role::Action), line(Role::Note)]),
        Block::new(BlockKind::Step(1), step.into()),
        Block::new(BlockKind::Item, vec![line(Role::Need).ticked()]),
        Block::new(BlockKind::Label, vec![line(Role::Action).with(Run::Tick(1))]),
        Block::new(BlockKind::EndMark, vec![line(Role::Note)]),
    ];
    let plain = Plain::new(said);
    Sheet {
        title: plain.clone(),
        name: plain.clone(),
        stamp: plain.clone(),
        head: vec![line(Role::Note)],
        sections: vec![Section { title: plain.clone(), blocks, end: plain.clone() }],
        end: plain,
        ..Sheet::default()
    }
}

/// Returns a page without what it says: its tags alone.
fn tags(page: &str) -> Vec<&str> {
    page.split('<').skip(1).map(|rest| rest.split_once('>').expect("a tag ends").0).collect()
}

/// Returns the signs of Markdown that no backslash protects, line by line.
fn marks(text: &str) -> Vec<String> {
    let marks = |line: &str| {
        let (mut kept, mut chars) = (String::new(), line.chars());
        while let Some(c) = chars.next() {
            match c {
                '\\' => assert!(chars.next().is_some_and(|c| c.is_ascii_punctuation()), "{line}"),
                '*' | '_' | '`' | '[' | ']' | '<' | '>' | '#' | '&' | '|' | '~' | '!' | '-' | '+' | '=' | '(' | ')' => {
                    kept.push(c);
                }
                _ => {}
            }
        }
        kept
    };
    text.lines().map(marks).collect()
}

/// Returns the text without any white space, which a form may set as it likes.
fn close(text: &str) -> String {
    text.split_whitespace().collect()
}

#[test]
fn a_hundred_thousand_hostile_strings_come_out_as_text() {
    let benign = sheet("word");
    let benign_pages = pages::set(&benign, Paper::A4, Reach::Near);
    let (page, list) = (html::render_without_fonts(&benign, &benign_pages), markdown::render(&benign));
    let (page_tags, list_marks) = (tags(&page), marks(&list));
    let said_times = of_html(&page).matches("word").count();
    assert_eq!((said_times, of_markdown(&list).matches("word").count()), (16, 16));
    let mut numbers = Numbers(0x5eed);
    for n in 0..100_000 {
        let said = format!("q{n}q{}z", numbers.text());
        let sheet = sheet(&said);
        let plain = close(&clean(&said));
        // What is said changes neither the paper nor, on a sheet of one page, where pages are turned.
        let page = match n % 50 {
            0 => html::render_without_fonts(&sheet, &pages::set(&sheet, Paper::A4, Reach::Near)),
            _ => html::render_without_fonts(&sheet, &benign_pages),
        };
        assert_eq!(tags(&without_turns(&page)), page_tags, "{said:?}");
        let back = close(&of_html(&page));
        assert_eq!(back.matches(&plain).count(), said_times, "{said:?} reads {back}");
        let list = markdown::render(&sheet);
        assert_eq!(marks(&list), list_marks, "{said:?}");
        let back = close(&of_markdown(&list));
        assert_eq!(back.matches(&plain).count(), said_times, "{said:?} reads {back}");
        for address in ["www.", "http:", "a@b", "javascript:"] {
            assert!(!list.contains(address), "{said:?} makes a link");
        }
        let lines = text::render(&sheet);
        for shown in [&lines, &page, &list] {
            let acts = |c: char| c.is_control() && c != '\n' || c == '\u{202e}';
            assert!(!shown.contains(acts), "{said:?}");
        }
        in_the_style(&page, &said);
    }
}

/// Checks that the style sheet's only string from the guide holds letters, digits and numbered characters alone.
fn in_the_style(page: &str, said: &str) {
    let string = page.split_once("@top-left { content: \"").expect("a head").1.split_once('"').expect("its end").0;
    let harmless = |c: char| c.is_ascii_alphanumeric() || c == '\\' || c == ' ';
    assert!(string.chars().all(harmless), "{said:?} is {string}");
}

#[test]
fn one_line_of_words_is_one_line() {
    assert_eq!(Plain::new("a\n\n b\t\u{a0}c ").as_str(), "a b \u{a0}c");
    assert_eq!(Plain::new("\u{1b}]8;;x\u{7}").as_str(), "^[]8;;x^G");
}

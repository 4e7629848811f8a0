//! What is said at one time, laid out for the terminal: one screen, or as few as it takes.

use crate::cli::{screen, settings};
use crate::guide::document::Caution;

/// A page is at most so many screens, where giving way makes it so.
const SCREENS: usize = 2;

/// Lines that stand together.
struct Paragraph {
    lines: Vec<String>,
    /// What stands in its place where there is no room for it.
    short: Option<Short>,
}

struct Short {
    /// What gives way earlier has a lower number.
    turn: usize,
    lines: Vec<String>,
    /// What is no longer said.
    untold: String,
}

/// Paragraphs, each in lines.
#[derive(Default)]
pub(super) struct Page {
    paragraphs: Vec<Paragraph>,
    /// Which of them says what the page is about.
    about: Option<usize>,
    /// Which of them lists what can be typed: it and all after it stand on one page where there is room.
    list: Option<usize>,
}

impl Page {
    fn put(&mut self, lines: Vec<String>) {
        self.paragraphs.push(Paragraph { lines, short: None });
    }

    /// Says what gives way in its turn where the page would be more than two screens.
    pub fn say_if_room(&mut self, turn: usize, text: &str) {
        self.say(text);
        self.else_short(turn, text, |_| {});
    }

    /// Gives the last paragraph a short form for where there is no room; `untold` is what that leaves out.
    pub fn else_short(&mut self, turn: usize, untold: &str, short: impl FnOnce(&mut Page)) {
        let mut page = Page::default();
        short(&mut page);
        if let Some(last) = self.paragraphs.last_mut() {
            let lines = page.paragraphs.into_iter().flat_map(|paragraph| paragraph.lines).collect();
            last.short = Some(Short { turn, lines, untold: untold.to_owned() });
        }
    }

    pub fn say(&mut self, text: &str) {
        self.put(screen::wrapped(text, settings::width(), "", "    "));
    }

    pub fn say_all(&mut self, texts: impl IntoIterator<Item = String>) {
        texts.into_iter().for_each(|text| self.say(&text));
    }

    /// Says what the page is about: the question, the remedy. It stands on the last page too.
    pub fn about(&mut self, text: &str) {
        self.about = Some(self.paragraphs.len());
        self.put(screen::strong(text, settings::width()));
    }

    pub fn caution(&mut self, caution: &Caution) {
        let dot = |text: &str| format!("{}.", text.trim_end_matches('.'));
        let text = format!("{} {}", dot(&caution.hazard.value), dot(&caution.avoid.value));
        self.put(screen::caution(caution.level.signal_word(), &text, settings::width()));
    }

    /// Says the hazard alone: how to avoid it is said where it is met.
    pub fn hazard(&mut self, caution: &Caution) {
        self.put(screen::caution(caution.level.signal_word(), &caution.hazard.value, settings::width()));
    }

    /// Lists what can be typed by its number.
    pub fn numbered(&mut self, texts: &[String]) {
        self.list = Some(self.paragraphs.len());
        self.put(screen::rows(texts, screen::numbers(), settings::width()));
    }

    /// Lists texts after numbers of their own.
    pub fn counted(&mut self, counts: Vec<String>, texts: &[String]) {
        self.put(screen::rows(texts, counts.into_iter(), settings::width()));
    }

    /// Puts lines that are laid out already.
    pub fn drawn(&mut self, lines: Vec<String>) {
        self.put(lines);
    }

    /// Puts texts, each after its name.
    pub fn named(&mut self, rows: &[(&str, String)]) {
        let width = settings::width();
        let longest = rows.iter().map(|(name, _)| name.len()).max().unwrap_or(0).min(width / 3);
        let row = |(name, text): &(&str, String)| {
            screen::wrapped(text, width, &format!("  {name:<longest$}  "), &" ".repeat(longest + 4))
        };
        self.put(rows.iter().flat_map(row).collect());
    }

    /// Leaves a line free where the page has room for it.
    pub fn space(&mut self) {
        self.put(Vec::new());
    }

    /// Returns all lines, a free one for each space.
    pub fn lines(&self) -> Vec<String> {
        let free = vec![String::new()];
        let lines =
            |paragraph: &Paragraph| if paragraph.lines.is_empty() { free.clone() } else { paragraph.lines.clone() };
        self.paragraphs.iter().flat_map(lines).collect()
    }

    /// Returns it as pages of so many rows, and what there was no room for; no paragraph is split, and spaces go where
    /// there is no room.
    pub fn pages(&self, rows: usize) -> (Vec<Vec<String>>, Vec<String>) {
        let lines = self.lines();
        if lines.len() <= rows {
            return (vec![lines], Vec::new());
        }
        let mut giving: Vec<&Short> = self.paragraphs.iter().filter_map(|paragraph| paragraph.short.as_ref()).collect();
        giving.sort_by_key(|short| short.turn);
        let laid_out = |given: usize| self.in_rows(rows, giving[..given].last().map_or(0, |short| short.turn));
        let fits = |given: &usize| laid_out(*given).len() <= SCREENS;
        let given = (0..=giving.len()).find(fits).unwrap_or(0);
        let untold = giving[..given].iter().map(|short| short.untold.clone()).collect();
        (laid_out(given), untold)
    }

    /// Returns it as pages, with short forms of all that give way up to a turn; turns begin at 1.
    fn in_rows(&self, rows: usize, turn: usize) -> Vec<Vec<String>> {
        let lines = |paragraph: &Paragraph| match &paragraph.short {
            Some(short) if short.turn <= turn => short.lines.clone(),
            _ => paragraph.lines.clone(),
        };
        let mut pages: Vec<Vec<String>> = vec![Vec::new()];
        let mut about_on = 0;
        for (n, paragraph) in self.paragraphs.iter().enumerate() {
            let together = if self.list == Some(n) { &self.paragraphs[n..] } else { &self.paragraphs[n..=n] };
            let together: usize = together.iter().map(|paragraph| lines(paragraph).len()).sum();
            let lines = lines(paragraph);
            let on = pages.len() - 1;
            if !pages[on].is_empty() && rows < pages[on].len() + together {
                pages.push(Vec::new());
            }
            let on = pages.len() - 1;
            about_on = if self.about == Some(n) { on } else { about_on };
            pages[on].extend(lines);
        }
        let last = pages.len() - 1;
        if let Some(about) = self.about.filter(|_| about_on < last).map(|about| &self.paragraphs[about].lines)
            && pages[last].len() + about.len() <= rows
        {
            pages[last].splice(0..0, about.iter().cloned());
        }
        pages
    }
}

//! What is said at one time, laid out for the terminal: one screen, or as few as it takes.

use crate::cli::{screen, settings};
use crate::guide::document::Caution;

/// Paragraphs, each in lines.
#[derive(Default)]
pub(super) struct Page {
    paragraphs: Vec<Vec<String>>,
    /// Which of them says what the page is about.
    about: Option<usize>,
}

impl Page {
    pub fn say(&mut self, text: &str) {
        self.paragraphs.push(screen::wrapped(text, settings::width(), "", "    "));
    }

    pub fn say_all(&mut self, texts: impl IntoIterator<Item = String>) {
        texts.into_iter().for_each(|text| self.say(&text));
    }

    /// Says what the page is about: the question, the remedy. It stands on the last page too.
    pub fn about(&mut self, text: &str) {
        self.about = Some(self.paragraphs.len());
        self.paragraphs.push(screen::strong(text, settings::width()));
    }

    pub fn caution(&mut self, caution: &Caution) {
        let dot = |text: &str| format!("{}.", text.trim_end_matches('.'));
        let text = format!("{} {}", dot(&caution.hazard.value), dot(&caution.avoid.value));
        self.paragraphs.push(screen::caution(caution.level.signal_word(), &text, settings::width()));
    }

    /// Lists what can be typed by its number.
    pub fn numbered(&mut self, texts: &[String]) {
        self.paragraphs.push(screen::rows(texts, screen::numbers(), settings::width()));
    }

    /// Lists texts after numbers of their own.
    pub fn counted(&mut self, counts: Vec<String>, texts: &[String]) {
        self.paragraphs.push(screen::rows(texts, counts.into_iter(), settings::width()));
    }

    /// Puts lines that are laid out already.
    pub fn drawn(&mut self, lines: Vec<String>) {
        self.paragraphs.push(lines);
    }

    /// Puts texts, each after its name.
    pub fn named(&mut self, rows: &[(&str, String)]) {
        let width = settings::width();
        let longest = rows.iter().map(|(name, _)| name.len()).max().unwrap_or(0).min(width / 3);
        let row = |(name, text): &(&str, String)| {
            screen::wrapped(text, width, &format!("  {name:<longest$}  "), &" ".repeat(longest + 4))
        };
        self.paragraphs.push(rows.iter().flat_map(row).collect());
    }

    /// Leaves a line free where the page has room for it.
    pub fn space(&mut self) {
        self.paragraphs.push(Vec::new());
    }

    /// Returns all lines, a free one for each space.
    pub fn lines(&self) -> Vec<String> {
        let free = vec![String::new()];
        self.paragraphs.iter().flat_map(|lines| if lines.is_empty() { &free } else { lines }).cloned().collect()
    }

    /// Returns it as pages of so many rows; no paragraph is split, and spaces go where there is no room.
    pub fn pages(&self, rows: usize) -> Vec<Vec<String>> {
        let lines = self.lines();
        if lines.len() <= rows {
            return vec![lines];
        }
        let mut pages: Vec<Vec<String>> = vec![Vec::new()];
        let mut about_on = 0;
        for (n, paragraph) in self.paragraphs.iter().enumerate() {
            let on = pages.len() - 1;
            if !pages[on].is_empty() && rows < pages[on].len() + paragraph.len() {
                pages.push(Vec::new());
            }
            let on = pages.len() - 1;
            about_on = if self.about == Some(n) { on } else { about_on };
            pages[on].extend(paragraph.iter().cloned());
        }
        let last = pages.len() - 1;
        if let Some(about) = self.about.filter(|_| about_on < last).map(|about| &self.paragraphs[about])
            && pages[last].len() + about.len() <= rows
        {
            pages[last].splice(0..0, about.iter().cloned());
        }
        pages
    }
}

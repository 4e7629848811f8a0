//! Every example of `guides/WRITING.md` gives what it says that it gives.

use std::collections::BTreeSet;

use super::checked;

/// A guide in pieces: tables by their header line, and steps.
#[derive(Default)]
struct Pieces {
    tables: Vec<(String, String)>,
    steps: Vec<String>,
}

impl Pieces {
    fn of(text: &str) -> Pieces {
        let mut pieces = Pieces::default();
        let mut header = String::new();
        for line in text.lines() {
            if line.starts_with('[') || pieces.tables.is_empty() && pieces.steps.is_empty() {
                header = if line.starts_with('[') { line.to_owned() } else { String::new() };
                match header.as_str() {
                    "[[step]]" => pieces.steps.push(String::new()),
                    _ => pieces.tables.push((header.clone(), String::new())),
                }
            }
            let piece = match header.as_str() {
                "[[step]]" => pieces.steps.last_mut(),
                _ => pieces.tables.last_mut().map(|(_, table)| table),
            };
            piece.expect("it was just begun").push_str(&format!("{line}\n"));
        }
        pieces
    }

    fn place(&self, step: &str) -> Option<usize> {
        let id = |step: &str| step.lines().find(|line| line.starts_with("id = ")).map(str::to_owned);
        self.steps.iter().position(|known| id(known) == id(step))
    }

    /// Goes on with an example: known steps in their place, new ones before the next known one, or before the end.
    fn go_on(&mut self, more: Pieces) {
        for (header, table) in more.tables.into_iter().filter(|(header, _)| !header.is_empty()) {
            match self.tables.iter_mut().find(|(known, _)| *known == header) {
                Some((_, known)) => known.push_str(table.split_once('\n').map_or("", |(_, rows)| rows)),
                None => self.tables.push((header, table)),
            }
        }
        let mut new = Vec::new();
        for step in more.steps {
            match self.place(&step) {
                Some(place) => {
                    new.push(step);
                    self.steps.splice(place..=place, new.drain(..));
                }
                None => new.push(step),
            }
        }
        let end = self.steps.len() - 1;
        self.steps.splice(end..end, new);
    }

    fn text(&self) -> String {
        self.tables.iter().map(|(_, table)| table.clone()).chain(self.steps.iter().cloned()).collect()
    }
}

#[test]
fn every_example_is_run() {
    let page = include_str!("../../guides/WRITING.md");
    // 238 words a minute: Brysbaert 2019, Journal of Memory and Language 109, non-fiction read in silence; from memory.
    let n_words = page.split_whitespace().count();
    assert!(n_words <= 10 * 238, "{n_words} words are no ten minutes");
    let examples: Vec<&str> = page.split("```toml\n").skip(1).filter_map(|rest| rest.split("```").next()).collect();
    assert!(examples.len() >= 8, "{}", examples.len());
    let mut guide = Pieces::default();
    for example in examples {
        let (said, text) = example.split_once('\n').expect("an example has a first line");
        match text.starts_with("stepjig = 1") {
            true => guide = Pieces::of(text),
            false => guide.go_on(Pieces::of(text)),
        }
        let expected: BTreeSet<&str> = match said.strip_prefix("# Found: ") {
            Some(codes) => codes.split(' ').collect(),
            None => {
                assert_eq!(said, "# Clean", "an example says what is found in it");
                BTreeSet::new()
            }
        };
        let checked = checked(&guide.text());
        let found: BTreeSet<&str> = checked.findings.iter().map(|finding| finding.code.as_str()).collect();
        assert_eq!(found, expected, "{example}\n{:#?}", checked.findings);
    }
    // The page's last word on the guide that grew.
    let steps = checked(&guide.text()).guide.expect("the guide of the page links").len();
    assert!(steps >= 6, "{steps}");
}

#[test]
fn the_page_is_shown() {
    let home = super::home::Home::new("draft-how");
    let shown = home.run(&["draft", "--how"], "");
    assert_eq!(String::from_utf8_lossy(&shown.stdout), include_str!("../../guides/WRITING.md"));
    assert_eq!(shown.status.code(), Some(0));
}

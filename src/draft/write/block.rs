//! One step of the guide as text, and the list of them with what they leave to be needed.

use std::collections::BTreeSet;

use crate::guide::write::{as_text, list, quoted};

/// A step under construction.
pub(super) struct Block {
    comments: Vec<String>,
    lines: Vec<String>,
    needs: Vec<String>,
    gives: Vec<String>,
    /// What it needs beyond what its own line says: a procedure's steps need it.
    uses: Vec<String>,
    /// What it gives beyond that.
    leaves: Vec<String>,
}

impl Block {
    fn new(id: &str, kind: &str, text: &str) -> Block {
        let lines = vec![format!("id = {}", quoted(id)), format!("{kind} = {}", quoted(text))];
        Block { comments: vec![], lines, needs: vec![], gives: vec![], uses: vec![], leaves: vec![] }
    }

    /// A run of a shared procedure.
    pub fn run(id: &str, procedure: &str) -> Block {
        Block::new(id, "run", procedure)
    }

    /// One action.
    pub fn action(id: &str, text: &str) -> Block {
        Block::new(id, "do", text)
    }

    /// A question with its answers, each a line of TOML.
    pub fn question(id: &str, text: &str, answers: &[&str]) -> Block {
        let mut block = Block::new(id, "ask", text);
        block
            .lines
            .push(format!("answers = [\n{}]", answers.iter().map(|way| format!("  {way},\n")).collect::<String>()));
        block
    }

    /// An end.
    pub fn end(id: &str, kind: &str) -> Block {
        Block::new(id, "end", kind)
    }

    /// Says in a comment what is to be looked at or filled in.
    pub fn comment(mut self, text: impl Into<String>) -> Block {
        self.comments.push(text.into());
        self
    }

    /// Begins a stage.
    pub fn stage(mut self, title: &str) -> Block {
        self.lines.insert(1, format!("stage = {}", as_text(title)));
        self
    }

    /// Begins a stage, where there is one to begin.
    pub fn maybe_stage(self, title: Option<&str>) -> Block {
        match title {
            Some(title) => self.stage(title),
            None => self,
        }
    }

    /// Gives a procedure its parameters; words in which a brace is a brace.
    pub fn with(mut self, values: &[(&str, &str)]) -> Block {
        let values: Vec<String> = values.iter().map(|(key, value)| format!("{key} = {}", quoted(value))).collect();
        self.lines.push(format!("with = {{ {} }}", values.join(", ")));
        self
    }

    /// Adds a line with a text.
    pub fn says(mut self, key: &str, text: &str) -> Block {
        self.lines.push(format!("{key} = {}", quoted(text)));
        self
    }

    /// Adds a line as it is.
    pub fn line(mut self, line: &str) -> Block {
        self.lines.push(line.to_owned());
        self
    }

    /// Lets it need conditions.
    pub fn needs<S: AsRef<str>>(mut self, conditions: impl IntoIterator<Item = S>) -> Block {
        self.needs.extend(conditions.into_iter().map(|condition| condition.as_ref().to_owned()));
        self
    }

    /// Lets it give conditions.
    pub fn gives<S: AsRef<str>>(mut self, conditions: impl IntoIterator<Item = S>) -> Block {
        self.gives.extend(conditions.into_iter().map(|condition| condition.as_ref().to_owned()));
        self
    }

    /// Says what the steps of its procedure need.
    pub fn uses<S: AsRef<str>>(mut self, conditions: impl IntoIterator<Item = S>) -> Block {
        self.uses.extend(conditions.into_iter().map(|condition| condition.as_ref().to_owned()));
        self
    }

    /// Says what the steps of its procedure, or its answers, give.
    pub fn leaves<S: AsRef<str>>(mut self, conditions: impl IntoIterator<Item = S>) -> Block {
        self.leaves.extend(conditions.into_iter().map(|condition| condition.as_ref().to_owned()));
        self
    }

    fn text(&self) -> String {
        let mut lines: Vec<String> = self.comments.iter().map(|comment| format!("# {comment}")).collect();
        lines.push("[[step]]".to_owned());
        lines.extend(self.lines.iter().cloned());
        for (key, conditions) in [("needs", &self.needs), ("gives", &self.gives)] {
            if !conditions.is_empty() {
                lines.push(format!("{key} = {}", list(conditions.iter().map(String::as_str))));
            }
        }
        lines.join("\n") + "\n"
    }
}

/// The steps of a guide, in order, and the words that its own conditions are said in.
#[derive(Default)]
pub(super) struct Steps {
    text: String,
    /// What was given and is not needed yet, in order: a guide that ends here needs it at its end.
    open: Vec<String>,
    words: Vec<(String, String)>,
}

impl Steps {
    /// Adds a heading over the steps that follow.
    pub fn heading(&mut self, title: &str) {
        self.text.push_str(&format!("\n# {} {title}\n", "-".repeat(100 - title.len().min(90))));
    }

    /// Adds a step.
    pub fn add(&mut self, block: Block) {
        self.text.push('\n');
        self.text.push_str(&block.text());
        let used: BTreeSet<&String> = block.needs.iter().chain(&block.uses).collect();
        self.open.retain(|open| !used.contains(open));
        for given in block.gives.iter().chain(&block.leaves) {
            if !self.open.contains(given) {
                self.open.push(given.clone());
            }
        }
    }

    /// Says a condition of the guide's own in words.
    pub fn word(&mut self, condition: impl Into<String>, words: impl Into<String>) {
        self.words.push((condition.into(), words.into()));
    }

    /// Returns what was given and is not needed yet.
    pub fn open(&self) -> &[String] {
        &self.open
    }

    /// Returns the words of the guide's own conditions, as lines.
    pub fn words(&self) -> String {
        self.words.iter().map(|(condition, words)| format!("{} = {}\n", quoted(condition), quoted(words))).collect()
    }

    /// Returns all steps as text.
    pub fn text(&self) -> &str {
        &self.text
    }
}

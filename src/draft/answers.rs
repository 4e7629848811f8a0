//! What a person has said about a kit, as it was said.

use std::collections::BTreeMap;

/// Answers by the key of their question; those that do not apply at present are kept for when they do again.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Answers {
    said: BTreeMap<String, String>,
}

impl Answers {
    /// Returns what was said to a question.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.said.get(key).map(String::as_str)
    }

    /// Keeps an answer, in place of an earlier one.
    pub fn set(&mut self, key: &str, said: String) {
        self.said.insert(key.to_owned(), said);
    }

    /// Forgets an answer, so that its question is asked again.
    pub fn forget(&mut self, key: &str) {
        self.said.remove(key);
    }

    /// Yields keys and answers, by key.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.said.iter().map(|(key, said)| (key.as_str(), said.as_str()))
    }

    /// Tells whether nothing was said yet.
    pub fn is_empty(&self) -> bool {
        self.said.is_empty()
    }
}

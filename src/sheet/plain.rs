//! Words that can be put on a sheet.

use std::fmt;

use crate::finding::plain_text::clean;

/// Words that act on nothing: cleaned, on one line, and with one space between them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plain(String);

impl Plain {
    /// Returns a text as plain words; what could act on a terminal or hide text is made visible.
    ///
    /// The no-break space between a number and its unit is kept.
    ///
    /// ```
    /// use stepjig::sheet::Plain;
    /// assert_eq!(Plain::new(" press\n \u{1b}[2Jhome ").as_str(), "press ^[[2Jhome");
    /// ```
    pub fn new(text: &str) -> Plain {
        let shown = clean(text);
        Plain(shown.split([' ', '\n']).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" "))
    }

    /// Returns the words.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Plain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

//! Makes text that is not ours safe to show: what a stranger's guide says stays text.

use std::borrow::Cow;

/// Returns the text with every character that could act on a terminal or hide text made visible.
///
/// Control characters other than the newline become `^[`-like pairs or `<U+0085>`-like names; so do the bidirectional
/// controls, line and paragraph separators, the byte order mark and tag characters (Unicode 15, property
/// `Bidi_Control`, and the Tags block).
///
/// ```
/// use stepjig::finding::plain_text::clean;
/// assert_eq!(clean("press \u{1b}[2Jhome"), "press ^[[2Jhome");
/// assert_eq!(clean("left\u{202e}right"), "left<U+202E>right");
/// ```
pub fn clean(text: &str) -> Cow<'_, str> {
    if text.bytes().all(|byte| (0x20..0x7f).contains(&byte) || byte == b'\n') || !text.chars().any(acts) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            _ if !acts(c) => shown.push(c),
            '\t' => shown.push(' '),
            '\0'..='\u{1f}' => shown.extend(['^', char::from(c as u8 ^ 0x40)]),
            '\u{7f}' => shown.push_str("^?"),
            _ => shown.push_str(&format!("<U+{:04X}>", u32::from(c))),
        }
    }
    Cow::Owned(shown)
}

/// Returns the text cleaned; one that is clean already is handed on as it is.
pub fn cleaned(text: String) -> String {
    let plain = match clean(&text) {
        Cow::Owned(plain) => Some(plain),
        Cow::Borrowed(_) => None,
    };
    plain.unwrap_or(text)
}

/// Returns the text cleaned and on one line.
pub fn clean_line(text: &str) -> String {
    clean(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn acts(c: char) -> bool {
    matches!(c,
        '\0'..='\u{9}' | '\u{b}'..='\u{1f}' | '\u{7f}'..='\u{9f}'
        | '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
        | '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{e0000}'..='\u{e007f}')
}

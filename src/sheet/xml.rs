//! Text between the tags of HTML and SVG.

/// Returns the text so that nothing in it is a tag or a reference, between tags or in an attribute.
pub(super) fn escaped(text: &str) -> String {
    let mut shown = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => shown.push_str("&amp;"),
            '<' => shown.push_str("&lt;"),
            '>' => shown.push_str("&gt;"),
            '"' => shown.push_str("&quot;"),
            '\'' => shown.push_str("&#39;"),
            _ => shown.push(c),
        }
    }
    shown
}

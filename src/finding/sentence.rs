//! A text as a sentence: how it begins and how it ends.

/// Returns words with a capital at their beginning.
pub(crate) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Returns a sentence as it stands inside another.
pub(crate) fn small(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// Returns words that end as a sentence does; those that end so, or with a colon, stay as they are.
pub(crate) fn ended(words: &str) -> String {
    let words = words.trim();
    if words.ends_with(['.', '!', '?', ':']) { words.to_owned() } else { format!("{words}.") }
}

//! `name=value` as it stands on a line.

use crate::cli::failure::Failure;
use crate::finding::plain_text::clean_line;
use crate::reckon::Reckoning;

/// Returns names and values. A word without `=` goes on with the value before it: `hole=25/64 in`.
pub(super) fn pairs(reckoning: &Reckoning, words: &[String]) -> Result<Vec<(String, String)>, Failure> {
    let mut pairs: Vec<(String, String)> = Vec::new();
    for word in words {
        match (word.split_once('='), pairs.last_mut()) {
            (Some((name, value)), _) => pairs.push((name.trim().to_owned(), value.to_owned())),
            (None, Some((_, value))) => {
                value.push(' ');
                value.push_str(word);
            }
            (None, None) => return Err(without_names(reckoning, words)),
        }
    }
    Ok(pairs)
}

/// Says how to write values that stand there without their names.
fn without_names(reckoning: &Reckoning, words: &[String]) -> Failure {
    let short = |word: &str| clean_line(&word.chars().take(40).collect::<String>());
    let bare = words.iter().take_while(|word| !word.contains('=')).zip(reckoning.inputs);
    let named: Vec<String> = bare.map(|(word, input)| format!("{}={}", input.name, short(word))).collect();
    let first = words.first().map_or(String::new(), |word| short(word));
    Failure::usage(format!("`{first}` has no name before it"))
        .help(format!("write each as name=value: {}?", named.join(" ")))
}

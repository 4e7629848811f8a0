//! Values that stand on a line without their names.

use crate::cli::failure::Failure;
use crate::finding::plain_text::clean_line;
use crate::reckon::Reckoning;

/// Says how to write values that stand there without their names.
pub(super) fn without_names(reckoning: &Reckoning, words: &[String]) -> Failure {
    let short = |word: &str| clean_line(&word.chars().take(40).collect::<String>());
    let bare = words.iter().take_while(|word| !word.contains('=')).zip(reckoning.inputs);
    let named: Vec<String> = bare.map(|(word, input)| format!("{}={}", input.name, short(word))).collect();
    let first = words.first().map_or(String::new(), |word| short(word));
    Failure::usage(format!("`{first}` has no name before it"))
        .help(format!("write each as name=value: {}?", named.join(" ")))
}

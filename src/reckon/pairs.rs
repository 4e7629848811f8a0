//! `name=value` as it is typed.

/// Returns names and values. A word without `=` goes on with the value before it: `hole=25/64 in`.
///
/// # Errors
/// The first word, where it has no name before it.
pub fn pairs<'w>(words: impl IntoIterator<Item = &'w str>) -> Result<Vec<(String, String)>, &'w str> {
    let mut pairs: Vec<(String, String)> = Vec::new();
    for word in words {
        match (word.split_once('='), pairs.last_mut()) {
            (Some((name, value)), _) => pairs.push((name.trim().to_owned(), value.to_owned())),
            (None, Some((_, value))) => {
                value.push(' ');
                value.push_str(word);
            }
            (None, None) => return Err(word),
        }
    }
    Ok(pairs)
}

#[cfg(test)]
mod tests {
    use super::pairs;

    #[test]
    fn a_word_without_a_name_goes_on_with_the_value_before_it() {
        let expected = vec![("hole".to_owned(), "25/64 in".to_owned()), ("wall".to_owned(), "1=2".to_owned())];
        assert_eq!(pairs(["hole=25/64", "in", "wall=1=2"]), Ok(expected));
        assert_eq!(pairs(["3", "mm"]), Err("3"));
        assert_eq!(pairs([]), Ok(Vec::new()));
    }
}

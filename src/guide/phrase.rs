//! Texts with references in braces: `{tube}`, `{kit.tube.body.drill}`, `{read.let-go}`; `{{` is a brace.

/// A piece of a text.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Piece<'t> {
    /// Words as they stand.
    Words(&'t str),
    /// What stands between braces.
    Reference(&'t str),
    /// A brace that is never closed, to the end of the text.
    Unclosed(&'t str),
}

/// Splits a text at its references.
pub(super) fn pieces(text: &str) -> impl Iterator<Item = Piece<'_>> {
    let mut rest = text;
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let Some(brace) = rest.find('{') else {
            return Some(Piece::Words(std::mem::take(&mut rest)));
        };
        if brace > 0 {
            let words;
            (words, rest) = rest.split_at(brace);
            return Some(Piece::Words(words));
        }
        if let Some(after) = rest.strip_prefix("{{") {
            let brace = &rest[..1];
            rest = after;
            return Some(Piece::Words(brace));
        }
        match rest.find('}') {
            Some(close) => {
                let name = &rest[1..close];
                rest = &rest[close + 1..];
                Some(Piece::Reference(name))
            }
            None => Some(Piece::Unclosed(std::mem::take(&mut rest))),
        }
    })
}

/// Returns the text as a person reads it; a reference that `number` cannot say stays as it is written.
pub(super) fn said(text: &str, number: impl Fn(&str) -> Option<String>) -> String {
    pieces(text)
        .map(|piece| match piece {
            Piece::Words(words) | Piece::Unclosed(words) => words.to_owned(),
            Piece::Reference(name) => number(name).unwrap_or_else(|| format!("{{{name}}}")),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Piece, pieces, said};

    #[test]
    fn a_text_is_split_at_its_references() {
        let split: Vec<_> = pieces("drill {kit.a} in {{scrap").collect();
        let expected = [
            Piece::Words("drill "),
            Piece::Reference("kit.a"),
            Piece::Words(" in "),
            Piece::Words("{"),
            Piece::Words("scrap"),
        ];
        assert_eq!(split, expected);
        assert_eq!(pieces("a {b").last(), Some(Piece::Unclosed("{b")));
        assert_eq!(said("x {kit.a} {kit.b}", |name| (name == "kit.a").then(|| "1".into())), "x 1 {kit.b}");
    }
}

//! Refuses what TOML 1.1 added, so that every guide can be read by tools that know TOML 1.0 only.
//!
//! The parser underneath reads 1.1. This walks its tokens and reports: a newline, a comment or a trailing comma
//! directly inside an inline table, the escapes `\e` and `\xHH`, and times without seconds
//! (toml.io, specification v1.0.0 against v1.1.0).

use toml_parser::Source;
use toml_parser::lexer::TokenKind;

use crate::finding::Span;

/// Returns each place where the text is newer than TOML 1.0, with what stands there.
pub fn newer_than_1_0(text: &str) -> Vec<(Span, &'static str)> {
    let mut found = Vec::new();
    let mut open = Vec::new();
    // Inline tables whose line breaks and comments are told already: one finding a table.
    let mut told = Vec::new();
    let mut last_comma: Option<Span> = None;
    for token in Source::new(text).lex() {
        let span = token.span().start()..token.span().end();
        let in_table = open.last() == Some(&TokenKind::LeftCurlyBracket);
        match token.kind() {
            TokenKind::LeftCurlyBracket | TokenKind::LeftSquareBracket => {
                open.push(token.kind());
                told.push(false);
            }
            TokenKind::RightCurlyBracket | TokenKind::RightSquareBracket => {
                if let (true, TokenKind::RightCurlyBracket, Some(comma)) = (in_table, token.kind(), last_comma.take()) {
                    found.push((comma, "a comma before the closing brace of an inline table"));
                }
                open.pop();
                told.pop();
            }
            TokenKind::Newline | TokenKind::Comment if in_table => {
                if let Some(told @ false) = told.last_mut() {
                    *told = true;
                    found.push((
                        span.clone(),
                        match token.kind() {
                            TokenKind::Comment => "a comment inside an inline table",
                            _ => "a line break inside an inline table",
                        },
                    ));
                }
            }
            TokenKind::BasicString | TokenKind::MlBasicString => {
                found.extend(
                    new_escapes(&text[span.clone()])
                        .map(|at| (span.start + at..span.start + at + 2, "an escape that TOML 1.0 does not have")),
                );
            }
            TokenKind::Atom if time_without_seconds(&text[span.clone()]) => {
                found.push((span.clone(), "a time without seconds"));
            }
            _ => {}
        }
        match token.kind() {
            TokenKind::Comma => last_comma = Some(span),
            TokenKind::Whitespace | TokenKind::Newline | TokenKind::Comment => {}
            _ => last_comma = None,
        }
    }
    found
}

/// Yields where `\e` or `\x` stands in a basic string as it was written.
fn new_escapes(written: &str) -> impl Iterator<Item = usize> {
    let bytes = written.as_bytes();
    let mut at = 0;
    std::iter::from_fn(move || {
        while at + 1 < bytes.len() {
            let here = at;
            at += if bytes[here] == b'\\' { 2 } else { 1 };
            if bytes[here] == b'\\' && matches!(bytes[here + 1], b'e' | b'x') {
                return Some(here);
            }
        }
        None
    })
}

/// Tells whether an atom ends in `hh:mm` and has no seconds.
fn time_without_seconds(atom: &str) -> bool {
    let time = atom.rsplit(['T', 't', ' ']).next().unwrap_or(atom);
    let time = time.trim_end_matches(['Z', 'z']);
    let time = time.split(['+', '-']).next().unwrap_or(time);
    let parts: Vec<&str> = time.split(':').collect();
    parts.len() == 2 && parts.iter().all(|part| part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::newer_than_1_0;

    #[test]
    fn what_1_1_added_is_found_and_1_0_is_not() {
        let newer = [
            "a = { b = 1, }",
            "a = {\n b = 1 }",
            "a = { b = 1 # c\n }",
            r#"a = "\e""#,
            r#"a = "\x41""#,
            "a = 07:32",
            "a = 1979-05-27T07:32Z",
        ];
        for text in newer {
            assert!(!newer_than_1_0(text).is_empty(), "{text}");
        }
        let plain = [
            "a = { b = [\n1,\n], c = 2 }",
            r#"a = "\\e""#,
            "a = 07:32:00",
            "a = [1, 2, ]",
            "a = '''\n{ b, }'''",
            "a = 1979-05-27T07:32:00-07:00",
            "[a]\nb = 1 # { c, }",
        ];
        for text in plain {
            assert_eq!(newer_than_1_0(text), [], "{text}");
        }
    }
}

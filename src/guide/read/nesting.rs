//! How deep lists and tables are nested: told before the parser goes into them.

use toml_parser::Source;
use toml_parser::lexer::TokenKind;

use crate::finding::Span;

/// Returns where lists and tables are opened inside one another deeper than this.
pub(super) fn deeper_than(most: usize, text: &str) -> Option<Span> {
    let mut open = 0usize;
    for token in Source::new(text).lex() {
        match token.kind() {
            TokenKind::LeftCurlyBracket | TokenKind::LeftSquareBracket => open += 1,
            TokenKind::RightCurlyBracket | TokenKind::RightSquareBracket => open = open.saturating_sub(1),
            _ => {}
        }
        if open > most {
            return Some(token.span().start()..token.span().end());
        }
    }
    None
}

//! Edits of a guide's text that keep everything else in it as it is: a name more in a step's list, words for a condition.

use toml::de::{DeTable, DeValue};

use crate::finding::{Edit, Source, Span};

/// Returns the edit that adds a name to a list of the step with that id: into the list, or as a line of its own.
///
/// The step is found by the span of its id. `None` where the text is no TOML or has no such step.
pub fn add_to_list(source: &Source, id: &Span, key: &str, name: &str) -> Option<Edit> {
    let text = source.text();
    let tree = DeTable::parse(text).ok()?;
    let steps = tree.get_ref().get("step")?.get_ref().as_array()?;
    let is_it = |step: &&toml::Spanned<DeValue<'_>>| {
        step.get_ref().as_table().and_then(|table| table.get("id")).is_some_and(|value| value.span() == *id)
    };
    let step = steps.iter().find(is_it)?;
    let Some(list) = step.get_ref().as_table()?.get(key) else {
        let line = format!("{key} = [\"{name}\"]");
        if text[step.span()].starts_with("[[") {
            return Some(line_after(text, id.end, &line));
        }
        return Some(Edit { span: id.end..id.end, text: format!(", {line}") });
    };
    match list.get_ref().as_array()?.last() {
        Some(last) => Some(Edit { span: last.span().end..last.span().end, text: format!(", \"{name}\"") }),
        None => {
            let at = list.span().start + 1;
            Some(Edit { span: at..at, text: format!("\"{name}\"") })
        }
    }
}

/// Returns the edit that says a condition in words: after the last words there are, or in a table before the steps.
pub fn add_words(source: &Source, condition: &str, words: &str) -> Option<Edit> {
    let text = source.text();
    let tree = DeTable::parse(text).ok()?;
    let entry = format!("\"{condition}\" = \"{words}\"");
    let Some((key, table)) = tree.get_ref().get_key_value("words") else {
        let first = tree.get_ref().get("step")?.get_ref().as_array()?.first()?.span().start;
        let end = line_end(text);
        let at = above_comments(text, first);
        return Some(Edit { span: at..at, text: format!("[words]{end}{entry}{end}{end}") });
    };
    let last = table.get_ref().as_table()?.iter().map(|(_, said)| said.span().end).max();
    match last {
        Some(last) if text[table.span()].starts_with('{') => {
            Some(Edit { span: last..last, text: format!(", {entry}") })
        }
        Some(last) => Some(line_after(text, last, &entry)),
        None if text[table.span()].starts_with('{') => {
            let at = table.span().start + 1;
            Some(Edit { span: at..at, text: format!(" {entry} ") })
        }
        None => Some(line_after(text, key.span().end, &entry)),
    }
}

/// Returns the edit that puts a line under the one that holds a byte.
fn line_after(text: &str, at: usize, line: &str) -> Edit {
    let end = text[at..].find('\n').map_or(text.len(), |more| at + more);
    let end = if text[..end].ends_with('\r') { end - 1 } else { end };
    Edit { span: end..end, text: format!("{}{line}", line_end(text)) }
}

/// Returns how the lines of the text end.
fn line_end(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

/// Returns where the comments begin that stand right above a line.
fn above_comments(text: &str, line_start: usize) -> usize {
    let mut at = line_start;
    while let Some(before) = text[..at].strip_suffix('\n') {
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        if !before[start..].trim_start().starts_with('#') || start == 0 {
            break;
        }
        at = start;
    }
    at
}

//! What mends a finding, as data: edits of the file that it stands in.

use super::{Place, Span};

/// How one finding is mended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fix {
    /// What it does, in a line for a person.
    pub what: String,
    /// The edits, all of them in the finding's own file; they do not overlap.
    pub edits: Vec<Edit>,
}

/// Text that comes in the place of a span; at an empty span it is put in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// The bytes that go.
    pub span: Span,
    /// What comes.
    pub text: String,
}

impl Edit {
    /// Tells whether both cannot be made at once: they overlap, or both put a line in at the same place.
    pub fn collides(&self, other: &Edit) -> bool {
        let (first, second) = if self.span.start <= other.span.start { (self, other) } else { (other, self) };
        let same_place = first.span.start == second.span.start;
        let inserts = first.span.is_empty() && second.span.is_empty();
        if same_place && inserts {
            return !(first.goes_on() && second.goes_on());
        }
        second.span.start < first.span.end || same_place
    }

    /// Tells whether it goes on with a list or a table that is there, so that another may go on after it.
    fn goes_on(&self) -> bool {
        self.text.trim_start().starts_with([',', '"'])
    }
}

impl Fix {
    /// Returns the edit that puts one name in the place of another, if that stands exactly once at the place.
    ///
    /// A name is not found in the middle of a longer one, so that `glue` is never put right inside `glue-body`.
    pub fn rename(place: &Place, written: &str, near: &str) -> Option<Fix> {
        let marked = place.source.text().get(place.span.clone())?;
        let is_name = |c: char| c.is_alphanumeric() || "-_/.".contains(c);
        let mut found = marked.match_indices(written).filter(|(at, _)| {
            let (before, after) = (&marked[..*at], &marked[at + written.len()..]);
            !before.ends_with(is_name) && !after.starts_with(is_name)
        });
        let (at, _) = found.next()?;
        if written.is_empty() || found.next().is_some() {
            return None;
        }
        let start = place.span.start + at;
        let edit = Edit { span: start..start + written.len(), text: near.to_owned() };
        Some(Fix { what: format!("`{written}` becomes `{near}`"), edits: vec![edit] })
    }
}

/// Returns a text with edits made that do not collide; those at the same place in their order.
///
/// An edit that lies outside the text, or inside a character, is left out.
pub fn edited<'e>(text: &str, edits: impl IntoIterator<Item = &'e Edit>) -> String {
    let mut edits: Vec<&Edit> = edits.into_iter().collect();
    edits.sort_by_key(|edit| (edit.span.start, edit.span.end));
    let (mut made, mut at) = (String::with_capacity(text.len()), 0);
    for edit in edits {
        if let Some(kept) = text.get(at..edit.span.start).filter(|_| text.get(edit.span.clone()).is_some()) {
            made.push_str(kept);
            made.push_str(&edit.text);
            at = edit.span.end;
        }
    }
    made.push_str(&text[at..]);
    made
}

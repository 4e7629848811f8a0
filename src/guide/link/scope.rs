//! Parameters of a procedure at one place, and their substitution.

use crate::guide::phrase::{Piece, pieces};

/// What a parameter stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Value {
    /// A branch of the kit's numbers, `kit.tube.body`.
    Path(String),
    /// Words.
    Literal(String),
    /// Words with kit numbers in braces, `{kit.cap.length}, 12 mm`: a text, no name.
    Numbers(String),
}

impl Value {
    /// Returns the value that a `with` entry gives: a kit path where it begins with `kit.`.
    pub(super) fn of(written: &str) -> Value {
        if written.starts_with("kit.") { Value::Path(written.to_owned()) } else { Value::Literal(written.to_owned()) }
    }

    /// Returns it as it was written.
    pub(super) fn written(&self) -> &str {
        match self {
            Value::Path(written) | Value::Literal(written) | Value::Numbers(written) => written,
        }
    }

    /// Returns what it is in a text: the last part of a path, or the words.
    pub(super) fn said(&self) -> &str {
        match self {
            Value::Path(path) => path.rsplit('.').next().unwrap_or(path),
            Value::Literal(words) | Value::Numbers(words) => words,
        }
    }
}

/// The parameters in force.
#[derive(Debug, Clone)]
pub(super) struct Scope {
    values: Vec<(String, Value)>,
    /// How many bytes a text may have with its parameters put in: what is put in may hold what was put in before, and
    /// grows a thousandfold at each turn.
    most: usize,
}

/// Why a reference could not be substituted.
#[derive(Debug)]
pub(super) struct NoSuchValue {
    pub(super) name: String,
    pub(super) why: Why,
}

/// What is wrong with a reference.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Why {
    /// Nothing has that name.
    Unknown,
    /// It is opened and not closed.
    Unclosed,
    /// What it stands for makes the text too long.
    TooLong,
}

impl Scope {
    /// Returns a scope without parameters, for texts of so many bytes at most.
    pub(super) fn new(most: usize) -> Scope {
        Scope { values: Vec::new(), most }
    }

    /// Adds a parameter.
    pub(super) fn push(&mut self, name: impl Into<String>, value: Value) {
        self.values.push((name.into(), value));
    }

    /// Tells of a text that has grown too long.
    fn fits(&self, text: &str, name: &str) -> Result<(), NoSuchValue> {
        match text.len() <= self.most {
            true => Ok(()),
            false => Err(NoSuchValue { name: name.to_owned(), why: Why::TooLong }),
        }
    }

    /// Returns the value of a parameter.
    pub(super) fn get(&self, name: &str) -> Option<&Value> {
        self.values.iter().find(|(known, _)| known == name).map(|(_, value)| value)
    }

    /// Returns the parameters' names.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.values.iter().map(|(name, _)| name.as_str())
    }

    /// Returns the kit path that a reference such as `tube.drill` stands for.
    fn kit_path(&self, name: &str) -> Option<String> {
        let (parameter, rest) = name.split_once('.')?;
        match self.get(parameter)? {
            Value::Path(path) => Some(format!("{path}.{rest}")),
            Value::Literal(_) | Value::Numbers(_) => None,
        }
    }

    /// Returns a name (an id, a condition, a target) with its parameters put in.
    pub(super) fn name(&self, written: &str) -> Result<String, NoSuchValue> {
        if !written.contains('{') {
            return Ok(written.to_owned());
        }
        let mut name = String::new();
        for piece in pieces(written) {
            match piece {
                Piece::Words(words) => name.push_str(words),
                Piece::Reference(reference) => match self.get(reference) {
                    Some(value) => {
                        name.push_str(value.said());
                        self.fits(&name, reference)?;
                    }
                    None => return Err(NoSuchValue { name: reference.to_owned(), why: Why::Unknown }),
                },
                Piece::Unclosed(rest) => return Err(NoSuchValue { name: rest.to_owned(), why: Why::Unclosed }),
            }
        }
        Ok(name)
    }

    /// Returns what a `with` hands on: a parameter whole, with its path, or a name.
    pub(super) fn handed_on(&self, written: &str) -> Result<String, NoSuchValue> {
        let whole = written.strip_prefix('{').and_then(|rest| rest.strip_suffix('}')).and_then(|name| self.get(name));
        whole.map_or_else(|| self.name(written), |value| Ok(value.written().to_owned()))
    }

    /// Returns a text with its parameters put in; `{kit.…}` and `{read.…}` stay, under the names that `number` gives.
    pub(super) fn text(
        &self,
        written: &str,
        mut number: impl FnMut(&str) -> Option<String>,
    ) -> Result<String, NoSuchValue> {
        if !written.contains('{') {
            return Ok(written.to_owned());
        }
        let mut text = String::new();
        for piece in pieces(written) {
            match piece {
                Piece::Words("{") => text.push_str("{{"),
                Piece::Words(words) => text.push_str(words),
                Piece::Unclosed(rest) => return Err(NoSuchValue { name: rest.to_owned(), why: Why::Unclosed }),
                Piece::Reference(reference) => match (self.get(reference), self.kit_path(reference)) {
                    (Some(Value::Numbers(words)), _) => {
                        text.push_str(words);
                        self.fits(&text, reference)?;
                    }
                    (Some(value), _) => {
                        text.push_str(&value.said().replace('{', "{{"));
                        self.fits(&text, reference)?;
                    }
                    (None, path) => match number(path.as_deref().unwrap_or(reference)) {
                        Some(name) => {
                            text.push_str(&format!("{{{name}}}"));
                            self.fits(&text, reference)?;
                        }
                        None => return Err(NoSuchValue { name: reference.to_owned(), why: Why::Unknown }),
                    },
                },
            }
        }
        Ok(text)
    }

    /// Tells whether a text holds a kit number or reading beside something else: `{kit.cap.length}, 12 mm`.
    pub(super) fn is_list(&self, written: &str) -> bool {
        let is_number = |name: &str| name.starts_with("kit.") || name.starts_with("read.");
        let refers = |piece: Piece<'_>| matches!(piece, Piece::Reference(name) if is_number(name) || self.kit_path(name).is_some());
        let is_words = |piece: Piece<'_>| matches!(piece, Piece::Reference(name) if matches!(self.get(name), Some(Value::Numbers(_))));
        pieces(written).any(is_words) || pieces(written).count() > 1 && pieces(written).any(refers)
    }

    /// Returns the kit path or reading that `sets`, a limit or `from` names: `kit.…`, `{tube.outside}`, `tube.outside`.
    pub(super) fn path(&self, written: &str) -> Result<String, NoSuchValue> {
        let bare = written.strip_prefix('{').and_then(|rest| rest.strip_suffix('}')).unwrap_or(written);
        if let Some(path) = self.kit_path(bare) {
            return Ok(path);
        }
        if bare.starts_with("kit.") || bare.starts_with("read.") {
            return if bare.contains('{') { self.name(bare) } else { Ok(bare.to_owned()) };
        }
        self.name(written)
    }
}

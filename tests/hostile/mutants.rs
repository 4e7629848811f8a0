//! Files that were once guides: bytes flipped, lines doubled, files cut short and grown together.

use stepjig::guide::{Library, write};

use crate::oracle::random::{self, Dice};
use crate::oracle::toml;

/// What stands where it should not: TOML's own signs, references, numbers at the edge.
const FRAGMENTS: [&str; 28] = [
    "[",
    "]",
    "{",
    "}",
    "\"",
    "'''",
    "\"\"\"",
    "\\",
    "\\u",
    "\\U0010FFFF",
    "\\uD800",
    "#",
    "=",
    ".",
    ",",
    "\n",
    "\r",
    "\0",
    "\u{feff}",
    "[[step]]\n",
    "{kit.",
    "{read.",
    "}}",
    "1e999",
    "-0",
    "nan",
    "linked = true\n",
    "9223372036854775808",
];

/// A file of the shelf: a guide or a procedure, and its text.
pub struct Shelved {
    /// Its id.
    pub id: String,
    /// Whether it is a procedure.
    pub is_procedure: bool,
    /// What it says.
    pub text: String,
}

/// Returns the files that stepjig comes with.
pub fn shipped() -> Vec<Shelved> {
    let library = Library::shipped();
    let text =
        |source: Option<std::sync::Arc<stepjig::finding::Source>>| source.expect("it is listed").text().to_owned();
    let guides =
        library.guide_ids().map(|id| Shelved { id: id.into(), is_procedure: false, text: text(library.guide(id)) });
    let procedures = library.procedure_ids().map(|id| Shelved {
        id: id.into(),
        is_procedure: true,
        text: text(library.procedure(id)),
    });
    guides.chain(procedures).collect()
}

/// Returns the text of a small guide without errors, now and then as it is kept with a job.
pub fn small(seed: u64) -> String {
    let text = toml::render(&random::clean(seed));
    match seed % 3 {
        0 => write::linked(&linked(&text)),
        _ => text,
    }
}

/// Returns a guide that links alone.
pub fn linked(text: &str) -> stepjig::guide::Guide {
    let linked = Library::empty().link(&stepjig::finding::Source::new("g.toml", text));
    linked.guide.unwrap_or_else(|| panic!("{:?}", linked.findings))
}

/// Returns a text changed in one to three places; `other` is what it may grow together with.
pub fn mutant(dice: &mut Dice, text: &str, other: &str) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..*dice.pick(&[1, 1, 1, 2, 3]) {
        mutate(dice, &mut bytes, other);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn mutate(dice: &mut Dice, bytes: &mut Vec<u8>, other: &str) {
    let at = dice.within(0, bytes.len());
    let to = (at + dice.within(0, 40)).min(bytes.len());
    match dice.within(0, 9) {
        0 | 1 => {
            for _ in 0..dice.within(1, 8) {
                if !bytes.is_empty() {
                    let at = dice.within(0, bytes.len() - 1);
                    bytes[at] ^= 1 << dice.within(0, 7);
                }
            }
        }
        2 => drop(bytes.drain(at..to)),
        3 => {
            let line = line(dice, bytes);
            let copy = bytes[line.clone()].to_vec();
            let copies = dice.within(1, 3);
            bytes.splice(line.end..line.end, copy.repeat(copies));
        }
        4 => drop(bytes.drain(line(dice, bytes))),
        5 => bytes.truncate(at),
        6 => {
            bytes.truncate(at);
            bytes.extend_from_slice(&other.as_bytes()[dice.within(0, other.len())..]);
        }
        7 => drop(bytes.splice(at..at, dice.pick(&FRAGMENTS).bytes())),
        8 => {
            // A word in quotes is put in the place of another: often still a guide.
            let (from, to) = (quoted(dice, bytes), quoted(dice, bytes));
            let word = bytes[from].to_vec();
            bytes.splice(to, word);
        }
        _ => {
            let (one, two) = (line(dice, bytes), line(dice, bytes));
            let (first, last) = if one.start < two.start { (one, two) } else { (two, one) };
            if first.end <= last.start {
                let moved = bytes[last.clone()].to_vec();
                bytes.drain(last);
                bytes.splice(first.start..first.start, moved);
            }
        }
    }
}

/// Returns where some line stands, its end included.
fn line(dice: &mut Dice, bytes: &[u8]) -> std::ops::Range<usize> {
    let at = dice.within(0, bytes.len());
    let start = bytes[..at].iter().rposition(|byte| *byte == b'\n').map_or(0, |before| before + 1);
    let end = bytes[at..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |more| at + more + 1);
    start..end
}

/// Returns where some text in quotes stands, without its quotes.
fn quoted(dice: &mut Dice, bytes: &[u8]) -> std::ops::Range<usize> {
    let line = line(dice, bytes);
    let quotes: Vec<usize> = line.clone().filter(|at| bytes[*at] == b'"').collect();
    match quotes.as_slice() {
        [] | [_] => line.start..line.start,
        quotes => {
            let pair = dice.within(0, quotes.len() / 2 - 1) * 2;
            quotes[pair] + 1..quotes[pair + 1]
        }
    }
}

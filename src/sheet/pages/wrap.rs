//! Words set in lines of a width: ragged right, as full as they go, no word broken that fits a line.

use super::paper::{LEAST_BOX, MOST_CHARACTERS, PITCH, WRITING};
use super::setting::Setting;
use crate::sheet::drawing::{Mark, Shade, Stroke, at};
use crate::sheet::font::Face;
use crate::sheet::model::{Line, Run};
use crate::sheet::plain::Plain;

/// The width of a line to write on.
const BLANK: f32 = 90.0;

/// The same, where lines stand close.
const CLOSE_BLANK: f32 = 50.0;

/// Room between a box and the number it is for.
const AFTER_TICK: f32 = 2.0;

/// What stands on a line between two spaces.
enum Piece {
    Word(String),
    /// Room for a page's number, and the number.
    Page(String, String),
    Blank,
    /// A box, and the number that it is for.
    Tick(String),
}

struct Token {
    piece: Piece,
    face: Face,
    /// The step that a reader is led to by it.
    leads_to: Option<usize>,
    spaced: bool,
}

/// A stretch of a set line.
struct Stretch {
    x: f32,
    width: f32,
    shown: Shown,
    leads_to: Option<usize>,
}

enum Shown {
    /// Words in one face.
    Words(String, Face),
    /// A line to write on.
    Blank,
    /// A box to tick, and its number.
    Tick(String, Face),
}

/// One set line.
pub(super) struct SetLine {
    stretches: Vec<Stretch>,
    height: f32,
    size: f32,
}

/// A place on a page that leads to a step: left, top, width, height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// Its left edge.
    pub x: f32,
    /// Its upper edge.
    pub y: f32,
    /// Its width.
    pub width: f32,
    /// Its height.
    pub height: f32,
    /// The step that it leads to.
    pub step: usize,
}

impl SetLine {
    pub fn height(&self) -> f32 {
        self.height
    }

    /// Returns how far to the right it comes.
    pub fn width(&self) -> f32 {
        self.stretches.last().map_or(0.0, |last| last.x + last.width)
    }

    /// Puts the line's marks and links with its upper left corner here.
    pub fn put(&self, x: f32, y: f32, marks: &mut Vec<Mark>, links: &mut Vec<Link>) {
        // The type stands in the lower part of its line: a line to write on is higher than its type.
        let baseline = y + self.height - self.size * (PITCH - 1.0) / 2.0 - self.size * 0.22;
        for stretch in &self.stretches {
            let left = x + stretch.x;
            let mut words = |x: f32, text: &str, face: Face| {
                marks.push(Mark::Words { at: at(x, baseline), size: self.size, face, words: Plain::new(text) });
            };
            match &stretch.shown {
                Shown::Words(text, face) => words(left, text, *face),
                Shown::Tick(number, face) => {
                    words(left + LEAST_BOX + AFTER_TICK, number, *face);
                    let (top, side) = (y + (self.height - LEAST_BOX) / 2.0, (LEAST_BOX, LEAST_BOX));
                    let line = Some(Stroke::black(1.0));
                    marks.push(Mark::rectangle(at(left, top), side, Some(Shade::White), line));
                }
                Shown::Blank => {
                    let points = vec![at(left, baseline + 2.0), at(left + stretch.width, baseline + 2.0)];
                    marks.push(Mark::Line { points, stroke: Stroke::black(0.8) });
                }
            }
            links.extend(stretch.leads_to.map(|step| Link {
                x: left,
                y,
                width: stretch.width,
                height: self.height,
                step,
            }));
        }
    }
}

/// Sets a line of the sheet in lines of this width; `face` is that of its words.
pub(super) fn set(line: &Line, face: Face, (size, width): (f32, f32), setting: &Setting) -> Vec<SetLine> {
    let numbers = &setting.numbers;
    let mut tokens = Vec::new();
    for run in &line.runs {
        let spaced = !run.closes();
        match run {
            Run::Words(words) => word_tokens(&mut tokens, words.as_str(), face, spaced),
            Run::Strong(words) => word_tokens(&mut tokens, words.as_str(), Face::Bold, spaced),
            Run::Blank => tokens.push(Token { piece: Piece::Blank, face, leads_to: None, spaced }),
            Run::Tick(number) => {
                tokens.push(Token { piece: Piece::Tick(number.to_string()), face, leads_to: Some(*number), spaced });
            }
            Run::Step(step) if !(numbers.has_step)(*step) => {
                // A sheet of one page has no other to name, nor has one that speaks of another sheet's steps.
                let word = Piece::Word(format!("step\u{a0}{step}"));
                tokens.push(Token { piece: word, face, leads_to: Some(*step), spaced });
            }
            Run::Step(step) => {
                let word = Piece::Word(format!("step\u{a0}{step}"));
                tokens.push(Token { piece: word, face, leads_to: Some(*step), spaced });
                let widest = format!("(page\u{a0}{})", "0".repeat(numbers.digits));
                let page =
                    (numbers.of_step)(*step).map_or_else(|| widest.clone(), |page| format!("(page\u{a0}{page})"));
                tokens.push(Token { piece: Piece::Page(widest, page), face, leads_to: Some(*step), spaced: true });
            }
        }
    }
    fill(tokens, size, width, setting.close)
}

/// Sets a text in lines of this width.
pub(super) fn set_text(text: &str, face: Face, size: f32, width: f32) -> Vec<SetLine> {
    let mut tokens = Vec::new();
    word_tokens(&mut tokens, Plain::new(text).as_str(), face, true);
    fill(tokens, size, width, false)
}

fn word_tokens(tokens: &mut Vec<Token>, text: &str, face: Face, spaced: bool) {
    for (n, word) in text.split(' ').filter(|word| !word.is_empty()).enumerate() {
        let spaced = spaced || n > 0;
        tokens.push(Token { piece: Piece::Word(word.to_owned()), face, leads_to: None, spaced });
    }
}

fn fill(tokens: Vec<Token>, size: f32, width: f32, close: bool) -> Vec<SetLine> {
    let mut lines = vec![Filling::new(size)];
    let mut tokens = tokens.into_iter().peekable();
    while let Some(mut token) = tokens.next() {
        let needs = token.width(size, close);
        let last = lines.len() - 1;
        // A box and the line to write on that is for it stand on one line.
        let next = tokens.peek().filter(|next| token.is_tick() && matches!(next.piece, Piece::Blank));
        let with_next = next.map_or(0.0, |next| token.face.width(" ", size) + next.width(size, close));
        if lines[last].takes(&token, needs + with_next, width) {
            lines[last].put(token, needs);
            continue;
        }
        if !lines[last].stretches.is_empty() {
            lines.push(Filling::new(size));
        }
        // A word that is wider than a whole line is broken where the line ends.
        while let Some(head) = token.split_off_head(size, width) {
            let needs = head.width(size, close);
            let last = lines.len() - 1;
            lines[last].put(head, needs);
            lines.push(Filling::new(size));
        }
        let needs = token.width(size, close);
        let last = lines.len() - 1;
        lines[last].put(token, needs);
    }
    lines.retain(|line| !line.stretches.is_empty());
    lines.into_iter().map(|line| line.set(close)).collect()
}

impl Token {
    /// Returns the room it takes.
    fn width(&self, size: f32, close: bool) -> f32 {
        match &self.piece {
            Piece::Word(text) | Piece::Page(text, _) => self.face.width(text, size),
            Piece::Tick(number) => LEAST_BOX + AFTER_TICK + self.face.width(number, size),
            Piece::Blank => {
                if close {
                    CLOSE_BLANK
                } else {
                    BLANK
                }
            }
        }
    }

    fn is_tick(&self) -> bool {
        matches!(self.piece, Piece::Tick(_))
    }

    fn characters(&self) -> usize {
        match &self.piece {
            Piece::Word(text) | Piece::Page(text, _) | Piece::Tick(text) => text.chars().count(),
            Piece::Blank => 0,
        }
    }

    /// Takes as much off a word's head as a line holds, if the word is wider than that.
    fn split_off_head(&mut self, size: f32, width: f32) -> Option<Token> {
        let Piece::Word(text) = &mut self.piece else { return None };
        if self.face.width(text, size) <= width && text.chars().count() <= MOST_CHARACTERS {
            return None;
        }
        let mut room = width;
        let fits = |(n, (_, character)): &(usize, (usize, char))| {
            room -= self.face.glyph(*character).advance * size;
            *n == 0 || (room >= 0.0 && *n < MOST_CHARACTERS)
        };
        let cut = text.char_indices().enumerate().take_while(fits).last().map(|(_, (at, c))| at + c.len_utf8())?;
        if cut >= text.len() {
            return None;
        }
        let rest = text.split_off(cut);
        let head = std::mem::replace(text, rest);
        Some(Token { piece: Piece::Word(head), face: self.face, leads_to: self.leads_to, spaced: self.spaced })
    }
}

/// A line that is being filled.
struct Filling {
    stretches: Vec<Stretch>,
    /// How much of it is taken, with the room that is kept for page numbers.
    kept: f32,
    /// Where the next thing stands.
    used: f32,
    characters: usize,
    size: f32,
}

impl Filling {
    fn new(size: f32) -> Filling {
        Filling { stretches: Vec::new(), kept: 0.0, used: 0.0, characters: 0, size }
    }

    fn takes(&self, token: &Token, needs: f32, width: f32) -> bool {
        if self.stretches.is_empty() {
            return needs <= width && token.characters() <= MOST_CHARACTERS;
        }
        // What closes a word before it stays with it.
        let gap = if token.spaced { token.face.width(" ", self.size) } else { return true };
        self.kept + gap + needs <= width && self.characters + 1 + token.characters() <= MOST_CHARACTERS
    }

    fn put(&mut self, token: Token, needs: f32) {
        let gap = match self.stretches.is_empty() || !token.spaced {
            true => 0.0,
            false => token.face.width(" ", self.size),
        };
        self.characters += token.characters() + usize::from(gap > 0.0);
        let x = self.used + gap;
        let takes = match &token.piece {
            Piece::Page(_, page) => token.face.width(page, self.size),
            _ => needs,
        };
        (self.kept, self.used) = (self.kept + gap + needs, x + takes);
        let shown = match token.piece {
            Piece::Word(text) | Piece::Page(_, text) => Shown::Words(text, token.face),
            Piece::Tick(number) => Shown::Tick(number, token.face),
            Piece::Blank => Shown::Blank,
        };
        // Words of one kind are one stretch, so that a reader of the page finds them as a line of text.
        if let (Shown::Words(text, face), Some(last)) = (&shown, self.stretches.last_mut())
            && let Shown::Words(before, face_before) = &mut last.shown
            && (*face_before, last.leads_to) == (*face, token.leads_to)
        {
            if gap > 0.0 {
                before.push(' ');
            }
            before.push_str(text);
            last.width = self.used - last.x;
            return;
        }
        self.stretches.push(Stretch { x, width: takes, shown, leads_to: token.leads_to });
    }

    fn set(self, close: bool) -> SetLine {
        let writes = !close && self.stretches.iter().any(|stretch| matches!(stretch.shown, Shown::Blank));
        let pitch = self.size * PITCH;
        let height = if writes { pitch.max(WRITING) } else { pitch };
        SetLine { stretches: self.stretches, height, size: self.size }
    }
}

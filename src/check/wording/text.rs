//! A step's texts, each split once into sentences and words.

use super::lexicon::Lexicon;
use super::senses::Senses;
use crate::finding::{Code, Finding, Place, Span};
use crate::guide::document::{Document, RawKind, RawStep, Text};

/// What a text is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// The action.
    Do,
    /// A move of `in-one-go`.
    Move,
    /// A question.
    Ask,
    /// An answer.
    Answer,
    /// What to measure.
    Gauge,
    /// What is being waited for.
    For,
    /// The sign that a wait is over.
    Ready,
    /// What to do when it goes wrong.
    IfWrong,
    /// Why it is done.
    Why,
    /// A note.
    Tell,
    /// A caution's hazard.
    Hazard,
    /// How to avoid it.
    Avoid,
}

/// What stands behind a word within its sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum After {
    /// The next word.
    Nothing,
    /// A comma.
    Comma,
    /// A semicolon.
    Semicolon,
    /// A colon or a dash.
    Colon,
    /// `.`, `?` or `!`: the sentence is over.
    End,
}

/// A word of a text; a reference in braces is one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Word {
    start: u32,
    end: u32,
    /// What it can mean.
    pub(super) senses: Senses,
    /// What stands behind it.
    pub(super) after: After,
}

#[derive(Debug)]
struct SentenceRange {
    words: std::ops::Range<u32>,
    senses: Senses,
    asks: bool,
}

/// One text of a step.
#[derive(Debug)]
pub(super) struct Phrase<'d> {
    /// What it is for.
    pub(super) role: Role,
    /// The text.
    pub(super) text: &'d Text,
    /// All that its words can mean.
    pub(super) senses: Senses,
    sentences: std::ops::Range<u32>,
}

/// A sentence of a text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sentence<'w> {
    said: &'w str,
    /// Its words.
    pub(super) words: &'w [Word],
    /// All that its words can mean.
    pub(super) senses: Senses,
    /// Whether it ends with a question mark.
    pub(super) asks: bool,
}

impl<'w> Sentence<'w> {
    /// Returns a word as it is written.
    pub(super) fn word(&self, n: usize) -> &'w str {
        &self.said[self.words[n].start as usize..self.words[n].end as usize]
    }

    /// Tells whether there is such a word, whatever its case.
    pub(super) fn is(&self, n: usize, word: &str) -> bool {
        n < self.words.len() && self.word(n).eq_ignore_ascii_case(word)
    }

    /// Tells whether the word is one of these, whatever its case.
    pub(super) fn is_one_of(&self, n: usize, words: &[&str]) -> bool {
        words.iter().any(|word| self.is(n, word))
    }

    /// Returns the senses of a word, none beyond the end.
    pub(super) fn senses_of(&self, n: usize) -> Senses {
        self.words.get(n).map_or(Senses::default(), |word| word.senses)
    }

    /// Yields the numbers of the words that have any of these senses.
    pub(super) fn all(&self, any: Senses) -> impl Iterator<Item = usize> + use<'w> {
        let words = if self.senses.has(any) { self.words } else { &[] };
        words.iter().enumerate().filter(move |(_, word)| word.senses.has(any)).map(|(n, _)| n)
    }

    /// Returns where the main clause begins: behind a leading place or condition and its comma, else 0.
    ///
    /// A place is up to six words (`At the drill press,`); a condition (`If it tilts,`) may be longer. Neither is one
    /// unless a verb of the lists follows, so that a list with commas is not taken for it.
    pub(super) fn main_clause(&self) -> usize {
        let condition = self.is_one_of(0, &["after", "as", "before", "if", "once", "when", "where", "while"]);
        let most = if condition { self.words.len() } else { 6 };
        let commas = self.words.iter().take(most).enumerate().filter(|(_, word)| word.after == After::Comma);
        let mut behind = commas.map(|(n, _)| n + 1);
        behind
            .find(|n| self.senses_of(*n).has(Senses::VERB))
            .filter(|_| condition || !self.begins_with_work())
            .unwrap_or(0)
    }

    /// Tells whether the first word is a verb that has its object, so that what follows is no place.
    fn begins_with_work(&self) -> bool {
        self.senses_of(0).has(Senses::VERB)
    }

    /// Tells whether a verb stands there that acts on something: `wipe the`, `press it`, `turn {tube}`.
    ///
    /// Many verbs of the trade are nouns too (press, drill, glue); what follows tells them apart.
    pub(super) fn acts(&self, n: usize) -> bool {
        self.senses_of(n).has(Senses::WORK)
            && self.words[n].after == After::Nothing
            && self.senses_of(n + 1).has(Senses::OBJECT.and(Senses::REFERENCE).and(Senses::NUMBER))
    }
}

/// A step with all its texts read.
pub(super) struct Worded<'d> {
    document: &'d Document,
    /// The step.
    pub(super) step: &'d RawStep,
    words: Vec<Word>,
    sentences: Vec<SentenceRange>,
    phrases: Vec<Phrase<'d>>,
    lexicon: &'static Lexicon,
}

impl<'d> Worded<'d> {
    /// Returns a reader with no text read, to be given one step after the other.
    pub(super) fn new(document: &'d Document, step: &'d RawStep, lexicon: &'static Lexicon) -> Worded<'d> {
        Worded { document, step, words: Vec::new(), sentences: Vec::new(), phrases: Vec::new(), lexicon }
    }

    /// Reads the next step's texts in place of the last one's.
    pub(super) fn read(&mut self, step: &'d RawStep) {
        self.step = step;
        self.words.clear();
        self.sentences.clear();
        self.phrases.clear();
        match &step.kind {
            RawKind::Do { text, in_one_go, .. } => {
                self.add(Role::Do, text);
                in_one_go.iter().for_each(|text| self.add(Role::Move, text));
            }
            RawKind::Ask { text, answers, .. } => {
                self.add(Role::Ask, text);
                answers.iter().for_each(|(say, _)| self.add(Role::Answer, say));
            }
            RawKind::Gauge { text, .. } => self.add(Role::Gauge, text),
            RawKind::Wait { waiting_for, ready, .. } => {
                waiting_for.iter().for_each(|text| self.add(Role::For, text));
                self.add(Role::Ready, ready);
            }
            RawKind::Reckon { .. } | RawKind::Run { .. } | RawKind::End { .. } => {}
        }
        for (role, text) in [(Role::IfWrong, &step.if_wrong), (Role::Why, &step.why), (Role::Tell, &step.tell)] {
            text.iter().for_each(|text| self.add(role, text));
        }
        for caution in &step.cautions {
            self.add(Role::Hazard, &caution.hazard);
            self.add(Role::Avoid, &caution.avoid);
        }
    }

    fn add(&mut self, role: Role, text: &'d Text) {
        let first = self.sentences.len() as u32;
        split(&text.value, self.lexicon, &mut self.words, &mut self.sentences);
        let sentences = first..self.sentences.len() as u32;
        let senses = self.sentences[first as usize..].iter().fold(Senses::default(), |all, one| all.and(one.senses));
        self.phrases.push(Phrase { role, text, senses, sentences });
    }

    /// Yields the step's texts.
    pub(super) fn phrases(&self) -> impl Iterator<Item = &Phrase<'d>> {
        self.phrases.iter()
    }

    /// Yields the texts of these roles.
    pub(super) fn of(&self, roles: &[Role]) -> impl Iterator<Item = &Phrase<'d>> {
        self.phrases.iter().filter(|phrase| roles.contains(&phrase.role))
    }

    /// Yields the sentences of a text.
    pub(super) fn sentences<'w>(
        &'w self,
        phrase: &Phrase<'d>,
    ) -> impl DoubleEndedIterator<Item = Sentence<'w>> + use<'w, 'd> {
        let said: &'w str = &phrase.text.value;
        self.sentences[phrase.sentences.start as usize..phrase.sentences.end as usize].iter().map(move |range| {
            Sentence {
                said,
                words: &self.words[range.words.start as usize..range.words.end as usize],
                senses: range.senses,
                asks: range.asks,
            }
        })
    }

    /// Yields the sentences of all texts of these roles that have any of these senses, each with its text.
    pub(super) fn sentences_of<'w>(
        &'w self,
        roles: &[Role],
        any: Senses,
    ) -> impl Iterator<Item = (&'w Phrase<'d>, Sentence<'w>)> {
        self.of(roles)
            .filter(move |phrase| phrase.senses.has(any))
            .flat_map(|phrase| self.sentences(phrase).map(move |sentence| (phrase, sentence)))
            .filter(move |(_, sentence)| sentence.senses.has(any))
    }

    /// Returns a finding about words of a text, from one to the last of them.
    pub(super) fn at_words(
        &self,
        code: Code,
        phrase: &Phrase<'_>,
        sentence: &Sentence<'_>,
        from: usize,
        to: usize,
        message: String,
    ) -> Finding {
        let words = sentence.words[from].start as usize..sentence.words[to].end as usize;
        self.at(code, &word_span(self.document, phrase.text, words), message)
    }

    /// Returns a finding about a piece of the file.
    pub(super) fn at(&self, code: Code, span: &Span, message: impl Into<String>) -> Finding {
        Finding::new(code, self.place(span), message).step(self.step.id.value.clone())
    }

    fn place(&self, span: &Span) -> Place {
        self.document.place(span)
    }
}

/// Returns where words of a text stand in the file; the whole text, where escapes have moved them.
fn word_span(document: &Document, text: &Text, words: Span) -> Span {
    let whole = &text.span;
    let written = document.source.text().get(whole.clone()).unwrap_or("");
    let quotes = if written.starts_with("\"\"\"") || written.starts_with("'''") { 3 } else { 1 };
    let inner = written.get(quotes..written.len().saturating_sub(quotes)).unwrap_or("");
    // A newline right behind the opening quotes of a text of several lines is not part of it.
    let inner =
        if quotes == 3 { inner.strip_prefix("\r\n").or(inner.strip_prefix('\n')).unwrap_or(inner) } else { inner };
    if inner != text.value {
        return whole.clone();
    }
    let start = whole.end - quotes - inner.len();
    start + words.start..start + words.end
}

/// Splits a text into sentences and words, and looks every word up.
fn split(said: &str, lexicon: &Lexicon, words: &mut Vec<Word>, sentences: &mut Vec<SentenceRange>) {
    let bytes = said.as_bytes();
    let mut at = 0;
    let mut first = words.len();
    let mut senses = Senses::default();
    while let Some((start, end)) = next_token(bytes, at) {
        at = end;
        let Some((from, to, marks)) = trimmed(bytes, start, end) else {
            // Marks that stand alone belong to the word before: a dash between two clauses.
            if let Some(word) = words[first..].last_mut().filter(|word| word.after == After::Nothing) {
                word.after = marks_of(&bytes[start..end]).unwrap_or(After::Colon);
            }
            continue;
        };
        let mut word = Word {
            start: from as u32,
            end: to as u32,
            senses: senses_of(&said[from..to], lexicon),
            after: marks.unwrap_or(After::Nothing),
        };
        // `25/64"` is inches, `"2"` is not.
        if bytes[from].is_ascii_digit() && from == start && bytes[to..end].starts_with(b"\"") {
            word.senses = word.senses.and(Senses::MEASURE);
        }
        if word.after == After::End && !ends_sentence(bytes, from, to, end) {
            word.after = After::Nothing;
        }
        if let Some(before) = words[first..].last_mut() {
            pair_with_unit(said, before, &mut word);
            senses = senses.and(before.senses);
        }
        senses = senses.and(word.senses);
        words.push(word);
        if word.after == After::End {
            let asks = bytes[to..end].contains(&b'?');
            sentences.push(SentenceRange { words: first as u32..words.len() as u32, senses, asks });
            first = words.len();
            senses = Senses::default();
        }
    }
    if first < words.len() {
        sentences.push(SentenceRange { words: first as u32..words.len() as u32, senses, asks: false });
    }
}

/// Returns the next run of bytes that are no blanks; a no-break space is a blank.
fn next_token(bytes: &[u8], mut at: usize) -> Option<(usize, usize)> {
    loop {
        match blank(bytes, at) {
            0 if at < bytes.len() => break,
            0 => return None,
            blanks => at += blanks,
        }
    }
    let start = at;
    while at < bytes.len() && blank(bytes, at) == 0 {
        at += 1;
    }
    Some((start, at))
}

/// Returns how many bytes of a blank stand here.
fn blank(bytes: &[u8], at: usize) -> usize {
    match bytes.get(at) {
        Some(0..=b' ') => 1,
        Some(0xc2) if bytes.get(at + 1) == Some(&0xa0) => 2,
        _ => 0,
    }
}

/// Takes quotes, brackets and marks off both ends of a token; tells which mark stands behind it.
fn trimmed(bytes: &[u8], mut from: usize, end: usize) -> Option<(usize, usize, Option<After>)> {
    if bytes[from].is_ascii_alphanumeric() && bytes[end - 1].is_ascii_alphanumeric() {
        return Some((from, end, None));
    }
    while from < end {
        from += match bytes[from] {
            b'.' | b'-' if bytes.get(from + 1).is_some_and(u8::is_ascii_digit) => break,
            b'{' => break,
            byte if byte.is_ascii_punctuation() => 1,
            0xe2 if bytes[from..end].starts_with(b"\xe2\x80") => 3, // Dashes, curly quotes, the ellipsis.
            _ => break,
        };
    }
    let mut to = end;
    while from < to {
        to -= match bytes[to - 1] {
            b'}' | b'%' => break,
            byte if byte.is_ascii_punctuation() => 1,
            _ if to - from >= 3 && bytes[to - 3..to].starts_with(b"\xe2\x80") => 3,
            _ => break,
        };
    }
    (from < to).then(|| (from, to, marks_of(&bytes[to..end])))
}

/// Returns the strongest mark among these bytes.
fn marks_of(bytes: &[u8]) -> Option<After> {
    if bytes.is_empty() {
        return None;
    }
    let has = |any: &[u8]| bytes.iter().any(|byte| any.contains(byte));
    if has(b".?!") {
        Some(After::End)
    } else if has(b";") {
        Some(After::Semicolon)
    } else if has(b":") || bytes.windows(3).any(|mark| mark == "–".as_bytes() || mark == "—".as_bytes()) {
        Some(After::Colon)
    } else if has(b",") {
        Some(After::Comma)
    } else {
        None
    }
}

/// Tells whether the mark behind a word ends the sentence, or only an abbreviation.
fn ends_sentence(bytes: &[u8], from: usize, to: usize, end: usize) -> bool {
    let Some((next, _)) = next_token(bytes, end) else { return true };
    if bytes[to..end].iter().any(|byte| matches!(byte, b'?' | b'!')) {
        return true;
    }
    let short: &[&[u8]] = &[b"approx", b"ca", b"dia", b"e.g", b"fig", b"i.e"];
    !short.iter().any(|short| bytes[from..to].eq_ignore_ascii_case(short)) && !bytes[next].is_ascii_lowercase()
}

fn senses_of(word: &str, lexicon: &Lexicon) -> Senses {
    let senses = lexicon.senses(word);
    if senses != Senses::default() {
        return senses;
    }
    let bytes = word.as_bytes();
    if bytes.contains(&b'{') {
        let number = bytes.contains(&b'.') || word.contains("{each}");
        let number = if number { Senses::NUMBER.and(Senses::MEASURE) } else { Senses::default() };
        return Senses::REFERENCE.and(number);
    }
    let digits = bytes.iter().take_while(|byte| byte.is_ascii_digit() || b"./-,".contains(byte)).count();
    if digits > 0 {
        // `10mm`, `240-grit`, `54°`, `2%`.
        let unit = &word[digits..];
        let has_unit = unit.starts_with('%') || lexicon.senses(unit).has(Senses::UNIT);
        return if has_unit { Senses::NUMBER.and(Senses::MEASURE) } else { Senses::NUMBER };
    }
    word.strip_suffix("'s").map_or(senses, |stem| lexicon.senses(stem))
}

/// Marks a number that has its unit behind it (`2 mm`), or a grit before it (`grit 240`).
fn pair_with_unit(said: &str, before: &mut Word, word: &mut Word) {
    let written = |word: &Word| &said[word.start as usize..word.end as usize];
    if before.after == After::Nothing && before.senses.has(Senses::NUMBER) && word.senses.has(Senses::UNIT) {
        // `in` is the inch only behind figures, and `turn` in `one turn` is no action.
        if !written(word).eq_ignore_ascii_case("in") || written(before).as_bytes()[0].is_ascii_digit() {
            before.senses = before.senses.and(Senses::MEASURE);
        }
    } else if word.senses.has(Senses::NUMBER) && written(before).eq_ignore_ascii_case("grit") {
        word.senses = word.senses.and(Senses::MEASURE);
    }
}

#[cfg(test)]
mod tests {
    use super::super::word_lists::LEXICON;
    use super::*;

    fn sentences(said: &str) -> Vec<Vec<String>> {
        let (mut words, mut sentences) = (Vec::new(), Vec::new());
        split(said, &LEXICON, &mut words, &mut sentences);
        let written = |word: &Word| said[word.start as usize..word.end as usize].to_owned();
        sentences
            .iter()
            .map(|s| words[s.words.start as usize..s.words.end as usize].iter().map(written).collect())
            .collect()
    }

    #[test]
    fn a_text_is_split_into_sentences_and_words() {
        let table: &[(&str, &[&[&str]])] = &[
            ("At the press, clamp it.", &[&["At", "the", "press", "clamp", "it"]]),
            ("Stop. It comes out.", &[&["Stop"], &["It", "comes", "out"]]),
            ("Use approx. 2 mm of tape, e.g. blue.", &[&["Use", "approx", "2", "mm", "of", "tape", "e.g", "blue"]]),
            ("Drill .391 in deep.", &[&["Drill", ".391", "in", "deep"]]),
            (
                "Fit the {tube} tube ({kit.tube.body.drill}).",
                &[&["Fit", "the", "{tube}", "tube", "{kit.tube.body.drill}"]],
            ),
            ("Is it straight? Press on — home!", &[&["Is", "it", "straight"], &["Press", "on", "home"]]),
            ("“Wait”, 20\u{a0}min", &[&["Wait", "20", "min"]]),
            ("", &[]),
            ("— …", &[]),
            ("ł…", &[&["ł"]]),
        ];
        for (said, expected) in table {
            assert_eq!(sentences(said), *expected, "{said}");
        }
    }

    #[test]
    fn a_number_with_its_unit_is_a_measure() {
        let measures = |said: &str| {
            let (mut words, mut sentences) = (Vec::new(), Vec::new());
            split(said, &LEXICON, &mut words, &mut sentences);
            sentences.iter().any(|sentence| sentence.senses.has(Senses::MEASURE))
        };
        for said in [
            "to 2 mm",
            "10mm deep",
            "25/64 in",
            "25/64\" bit",
            "two turns",
            "grit 240",
            "240-grit",
            "54°",
            "2% wet",
            "{tube.drill}",
            "{read.a}",
            "{each} grit",
        ] {
            assert!(measures(said), "{said}");
        }
        for said in
            ["step 2", "the {tube} in the bore", "one in the hand", "two pens", "in a turn", "\"two\"", "\"2\" on it"]
        {
            assert!(!measures(said), "{said}");
        }
    }

    #[test]
    fn the_main_clause_stands_behind_a_place_or_a_condition() {
        let begins = |said: &str| {
            let (mut words, mut sentences) = (Vec::new(), Vec::new());
            split(said, &LEXICON, &mut words, &mut sentences);
            let range = &sentences[0];
            Sentence { said, words: &words, senses: range.senses, asks: range.asks }.main_clause()
        };
        assert_eq!(begins("At the drill press, clamp the blank in the vice."), 4);
        assert_eq!(begins("If the tube stops before it is all the way home, push it out."), 11);
        assert_eq!(begins("Wipe the bore, press it."), 0);
        assert_eq!(begins("Brass, wood and glue, press it."), 4);
        assert_eq!(begins("The lathe is stopped."), 0);
    }
}

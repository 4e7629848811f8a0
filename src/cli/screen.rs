//! A scene laid out as lines for a terminal, 40 to 120 columns wide.

use colored::Colorize;

use crate::finding::plain_text::clean;
use crate::walk::{Scene, Wanted};

/// Text wider than this is hard to read on one line, however wide the terminal.
const MOST_COLUMNS: usize = 76;

/// The parts of a screen, each wrapped to the width.
struct Parts {
    head: Vec<String>,
    needs: Vec<String>,
    title: Vec<String>,
    cautions: Vec<String>,
    moves: Vec<String>,
    clock: Vec<String>,
    tell: Vec<String>,
    wait: Vec<String>,
    if_wrong: Vec<String>,
    at_hand: Vec<String>,
    answers: Vec<String>,
}

/// Returns the scene as pages of at most `rows` lines, to be turned by Enter; the last is the one to act on.
///
/// The step stands on one page with its cautions, its moves and what to do when it goes wrong. Where that is too long
/// for a low terminal, blank lines go first, then what can be looked at before goes to pages of its own. A step that
/// is under way is always one page: nothing may want a key while hands are busy.
pub(super) fn pages(scene: &Scene, width: usize, rows: usize, ascii: bool) -> Vec<Vec<String>> {
    let parts = Parts::of(scene, width.clamp(40, 120), ascii);
    let Parts { head, needs, title, cautions, moves, clock, tell, wait, if_wrong, at_hand, answers } = &parts;
    // What is answered to stands last, by the prompt: the needs of a hold, the answers of a question.
    let whole = [head, title, cautions, moves, clock, tell, wait, if_wrong, at_hand, needs, answers];
    let acting = [title, cautions, moves, if_wrong, answers];
    let fitting = |parts: &[&Vec<String>]| {
        [true, false].map(|spaced| joined(parts, spaced)).into_iter().find(|page| page.len() <= rows)
    };
    if let Some(page) = fitting(&whole) {
        return vec![page];
    }
    if scene.wanted == Wanted::DoneWord {
        return vec![fitting(&acting).unwrap_or_else(|| joined(&acting, false))];
    }
    if scene.wanted == Wanted::Hold {
        // The step is read first and comes again when it is under way; the last page asks.
        let step = [title, cautions, moves, if_wrong];
        let mut pages = match (fitting(&[head, title, cautions, moves, if_wrong]), fitting(&step)) {
            (Some(page), _) => vec![page],
            (None, Some(page)) if head.len() == 1 => vec![page],
            (None, Some(page)) => vec![head.clone(), page],
            (None, None) => filled(&[&joined(&[head, title, cautions], false), moves, if_wrong], rows),
        };
        let place = head[..1].to_vec();
        pages.extend(filled(&[clock, tell], rows));
        pages.extend(filled(&[&place, at_hand, needs], rows));
        return pages;
    }
    let mut pages = filled(&[head, at_hand, tell, clock, wait], rows);
    match fitting(&acting) {
        Some(page) => pages.push(page),
        // The step and its cautions stay together; a list too long for the terminal runs on below them.
        None => pages.extend(filled(&[&joined(&[title, cautions], false), moves, if_wrong, answers], rows)),
    }
    pages
}

/// Puts news over the first page, or on pages of its own where that would push the page off a low terminal.
///
/// A step that is under way stays one page; there it is the news that may be pushed off.
pub(super) fn under_news(
    news: &Vec<String>,
    mut pages: Vec<Vec<String>>,
    scene: &Scene,
    rows: usize,
) -> Vec<Vec<String>> {
    let Some(first) = pages.first_mut().filter(|_| !news.is_empty()) else { return pages };
    let fits = news.len() + 1 + first.len() <= rows;
    if fits || scene.wanted == Wanted::DoneWord {
        *first = joined(&[news, first], fits);
        return pages;
    }
    let mut before = filled(&[news], rows);
    before.extend(pages);
    before
}

/// Puts parts under one another, with a blank line between where there is room for it.
fn joined(parts: &[&Vec<String>], spaced: bool) -> Vec<String> {
    let mut page = Vec::new();
    for part in parts.iter().filter(|part| !part.is_empty()) {
        if spaced && !page.is_empty() {
            page.push(String::new());
        }
        page.extend(part.iter().cloned());
    }
    page
}

/// Fills pages with parts, in order; only a part longer than a page is split.
fn filled(parts: &[&Vec<String>], rows: usize) -> Vec<Vec<String>> {
    let mut pages: Vec<Vec<String>> = Vec::new();
    for part in parts.iter().filter(|part| !part.is_empty()) {
        match pages.last_mut() {
            Some(page) if page.len() + 1 + part.len() <= rows => {
                page.push(String::new());
                page.extend(part.iter().cloned());
            }
            _ => pages.extend(part.chunks(rows.max(1)).map(<[String]>::to_vec)),
        }
    }
    pages
}

fn heading(scene: &Scene, width: usize) -> String {
    let mut parts = Vec::new();
    if scene.wanted != Wanted::Nothing {
        parts.push(format!("step {} of {}", scene.n, scene.of));
    }
    parts.extend(scene.stage.iter().chain(&scene.at).map(|part| clean(part).into_owned()));
    let line = parts.join(" · ");
    // A heading that does not fit loses its tail, never its beginning.
    if line.chars().count() < width {
        return line.dimmed().to_string();
    }
    let cut: String = line.chars().take(width - 2).collect();
    format!("{}…", cut.trim_end()).dimmed().to_string()
}

impl Parts {
    fn of(scene: &Scene, width: usize, ascii: bool) -> Parts {
        let numbered = |texts: &[String]| -> Vec<String> {
            let row = |(n, text): (usize, &String)| wrapped(text, width, &format!("{:>3}  ", n + 1), "     ");
            texts.iter().enumerate().flat_map(row).collect()
        };
        let titled = |title: &str, texts: &[String]| match texts {
            [] => Vec::new(),
            texts => std::iter::once(title.to_owned()).chain(numbered(texts)).collect(),
        };
        let maybe = |text: &Option<String>, first: &str| match text {
            Some(text) => wrapped(&format!("{first}{text}"), width, "", ""),
            None => Vec::new(),
        };
        let mut head = vec![heading(scene, width)];
        if let Some(why) = &scene.rejoined {
            head.extend(wrapped(&format!("Pick up again here, {why}."), width, "", ""));
        }
        if let Some(remark) = &scene.remark {
            head.extend(wrapped(remark, width, "", ""));
        }
        head.extend(titled("Done already, passed over:", &scene.passed_over));
        let mut cautions = Vec::new();
        for (word, text) in &scene.cautions {
            let mut caution = wrapped(&format!("{word}: {text}"), width, "! ", "! ").into_iter();
            let first = caution.next().unwrap_or_default();
            cautions.push(first.replacen(word, &in_its_colour(word).to_string(), 1));
            cautions.extend(caution);
        }
        let marks: Vec<_> = scene.clock.iter().map(|(mark, at)| (mark.as_str(), *at)).collect();
        let at_hand = (!scene.parts.is_empty()).then(|| scene.parts.join(", "));
        Parts {
            head,
            needs: titled("Is all of this true?", &scene.needs),
            title: wrapped(&scene.title, width, "", "").into_iter().map(|line| line.bold().to_string()).collect(),
            cautions,
            // No numbers here: at a hold those belong to what must be true.
            moves: match scene.moves.as_slice() {
                [] => Vec::new(),
                moves => std::iter::once("In one go:".to_owned())
                    .chain(moves.iter().flat_map(|text| wrapped(text, width, "  ·  ", "     ")))
                    .collect(),
            },
            clock: if marks.is_empty() { Vec::new() } else { crate::sheet::clock_face::draw(&marks, ascii) },
            tell: maybe(&scene.tell, ""),
            wait: scene.wait.iter().flat_map(|line| wrapped(line, width, "", "")).collect(),
            if_wrong: maybe(&scene.if_wrong, "If it goes wrong: "),
            at_hand: maybe(&at_hand, "At hand: "),
            answers: match &scene.wanted {
                Wanted::Answer(answers) => numbered(answers),
                Wanted::Reading { limits, .. } if !limits.is_empty() => {
                    wrapped(&format!("Good: {limits}"), width, "", "")
                }
                _ => Vec::new(),
            },
        }
    }
}

fn in_its_colour(word: &str) -> colored::ColoredString {
    match word {
        "DANGER" | "WARNING" => word.red().bold(),
        "CAUTION" => word.yellow().bold(),
        _ => word.cyan().bold(),
    }
}

/// Returns the prompt's words for what is wanted.
pub(super) fn asking(scene: &Scene) -> String {
    let words = match &scene.wanted {
        Wanted::Done if scene.optional => "Enter when done, or skip",
        Wanted::Done => "Enter when done",
        Wanted::DoneWord => "type done when it is over",
        Wanted::Hold => "yes, or no and a number",
        Wanted::Answer(_) => "number or words",
        Wanted::Reading { unit, .. } if unit == "clock" => "clock position, such as 9 o'clock",
        Wanted::Reading { unit, .. } => return format!("reading in {unit}> "),
        Wanted::Sign => "ready, or not ready",
        Wanted::Verdict => "verdict, or done",
        Wanted::Nothing => "",
    };
    format!("{words}> ")
}

/// Returns text cleaned and wrapped, the first line after `first`, the others after `rest`.
pub(super) fn wrapped(text: &str, width: usize, first: &str, rest: &str) -> Vec<String> {
    let columns = width.saturating_sub(1).min(MOST_COLUMNS);
    let options = textwrap::Options::new(columns).initial_indent(first).subsequent_indent(rest);
    // A name or a compound word is easier to read whole.
    let options = options.word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::wrap(&clean(text), options).into_iter().map(|line| line.into_owned()).collect()
}

//! A scene laid out as lines for a terminal, 40 to 120 columns wide.

use colored::Colorize;

use crate::finding::plain_text::clean;
use crate::walk::{Scene, Wanted};

/// Text wider than this is hard to read on one line, however wide the terminal.
const MOST_COLUMNS: usize = 76;

/// Part of a scene, wrapped to the width.
struct Part {
    page: Page,
    lines: Vec<String>,
}

/// On which page a part stands where one page has no room for all.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Page {
    /// On the page to act on.
    Acting,
    /// On that page too where there is room, the smaller first.
    Beside(u8),
    /// On a page before it.
    Before,
}

/// Returns the scene as pages of at most `rows` lines, to be turned by Enter; the last is the one to act on.
///
/// The step stands on that page with its cautions: a hold with its needs, a step under way with its moves and what to
/// do when it goes wrong. Where that is too long for a low terminal, blank lines go first, then what can be looked at
/// before goes to pages of its own. A step that is under way is always one page: nothing may want a key while hands
/// are busy.
pub(super) fn pages(scene: &Scene, width: usize, rows: usize, ascii: bool) -> Vec<Vec<String>> {
    let width = width.clamp(40, 120);
    let parts = parts(scene, width, ascii);
    let limit = acting_limit(&parts, rows);
    let on_the_page = |part: &&Part| part.page <= limit;
    let acting: Vec<&[String]> = parts.iter().filter(on_the_page).map(|part| &*part.lines).collect();
    let before: Vec<&Part> = parts.iter().filter(|part| !on_the_page(part)).collect();
    if before.is_empty() || scene.wanted == Wanted::DoneWord {
        return vec![joined(&acting, rows)];
    }
    // Moves without what they are the moves of would say nothing, and no step is shown without its cautions.
    let step = [title(scene, width), cautions(scene, width)];
    let step = step.iter().filter(|_| before.iter().any(|part| part.page == Page::Before)).map(|part| &**part);
    let before: Vec<&[String]> = step.chain(before.iter().map(|part| &*part.lines)).collect();
    [before, acting].iter().flat_map(|parts| as_few_as_can_be(parts, rows)).collect()
}

/// Returns one page where there is room for all the parts, else as many as it takes.
fn as_few_as_can_be(parts: &[&[String]], rows: usize) -> Vec<Vec<String>> {
    match n_lines(parts) <= rows {
        true => vec![joined(parts, rows)],
        false => filled(parts.iter().copied(), rows),
    }
}

/// Returns which parts the page to act on has room for: those up to this one.
fn acting_limit(parts: &[Part], rows: usize) -> Page {
    let n_lines_up_to =
        |limit: Page| -> usize { parts.iter().filter(|part| part.page <= limit).map(|part| part.lines.len()).sum() };
    let mut limits: Vec<Page> = parts.iter().map(|part| part.page).collect();
    limits.sort_unstable();
    limits.into_iter().rev().find(|limit| n_lines_up_to(*limit) <= rows).unwrap_or(Page::Acting)
}

/// Puts news over the first page, or on pages of its own where that would push the page off a low terminal.
///
/// A step that is under way stays one page; there it is the news that may be pushed off.
pub(super) fn under_news(news: &[String], mut pages: Vec<Vec<String>>, scene: &Scene, rows: usize) -> Vec<Vec<String>> {
    let Some(first) = pages.first_mut().filter(|_| !news.is_empty()) else { return pages };
    if news.len() + 1 + first.len() <= rows || scene.wanted == Wanted::DoneWord {
        *first = joined(&[news, first], rows);
        return pages;
    }
    let mut before = filled([news], rows);
    before.extend(pages);
    before
}

/// Puts parts under one another, with blank lines between as far as there are rows for them.
///
/// The last part, which is mostly what is asked, gets its blank line first.
fn joined(parts: &[&[String]], rows: usize) -> Vec<String> {
    let last = parts.len().saturating_sub(1);
    let mut blanks = rows.saturating_sub(n_lines(parts));
    let mut page = Vec::new();
    for (n, part) in parts.iter().enumerate() {
        if 0 < n && (usize::from(n < last) < blanks) {
            page.push(String::new());
            blanks -= 1;
        }
        page.extend(part.iter().cloned());
    }
    page
}

fn n_lines(parts: &[&[String]]) -> usize {
    parts.iter().map(|part| part.len()).sum()
}

/// Fills pages with parts, in order; only a part longer than a page is split.
fn filled<'p>(parts: impl IntoIterator<Item = &'p [String]>, rows: usize) -> Vec<Vec<String>> {
    let mut pages: Vec<Vec<String>> = Vec::new();
    for part in parts {
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

/// Returns the parts of a scene that have something to say, in the order in which they are read.
fn parts(scene: &Scene, width: usize, ascii: bool) -> Vec<Part> {
    let holds = scene.wanted == Wanted::Hold;
    let in_time = if holds { Page::Before } else { Page::Acting };
    let maybe = |text: &Option<String>, first: &str| match text {
        Some(text) => wrapped(&format!("{first}{text}"), width, "", ""),
        None => Vec::new(),
    };
    let at_hand = (!scene.parts.is_empty()).then(|| scene.parts.join(", "));
    let [verdict, numbers_found, say, working] = sum(scene, width);
    let parts = [
        (Page::Beside(2), head(scene, width)),
        (Page::Acting, title(scene, width)),
        (Page::Acting, cautions(scene, width)),
        // No numbers here: at a hold those belong to what must be true.
        (in_time, listed("In one go:", &scene.moves, std::iter::repeat("·".to_owned()), width)),
        (Page::Acting, verdict),
        (Page::Beside(0), numbers_found),
        (Page::Acting, say),
        (Page::Before, working),
        (Page::Beside(1), clock(scene, ascii)),
        (Page::Beside(3), maybe(&scene.tell, "")),
        (Page::Beside(0), scene.wait.iter().flat_map(|line| wrapped(line, width, "", "")).collect()),
        (in_time, maybe(&scene.if_wrong, "If it goes wrong: ")),
        (Page::Beside(4), maybe(&at_hand, "At hand: ")),
        (Page::Acting, listed("Is all of this true?", &scene.needs, numbers(), width)),
        (Page::Acting, answers(scene, width)),
    ];
    let parts = parts.into_iter().map(|(page, lines)| Part { page, lines });
    parts.filter(|part| !part.lines.is_empty()).collect()
}

fn head(scene: &Scene, width: usize) -> Vec<String> {
    let mut head = vec![heading(scene, width)];
    if let Some(why) = &scene.rejoined {
        head.extend(wrapped(
            &format!("Pick up again here, {why}: all that is needed from here on is so."),
            width,
            "",
            "",
        ));
    }
    if let Some(remark) = &scene.remark {
        head.extend(wrapped(remark, width, "", ""));
    }
    head.extend(listed("Done already, passed over:", &scene.passed_over, numbers(), width));
    head
}

fn heading(scene: &Scene, width: usize) -> String {
    let mut parts = Vec::new();
    if scene.wanted != Wanted::Nothing {
        parts.extend(scene.number.map(|number| format!("step {number}")));
        parts.push(format!("{} of {}", scene.n, scene.of));
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

fn title(scene: &Scene, width: usize) -> Vec<String> {
    strong(&scene.title, width)
}

/// Returns what a page is about.
pub(super) fn strong(text: &str, width: usize) -> Vec<String> {
    wrapped(text, width, "", "").into_iter().map(|line| line.bold().to_string()).collect()
}

fn cautions(scene: &Scene, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for (word, text) in &scene.cautions {
        lines.extend(caution(word, text, width));
    }
    lines
}

/// Returns a caution under its signal word.
pub(super) fn caution(word: &str, text: &str, width: usize) -> Vec<String> {
    let mut lines = wrapped(&format!("{word}: {text}"), width, "! ", "! ");
    if let Some(first) = lines.first_mut() {
        *first = first.replacen(word, &in_its_colour(word).to_string(), 1);
    }
    lines
}

/// Returns what a sum says apart: its verdict, its numbers, what that means for the work, and its working. What it wants
/// stands whole.
fn sum(scene: &Scene, width: usize) -> [Vec<String>; 4] {
    let lines = |texts: &[String]| texts.iter().flat_map(|text| wrapped(text, width, "", "    ")).collect();
    let all = scene.sum.as_slice();
    match all.iter().position(|text| text.starts_with("Sum: ")) {
        Some(at @ 2..) => [&all[..at - 2], &all[at - 2..at - 1], &all[at - 1..at], &all[at..]].map(lines),
        _ => [all, &[], &[], &[]].map(lines),
    }
}

fn clock(scene: &Scene, ascii: bool) -> Vec<String> {
    let marks: Vec<_> = scene.clock.iter().map(|(mark, at)| (mark.as_str(), *at)).collect();
    if marks.is_empty() { Vec::new() } else { crate::sheet::clock_face::draw(&marks, ascii) }
}

fn answers(scene: &Scene, width: usize) -> Vec<String> {
    match &scene.wanted {
        Wanted::Answer(answers) | Wanted::Value { choices: answers, .. } => rows(answers, numbers(), width),
        Wanted::Reading { limits, .. } => {
            let good = (!limits.is_empty()).then(|| format!("Good: {limits}"));
            let known = scene.known.as_ref().map(|known| format!("Kit file: {known}. `same` when the reading agrees."));
            good.into_iter().chain(known).flat_map(|line| wrapped(&line, width, "", "")).collect()
        }
        _ => Vec::new(),
    }
}

pub(super) fn numbers() -> impl Iterator<Item = String> {
    (1..).map(|n: usize| n.to_string())
}

/// Returns a list under its title, or nothing where nothing is listed.
fn listed(title: &str, texts: &[String], marks: impl Iterator<Item = String>, width: usize) -> Vec<String> {
    let title = (!texts.is_empty()).then(|| title.to_owned());
    title.into_iter().chain(rows(texts, marks, width)).collect()
}

pub(super) fn rows(texts: &[String], marks: impl Iterator<Item = String>, width: usize) -> Vec<String> {
    let row = |(text, mark): (&String, String)| wrapped(text, width, &format!("{mark:>3}  "), "     ");
    texts.iter().zip(marks).flat_map(row).collect()
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
        Wanted::Reading { unit, .. } => return format!("reading in {}> ", crate::units::Unit::shown(unit)),
        Wanted::Sign => "ready, or not ready",
        Wanted::Verdict => "Enter to go on",
        Wanted::Value { name, .. } => return format!("{}> ", name.replace('-', " ")),
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
    let options = options.wrap_algorithm(textwrap::WrapAlgorithm::FirstFit);
    textwrap::wrap(&clean(text), options).into_iter().map(|line| line.into_owned()).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use jiff::Timestamp;

    use super::pages;
    use crate::guide::Library;
    use crate::walk::{Answer, Event, Scene, Walk, Wanted};

    /// Every scene of the shipped guide that can be reached, its one-way steps held and under way.
    fn scenes() -> Vec<Scene> {
        let guide = Library::shipped().link_id("two-tube-fountain").and_then(|linked| linked.guide).expect("it links");
        let at = Timestamp::UNIX_EPOCH;
        let mut seen = HashSet::new();
        let mut scenes = Vec::new();
        let mut walks = vec![vec![Event::Begun { at, held: Vec::new() }]];
        while let Some(events) = walks.pop() {
            let walk = Walk::from_events(&guide, &events);
            let scene = walk.scene(at);
            if !seen.insert((scene.id.clone(), format!("{:?}", walk.state().phase))) {
                continue;
            }
            // The last pushed is walked first: what goes well, with numbers that hang together.
            for line in typed(&scene).iter().rev() {
                if let Ok(Answer::Event(event)) = walk.read(line, at) {
                    walks.push(events.iter().cloned().chain([event]).collect());
                }
            }
            scenes.push(scene);
        }
        scenes
    }

    /// The verdicts that the guide's sums lead on by.
    const VERDICTS: &[&str] = &[
        "will bind",
        "too wide",
        "roomy",
        "short",
        "will grab",
        "eggshell",
        "none",
        "fast",
        "turn cap",
        "risky",
        "dry it first",
    ];

    /// What can be typed at a scene to leave it, as far as it leads to other steps.
    fn typed(scene: &Scene) -> Vec<String> {
        match &scene.wanted {
            Wanted::Answer(answers) => (1..=answers.len()).map(|n| n.to_string()).collect(),
            Wanted::Reading { unit, .. } if unit == "clock" => vec!["9 o'clock".to_owned()],
            Wanted::Reading { unit, limits } => {
                let number = |limit: &str| limit.split(['\u{a0}', ' ']).next()?.parse::<f64>().ok();
                let numbers: Vec<f64> = limits.split(" to ").filter_map(number).collect();
                let middle = numbers.iter().sum::<f64>() / numbers.len().max(1) as f64;
                // A bit clears its tube, which is its least, by a hair; all else is good in the middle.
                let within = if scene.id.ends_with("bit") { numbers[0] + 0.16 } else { middle };
                [within, 0.001, 9999.0].map(|number| format!("{number} {unit}")).to_vec()
            }
            // A verdict can be had by its word.
            Wanted::Value { .. } | Wanted::Verdict => {
                ["done"].iter().chain(VERDICTS).map(|&line| line.to_owned()).collect()
            }
            _ => ["done", "yes", "ready", "not ready", "skip"].map(str::to_owned).to_vec(),
        }
    }

    fn running(lines: &[String]) -> String {
        let text = lines.join(" ").replace(" ! ", " ");
        text.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// The terminal of the smallest size that is promised, and the usual one: `(columns, rows of a page)`.
    const TERMINALS: [(usize, usize); 2] = [(40, 18), (80, 22)];

    #[test]
    fn the_page_that_stays_has_the_step_its_cautions_and_what_is_asked() {
        colored::control::set_override(false);
        let scenes = scenes();
        assert!(scenes.len() > 250, "{} scenes", scenes.len());
        for scene in &scenes {
            for (width, rows) in TERMINALS {
                let pages = pages(scene, width, rows, false);
                let page = pages.last().expect("a page");
                let said = running(page);
                let mut wanted = vec![&scene.title];
                wanted.extend(scene.cautions.iter().map(|(_, text)| text));
                wanted.extend(&scene.needs);
                if let Wanted::Answer(answers) = &scene.wanted {
                    wanted.extend(answers);
                }
                // What a sum means for the work stands over its working.
                let working = scene.sum.iter().position(|text| text.starts_with("Sum: "));
                wanted.extend(working.map(|at| &scene.sum[at - 1]));
                if scene.wanted == Wanted::DoneWord {
                    wanted.extend(scene.moves.iter().chain(&scene.if_wrong));
                    assert_eq!(pages.len(), 1, "{}: nothing may want a key while hands are busy", scene.id);
                }
                for text in wanted {
                    let text = running(std::slice::from_ref(text));
                    assert!(said.contains(&text), "{} at {width} lacks `{text}`:\n{}", scene.id, page.join("\n"));
                }
                // Under way nothing but `done` is typed, so the row that is kept for what is typed can be had.
                let rows = rows + usize::from(scene.wanted == Wanted::DoneWord);
                assert!(page.len() <= rows, "{} at {width}: {} rows\n{}", scene.id, page.len(), page.join("\n"));
                // What is at hand was looked at before the step was under way.
                let everything = running(&pages.concat());
                let parts = scene.tell.iter().chain(&scene.parts).filter(|_| scene.wanted != Wanted::DoneWord);
                for text in scene.moves.iter().chain(&scene.if_wrong).chain(parts) {
                    let text = running(std::slice::from_ref(text));
                    assert!(everything.contains(&text), "{} at {width} nowhere shows `{text}`", scene.id);
                }
            }
        }
    }

    #[test]
    fn no_line_reaches_the_edge_of_the_terminal() {
        colored::control::set_override(false);
        for scene in scenes() {
            for (width, rows) in TERMINALS {
                for line in pages(&scene, width, rows, false).concat() {
                    assert!(line.chars().count() < width, "{} at {width}: {line}", scene.id);
                }
            }
        }
    }
}

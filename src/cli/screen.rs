//! A scene laid out as lines for a terminal, 40 to 120 columns wide.

use colored::Colorize;

use crate::finding::plain_text::clean;
use crate::walk::{Scene, Wanted};

/// Text wider than this is hard to read on one line, however wide the terminal.
const MOST_COLUMNS: usize = 76;

/// Returns the scene as blocks of lines; a page break may come between blocks, never inside one.
///
/// What must stay on the screen while hands are busy, the step with its cautions and its moves, is the last block.
pub(super) fn blocks(scene: &Scene, width: usize) -> Vec<Vec<String>> {
    let width = width.clamp(40, 120);
    let mut head = vec![heading(scene, width)];
    if let Some(why) = &scene.rejoined {
        head.extend(wrapped(&format!("Pick up again here, {why}."), width, "", ""));
    }
    if !scene.passed_over.is_empty() {
        head.push("Done already, passed over:".to_owned());
        for (n, title) in scene.passed_over.iter().enumerate() {
            head.extend(wrapped(title, width, &format!("{:>3}  ", n + 1), "     "));
        }
    }
    let mut blocks = vec![head];
    if !scene.needs.is_empty() {
        let mut needs = vec![String::new(), "Before this, all of it must be true:".to_owned()];
        for (n, need) in scene.needs.iter().enumerate() {
            needs.extend(wrapped(need, width, &format!("{:>3}  ", n + 1), "     "));
        }
        blocks.push(needs);
    }
    blocks.push(step(scene, width));
    blocks
}

fn heading(scene: &Scene, width: usize) -> String {
    let mut parts: Vec<String> = scene.stage.iter().map(|stage| clean(stage).into_owned()).collect();
    if scene.wanted != Wanted::Nothing {
        parts.push(format!("step {} of {}", scene.n, scene.of));
    }
    parts.extend(scene.at.iter().map(|at| clean(at).into_owned()));
    let line = parts.join(" · ");
    // A heading that does not fit loses its tail, never its beginning.
    let line: String = line.chars().take(width - 1).collect();
    line.dimmed().to_string()
}

fn step(scene: &Scene, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    lines.extend(wrapped(&scene.title, width, "", "").into_iter().map(|line| line.bold().to_string()));
    for (word, text) in &scene.cautions {
        lines.push(String::new());
        let mut caution = wrapped(&format!("{word}: {text}"), width, "! ", "! ").into_iter();
        let first = caution.next().unwrap_or_default();
        lines.push(first.replacen(word, &in_its_colour(word).to_string(), 1));
        lines.extend(caution);
    }
    if !scene.moves.is_empty() {
        lines.push(String::new());
        lines.push("In one go:".to_owned());
        for (n, text) in scene.moves.iter().enumerate() {
            lines.extend(wrapped(text, width, &format!("{:>3}  ", n + 1), "     "));
        }
    }
    if !scene.clock.is_empty() {
        let marks: Vec<(&str, crate::units::ClockPosition)> =
            scene.clock.iter().map(|(mark, at)| (mark.as_str(), *at)).collect();
        lines.push(String::new());
        lines.extend(crate::sheet::clock_face::draw(&marks, false));
    }
    if let Some(tell) = &scene.tell {
        lines.push(String::new());
        lines.extend(wrapped(tell, width, "", ""));
    }
    if !scene.wait.is_empty() {
        lines.push(String::new());
        lines.extend(scene.wait.iter().flat_map(|line| wrapped(line, width, "", "")));
    }
    if let Some(if_wrong) = &scene.if_wrong {
        lines.push(String::new());
        lines.extend(wrapped(&format!("If it goes wrong: {if_wrong}"), width, "", ""));
    }
    if !scene.parts.is_empty() {
        lines.push(String::new());
        lines.extend(wrapped(&format!("At hand: {}", scene.parts.join(", ")), width, "", "         "));
    }
    match &scene.wanted {
        Wanted::Answer(answers) => {
            lines.push(String::new());
            for (n, answer) in answers.iter().enumerate() {
                lines.extend(wrapped(answer, width, &format!("{:>3}  ", n + 1), "     "));
            }
        }
        Wanted::Reading { limits, .. } if !limits.is_empty() => {
            lines.push(String::new());
            lines.extend(wrapped(&format!("Good: {limits}"), width, "", ""));
        }
        _ => {}
    }
    lines
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
        Wanted::Hold => "all true? yes, or no and a number",
        Wanted::Answer(_) => "number or words",
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
    textwrap::wrap(&clean(text), options).into_iter().map(|line| line.into_owned()).collect()
}

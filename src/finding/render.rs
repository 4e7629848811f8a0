//! Findings as lines for a person: the source line with a caret, or one line each.

use std::collections::HashMap;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use super::plain_text::clean_line;
use super::{Finding, Place, Severity};

/// How many causes are shown before the rest are only counted.
const CAUSES_SHOWN: usize = 100;

/// How findings are laid out.
#[derive(Debug, Clone, Copy)]
pub struct Look {
    /// The width of the terminal in columns.
    pub width: usize,
    /// Whether colour may be used; it never carries meaning alone.
    pub colour: bool,
    /// Whether only ASCII may be used.
    pub ascii: bool,
}

/// How many places of the same fault are named before the rest are only counted.
const PLACES_SHOWN: usize = 3;

/// Returns the findings for reading: one report a cause, each with its source line, its walk and its help.
///
/// Findings that differ only in where the same words stand (a procedure run twice, fifty equal slips) are told once,
/// with the further places below.
pub fn for_people(findings: &[Finding], look: Look) -> String {
    let mut told = String::new();
    let groups = by_cause(findings);
    for group in groups.iter().take(CAUSES_SHOWN) {
        told.push_str(&one(group[0], look));
        let further: Vec<String> = group[1..].iter().map(|finding| elsewhere(finding)).collect();
        for place in further.iter().take(PLACES_SHOWN) {
            let place = wrapped(&format!("also {place}"), look, "  also ".len());
            told.push_str(&format!("  {}\n", place.replace('\n', "\n       ")));
        }
        if further.len() > PLACES_SHOWN {
            told.push_str(&format!("  and {} more\n", further.len() - PLACES_SHOWN));
        }
        told.push('\n');
    }
    if groups.len() > CAUSES_SHOWN {
        let more = groups.len() - CAUSES_SHOWN;
        told.push_str(&format!("And {more} more, not shown: mend these first, or list them one a line.\n\n"));
    }
    told
}

/// Returns a finding on one line: `file:line:column: error[code]: message; help`.
pub fn one_line(finding: &Finding) -> String {
    let help = finding.help.as_ref().map_or(String::new(), |help| format!("; {help}"));
    let step = finding.step.as_ref().map_or(String::new(), |step| format!(" (step {step})"));
    clean_line(&format!(
        "{}: {}[{}]: {}{step}{help}",
        finding.place,
        finding.severity().as_str(),
        finding.code,
        finding.message,
    ))
}

/// Returns findings of the same cause together, in the order of their first: the same code at the same place, or with
/// the same words in the same file.
fn by_cause(findings: &[Finding]) -> Vec<Vec<&Finding>> {
    let mut groups: Vec<Vec<&Finding>> = Vec::new();
    let mut by_place: HashMap<_, usize> = HashMap::new();
    let mut by_words: HashMap<_, usize> = HashMap::new();
    for finding in findings {
        let (code, file, span) = (finding.code, finding.place.source.name(), &finding.place.span);
        let (place, words) = ((code, file, span), (code, file, finding.message.as_str()));
        let known = [by_place.get(&place), by_words.get(&words)].into_iter().flatten().min().copied();
        match known {
            Some(group) => groups[group].push(finding),
            None => {
                by_place.entry(place).or_insert(groups.len());
                by_words.entry(words).or_insert(groups.len());
                groups.push(vec![finding]);
            }
        }
    }
    groups
}

fn elsewhere(finding: &Finding) -> String {
    let step = finding.step.as_ref().map_or(String::new(), |step| format!(" in step `{step}`"));
    clean_line(&format!("{}{step}", finding.place))
}

fn one(finding: &Finding, look: Look) -> String {
    let renderer = if look.colour { Renderer::styled() } else { Renderer::plain() };
    let style = if look.ascii {
        annotate_snippets::renderer::DecorStyle::Ascii
    } else {
        annotate_snippets::renderer::DecorStyle::Unicode
    };
    let renderer = renderer.decor_style(style).term_width(look.width.clamp(40, 120));
    let level = match finding.severity() {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let heading = format!("{}[{}]: ", finding.severity().as_str(), finding.code);
    let title = wrapped(&finding.message, look, heading.len());
    let label = finding.label.as_deref().map(clean_line);
    let mut groups = vec![pointing_at(
        Group::with_title(level.primary_title(title).id(finding.code.as_str())),
        &finding.place,
        label,
    )];
    for place in &finding.used_at {
        let note = Group::with_title(Level::NOTE.secondary_title("the procedure is run here"));
        groups.push(pointing_at(note, place, None));
    }
    if let Some(walk) = &finding.walk {
        groups.push(Group::with_title(Level::NOTE.secondary_title(walk_told(walk))));
    }
    if let Some(help) = &finding.help {
        groups.push(Group::with_title(Level::HELP.secondary_title(wrapped(help, look, "help: ".len()))));
    }
    let mut told = renderer.render(&groups);
    told.push('\n');
    told
}

/// Returns text on lines that fit beside a heading; the renderer indents all but the first.
fn wrapped(text: &str, look: Look, heading: usize) -> String {
    let width = look.width.clamp(40, 120).saturating_sub(heading + 1).max(16);
    // A name such as `clean-bore` is not broken at its hyphen.
    textwrap::fill(
        &clean_line(text),
        textwrap::Options::new(width).word_splitter(textwrap::WordSplitter::NoHyphenation),
    )
}

fn pointing_at<'a>(group: Group<'a>, place: &Place, label: Option<String>) -> Group<'a> {
    let (lines, first, span) = place.excerpt();
    // Cleaning may change lengths, so the span is moved along with it.
    let before = clean_excerpt(&lines[..span.start]);
    let marked = clean_excerpt(&lines[span.clone()]);
    let after = clean_excerpt(&lines[span.end..]);
    let span = before.len()..before.len() + marked.len();
    group.element(
        Snippet::source(format!("{before}{marked}{after}"))
            .line_start(first)
            .path(clean_line(place.source.name()))
            .annotation(AnnotationKind::Primary.span(span).label(label)),
    )
}

fn clean_excerpt(text: &str) -> String {
    super::plain_text::clean(text).into_owned()
}

/// How many steps of a walk are shown at its beginning and its end.
const WALK_ENDS: usize = 12;

/// Returns a walk as a readable list, one step a line, a long one shortened in the middle.
fn walk_told(walk: &[String]) -> String {
    let steps = if walk.len() == 1 { "step" } else { "steps" };
    let mut told = format!("the shortest walk there, {} {steps}:", walk.len());
    for (n, id) in walk.iter().enumerate() {
        if n >= WALK_ENDS && n + WALK_ENDS < walk.len() {
            if n == WALK_ENDS {
                told.push_str(&format!("\n  … {} steps …", walk.len() - 2 * WALK_ENDS));
            }
            continue;
        }
        told.push_str(&format!("\n  {:>3} {}", n + 1, clean_line(id)));
    }
    told
}

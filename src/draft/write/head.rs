//! What stands before the steps: the guide's own table, the numbers off the kit's sheet.

use super::said;
use crate::draft::build::{Build, Figure, Home};
use crate::draft::interview::file_name;
use crate::draft::style::{NOT_WHEN, Style};
use crate::guide::write::quoted;

/// What stands beside whatever is to be looked at before the guide is used.
pub(in crate::draft) const FILL_IN: &str = "# fill in:";

pub(super) const HEADER: &str = "\
# Drafted by `stepjig draft` from how the pen is built. What is still to be looked at stands after `fill in`.
#
# The kit's own sheet and the safety data sheets always come first. What belongs to the trade and not to this kit is
# common practice, no source; a fact that has a source gets it in a comment beside it.
stepjig = 1
";

/// Returns the `[guide]` table.
pub(super) fn guide_table(style: Option<Style>, build: &Build) -> String {
    let title = style.map_or_else(|| "A kit of another style".to_owned(), Style::title);
    let use_when = style.map_or_else(|| "The kit has brass tubes; the blank is wood.".to_owned(), Style::use_when);
    let id = file_name(build.title.as_deref().unwrap_or(&title));
    let mut text = String::from("\n[guide]\n");
    text += &said_or("id", build.id.as_deref(), &id, "the file's name without its ending");
    text += &said_or("title", build.title.as_deref(), &title, "what such a kit is called, by its build");
    text += "edition = \"1\"\n";
    text += &said_or("use-when", build.use_when.as_deref(), &use_when, "when this guide is the right one");
    text += &said_or("not-when", build.not_when.as_deref(), NOT_WHEN, "when it is the wrong one");
    if let Some(style) = style {
        text += &format!("care = {}\n", quoted(said::care(style.writes)));
    }
    text
}

/// Returns a line with what was said, or with what stands in for it.
fn said_or(key: &str, said: Option<&str>, else_text: &str, to_fill_in: &str) -> String {
    match said {
        Some(said) => format!("{key} = {}\n", quoted(said)),
        None => format!("{key} = {}   {FILL_IN} {to_fill_in}\n", quoted(else_text)),
    }
}

fn number(key: &str, figure: &Figure, to_fill_in: &str) -> String {
    match figure {
        Figure::Known(length) => said_or(key, Some(length), "", to_fill_in),
        Figure::Assumed(length) => said_or(key, None, length, to_fill_in),
    }
}

/// Returns the numbers off the kit's sheet.
pub(super) fn numbers(build: &Build) -> String {
    let mut text = String::new();
    let mut rims: Vec<(&str, &Figure)> = Vec::new();
    for tube in &build.tubes {
        if let Some(figures) = &tube.figures {
            text += &format!("\n[kit.tube.{}]\n", tube.name);
            for (key, figure) in [("drill", &figures.drill), ("outside", &figures.outside), ("length", &figures.length)]
            {
                text += &number(key, figure, "off the kit's sheet, or measured at the bench");
            }
        }
        for end in [&tube.near, &tube.far] {
            if let Some(across) = end.across.as_ref().filter(|_| rims.iter().all(|(name, _)| *name != end.name)) {
                rims.push((end.name, across));
            }
        }
    }
    for (name, across) in rims {
        text += &format!("\n[kit.rim.{name}]\n");
        text += &number("across", across, "the rim of the part that stands there, by caliper");
    }
    for part in build.parts.iter().filter(|part| part.home == Home::Depth) {
        let Some(mark) = &part.proud else { continue };
        text += "\n# `mark` is the sheet's; `proud`, 1 mm more, is where the first press stops: the rest goes by the point.\n";
        text += &format!("[kit.stop.{}]\n", part.name);
        text += &number("mark", mark, "how far it stands out when it is right, off the sheet");
        let proud = ((mark.in_mm() + 1.0) * 1000.0).round() / 1000.0;
        text += &format!("proud = \"{proud} mm\"\n");
        for (key, shows) in [("least", "2 mm"), ("most", "3 mm")] {
            text += &number(key, &Figure::Assumed(shows.to_owned()), "how far the point may show, off the sheet");
        }
    }
    text
}

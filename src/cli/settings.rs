//! The settings in force: flags over environment over the folder's file over the user's file.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::failure::Failure;
use super::folders::Folders;
use super::{Common, When};
use crate::units::{LengthUnit, Unit};

/// The settings in force.
pub(super) struct Settings {
    pub(super) guides: Option<PathBuf>,
    pub(super) colour: bool,
    pub(super) ascii: bool,
    pub(super) no_input: bool,
    /// Whether the shop's own cases count.
    pub(super) learns: bool,
    /// The shop's unit for lengths that are typed without one.
    pub(super) unit: Option<LengthUnit>,
    pub(super) folders: Option<Folders>,
    color: When,
    /// Each setting's name, its value, and where that came from.
    pub(super) origins: Vec<(&'static str, String, String)>,
}

/// A settings file: `.stepjig.toml` in the present folder, or `config.toml` in the config folder.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    guides: Option<PathBuf>,
    color: Option<String>,
    ascii: Option<bool>,
    learn: Option<bool>,
    unit: Option<String>,
}

impl Settings {
    pub(super) fn new(common: &Common) -> Result<Settings, Failure> {
        let folders = Folders::find();
        let near = PathBuf::from(".stepjig.toml");
        let mut files = vec![(near.display().to_string(), file(&near)?)];
        if let Some(folders) = &folders {
            let path = folders.config();
            files.push((path.display().to_string(), file(&path)?));
        }
        let set = |name: &str| std::env::var(name).ok().filter(|value| !value.is_empty());
        let mut origins = Vec::new();

        let mut choices = vec![("--guides".to_owned(), common.guides.clone())];
        choices.push(("STEPJIG_GUIDES".to_owned(), set("STEPJIG_GUIDES").map(PathBuf::from)));
        choices.extend(files.iter().map(|(name, file)| (name.clone(), file.guides.clone())));
        let (from, guides) = first(choices);
        let shown =
            guides.as_ref().or(folders.as_ref().map(Folders::guides).as_ref()).map(|path| path.display().to_string());
        origins.push(("guides", shown.unwrap_or_default(), from));

        let mut choices = vec![("--color".to_owned(), common.color)];
        for (name, file) in &files {
            choices.push((name.clone(), file.color.as_deref().map(|word| when(word, name)).transpose()?));
        }
        let (from, color) = first(choices);
        let color = color.unwrap_or(When::Auto);
        let colour = in_colour(color, set, std::io::stdout().is_terminal());
        origins.push(("color", format!("{color:?}").to_lowercase(), from));

        let mut choices = vec![("--ascii".to_owned(), common.ascii.then_some(true))];
        choices.extend(files.iter().map(|(name, file)| (name.clone(), file.ascii)));
        choices.push(("the locale".to_owned(), Some(!is_utf8(set))));
        let (from, ascii) = first(choices);
        let ascii = ascii.unwrap_or(false);
        origins.push(("ascii", ascii.to_string(), from));
        let (from, learns) = first(files.iter().map(|(name, file)| (name.clone(), file.learn)).collect());
        let learns = learns.unwrap_or(true);
        origins.push(("learn", learns.to_string(), from));
        let mut choices = Vec::new();
        for (name, file) in &files {
            choices.push((name.clone(), file.unit.as_deref().map(|label| length_unit(label, name)).transpose()?));
        }
        let (from, unit) = first(choices);
        origins.push(("unit", unit.map_or("none", Unit::label).to_owned(), from));
        let unit = unit.and_then(Unit::length_unit);
        colored::control::set_override(colour);
        Ok(Settings { guides, colour, ascii, no_input: common.no_input, learns, unit, folders, color, origins })
    }

    /// Returns the flags of a line typed at the prompt with the program's own underneath.
    pub(super) fn over(&self, typed: Common) -> Common {
        Common {
            guides: typed.guides.or_else(|| self.guides.clone()),
            color: typed.color.or(Some(self.color)),
            ascii: typed.ascii || self.ascii,
            no_input: typed.no_input || self.no_input,
        }
    }

    /// Returns the folders, or says that none can be found.
    pub(super) fn folders(&self) -> Result<&Folders, Failure> {
        let failure = || {
            Failure::usage("no home folder is known, so there is no place to keep jobs")
                .help("set HOME or XDG_DATA_HOME")
        };
        self.folders.as_ref().ok_or_else(failure)
    }
}

fn first<T>(choices: Vec<(String, Option<T>)>) -> (String, Option<T>) {
    let chosen = choices.into_iter().find(|(_, value)| value.is_some());
    chosen.unwrap_or_else(|| ("built in".to_owned(), None))
}

fn file(path: &Path) -> Result<File, Failure> {
    match std::fs::read_to_string(path) {
        Ok(text) => toml::from_str(&text).map_err(|wrong| Failure::file(path, "read", wrong.message())),
        Err(wrong) if wrong.kind() == std::io::ErrorKind::NotFound => Ok(File::default()),
        Err(wrong) => Err(Failure::file(path, "read", wrong)),
    }
}

fn when(word: &str, file: &str) -> Result<When, Failure> {
    match word {
        "auto" => Ok(When::Auto),
        "always" => Ok(When::Always),
        "never" => Ok(When::Never),
        _ => Err(Failure::usage(format!("{file}: color is `{word}`")).help("write `auto`, `always` or `never`")),
    }
}

fn length_unit(label: &str, file: &str) -> Result<Unit, Failure> {
    let unit = Unit::from_label(label).ok().filter(|unit| unit.length_unit().is_some());
    unit.ok_or_else(|| Failure::usage(format!("{file}: unit is `{label}`")).help("write `mm` or `in`"))
}

/// Decides on colour: the flag and the settings, then `NO_COLOR`, then `CLICOLOR_FORCE`, then the terminal.
fn in_colour(when: When, set: impl Fn(&str) -> Option<String>, terminal: bool) -> bool {
    match when {
        When::Always => true,
        When::Never => false,
        When::Auto if set("NO_COLOR").is_some() => false,
        When::Auto if set("CLICOLOR_FORCE").is_some_and(|value| value != "0") => true,
        When::Auto => terminal && set("TERM").is_some_and(|term| term != "dumb"),
    }
}

/// Tells whether the locale's characters are UTF-8, by the first of the three variables that is set.
fn is_utf8(set: impl Fn(&str) -> Option<String>) -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| set(name));
    // With nothing set at all a modern system is taken at its usual word.
    locale.is_none_or(|locale| {
        let locale = locale.to_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    })
}

/// Returns the width to wrap to: the terminal's, or `COLUMNS`, else 80; between 40 and 120.
pub(super) fn width() -> usize {
    let columns = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    let terminal = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    columns.or_else(terminal).unwrap_or(80).clamp(40, 120)
}

/// Returns the terminal's height in lines, else 24.
pub(super) fn height() -> usize {
    let lines = std::env::var("LINES").ok().and_then(|lines| lines.parse().ok());
    let terminal = || terminal_size::terminal_size().map(|(_, height)| usize::from(height.0));
    lines.or_else(terminal).unwrap_or(24).clamp(10, 200)
}

#[cfg(test)]
mod tests {
    use super::{When, in_colour};

    /// The order of conventions: flag, NO_COLOR (no-color.org, empty does not count), CLICOLOR_FORCE, TERM, terminal.
    #[test]
    fn colour_is_decided_in_the_order_that_terminals_agree_on() {
        type Case = (When, &'static [(&'static str, &'static str)], bool, bool);
        let cases: &[Case] = &[
            (When::Auto, &[("TERM", "xterm")], true, true),
            (When::Auto, &[("TERM", "xterm")], false, false),
            (When::Auto, &[("TERM", "dumb")], true, false),
            (When::Auto, &[], true, false),
            (When::Auto, &[("TERM", "xterm"), ("NO_COLOR", "1")], true, false),
            (When::Auto, &[("NO_COLOR", "1"), ("CLICOLOR_FORCE", "1")], true, false),
            (When::Auto, &[("CLICOLOR_FORCE", "1")], false, true),
            (When::Always, &[("NO_COLOR", "1")], false, true),
            (When::Never, &[("CLICOLOR_FORCE", "1"), ("TERM", "xterm")], true, false),
        ];
        for (when, variables, terminal, expected) in cases {
            let set =
                |name: &str| variables.iter().find(|(known, _)| *known == name).map(|(_, value)| value.to_string());
            assert_eq!(in_colour(*when, set, *terminal), *expected, "{when:?} {variables:?} {terminal}");
        }
    }
}

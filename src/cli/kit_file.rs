//! Kit files: the numbers of one kit, off its sheet or measured in this shop.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::failure::Failure;
use super::job_folder::{JobName, write_whole};
use super::settings::Settings;
use crate::check::kit_numbers;
use crate::finding::{Place, Source, Span, did_you_mean};
use crate::guide::Guide;
use crate::guide::document::KitValue;
use crate::units::Length;

/// Puts a kit file's numbers in the place of the guide's; every fault of the file is told at once.
pub(super) fn put_in(guide: &mut Guide, file: &Path, settings: &Settings) -> Result<(), Failure> {
    let kept = settings.folders()?.measured().join(file).with_extension("toml");
    let path = if file.is_file() || !kept.is_file() { file } else { &kept };
    let text = std::fs::read_to_string(path).map_err(|wrong| Failure::file(path, "read", wrong))?;
    let source = Source::new(path.display().to_string(), text);
    let table = DeTable::parse(source.text()).map_err(|wrong| {
        let place = Place::new(&source, wrong.span().unwrap_or(0..0));
        Failure::usage(format!("{place}: {}", wrong.message().lines().next().unwrap_or("invalid TOML")))
    })?;
    let Some(kit) = table.get_ref().get("kit") else {
        return Err(Failure::file(path, "use", "it has no `[kit]` table"));
    };
    let mut faults = Vec::new();
    let mut put = BTreeMap::new();
    let mut fault = |span: Span, what: String| faults.push(format!("{}: {what}", Place::new(&source, span)));
    put_branch(guide, "kit", kit, &mut put, &mut fault);
    amiss(guide, &put, &mut fault);
    if faults.is_empty() { Ok(()) } else { Err(Failure::usage(faults.join("\n"))) }
}

/// Judges the numbers of the file, together with those of the guide that they stand beside.
fn amiss(guide: &Guide, put: &BTreeMap<String, Span>, fault: &mut dyn FnMut(Span, String)) {
    for amiss in kit_numbers::amiss(guide.kit().iter().map(|(path, value)| (path.as_str(), value.written()))) {
        let beside = amiss.path.replace(".drill", ".outside");
        if let Some(span) = put.get(amiss.path).or_else(|| put.get(&beside)) {
            let help = amiss.help.map_or(String::new(), |help| format!(": {help}"));
            fault(span.clone(), format!("{}{help}", amiss.message));
        }
    }
}

/// Puts a table or a number of the file in the guide's place; `put` takes in where each number stands.
fn put_branch(
    guide: &mut Guide,
    path: &str,
    value: &Spanned<DeValue<'_>>,
    put: &mut BTreeMap<String, Span>,
    fault: &mut dyn FnMut(Span, String),
) {
    let number = match value.get_ref() {
        DeValue::Table(table) => {
            for (key, value) in table {
                put_branch(guide, &format!("{path}.{}", key.get_ref()), value, put, fault);
            }
            return;
        }
        DeValue::String(text) => KitValue::Text(text.to_string()),
        DeValue::Integer(number) => number.as_str().parse().map_or(KitValue::Text(String::new()), KitValue::Number),
        DeValue::Float(number) => number.as_str().parse().map_or(KitValue::Text(String::new()), KitValue::Number),
        _ => return fault(value.span(), format!("`{path}` is neither text nor a number")),
    };
    // Where the guide has a length, the kit must have one: a bare 10.5 or a misspelt unit is a slip.
    let was_length = guide.kit().get(path).is_some_and(|was| Length::parse(&was.written(), None).is_ok());
    if let (true, Err(wrong)) = (was_length, Length::parse(&number.written(), None)) {
        return fault(value.span(), format!("`{path}`: {wrong:#}"));
    }
    if !guide.set_number(path, number) {
        let near = did_you_mean(path, guide.kit().keys().map(String::as_str));
        let near = near.map_or(String::new(), |near| format!("; {near}"));
        return fault(value.span(), format!("the guide `{}` has no number `{path}`{near}", guide.id()));
    }
    put.insert(path.to_owned(), value.span());
}

/// Keeps measured numbers under a name; returns the file.
pub(super) fn keep(name: &str, numbers: &BTreeMap<String, String>, settings: &Settings) -> Result<PathBuf, Failure> {
    free_name(name, settings)?;
    let folder = settings.folders()?.measured();
    std::fs::create_dir_all(&folder).map_err(|wrong| Failure::file(&folder, "make the folder", wrong))?;
    let path = folder.join(name).with_extension("toml");
    let mut text = String::from("stepjig = 1\n");
    for (number, value) in numbers {
        text.push_str(&format!("{number} = {}\n", toml::Value::from(value.as_str())));
    }
    write_whole(&path, text.as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    Ok(path)
}

/// Tells whether numbers can be kept under a name, or says why not.
pub(super) fn free_name(name: &str, settings: &Settings) -> Result<(), Failure> {
    if ["back", "done", "park", "yes"].contains(&name) || name.parse::<JobName>().is_err() {
        return Err(Failure::usage(format!("`{name}` cannot be a kit's name"))
            .help("use letters, digits and hyphens: `maple-kit`"));
    }
    match settings.folders()?.measured().join(name).with_extension("toml").exists() {
        true => Err(Failure::usage(format!("there is a kit `{name}` already"))
            .help("choose another name, or take that file away first")),
        false => Ok(()),
    }
}

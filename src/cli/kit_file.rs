//! Kit files: the numbers of one kit, off its sheet or measured in this shop.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::job_folder::{JobName, write_whole};
use super::settings::Settings;
use crate::finding::did_you_mean;
use crate::guide::Guide;
use crate::guide::document::KitValue;

/// Puts a kit file's numbers in the place of the guide's.
pub(super) fn put_in(guide: &mut Guide, file: &Path, settings: &Settings) -> Result<(), Failure> {
    let kept = settings.folders()?.measured().join(file).with_extension("toml");
    let path = if file.is_file() || !kept.is_file() { file } else { &kept };
    let text = std::fs::read_to_string(path).map_err(|wrong| Failure::file(path, "read", wrong))?;
    let table: toml::Table = toml::from_str(&text).map_err(|wrong| Failure::file(path, "read", wrong.message()))?;
    let mut numbers = BTreeMap::new();
    match table.get("kit") {
        Some(kit) => flatten("kit", kit, &mut numbers),
        None => return Err(Failure::file(path, "use", "it has no `[kit]` table")),
    }
    for (path_in_kit, value) in numbers {
        let Some(value) = value else {
            return Err(Failure::file(path, "use", format!("`{path_in_kit}` is neither text nor a number")));
        };
        if !guide.set_number(&path_in_kit, value) {
            let help = did_you_mean(&path_in_kit, guide.kit().keys().map(String::as_str));
            let failure =
                Failure::file(path, "use", format!("the guide `{}` has no number `{path_in_kit}`", guide.id()));
            return Err(failure.maybe_help(help));
        }
    }
    Ok(())
}

fn flatten(path: &str, value: &toml::Value, numbers: &mut BTreeMap<String, Option<KitValue>>) {
    let value = match value {
        toml::Value::Table(table) => {
            for (key, value) in table {
                flatten(&format!("{path}.{key}"), value, numbers);
            }
            return;
        }
        toml::Value::String(text) => Some(KitValue::Text(text.clone())),
        toml::Value::Integer(number) => Some(KitValue::Number(*number as f64)),
        toml::Value::Float(number) => Some(KitValue::Number(*number)),
        _ => None,
    };
    numbers.insert(path.to_owned(), value);
}

/// Keeps measured numbers under a name; returns the file.
pub(super) fn keep(name: &str, numbers: &BTreeMap<String, String>, settings: &Settings) -> Result<PathBuf, Failure> {
    name.parse::<JobName>().map_err(|wrong| Failure::usage(format!("{name}: {wrong}")))?;
    let folder = settings.folders()?.measured();
    std::fs::create_dir_all(&folder).map_err(|wrong| Failure::file(&folder, "make the folder", wrong))?;
    let path = folder.join(name).with_extension("toml");
    if path.exists() {
        return Err(Failure::usage(format!("there is a kit `{name}` already"))
            .help("choose another name, or take that file away first"));
    }
    let mut text = String::from("stepjig = 1\n");
    for (number, value) in numbers {
        text.push_str(&format!("{number} = {}\n", toml::Value::from(value.as_str())));
    }
    write_whole(&path, text.as_bytes()).map_err(|wrong| Failure::usage(wrong.to_string()))?;
    Ok(path)
}

//! `config`: the settings in force and where each came from.

use serde_json::json;

use super::Format;
use super::output::Output;
use super::settings::Settings;

/// Arguments of `config`.
#[derive(Debug, clap::Args)]
pub(super) struct ConfigArguments {
    /// Show each setting, its value and where it came from
    #[arg(long)]
    show: bool,
    /// How to show them
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    format: Format,
}

/// Shows the settings.
pub(super) fn run(arguments: &ConfigArguments, settings: &Settings, output: &mut Output) -> u8 {
    if arguments.format == Format::Json {
        let shown = |(name, value, from): &(&str, String, String)| json!({"name": name, "value": value, "from": from});
        let all: Vec<_> = settings.origins.iter().map(shown).collect();
        output.text(&format!("{:#}\n", json!({"stepjig": 1, "settings": all})));
        return 0;
    }
    for (name, value, from) in &settings.origins {
        output.line(&format!("{name} = {value}  ({from})"));
    }
    0
}

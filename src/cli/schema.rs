//! `schema`: the description of the guide format that an editor completes and checks with.

use super::Outcome;
use super::failure::Failure;
use super::into_file::IntoFile;
use super::output::Output;
use super::settings::Settings;

const EXAMPLES: &str = "\
Examples:
  Keep it beside your guides:
    stepjig schema -o stepjig.schema.json
  and let a guide name it in its first line:
    #:schema ./stepjig.schema.json";

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
#[command(before_help = EXAMPLES)]
pub(super) struct SchemaArguments {
    #[command(flatten)]
    into: IntoFile,
}

/// Writes the schema.
pub(super) fn run(arguments: &SchemaArguments, settings: &Settings, output: &mut Output) -> Outcome {
    arguments.into.may_be_written()?;
    let schema = serde_json::to_string_pretty(&crate::guide::schema::schema());
    let schema = schema.map_err(|wrong| Failure::usage(wrong.to_string()))?;
    arguments.into.put_text(format!("{schema}\n"), settings, output)
}

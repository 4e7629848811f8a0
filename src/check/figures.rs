//! Proves a shop's own file of figures: what a sum would refuse once it uses them.

use std::sync::Arc;

use super::Checked;
use crate::finding::{Code, Finding, Place, Source};
use crate::reckon::{Data, DataFile, Refusal};

/// Checks a file of a shop's figures, laid over the shipped one.
///
/// Its figures are read as the sums read them; of a table the first fault is found, of `practice.toml` all.
///
/// ```
/// use stepjig::check::check_figures;
/// use stepjig::finding::Source;
/// use stepjig::reckon::DataFile;
///
/// let own = Source::new("data/practice.toml", "[wall]\nthin = \"1 mmm\"\n");
/// let checked = check_figures(DataFile::Practice, &own);
/// assert_eq!(checked.findings[0].place.to_string(), "data/practice.toml:2:1");
/// ```
pub fn check_figures(file: DataFile, source: &Arc<Source>) -> Checked {
    let is_toml = source.text().parse::<toml::Table>().is_ok();
    let code = if is_toml { Code::BadValue } else { Code::Syntax };
    let finding = |refusal: Refusal| {
        let help = refusal.help();
        let (place, message) = match refusal {
            Refusal::Table { place, fault } => (place, fault),
            other => (Place::new(source, 0..0), other.to_string()),
        };
        Finding::new(code, place, message).maybe_help(help)
    };
    let faults = Data::shipped().with(file, source).faults(file);
    let mut findings: Vec<Finding> = faults.into_iter().map(finding).collect();
    crate::finding::sort(&mut findings);
    Checked { id: file.name().to_owned(), guide: None, findings }
}

//! Speeds of the lathe that are advised for a diameter.

use serde::Deserialize;

use super::Refusal;
use super::sheet::{Sheet, fields};
use crate::units::Length;

/// What is advised up to a diameter, in turns a minute.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedBand {
    /// The widest work it is for; none where it goes on.
    pub to: Option<Length>,
    /// Under this a blank is only being rounded.
    pub slow_under: f64,
    /// Shaping goes up to this.
    pub usual_to: f64,
    /// The most that is advised.
    pub most: f64,
    /// Whether a shop has set it.
    pub is_own: bool,
}

/// The bands, from thin work to wide.
#[derive(Debug)]
pub struct Speeds {
    bands: Vec<SpeedBand>,
    source: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Raw {
    to: Option<String>,
    slow_under: f64,
    usual_to: f64,
    most: f64,
}

impl Speeds {
    pub(super) fn read(sheet: &Sheet) -> Result<Speeds, Refusal> {
        let rows = sheet.rows("lathe", |_, entry| read(fields(entry)?))?;
        let mut bands: Vec<_> = rows.into_iter().map(|row| SpeedBand { is_own: row.is_own, ..row.value }).collect();
        bands.sort_by_key(|band| (band.to.is_none(), band.to));
        Ok(Speeds { bands, source: sheet.text("source", "lathe").to_owned() })
    }

    /// Returns what is advised for work of a diameter.
    pub fn band(&self, diameter: Length) -> Option<&SpeedBand> {
        self.bands.iter().find(|band| band.to.is_none_or(|to| diameter <= to))
    }

    /// Returns where the speeds come from.
    pub fn source(&self) -> &str {
        &self.source
    }
}

fn read(raw: Raw) -> Result<SpeedBand, String> {
    let Raw { to, slow_under, usual_to, most } = raw;
    let rises = 0.0 < slow_under && slow_under <= usual_to && usual_to <= most && most <= 100_000.0;
    if !rises {
        return Err("`slow-under`, `usual-to` and `most` go up, from over 0 to 100000 rev/min".to_owned());
    }
    let to = to.map(|to| Length::parse(&to, None).map_err(|fault| format!("`to`: {fault:#}"))).transpose()?;
    Ok(SpeedBand { to, slow_under, usual_to, most, is_own: false })
}

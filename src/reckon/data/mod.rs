//! The figures that reckonings use: tables that stepjig comes with, and those that a shop lays over them.

mod by_line;
mod drills;
mod fault;
mod glues;
mod practice;
mod sheet;
mod speeds;
mod things;
mod wood;

use std::sync::{Arc, OnceLock};

use self::practice::Practice;
use self::sheet::Sheet;
pub(super) use self::wood::{Sides, Wood, Woods};
use super::Refusal;
use crate::finding::Source;
use crate::units::Length;

pub use self::drills::{Bit, BitName, BitSet, Drills};
pub use self::glues::{Glue, Glues, Hardening};
pub use self::speeds::{SpeedBand, Speeds};
pub use self::things::{ThingKind, Things};

/// A file of figures, in `guides/data/` and in a shop's own `data/`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DataFile {
    /// Glues by their chemistry.
    Adhesives,
    /// Drill bits.
    Drills,
    /// Thresholds and usual values, common practice.
    Practice,
    /// Speeds of the lathe.
    Speeds,
    /// What kind of thing each is that a step asks for.
    Things,
    /// Woods.
    Wood,
}

impl DataFile {
    /// All of them.
    pub const ALL: [DataFile; 6] =
        [DataFile::Adhesives, DataFile::Drills, DataFile::Practice, DataFile::Speeds, DataFile::Things, DataFile::Wood];

    /// Returns the file's name in its folder.
    pub fn name(self) -> &'static str {
        match self {
            DataFile::Adhesives => "adhesives.toml",
            DataFile::Drills => "drills.toml",
            DataFile::Practice => "practice.toml",
            DataFile::Speeds => "speeds.toml",
            DataFile::Things => "things.toml",
            DataFile::Wood => "wood.toml",
        }
    }

    fn shipped(self) -> &'static str {
        match self {
            DataFile::Adhesives => include_str!("../../../guides/data/adhesives.toml"),
            DataFile::Drills => include_str!("../../../guides/data/drills.toml"),
            DataFile::Practice => include_str!("../../../guides/data/practice.toml"),
            DataFile::Speeds => include_str!("../../../guides/data/speeds.toml"),
            DataFile::Things => include_str!("../../../guides/data/things.toml"),
            DataFile::Wood => include_str!("../../../guides/data/wood.toml"),
        }
    }
}

/// The tables of figures. Each is read when it is first used.
#[derive(Debug, Default)]
pub struct Data {
    /// The shop's own files.
    own: Vec<(DataFile, Arc<Source>)>,
    practice: OnceLock<Result<Practice, Refusal>>,
    drills: OnceLock<Result<Drills, Refusal>>,
    glues: OnceLock<Result<Glues, Refusal>>,
    speeds: OnceLock<Result<Speeds, Refusal>>,
    things: OnceLock<Result<Things, Refusal>>,
    woods: OnceLock<Result<Woods, Refusal>>,
}

impl Data {
    /// Returns the tables that stepjig comes with.
    pub fn shipped() -> Data {
        Data::default()
    }

    /// Returns the tables with a shop's own file laid over the shipped one.
    pub fn with(mut self, file: DataFile, own: &Arc<Source>) -> Data {
        self.own.push((file, Arc::clone(own)));
        Data { own: self.own, ..Data::default() }
    }

    /// The shop's file over a shipped one.
    fn own(&self, file: DataFile) -> Option<&Arc<Source>> {
        self.own.iter().find(|(own, _)| *own == file).map(|(_, source)| source)
    }

    /// Returns what is wrong with the figures of a file, the shop's own and the shipped under it: what would be told
    /// sooner or later when they are used, all told at once. Of a table it is the first fault.
    pub fn faults(&self, file: DataFile) -> Vec<Refusal> {
        let read = match file {
            DataFile::Adhesives => self.glues().map(drop),
            DataFile::Drills => self.drills().map(drop),
            DataFile::Practice => return self.practices().map_or_else(|fault| vec![fault], |all| all.faults(self)),
            DataFile::Speeds => self.speeds().map(drop),
            DataFile::Things => self.things().map(drop),
            DataFile::Wood => self.woods().map(drop),
        };
        read.err().into_iter().collect()
    }

    fn practices(&self) -> Result<&Practice, Refusal> {
        let file = DataFile::Practice;
        let read = || Practice::read(file.shipped(), self.own(file));
        self.practice.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    fn sheet(&self, file: DataFile) -> Result<Sheet, Refusal> {
        Sheet::read(file.name(), file.shipped(), self.own(file))
    }

    /// Returns the drill bits.
    ///
    /// # Errors
    /// [`Refusal::Table`] where the shop's own file has a fault; so for the tables below.
    pub fn drills(&self) -> Result<&Drills, Refusal> {
        let file = DataFile::Drills;
        let read = || Drills::read(file.shipped(), self.own(file), self.practice_length("drill-for.metric-step")?);
        self.drills.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    /// Returns the glues.
    pub fn glues(&self) -> Result<&Glues, Refusal> {
        let read = || Glues::read(&self.sheet(DataFile::Adhesives)?);
        self.glues.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    /// Returns the speeds of the lathe.
    pub fn speeds(&self) -> Result<&Speeds, Refusal> {
        let read = || Speeds::read(&self.sheet(DataFile::Speeds)?);
        self.speeds.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    /// Returns the kinds of the things that steps ask for.
    pub fn things(&self) -> Result<&Things, Refusal> {
        let file = DataFile::Things;
        let read = || Things::read(file.name(), file.shipped(), self.own(file));
        self.things.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    /// Returns the woods.
    pub(super) fn woods(&self) -> Result<&Woods, Refusal> {
        let file = DataFile::Wood;
        let read = || Woods::read(file.shipped(), self.own(file));
        self.woods.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    /// Returns the names that a file lists, as they are typed: woods, glues, bits that are no sizes.
    pub(super) fn names(&self, file: DataFile) -> Result<Vec<String>, Refusal> {
        Ok(match file {
            DataFile::Adhesives => self.glues()?.all().iter().flat_map(Glue::names).map(str::to_owned).collect(),
            DataFile::Drills => self.drills()?.names().collect(),
            DataFile::Wood => self.woods()?.names()?,
            DataFile::Practice | DataFile::Speeds | DataFile::Things => Vec::new(),
        })
    }

    /// Returns a usual value as it is written, by its key, `drill-for.least`.
    pub(super) fn practice(&self, key: &str) -> Result<String, Refusal> {
        self.practices()?.text(key)
    }

    /// Returns a usual value that is a length.
    pub(super) fn practice_length(&self, key: &str) -> Result<Length, Refusal> {
        self.practices()?.read_as(key, |text| Length::parse(text, None).map_err(|fault| format!("{fault:#}")))
    }

    /// Returns a usual value that is a plain number.
    pub(super) fn practice_number(&self, key: &str) -> Result<f64, Refusal> {
        let number = |text: &str| {
            let number = text.parse::<f64>().ok().filter(|number| number.is_finite() && 0.0 < *number);
            number.ok_or_else(|| format!("`{text}` is not a plain number over 0"))
        };
        self.practices()?.read_as(key, number)
    }

    /// Returns what to say of the thresholds of a reckoning: common practice, or the shop's own.
    pub(super) fn practice_source(&self, reckoning: &str) -> String {
        match self.practices().is_ok_and(|practice| practice.is_own(reckoning)) {
            true => "thresholds: the shop's own".to_owned(),
            false => "thresholds: common practice, no source".to_owned(),
        }
    }
}

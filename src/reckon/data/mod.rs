//! The figures that reckonings use: tables that stepjig comes with, and those that a shop lays over them.

mod practice;
mod wood;

use std::sync::OnceLock;

use self::practice::Practice;
pub(super) use self::wood::{Sides, Wood, Woods};
use super::Refusal;
use crate::units::Length;

/// A file of figures, in `guides/data/` and in a shop's own `data/`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DataFile {
    /// Thresholds and usual values, common practice.
    Practice,
    /// Woods.
    Wood,
}

impl DataFile {
    /// All of them.
    pub const ALL: [DataFile; 2] = [DataFile::Practice, DataFile::Wood];

    /// Returns the file's name in its folder.
    pub fn name(self) -> &'static str {
        match self {
            DataFile::Practice => "practice.toml",
            DataFile::Wood => "wood.toml",
        }
    }

    fn shipped(self) -> &'static str {
        match self {
            DataFile::Practice => include_str!("../../../guides/data/practice.toml"),
            DataFile::Wood => include_str!("../../../guides/data/wood.toml"),
        }
    }
}

/// The tables of figures. Each is read when it is first used.
#[derive(Debug, Default)]
pub struct Data {
    /// The shop's own files: which, where it lies, and its text.
    own: Vec<(DataFile, String, String)>,
    practice: OnceLock<Result<Practice, Refusal>>,
    woods: OnceLock<Result<Woods, Refusal>>,
}

impl Data {
    /// Returns the tables that stepjig comes with.
    pub fn shipped() -> Data {
        Data::default()
    }

    /// Returns the tables with a shop's own file laid over the shipped one; `place` is how a fault in it is named.
    pub fn with(mut self, file: DataFile, place: &str, text: &str) -> Data {
        self.own.push((file, place.to_owned(), text.to_owned()));
        Data { own: self.own, ..Data::default() }
    }

    /// The shop's file over a shipped one.
    fn own(&self, file: DataFile) -> Option<(&str, &str)> {
        self.own.iter().find(|(own, ..)| *own == file).map(|(_, place, text)| (place.as_str(), text.as_str()))
    }

    fn practices(&self) -> Result<&Practice, Refusal> {
        let file = DataFile::Practice;
        let read = || Practice::read(file.shipped(), self.own(file));
        self.practice.get_or_init(read).as_ref().map_err(Refusal::clone)
    }

    /// Returns the woods.
    pub(super) fn woods(&self) -> Result<&Woods, Refusal> {
        let file = DataFile::Wood;
        let read = || Woods::read(file.shipped(), self.own(file));
        self.woods.get_or_init(read).as_ref().map_err(Refusal::clone)
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
        let number = |text: &str| text.parse::<f64>().map_err(|_| format!("`{text}` is not a plain number"));
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

//! Pieces laid side by side on a blank.

use crate::units::{Length, Offset, UnitError};

/// Pieces laid side by side from the left, a saw cut between each two. All lengths are shown in the first tube's unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    tubes: Vec<Length>,
    allowance: Length,
    kerf: Length,
    cuts: Vec<Length>,
}

impl Layout {
    /// Lays out a piece for each tube: `cut = tube + 2 · allowance`.
    ///
    /// # Errors
    /// [`UnitError`] if a piece comes to more than 10 m.
    pub fn new(tubes: Vec<Length>, allowance: Length, kerf: Length) -> Result<Layout, UnitError> {
        let mut layout = Layout { tubes, allowance, kerf, cuts: Vec::new() };
        let cut = |tube: &Length| layout.shown(tube.in_mm() + 2.0 * allowance.in_mm());
        layout.cuts = layout.tubes.iter().map(cut).collect::<Result<_, _>>()?;
        Ok(layout)
    }

    /// Returns the tubes' lengths.
    pub fn tubes(&self) -> &[Length] {
        &self.tubes
    }

    /// Returns what is left at each end of a tube.
    pub fn allowance(&self) -> Length {
        self.allowance
    }

    /// Returns what a saw cut takes.
    pub fn kerf(&self) -> Length {
        self.kerf
    }

    /// Returns the lengths to cut, from the left.
    pub fn cuts(&self) -> &[Length] {
        &self.cuts
    }

    /// Returns what the pieces and so many saw cuts take: `needed = Σ cuts + kerf · n`.
    ///
    /// Between `p` pieces lie `p − 1` saw cuts; where both outer ends are sawn off too, it is `p + 1`.
    ///
    /// # Errors
    /// [`UnitError`] if it comes to more than 10 m.
    pub fn needed(&self, n_saw_cuts: usize) -> Result<Length, UnitError> {
        let cuts: f64 = self.cuts.iter().map(|cut| cut.in_mm()).sum();
        self.shown(cuts + self.kerf.in_mm() * n_saw_cuts as f64)
    }

    /// Returns where each piece begins and ends, from the left end of the blank, the first begun after `shift`.
    ///
    /// # Errors
    /// [`UnitError`] if one lies beyond 10 m.
    pub fn places(&self, shift: Length) -> Result<Vec<(Length, Length)>, UnitError> {
        let mut start = shift.in_mm();
        let mut places = Vec::new();
        for cut in &self.cuts {
            let end = start + cut.in_mm();
            places.push((self.shown(start)?, self.shown(end)?));
            start = end + self.kerf.in_mm();
        }
        Ok(places)
    }

    /// Returns how far to shift the pieces, from 0 to `slack`, so that a feature is nearest the middle of one of them,
    /// and how far past that middle (below 0: before it) the feature stays.
    ///
    /// `shift = feature − middle`, held to 0…slack; `off = feature − middle − shift`. `piece` counts from 0.
    ///
    /// # Errors
    /// [`UnitError`] if the piece lies beyond 10 m; [`UnitError::NotFinite`] if there is no such piece.
    pub fn shift(&self, feature: Length, piece: usize, slack: Length) -> Result<(Length, Offset), UnitError> {
        let places = self.places(self.shown(0.0)?)?;
        let middle = places.get(piece).map_or(f64::NAN, |(start, end)| (start.in_mm() + end.in_mm()) / 2.0);
        let wanted = feature.in_mm() - middle;
        let shift = self.shown(wanted.clamp(0.0, slack.in_mm()))?;
        let off = Offset::from(self.shown((wanted - shift.in_mm()).abs())?);
        Ok((shift, if wanted < shift.in_mm() { off.negated() } else { off }))
    }

    /// Returns the most that can be left at each end where the pieces just fit a blank:
    /// `(blank − Σ tubes − kerf · (p − 1)) / 2p` for `p` pieces. Below 0 the bare tubes are longer than the blank.
    ///
    /// # Errors
    /// [`UnitError`] if the tubes come to more than 10 m.
    pub fn allowance_that_fits(&self, blank: Length) -> Result<Offset, UnitError> {
        let bare: f64 = self.tubes.iter().map(|tube| tube.in_mm()).sum();
        let p = self.tubes.len().max(1) as f64;
        let mm = (blank.in_mm() - bare - self.kerf.in_mm() * (p - 1.0)) / (2.0 * p);
        let size = Offset::from(self.shown(mm.abs())?);
        Ok(if mm < 0.0 { size.negated() } else { size })
    }

    /// Returns how much longer a blank would have to be for the bare tubes and the saw cuts between them; 0 where they
    /// fit.
    ///
    /// # Errors
    /// [`UnitError`] if the tubes come to more than 10 m.
    pub fn bare_lacks(&self, blank: Length) -> Result<Length, UnitError> {
        let ends = 2.0 * self.tubes.len().max(1) as f64;
        self.shown((-self.allowance_that_fits(blank)?.in_mm() * ends).max(0.0))
    }

    fn shown(&self, mm: f64) -> Result<Length, UnitError> {
        let unit = self.tubes.first().map(|tube| tube.unit());
        Length::from_mm(mm).map(|length| unit.map_or(length, |unit| length.written_in(unit)))
    }
}

//! How long a search may take.

/// How much work a search may do. The limit is a count, not a time, so that the same table gives the same plan on
/// every machine.
pub struct Budget<'a> {
    /// The most points of the walk (sets of findings) that are looked at.
    pub points: u64,
    /// Stops the search when it says so: for a person who waits no longer. It is asked every now and then.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

impl Budget<'_> {
    /// Returns a budget of so many points.
    pub fn of(points: u64) -> Budget<'static> {
        Budget { points, stop: None }
    }
}

/// Four million points: a table of a dozen causes, ten checks and six remedies within a second or so.
impl Default for Budget<'_> {
    fn default() -> Self {
        Budget::of(4_000_000)
    }
}

impl std::fmt::Debug for Budget<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Budget").field("points", &self.points).field("stop", &self.stop.map(|_| "asked")).finish()
    }
}

//! How long a search may take.

/// How much work a search may do. The limit is a count, not a time, so that the same table gives the same plan on
/// every machine.
pub struct Budget<'a> {
    /// The most work. A set of findings that is laid out counts 1, a point that the search looks at 32, of more than
    /// 32 causes in proportion: a few million are a second or less. A set that is laid out takes eight bytes, and no
    /// more than 64 million of them are.
    pub work: u64,
    /// Stops the search when it says so: for a person who waits no longer. It is asked every now and then.
    pub stop: Option<&'a dyn Fn() -> bool>,
}

/// The most actions in a row that are looked through: what comes after them is taken at its worst, so that the
/// largest table does not run out of stack.
pub(super) const MOST_IN_A_ROW: usize = 1_200;

impl Budget<'_> {
    /// Returns a budget of so much work.
    pub fn of(work: u64) -> Budget<'static> {
        Budget { work, stop: None }
    }
}

/// Eight million: enough for a dozen causes, ten checks and six remedies, all of them unsure.
impl Default for Budget<'_> {
    fn default() -> Self {
        Budget::of(8_000_000)
    }
}

impl std::fmt::Debug for Budget<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Budget").field("work", &self.work).field("stop", &self.stop.map(|_| "asked")).finish()
    }
}

//! How large a guide may be, so that a stranger's file can neither hang nor fill the machine.

/// Bounds on what is read. The program uses [`Limits::default`]; a benchmark lifts them.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Bytes in a file.
    pub file_bytes: usize,
    /// Bytes in one text of it.
    pub field_bytes: usize,
    /// Entries of one list, such as what a step needs.
    pub entries: usize,
    /// How deep lists and tables may be nested in one another.
    pub nesting: usize,
    /// Bytes of all texts, ids and names after expansion.
    pub expanded_bytes: usize,
    /// Steps after expansion.
    pub steps: usize,
    /// Answers to a question.
    pub answers: usize,
    /// How deep procedures may run procedures.
    pub depth: usize,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits {
            file_bytes: 1 << 20,
            field_bytes: 4 << 10,
            entries: 1_000,
            nesting: 16,
            expanded_bytes: 8 << 20,
            steps: 5_000,
            answers: 20,
            depth: 4,
        }
    }
}

impl Limits {
    /// Returns no bounds but those of depth: for measuring, never for a stranger's file.
    pub fn lifted() -> Limits {
        Limits {
            file_bytes: usize::MAX,
            field_bytes: usize::MAX,
            expanded_bytes: usize::MAX,
            steps: usize::MAX,
            ..Limits::default()
        }
    }

    /// Returns the bounds on a guide that is kept with a job: it is written out with all that its procedures say.
    pub fn kept() -> Limits {
        let most = Limits::default();
        Limits { file_bytes: 4 * most.expanded_bytes, expanded_bytes: 4 * most.expanded_bytes, ..most }
    }
}

//! How large a guide may be, so that a stranger's file can neither hang nor fill the machine.

/// Bounds on what is read. The program uses [`Limits::default`]; a benchmark lifts them.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Bytes in a file.
    pub file_bytes: usize,
    /// Bytes in one text of it.
    pub field_bytes: usize,
    /// Steps after expansion.
    pub steps: usize,
    /// Answers to a question.
    pub answers: usize,
    /// How deep procedures may run procedures.
    pub depth: usize,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits { file_bytes: 1 << 20, field_bytes: 4 << 10, steps: 5_000, answers: 20, depth: 4 }
    }
}

impl Limits {
    /// Returns no bounds but the depth: for measuring, never for a stranger's file.
    pub fn lifted() -> Limits {
        Limits { file_bytes: usize::MAX, field_bytes: usize::MAX, steps: usize::MAX, ..Limits::default() }
    }
}

//! Why something could not be done: what, where, what to do.

/// A failure to report on one or two lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Failure {
    message: String,
    help: Option<String>,
    code: u8,
}

impl Failure {
    /// Returns a failure by bad use or input.
    pub(crate) fn usage(message: impl Into<String>) -> Failure {
        Failure { message: message.into(), help: None, code: 2 }
    }

    /// Returns a failure to read or write a file.
    pub(crate) fn file(path: &std::path::Path, doing: &str, why: impl std::fmt::Display) -> Failure {
        Failure::usage(format!("cannot {doing} {}: {why}", path.display()))
    }

    /// Says what to do.
    pub(crate) fn help(mut self, help: impl Into<String>) -> Failure {
        self.help = Some(help.into());
        self
    }

    /// Says what to do, where there is something to say.
    pub(crate) fn maybe_help(mut self, help: Option<String>) -> Failure {
        self.help = help.or(self.help);
        self
    }

    /// Returns the exit code.
    pub(crate) fn code(&self) -> u8 {
        self.code
    }
}

impl std::fmt::Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // The argument parser's own messages begin with the word already.
        let message = self.message.strip_prefix("error: ").unwrap_or(&self.message);
        write!(f, "error: {message}")?;
        self.help.as_ref().map_or(Ok(()), |help| write!(f, "\n  help: {help}"))
    }
}

//! Where stepjig keeps things: the folders of the XDG base directory specification.
//!
//! Guides, jobs and measured kits in the data home, settings in the config home, what was typed in the state home. An
//! empty or relative variable is ignored, as the specification asks.

use std::path::PathBuf;

use etcetera::BaseStrategy;

/// The folders, or `None` where not even a home is known.
pub(super) struct Folders {
    data: PathBuf,
    config: PathBuf,
    state: PathBuf,
}

impl Folders {
    pub(super) fn find() -> Option<Folders> {
        let base = etcetera::base_strategy::Xdg::new().ok()?;
        let state = base.state_dir().unwrap_or_else(|| base.data_dir());
        Some(Folders {
            data: base.data_dir().join("stepjig"),
            config: base.config_dir().join("stepjig"),
            state: state.join("stepjig"),
        })
    }

    /// The shop's own guides.
    pub(super) fn guides(&self) -> PathBuf {
        self.data.join("guides")
    }

    /// One folder a job.
    pub(super) fn jobs(&self) -> PathBuf {
        self.data.join("jobs")
    }

    /// One file of answers a guide that is being drafted.
    pub(super) fn drafts(&self) -> PathBuf {
        self.data.join("drafts")
    }

    /// Kits whose numbers were measured in this shop.
    pub(super) fn measured(&self) -> PathBuf {
        self.data.join("measured")
    }

    /// From when on the shop's own cases count.
    pub(super) fn learned(&self) -> PathBuf {
        self.data.join("learned.toml")
    }

    /// The settings file.
    pub(super) fn config(&self) -> PathBuf {
        self.config.join("config.toml")
    }

    /// What was typed at the prompt.
    pub(super) fn history(&self) -> PathBuf {
        self.state.join("history")
    }
}

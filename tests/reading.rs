//! Reading and linking: every fault is told at its place, in one run, and nothing else is.
//!
//! Each fixture says what is found in it, see `reading/fixture.rs`.

mod reading {
    pub mod fixture;
    mod linking;
    mod procedures;
    mod steps;
    mod tables;
    mod toml;
    mod verified;
}

//! An independent implementation of what `check` and `rejoin` are defined to say.
//!
//! Deliberately slow and obvious: plain sets of names, iterated until nothing changes, and brute-force searches. It
//! shares no code with the library, so that where the two agree, both have read the definitions the same way.
#![allow(dead_code)] // each test file uses the part that it needs

pub mod adapter;
pub mod flow;
pub mod model;
pub mod random;
pub mod rejoin;
pub mod toml;
pub mod walk;

//! Something went wrong: what is most likely the cause, and what to do next so that it costs the fewest minutes.
pub mod belief;
mod bits;
pub mod fault;
pub mod findings;
pub mod plan;
pub mod problem;
mod read_draft;

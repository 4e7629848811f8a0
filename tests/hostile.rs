//! Hostile input: whatever a stranger's file or a slip of the fingers holds, the library tells of it and lives.
//!
//! Everything is made from seeds, so that what fails once fails again. `STEPJIG_HOSTILE=10` makes ten times the cases.

mod oracle;
mod typing;

mod hostile {
    pub mod rig;

    mod limits;
    mod mutants;
    mod reading;
    mod round_trip;
    mod shapes;
    mod texts;
    mod typed;
}

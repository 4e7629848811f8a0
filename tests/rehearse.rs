//! Rehearsals: the fewest walks that take every way of a guide, and those that a guide is tried by.
//!
//! That there are no fewer walks is checked outside the program twice: on small guides against a search through all
//! walks, on any guide by as many ways of which no walk takes two. Each walk is played in the engine that jobs are
//! walked by.

mod home;
mod oracle;

mod rehearse {
    mod any_guide;
    mod brute_force;
    mod faults;
    mod played;
    mod verb;
    mod written;
}

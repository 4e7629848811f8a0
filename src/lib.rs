//! `stepjig` steps a pen turner from a kit and a blank to a finished pen.
//!
//! One idea carries it: a procedure is a graph of steps over what is true of the work. Each step says what must
//! already be true, what it makes true, and what it destroys; that no walk presses a part before what it rests on,
//! where to pick up after something went wrong, and what to lay out next are computed from that.
//!
//! ```
//! use stepjig::check::check_file;
//! use stepjig::guide::Library;
//! use stepjig::walk::{Phase, Walk};
//!
//! // A guide that stepjig comes with; another program may link texts of its own.
//! let library = Library::shipped();
//! let source = library.guide("two-tube-fountain").expect("it is shipped");
//! let checked = check_file(&library, &source);
//! assert!(checked.is_sound());
//!
//! // Walk it: the clock is the caller's, and so is keeping the events.
//! let guide = checked.guide.expect("a sound guide is linked");
//! let now = jiff::Timestamp::UNIX_EPOCH;
//! let mut walk = Walk::begin(&guide, now);
//! let first = walk.scene(now).id;
//! let events = walk.answer("done", now)?;
//! assert_eq!(events.len(), 1);
//! assert_ne!(walk.scene(now).id, first);
//! assert_eq!(walk.state().phase, Phase::At);
//! # Ok::<(), stepjig::walk::Refusal>(())
//! ```
//!
//! The nouns in the order you meet them: [`guide::Library`], [`guide::Guide`], [`finding::Finding`],
//! [`walk::Walk`] with its [`walk::Scene`] and [`walk::Event`]s. [`units`] holds what is measured; [`trouble`] reckons what
//! most likely went wrong and what to do about it.
//!
//! It does not control machines, reach the network, or replace the kit's own sheet.
//!
//! # Changes
//!
//! ## 0.1.0
//!
//! First edition: the walk, `check`, `rejoin`, `list`, the guide for a threaded-cap fountain pen with two tubes; `trouble`
//! with seventeen fault tables, in a walk and from the shell, and `owed`; `reckon` with eleven of the
//! shop's sums;
//! `print`, for a checklist, a short form, a pick list, labels, a care card, fault tables and the record of a job, as
//! text, Markdown, HTML and PDF; `draw`, for a chart for the wall; `draft`, which writes a guide for another kit by
//! asking how its pen is built; `rehearse`, for the walks that try every branch of a guide; `check --fix` and `--watch`,
//! `compare` and `schema` for who edits one; guides for six further kit styles.

pub mod check;
pub mod cli;
pub mod draft;
pub mod finding;
pub mod guide;
pub mod reckon;
pub mod sheet;
pub mod trouble;
pub mod units;
pub mod walk;

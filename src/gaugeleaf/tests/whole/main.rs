//! The generator as a whole: handbooks in folders of their own, and the program on the command line.
//!
//! One program, so that there is one to link.

mod support;

mod asked;
mod calculate;
mod codes;
mod commonmark;
mod compare;
mod compared;
mod doors;
mod emergency;
mod endless;
mod findings;
mod follows;
mod formats;
mod guard;
mod handbook;
mod held;
mod issues;
mod jobs;
mod judge;
mod not_set;
mod parsing;
#[cfg(unix)]
mod places;
mod preview;
mod published;
mod relief;
mod rules;
mod same;
mod scope;
mod session;
#[cfg(unix)]
mod told;
mod trainer;
mod training;

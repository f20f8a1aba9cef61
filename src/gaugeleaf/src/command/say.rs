//! What the program says, and the exit code that it ends with.

use std::io::{self, IsTerminal, Write};

use gaugeleaf_calc::finding::Finding;

use crate::report::Sources;
use crate::report::emitter::Emitter;
use crate::report::terminal::{Terminal, colour_wanted};

/// Exit codes: all well; findings that stop a publish; bad usage or bad input.
pub const WELL: u8 = 0;
pub const FAULTS: u8 = 1;
pub const USAGE: u8 = 2;

/// Words for standard output. A reader who hung up is no fault.
pub fn say(words: &str) {
    let _ = writeln!(io::stdout().lock(), "{}", words.trim_end_matches('\n'));
}

/// Words for standard error.
pub fn complain(words: &str) {
    let _ = writeln!(io::stderr().lock(), "{}", words.trim_end_matches('\n'));
}

/// Findings for whoever sits at the terminal.
pub fn complain_of(findings: &[Finding], sources: &Sources) {
    let colour = colour_wanted(io::stderr().is_terminal());
    complain(&Terminal { colour }.emit(findings, sources));
}

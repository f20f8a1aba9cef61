//! The command line: what was asked, in words, and which exit code answers it.

mod arguments;
mod calculate;
mod help;
mod publish;
mod sheet;
mod words;

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use gaugeleaf_calc::finding::Finding;

use crate::report::{Sources, terminal, why};
use arguments::Command;

/// Exit codes: all well; findings that stop a publish; bad usage or bad input.
const WELL: u8 = 0;
const FAULTS: u8 = 1;
const USAGE: u8 = 2;

/// Runs the program on the arguments it was started with.
pub fn run(arguments: impl IntoIterator<Item = std::ffi::OsString>) -> ExitCode {
    let code = match arguments::parse(arguments) {
        Ok(Command::Publish { handbook, to }) => publish::publish(&handbook, to.as_deref()),
        Ok(Command::Inspect {
            handbook,
            json,
            strict,
        }) => publish::inspect(&handbook, json, strict),
        Ok(Command::Preview { handbook, port }) => {
            match crate::edition::preview::serve(&handbook, port, &|words| say(&words)) {
                Ok(()) => WELL,
                Err(why) => {
                    complain(&why);
                    FAULTS
                }
            }
        }
        Ok(Command::Calculate(asked)) => calculate::calculate(&asked),
        Ok(Command::Why(None)) => {
            say(&why::list());
            WELL
        }
        Ok(Command::Why(Some(code))) => match why::explain(&code) {
            Ok(words) => {
                say(&words);
                WELL
            }
            Err(words) => {
                complain(&words);
                USAGE
            }
        },
        Ok(Command::Sheet(asked)) => sheet::sheet(&asked),
        Ok(Command::Help(topic)) => {
            say(help::text(topic.as_deref()));
            WELL
        }
        Ok(Command::Version) => {
            say(concat!("gaugeleaf ", env!("CARGO_PKG_VERSION")));
            WELL
        }
        Err(why) => {
            complain(&why);
            USAGE
        }
    };
    ExitCode::from(code)
}

/// Words for standard output. A reader who hung up is no fault.
fn say(words: &str) {
    let _ = writeln!(io::stdout().lock(), "{}", words.trim_end_matches('\n'));
}

/// Words for standard error.
fn complain(words: &str) {
    let _ = writeln!(io::stderr().lock(), "{}", words.trim_end_matches('\n'));
}

/// Findings for whoever sits at the terminal.
fn complain_of(findings: &[Finding], sources: &Sources) {
    let colour = terminal::colour_wanted(io::stderr().is_terminal());
    complain(&terminal::present(findings, sources, colour));
}

//! The command line: what was asked, in words, and which exit code answers it.

mod arguments;
mod asked;
mod calculate;
mod help;
mod publish;
mod say;
mod sheet;
mod words;

use std::process::ExitCode;

use crate::command::say::{FAULTS, USAGE, WELL, complain, say};
use crate::report::why;
use arguments::Command;

/// Runs the program on the arguments it was started with.
pub fn run(arguments: impl IntoIterator<Item = std::ffi::OsString>) -> ExitCode {
    let code = match arguments::parse(arguments) {
        Ok(Command::Publish { handbook, to }) => publish::publish(&handbook, to.as_deref()),
        Ok(Command::Inspect {
            handbook,
            format,
            strict,
        }) => publish::inspect(&handbook, format, strict),
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

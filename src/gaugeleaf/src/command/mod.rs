//! The command line: what was asked, in words, and which exit code answers it.

mod arguments;
mod asked;
mod calculate;
mod compare;
mod issue;
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
        Ok(Command::Publish {
            handbook,
            to,
            issue,
        }) => publish::publish(&handbook, &to, issue.as_deref()),
        Ok(Command::Inspect(asked)) => {
            publish::inspect(&asked.handbook, asked.format, asked.strict)
        }
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
        Ok(Command::Compare(asked)) => compare::compare(&asked),
        Ok(Command::Why { code: None }) => {
            say(&why::list());
            WELL
        }
        Ok(Command::Why { code: Some(code) }) => match why::explain(&code) {
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
        Ok(Command::Completions { shell }) => {
            say(&arguments::completions(shell));
            WELL
        }
        Ok(Command::Manual { command }) => match arguments::manual(command.as_deref()) {
            Ok(page) => {
                say(&page);
                WELL
            }
            Err(why) => refuse(&why),
        },
        Ok(Command::Version) => {
            say(concat!("gaugeleaf ", env!("CARGO_PKG_VERSION")));
            WELL
        }
        Err(why) => refuse(&why),
    };
    ExitCode::from(code)
}

/// Says why nothing was done, or the help that was asked for.
fn refuse(why: &clap::Error) -> u8 {
    let words = why.render().to_string();
    if why.use_stderr() {
        complain(&words);
        return USAGE;
    }
    say(&words);
    WELL
}

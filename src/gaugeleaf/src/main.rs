//! The command line over the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    gaugeleaf::command::run(std::env::args_os())
}

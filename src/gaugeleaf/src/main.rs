//! The command line over the library.

use std::process::ExitCode;

#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    gaugeleaf::command::run(std::env::args_os())
}

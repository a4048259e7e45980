//! The `lapfell` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    lapfell::cli::run(std::env::args_os())
}

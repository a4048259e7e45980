//! The `lapfell` command.

use std::process::ExitCode;

#[cfg(target_os = "linux")]
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    lapfell::cli::run(std::env::args_os())
}

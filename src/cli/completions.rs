//! `lapfell completions`

use super::Cli;
use super::failure::{Failure, Outcome};
use super::terminal::Terminal;
use clap::{Args, CommandFactory};
use clap_complete::Shell;

/// Print a completion script for a shell
#[derive(Debug, Args)]
pub(super) struct Completions {
    /// Which shell
    shell: Shell,
}

impl Completions {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Cli::command(), "lapfell", &mut script);
        terminal.out(&String::from_utf8_lossy(&script))?;
        Ok(Outcome::Clean)
    }
}

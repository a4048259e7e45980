//! `lapfell library`

use super::failure::{Failure, Outcome};
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// Print what the standard library holds
#[derive(Debug, Args)]
pub(super) struct Library {
    /// A module (`std.trims`, or `trims`) or a name in one; without it, all modules
    name: Option<String>,
}

impl Library {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        terminal.out(&pipeline::library(self.name.as_deref(), terminal.is_json())?)?;
        Ok(Outcome::Clean)
    }
}

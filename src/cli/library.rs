//! `lapfell library`

use super::failure::{Failure, Outcome};
use super::options::UnitChoice;
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// Print what the standard library holds
#[derive(Debug, Args)]
pub(super) struct Library {
    /// A module (`std.trims`, or `trims`) or a name in one; without it, all modules
    name: Option<String>,

    /// Taken, so that the same options do everywhere; what is printed is the same
    #[arg(long, value_enum, hide = true)]
    units: Option<UnitChoice>,
}

impl Library {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        if self.units.is_some() {
            terminal.say("the library is shown as it is written: `--units` changes nothing here")?;
        }
        terminal.out(&pipeline::library(self.name.as_deref(), terminal.is_json())?)?;
        Ok(Outcome::Clean)
    }
}

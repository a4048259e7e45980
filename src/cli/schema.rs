//! `lapfell schema`

use super::failure::{Failure, Outcome};
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// Print the JSON Schema of the resolved geometry
#[derive(Debug, Args)]
pub(super) struct Schema {}

impl Schema {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        terminal.out(&pipeline::schema())?;
        Ok(Outcome::Clean)
    }
}

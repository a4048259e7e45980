//! `lapfell order`

use super::failure::{Failure, Outcome};
use super::options::{OneSize, Source};
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// Print the sewing order
#[derive(Debug, Args)]
pub(super) struct Order {
    #[command(flatten)]
    source: Source,

    #[command(flatten)]
    size: OneSize,
}

impl Order {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let compiled = match self.source.compile_quietly(terminal)? {
            Ok(compiled) => compiled,
            Err(outcome) => return Ok(outcome),
        };
        let size = self.size.of(&compiled)?;
        let text = pipeline::order(size, terminal.kind(self.source.style()));
        terminal.out(&text?)?;
        Ok(Outcome::Clean)
    }
}

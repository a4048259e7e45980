//! `lapfell goods`

use super::failure::{Failure, Outcome};
use super::options::{OneSize, Source};
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// Print the cut list and the bill of materials
#[derive(Debug, Args)]
pub(super) struct Goods {
    #[command(flatten)]
    source: Source,

    #[command(flatten)]
    size: OneSize,
}

impl Goods {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let compiled = match self.source.compile_quietly(terminal)? {
            Ok(compiled) => compiled,
            Err(outcome) => return Ok(outcome),
        };
        let size = self.size.of(&compiled)?;
        let text = pipeline::goods(size, terminal.kind(self.source.style()));
        terminal.out(&text?)?;
        Ok(Outcome::Clean)
    }
}

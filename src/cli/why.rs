//! `lapfell why`

use super::failure::{Failure, Outcome};
use super::options::{OneSize, Source};
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// Print how a figure came about, back to the lines and parameters that made it
#[derive(Debug, Args)]
pub(super) struct Why {
    #[command(flatten)]
    source: Source,

    /// What to explain: a parameter or constant, `shell.left` for an edge, `loops.1` for a place; `mass`, `cost` or `thread`
    #[arg(value_name = "NAME")]
    figure: String,

    #[command(flatten)]
    size: OneSize,
}

impl Why {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let compiled = match self.source.compile_quietly(terminal)? {
            Ok(compiled) => compiled,
            Err(outcome) => return Ok(outcome),
        };
        let text = pipeline::why(self.size.of(&compiled)?, &self.figure, terminal.kind(self.source.style()))?;
        terminal.out(&text)?;
        Ok(Outcome::Clean)
    }
}

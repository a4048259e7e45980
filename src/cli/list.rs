//! `lapfell list`

use super::failure::{Failure, Outcome};
use super::options::Source;
use super::terminal::Terminal;
use crate::pipeline;
use clap::Args;

/// List a design's parameters, with what they may be, its sizes, and its panels with their edges
///
/// Listed measures stand as the source writes them; --units is for what is reported.
#[derive(Debug, Args)]
pub(super) struct List {
    #[command(flatten)]
    source: Source,
}

impl List {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        match self.source.compile_quietly(terminal)? {
            Ok(compiled) => {
                terminal.out(&pipeline::listing(&compiled, terminal.is_json()))?;
                Ok(Outcome::Clean)
            }
            Err(outcome) => Ok(outcome),
        }
    }
}

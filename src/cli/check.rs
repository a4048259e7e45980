//! `lapfell check`

use super::failure::{Failure, Outcome};
use super::options::Source;
use super::terminal::{Format, Stream, Terminal};
use crate::pipeline::Compiled;
use clap::Args;

/// Check a source in all its sizes, and write nothing
///
/// Everything found is printed, errors and warnings in source order, with what to change where that can be worked out.
#[derive(Debug, Args)]
pub(super) struct Check {
    #[command(flatten)]
    source: Source,
}

impl Check {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let compiled = self.source.check()?;
        terminal.report(&compiled.problems, &compiled.sources, Stream::Out)?;
        if terminal.format == Format::Text {
            terminal.out(&remarks(&compiled))?;
            if compiled.problems.is_empty() {
                terminal.out(&all_well(&compiled))?;
            }
        }
        Ok(Outcome::of(&compiled))
    }
}

fn remarks(compiled: &Compiled) -> String {
    let line = |r: &crate::pipeline::Remark| {
        let place = r.diagnostic.labels.first().map(|l| compiled.sources.place(l.span)).unwrap_or_default();
        let text = format!("accepted at {place}: {} ({}), because {}", r.diagnostic.headline, r.diagnostic.code, r.because);
        format!("{}\n", crate::diagnostic::plain(&text))
    };
    compiled.remarks.iter().map(line).collect()
}

fn all_well(compiled: &Compiled) -> String {
    let named: Vec<_> = compiled.size_names().collect();
    let name = compiled.name().unwrap_or("this source");
    match named.as_slice() {
        [] => format!("{name}: nothing wrong\n"),
        some => format!("{name}: nothing wrong, as drawn and in {}\n", some.join(", ")),
    }
}

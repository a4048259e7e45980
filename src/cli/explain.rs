//! `lapfell explain`

use super::failure::{Failure, Outcome};
use super::terminal::Terminal;
use crate::diagnostic::{all_codes, explain, nearest};
use clap::Args;

/// Print the page behind a code: what goes wrong if it is ignored, and how to mend it
#[derive(Debug, Args)]
pub(super) struct Explain {
    /// The code above a report; without one, all codes are listed
    code: Option<String>,
}

impl Explain {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let Some(code) = &self.code else {
            let lines: String = all_codes().into_iter().map(|c| format!("{c}\n")).collect();
            terminal.out(&lines)?;
            return Ok(Outcome::Clean);
        };
        let Some(page) = explain(code) else {
            return Err(Failure::UnknownCode { code: code.clone(), near: nearest(code, all_codes()).map(str::to_owned) });
        };
        terminal.out(&format!("{code}\n\n{page}\n"))?;
        Ok(Outcome::Clean)
    }
}

//! `lapfell explain`

use super::failure::{Failure, Outcome};
use super::options::UnitChoice;
use super::terminal::{Format, Terminal, WIDTH};
use crate::diagnostic::{all_codes, explain, nearest, paragraphs};
use clap::Args;

/// Print the page behind a code: what goes wrong if it is ignored, and how to mend it
#[derive(Debug, Args)]
pub(super) struct Explain {
    /// The code above a report; without one, all codes are listed
    code: Option<String>,

    /// Taken, so that the same options do everywhere; what is printed is the same
    #[arg(long, value_enum, hide = true)]
    units: Option<UnitChoice>,
}

impl Explain {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        if self.units.is_some() {
            terminal.say("the page is the same for all: `--units` changes nothing here")?;
        }
        let Some(code) = &self.code else {
            terminal.out(&match terminal.format {
                Format::Text => all_codes().into_iter().map(|c| format!("{c}\n")).collect(),
                Format::Json => format!("{:#}\n", serde_json::json!(all_codes())),
            })?;
            return Ok(Outcome::Clean);
        };
        let Some(page) = explain(code) else {
            return Err(Failure::UnknownCode { code: code.clone(), near: nearest(code, all_codes()).map(str::to_owned) });
        };
        terminal.out(&match terminal.format {
            Format::Text => format!("{code}\n\n{}", paragraphs(page, WIDTH, "", "")),
            Format::Json => format!("{:#}\n", serde_json::json!({ "code": code, "page": page })),
        })?;
        Ok(Outcome::Clean)
    }
}

//! Options that several commands share.

use super::failure::{Failure, Outcome};
use super::files::Project;
use super::progress;
use super::terminal::{Stream, Terminal};
use crate::pipeline::{self, AS_DRAWN, Compiled, Request, Resolved, Style};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Which source, and with which values.
#[derive(Debug, Args)]
pub(super) struct Source {
    /// The source file, or - for standard input
    pub(super) file: PathBuf,

    /// Set a parameter, over what any size says
    ///
    /// The value is written as in a source: --set "stature=182 cm", --set foot=open. Can be given several times, once
    /// for each parameter.
    #[arg(long = "set", value_name = "NAME=VALUE")]
    settings: Vec<String>,

    /// Work on this many sizes at once [default: as many as there are cores]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    jobs: Option<u16>,

    /// Word measures in centimetres and grams, or in inches and ounces
    #[arg(long, value_enum, default_value_t)]
    units: UnitChoice,
}

/// Which sizes.
#[derive(Debug, Args)]
pub(super) struct Sizes {
    /// Take this size; can be given several times. `as-drawn` is every parameter as the source gives it
    ///
    /// All named sizes are checked whichever is asked for.
    #[arg(long = "size", value_name = "NAME")]
    pub(super) names: Vec<String>,
}

/// Which one size.
#[derive(Debug, Args)]
pub(super) struct OneSize {
    /// Take this size [default: as-drawn, every parameter as the source gives it]
    #[arg(long = "size", value_name = "NAME")]
    size: Option<String>,
}

impl OneSize {
    /// The size asked for.
    pub(super) fn of<'a>(&self, compiled: &'a Compiled) -> Result<&'a Resolved, Failure> {
        Ok(compiled.size(self.size.as_deref().unwrap_or(AS_DRAWN))?)
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum UnitChoice {
    /// Centimetres and grams
    #[default]
    Cm,
    /// Inches to a sixteenth, ounces
    In,
}

impl Source {
    /// In which units to word measures.
    pub(super) fn style(&self) -> Style {
        match self.units {
            UnitChoice::Cm => Style::METRIC,
            UnitChoice::In => Style::INCH,
        }
    }

    /// On how many threads to work.
    pub(super) fn jobs(&self) -> Option<usize> {
        self.jobs.map(usize::from)
    }

    /// Compiles the source in every size.
    fn compile(&self) -> Result<Compiled, Failure> {
        self.compile_for(Request::default())
    }

    /// Checks it in every size.
    pub(super) fn check(&self) -> Result<Compiled, Failure> {
        self.compile_for(Request { only_check: true, ..Request::default() })
    }

    fn compile_for(&self, request: Request) -> Result<Compiled, Failure> {
        let project = Project::open(&self.file)?;
        let request = Request { settings: self.settings.clone(), jobs: self.jobs(), ..request };
        let progress = progress::Progress::default();
        let compiled = pipeline::compile(project.main, &project.loader, &request, &|total| progress.one_done(total));
        progress.finish();
        Ok(compiled?)
    }

    /// Compiles it and shows what was found; the design only when nothing is wrong with it.
    pub(super) fn compile_clean(&self, terminal: Terminal) -> Result<Result<Compiled, Outcome>, Failure> {
        let compiled = self.compile()?;
        if !compiled.problems.is_empty() {
            terminal.report(&compiled, self.style(), Stream::Err)?;
        }
        Ok(settled(compiled))
    }

    /// As [`Source::compile_clean`], for a command that answers one question: warnings are counted, and told elsewhere.
    pub(super) fn compile_quietly(&self, terminal: Terminal) -> Result<Result<Compiled, Outcome>, Failure> {
        let compiled = self.compile()?;
        let count = compiled.problems.sorted().len();
        if compiled.problems.has_errors() || terminal.is_json() && count > 0 {
            terminal.report(&compiled, self.style(), Stream::Err)?;
        } else if count > 0 {
            let words = if count == 1 { "1 warning" } else { &format!("{count} warnings") };
            terminal.say(&format!("{words}; `lapfell check {}` says more", self.file.display()))?;
        }
        Ok(settled(compiled))
    }
}

fn settled(compiled: Compiled) -> Result<Compiled, Outcome> {
    match Outcome::of(&compiled) {
        Outcome::Clean => Ok(compiled),
        wrong => Err(wrong),
    }
}

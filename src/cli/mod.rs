//! The command line. The only room that reads and writes files and the terminal.

#![allow(clippy::disallowed_methods, reason = "this is the room that meets the machine")]

mod build;
mod check;
mod completions;
mod explain;
mod failure;
mod files;
mod goods;
mod library;
mod list;
mod manual;
mod options;
mod order;
mod progress;
mod schema;
mod terminal;
mod why;
mod writing;

pub use files::Folder;

use clap::{Parser, Subcommand};
use failure::{EXIT_CODES, Failure, Outcome};
use std::ffi::OsString;
use std::process::ExitCode;
use terminal::{Colour, Format, Terminal};

/// From a pattern in text to pieces, cutter files and a sewing order
///
/// A design is a text file, `*.fell`, that states panels, edges, allowances and seams in
/// words and figures. `lapfell check` reads it as a master sewer would;
/// `lapfell build` writes all there is to cut and sew it by.
#[derive(Debug, Parser)]
#[command(name = "lapfell", version, after_help = EXIT_CODES, max_term_width = 100)]
struct Cli {
    #[command(subcommand)]
    command: Command,

    /// When to use colours; NO_COLOR counts as well
    #[arg(long, global = true, value_enum, default_value_t, value_name = "WHEN")]
    colour: Colour,

    /// Print for people or for programs
    #[arg(long, global = true, value_enum, default_value_t)]
    format: Format,
}

#[derive(Debug, Subcommand)]
enum Command {
    Check(check::Check),
    Build(build::Build),
    Why(why::Why),
    Order(order::Order),
    Goods(goods::Goods),
    List(list::List),
    Explain(explain::Explain),
    Library(library::Library),
    Schema(schema::Schema),
    Completions(completions::Completions),
    Manual(manual::Manual),
}

/// Runs one command line; the first argument is the program's name.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let cli = match Cli::try_parse_from(arguments) {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version come here too; a reader who has gone is no failure.
            let _ = error.print();
            return ExitCode::from(if error.use_stderr() { failure::WRONG_USAGE } else { 0 });
        }
    };
    let terminal = Terminal::new(cli.colour, cli.format);
    match cli.command.run(terminal) {
        Ok(outcome) => outcome.code(),
        Err(failure) => {
            // There is nowhere left to say that saying it failed.
            let _ = terminal.fail(&failure);
            failure.code()
        }
    }
}

impl Command {
    fn run(self, terminal: Terminal) -> Result<Outcome, Failure> {
        match self {
            Self::Check(command) => command.run(terminal),
            Self::Build(command) => command.run(terminal),
            Self::Order(command) => command.run(terminal),
            Self::Goods(command) => command.run(terminal),
            Self::Why(command) => command.run(terminal),
            Self::List(command) => command.run(terminal),
            Self::Explain(command) => command.run(terminal),
            Self::Library(command) => command.run(terminal),
            Self::Schema(command) => command.run(terminal),
            Self::Completions(command) => command.run(terminal),
            Self::Manual(command) => command.run(terminal),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }
}

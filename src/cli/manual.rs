//! `lapfell manual`

use super::Cli;
use super::failure::{Failure, Outcome};
use super::terminal::Terminal;
use clap::{Args, CommandFactory};
use clap_mangen::Man;

/// Print the manual, as a man page
#[derive(Debug, Args)]
pub(super) struct Manual {}

impl Manual {
    pub(super) fn run(&self, terminal: Terminal) -> Result<Outcome, Failure> {
        let mut page = Vec::new();
        // Writing to memory does not fail.
        let written = pages(&mut page);
        written.map_err(|e| Failure::Output { reason: e.to_string() })?;
        terminal.out(&String::from_utf8_lossy(&page))?;
        Ok(Outcome::Clean)
    }
}

/// The whole program, then a section a command, all on one page.
fn pages(page: &mut Vec<u8>) -> std::io::Result<()> {
    let mut cli = Cli::command();
    cli.build();
    let man = Man::new(cli.clone());
    man.render_title(page)?;
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    for command in cli.get_subcommands().filter(|c| c.get_name() != "help") {
        let man = Man::new(command.clone());
        page.extend_from_slice(format!(".SH \"{}\"\n", command.get_name().to_uppercase()).as_bytes());
        let mut part = Vec::new();
        man.render_synopsis_section(&mut part)?;
        man.render_description_section(&mut part)?;
        man.render_options_section(&mut part)?;
        // Sections of a page of its own become parts of this one.
        page.extend_from_slice(String::from_utf8_lossy(&part).replace(".SH ", ".SS ").as_bytes());
    }
    let mut codes = Vec::new();
    man.render_extra_section(&mut codes)?;
    page.extend_from_slice(String::from_utf8_lossy(&codes).replace(".SH EXTRA", ".SH \"EXIT CODES\"").as_bytes());
    Ok(())
}

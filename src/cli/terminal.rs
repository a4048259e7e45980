//! What is printed, where, and in which colours.

use super::failure::Failure;
use crate::diagnostic::{Look, failure_json, plain, render_json, render_text};
use crate::pipeline::{Compiled, Kind, Style};
use clap::ValueEnum;
use std::io::{self, ErrorKind, IsTerminal, Write};

/// When to use colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum Colour {
    /// On a terminal, unless NO_COLOR is set.
    #[default]
    Auto,
    /// In a file or a pipe as well.
    Always,
    /// Plain text.
    Never,
}

/// How things are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(super) enum Format {
    /// For people.
    #[default]
    Text,
    /// For programs.
    Json,
}

/// Reports are wrapped here whatever the terminal, so that they look the same in a message to a friend.
pub(super) const WIDTH: usize = 80;

/// Both streams and how they are written to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Terminal {
    colour: Colour,
    /// What reports and lists are printed as.
    pub(super) format: Format,
}

/// Which stream.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stream {
    /// What was asked for.
    Out,
    /// What is said about it.
    Err,
}

impl Terminal {
    pub(super) const fn new(colour: Colour, format: Format) -> Self {
        Self { colour, format }
    }

    /// Whether programs read it.
    pub(super) fn is_json(self) -> bool {
        self.format == Format::Json
    }

    /// How an output is to be made.
    pub(super) fn kind(self, style: Style) -> Kind {
        if self.is_json() { Kind::Json } else { Kind::Text(style) }
    }

    /// Prints what was asked for.
    pub(super) fn out(self, text: &str) -> Result<(), Failure> {
        let mut stream = io::stdout().lock();
        settled(stream.write_all(text.as_bytes()).and_then(|()| stream.flush()))
    }

    /// Says what stops a command: for programs a list of one report, as of problems in a source, without a code or a place.
    pub(super) fn fail(self, failure: &Failure) -> Result<(), Failure> {
        let words = failure.to_string();
        match self.format {
            Format::Text => self.say(&format!("lapfell: {words}")),
            Format::Json => settled(io::stderr().lock().write_all(failure_json(&plain(&words)).as_bytes())),
        }
    }

    /// Says something about it.
    pub(super) fn say(self, text: &str) -> Result<(), Failure> {
        let mut stream = io::stderr().lock();
        settled(writeln!(stream, "{}", plain(text)))
    }

    /// Prints what was found.
    pub(super) fn report(self, compiled: &Compiled, style: Style, stream: Stream) -> Result<(), Failure> {
        let (problems, sources) = (&compiled.problems, &compiled.sources);
        let text = match self.format {
            Format::Text => render_text(problems, sources, Look { colour: self.coloured(stream), width: WIDTH, style }),
            Format::Json => render_json(problems, sources, style),
        };
        match stream {
            Stream::Out => self.out(&text),
            Stream::Err => settled(io::stderr().lock().write_all(text.as_bytes())),
        }
    }

    #[allow(clippy::disallowed_methods, reason = "NO_COLOR is about the terminal, not about results")]
    fn coloured(self, stream: Stream) -> bool {
        match self.colour {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto if std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty()) => false,
            Colour::Auto => match stream {
                Stream::Out => io::stdout().is_terminal(),
                Stream::Err => io::stderr().is_terminal(),
            },
        }
    }
}

/// Nobody reads on: that is no failure of ours.
fn settled(result: io::Result<()>) -> Result<(), Failure> {
    match result {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::Output { reason: error.to_string() }),
        _ => Ok(()),
    }
}

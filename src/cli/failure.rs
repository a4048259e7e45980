//! What ends a command, and with which exit code.

use crate::pipeline::{Compiled, ExportError, UsageError};
use std::fmt;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// How a command ends when nothing stops it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Outcome {
    /// All is well.
    Clean,
    /// The source has errors, which have been shown.
    SourceErrors,
    /// What was set on the command line has errors, which have been shown.
    SettingErrors,
}

/// What stops a command.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Failure {
    /// A request that can't be met.
    Usage(UsageError),
    /// A code that no report carries.
    UnknownCode { code: String, near: Option<String> },
    /// A file can't be read.
    Read { path: PathBuf, reason: String },
    /// A file can't be written; nothing was changed.
    Write { path: PathBuf, reason: String },
    /// The terminal, or what the output is piped into, can't be written to.
    Output { reason: String },
    /// An output can't be made from a design without errors.
    Export { reason: String },
}

impl Failure {
    pub(super) fn read(path: &Path, reason: impl fmt::Display) -> Self {
        Self::Read { path: path.to_owned(), reason: reason.to_string() }
    }

    pub(super) fn write(path: &Path, reason: impl fmt::Display) -> Self {
        Self::Write { path: path.to_owned(), reason: reason.to_string() }
    }

    pub(super) fn code(&self) -> ExitCode {
        ExitCode::from(match self {
            Self::Usage(_) | Self::UnknownCode { .. } => WRONG_USAGE,
            Self::Read { .. } | Self::Write { .. } | Self::Output { .. } | Self::Export { .. } => INPUT_OUTPUT,
        })
    }
}

impl Outcome {
    /// What a compilation comes to.
    pub(super) fn of(compiled: &Compiled) -> Self {
        match compiled.problems.has_errors() {
            false => Self::Clean,
            true if compiled.settings_are_wrong() => Self::SettingErrors,
            true => Self::SourceErrors,
        }
    }

    pub(super) fn code(self) -> ExitCode {
        ExitCode::from(match self {
            Self::Clean => 0,
            Self::SourceErrors => SOURCE_ERRORS,
            Self::SettingErrors => WRONG_USAGE,
        })
    }
}

const SOURCE_ERRORS: u8 = 1;
/// As clap does for what it refuses.
pub(super) const WRONG_USAGE: u8 = 2;
const INPUT_OUTPUT: u8 = 3;

/// Shown by `--help` and in the manual.
pub(super) const EXIT_CODES: &str = "Exit codes:
  0  no errors (there may be warnings)
  1  the source has errors; nothing is written
  2  wrong usage: an unknown option, size, parameter or code, or a value that a parameter can't take
  3  a file can't be read or written";

impl From<UsageError> for Failure {
    fn from(error: UsageError) -> Self {
        Self::Usage(error)
    }
}

impl From<ExportError> for Failure {
    fn from(error: ExportError) -> Self {
        Self::Export { reason: error.to_string() }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Usage(error) => write!(f, "{error}"),
            Self::UnknownCode { code, near: Some(near) } => write!(f, "no report carries the code {code}. Did you mean {near}?"),
            Self::UnknownCode { code, near: None } => write!(f, "no report carries the code {code}. `lapfell explain` lists all codes."),
            Self::Read { path, reason } => write!(f, "can't read {}: {reason}", path.display()),
            Self::Write { path, reason } => write!(f, "can't write {}: {reason}. Nothing was changed.", path.display()),
            Self::Output { reason } => write!(f, "can't write the output: {reason}"),
            Self::Export { reason } => write!(f, "{reason}"),
        }
    }
}

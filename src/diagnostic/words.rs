//! The words of a report, before it is known who reads them.

pub use crate::quantity::said_example;
use crate::quantity::{Style, read_in};

/// Words that may hold measures in either unit system. They can be read only by saying in which.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Words(String);

impl Words {
    /// The words as one reader reads them.
    #[must_use]
    pub fn read_in(&self, style: Style) -> String {
        read_in(&self.0, style)
    }

    /// Adds a sentence on a line of its own.
    #[must_use]
    pub fn and_line(self, line: &str) -> Self {
        Self(format!("{}\n{line}", self.0))
    }
}

/// How a statement is written.
#[must_use]
pub fn reads(statement: &str) -> String {
    format!("such a line reads: {}", said_example(statement))
}

impl From<String> for Words {
    fn from(words: String) -> Self {
        Self(words)
    }
}

impl From<&str> for Words {
    fn from(words: &str) -> Self {
        Self(words.to_owned())
    }
}

impl From<&String> for Words {
    fn from(words: &String) -> Self {
        Self(words.clone())
    }
}

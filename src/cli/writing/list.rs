//! The list that a build leaves in its folder: the design, and the files.

use super::super::failure::Failure;
use std::collections::BTreeSet;
use std::fmt;
use std::fs;
use std::io::ErrorKind;
use std::path::{Component, Path};

/// Its name.
pub(super) const NAME: &str = ".lapfell-files";
/// How its first line begins; the design's name follows, then a path a line.
const DESIGN: &str = "design ";

/// What a folder's list says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct List {
    design: String,
    names: BTreeSet<String>,
}

impl List {
    /// A list of these files.
    pub(super) fn of<'n>(design: &str, names: impl Iterator<Item = &'n str>) -> Self {
        Self { design: design.to_owned(), names: names.map(str::to_owned).collect() }
    }

    /// The list in a folder; where there is none, an empty one of this design.
    pub(super) fn read(folder: &Path, design: &str) -> Result<Self, Failure> {
        let path = folder.join(NAME);
        let text = match fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == ErrorKind::NotFound => String::new(),
            Err(error) => return Err(Failure::write(&path, error)),
        };
        let (first, rest) = text.split_once('\n').unwrap_or((&text, ""));
        match first.strip_prefix(DESIGN) {
            Some(design) => Ok(Self::of(design, rest.lines().filter(|line| is_plain(line)))),
            None if text.is_empty() => Ok(Self::of(design, std::iter::empty())),
            None => Err(Failure::write(&path, "it is not the list of a build; move it, or name another folder with --out")),
        }
    }

    pub(super) fn design(&self) -> &str {
        &self.design
    }

    /// Refuses a list of another design, in words.
    pub(super) fn is_of(&self, design: &str) -> Result<(), String> {
        if self.design == design {
            return Ok(());
        }
        let other = &self.design;
        Err(format!("it holds a build of the design {other}, and this is {design}; name another folder with --out, or delete that build"))
    }

    /// The files, in order.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.names.iter().map(String::as_str)
    }

    pub(super) fn holds(&self, name: &str) -> bool {
        self.names.contains(name)
    }

    /// Whether any file lies in a folder.
    pub(super) fn reaches_into(&self, folder: &str) -> bool {
        self.names.iter().any(|n| n.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/')))
    }

    /// This list, and more files.
    pub(super) fn with<'n>(&'n self, more: impl Iterator<Item = &'n str>) -> Self {
        Self::of(&self.design, self.names().chain(more))
    }
}

impl fmt::Display for List {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{DESIGN}{}", self.design)?;
        self.names().try_for_each(|name| writeln!(f, "{name}"))
    }
}

/// A line that leads out of the folder is none of ours.
fn is_plain(line: &str) -> bool {
    !line.is_empty() && Path::new(line).components().all(|c| matches!(c, Component::Normal(_)))
}

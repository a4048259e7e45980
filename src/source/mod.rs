//! Source text: files, the spans that point into them, and the trait through
//! which text is read. This room imports nothing of the house.

mod loader;
mod map;

pub use loader::{LoadError, Loaded, Loader};
pub use map::{Position, SourceFile, SourceMap};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which file of the [`SourceMap`] a span points into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct FileId(pub u32);

/// A stretch of source text: a file and two byte offsets, `start <= end`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize, JsonSchema)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// A span over `start..end` of `file`.
    #[must_use]
    pub fn new(file: FileId, start: usize, end: usize) -> Self {
        let clamp = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self { file, start: clamp(start), end: clamp(end.max(start)) }
    }

    /// The smallest span that covers both; `other` must be of the same file, else `self` is returned.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        if self.file != other.file {
            return self;
        }
        Self { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Length in bytes.
    #[must_use]
    pub fn len(self) -> usize {
        (self.end - self.start) as usize
    }

    /// Whether the span covers no text.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.start == self.end
    }
}

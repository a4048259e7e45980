//! Every file read in one compilation, with a line index each.

use super::{FileId, Span};

/// A line and a column, both counted from one; the column counts characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Column in UTF-16 units, from 1, as editors count.
    pub utf16_column: usize,
}

/// One source file.
#[derive(Debug, Clone)]
pub struct SourceFile {
    /// The name shown in reports.
    pub name: String,
    /// Its text.
    pub text: String,
    line_starts: Vec<usize>,
}

impl SourceFile {
    /// The line that a byte lies on, from 1.
    fn line(&self, offset: usize) -> usize {
        self.line_starts.partition_point(|&start| start <= offset).max(1)
    }
}

/// The files of one compilation.
#[derive(Debug, Clone, Default)]
pub struct SourceMap {
    files: Vec<SourceFile>,
}

impl SourceMap {
    /// Adds a file and returns its id.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let text = text.into();
        let line_starts = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        self.files.push(SourceFile { name: name.into(), text, line_starts });
        FileId(u32::try_from(self.files.len() - 1).unwrap_or(u32::MAX))
    }

    /// The file, if the id is of this map.
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }

    /// All files in the order they were read.
    pub fn files(&self) -> impl Iterator<Item = &SourceFile> {
        self.files.iter()
    }

    /// The text under a span; empty when the span is not of this map.
    #[must_use]
    pub fn snippet(&self, span: Span) -> &str {
        self.get(span.file).and_then(|f| f.text.get(span.start as usize..span.end as usize)).unwrap_or("")
    }

    /// Where a span starts.
    #[must_use]
    pub fn position(&self, span: Span) -> Position {
        let Some(file) = self.get(span.file) else {
            return Position { line: 1, column: 1, utf16_column: 1 };
        };
        let offset = (span.start as usize).min(file.text.len());
        let line = file.line(offset);
        let start = file.line_starts.get(line - 1).copied().unwrap_or(0);
        let before = file.text.get(start..offset).unwrap_or("");
        Position { line, column: before.chars().count() + 1, utf16_column: before.encode_utf16().count() + 1 }
    }

    /// `name:line`, as reports and provenance show a place.
    #[must_use]
    pub fn place(&self, span: Span) -> String {
        let (name, line) = self.get(span.file).map_or(("?", 1), |f| (f.name.as_str(), f.line(span.start as usize)));
        format!("{name}:{line}")
    }
}

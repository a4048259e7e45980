//! The text being read, and how places in it become spans.

use crate::source::{FileId, Span};

/// The text of one file without its byte-order mark.
#[derive(Debug, Clone, Copy)]
pub(super) struct Source<'s> {
    /// The file.
    pub(super) file: FileId,
    /// How many bytes of the file stand before the text.
    pub(super) base: usize,
    /// The text.
    pub(super) text: &'s str,
}

impl<'s> Source<'s> {
    /// The text without a byte-order mark.
    pub(super) fn new(file: FileId, whole: &'s str) -> Self {
        let text = whole.strip_prefix('\u{feff}').unwrap_or(whole);
        Self { file, base: whole.len() - text.len(), text }
    }

    /// The span over `start..end` of the text.
    pub(super) fn span(self, start: usize, end: usize) -> Span {
        Span::new(self.file, self.base + start, self.base + end)
    }

    /// The text over `start..end`; empty when that is no stretch of it.
    pub(super) fn slice(self, start: usize, end: usize) -> &'s str {
        self.text.get(start..end).unwrap_or("")
    }

    /// The text from `start` on.
    pub(super) fn rest(self, start: usize) -> &'s str {
        self.text.get(start..).unwrap_or("")
    }

    /// Where the line that holds `at` ends, before its line break.
    pub(super) fn line_end(self, at: usize) -> usize {
        let rest = self.rest(at);
        at + rest.find('\n').map_or(rest.len(), |n| rest.get(..n).unwrap_or("").trim_end_matches('\r').len())
    }
}

//! The lines of a source file that one report shows.
//!
//! Nothing of a source reaches a terminal raw: control characters and marks that turn the reading
//! direction are replaced. Very long lines are cut down to what stands round the label. The lines
//! between are left empty, so that line numbers hold and a large file costs no more than a small one.

use super::super::Label;
use crate::quantity::Style;
use crate::source::{Position, SourceFile, SourceMap, Span};
use miette::{LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};
use std::collections::BTreeSet;
use std::ops::Range;

/// Longer lines are cropped: two rows of a usual terminal.
const LONGEST: usize = 160;
/// What is kept before the label of a cropped line.
const BEFORE: usize = 60;

/// Some lines of one file, ready to show.
pub(super) struct Excerpt {
    name: String,
    text: String,
    /// The labels in `text`, and where they stand in the file.
    labels: Vec<(LabeledSpan, Position)>,
    style: Style,
}

impl Excerpt {
    /// The lines round labels that all lie in `file`; the first label is the main one.
    pub(super) fn new(file: &SourceFile, sources: &SourceMap, labels: &[&Label], style: Style) -> Self {
        let mut excerpt = Self { name: visible(&file.name), text: String::new(), labels: Vec::new(), style };
        let placed: Vec<_> = labels.iter().map(|label| (sources.position(label.span), *label)).collect();
        // miette shows one line before and after each label.
        let shown: BTreeSet<usize> = placed.iter().flat_map(|(p, _)| p.line.saturating_sub(1)..=p.line + 1).collect();
        let last = shown.last().copied().unwrap_or(1);
        let mut start = 0;
        for (index, line) in file.text.split_inclusive('\n').enumerate().take(last) {
            if shown.contains(&(index + 1)) {
                let here = placed.iter().filter(|(p, _)| p.line == index + 1);
                excerpt.add_line(line, start, here);
            }
            excerpt.text.push('\n');
            start += line.len();
        }
        // Labels after the last line break, or in an empty file; miette draws nothing on a line without text.
        let lines = file.text.split_inclusive('\n').count();
        let mut after = placed.iter().filter(|(p, _)| p.line > lines).peekable();
        if after.peek().is_some() {
            let at = excerpt.text.len();
            excerpt.text.push_str(" \n");
            after.for_each(|(position, label)| excerpt.push_label(label, at..at, *position));
        }
        let main = labels.first().map(|l| sources.position(l.span));
        excerpt.labels.sort_by_key(|(_, position)| Some(*position) != main);
        excerpt
    }

    /// miette's form of the labels, the main one marked.
    pub(super) fn labels(&self) -> impl Iterator<Item = LabeledSpan> {
        self.labels.iter().enumerate().map(|(i, (label, _))| {
            let words = label.label().map(str::to_owned);
            if i == 0 { LabeledSpan::new_primary_with_span(words, *label.inner()) } else { label.clone() }
        })
    }

    fn add_line<'a>(&mut self, line: &str, start: usize, labels: impl Iterator<Item = &'a (Position, &'a Label)>) {
        let line = line.trim_end_matches(['\n', '\r']);
        let labels: Vec<_> = labels.collect();
        let spans = labels.iter().map(|(_, label)| within(label.span, start, line.len()));
        let first = spans.clone().map(|r| r.start).min().unwrap_or(0);
        let kept = window(line, first);
        let base = self.text.len() + if kept.start > 0 { '…'.len_utf8() } else { 0 };
        let spans: Vec<_> = spans.collect();
        if kept.start > 0 {
            self.text.push('…');
        }
        self.text.push_str(&visible(line.get(kept.clone()).unwrap_or("")));
        let end = self.text.len();
        if kept.end < line.len() {
            self.text.push('…');
        }
        for ((position, label), span) in labels.into_iter().zip(spans) {
            let from = span.start.clamp(kept.start, kept.end) - kept.start + base;
            let to = span.end.clamp(kept.start, kept.end) - kept.start + base;
            self.push_label(label, from.min(end)..to.min(end), *position);
        }
    }

    fn push_label(&mut self, label: &Label, at: Range<usize>, position: Position) {
        let short: String = label.text.read_in(self.style).chars().take(LONGEST).collect();
        let words = Some(visible(&short)).filter(|w| !w.is_empty());
        self.labels.push((LabeledSpan::new(words, at.start, at.len()), position));
    }
}

impl SourceCode for Excerpt {
    fn read_span<'a>(&'a self, span: &SourceSpan, before: usize, after: usize) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let found = self.text.read_span(span, before, after)?;
        // Asked without context for the heading: columns count characters of the source, not bytes of the excerpt.
        let heading = self.labels.iter().find(|(label, _)| before == 0 && label.inner() == span);
        let column = heading.map_or(found.column(), |(_, position)| position.column.saturating_sub(1));
        let (data, at, line) = (found.data(), *found.span(), found.line());
        // miette's own count starts at the top of the text, and would join places however far apart.
        let count = data.iter().filter(|b| **b == b'\n').count();
        Ok(Box::new(MietteSpanContents::new_named(self.name.clone(), data, at, line, column, count)))
    }
}

/// The part of a span on a line, from the line's start. A construct of many lines is shown by its first.
fn within(span: Span, line_start: usize, line_length: usize) -> Range<usize> {
    let from = (span.start as usize).saturating_sub(line_start).min(line_length);
    let to = (span.end as usize).saturating_sub(line_start).clamp(from, line_length);
    from..to
}

/// What of a line is shown, when something at `first` must be.
fn window(line: &str, first: usize) -> Range<usize> {
    if line.len() <= LONGEST {
        return 0..line.len();
    }
    let from = first.saturating_sub(BEFORE);
    let from = (0..=from).rev().find(|i| line.is_char_boundary(*i)).unwrap_or(0);
    let to = from.saturating_add(LONGEST).min(line.len());
    let to = (0..=to).rev().find(|i| line.is_char_boundary(*i)).unwrap_or(from);
    from..to
}

/// Text without what a terminal would obey. Every replacement is as long in bytes as what it
/// stands for, so that offsets hold.
pub(super) fn visible(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' | '\n' => c,
            '\r' => ' ',
            _ if c.is_control() && c.len_utf8() == 1 => '?',
            _ if c.is_control() => '¿',
            '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' => '\u{fffd}',
            _ => c,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn replacements_keep_offsets() {
        for c in ('\0'..='\u{2fff}').chain(['\u{feff}']) {
            let text = c.to_string();
            let shown = visible(&text);
            assert_eq!(shown.len(), text.len(), "{c:?}");
            assert!(shown.chars().all(|c| !c.is_control() || c == '\t' || c == '\n'), "{c:?}");
        }
    }

    #[test]
    fn windows_keep_characters_whole() {
        let line = "é".repeat(500);
        for first in [0, 1, 99, 500, 998, 1000] {
            let kept = window(&line, first);
            assert!(line.get(kept.clone()).is_some(), "{kept:?}");
            assert!(kept.len() <= LONGEST && kept.start <= first && first <= kept.end, "{kept:?} for {first}");
        }
    }
}

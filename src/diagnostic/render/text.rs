//! Reports for people.

use super::super::{Diagnostic, Edit, Label, Problems, Severity};
use super::Look;
use super::excerpt::{Excerpt, visible};
use crate::quantity::Style;
use crate::source::{SourceMap, Span};
use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, SourceCode};
use std::fmt;

/// More than this at once helps nobody, and drawing thousands takes seconds.
const MOST: usize = 50;
/// Words that quote a source can be as long as it is; a report keeps so many characters of each.
const WORDS: usize = 600;
/// A snippet in a sentence is cut at this many characters.
const SNIPPET: usize = 60;

/// All problems as text, in source order, with a count at the end; nothing when there are none.
#[must_use]
pub fn render_text(problems: &Problems, sources: &SourceMap, look: Look) -> String {
    let all = problems.sorted();
    let theme = if look.colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(look.width)
        .with_links(false)
        .with_context_lines(1)
        .tab_width(4)
        .without_cause_chain()
        .without_syntax_highlighting();
    let mut out = String::new();
    for diagnostic in all.iter().take(MOST) {
        let shown = Shown::new(diagnostic, sources, look.style);
        if handler.render_report(&mut out, &shown).is_err() {
            // Only a span that miette can't read gets here; the words still count.
            out.push_str(&format!("{}\n{}\n", diagnostic.code, visible(&diagnostic.headline.read_in(look.style))));
        }
        out.push('\n');
    }
    if let Some(more) = all.len().checked_sub(MOST).filter(|n| *n > 0) {
        out.push_str(&format!("… and {more} more. Mend these first: some of the rest may go with them.\n\n"));
    }
    if !all.is_empty() {
        out.push_str(&summary(&all));
        out.push('\n');
    }
    without_trailing_spaces(&out)
}

/// Words that are safe to send to a terminal or into a report.
#[must_use]
pub fn plain(text: &str) -> String {
    visible(text)
}

/// `2 errors, 1 warning`
fn summary(all: &[&Diagnostic]) -> String {
    let count = |severity, word: &str| {
        let n = all.iter().filter(|d| d.severity == severity).count();
        (n > 0).then(|| format!("{n} {word}{}", if n == 1 { "" } else { "s" }))
    };
    let parts = [count(Severity::Error, "error"), count(Severity::Warning, "warning")];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn without_trailing_spaces(text: &str) -> String {
    text.lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// A diagnostic as miette wants it.
struct Shown {
    code: &'static str,
    severity: Severity,
    headline: String,
    help: Option<String>,
    excerpt: Option<Excerpt>,
}

impl Shown {
    fn new(diagnostic: &Diagnostic, sources: &SourceMap, style: Style) -> Self {
        let main = diagnostic.labels.first();
        let here = |label: &Label| main.is_some_and(|m| m.span.file == label.span.file);
        let (near, far): (Vec<_>, Vec<_>) = diagnostic.labels.iter().partition(|l| here(l));
        let file = main.and_then(|m| sources.get(m.span.file));
        let mut advice: Vec<String> = diagnostic.help.iter().map(|h| cropped(&h.read_in(style))).collect();
        advice.extend(diagnostic.edit.iter().map(|e| worded(e, main, sources, style)));
        advice.extend(far.into_iter().map(|l| see_also(l, sources, style)));
        let mut headline = cropped(&diagnostic.headline.read_in(style));
        if !diagnostic.sizes.is_empty() {
            let word = if diagnostic.sizes.len() == 1 { "size" } else { "sizes" };
            headline.push_str(&format!(" (in {word} {})", diagnostic.sizes.join(", ")));
        }
        Self {
            code: diagnostic.code,
            severity: diagnostic.severity,
            headline,
            help: Some(advice.join("\n")).filter(|h| !h.is_empty()),
            excerpt: file.map(|f| Excerpt::new(f, sources, &near, style)),
        }
    }
}

/// ``change `12 mm` to `10 mm` ``, with the line where that is not the line shown first.
fn worded(edit: &Edit, main: Option<&Label>, sources: &SourceMap, style: Style) -> String {
    let line = |span: Span| (span.file, sources.position(span).line);
    let place = match main {
        Some(label) if line(label.span) == line(edit.span) => String::new(),
        _ => format!(" ({})", visible(&sources.place(edit.span))),
    };
    let (old, new) = (snippet(sources.snippet(edit.span)), snippet(&edit.replacement.read_in(style)));
    match (old.is_empty(), new.is_empty()) {
        (true, _) => format!("add `{new}`{place}"),
        (false, true) => format!("take out `{old}`{place}"),
        (false, false) => format!("change `{old}` to `{new}`{place}"),
    }
}

fn see_also(label: &Label, sources: &SourceMap, style: Style) -> String {
    let place = sources.place(label.span);
    let said = label.text.read_in(style);
    let words = if said.is_empty() { snippet(sources.snippet(label.span)) } else { said };
    cropped(&format!("see also {place}: {words}"))
}

/// Words that are safe to show, and no more than anyone would read.
fn cropped(text: &str) -> String {
    match text.char_indices().nth(WORDS) {
        Some((end, _)) => visible(text.get(..end).unwrap_or(text)) + " …",
        None => visible(text),
    }
}

/// Source text for a sentence: its first line, not too long.
fn snippet(text: &str) -> String {
    let trimmed = text.trim();
    let line = trimmed.lines().next().unwrap_or("").trim_end();
    let short: String = line.chars().take(SNIPPET).collect();
    let whole = short.len() == trimmed.len();
    visible(&if whole { short } else { format!("{short} …") })
}

impl fmt::Debug for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code)
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.headline)
    }
}

impl std::error::Error for Shown {}

impl miette::Diagnostic for Shown {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.code))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|h| Box::new(h) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.excerpt.as_ref().map(|e| e as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        self.excerpt.as_ref().map(|e| Box::new(e.labels()) as Box<dyn Iterator<Item = LabeledSpan>>)
    }
}

#[cfg(test)]
mod tests;

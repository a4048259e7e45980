//! Reports for programs: a JSON array, an object a problem, in source order.

use super::super::{Diagnostic, Problems, Severity};
use crate::quantity::Style;
use crate::source::{SourceMap, Span};
use serde::Serialize;

#[derive(Serialize)]
struct Report<'a> {
    /// None of what is wrong outside any source.
    code: Option<&'a str>,
    severity: &'static str,
    headline: String,
    labels: Vec<Labelled<'a>>,
    help: Option<String>,
    edit: Option<Change<'a>>,
    sizes: &'a [String],
}

#[derive(Serialize)]
struct Labelled<'a> {
    text: String,
    #[serde(flatten)]
    place: Place<'a>,
}

#[derive(Serialize)]
struct Change<'a> {
    replacement: String,
    #[serde(flatten)]
    place: Place<'a>,
}

/// Lines and columns count from one, byte offsets from nothing.
#[derive(Serialize)]
struct Place<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    utf16_column: usize,
    end_line: usize,
    end_column: usize,
    end_utf16_column: usize,
    start: u32,
    end: u32,
}

impl<'a> Place<'a> {
    fn of(span: Span, sources: &'a SourceMap) -> Self {
        let start = sources.position(span);
        let end = sources.position(Span { start: span.end, ..span });
        Self {
            file: sources.get(span.file).map_or("", |f| f.name.as_str()),
            line: start.line,
            column: start.column,
            utf16_column: start.utf16_column,
            end_line: end.line,
            end_column: end.column,
            end_utf16_column: end.utf16_column,
            start: span.start,
            end: span.end,
        }
    }
}

impl<'a> Report<'a> {
    fn of(diagnostic: &'a Diagnostic, sources: &'a SourceMap, style: Style) -> Self {
        Self {
            code: Some(diagnostic.code),
            severity: match diagnostic.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
            },
            headline: diagnostic.headline.read_in(style),
            labels: diagnostic.labels.iter().map(|l| Labelled { text: l.text.read_in(style), place: Place::of(l.span, sources) }).collect(),
            help: diagnostic.help.as_ref().map(|h| h.read_in(style)),
            edit: diagnostic.edit.as_ref().map(|e| Change { replacement: e.replacement.read_in(style), place: Place::of(e.span, sources) }),
            sizes: &diagnostic.sizes,
        }
    }
}

/// All problems as a JSON array, in source order, worded in the reader's units.
#[must_use]
pub fn render_json(problems: &Problems, sources: &SourceMap, style: Style) -> String {
    let reports: Vec<_> = problems.sorted().into_iter().map(|d| Report::of(d, sources, style)).collect();
    // Strings and whole numbers can't fail to serialise.
    let mut text = serde_json::to_string_pretty(&reports).unwrap_or_else(|_| "[]".to_owned());
    text.push('\n');
    text
}

/// What stops a command whatever the source says, in the same form: one report without a code or a place.
#[must_use]
pub fn failure_json(headline: &str) -> String {
    let report =
        Report { code: None, severity: "error", headline: headline.to_owned(), labels: Vec::new(), help: None, edit: None, sizes: &[] };
    serde_json::to_string_pretty(&[report]).unwrap_or_else(|_| "[]".to_owned()) + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_as_editors_do() {
        let mut sources = SourceMap::default();
        let text = "// ✂ 𝄞\n  cut 2 of skn\n";
        let file = sources.add("a \"b\".fell", text);
        let at = text.find("skn").unwrap();
        let mut problems = Problems::default();
        let span = Span::new(file, at, at + 3);
        problems.push(Diagnostic::error("unknown-name", "no `skn`\u{7}", span, "here").help("h").edit(span, "skin"));
        problems.push(Diagnostic::warning("other", "x", Span::new(file, 7, 7), ""));
        let value: serde_json::Value = serde_json::from_str(&render_json(&problems, &sources, Style::METRIC)).unwrap();
        let first = &value[0]["labels"][0];
        // Before byte 7: `// ` and the scissors, three characters and one of three bytes, so six; a space makes seven.
        assert_eq!((first["line"].as_u64(), first["column"].as_u64(), first["utf16_column"].as_u64()), (Some(1), Some(6), Some(6)));
        let second = &value[1];
        assert_eq!(second["headline"], "no `skn`\u{7}");
        assert_eq!(second["labels"][0]["file"], "a \"b\".fell");
        assert_eq!(second["labels"][0]["line"], 2);
        assert_eq!(second["labels"][0]["column"], 12);
        assert_eq!(second["labels"][0]["end_column"], 15);
        assert_eq!(second["edit"]["replacement"], "skin");
        assert_eq!(second["severity"], "error");
        // After the clef, which takes two UTF-16 units: `// ✂ 𝄞` is six characters and seven units.
        let end = Place::of(Span::new(file, 11, 11), &sources);
        assert_eq!((end.column, end.utf16_column), (7, 8));
    }
}

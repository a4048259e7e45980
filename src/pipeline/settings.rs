//! Parameters set by hand: `name=value`, read by the language's own rules for values.

use super::UsageError;
use crate::check;
use crate::diagnostic::Problems;
use crate::eval::Override;
use crate::source::{SourceMap, Span};
use crate::syntax::{self, ast::Name};
use indexmap::IndexMap;

/// Reads every setting; each becomes a source of its own, so that reports can point into it.
pub(super) fn read(settings: &[String], sources: &mut SourceMap, problems: &mut Problems) -> Result<Vec<Override>, UsageError> {
    let mut named: IndexMap<&str, &String> = IndexMap::new();
    for text in settings {
        let name = text.split('=').next().unwrap_or_default().trim();
        if let Some(before) = named.insert(name, text) {
            return Err(UsageError::SetTwice { name: name.to_owned(), texts: [before.clone(), text.clone()] });
        }
    }
    settings.iter().filter_map(|text| one(text, sources, problems).transpose()).collect()
}

fn one(text: &str, sources: &mut SourceMap, problems: &mut Problems) -> Result<Option<Override>, UsageError> {
    let wrong = || UsageError::NotASetting { text: text.to_owned() };
    let (name, value) = text.split_once('=').ok_or_else(wrong)?;
    if name.trim().is_empty() || value.trim().is_empty() {
        return Err(wrong());
    }
    let file = sources.add("--set", text);
    // The name gives way to spaces, so that the value keeps its place.
    let masked: String = std::iter::repeat_n(' ', name.len() + 1).chain(value.chars()).collect();
    let start = name.len() - name.trim_start().len();
    let name_span = Span::new(file, start, start + name.trim().len());
    let value = syntax::parse_expression(file, &masked, problems);
    let name = Name { text: name.trim().to_owned(), span: name_span };
    if value.as_ref().is_some_and(|value| check::mentions(value, &name.text)) {
        return Err(UsageError::SetsToItself { name: name.text });
    }
    Ok(value.map(|value| Override { name, value, span: Span::new(file, 0, text.len()) }))
}

//! One matter found in several sizes is reported once.

use crate::diagnostic::{Diagnostic, Problems};
use crate::source::Span;
use indexmap::IndexMap;

/// The same code at the same place, counted within a size.
type Key = (&'static str, Vec<Span>, usize);

struct Folded {
    diagnostic: Diagnostic,
    figures_differ: bool,
}

/// What was found in each size, as one list. A matter found in every size names none;
/// where its figures differ, those of the first size stand, and the report says so.
pub(super) fn fold(by_size: Vec<(String, Vec<Diagnostic>)>) -> Problems {
    let total = by_size.len();
    let mut all: IndexMap<Key, Folded> = IndexMap::new();
    for (size, list) in by_size {
        let mut seen: IndexMap<(&'static str, Vec<Span>), usize> = IndexMap::new();
        for mut diagnostic in list {
            let spans: Vec<Span> = diagnostic.labels.iter().map(|l| l.span).collect();
            let nth = seen.entry((diagnostic.code, spans.clone())).and_modify(|n| *n += 1).or_insert(0);
            let key = (diagnostic.code, spans, *nth);
            match all.get_mut(&key) {
                Some(known) => {
                    known.figures_differ |= known.diagnostic.headline != diagnostic.headline;
                    known.diagnostic.sizes.push(size.clone());
                }
                None => {
                    diagnostic.sizes = vec![size.clone()];
                    all.insert(key, Folded { diagnostic, figures_differ: false });
                }
            }
        }
    }
    let mut problems = Problems::default();
    for folded in all.into_values() {
        problems.push(folded.told(total));
    }
    problems
}

impl Folded {
    fn told(self, total: usize) -> Diagnostic {
        let mut diagnostic = self.diagnostic;
        if self.figures_differ {
            let first = diagnostic.sizes.first().cloned().unwrap_or_default();
            let note = format!("The figures are those of size {first}.");
            diagnostic.help = Some(match diagnostic.help {
                Some(help) => help.and_line(&note),
                None => note.into(),
            });
        } else if diagnostic.sizes.len() == total {
            diagnostic.sizes.clear();
        }
        diagnostic
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Words;
    use crate::quantity::Style;
    use crate::source::FileId;

    fn found(headline: &str, at: usize) -> Diagnostic {
        Diagnostic::error("too-long", headline, Span::new(FileId(0), at, at + 1), "")
    }

    fn told(by_size: Vec<(&str, Vec<Diagnostic>)>) -> Vec<(String, Vec<String>, Option<String>)> {
        let read = |words: &Words| words.read_in(Style::METRIC);
        let problems = fold(by_size.into_iter().map(|(n, l)| (n.to_owned(), l)).collect());
        problems.sorted().into_iter().map(|d| (read(&d.headline), d.sizes.clone(), d.help.as_ref().map(read))).collect()
    }

    #[test]
    fn found_everywhere_names_no_size() {
        let out = told(vec![("as-drawn", vec![found("x", 1)]), ("tall", vec![found("x", 1)])]);
        assert_eq!(out, vec![("x".to_owned(), vec![], None)]);
    }

    #[test]
    fn found_in_some_names_them() {
        let out = told(vec![("as-drawn", vec![]), ("tall", vec![found("x", 1)]), ("wide", vec![found("x", 1)])]);
        assert_eq!(out, vec![("x".to_owned(), vec!["tall".to_owned(), "wide".to_owned()], None)]);
    }

    #[test]
    fn other_figures_in_another_size_are_one_matter() {
        let out = told(vec![("short", vec![found("12 mm too long", 1)]), ("tall", vec![found("20 mm too long", 1)])]);
        let sizes = vec!["short".to_owned(), "tall".to_owned()];
        assert_eq!(out, vec![("12 mm too long".to_owned(), sizes, Some("The figures are those of size short.".to_owned()))]);
    }

    #[test]
    fn two_matters_at_one_place_in_one_size_stay_two() {
        let list = || vec![found("left", 1), found("right", 1)];
        let out = told(vec![("short", list()), ("tall", list())]);
        assert_eq!(out.len(), 2);
        assert!(out.iter().all(|(_, sizes, help)| sizes.is_empty() && help.is_none()));
    }
}

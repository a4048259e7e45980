//! The sink that every stage reports into.

use super::{Diagnostic, Severity, Words};
use crate::source::Span;
use indexmap::IndexMap;
use indexmap::map::Entry;

/// What makes two diagnostics one.
type Key = (&'static str, Option<Span>, Words);

/// Everything found so far.
#[derive(Debug, Clone, Default)]
pub struct Problems {
    list: IndexMap<Key, Diagnostic>,
}

impl Problems {
    /// Adds a diagnostic. The same code at the same place with the same words is kept once;
    /// found again in another size, that size is added to it.
    pub fn push(&mut self, diagnostic: impl Into<Diagnostic>) {
        let new = diagnostic.into();
        let key = (new.code, new.labels.first().map(|l| l.span), new.headline.clone());
        match self.list.entry(key) {
            Entry::Occupied(mut old) => {
                let old = old.get_mut();
                for size in new.sizes {
                    if !old.sizes.contains(&size) {
                        old.sizes.push(size);
                    }
                }
            }
            Entry::Vacant(place) => {
                place.insert(new);
            }
        }
    }

    /// Takes over all of another sink.
    pub fn extend(&mut self, other: Self) {
        for d in other.list.into_values() {
            self.push(d);
        }
    }

    /// Marks everything found so far as holding in a size.
    pub fn in_size(&mut self, size: Option<&str>) {
        if let Some(size) = size {
            for d in self.list.values_mut() {
                d.sizes = vec![size.to_owned()];
            }
        }
    }

    /// Whether any is an error.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.list.values().any(|d| d.severity == Severity::Error)
    }

    /// Whether nothing was found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// In source order: by file, then by place, errors before warnings.
    #[must_use]
    pub fn sorted(&self) -> Vec<&Diagnostic> {
        let mut all: Vec<_> = self.list.values().collect();
        all.sort_by_key(|d| (d.labels.first().map(|l| l.span), d.severity, d.code));
        all
    }

    /// Keeps only what the test accepts.
    pub fn retain(&mut self, mut keep: impl FnMut(&Diagnostic) -> bool) {
        self.list.retain(|_, d| keep(d));
    }
}

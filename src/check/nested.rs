//! Items under `when`s: laid flat, said once, said in every case.

use super::checker::Checker;
use super::error::ConstructError;
use super::lift::exclude_each_other;
use crate::source::Span;
use crate::syntax::ast::{ComponentItem, Expr, FinishItem, PanelItem, SeamItem, When};
use indexmap::IndexMap;

/// The `when`s that something stands under: where the condition is, and whether it holds.
pub(super) type Path = Vec<(Span, bool)>;

/// An item that may be a `when` around more of its kind.
pub(super) trait Nested: Sized {
    /// The `when`, if it is one.
    fn when(&self) -> Option<&When<Self>>;
}

macro_rules! nested {
    ($($item:ident),+) => {$(
        impl Nested for $item {
            fn when(&self) -> Option<&When<Self>> {
                if let Self::When(when) = self { Some(when) } else { None }
            }
        }
    )+};
}

nested!(PanelItem, ComponentItem, FinishItem, SeamItem);

/// All items that are no `when`s, with their paths.
pub(super) fn flat<T: Nested>(items: &[T]) -> Vec<(&T, Path)> {
    let mut all = Vec::new();
    lay_flat(items, &mut Path::new(), &mut all);
    all
}

fn lay_flat<'p, T: Nested>(items: &'p [T], path: &mut Path, all: &mut Vec<(&'p T, Path)>) {
    for item in items {
        let Some(when) = item.when() else {
            all.push((item, path.clone()));
            continue;
        };
        for (branch, holds) in [(&when.then, true), (&when.otherwise, false)] {
            path.push((when.condition.span, holds));
            lay_flat(branch, path, all);
            path.pop();
        }
    }
}

/// All conditions, outermost first.
pub(super) fn conditions<T: Nested>(items: &[T]) -> Vec<&Expr> {
    let whens = items.iter().filter_map(Nested::when);
    whens.flat_map(|w| std::iter::once(&w.condition).chain(conditions(&w.then)).chain(conditions(&w.otherwise))).collect()
}

/// In which cases something is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cover {
    /// In none.
    Never,
    /// In some.
    Sometimes,
    /// In all.
    Always,
}

/// In which cases an item of a sort is said.
pub(super) fn cover<T: Nested>(items: &[T], is: &dyn Fn(&T) -> bool) -> Cover {
    let mut found = Cover::Never;
    for item in items {
        let here = match item.when() {
            None if is(item) => Cover::Always,
            None => Cover::Never,
            Some(when) => match (cover(&when.then, is), cover(&when.otherwise, is)) {
                (Cover::Always, Cover::Always) => Cover::Always,
                (Cover::Never, Cover::Never) => Cover::Never,
                _ => Cover::Sometimes,
            },
        };
        found = match (found, here) {
            (Cover::Always, _) | (_, Cover::Always) => Cover::Always,
            (Cover::Never, Cover::Never) => Cover::Never,
            _ => Cover::Sometimes,
        };
    }
    found
}

/// What may be said only once.
#[derive(Debug, Default)]
pub(super) struct Once {
    said: IndexMap<String, Vec<(Span, Path)>>,
}

impl Once {
    /// Notes that something is said; where it was said before, if both may hold.
    pub(super) fn say(&mut self, what: &str, span: Span, path: &Path) -> Option<Span> {
        let before = self.said.entry(what.to_owned()).or_default();
        let other = before.iter().find(|(_, other)| !exclude_each_other(other, path)).map(|(span, _)| *span);
        if other.is_none() {
            before.push((span, path.clone()));
        }
        other
    }

    /// Where something is first said.
    pub(super) fn first(&self, what: &str) -> Option<Span> {
        self.said.get(what).and_then(|all| all.first()).map(|(span, _)| *span)
    }
}

impl Checker<'_> {
    /// Reports what is said a second time.
    pub(super) fn once(&mut self, once: &mut Once, what: &str, span: Span, path: &Path) {
        if let Some(first) = once.say(what, span, path) {
            self.report(ConstructError::SaidTwice { what: what.to_owned(), first, second: span });
        }
    }
}

//! Panels drafted from numbers, against golden values (each with its origin) and hand calculation.

mod corners;
mod cuts;
mod derived;
mod hems;
mod marks;
mod outlines;
mod parts;
mod random;

use super::*;
use crate::diagnostic::{Diagnostic, all_codes, explain};
use crate::geometry::Point;
use crate::quantity::Style;
use crate::source::{FileId, Span};

macro_rules! near {
    ($left:expr, $right:expr, $within:expr) => {{
        let (left, right): (f64, f64) = ($left, $right);
        assert!((left - right).abs() <= $within, "{} is {left}, not {right} within {}", stringify!($left), $within);
    }};
}
pub(crate) use near;

pub(crate) fn pt(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// A span of its own for every number.
pub(crate) fn at(n: usize) -> Span {
    Span::new(FileId(0), n * 10, n * 10 + 5)
}

/// A panel of paths with names.
pub(crate) fn panel(edges: Vec<(&str, Path)>) -> PanelInput {
    let edges = edges
        .into_iter()
        .enumerate()
        .map(|(i, (name, path))| EdgeInput { name: name.to_owned(), path, taken: None, span: at(i) })
        .collect();
    PanelInput { name: "shell".to_owned(), edges, span: at(99), ..PanelInput::default() }
}

/// A panel of straights between points, each named for the one that starts there.
pub(crate) fn straight(corners: &[(&str, f64, f64)]) -> PanelInput {
    let next = corners.iter().cycle().skip(1);
    panel(corners.iter().zip(next).map(|((name, x, y), (_, p, q))| (*name, Path::line(pt(*x, *y), pt(*p, *q)))).collect())
}

pub(crate) fn rectangle(width: f64, height: f64) -> PanelInput {
    straight(&[("foot", 0.0, 0.0), ("right", width, 0.0), ("head", width, height), ("left", 0.0, height)])
}

/// 1300 at the head, 900 at the foot, 2000 long.
pub(crate) fn trapezoid() -> PanelInput {
    straight(&[("foot", 200.0, 0.0), ("right", 1100.0, 0.0), ("head", 1300.0, 2000.0), ("left", 0.0, 2000.0)])
}

impl PanelInput {
    pub(crate) fn allowing(mut self, all: f64) -> Self {
        self.allow_all = Some((all, at(50)));
        self
    }

    pub(crate) fn allowing_on(mut self, edge: &str, width: f64) -> Self {
        self.allow.push((edge.to_owned(), width, at(51)));
        self
    }

    pub(crate) fn hemmed(mut self, edge: &str, width: f64, folds: &[f64]) -> Self {
        self.allow.push((edge.to_owned(), width, at(52)));
        self.folds.push((edge.to_owned(), folds.to_vec(), at(53)));
        self
    }

    pub(crate) fn tapered(mut self, edge: &str, by: f64, over: Along, from: &str) -> Self {
        let n = 60 + self.tapers.len();
        self.tapers.push(TaperInput { edge: (edge.to_owned(), at(n)), by, over, from: (from.to_owned(), at(n)), span: at(n) });
        self
    }

    pub(crate) fn corner(mut self, treatment: CornerTreatment, first: &str, second: &str, by: f64) -> Self {
        let n = 70 + self.corners.len();
        self.corners.push(CornerInput { treatment, edges: (first.to_owned(), second.to_owned(), at(n)), by, span: at(n) });
        self
    }

    pub(crate) fn joined(mut self, first: &str, second: &str, join: CornerJoin) -> Self {
        self.joins.push(JoinInput { edges: (first.to_owned(), second.to_owned(), at(80)), join });
        self
    }

    pub(crate) fn notched(mut self, edge: &str, place: Along, from: Option<&str>) -> Self {
        let n = 85 + self.notches.len();
        let from = from.map(|f| (f.to_owned(), at(n)));
        let (shape, rows, deep) = (crate::ir::NotchShape::Slit, 1, None);
        self.notches.push(NotchInput { edge: (edge.to_owned(), at(n)), at: place, from, shape, rows, deep, span: at(n) });
        self
    }

    /// The last notch of that form, so many side by side and so deep.
    pub(crate) fn formed(mut self, shape: crate::ir::NotchShape, rows: u32, deep: Option<f64>) -> Self {
        let last = self.notches.last_mut().expect("a notch");
        (last.shape, last.rows, last.deep) = (shape, rows, deep);
        self
    }

    pub(crate) fn taking(mut self, kind: TakeKind, edge: &str, place: f64, from: &str, take: f64) -> Self {
        let n = 90 + self.takes.len();
        let from = Some((from.to_owned(), at(n)));
        self.takes.push(TakeInput { kind, edge: (edge.to_owned(), at(n)), at: Along::Length(place), from, take, span: at(n) });
        self
    }

    pub(crate) fn holed(mut self, name: &str, path: Path) -> Self {
        let span = at(95 + self.holes.len());
        self.holes.push(HoleInput { name: name.to_owned(), path, span });
        self
    }
}

/// Drafts what must draft without a word.
pub(crate) fn drafted(input: &PanelInput) -> Drafted {
    let mut problems = Problems::default();
    let drafted = draft(input, &mut problems);
    assert!(problems.is_empty(), "{:?}", problems.sorted());
    drafted.expect("it drafts")
}

/// Drafts what must not, and gives what is said.
pub(crate) fn refused(input: &PanelInput) -> Vec<Diagnostic> {
    let mut problems = Problems::default();
    assert!(draft(input, &mut problems).is_none(), "it drafts");
    assert!(problems.has_errors());
    problems.sorted().into_iter().cloned().collect()
}

/// The only code that is said of what must not draft, and its words.
pub(crate) fn refusal(input: &PanelInput) -> (&'static str, String) {
    let said = refused(input);
    match said.as_slice() {
        [one] => (one.code, one.headline.read_in(Style::METRIC)),
        other => panic!("{other:?}"),
    }
}

pub(crate) fn edge<'d>(drafted: &'d Drafted, name: &str) -> &'d DraftedEdge {
    drafted.edges.iter().find(|e| e.name == name).expect("an edge of that name")
}

pub(crate) fn names(drafted: &Drafted) -> Vec<&str> {
    drafted.edges.iter().map(|e| e.name.as_str()).collect()
}

#[test]
fn every_code_has_a_page() {
    let known = all_codes();
    for code in CODES {
        assert!(known.contains(code), "{code} has no page");
        assert!(explain(code).is_some_and(|page| page.len() > 150), "the page of {code} says too little");
    }
}

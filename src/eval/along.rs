//! Places along the edges of a panel, as its own lines give them.

use super::draft::{self, Along, PanelInput};
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, MAX_REPEAT};
use super::panel::Sayings;
use super::value::{Env, Value};
use crate::diagnostic::Problems;
use crate::geometry::COINCIDENT;
use crate::quantity::{Dimension, Length, said_length};
use crate::source::Span;
use crate::syntax::ast::{self, PanelItem, PlaceKind};
use std::collections::BTreeMap;

/// A place along an edge, and the end it is measured from: none for either end.
pub(crate) type AlongPlace = (Along, Option<(String, Span)>);

impl<'p> Evaluator<'p> {
    /// A length along an edge, or a fraction of it.
    pub(crate) fn along(&mut self, expr: &'p ast::Expr, env: &Env<'p>) -> Eval<Along> {
        let q = self.quantity(expr, env)?;
        self.along_of(Value::Quantity(q), expr.span)
    }

    pub(crate) fn along_of(&mut self, value: Value, span: Span) -> Eval<Along> {
        match value {
            Value::Quantity(q) if q.dimension == Dimension::LENGTH => Ok(Along::Length(q.value)),
            Value::Quantity(q) if q.dimension == Dimension::NUMBER => Ok(Along::Fraction(q.value)),
            other => self.wrong("a length, or a fraction of the edge", &other, span),
        }
    }

    /// Places on an edge as lengths or fractions from an end.
    pub(crate) fn along_places(
        &mut self,
        places: &'p ast::Places,
        edge: &ast::Name,
        env: &Env<'p>,
        said: &Sayings<'p>,
    ) -> Eval<Vec<AlongPlace>> {
        match &places.kind {
            PlaceKind::Middle => Ok(vec![(Along::Fraction(0.5), None)]),
            PlaceKind::Quarters => Ok([0.25, 0.5, 0.75].map(|part| (Along::Fraction(part), None)).to_vec()),
            PlaceKind::List { at, from } => {
                let from = from.as_ref().map(|n| (n.text.clone(), n.span));
                let mut all = Vec::new();
                for expr in at {
                    match self.expr(expr, env)? {
                        Value::List(items) => {
                            for item in items {
                                all.push((self.along_of(item, expr.span)?, from.clone()));
                            }
                        }
                        value => all.push((self.along_of(value, expr.span)?, from.clone())),
                    }
                }
                Ok(all)
            }
            PlaceKind::Evenly(n) => {
                let n = self.count(n, env, 1, MAX_REPEAT)?;
                Ok((1..=n).map(|i| (Along::Fraction(f64::from(i) / f64::from(n + 1)), None)).collect())
            }
            PlaceKind::Every { gap, from } => {
                // Where the edge can't be drafted or is not there, drafting says so.
                let Some(&length) = said.lengths.get(&edge.text) else { return Ok(Vec::new()) };
                let step = self.along(gap, env)?.on(length);
                let n = ((length - COINCIDENT) / step).floor();
                if step <= 0.0 || n < 1.0 {
                    let on = format!("{}.{}", said.input.name, edge.text);
                    return self.fail(EvalError::GapTooWide {
                        on,
                        gap: said_length(Length::mm(step)),
                        room: said_length(Length::mm(length)),
                        span: gap.span,
                    });
                }
                if n > MAX_REPEAT as f64 {
                    let (what, most) = ("places fit on this edge", MAX_REPEAT);
                    return self.fail(EvalError::TooMany { what, count: n, most, span: gap.span });
                }
                let from = Some((from.text.clone(), from.span));
                Ok((1..=n as u32).map(|i| (Along::Length(step * f64::from(i)), from.clone())).collect())
            }
            PlaceKind::Corners(_) => self.fail(EvalError::WrongKind {
                wanted: "places at distances from an end",
                got: "other places".to_owned(),
                span: places.span,
            }),
        }
    }
}

/// Whether a line's places depend on how long its edge comes out.
pub(crate) fn is_spaced(item: &PanelItem) -> bool {
    let places = match item {
        PanelItem::Notch(notch) => &notch.places,
        PanelItem::Dart(dart) => &dart.places,
        PanelItem::Pleat(pleat) => &pleat.places,
        _ => return false,
    };
    matches!(places.kind, PlaceKind::Every { .. })
}

/// Finished lengths of edges, by name. What stands in the way is reported when the piece is drafted.
pub(crate) fn finished_lengths(input: &PanelInput) -> BTreeMap<String, f64> {
    let plain = PanelInput { takes: Vec::new(), notches: Vec::new(), ..input.clone() };
    let layout = draft::draft_all(&plain, &mut Problems::default());
    layout.into_iter().flat_map(|l| l.drawn).map(|e| (e.name, e.length)).collect()
}

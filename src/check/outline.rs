//! Outlines, declared and drawn in place, and calls of them.

use super::checker::{Checker, Env, Wanted};
use super::error::{NameError, OutlineError};
use super::kind::{Kind, Want};
use super::nested::{Once, Path};
use super::program::Entity;
use super::words::PANEL_MEASURES;
use crate::source::Span;
use crate::syntax::ast::{Arguments, Name, OutlineDecl, OutlineEdge, OutlineItem, Stroke, StrokeForm};

/// What an outline is asked for as.
pub(super) const OUTLINE: Wanted = Wanted { bare: "outline", full: "an outline" };

impl<'p> Checker<'p> {
    /// A declared outline, once all signatures are known.
    pub(super) fn outline_decl(&mut self, outline: &'p OutlineDecl, kinds: &[Kind], mut env: Env<'p>) {
        self.bind_parameters(&outline.parameters, kinds, &mut env);
        outline.doc.iter().for_each(|t| self.text(t, &env));
        self.outline_items(&outline.items, &mut env, outline.name.span);
        self.unused_locals(&env);
    }

    /// What stands in an outline; `whole` is where it is reported that something is missing.
    pub(super) fn outline_items(&mut self, items: &'p [OutlineItem], env: &mut Env<'p>, whole: Span) {
        let lets: Vec<_> =
            items.iter().filter_map(|i| if let OutlineItem::Constant(c) = i { Some((c, Path::new())) } else { None }).collect();
        self.bind_lets(&lets, env);
        let (mut once, mut edges) = (Once::default(), Vec::new());
        for item in items {
            match item {
                OutlineItem::Constant(c) => c.doc.iter().for_each(|t| self.text(t, env)),
                OutlineItem::Require(require) => self.require(require, env),
                OutlineItem::Start(at) => {
                    self.once(&mut once, "`start`", at.span, &Path::new());
                    self.expect(at, env, &Kind::Point.into(), "the start of an outline");
                }
                OutlineItem::Edge(edge) => {
                    self.edge_name(&edge.name);
                    if let Some(first) = once.say(&format!("edge {}", edge.name.text), edge.name.span, &Path::new()) {
                        let (name, is) = (edge.name.text.clone(), "an edge");
                        self.report(NameError::Twice { name, first, first_is: is, second: edge.name.span, second_is: is });
                    }
                    edge.strokes.iter().for_each(|s| self.stroke(s, env));
                    edges.push(edge);
                }
            }
        }
        self.begins(&edges);
        self.closes(&edges);
        if edges.is_empty() {
            self.report_missing(OutlineError::NoEdges { span: whole });
        } else if once.first("`start`").is_none() {
            self.report_missing(OutlineError::NoStart { span: whole });
        }
    }

    fn stroke(&mut self, stroke: &'p Stroke, env: &Env<'p>) {
        if let Some(to) = &stroke.to {
            self.expect(to, env, &Kind::Point.into(), "where a stroke ends");
        }
        match &stroke.form {
            StrokeForm::Line | StrokeForm::SmoothArc => {}
            StrokeForm::Arc { rise } => drop(self.expect(rise, env, &Kind::LENGTH.into(), "the rise of an arc")),
            StrokeForm::SmoothCurve { arriving } => drop(self.expect(arriving, env, &Kind::Point.into(), "the second handle of a curve")),
            StrokeForm::Curve { leaving, arriving } => {
                self.expect(leaving, env, &Kind::Point.into(), "the first handle of a curve");
                self.expect(arriving, env, &Kind::Point.into(), "the second handle of a curve");
            }
            StrokeForm::Hung { sag } => drop(self.expect(sag, env, &Want::Along, "the sag of a hung edge")),
        }
    }

    /// The first stroke has none before it to run on from.
    fn begins(&mut self, edges: &[&'p OutlineEdge]) {
        let Some((edge, first)) = edges.first().and_then(|e| Some((e, e.strokes.first()?))) else { return };
        if matches!(first.form, StrokeForm::SmoothArc | StrokeForm::SmoothCurve { .. }) {
            self.report(OutlineError::NothingBefore { edge: edge.name.text.clone(), span: first.span });
        }
    }

    /// Only the last stroke goes back to the start.
    fn closes(&mut self, edges: &[&'p OutlineEdge]) {
        let strokes: Vec<(&OutlineEdge, &Stroke)> = edges.iter().flat_map(|e| e.strokes.iter().map(|s| (*e, s))).collect();
        let Some(((last_edge, last), rest)) = strokes.split_last() else { return };
        for ((edge, stroke), (_, next)) in rest.iter().zip(strokes.iter().skip(1)) {
            if stroke.to.is_none() {
                self.report(OutlineError::ClosedEarly { edge: edge.name.text.clone(), span: stroke.span, next: next.span });
            }
        }
        if let Some(to) = &last.to {
            self.report_missing(OutlineError::Open { edge: last_edge.name.text.clone(), span: last.span, target: Some(to.span) });
        }
    }

    /// A name for an edge that expressions can tell from a panel's measures.
    pub(super) fn edge_name(&mut self, name: &Name) {
        if PANEL_MEASURES.contains(&name.text.as_str()) {
            let why = "a panel's width, height and area are read under these names";
            self.report(NameError::Reserved { name: name.text.clone(), span: name.span, why });
        } else if name.text == "around" {
            let why = "`sew around` already means something";
            self.report(NameError::Reserved { name: name.text.clone(), span: name.span, why });
        }
    }

    /// An outline called after `shape` or `hole`.
    pub(super) fn outline_call(&mut self, outline: &'p Name, arguments: &'p Arguments, env: &Env<'p>) {
        let id = self.must_be(outline, env, OUTLINE, |e| if let Entity::Outline(id) = e { Some(id) } else { None });
        let signature = id.and_then(|id| self.outlines.get(id.index()).cloned().flatten());
        match signature {
            Some(signature) => drop(self.arguments(&signature, arguments, env)),
            None => drop(self.only_look(arguments, env)),
        }
    }
}

//! Walks over trees for the names they mention.

use crate::source::Span;
use crate::syntax::ast::{
    Argument, Arguments, Expr, ExprKind, FinishDecl, FinishItem, Name, OutlineItem, Panel, PanelItem, Parameter, PlaceKind, Places,
    ShapeKind, Stroke, StrokeForm, TextLiteral, TextPart,
};

/// A name mentioned, as the root of a chain of members.
pub(super) struct Mention<'a> {
    /// The name.
    pub root: &'a Name,
    /// The members read of it, `left` and `length` in `shell.left.length`.
    pub members: Vec<&'a str>,
    /// The whole chain.
    pub span: Span,
}

impl Mention<'_> {
    /// As written.
    pub(super) fn text(&self) -> String {
        std::iter::once(self.root.text.as_str()).chain(self.members.iter().copied()).collect::<Vec<_>>().join(".")
    }
}

type Visit<'v, 'a> = &'v mut dyn FnMut(Mention<'a>);

fn name<'a>(name: &'a Name, visit: Visit<'_, 'a>) {
    visit(Mention { root: name, members: Vec::new(), span: name.span });
}

/// Names in an expression.
pub(super) fn expr<'a>(of: &'a Expr, visit: Visit<'_, 'a>) {
    match &of.kind {
        ExprKind::Number(_) | ExprKind::Quantity { .. } | ExprKind::Truth(_) => {}
        ExprKind::Text(literal) => text(literal, visit),
        ExprKind::List(all) => all.iter().for_each(|e| expr(e, visit)),
        ExprKind::Reference(root) => name(root, visit),
        ExprKind::Call { callee, arguments: given } => {
            name(callee, visit);
            arguments(given, visit);
        }
        ExprKind::Member { .. } => member(of, visit),
        ExprKind::Negate(a) | ExprKind::Not(a) | ExprKind::Power(a, _) => expr(a, visit),
        ExprKind::Point(a, b) | ExprKind::Binary { left: a, right: b, .. } => {
            expr(a, visit);
            expr(b, visit);
        }
        ExprKind::Choose { condition, then, otherwise } => {
            expr(condition, visit);
            expr(then, visit);
            expr(otherwise, visit);
        }
    }
}

fn member<'a>(of: &'a Expr, visit: Visit<'_, 'a>) {
    let (mut at, mut members) = (of, Vec::new());
    while let ExprKind::Member { of: inner, member } = &at.kind {
        members.push(member.text.as_str());
        at = inner;
    }
    members.reverse();
    match &at.kind {
        ExprKind::Reference(root) => visit(Mention { root, members, span: of.span }),
        _ => expr(at, visit),
    }
}

/// Names in the holes of a text.
pub(super) fn text<'a>(of: &'a TextLiteral, visit: Visit<'_, 'a>) {
    for part in &of.parts {
        if let TextPart::Hole(hole) = part {
            expr(hole, visit);
        }
    }
}

/// Names in arguments.
pub(super) fn arguments<'a>(of: &'a Arguments, visit: Visit<'_, 'a>) {
    of.items.iter().for_each(|Argument { value, .. }| expr(value, visit));
}

/// Names in the defaults of parameters.
pub(super) fn parameters<'a>(of: &'a [Parameter], visit: Visit<'_, 'a>) {
    of.iter().filter_map(|p| p.default.as_ref()).for_each(|e| expr(e, visit));
}

fn stroke<'a>(of: &'a Stroke, visit: Visit<'_, 'a>) {
    of.to.iter().for_each(|e| expr(e, visit));
    match &of.form {
        StrokeForm::Line | StrokeForm::SmoothArc => {}
        StrokeForm::Arc { rise: a } | StrokeForm::SmoothCurve { arriving: a } | StrokeForm::Hung { sag: a } => expr(a, visit),
        StrokeForm::Curve { leaving, arriving } => {
            expr(leaving, visit);
            expr(arriving, visit);
        }
    }
}

/// Names in an outline.
pub(super) fn outline<'a>(items: &'a [OutlineItem], visit: Visit<'_, 'a>) {
    for item in items {
        match item {
            OutlineItem::Constant(c) => expr(&c.value, visit),
            OutlineItem::Require(r) => {
                expr(&r.condition, visit);
                text(&r.message, visit);
            }
            OutlineItem::Start(at) => expr(at, visit),
            OutlineItem::Edge(edge) => edge.strokes.iter().for_each(|s| stroke(s, visit)),
        }
    }
}

fn places<'a>(of: &'a Places, visit: Visit<'_, 'a>) {
    match &of.kind {
        PlaceKind::Middle | PlaceKind::Quarters | PlaceKind::Corners(_) => {}
        PlaceKind::List { at, .. } => at.iter().for_each(|e| expr(e, visit)),
        PlaceKind::Evenly(e) | PlaceKind::Every { gap: e, .. } => expr(e, visit),
    }
}

/// Names in a panel: its expressions, its outline, its finishes, the panel it takes its shape from.
pub(super) fn panel<'a>(of: &'a Panel, visit: Visit<'_, 'a>) {
    of.title.iter().for_each(|t| text(t, visit));
    panel_items(&of.items, visit);
}

fn panel_items<'a>(items: &'a [PanelItem], visit: Visit<'_, 'a>) {
    for item in items {
        match item {
            PanelItem::Constant(c) => expr(&c.value, visit),
            PanelItem::Require(r) => {
                expr(&r.condition, visit);
                text(&r.message, visit);
            }
            PanelItem::Cut(cut) => {
                expr(&cut.count, visit);
                expr(&cut.of, visit);
            }
            PanelItem::Shape(shape) => match &shape.kind {
                ShapeKind::As(other) => name(other, visit),
                ShapeKind::Strip { panel, wide, .. } => {
                    name(panel, visit);
                    expr(wide, visit);
                }
                ShapeKind::Call { outline, arguments: given } => {
                    name(outline, visit);
                    arguments(given, visit);
                }
                ShapeKind::Drawn(items) => outline(items, visit),
                ShapeKind::Traced(traced) => {
                    expr(&traced.unit, visit);
                    traced.corners.iter().chain(traced.lengths.iter().map(|l| &l.length)).for_each(|e| expr(e, visit));
                }
            },
            PanelItem::Move(moved) => expr(&moved.by, visit),
            PanelItem::Lay(lay) => {
                name(&lay.outline, visit);
                arguments(&lay.arguments, visit);
                if let crate::syntax::ast::LayPlace::Point(at) = &lay.at {
                    expr(at, visit);
                }
            }
            PanelItem::Taper(taper) => {
                expr(&taper.by, visit);
                expr(&taper.over, visit);
            }
            PanelItem::Corner(corner) => expr(&corner.by, visit),
            PanelItem::Hole(hole) => {
                name(&hole.outline, visit);
                arguments(&hole.arguments, visit);
                expr(&hole.at, visit);
            }
            PanelItem::Allow(allow) => expr(&allow.width, visit),
            PanelItem::Finish(finish) => {
                name(&finish.finish.finish, visit);
                arguments(&finish.finish.arguments, visit);
            }
            PanelItem::Grain(grain) => {
                if let crate::syntax::ast::GrainKind::Angle(angle) = &grain.kind {
                    expr(angle, visit);
                }
                grain.within.iter().for_each(|e| expr(e, visit));
            }
            PanelItem::Notch(notch) => {
                places(&notch.places, visit);
                notch.deep.iter().for_each(|e| expr(e, visit));
            }
            PanelItem::Split(split) => {
                expr(&split.from, visit);
                expr(&split.to, visit);
            }
            PanelItem::OnFold(_) => {}
            PanelItem::Mark(mark) => match &mark.kind {
                crate::syntax::ast::MarkKind::Point(at) => expr(at, visit),
                crate::syntax::ast::MarkKind::Drill { at, wide } => {
                    expr(at, visit);
                    wide.iter().for_each(|e| expr(e, visit));
                }
                crate::syntax::ast::MarkKind::Line(from, to) => {
                    expr(from, visit);
                    expr(to, visit);
                }
            },
            PanelItem::Dart(dart) => {
                places(&dart.places, visit);
                expr(&dart.wide, visit);
                expr(&dart.deep, visit);
            }
            PanelItem::Pleat(pleat) => {
                places(&pleat.places, visit);
                expr(&pleat.take, visit);
            }
            PanelItem::When(when) => {
                expr(&when.condition, visit);
                panel_items(&when.then, visit);
                panel_items(&when.otherwise, visit);
            }
            PanelItem::CornerJoin(_) | PanelItem::Raw(_) | PanelItem::Rename(_) => {}
        }
    }
}

/// Names in a finish.
pub(super) fn finish<'a>(of: &'a FinishDecl, visit: Visit<'_, 'a>) {
    parameters(&of.parameters, visit);
    finish_items(&of.items, visit);
}

fn finish_items<'a>(items: &'a [FinishItem], visit: Visit<'_, 'a>) {
    for item in items {
        match item {
            FinishItem::Constant(c) => expr(&c.value, visit),
            FinishItem::Require(r) => expr(&r.condition, visit),
            FinishItem::Allow(e) | FinishItem::Needs(e) => expr(e, visit),
            FinishItem::Folds(all) => all.iter().for_each(|e| expr(e, visit)),
            FinishItem::Stitch { stitch, at, rows } => {
                expr(&stitch.length, visit);
                at.iter().chain(rows).for_each(|e| expr(e, visit));
            }
            FinishItem::Uses(uses) => {
                expr(&uses.amount, visit);
                expr(&uses.of, visit);
            }
            FinishItem::When(when) => {
                expr(&when.condition, visit);
                finish_items(&when.then, visit);
                finish_items(&when.otherwise, visit);
            }
            FinishItem::Encloses | FinishItem::Work(_) | FinishItem::Caution(_) => {}
        }
    }
}

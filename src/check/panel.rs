//! Panels, of a design or of a component.

use super::checker::{Checker, Env, Found, Wanted};
use super::error::{ConstructError, NameError};
use super::goods::Sort;
use super::kind::{Kind, Want};
use super::nested::{Cover, Once, Path, conditions, cover, flat};
use super::panel_facts::PanelFacts;
use super::program::Entity;
use super::words;
use crate::syntax::ast::{
    Cut, Expr, ExprKind, FinishEdges, Grain, GrainKind, Hole, Lay, LayPlace, Mark, MarkKind, Move, Name, Panel, PanelItem, Rename, Require,
    Shape, ShapeKind, Split, Taper, UseFinish,
};

const PANEL: Wanted = Wanted { bare: "panel", full: "a panel" };
const FINISH: Wanted = Wanted { bare: "finish", full: "a finish" };
/// What panels are cut from.
const SHEETS: &[Sort] = &[Sort::Cloth, Sort::Batting];

impl<'p> Checker<'p> {
    /// A panel, of a design or of a component.
    pub(super) fn panel(&mut self, panel: &'p Panel, facts: &PanelFacts, mut env: Env<'p>) {
        panel.title.iter().for_each(|t| self.text(t, &env));
        let items = flat(&panel.items);
        let lets: Vec<_> =
            items.iter().filter_map(|(i, path)| if let PanelItem::Constant(c) = i { Some((c, path.clone())) } else { None }).collect();
        self.bind_lets(&lets, &mut env);
        conditions(&panel.items).into_iter().for_each(|c| self.condition(c, &env));
        let mut once = Once::default();
        for (item, path) in &items {
            self.panel_item(item, path, facts, &env, &mut once);
        }
        let (name, span) = (panel.name.text.clone(), panel.name.span);
        match cover(&panel.items, &|i| matches!(i, PanelItem::Shape(_))) {
            Cover::Always => {}
            found => self.report_missing(ConstructError::NoShape { panel: name.clone(), span, partly: found == Cover::Sometimes }),
        }
        match cover(&panel.items, &|i| matches!(i, PanelItem::Cut(_))) {
            Cover::Always => {}
            found => self.report_missing(ConstructError::NoCut { panel: name, span, partly: found == Cover::Sometimes }),
        }
        self.unused_locals(&env);
    }

    fn panel_item(&mut self, item: &'p PanelItem, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        match item {
            PanelItem::Constant(c) => c.doc.iter().for_each(|t| self.text(t, env)),
            PanelItem::Require(require) => self.require(require, env),
            PanelItem::Cut(cut) => {
                self.once(once, "`cut`", cut.span, path);
                self.cut(cut, env);
            }
            PanelItem::Shape(shape) => {
                self.once(once, "`shape`", shape.span, path);
                self.shape(shape, facts, env);
            }
            PanelItem::Move(moved) => self.move_edges(moved, path, facts, env, once),
            PanelItem::Lay(lay) => self.lay(lay, path, facts, env, once),
            PanelItem::Taper(taper) => self.taper(taper, path, facts, env, once),
            PanelItem::Corner(work) => {
                for corner in &work.corners {
                    self.corner(corner, facts);
                    self.once(once, &corner_words("the treatment of", &corner.first, &corner.second), corner.span, path);
                }
                self.expect(&work.by, env, &Kind::LENGTH.into(), "what a corner is rounded or cut by");
            }
            PanelItem::CornerJoin(join) => {
                for corner in &join.corners {
                    self.corner(corner, facts);
                    self.once(once, &corner_words("the allowance at", &corner.first, &corner.second), corner.span, path);
                }
                self.word(&join.join, "way for two allowances to meet", words::CORNER_JOINS);
            }
            PanelItem::Allow(allow) => {
                self.expect(&allow.width, env, &Kind::LENGTH.into(), "an allowance");
                if allow.edges.is_empty() {
                    self.once(once, "the allowance of all other edges", allow.span, path);
                }
                for edge in &allow.edges {
                    self.edge_of(facts, edge);
                    self.once(once, &format!("the allowance of `{}`", edge.text), edge.span, path);
                }
            }
            other => self.panel_line(other, path, facts, env, once),
        }
    }

    /// The rest of what may stand in a panel.
    fn panel_line(&mut self, item: &'p PanelItem, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        match item {
            PanelItem::Hole(hole) => self.hole(hole, path, env, once),
            PanelItem::Finish(finish) => self.finish_edges(finish, path, facts, env, once),
            PanelItem::Raw(raw) => {
                raw.edges.iter().for_each(|e| self.edge_of(facts, e));
                self.text(&raw.because, env);
            }
            PanelItem::Grain(grain) => {
                self.once(once, "`grain`", grain.span, path);
                self.grain(grain, facts, env);
            }
            PanelItem::Notch(notch) => {
                notch.edges.iter().for_each(|e| self.edge_of(facts, e));
                self.places(&notch.places, env, &[facts]);
                notch.kind.iter().for_each(|k| self.word(k, "form of notch", words::NOTCHES));
                if let Some(deep) = &notch.deep {
                    self.expect(deep, env, &Kind::LENGTH.into(), "the depth of a notch");
                }
            }
            PanelItem::Mark(mark) => self.mark(mark, path, env, once),
            PanelItem::Dart(dart) => {
                self.edge_of(facts, &dart.edge);
                self.places(&dart.places, env, &[facts]);
                self.expect(&dart.wide, env, &Kind::LENGTH.into(), "the width of a dart");
                self.expect(&dart.deep, env, &Kind::LENGTH.into(), "the depth of a dart");
            }
            PanelItem::Pleat(pleat) => {
                self.edge_of(facts, &pleat.edge);
                self.places(&pleat.places, env, &[facts]);
                self.expect(&pleat.take, env, &Kind::LENGTH.into(), "what a pleat takes");
            }
            PanelItem::Rename(rename) => self.rename(rename, path, facts, once),
            PanelItem::Split(split) => self.split(split, path, facts, env, once),
            PanelItem::OnFold(fold) => {
                self.once(once, "the edge on the fold", fold.span, path);
                self.edge_of(facts, &fold.edge);
            }
            _ => {}
        }
    }

    /// A requirement.
    pub(super) fn require(&mut self, require: &'p Require, env: &Env<'p>) {
        self.condition(&require.condition, env);
        self.text(&require.message, env);
    }

    fn cut(&mut self, cut: &'p Cut, env: &Env<'p>) {
        self.expect(&cut.count, env, &Kind::NUMBER.into(), "how many are cut");
        self.expect(&cut.of, env, &Want::Goods(SHEETS), "what a panel is cut from");
    }

    fn shape(&mut self, shape: &'p Shape, facts: &PanelFacts, env: &Env<'p>) {
        match &shape.kind {
            ShapeKind::As(other) => drop(self.must_be(other, env, PANEL, |e| matches!(e, Entity::Panel(_)).then_some(()))),
            ShapeKind::Strip { panel, edge, wide } => {
                self.must_be(panel, env, PANEL, |e| matches!(e, Entity::Panel(_)).then_some(()));
                if let Some(of) = self.facts_named(panel, env) {
                    self.edge_of(&of, edge);
                }
                self.expect(wide, env, &Kind::LENGTH.into(), "the width of a strip");
            }
            ShapeKind::Call { outline, arguments } => self.outline_call(outline, arguments, env),
            ShapeKind::Traced(traced) => self.traced(traced, facts, env),
            ShapeKind::Drawn(items) => {
                let mut inner = env.inner();
                self.outline_items(items, &mut inner, shape.span);
                self.unused_locals(&inner);
            }
        }
    }

    fn move_edges(&mut self, moved: &'p Move, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        self.expect(&moved.by, env, &Kind::LENGTH.into(), "how far edges are moved");
        if moved.edges.is_empty() {
            self.once(once, "how far all other edges are moved", moved.span, path);
        }
        for edge in &moved.edges {
            self.edge_of(facts, edge);
            self.once(once, &format!("how far `{}` is moved", edge.text), edge.span, path);
        }
    }

    fn lay(&mut self, lay: &'p Lay, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        self.edge_name(&lay.name);
        self.once(once, &format!("the outline `{}`", lay.name.text), lay.name.span, path);
        self.outline_call(&lay.outline, &lay.arguments, env);
        match &lay.at {
            LayPlace::Point(at) => drop(self.expect(at, env, &Kind::Point.into(), "where an outline lies")),
            LayPlace::Corner(corner) => self.corner(corner, facts),
        }
    }

    fn taper(&mut self, taper: &'p Taper, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        for edge in &taper.edges {
            self.edge_of(facts, edge);
            self.once(once, &format!("the taper of `{}` from `{}`", edge.text, taper.from.text), edge.span, path);
        }
        self.edge_of(facts, &taper.from);
        self.expect(&taper.by, env, &Kind::LENGTH.into(), "how far a taper draws in");
        self.expect(&taper.over, env, &Want::Along, "the length of a taper");
    }

    fn hole(&mut self, hole: &'p Hole, path: &Path, env: &Env<'p>, once: &mut Once) {
        self.once(once, &format!("hole `{}`", hole.name.text), hole.name.span, path);
        self.outline_call(&hole.outline, &hole.arguments, env);
        self.expect(&hole.at, env, &Kind::Point.into(), "where a hole lies");
    }

    fn finish_edges(&mut self, finish: &'p FinishEdges, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        for edge in &finish.edges {
            self.edge_of(facts, edge);
            self.once(once, &format!("the finish of `{}`", edge.text), edge.span, path);
        }
        self.use_finish(&finish.finish, env);
    }

    /// A finish named after `with`.
    pub(super) fn use_finish(&mut self, finish: &'p UseFinish, env: &Env<'p>) {
        let id = self.must_be(&finish.finish, env, FINISH, |e| if let Entity::Finish(id) = e { Some(id) } else { None });
        match id.and_then(|id| self.finishes.get(id.index()).cloned().flatten()) {
            Some(signature) => drop(self.arguments(&signature, &finish.arguments, env)),
            None => drop(self.only_look(&finish.arguments, env)),
        }
    }

    fn grain(&mut self, grain: &'p Grain, facts: &PanelFacts, env: &Env<'p>) {
        match &grain.kind {
            GrainKind::Along(edge) => self.edge_of(facts, edge),
            GrainKind::Any => {}
            GrainKind::Angle(Expr { kind: ExprKind::Reference(name), .. })
                if facts.has_edge(&name.text) && matches!(self.find(&name.text, env), Found::Nothing) =>
            {
                self.report(NameError::GrainWithoutAlong { edge: name.text.clone(), span: name.span });
            }
            GrainKind::Angle(angle) => drop(self.expect(angle, env, &Kind::ANGLE.into(), "the way the grain runs")),
        }
        if let Some(within) = &grain.within {
            self.expect(within, env, &Kind::ANGLE.into(), "how far the grain may be off");
        }
    }

    fn mark(&mut self, mark: &'p Mark, path: &Path, env: &Env<'p>, once: &mut Once) {
        self.once(once, &format!("mark `{}`", mark.name.text), mark.name.span, path);
        match &mark.kind {
            MarkKind::Point(at) => drop(self.expect(at, env, &Kind::Point.into(), "where a mark lies")),
            MarkKind::Drill { at, wide } => {
                self.expect(at, env, &Kind::Point.into(), "where a mark lies");
                if let Some(wide) = wide {
                    self.expect(wide, env, &Kind::LENGTH.into(), "how wide a hole is drilled");
                }
            }
            MarkKind::Line(from, to) => {
                self.expect(from, env, &Kind::Point.into(), "where a marked line starts");
                self.expect(to, env, &Kind::Point.into(), "where a marked line ends");
            }
        }
        mark.text.iter().for_each(|t| self.text(t, env));
    }

    /// A split: its edge must be new, and what it cuts a piece of another split.
    fn split(&mut self, split: &'p Split, path: &Path, facts: &PanelFacts, env: &Env<'p>, once: &mut Once) {
        self.edge_name(&split.name);
        self.once(once, &format!("the split `{}`", split.name.text), split.name.span, path);
        if facts.taken.contains(&split.name.text) {
            self.report(ConstructError::EdgeTaken { name: split.name.text.clone(), span: split.name.span });
        }
        self.expect(&split.from, env, &Kind::Point.into(), "where a split starts");
        self.expect(&split.to, env, &Kind::Point.into(), "where a split ends");
        match &split.of {
            None => self.once(once, "a split of the whole panel", split.span, path),
            Some(of) => {
                self.once(once, &format!("a split of `{}`", of.text), of.span, path);
                if !facts.parts.contains(&of.text) || split.pieces.iter().any(|p| p.text == of.text) {
                    let known = facts.parts.iter().filter(|p| split.pieces.iter().all(|own| own.text != **p)).cloned().collect();
                    self.report(ConstructError::NoSuchPart { panel: facts.name.clone(), part: of.text.clone(), known, span: of.span });
                }
            }
        }
    }

    /// Renaming: the old name must be the outline's, the new one free.
    fn rename(&mut self, rename: &'p Rename, path: &Path, facts: &PanelFacts, once: &mut Once) {
        self.edge_name(&rename.to);
        self.once(once, &format!("a new name for `{}`", rename.from.text), rename.from.span, path);
        if facts.whole && !facts.drawn.contains(&rename.from.text) {
            let edges: Vec<String> = facts.drawn.iter().cloned().collect();
            let nearest = crate::diagnostic::nearest(&rename.from.text, edges.iter().map(String::as_str)).map(str::to_owned);
            let (panel, edge, span) = (facts.name.clone(), rename.from.text.clone(), rename.from.span);
            self.report(NameError::UnknownEdge { panel, edge, span, nearest, edges });
        } else if facts.is_drawn(&rename.to.text) && rename.to.text != rename.from.text && !facts.renamed.contains(&rename.to.text) {
            self.report(ConstructError::EdgeTaken { name: rename.to.text.clone(), span: rename.to.span });
        }
    }
}

/// The same words whichever edge of a corner is named first.
fn corner_words(what: &str, a: &Name, b: &Name) -> String {
    let (a, b) = if a.text <= b.text { (&a.text, &b.text) } else { (&b.text, &a.text) };
    format!("{what} corner `{a}-{b}`")
}

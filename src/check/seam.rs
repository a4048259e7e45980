//! Seams, quiltings, applied pieces and extra steps.

use super::checker::{Checker, Env, Wanted};
use super::error::SeamError;
use super::kind::{Kind, Want};
use super::nested::{Cover, Once, Path, conditions, cover, flat};
use super::panel_facts::PanelFacts;
use super::program::{Entity, PanelId};
use super::words;
use crate::source::Span;
use crate::syntax::ast::{Apply, EdgeRun, Layer, Name, Opening, Quilt, QuiltItem, Seam, SeamItem, Step};
use std::rc::Rc;

const STEP: Wanted = Wanted { bare: "step, seam or piece", full: "a step, a seam, an attachment, a quilting or a panel" };

/// What a line of a seam belongs to.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Join,
    Stack,
    Either,
}

impl<'p> Checker<'p> {
    /// A seam.
    pub(super) fn seam(&mut self, seam: &'p Seam, env: &Env<'p>) {
        seam.title.iter().for_each(|t| self.text(t, env));
        conditions(&seam.items).into_iter().for_each(|c| self.condition(c, env));
        let items = flat(&seam.items);
        // The layers are looked up once, before what is said of them.
        let mut layers = Vec::new();
        for (item, _) in &items {
            if let SeamItem::Stack { layers: all, .. } = item {
                layers.extend(all.iter().map(|l| (l, self.layer(l, env))));
            }
        }
        let mut once = Once::default();
        for (item, path) in &items {
            let (what, _, span) = describe(item);
            if let Some(span) = span {
                self.once(&mut once, what, span, path);
            }
            self.seam_item(item, &layers, env);
        }
        self.form(seam, &once, &items);
    }

    /// Joins or stacks, and what goes with each.
    fn form(&mut self, seam: &'p Seam, once: &Once, items: &[(&'p SeamItem, Path)]) {
        let (join, stack) = (once.first("`join`"), once.first("`stack`"));
        if let (Some(join), Some(stack)) = (join, stack) {
            let paths = |of: &str| items.iter().filter(|(i, _)| describe(i).0 == of).map(|(_, p)| p.clone()).collect::<Vec<_>>();
            let apart = paths("`join`").iter().all(|a| paths("`stack`").iter().all(|b| super::lift::exclude_each_other(a, b)));
            if !apart {
                self.report(SeamError::TwoForms { join, stack });
            }
            return;
        }
        let (name, span) = (seam.name.text.clone(), seam.name.span);
        match cover(&seam.items, &|i| matches!(i, SeamItem::Join { .. } | SeamItem::Stack { .. })) {
            Cover::Always => {}
            found => self.report_missing(SeamError::NoForm { seam: name.clone(), span, partly: found == Cover::Sometimes }),
        }
        for (item, _) in items {
            match (describe(item), join, stack) {
                ((what, Form::Stack, Some(span)), Some(other), _) => {
                    self.report(SeamError::Stray { what, form: "sews round a stack", span, other });
                }
                ((what, Form::Join, Some(span)), _, Some(other)) => {
                    self.report(SeamError::Stray { what, form: "joins edges", span, other });
                }
                _ => {}
            }
        }
        self.between(items);
        match (once.first("`opening`"), once.first("`close`")) {
            (Some(span), None) => self.report_missing(SeamError::NoClose { span }),
            (None, Some(span)) => self.report_missing(SeamError::NoOpening { span }),
            _ => {}
        }
        if stack.is_none() {
            if let (Some(ease), Some(gather)) = (once.first("`ease`"), once.first("`gather`")) {
                self.report(SeamError::EaseAndGather { ease, gather });
            }
            return;
        }
        if once.first("`sew`").is_none() {
            self.report_missing(SeamError::NotSewn { seam: name, span });
        }
    }

    /// An opening says between which layers it lies where there are more than two, and only in a stack.
    fn between(&mut self, items: &[(&'p SeamItem, Path)]) {
        let stacks = || items.iter().filter_map(|(i, _)| if let SeamItem::Stack { layers, .. } = i { Some(layers) } else { None });
        for opening in items.iter().filter_map(|(i, _)| if let SeamItem::Opening(o) = i { Some(o) } else { None }) {
            match (&opening.between, stacks().max_by_key(|l| l.len())) {
                (None, Some(most)) if most.len() > 2 => {
                    let layers = most.iter().map(|l| l.piece.text.clone()).collect();
                    self.report(SeamError::BetweenWhich { span: opening.span, layers });
                }
                (Some((first, second)), None) => self.report(SeamError::BetweenSides { span: first.span.to(second.span) }),
                _ => {}
            }
        }
    }

    fn seam_item(&mut self, item: &'p SeamItem, layers: &[(&'p Layer, Option<Rc<PanelFacts>>)], env: &Env<'p>) {
        match item {
            SeamItem::Join { first, second, .. } => first.iter().chain(second).for_each(|run| self.edge_run(run, env)),
            SeamItem::Sew { edges, .. } => {
                // Every layer has the same outline; an edge that the first has will do.
                if let Some((_, Some(facts))) = layers.iter().find(|(_, f)| f.is_some()) {
                    edges.iter().for_each(|e| self.edge_of(facts, e));
                }
            }
            SeamItem::Finish(finish) | SeamItem::Close(finish) => self.use_finish(finish, env),
            SeamItem::Stitch(stitch) => self.stitch(stitch, env),
            SeamItem::Ease(e) => drop(self.expect(e, env, &Kind::NUMBER.into(), "the ease")),
            SeamItem::Gather(e) => drop(self.expect(e, env, &Kind::NUMBER.into(), "the gathering")),
            SeamItem::Opening(opening) => self.opening(opening, layers, env),
            SeamItem::After(names, _) | SeamItem::Before(names, _) => names.iter().for_each(|name| self.operation(name, env)),
            SeamItem::Stack { .. } | SeamItem::Together(..) | SeamItem::When(_) => {}
        }
    }

    fn edge_run(&mut self, run: &'p EdgeRun, env: &Env<'p>) {
        let pointed = self.edge_ref(&run.edge, env, true);
        self.needs_edge(&run.edge, pointed.as_ref());
        if let Some(stretch) = &run.stretch {
            let facts: Vec<&PanelFacts> = pointed.iter().map(|p| p.facts.as_ref()).collect();
            self.stretch(stretch, env, &facts);
        }
    }

    fn layer(&mut self, layer: &'p Layer, env: &Env<'p>) -> Option<Rc<PanelFacts>> {
        layer.face.iter().for_each(|w| self.word(w, "way for a face to lie", words::FACE_WAYS));
        self.piece(&layer.piece, env)
    }

    fn opening(&mut self, opening: &'p Opening, layers: &[(&'p Layer, Option<Rc<PanelFacts>>)], env: &Env<'p>) {
        self.expect(&opening.length, env, &Want::Along, "the length of an opening");
        let pointed = self.edge_ref(&opening.edge, env, false);
        self.needs_edge(&opening.edge, pointed.as_ref());
        let facts: Vec<&PanelFacts> = pointed.iter().map(|p| p.facts.as_ref()).collect();
        self.stretch_from(&opening.from, env, &facts);
        for name in opening.between.iter().flat_map(|(a, b)| [a, b]) {
            if self.panel_or_copy(name, env).is_some() && !layers.is_empty() && layers.iter().all(|(l, _)| l.piece.text != name.text) {
                let layers = layers.iter().map(|(l, _)| l.piece.text.clone()).collect();
                self.report(SeamError::NotALayer { name: name.text.clone(), span: name.span, layers });
            }
        }
    }

    /// A piece sewn on the face of another.
    pub(super) fn apply(&mut self, apply: &'p Apply, env: &Env<'p>) {
        // Several of one panel may be applied, a line each: which of them goes where is all one.
        let panel = self.panel_or_copy(&apply.panel, env);
        self.piece(&apply.onto, env);
        self.expect(&apply.at, env, &Kind::Point.into(), "where a piece is applied");
        if let Some(facts) = panel.and_then(|(id, _)| self.panels.get(id.index()).cloned()) {
            apply.edges.iter().for_each(|e| self.edge_of(&facts, e));
        }
        self.use_finish(&apply.finish, env);
    }

    /// A quilting.
    pub(super) fn quilt(&mut self, quilt: &'p Quilt, env: &Env<'p>) {
        let (mut once, path) = (Once::default(), Path::new());
        let mut first_layer = None;
        for item in &quilt.items {
            if let QuiltItem::Layers(layers) = item {
                let span = layers.first().map_or(quilt.name.span, |n| n.span);
                self.once(&mut once, "`layers`", span, &path);
                let pieces: Vec<_> = layers.iter().map(|n| self.piece(n, env)).collect();
                first_layer = first_layer.or(pieces.into_iter().next().flatten());
            }
        }
        let mut quilted = false;
        for item in &quilt.items {
            match item {
                QuiltItem::Layers(_) => {}
                QuiltItem::Lines { edge, every, starting } => {
                    quilted = true;
                    if let Some(facts) = &first_layer {
                        self.edge_of(facts, edge);
                    }
                    self.expect(every, env, &Kind::LENGTH.into(), "the gap between lines");
                    starting.iter().for_each(|e| drop(self.expect(e, env, &Kind::LENGTH.into(), "where the first line lies")));
                }
                QuiltItem::Ties(points) => {
                    quilted = true;
                    points.iter().for_each(|p| drop(self.expect(p, env, &Want::Points, "a tie")));
                }
                QuiltItem::Stitch(stitch) => {
                    self.once(&mut once, "`stitch`", stitch.span, &path);
                    self.stitch(stitch, env);
                }
            }
        }
        let (name, span) = (quilt.name.text.clone(), quilt.name.span);
        if once.first("`layers`").is_none() {
            self.report_missing(SeamError::NoLayers { quilt: name.clone(), span });
        }
        if !quilted {
            self.report_missing(SeamError::NothingQuilted { quilt: name, span });
        }
    }

    /// An extra step.
    pub(super) fn step(&mut self, step: &'p Step, env: &Env<'p>) {
        self.word(&step.kind, "sort of step", words::STEP_KINDS);
        self.text(&step.text, env);
        step.after.iter().chain(&step.before).for_each(|name| self.operation(name, env));
    }

    fn operation(&mut self, name: &Name, env: &Env<'p>) {
        // A copy of a piece is cut with the others.
        let all_copies = |id: PanelId| self.panels.get(id.index()).is_some_and(|p| p.parts.contains(&name.text));
        let parts: Vec<PanelId> = (0..self.panels.len()).map(PanelId::at).filter(|id| all_copies(*id)).collect();
        self.must_be(name, env, STEP, |e| match e {
            Entity::Step(_) | Entity::Seam(_) | Entity::Attach(_) | Entity::Quilt(_) | Entity::Panel(_) => Some(()),
            Entity::Part(id) => parts.contains(&id).then_some(()),
            _ => None,
        });
    }
}

/// What a line of a seam is called, which form it belongs to, and where it stands if it may stand only once.
fn describe(item: &SeamItem) -> (&'static str, Form, Option<Span>) {
    match item {
        SeamItem::Join { span, .. } => ("`join`", Form::Either, Some(*span)),
        SeamItem::Stack { span, .. } => ("`stack`", Form::Either, Some(*span)),
        SeamItem::Sew { span, .. } => ("`sew`", Form::Stack, Some(*span)),
        SeamItem::Together(_, span) => ("how the edges lie", Form::Join, Some(*span)),
        SeamItem::Finish(finish) => ("`with`", Form::Either, Some(finish.span)),
        SeamItem::Stitch(stitch) => ("`stitch`", Form::Either, Some(stitch.span)),
        SeamItem::Ease(e) => ("`ease`", Form::Join, Some(e.span)),
        SeamItem::Gather(e) => ("`gather`", Form::Join, Some(e.span)),
        SeamItem::Opening(opening) => ("`opening`", Form::Either, Some(opening.span)),
        SeamItem::Close(finish) => ("`close`", Form::Either, Some(finish.span)),
        SeamItem::After(_, span) => ("`after`", Form::Either, Some(*span)),
        SeamItem::Before(_, span) => ("`before`", Form::Either, Some(*span)),
        SeamItem::When(_) => ("", Form::Either, None),
    }
}

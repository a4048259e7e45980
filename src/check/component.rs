//! Components and finishes.

use super::checker::{Checker, ComponentFacts, Env};
use super::error::{ConstructError, NameError};
use super::goods::Sort;
use super::kind::{Kind, Want};
use super::nested::{Cover, Once, Path, conditions, cover, flat};
use super::words;
use crate::quantity::Dimension;
use crate::source::Span;
use crate::syntax::ast::{Component, ComponentItem, FinishDecl, FinishItem, Name, Panel, PanelItem, Uses, Work};
use std::rc::Rc;

/// What can be used of a sort of material: a length off the reel, an area of cloth, a mass, or so many.
/// A count of a zipper is its sliders.
const fn amounts(sort: Option<Sort>) -> &'static [Dimension] {
    match sort {
        None => &[Dimension::LENGTH, Dimension::AREA, Dimension::MASS, Dimension::NUMBER],
        Some(Sort::Cloth | Sort::Batting) => &[Dimension::AREA, Dimension::LENGTH, Dimension::MASS],
        Some(Sort::Ribbon | Sort::Webbing | Sort::Cord | Sort::Thread) => &[Dimension::LENGTH, Dimension::MASS],
        Some(Sort::Zipper) => &[Dimension::LENGTH, Dimension::NUMBER],
        Some(Sort::Hardware) => &[Dimension::NUMBER],
    }
}

impl<'p> Checker<'p> {
    /// What `attach` lines need to know of a component.
    pub(super) fn component_facts(&self, component: &'p Component, env: &Env<'p>) -> ComponentFacts {
        let items = flat(&component.items);
        let mut sits = items.iter().filter_map(|(i, _)| if let ComponentItem::Sits(at, _) = i { Some(*at) } else { None });
        let first = sits.next();
        let sits = first.filter(|first| sits.all(|other| other == *first));
        let pair = match cover(&component.items, &|i| matches!(i, ComponentItem::Pair(..))) {
            Cover::Always => Some(true),
            Cover::Never => Some(false),
            Cover::Sometimes => None,
        };
        let panels = items.iter().filter_map(|(i, _)| if let ComponentItem::Panel(p) = i { Some(p) } else { None });
        let panels = panels.map(|p| Rc::new(self.panel_facts(p, env))).collect();
        ComponentFacts { sits, pair, panels }
    }

    /// A declared component.
    pub(super) fn component(&mut self, component: &'p Component, kinds: &[Kind], facts: &ComponentFacts, mut env: Env<'p>) {
        for word in words::COMPONENT_WORDS {
            let kind = if *word == "places" { Kind::NUMBER } else { Kind::LENGTH };
            env.bind(word, kind, None, "a measure of the edge");
        }
        self.bind_parameters(&component.parameters, kinds, &mut env);
        component.doc.iter().for_each(|t| self.text(t, &env));
        let items = flat(&component.items);
        let lets: Vec<_> =
            items.iter().filter_map(|(i, path)| if let ComponentItem::Constant(c) = i { Some((c, path.clone())) } else { None }).collect();
        self.bind_lets(&lets, &mut env);
        conditions(&component.items).into_iter().for_each(|c| self.condition(c, &env));
        let (mut once, mut panels) = (Once::default(), facts.panels.iter());
        for (item, path) in &items {
            if let ComponentItem::Panel(panel) = item {
                self.component_panel(panel, path, panels.next(), &env, &mut once);
            } else {
                self.component_item(item, path, &env, &mut once);
            }
        }
        if once.first("what it sits on").is_none() {
            self.report_missing(ConstructError::NoSits { component: component.name.text.clone(), span: component.name.span });
        }
        self.unused_locals(&env);
    }

    fn component_panel(
        &mut self,
        panel: &'p Panel,
        path: &Path,
        facts: Option<&Rc<super::panel_facts::PanelFacts>>,
        env: &Env<'p>,
        once: &mut Once,
    ) {
        if let Some(first) = once.say(&format!("panel {}", panel.name.text), panel.name.span, path) {
            let (name, is) = (panel.name.text.clone(), "a panel");
            self.report(NameError::Twice { name, first, first_is: is, second: panel.name.span, second_is: is });
        }
        for (item, _) in flat(&panel.items) {
            if let PanelItem::Split(split) = item {
                self.report(ConstructError::SplitInComponent { panel: panel.name.text.clone(), span: split.span });
            }
        }
        if let Some(facts) = facts {
            self.panel(panel, facts, env.inner());
        }
    }

    fn component_item(&mut self, item: &'p ComponentItem, path: &Path, env: &Env<'p>, once: &mut Once) {
        let length = Want::from(Kind::LENGTH);
        match item {
            ComponentItem::Constant(c) => c.doc.iter().for_each(|t| self.text(t, env)),
            ComponentItem::Require(require) => self.require(require, env),
            ComponentItem::Sits(_, span) => self.once(once, "what it sits on", *span, path),
            ComponentItem::Pair(first, second) => {
                self.once(once, "`pair`", first.span.to(second.span), path);
                if first.text == second.text {
                    let (name, is) = (first.text.clone(), "a half");
                    self.report(NameError::Twice { name, first: first.span, first_is: is, second: second.span, second_is: is });
                }
            }
            ComponentItem::Footprint(e) => {
                self.once(once, "`footprint`", e.span, path);
                self.expect(e, env, &length, "a footprint");
            }
            ComponentItem::Depth(e) => {
                self.once(once, "`depth`", e.span, path);
                self.expect(e, env, &length, "a depth");
            }
            ComponentItem::Catches(e) => {
                self.once(once, "`catches`", e.span, path);
                self.expect(e, env, &length, "what a seam catches");
            }
            ComponentItem::Faces(first, second) => {
                self.said_word(once, "`faces`", first, path, "side of a piece", words::SIDES);
                second.iter().for_each(|w| self.word(w, "side of a piece", words::SIDES));
            }
            ComponentItem::Points(word) => self.said_word(once, "`points`", word, path, "way to point", words::POINTING),
            ComponentItem::Needs(word) => {
                self.said_word(once, "`needs`", word, path, "thing that an edge can have for a component", words::NEEDS)
            }
            ComponentItem::Symbol(word) => self.said_word(once, "`symbol`", word, path, "symbol on drawings", words::SYMBOLS),
            ComponentItem::Uses(uses) => self.uses(uses, env),
            ComponentItem::Work(work) => self.bench_work(work, env),
            ComponentItem::Caution(text) => self.text(text, env),
            ComponentItem::Panel(_) | ComponentItem::When(_) => {}
        }
    }

    fn said_word(&mut self, once: &mut Once, what: &str, word: &Name, path: &Path, role: &'static str, known: &'static [&'static str]) {
        self.once(once, what, word.span, path);
        self.word(word, role, known);
    }

    fn uses(&mut self, uses: &'p Uses, env: &Env<'p>) {
        let of = self.expect(&uses.of, env, &Kind::Material(None).into(), "what is used");
        let sort = if let Kind::Material(sort) = of { sort } else { None };
        let role = sort.map_or_else(|| "an amount of material".to_owned(), |s| format!("an amount of {}", s.name()));
        self.expect_declared(&uses.amount, env, &Want::AnyOf(amounts(sort)), &role, Some(uses.of.span));
    }

    fn bench_work(&mut self, work: &'p Work, env: &Env<'p>) {
        self.text(&work.text, env);
        work.stitch.iter().for_each(|s| self.stitch(s, env));
    }

    /// A declared finish.
    pub(super) fn finish(&mut self, finish: &'p FinishDecl, kinds: &[Kind], mut env: Env<'p>) {
        for word in words::FINISH_WORDS {
            env.bind(word, Kind::LENGTH, None, "a measure of the edge");
        }
        self.bind_parameters(&finish.parameters, kinds, &mut env);
        finish.doc.iter().for_each(|t| self.text(t, &env));
        let items = flat(&finish.items);
        let lets: Vec<_> =
            items.iter().filter_map(|(i, path)| if let FinishItem::Constant(c) = i { Some((c, path.clone())) } else { None }).collect();
        self.bind_lets(&lets, &mut env);
        conditions(&finish.items).into_iter().for_each(|c| self.condition(c, &env));
        let mut once = Once::default();
        for (item, path) in &items {
            self.finish_item(item, path, finish.name.span, &env, &mut once);
        }
        self.unused_locals(&env);
    }

    fn finish_item(&mut self, item: &'p FinishItem, path: &Path, whole: Span, env: &Env<'p>, once: &mut Once) {
        let length = Want::from(Kind::LENGTH);
        match item {
            FinishItem::Constant(c) => c.doc.iter().for_each(|t| self.text(t, env)),
            FinishItem::Require(require) => self.require(require, env),
            FinishItem::Allow(e) => {
                self.once(once, "`allow`", e.span, path);
                self.expect(e, env, &length, "an allowance");
            }
            FinishItem::Needs(e) => {
                self.once(once, "`needs`", e.span, path);
                self.expect(e, env, &length, "the allowance a finish needs");
            }
            FinishItem::Folds(all) => {
                self.once(once, "`folds`", all.first().map_or(whole, |e| e.span), path);
                for fold in all {
                    self.expect(fold, env, &length, "where a fold lies");
                }
            }
            FinishItem::Encloses => {}
            FinishItem::Stitch { stitch, at, rows } => {
                self.once(once, "`stitch`", stitch.span, path);
                self.stitch(stitch, env);
                at.iter().for_each(|e| drop(self.expect(e, env, &length, "where a row of stitches lies")));
                rows.iter().for_each(|e| drop(self.expect(e, env, &Kind::NUMBER.into(), "how many rows are sewn")));
            }
            FinishItem::Uses(uses) => self.uses(uses, env),
            FinishItem::Work(work) => self.bench_work(work, env),
            FinishItem::Caution(text) => self.text(text, env),
            FinishItem::When(_) => {}
        }
    }
}

//! What is known of a panel before it is drafted: the names of its edges, of their parts, and of its copies.

use super::checker::{Checker, Env};
use super::error::NameError;
use super::nested::{Path, flat};
use super::program::{Entity, PanelId};
use crate::diagnostic::nearest;
use crate::syntax::ast::{CornerKind, Cut, ExprKind, Lay, MarkKind, Name, OPPOSITE, OutlineItem, Panel, PanelItem, ShapeKind, opposite};
use indexmap::{IndexMap, IndexSet};
use std::rc::Rc;

/// Names on a panel.
#[derive(Debug, Clone, Default)]
pub(super) struct PanelFacts {
    /// Its name.
    pub name: String,
    /// Every name that an edge may have, and whether a maker would list it:
    /// a corner's new edge is known by both orders of its names, and has one of them.
    pub edges: IndexMap<String, bool>,
    /// The ends from which edges are tapered.
    pub tapers: IndexMap<String, IndexSet<String>>,
    /// Corners that make edges of their own, and whether each makes two.
    corners: Vec<(String, String, bool)>,
    /// Lines marked on it, which a seam may join to.
    pub lines: IndexSet<String>,
    /// Edges as the outline names them, before anything is renamed.
    pub drawn: IndexSet<String>,
    /// Names that edges may have though no line gives them: the ends of a strip are named like some edges of the other panel.
    unsure: IndexSet<String>,
    /// Whether outlines are laid on it, which may cut an edge into several bits.
    in_bits: bool,
    /// Which of those are given other names.
    pub renamed: IndexSet<String>,
    /// Whether all its edges are known; what is wrong with its outline is reported once.
    pub whole: bool,
    /// Whether it is drawn as half of a piece cut on the fold, in some case at least.
    pub on_fold: bool,
    /// Pieces that it is split into.
    pub parts: IndexSet<String>,
    /// Split lines called like an edge that is there already.
    pub taken: IndexSet<String>,
    /// Split lines, which are edges of its pieces and not of its outline.
    pub splits: IndexSet<String>,
    /// How many are cut, where that is a plain number.
    pub count: Option<f64>,
    /// Names of its copies.
    pub copies: Vec<String>,
}

impl PanelFacts {
    /// Whether an edge may have this name.
    pub(super) fn has_edge(&self, name: &str) -> bool {
        let bit_of = || name.rsplit_once('_').filter(|(_, n)| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit())).map(|(edge, _)| edge);
        self.edges.contains_key(name) || (self.in_bits && bit_of().is_some_and(|edge| self.edges.contains_key(edge)))
    }

    /// Whether the outline has an edge of this name for certain.
    pub(super) fn is_drawn(&self, name: &str) -> bool {
        self.drawn.contains(name) && !self.unsure.contains(name)
    }

    /// The edges a maker would list.
    pub(super) fn listed(&self) -> Vec<String> {
        self.edges.iter().filter(|(_, listed)| **listed).map(|(name, _)| name.clone()).collect()
    }

    /// The parts that an edge's tapers make: `tapered` after the one, or one after each end.
    fn parts(&self, edge: &str) -> Vec<String> {
        let base = edge.strip_suffix(OPPOSITE).unwrap_or(edge);
        let Some(ends) = self.tapers.get(edge).or_else(|| self.tapers.get(base)) else { return Vec::new() };
        let tapered = |end: &String| if ends.len() == 1 { "tapered".to_owned() } else { format!("tapered_{end}") };
        let mut all: Vec<String> = std::iter::once("straight".to_owned()).chain(ends.iter().map(tapered)).collect();
        if self.on_fold {
            // Those of an edge that runs across the fold, on its other half.
            all.extend(all.clone().iter().map(|part| opposite(part)));
        }
        all
    }

    fn add_edges(&mut self, items: &[OutlineItem]) {
        let names = items.iter().filter_map(|i| if let OutlineItem::Edge(edge) = i { Some(&edge.name.text) } else { None });
        self.edges.extend(names.map(|n| (n.clone(), true)));
    }

    /// Takes over the finished outline of another panel.
    fn add_outline_of(&mut self, other: &Self) {
        // Its splits stay its own.
        let outline = other.edges.iter().filter(|(name, _)| !other.splits.contains(*name));
        self.edges.extend(outline.map(|(n, l)| (n.clone(), *l)));
        self.tapers.extend(other.tapers.iter().map(|(n, t)| (n.clone(), t.clone())));
        self.corners.extend(other.corners.iter().cloned());
        self.unsure.extend(other.unsure.iter().cloned());
        self.in_bits |= other.in_bits;
        self.whole &= other.whole;
    }

    /// Becomes a strip along an edge of another panel.
    fn add_strip_of(&mut self, other: &Self, edge: &str) {
        if let Some(ends) = other.tapers.get(edge) {
            self.tapers.insert("outer".to_owned(), ends.clone());
        }
        self.edges.extend(["outer", "inner"].map(|n| (n.to_owned(), true)));
        for end in other.edges.keys().filter(|n| !self.edges.contains_key(*n)).cloned().collect::<Vec<_>>() {
            self.unsure.insert(end.clone());
            self.edges.insert(end, false);
        }
        // Bits of edges may be its ends; where one edge is at both, these are told apart by numbers too.
        self.in_bits = true;
        self.whole &= other.whole;
    }

    /// A corner makes an edge named after both its edges; which comes first shows when it is drafted.
    fn add_corner(&mut self, a: &str, b: &str, two: bool) {
        for (name, listed) in corner_edges(a, b, two) {
            self.edges.entry(name).or_insert(listed);
        }
        self.corners.push((a.to_owned(), b.to_owned(), two));
    }

    /// What another panel's tapers and corners are called where it is taken over and edges have new names:
    /// each with its new name, and whether it has that in every case.
    fn follow(&mut self, renamed: &IndexMap<String, (String, bool)>) {
        let new = |name: &String| renamed.get(name).map_or_else(|| name.clone(), |(to, _)| to.clone());
        let touched = |name: &String| renamed.contains_key(name);
        let stays = |name: &String| renamed.get(name).is_some_and(|(_, always)| !always);
        for (edge, ends) in std::mem::take(&mut self.tapers) {
            if stays(&edge) || ends.iter().any(stays) {
                self.tapers.entry(edge.clone()).or_default().extend(ends.clone());
            }
            self.tapers.entry(new(&edge)).or_default().extend(ends.iter().map(new));
        }
        let corners = std::mem::take(&mut self.corners);
        for (a, b, two) in corners.iter().filter(|(a, b, _)| (touched(a) || touched(b)) && !stays(a) && !stays(b)) {
            for (name, _) in corner_edges(a, b, *two) {
                self.edges.shift_remove(&name);
            }
        }
        for (a, b, two) in corners {
            if !touched(&a) && !touched(&b) {
                self.corners.push((a, b, two));
                continue;
            }
            if stays(&a) || stays(&b) {
                self.add_corner(&a, &b, two);
            }
            self.add_corner(&new(&a), &new(&b), two);
        }
    }
}

impl<'p> Checker<'p> {
    /// Reads the names on a panel. Reports nothing: what is wrong is reported where the panel is checked.
    pub(super) fn panel_facts(&self, panel: &'p Panel, env: &Env<'p>) -> PanelFacts {
        let mut facts = PanelFacts { name: panel.name.text.clone(), whole: true, ..PanelFacts::default() };
        let (mut cuts, mut shaped) = (Vec::new(), false);
        let all = flat(&panel.items);
        for (item, _) in &all {
            match item {
                PanelItem::Shape(shape) => {
                    shaped = true;
                    match &shape.kind {
                        ShapeKind::Drawn(items) => facts.add_edges(items),
                        ShapeKind::Traced(traced) => facts.edges.extend(traced.edges.iter().map(|e| (e.name.text.clone(), true))),
                        ShapeKind::As(other) => match self.panel_named(other, env) {
                            Some(id) => self.panels.get(id.index()).into_iter().for_each(|p| facts.add_outline_of(p)),
                            None => facts.whole = false,
                        },
                        ShapeKind::Strip { panel: other, edge, .. } => match self.panel_named(other, env) {
                            Some(id) => self.panels.get(id.index()).into_iter().for_each(|p| facts.add_strip_of(p, &edge.text)),
                            None => facts.whole = false,
                        },
                        ShapeKind::Call { outline, .. } => self.add_outline(outline, env, &mut facts),
                    }
                }
                PanelItem::Cut(cut) => cuts.push(cut),
                _ => {}
            }
        }
        facts.whole &= shaped && self.whole;
        facts.drawn = facts.edges.keys().cloned().collect();
        read_copies(&cuts, &mut facts);
        rename(&all, &mut facts);
        all.iter()
            .filter_map(|(i, _)| if let PanelItem::Lay(lay) = i { Some(lay) } else { None })
            .for_each(|l| self.add_laid(l, env, &mut facts));
        all.iter().for_each(|(item, _)| reshape(item, &mut facts));
        all.iter().for_each(|(item, _)| divide(item, &mut facts));
        all.iter().for_each(|(item, _)| lay_open(item, &mut facts));
        facts
    }

    fn panel_named(&self, name: &Name, env: &Env<'p>) -> Option<PanelId> {
        self.program.lookup(env.scope, &name.text).iter().find_map(|e| if let Entity::Panel(id) = e { Some(*id) } else { None })
    }

    /// What is known of a panel, by its name.
    pub(super) fn facts_named(&self, name: &Name, env: &Env<'p>) -> Option<Rc<PanelFacts>> {
        self.panel_named(name, env).and_then(|id| self.panels.get(id.index()).cloned())
    }

    /// The edges that an outline laid on a panel may leave there.
    fn add_laid(&self, lay: &Lay, env: &Env<'p>, facts: &mut PanelFacts) {
        let mut laid = PanelFacts { whole: true, ..PanelFacts::default() };
        self.add_outline(&lay.outline, env, &mut laid);
        let one = laid.edges.len() == 1;
        let name = |edge: &String| if one { lay.name.text.clone() } else { format!("{}_{edge}", lay.name.text) };
        facts.edges.extend(laid.edges.keys().map(|edge| (name(edge), true)));
        facts.in_bits = true;
        facts.whole &= laid.whole;
    }

    fn add_outline(&self, name: &Name, env: &Env<'p>, facts: &mut PanelFacts) {
        let mut found = false;
        for entity in self.program.lookup(env.scope, &name.text) {
            if let Entity::Outline(id) = entity
                && let Some(outline) = self.program.outlines.get(id.index())
            {
                facts.add_edges(&outline.item.items);
                found = true;
            }
        }
        facts.whole &= found;
    }

    /// An edge that a panel must have.
    pub(super) fn edge_of(&mut self, facts: &PanelFacts, edge: &Name) {
        if !facts.whole || facts.has_edge(&edge.text) {
            return;
        }
        let edges = facts.listed();
        let nearest = nearest(&edge.text, facts.edges.keys().map(String::as_str)).map(str::to_owned);
        self.report(NameError::UnknownEdge { panel: facts.name.clone(), edge: edge.text.clone(), span: edge.span, nearest, edges });
    }

    /// A part that an edge of a panel must have.
    pub(super) fn part_of(&mut self, facts: &PanelFacts, edge: &Name, part: &Name) {
        let parts = facts.parts(&edge.text);
        // Which of several tapers are there may depend on a `when`, so `tapered` by itself may be right too.
        let is_part = parts.contains(&part.text) || (!parts.is_empty() && part.text == "tapered");
        if facts.whole && !is_part {
            let nearest = nearest(&part.text, parts.iter().map(String::as_str)).map(str::to_owned);
            let (edge, part, span) = (edge.text.clone(), part.text.clone(), part.span);
            self.report(NameError::UnknownPart { edge, part, span, nearest, parts });
        }
    }

    /// A panel pointed at as one piece of cloth, though it is cut several times.
    pub(super) fn which_copy(&mut self, facts: &Rc<PanelFacts>, name: &Name) {
        if let Some(count) = facts.count.filter(|c| *c > 1.0) {
            let (panel, copies) = (facts.name.clone(), facts.copies.clone());
            self.report(NameError::WhichCopy { panel, span: name.span, count, copies });
        }
    }
}

fn read_copies(cuts: &[&Cut], facts: &mut PanelFacts) {
    if let [cut] = cuts
        && let ExprKind::Number(count) = cut.count.kind
    {
        facts.count = Some(count);
    }
    facts.copies = cuts.iter().flat_map(|c| &c.copies).map(|n| n.text.clone()).collect();
}

/// Every other line of a panel uses the new names, so these are looked at first.
/// Under a `when` the old name may still be there.
fn rename(items: &[(&PanelItem, Path)], facts: &mut PanelFacts) {
    let renames = || items.iter().filter_map(|(i, path)| if let PanelItem::Rename(r) = i { Some((r, path)) } else { None });
    let renamed: IndexMap<_, _> = renames().map(|(r, path)| (r.from.text.clone(), (r.to.text.clone(), path.is_empty()))).collect();
    facts.renamed.extend(renamed.keys().cloned());
    for (from, _) in renamed.iter().filter(|(_, (_, always))| *always) {
        facts.edges.shift_remove(from);
    }
    facts.follow(&renamed);
    facts.edges.extend(renames().map(|(rename, _)| (rename.to.text.clone(), true)));
}

/// Names that the edges made of a corner may have, and whether a maker would list them.
fn corner_edges(a: &str, b: &str, two: bool) -> Vec<(String, bool)> {
    let both = [(format!("{a}_{b}"), true), (format!("{b}_{a}"), false)];
    let ends: &[&str] = if two { &["_1", "_2"] } else { &[""] };
    both.iter().flat_map(|(name, listed)| ends.iter().map(move |end| (format!("{name}{end}"), *listed))).collect()
}

/// What a line of a panel does to the names of its edges.
fn reshape(item: &PanelItem, facts: &mut PanelFacts) {
    match item {
        PanelItem::Corner(work) => {
            for corner in &work.corners {
                facts.add_corner(&corner.first.text, &corner.second.text, work.kind == CornerKind::Box);
            }
        }
        PanelItem::Taper(taper) => {
            for edge in &taper.edges {
                facts.tapers.entry(edge.text.clone()).or_default().insert(taper.from.text.clone());
            }
        }
        PanelItem::Mark(mark) => {
            if matches!(mark.kind, MarkKind::Line(..)) {
                facts.lines.insert(mark.name.text.clone());
            }
        }
        _ => {}
    }
}

/// Edges that splits add, once all others are known.
fn divide(item: &PanelItem, facts: &mut PanelFacts) {
    let PanelItem::Split(split) = item else { return };
    if facts.edges.insert(split.name.text.clone(), true).is_some() {
        facts.taken.insert(split.name.text.clone());
    } else {
        facts.splits.insert(split.name.text.clone());
    }
    facts.parts.extend(split.pieces.iter().map(|p| p.text.clone()));
}

/// Edges and lines that a fold adds, once those of splits are known.
fn lay_open(item: &PanelItem, facts: &mut PanelFacts) {
    let PanelItem::OnFold(_) = item else { return };
    facts.on_fold = true;
    // Which edges end on the fold, and so have no fellow, shows when it is drafted.
    let fellows: Vec<String> = facts.edges.keys().map(|e| opposite(e)).collect();
    facts.edges.extend(fellows.into_iter().map(|e| (e, false)));
    let fellows: Vec<String> = facts.lines.iter().map(|l| opposite(l)).collect();
    facts.lines.extend(fellows);
}

//! Places and stretches on edges, and edges pointed at from outside their panel.

use super::checker::{Checker, Env, Found, Wanted};
use super::error::{NameError, PlaceError};
use super::kind::{Kind, Want};
use super::panel_facts::PanelFacts;
use super::program::{Entity, PanelId};
use super::words;
use crate::diagnostic::nearest;
use crate::source::Span;
use crate::syntax::ast::{Corner, EdgeRef, Expr, ExprKind, Name, PlaceKind, Places, Stretch, StretchFrom};
use std::rc::Rc;

/// What a piece is asked for as.
const PIECE: Wanted = Wanted { bare: "panel", full: "a panel or a copy of one" };

/// An edge pointed at: the piece, and the names after it.
pub(super) struct Pointed<'p> {
    /// The piece.
    pub facts: Rc<PanelFacts>,
    /// The edge, if one is named.
    pub edge: Option<&'p Name>,
}

/// A place that lies on a piece and not on an edge of it.
pub(super) enum PlaceOn {
    /// On an edge.
    Edge,
    /// On the piece; by what it is given.
    Piece(&'static str),
}

impl<'p> Checker<'p> {
    /// Places, on edges of a panel where it is known.
    pub(super) fn places(&mut self, places: &'p Places, env: &Env<'p>, facts: &[&PanelFacts]) -> PlaceOn {
        match &places.kind {
            PlaceKind::Middle | PlaceKind::Quarters => PlaceOn::Edge,
            PlaceKind::Evenly(count) => {
                self.expect(count, env, &Kind::NUMBER.into(), "how many are spaced");
                PlaceOn::Edge
            }
            PlaceKind::Every { gap, from } => {
                self.expect(gap, env, &Want::Along, "the gap between places");
                self.ends(from, facts);
                PlaceOn::Edge
            }
            PlaceKind::Corners(corners) => {
                corners.iter().for_each(|c| facts.iter().for_each(|f| self.corner(c, f)));
                PlaceOn::Piece("a corner")
            }
            PlaceKind::List { at, from: Some(from) } => {
                for one in at {
                    self.expect(one, env, &Want::Distances, "a distance along an edge");
                }
                self.ends(from, facts);
                PlaceOn::Edge
            }
            PlaceKind::List { at, from: None } => self.points(at, env, facts),
        }
    }

    /// Places without an end: points. A distance among them lacks its end.
    fn points(&mut self, at: &'p [Expr], env: &Env<'p>, facts: &[&PanelFacts]) -> PlaceOn {
        if let [Expr { kind: ExprKind::Reference(name), span }] = at
            && matches!(name.text.as_str(), "corner" | "corners")
            && matches!(self.find(&name.text, env), Found::Nothing)
        {
            let edges = facts.first().filter(|f| f.whole).map_or_else(Vec::new, |f| f.listed());
            let next = edges.iter().cycle().skip(1);
            let corners: Vec<String> = edges.iter().zip(next).map(|(a, b)| format!("{a}-{b}")).collect();
            let corners = if edges.len() > 2 { corners } else { vec!["head-left".to_owned()] };
            self.report(PlaceError::Corners { span: *span, corners });
            return PlaceOn::Piece("a corner");
        }
        let (mut distances, mut any) = (None, false);
        for one in at {
            let kind = self.value(one, env);
            any |= kind == Kind::Any;
            if kind != Kind::Any && Want::Distances.takes(&kind) {
                distances = distances.or(Some(one.span));
            } else {
                self.fit(&kind, one, &Want::Points, "a place on the face of a piece", None);
            }
        }
        if let Some(first) = distances {
            let span = at.last().map_or(first, |last| first.to(last.span));
            let ends = facts.first().map_or_else(Vec::new, |f| f.listed());
            self.report(PlaceError::NoEnd { span, ends });
            return PlaceOn::Edge;
        }
        // What is not known may be either.
        if any { PlaceOn::Edge } else { PlaceOn::Piece("a point") }
    }

    fn ends(&mut self, end: &Name, facts: &[&PanelFacts]) {
        facts.iter().for_each(|f| self.edge_of(f, end));
    }

    /// A corner of a panel: both its edges must be there. That they meet is seen when it is drafted.
    pub(super) fn corner(&mut self, corner: &Corner, facts: &PanelFacts) {
        self.edge_of(facts, &corner.first);
        self.edge_of(facts, &corner.second);
    }

    /// A stretch of an edge.
    pub(super) fn stretch(&mut self, stretch: &'p Stretch, env: &Env<'p>, facts: &[&PanelFacts]) {
        self.expect(&stretch.length, env, &Want::Along, "the length of a stretch");
        self.stretch_from(&stretch.from, env, facts);
    }

    /// Where a stretch begins.
    pub(super) fn stretch_from(&mut self, from: &'p StretchFrom, env: &Env<'p>, facts: &[&PanelFacts]) {
        if let StretchFrom::End { starting, end } = from {
            if let Some(starting) = starting {
                self.expect(starting, env, &Want::Along, "where a stretch starts");
            }
            self.ends(end, facts);
        }
    }

    /// A panel or a copy of one, as one piece of cloth.
    pub(super) fn piece(&mut self, name: &Name, env: &Env<'p>) -> Option<Rc<PanelFacts>> {
        let (id, one) = self.panel_or_copy(name, env)?;
        let facts = self.panels.get(id.index()).cloned()?;
        // Which piece of a split panel is meant, and which copy of it, shows when it is drafted.
        if !one && facts.parts.is_empty() {
            self.which_copy(&facts, name);
        }
        Some(facts)
    }

    /// A panel, a copy or a piece of one, and whether it is less than the panel.
    pub(super) fn panel_or_copy(&mut self, name: &Name, env: &Env<'p>) -> Option<(PanelId, bool)> {
        self.must_be(name, env, PIECE, |e| match e {
            Entity::Panel(id) => Some((id, false)),
            Entity::Copy(id, _) | Entity::Part(id) => Some((id, true)),
            _ => None,
        })
    }

    /// An edge pointed at from outside its panel. `lines` lets it be a marked line as well.
    pub(super) fn edge_ref(&mut self, at: &'p EdgeRef, env: &Env<'p>, lines: bool) -> Option<Pointed<'p>> {
        let (first, rest) = at.path.split_first()?;
        if let Found::Entities(all) = self.find(&first.text, env)
            && let Some(Entity::Attach(id)) = all.first()
        {
            return self.piece_of_attachment(*id, first, rest, env);
        }
        let facts = self.piece(first, env)?;
        self.edge_path(facts, rest, lines)
    }

    fn edge_path(&mut self, facts: Rc<PanelFacts>, rest: &'p [Name], lines: bool) -> Option<Pointed<'p>> {
        let Some((edge, parts)) = rest.split_first() else { return Some(Pointed { facts, edge: None }) };
        let is_line = lines && facts.lines.contains(&edge.text);
        if !is_line {
            self.edge_of(&facts, edge);
        }
        match parts {
            [] => {}
            [part] => self.part_of(&facts, edge, part),
            [_, beyond, ..] => self.report(PlaceError::PathTooLong { span: beyond.span }),
        }
        Some(Pointed { facts, edge: Some(edge) })
    }

    /// `casing.strip.head`: an edge of a piece that a component brings.
    fn piece_of_attachment(&mut self, id: super::program::AttachId, name: &Name, rest: &'p [Name], env: &Env<'p>) -> Option<Pointed<'p>> {
        let attach = self.program.attaches.get(id.index())?;
        let component = self.program.lookup(env.scope, &attach.item.component.text).iter().find_map(|e| match e {
            Entity::Component(id) => Some(*id),
            _ => None,
        })?;
        let pieces = self.component_facts.get(component.index()).map(|f| f.panels.clone())?;
        let known: Vec<&str> = pieces.iter().map(|p| p.name.as_str()).collect();
        let Some((piece, rest)) = rest.split_first() else {
            let (is, declared) = ("an attachment", Some(attach.item.name.span));
            let help = known.first().map(|p| format!("it brings a piece of its own: `{}.{p}`", name.text));
            self.report(NameError::WrongThing { name: name.text.clone(), span: name.span, is, wanted: PIECE.full, help, declared });
            return None;
        };
        let Some(facts) = pieces.iter().find(|p| p.name == piece.text).cloned() else {
            let nearest = nearest(&piece.text, known.iter().copied()).map(str::to_owned);
            let (of, known) = (format!("attachment `{}`", name.text), known.iter().map(|k| (*k).to_owned()).collect());
            self.report(NameError::UnknownMember { of, member: piece.text.clone(), span: piece.span, nearest, known });
            return None;
        };
        self.edge_path(facts, rest, true)
    }

    /// Reports a piece pointed at where an edge of it is wanted.
    pub(super) fn needs_edge(&mut self, at: &EdgeRef, pointed: Option<&Pointed<'p>>) {
        if let Some(Pointed { facts, edge: None }) = pointed {
            let edges = if facts.whole { facts.listed() } else { Vec::new() };
            let panel = at.path.first().map_or_else(String::new, |n| n.text.clone());
            self.report(PlaceError::EdgeMissing { panel, span: at.span, edges });
        }
    }

    /// One of a fixed list of words.
    pub(super) fn word(&mut self, word: &Name, role: &'static str, known: &'static [&'static str]) {
        if !known.contains(&word.text.as_str()) {
            let nearest = nearest(&word.text, known.iter().copied()).map(str::to_owned);
            self.report(NameError::UnknownWord { word: word.text.clone(), span: word.span, role, known, nearest });
        }
    }

    /// A stitch.
    pub(super) fn stitch(&mut self, stitch: &'p crate::syntax::ast::Stitch, env: &Env<'p>) {
        if !words::STITCHES.contains(&stitch.kind.text.as_str()) {
            let nearest = nearest(&stitch.kind.text, words::STITCHES.iter().copied()).map(str::to_owned);
            let (word, span) = (stitch.kind.text.clone(), stitch.kind.span);
            self.report(NameError::UnknownStitch { word, span, known: words::STITCHES, nearest });
        }
        self.expect(&stitch.length, env, &Kind::LENGTH.into(), "the length of a stitch");
    }

    /// Reports an edge where a piece alone is wanted.
    pub(super) fn no_edge(&mut self, at: &EdgeRef, pointed: Option<&Pointed<'p>>, what: &'static str) {
        let Some(Pointed { edge: Some(_), .. }) = pointed else { return };
        let panel = at.path.first().map_or_else(String::new, |n| n.text.clone());
        let span: Span = at.span;
        self.report(PlaceError::EdgeNotNeeded { panel, span, what });
    }
}

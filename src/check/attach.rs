//! `attach` lines.

use super::checker::{Checker, Env, Wanted};
use super::error::ConstructError;
use super::panel_facts::PanelFacts;
use super::place::{PlaceOn, Pointed};
use super::program::{ComponentId, Entity};
use super::words;
use crate::source::Span;
use crate::syntax::ast::{Attach, AttachOn, AttachWhere, ComponentItem, EdgeRef, SitsAt};

const COMPONENT: Wanted = Wanted { bare: "component", full: "a component" };

impl<'p> Checker<'p> {
    /// An `attach` line.
    pub(super) fn attach(&mut self, attach: &'p Attach, env: &Env<'p>) {
        let name = &attach.component;
        let id = self.must_be(name, env, COMPONENT, |e| if let Entity::Component(id) = e { Some(id) } else { None });
        match id.and_then(|id| self.components.get(id.index()).cloned().flatten()) {
            Some(signature) => drop(self.arguments(&signature, &attach.arguments, env)),
            None => drop(self.only_look(&attach.arguments, env)),
        }
        if let Some(id) = id {
            self.fits_its_place(attach, id);
        }
        let edges: Vec<&'p EdgeRef> = match &attach.on {
            AttachOn::Each(all) | AttachOn::Row(all) => all.iter().collect(),
            AttachOn::Between(first, second) => vec![first, second],
        };
        let pointed: Vec<(&'p EdgeRef, Option<Pointed<'p>>)> = edges.into_iter().map(|e| (e, self.edge_ref(e, env, false))).collect();
        let facts: Vec<&PanelFacts> = pointed.iter().filter_map(|(_, p)| p.as_ref()).map(|p| p.facts.as_ref()).collect();
        let on = match &attach.where_ {
            AttachWhere::Along => PlaceOn::Edge,
            AttachWhere::Over(stretch) => {
                self.stretch(stretch, env, &facts);
                PlaceOn::Edge
            }
            AttachWhere::At(places) => self.places(places, env, &facts),
        };
        for (edge, pointed) in &pointed {
            match on {
                PlaceOn::Edge => self.needs_edge(edge, pointed.as_ref()),
                PlaceOn::Piece(what) => self.no_edge(edge, pointed.as_ref(), what),
            }
        }
        attach.facing.iter().for_each(|w| self.word(w, "side to face", words::FACING));
        attach.pointing.iter().for_each(|w| self.word(w, "way to point", words::POINTING));
        attach.may_cross.iter().for_each(|w| self.word(w, "thing to lie across", words::MAY_CROSS));
    }

    /// Single places or a stretch, one edge at a time or two: as the component is made for.
    fn fits_its_place(&mut self, attach: &Attach, id: ComponentId) {
        let Some(facts) = self.component_facts.get(id.index()) else { return };
        let (component, span) = (attach.component.text.clone(), attach.component.span);
        let (sits, pair) = (facts.sits, facts.pair);
        match (sits, &attach.where_) {
            (Some(SitsAt::Places), AttachWhere::Along | AttachWhere::Over(_)) => {
                let declared = self.says_sits(id);
                self.report(ConstructError::SitsAtPlaces { component: component.clone(), span, declared });
            }
            (Some(SitsAt::Stretch), AttachWhere::At(_)) => {
                let declared = self.says_sits(id);
                self.report(ConstructError::SitsAlongStretch { component: component.clone(), span, declared });
            }
            _ => {}
        }
        match (pair, &attach.on) {
            (Some(true), AttachOn::Each(_) | AttachOn::Row(_)) => self.report(ConstructError::PairNeedsBetween { component, span }),
            (Some(false), AttachOn::Between(..)) => self.report(ConstructError::NotAPair { component, span }),
            _ => {}
        }
    }

    fn says_sits(&self, id: ComponentId) -> Option<Span> {
        let component = self.program.components.get(id.index())?;
        component.item.items.iter().find_map(|i| if let ComponentItem::Sits(_, span) = i { Some(*span) } else { None })
    }
}

//! Sections 13 and 14: seams, work on the face of a piece, and other steps.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::syntax::ast::{Apply, EdgeRun, Layer, Name, Opening, Quilt, QuiltItem, Seam, SeamItem, Step, Together, When};

impl<'i> Builder<'_> {
    /// `seam ridge "…" { … }`
    pub(super) fn seam(&mut self, pair: Pair<'i, Rule>) -> Built<Seam> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let title = self.maybe_text(&mut parts)?;
        let items = self.one(&mut parts, Rule::seam_block, Self::seam_items)?;
        Ok(Seam { name, title, items, span: parts.span })
    }

    fn seam_items(&mut self, block: Pair<'i, Rule>) -> Built<Vec<SeamItem>> {
        let mut parts = self.parts(block);
        self.all(&mut parts, Rule::seam_item, Self::seam_item)
    }

    /// One thing said in a seam.
    pub(super) fn seam_item(&mut self, pair: Pair<'i, Rule>) -> Built<SeamItem> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let item = parts.any()?;
        let rule = item.as_rule();
        let written = item.as_str();
        let mut inner = self.parts(item.clone());
        Ok(match rule {
            Rule::join => SeamItem::Join { first: self.edge_chain(&mut inner)?, second: self.edge_chain(&mut inner)?, span },
            Rule::stack => SeamItem::Stack { layers: self.all(&mut inner, Rule::layer, Self::layer)?, span },
            Rule::around => SeamItem::Sew { edges: self.maybe_names(&mut inner), span },
            Rule::together => SeamItem::Together(together(written), span),
            Rule::seam_finish => SeamItem::Finish(self.use_finish(&mut inner)?),
            Rule::seam_stitch => SeamItem::Stitch(self.stitch(&mut inner)?),
            Rule::ease => SeamItem::Ease(self.expr(&mut inner)?),
            Rule::gather => SeamItem::Gather(self.expr(&mut inner)?),
            Rule::opening => SeamItem::Opening(self.opening(item)?),
            Rule::close => SeamItem::Close(self.use_finish(&mut inner)?),
            Rule::after => SeamItem::After(self.names(&mut inner)?, span),
            Rule::before => SeamItem::Before(self.names(&mut inner)?, span),
            Rule::seam_when => SeamItem::When(self.seam_when(item)?),
            _ => return Err(Fault::Mismatch(span)),
        })
    }

    fn seam_when(&mut self, pair: Pair<'i, Rule>) -> Built<When<SeamItem>> {
        self.when(pair, Rule::seam_block, Rule::seam_when, Self::seam_items, |b, p| Ok(SeamItem::When(b.seam_when(p)?)))
    }

    fn edge_chain(&mut self, parts: &mut Parts<'i>) -> Built<Vec<EdgeRun>> {
        let mut inner = self.parts(parts.take(Rule::edge_chain)?);
        self.all(&mut inner, Rule::edge_run, Self::edge_run)
    }

    fn edge_run(&mut self, pair: Pair<'i, Rule>) -> Built<EdgeRun> {
        let mut parts = self.parts(pair);
        let edge = self.one(&mut parts, Rule::edge_ref, Self::edge_ref)?;
        let stretch = parts.maybe(Rule::stretch).map(|p| self.stretch(p)).transpose()?;
        Ok(EdgeRun { edge, stretch })
    }

    fn layer(&mut self, pair: Pair<'i, Rule>) -> Built<Layer> {
        let mut parts = self.parts(pair);
        Ok(Layer { piece: self.name(&mut parts)?, face: self.maybe_name(&mut parts) })
    }

    fn opening(&mut self, pair: Pair<'i, Rule>) -> Built<Opening> {
        let mut parts = self.parts(pair);
        let length = self.expr(&mut parts)?;
        let edge = self.one(&mut parts, Rule::edge_ref, Self::edge_ref)?;
        let from = self.stretch_from(&mut parts)?;
        let between = parts.maybe(Rule::opening_between).map(|p| self.opening_between(p)).transpose()?;
        Ok(Opening { length, edge, from, between, span: parts.span })
    }

    fn opening_between(&mut self, pair: Pair<'i, Rule>) -> Built<(Name, Name)> {
        let mut parts = self.parts(pair);
        Ok((self.name(&mut parts)?, self.name(&mut parts)?))
    }

    /// `apply pocket on outer at (x, y) sewing left with edgestitch()`
    pub(super) fn apply(&mut self, pair: Pair<'i, Rule>) -> Built<Apply> {
        let mut parts = self.parts(pair);
        let panel = self.name(&mut parts)?;
        let onto = self.name(&mut parts)?;
        let at = self.expr(&mut parts)?;
        let edges = self.names(&mut parts)?;
        let finish = self.use_finish(&mut parts)?;
        Ok(Apply { panel, onto, at, edges, finish, span: parts.span })
    }

    /// `quilt hold { … }`
    pub(super) fn quilt(&mut self, pair: Pair<'i, Rule>) -> Built<Quilt> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let items = self.all(&mut parts, Rule::quilt_item, Self::quilt_item)?;
        Ok(Quilt { name, items, span: parts.span })
    }

    /// One thing said in a quilt.
    pub(super) fn quilt_item(&mut self, pair: Pair<'i, Rule>) -> Built<QuiltItem> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let item = parts.any()?;
        let rule = item.as_rule();
        let mut inner = self.parts(item);
        Ok(match rule {
            Rule::quilt_layers => QuiltItem::Layers(self.names(&mut inner)?),
            Rule::quilt_lines => {
                QuiltItem::Lines { edge: self.name(&mut inner)?, every: self.expr(&mut inner)?, starting: self.maybe_expr(&mut inner)? }
            }
            Rule::quilt_ties => QuiltItem::Ties(self.all_exprs(&mut inner)?),
            Rule::seam_stitch => QuiltItem::Stitch(self.stitch(&mut inner)?),
            _ => return Err(Fault::Mismatch(span)),
        })
    }

    /// `step press_open press "…" after ridge before hems`
    pub(super) fn step(&mut self, pair: Pair<'i, Rule>) -> Built<Step> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let kind = self.name(&mut parts)?;
        let text = self.text(&mut parts)?;
        let after = self.other_steps(&mut parts, Rule::after);
        let before = self.other_steps(&mut parts, Rule::before);
        Ok(Step { name, kind, text, after, before, span: parts.span })
    }

    fn other_steps(&mut self, parts: &mut Parts<'i>, rule: Rule) -> Vec<crate::syntax::ast::Name> {
        parts.maybe(rule).map_or_else(Vec::new, |list| {
            let mut list = self.parts(list);
            self.maybe_names(&mut list)
        })
    }
}

fn together(written: &str) -> Together {
    if written.starts_with("faces") {
        Together::Faces
    } else if written.starts_with("backs") {
        Together::Backs
    } else {
        Together::Lapped
    }
}

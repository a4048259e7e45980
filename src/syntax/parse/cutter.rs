//! Section 15: cutters, and what is cut with which.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault};
use super::grammar::Rule;
use crate::syntax::ast::{CutWith, Cutter, CutterItem, Pass};

impl<'i> Builder<'_> {
    /// `cutter bench_laser is laser "…" { … }`
    pub(super) fn cutter(&mut self, pair: Pair<'i, Rule>) -> Built<Cutter> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let kind = self.name(&mut parts)?;
        let title = self.maybe_text(&mut parts)?;
        let (mut settings, mut passes) = (Vec::new(), Vec::new());
        for item in self.all(&mut parts, Rule::cutter_item, Self::cutter_item)? {
            match item {
                CutterItem::Setting(setting) => settings.push(setting),
                CutterItem::Pass(pass) => passes.push(pass),
            }
        }
        Ok(Cutter { name, kind, title, settings, passes, span: parts.span })
    }

    /// One thing said of a cutter.
    pub(super) fn cutter_item(&mut self, pair: Pair<'i, Rule>) -> Built<CutterItem> {
        let mut parts = self.parts(pair);
        let inner = parts.any()?;
        Ok(match inner.as_rule() {
            Rule::lines_drawn => CutterItem::Pass(self.pass(inner, false)?),
            Rule::lines_cut => CutterItem::Pass(self.pass(inner, true)?),
            Rule::setting => CutterItem::Setting(self.setting(inner)?),
            _ => return Err(Fault::Mismatch(parts.span)),
        })
    }

    fn pass(&mut self, pair: Pair<'i, Rule>, cuts: bool) -> Built<Pass> {
        let mut parts = self.parts(pair);
        let lines = self.names(&mut parts)?;
        let mut on = self.parts(parts.take(Rule::on_layer)?);
        let layer = self.text(&mut on)?;
        let colour = self.maybe_expr(&mut on)?;
        Ok(Pass { cuts, lines, layer, colour, span: parts.span })
    }

    /// `cut skin, lining with bench_laser`
    pub(super) fn cut_with(&mut self, pair: Pair<'i, Rule>) -> Built<CutWith> {
        let mut parts = self.parts(pair);
        let mut materials = vec![self.expr(&mut parts)?];
        while let Some(more) = self.maybe_expr(&mut parts)? {
            materials.push(more);
        }
        let cutter = self.name(&mut parts)?;
        Ok(CutWith { materials, cutter, span: parts.span })
    }
}

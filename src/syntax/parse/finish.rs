//! Section 12: finishes, and where they are used.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault, Parts};
use super::grammar::Rule;
use crate::syntax::ast::{Expr, FinishDecl, FinishItem, UseFinish, When};

impl<'i> Builder<'_> {
    /// `finish double_hem(…) "…" { … }`
    pub(super) fn finish(&mut self, pair: Pair<'i, Rule>) -> Built<FinishDecl> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let parameters = self.parameters(&mut parts)?;
        let doc = self.maybe_text(&mut parts)?;
        let items = self.one(&mut parts, Rule::finish_block, Self::finish_items)?;
        Ok(FinishDecl { name, parameters, doc, items, span: parts.span })
    }

    fn finish_items(&mut self, block: Pair<'i, Rule>) -> Built<Vec<FinishItem>> {
        let mut parts = self.parts(block);
        self.all(&mut parts, Rule::finish_item, Self::finish_item)
    }

    /// One thing said in a finish.
    pub(super) fn finish_item(&mut self, pair: Pair<'i, Rule>) -> Built<FinishItem> {
        let mut parts = self.parts(pair);
        let item = parts.any()?;
        let rule = item.as_rule();
        let mut inner = self.parts(item.clone());
        Ok(match rule {
            Rule::constant => FinishItem::Constant(self.constant(item)?),
            Rule::require => FinishItem::Require(self.require(item)?),
            Rule::finish_allow => FinishItem::Allow(self.expr(&mut inner)?),
            Rule::finish_needs => FinishItem::Needs(self.expr(&mut inner)?),
            Rule::folds => FinishItem::Folds(self.all_exprs(&mut inner)?),
            Rule::encloses => FinishItem::Encloses,
            Rule::finish_stitch => self.finish_stitch(&mut inner)?,
            Rule::uses => FinishItem::Uses(self.uses(item)?),
            Rule::work => FinishItem::Work(self.work(item)?),
            Rule::caution => FinishItem::Caution(self.caution(item)?),
            Rule::finish_when => FinishItem::When(self.finish_when(item)?),
            _ => return Err(Fault::Mismatch(parts.span)),
        })
    }

    fn finish_when(&mut self, pair: Pair<'i, Rule>) -> Built<When<FinishItem>> {
        self.when(pair, Rule::finish_block, Rule::finish_when, Self::finish_items, |b, p| Ok(FinishItem::When(b.finish_when(p)?)))
    }

    fn finish_stitch(&mut self, parts: &mut Parts<'i>) -> Built<FinishItem> {
        let stitch = self.stitch(parts)?;
        let at = self.maybe_expr(parts)?;
        let rows: Option<Expr> = match parts.maybe(Rule::rows) {
            Some(rows) => Some(self.expr(&mut self.parts(rows))?),
            None => None,
        };
        Ok(FinishItem::Stitch { stitch, at, rows })
    }

    /// The next part, `double_hem(width: 2 cm)`.
    pub(super) fn use_finish(&mut self, parts: &mut Parts<'i>) -> Built<UseFinish> {
        let mut inner = self.parts(parts.take(Rule::use_finish)?);
        Ok(UseFinish { finish: self.name(&mut inner)?, arguments: self.arguments(&mut inner)?, span: inner.span })
    }
}

//! Section 8: panels.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault};
use super::grammar::Rule;
use crate::syntax::ast::{
    Allow, CornerJoin, CornerKind, CornerWork, Cut, Dart, FinishEdges, Grain, GrainKind, Hole, Lay, LayKind, LayPlace, Mark, MarkKind,
    Move, Notch, OnFold, Panel, PanelItem, Pleat, Raw, Rename, Shape, ShapeKind, Split, Taper, When,
};

impl<'i> Builder<'_> {
    /// `panel shell "…" { … }`
    pub(super) fn panel(&mut self, pair: Pair<'i, Rule>) -> Built<Panel> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let title = self.maybe_text(&mut parts)?;
        let items = self.one(&mut parts, Rule::panel_block, Self::panel_items)?;
        Ok(Panel { name, title, items, span: parts.span })
    }

    fn panel_items(&mut self, block: Pair<'i, Rule>) -> Built<Vec<PanelItem>> {
        let mut parts = self.parts(block);
        self.all(&mut parts, Rule::panel_item, Self::panel_item)
    }

    /// One thing said in a panel.
    pub(super) fn panel_item(&mut self, pair: Pair<'i, Rule>) -> Built<PanelItem> {
        let mut parts = self.parts(pair);
        let inner = parts.any()?;
        Ok(match inner.as_rule() {
            Rule::constant => PanelItem::Constant(self.constant(inner)?),
            Rule::require => PanelItem::Require(self.require(inner)?),
            Rule::cut_stmt => PanelItem::Cut(self.cut(inner)?),
            Rule::shape_stmt => PanelItem::Shape(self.shape(inner)?),
            Rule::inset_stmt => PanelItem::Move(self.move_edges(inner, false)?),
            Rule::outset_stmt => PanelItem::Move(self.move_edges(inner, true)?),
            Rule::add_stmt => PanelItem::Lay(self.lay(inner, LayKind::Add)?),
            Rule::keep_stmt => PanelItem::Lay(self.lay(inner, LayKind::Keep)?),
            Rule::remove_stmt => PanelItem::Lay(self.lay(inner, LayKind::Remove)?),
            Rule::taper_stmt => PanelItem::Taper(self.taper(inner)?),
            Rule::corner_stmt => self.corner_stmt(inner)?,
            Rule::hole_stmt => PanelItem::Hole(self.hole(inner)?),
            Rule::allow_stmt => PanelItem::Allow(self.allow(inner)?),
            Rule::finish_stmt => PanelItem::Finish(self.finish_edges(inner)?),
            Rule::raw_stmt => PanelItem::Raw(self.raw(inner)?),
            Rule::grain_stmt => PanelItem::Grain(self.grain(inner)?),
            Rule::notch_stmt => PanelItem::Notch(self.notch(inner)?),
            Rule::mark_stmt => PanelItem::Mark(self.mark(inner)?),
            Rule::dart_stmt => PanelItem::Dart(self.dart(inner)?),
            Rule::pleat_stmt => PanelItem::Pleat(self.pleat(inner)?),
            Rule::rename_stmt => PanelItem::Rename(self.rename(inner)?),
            Rule::split_stmt => PanelItem::Split(self.split(inner)?),
            Rule::fold_stmt => PanelItem::OnFold(self.on_fold(inner)?),
            Rule::panel_when => PanelItem::When(self.panel_when(inner)?),
            _ => return Err(Fault::Mismatch(parts.span)),
        })
    }

    fn panel_when(&mut self, pair: Pair<'i, Rule>) -> Built<When<PanelItem>> {
        self.when(pair, Rule::panel_block, Rule::panel_when, Self::panel_items, |b, p| Ok(PanelItem::When(b.panel_when(p)?)))
    }

    fn cut(&mut self, pair: Pair<'i, Rule>) -> Built<Cut> {
        let mut parts = self.parts(pair);
        let count = self.expr(&mut parts)?;
        let mirrored = parts.maybe(Rule::mirrored).is_some();
        let of = self.expr(&mut parts)?;
        let copies = self.all_names(&mut parts);
        Ok(Cut { count, mirrored, of, copies, span: parts.span })
    }

    fn shape(&mut self, pair: Pair<'i, Rule>) -> Built<Shape> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let form = parts.any()?;
        let rule = form.as_rule();
        let mut form = self.parts(form);
        let kind = match rule {
            Rule::shape_as => ShapeKind::As(self.name(&mut form)?),
            Rule::shape_strip => {
                ShapeKind::Strip { panel: self.name(&mut form)?, edge: self.name(&mut form)?, wide: self.expr(&mut form)? }
            }
            Rule::shape_call => ShapeKind::Call { outline: self.name(&mut form)?, arguments: self.arguments(&mut form)? },
            Rule::shape_traced => ShapeKind::Traced(Box::new(self.traced(&mut form)?)),
            Rule::shape_drawn => ShapeKind::Drawn(self.all(&mut form, Rule::outline_item, Self::outline_item)?),
            _ => return Err(Fault::Mismatch(span)),
        };
        Ok(Shape { kind, span })
    }

    fn move_edges(&mut self, pair: Pair<'i, Rule>, outward: bool) -> Built<Move> {
        let mut parts = self.parts(pair);
        let by = self.expr(&mut parts)?;
        let edges = self.maybe_names(&mut parts);
        Ok(Move { outward, by, edges, span: parts.span })
    }

    fn lay(&mut self, pair: Pair<'i, Rule>, kind: LayKind) -> Built<Lay> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let mut laid = self.parts(parts.take(Rule::laid)?);
        let name = self.name(&mut laid)?;
        let outline = self.name(&mut laid)?;
        let arguments = self.arguments(&mut laid)?;
        let at = match laid.maybe(Rule::laid_corner) {
            Some(corner) => {
                let mut corner = self.parts(corner);
                LayPlace::Corner(self.one(&mut corner, Rule::corner, Self::corner)?)
            }
            None => LayPlace::Point(self.expr(&mut laid)?),
        };
        Ok(Lay { kind, name, outline, arguments, at, span })
    }

    fn taper(&mut self, pair: Pair<'i, Rule>) -> Built<Taper> {
        let mut parts = self.parts(pair);
        let edges = self.names(&mut parts)?;
        let by = self.expr(&mut parts)?;
        let over = self.expr(&mut parts)?;
        let from = self.name(&mut parts)?;
        Ok(Taper { edges, by, over, from, span: parts.span })
    }

    fn corner_stmt(&mut self, pair: Pair<'i, Rule>) -> Built<PanelItem> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let form = parts.any()?;
        let rule = form.as_rule();
        let mut form = self.parts(form);
        let corners = self.corners(&mut form)?;
        let kind = match rule {
            Rule::round_corner => CornerKind::Round,
            Rule::bevel_corner => CornerKind::Bevel,
            Rule::box_corner => CornerKind::Box,
            _ => return Ok(PanelItem::CornerJoin(CornerJoin { corners, join: self.name(&mut form)?, span })),
        };
        Ok(PanelItem::Corner(CornerWork { kind, corners, by: self.expr(&mut form)?, span }))
    }

    fn hole(&mut self, pair: Pair<'i, Rule>) -> Built<Hole> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let outline = self.name(&mut parts)?;
        let arguments = self.arguments(&mut parts)?;
        let at = self.expr(&mut parts)?;
        Ok(Hole { name, outline, arguments, at, span: parts.span })
    }

    fn allow(&mut self, pair: Pair<'i, Rule>) -> Built<Allow> {
        let mut parts = self.parts(pair);
        let width = self.expr(&mut parts)?;
        let edges = self.maybe_names(&mut parts);
        Ok(Allow { width, edges, span: parts.span })
    }

    fn finish_edges(&mut self, pair: Pair<'i, Rule>) -> Built<FinishEdges> {
        let mut parts = self.parts(pair);
        let edges = self.names(&mut parts)?;
        let finish = self.use_finish(&mut parts)?;
        Ok(FinishEdges { edges, finish, span: parts.span })
    }

    fn raw(&mut self, pair: Pair<'i, Rule>) -> Built<Raw> {
        let mut parts = self.parts(pair);
        let edges = self.names(&mut parts)?;
        let because = self.text(&mut parts)?;
        Ok(Raw { edges, because, span: parts.span })
    }

    fn grain(&mut self, pair: Pair<'i, Rule>) -> Built<Grain> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let form = parts.any()?;
        let rule = form.as_rule();
        let mut form = self.parts(form);
        let kind = match rule {
            Rule::grain_along => GrainKind::Along(self.name(&mut form)?),
            Rule::grain_any => GrainKind::Any,
            Rule::grain_angle => GrainKind::Angle(self.expr(&mut form)?),
            _ => return Err(Fault::Mismatch(span)),
        };
        Ok(Grain { kind, within: self.maybe_expr(&mut form)?, span })
    }

    fn notch(&mut self, pair: Pair<'i, Rule>) -> Built<Notch> {
        let mut parts = self.parts(pair);
        let edges = self.names(&mut parts)?;
        let places = self.places(&mut parts)?;
        let mut notch = Notch { edges, places, kind: None, rows: 1, deep: None, span: parts.span };
        if let Some(kind) = parts.maybe(Rule::notch_kind) {
            let mut kind = self.parts(kind);
            if kind.maybe(Rule::double).is_some() {
                notch.rows = 2;
            } else if kind.maybe(Rule::triple).is_some() {
                notch.rows = 3;
            }
            notch.kind = Some(self.name(&mut kind)?);
        }
        if let Some(deep) = parts.maybe(Rule::notch_deep) {
            notch.deep = Some(self.expr(&mut self.parts(deep))?);
        }
        Ok(notch)
    }

    fn mark(&mut self, pair: Pair<'i, Rule>) -> Built<Mark> {
        let mut parts = self.parts(pair);
        let span = parts.span;
        let form = parts.any()?;
        let rule = form.as_rule();
        let mut form = self.parts(form);
        let name = self.name(&mut form)?;
        let first = self.expr(&mut form)?;
        let kind = match rule {
            Rule::mark_line => MarkKind::Line(first, self.expr(&mut form)?),
            Rule::mark_drill => MarkKind::Drill { at: first, wide: self.maybe_expr(&mut form)? },
            _ => MarkKind::Point(first),
        };
        Ok(Mark { name, kind, text: self.maybe_text(&mut form)?, span })
    }

    fn dart(&mut self, pair: Pair<'i, Rule>) -> Built<Dart> {
        let mut parts = self.parts(pair);
        let edge = self.name(&mut parts)?;
        let places = self.places(&mut parts)?;
        let wide = self.expr(&mut parts)?;
        let deep = self.expr(&mut parts)?;
        Ok(Dart { edge, places, wide, deep, span: parts.span })
    }

    fn pleat(&mut self, pair: Pair<'i, Rule>) -> Built<Pleat> {
        let mut parts = self.parts(pair);
        let edge = self.name(&mut parts)?;
        let places = self.places(&mut parts)?;
        let take = self.expr(&mut parts)?;
        Ok(Pleat { edge, places, take, span: parts.span })
    }

    fn rename(&mut self, pair: Pair<'i, Rule>) -> Built<Rename> {
        let mut parts = self.parts(pair);
        Ok(Rename { from: self.name(&mut parts)?, to: self.name(&mut parts)? })
    }

    fn split(&mut self, pair: Pair<'i, Rule>) -> Built<Split> {
        let mut parts = self.parts(pair);
        let name = self.name(&mut parts)?;
        let of = match parts.maybe(Rule::split_of) {
            Some(of) => Some(self.name(&mut self.parts(of))?),
            None => None,
        };
        let (from, to) = (self.expr(&mut parts)?, self.expr(&mut parts)?);
        let pieces = [self.name(&mut parts)?, self.name(&mut parts)?];
        Ok(Split { name, of, from, to, pieces, span: parts.span })
    }

    fn on_fold(&mut self, pair: Pair<'i, Rule>) -> Built<OnFold> {
        let mut parts = self.parts(pair);
        Ok(OnFold { edge: self.name(&mut parts)?, span: parts.span })
    }
}

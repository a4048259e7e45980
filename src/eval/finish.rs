//! Finishes: how an edge or a seam's allowances are finished.

use super::call::Item;
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator, Stop};
use super::value::{Env, Local, Traced, Value, amount};
use crate::check::Entity;
use crate::ir::{self, Amount, MaterialKind, Stitch, StitchKind, Text, Use};
use crate::quantity::{Area, Dimension, Length, Mass};
use crate::source::Span;
use crate::syntax::ast::{self, FinishItem, WorkPhase};

/// A finish with its figures worked out.
#[derive(Debug, Clone)]
pub(crate) struct FinishValue {
    /// Its name.
    pub(crate) name: String,
    /// The allowance it sets on an edge it finishes.
    pub(crate) allow: Option<f64>,
    /// The least allowance it needs on each edge of a seam.
    pub(crate) needs: Option<f64>,
    /// Fold lines outward from the finished edge.
    pub(crate) folds: Vec<f64>,
    /// Whether no raw edge shows.
    pub(crate) encloses: bool,
    /// Its stitch.
    pub(crate) stitch: Option<Stitch>,
    /// How far that lies from the finished edge or seam line.
    pub(crate) stitch_at: f64,
    /// How many rows.
    pub(crate) rows: u32,
    /// What it consumes.
    pub(crate) uses: Vec<Use>,
    /// The cord it is told of, by name, and does not use up.
    pub(crate) casing_for: Option<String>,
    /// What is done, by phase.
    pub(crate) work: Vec<WorkValue>,
    /// The edges it goes along without a break, where there are several; and whether it comes back to its start.
    pub(crate) run: Vec<String>,
    pub(crate) closes: bool,
    /// Where it is used.
    pub(crate) origin: Span,
}

/// What a finish finishes when it is not an edge by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FinishedIn {
    /// The allowances of a seam.
    Seam,
    /// An opening.
    Opening,
    /// A piece laid on another.
    Applied,
}

/// A step of a component or finish.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WorkValue {
    /// When.
    pub(crate) phase: WorkPhase,
    /// What.
    pub(crate) text: Text,
    /// With which stitch.
    pub(crate) stitch: Option<Stitch>,
}

/// No finish has more rows than this.
const MAX_ROWS: usize = 20;

impl<'p> Evaluator<'p> {
    /// A finish called, along a stretch of so much.
    pub(crate) fn finish(&mut self, call: &'p ast::UseFinish, env: &Env<'p>, stretch: f64) -> Eval<FinishValue> {
        self.finish_items(call, env, stretch, false)
    }

    /// What drafting must know of a finish: its allowance and folds. How long the edge is shows when it is drafted.
    pub(crate) fn finish_for_drafting(&mut self, call: &'p ast::UseFinish, env: &Env<'p>, drawn: f64) -> Eval<FinishValue> {
        self.finish_items(call, env, drawn, true)
    }

    fn finish_items(&mut self, call: &'p ast::UseFinish, env: &Env<'p>, stretch: f64, for_drafting: bool) -> Eval<FinishValue> {
        let program = self.program;
        let Entity::Finish(id) = self.entity(env.scope, &call.finish)? else {
            return self.fail(EvalError::WrongKind { wanted: "a finish", got: format!("`{}`", call.finish.text), span: call.finish.span });
        };
        let Some(declared) = program.finishes.get(id.index()) else { return Err(Stop) };
        let inner = self.bind(declared.scope, &declared.item.parameters, &call.arguments, env, &call.finish.text)?;
        let cord = self.cord_told_of(&inner);
        let q = Value::Quantity(amount(stretch, Dimension::LENGTH));
        self.given(&inner, "stretch", q, "the length finished", Vec::new());
        let mut value = FinishValue {
            name: call.finish.text.clone(),
            allow: None,
            needs: None,
            folds: Vec::new(),
            encloses: false,
            stitch: None,
            stitch_at: 0.0,
            rows: 1,
            uses: Vec::new(),
            casing_for: None,
            work: Vec::new(),
            run: Vec::new(),
            closes: false,
            origin: call.span,
        };
        let active = self.active(&declared.item.items, &inner, if for_drafting { split_for_drafting } else { split })?;
        for item in active.into_iter().filter(|i| !for_drafting || is_drafted(i)) {
            self.finish_item(item, &inner, &mut value)?;
        }
        let is_cord = |u: &Use| self.materials.get(u.material.index()).is_some_and(|m| m.kind == MaterialKind::Cord);
        value.casing_for = cord.filter(|_| !value.uses.iter().any(is_cord));
        Ok(value)
    }

    /// The cord among a finish's arguments.
    fn cord_told_of(&self, env: &Env<'p>) -> Option<String> {
        env.locals.borrow().values().find_map(|local| match local {
            Local::Ready(Traced { value: Value::Material(goods), .. }) => self.is_cord(goods).then(|| goods.name.clone()),
            _ => None,
        })
    }

    fn finish_item(&mut self, item: &'p FinishItem, env: &Env<'p>, value: &mut FinishValue) -> Eval<()> {
        match item {
            FinishItem::Require(require) => self.require(require, env, Some(value.origin))?,
            FinishItem::Allow(e) => value.allow = Some(self.length(e, env)?),
            FinishItem::Needs(e) => value.needs = Some(self.length(e, env)?),
            FinishItem::Folds(all) => value.folds = all.iter().map(|e| self.length(e, env)).collect::<Eval<_>>()?,
            FinishItem::Encloses => value.encloses = true,
            FinishItem::Stitch { stitch, at, rows } => {
                value.stitch = Some(self.stitch(stitch, env)?);
                if let Some(at) = at {
                    value.stitch_at = self.length(at, env)?;
                }
                if let Some(rows) = rows {
                    value.rows = self.count(rows, env, 1, MAX_ROWS)?;
                }
            }
            FinishItem::Uses(uses) => value.uses.push(self.uses(uses, env)?),
            FinishItem::Work(work) => value.work.push(self.work(work, env)?),
            FinishItem::Caution(text) => {
                let text = self.text(text, env)?;
                self.caution(text);
            }
            FinishItem::Constant(_) | FinishItem::When(_) => {}
        }
        Ok(())
    }

    /// A finish called where it can do its work: in a seam it says what it needs, elsewhere it may be silent but is not for edges alone.
    pub(crate) fn finish_in(&mut self, place: FinishedIn, call: &'p ast::UseFinish, env: &Env<'p>, stretch: f64) -> Eval<FinishValue> {
        let value = self.finish(call, env, stretch)?;
        if value.needs.is_none() && (place == FinishedIn::Seam || value.allow.is_some()) {
            return self.fail(EvalError::FinishForEdges { finish: value.name, by_edge: value.allow.is_some(), place, span: call.span });
        }
        Ok(value)
    }

    /// A stitch.
    pub(crate) fn stitch(&mut self, stitch: &'p ast::Stitch, env: &Env<'p>) -> Eval<Stitch> {
        let kind = match stitch.kind.text.as_str() {
            "lockstitch" => StitchKind::Lockstitch,
            "zigzag" => StitchKind::Zigzag,
            "chainstitch" => StitchKind::Chainstitch,
            "overlock" => StitchKind::Overlock,
            "bartack" => StitchKind::Bartack,
            "handstitch" => StitchKind::Handstitch,
            _ => return self.fail(EvalError::Unknown { name: stitch.kind.clone() }),
        };
        let length = self.length(&stitch.length, env)?;
        if length <= 0.0 {
            let value = self.said(&Value::Quantity(amount(length, Dimension::LENGTH)));
            return self.fail(EvalError::NotPositive { what: "a stitch length", value, span: stitch.span });
        }
        Ok(Stitch { kind, length: Length::mm(length) })
    }

    /// What a `uses` line consumes.
    pub(crate) fn uses(&mut self, uses: &'p ast::Uses, env: &Env<'p>) -> Eval<Use> {
        let what = format!("{}uses", env.label);
        let amount = self.traced(&what, &uses.amount, env)?;
        let Value::Quantity(q) = &amount.value else { return self.wrong("an amount", &amount.value, uses.amount.span) };
        if q.value < 0.0 {
            let value = self.said(&amount.value);
            return self.fail(EvalError::NotPositive { what: "what is consumed", value, span: uses.amount.span });
        }
        let amount_of = match q.dimension {
            Dimension::LENGTH => Amount::Length(Length::mm(q.value)),
            Dimension::AREA => Amount::Area(Area::mm2(q.value)),
            Dimension::MASS => Amount::Mass(Mass::grams(q.value)),
            Dimension::NUMBER => Amount::Count(q.value),
            _ => return self.wrong("a length, an area, a mass or a count", &amount.value, uses.amount.span),
        };
        let goods = self.goods_of(&uses.of, env)?;
        Ok(Use { material: self.stock(&goods)?, amount: amount_of, why: amount.why })
    }

    /// A step's text and stitch.
    pub(crate) fn work(&mut self, work: &'p ast::Work, env: &Env<'p>) -> Eval<WorkValue> {
        let text = self.text(&work.text, env)?;
        let stitch = work.stitch.as_ref().map(|s| self.stitch(s, env)).transpose()?;
        Ok(WorkValue { phase: work.phase, text, stitch })
    }

    /// Adds a safety note, once.
    pub(crate) fn caution(&mut self, text: Text) {
        if !self.cautions.contains(&text) {
            self.cautions.push(text);
        }
    }
}

impl FinishValue {
    /// As an edge's finish.
    pub(crate) fn on_edge(&self) -> ir::EdgeFinish {
        ir::EdgeFinish {
            name: self.name.clone(),
            folds: self.folds.iter().copied().map(Length::mm).collect(),
            encloses: self.encloses,
            stitch: self.stitch.clone(),
            stitch_at: Length::mm(self.stitch_at),
            rows: self.rows,
            uses: self.uses.clone(),
            casing_for: self.casing_for.clone(),
            origin: self.origin,
        }
    }

    /// As a seam's finish.
    pub(crate) fn on_seam(&self) -> ir::SeamFinish {
        ir::SeamFinish {
            name: self.name.clone(),
            needs: Length::mm(self.needs.unwrap_or(0.0)),
            encloses: self.encloses,
            stitch: self.stitch.clone(),
            stitch_at: Length::mm(self.stitch_at),
            rows: self.rows,
            uses: self.uses.clone(),
            origin: self.origin,
        }
    }
}

fn split(item: &FinishItem) -> Item<'_, FinishItem> {
    match item {
        FinishItem::Constant(c) => Item::Let(c),
        FinishItem::When(w) => Item::When(w),
        _ => Item::Other,
    }
}

/// As [`split`], but for a `when` that decides nothing of what is drafted: what it asks is no reason for the allowance.
fn split_for_drafting(item: &FinishItem) -> Item<'_, FinishItem> {
    match item {
        FinishItem::When(w) if !w.then.iter().chain(&w.otherwise).any(is_drafted) => Item::Other,
        _ => split(item),
    }
}

fn is_drafted(item: &FinishItem) -> bool {
    match item {
        FinishItem::Allow(_) | FinishItem::Folds(_) | FinishItem::Constant(_) => true,
        FinishItem::When(w) => w.then.iter().chain(&w.otherwise).any(is_drafted),
        _ => false,
    }
}

//! Materials, with the figures that lists and checks need.

use super::TraceId;
use crate::quantity::{Length, Mass, Money};
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A material used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Material {
    /// The name it goes by in the design: that of the `let` that holds it, or its own.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What sort of goods.
    pub kind: MaterialKind,
    /// Mass of one base amount: g per mm² (cloth, batting), per mm (by length), or each (hardware).
    pub mass: Option<f64>,
    /// Price of one base amount, and of which.
    pub price: Option<Price>,
    /// Width of the roll, ribbon or tape.
    pub width: Option<Length>,
    /// Trimmed off each side of the roll.
    pub selvedge: Length,
    /// Thickness, diameter of a cord, loft of a batting.
    pub thickness: Option<Length>,
    /// Whether face and back differ.
    pub one_sided: bool,
    /// Which ways a piece may lie on the cloth.
    pub direction: Direction,
    /// Whether a laser may cut it; none when not said.
    pub laser: Option<bool>,
    /// Width of a zipper's closed chain.
    pub chain: Option<Length>,
    /// Whether a zipper comes apart.
    pub separating: bool,
    /// Mass of one slider, lock or other part counted with it.
    pub slider_mass: Option<Mass>,
    /// Price of one such part.
    pub slider_price: Option<Money>,
    /// Where its figures are from: `read …` or `memory`.
    pub source: String,
    /// Where the mass figure comes from.
    pub why_mass: TraceId,
    /// Where the price comes from.
    pub why_price: TraceId,
    /// Where it is declared.
    pub origin: Span,
}

/// Sorts of goods.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MaterialKind {
    /// Woven, knitted or coated, off a roll.
    Cloth,
    /// Insulation off a roll.
    Batting,
    /// Ribbon or tape.
    Ribbon,
    /// Webbing.
    Webbing,
    /// Cord, elastic or not.
    Cord,
    /// Zipper by length.
    Zipper,
    /// Counted: snaps, locks, sliders, rings.
    Hardware,
    /// Sewing thread.
    Thread,
}

/// A price and what it is for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Price {
    /// Money for one base amount.
    pub money: Money,
    /// Per mm of roll, per mm², per gram, or each.
    pub per: PricedBy,
}

/// What a price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PricedBy {
    /// One millimetre off the roll or reel.
    Length,
    /// One square millimetre.
    Area,
    /// One gram.
    Mass,
    /// One piece.
    Each,
}

/// Which ways a piece may lie on a cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// Head up or head down.
    TwoWay,
    /// All heads the same way (nap, print, sheen).
    OneWay,
    /// Any way.
    Any,
}

impl Material {
    /// Whether another entry stands for the same goods, whatever line it came from.
    #[must_use]
    pub fn same_goods(&self, other: &Self) -> bool {
        let figures = |m: &Self| (m.kind, m.mass, m.price.clone(), m.width, m.selvedge, m.thickness, m.chain);
        let ways = |m: &Self| (m.one_sided, m.direction, m.laser, m.separating, m.slider_mass, m.slider_price.clone());
        figures(self) == figures(other) && ways(self) == ways(other)
    }
}

//! The steps behind the figures, added to the design's own.

use crate::ir::{Fact, Provenance, TraceId, TraceNode};
use crate::quantity::{Currency, Dimension, Quantity, Style, format_quantity};

/// Steps and facts on the way, besides the design's.
pub(super) struct Trail<'d> {
    design: &'d Provenance,
    further: Provenance,
}

/// A figure with what it measures.
#[derive(Clone, Copy)]
pub(super) enum Figure<'a> {
    Of(f64, Dimension),
    Money(f64, &'a str),
    /// Several currencies have no sum.
    None,
}

impl Figure<'_> {
    fn worded(self) -> String {
        match self {
            Self::Of(value, dimension) => format_quantity(Quantity { value, dimension, currency: None }, Style::default()),
            Self::Money(value, code) => {
                let currency = code.as_bytes().try_into().ok().map(Currency);
                format_quantity(Quantity { value, dimension: Dimension::MONEY, currency }, Style::default())
            }
            Self::None => String::new(),
        }
    }

    const fn number(self) -> Option<f64> {
        match self {
            Self::Of(value, _) | Self::Money(value, _) => Some(value),
            Self::None => None,
        }
    }
}

impl<'d> Trail<'d> {
    pub(super) fn after(design: &'d Provenance) -> Self {
        Self { design, further: Provenance::default() }
    }

    /// Adds a step; inputs named twice are kept once.
    pub(super) fn step(&mut self, what: String, how: String, figure: Figure, inputs: &[TraceId]) -> TraceId {
        let mut distinct: Vec<TraceId> = Vec::new();
        for id in inputs {
            if !distinct.contains(id) {
                distinct.push(*id);
            }
        }
        let step =
            TraceNode { what, how, value: figure.worded(), number: figure.number(), origin: None, place: String::new(), inputs: distinct };
        TraceId::at(self.design.nodes.len() + self.further.add(step).index())
    }

    /// Makes a step one that can be asked for. A name that the design itself uses stays the design's.
    pub(super) fn fact(&mut self, name: String, why: TraceId) {
        if self.design.fact(&name).is_none() && self.further.fact(&name).is_none() {
            self.further.facts.push(Fact { name, why });
        }
    }

    pub(super) fn done(self) -> Provenance {
        self.further
    }
}

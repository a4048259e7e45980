//! Where every number comes from: a graph from results back to the lines that made them.

use super::TraceId;
use crate::source::Span;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The graph. A node's inputs always have smaller ids, so it has no cycles.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Provenance {
    /// Every step.
    pub nodes: Vec<TraceNode>,
    /// Values that can be asked for by name (`shell.left`, `loops.1`, `long`), sorted by name.
    pub facts: Vec<Fact>,
}

/// A step on the way to a value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TraceNode {
    /// What it is: `long`, `finished length of shell.left`.
    pub what: String,
    /// The expression as written, or a sentence on the geometry behind it.
    pub how: String,
    /// The value, worded: `184 cm`.
    pub value: String,
    /// The value in base units, when it is a quantity.
    pub number: Option<f64>,
    /// Where it is written.
    pub origin: Option<Span>,
    /// `file:line` of that.
    pub place: String,
    /// The values it was made from.
    pub inputs: Vec<TraceId>,
}

/// A value that can be asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fact {
    /// Its name.
    pub name: String,
    /// Its last step.
    pub why: TraceId,
}

impl Provenance {
    /// Adds a step and returns its id.
    pub fn add(&mut self, node: TraceNode) -> TraceId {
        self.nodes.push(node);
        TraceId::at(self.nodes.len() - 1)
    }

    /// The step behind an id.
    #[must_use]
    pub fn node(&self, id: TraceId) -> Option<&TraceNode> {
        self.nodes.get(id.index())
    }

    /// The value asked for by name.
    #[must_use]
    pub fn fact(&self, name: &str) -> Option<TraceId> {
        self.facts.iter().find(|f| f.name == name).map(|f| f.why)
    }
}

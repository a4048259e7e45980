//! Paths: chains of lines, circular arcs and cubic curves.

use super::Point;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One piece of a path; it starts where the one before ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Segment {
    /// Straight.
    Line {
        /// Its end.
        end: Point,
    },
    /// A circular arc: `bulge` is the tangent of a quarter of its angle, positive when it turns left.
    Arc {
        /// Its end.
        end: Point,
        /// tan(angle / 4).
        bulge: f64,
    },
    /// A cubic curve.
    Cubic {
        /// Handle of its start.
        leaving: Point,
        /// Handle of its end.
        arriving: Point,
        /// Its end.
        end: Point,
    },
}

impl Segment {
    /// Where it ends.
    #[must_use]
    pub const fn end(&self) -> Point {
        match self {
            Self::Line { end } | Self::Arc { end, .. } | Self::Cubic { end, .. } => *end,
        }
    }
}

/// A chain of segments. Closed when its end is its start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Path {
    /// Where it starts.
    pub start: Point,
    /// Its segments.
    pub segments: Vec<Segment>,
}

//! Whether a drawing is as large as is said.

use super::error::TraceError;
use crate::source::Span;

/// An edge's length may differ from what is stated by this part: what a tape and a tracing are off by, and far less
/// than any wrong unit.
const OFF: f64 = 0.005;

/// Units that drawing programs count in, mm, and how they are said and written.
const UNITS: &[(f64, &str, &str)] = &[
    (1.0, "in millimetres", "1 mm"),
    (10.0, "in centimetres", "1 cm"),
    (1000.0, "in metres", "1 m"),
    (25.4, "in inches", "1 in"),
    (304.8, "in feet", "1 ft"),
    (25.4 / 72.0, "at 72 units an inch", "1/72 in"),
    (25.4 / 90.0, "at 90 units an inch", "1/90 in"),
    (25.4 / 96.0, "at 96 units an inch", "1/96 in"),
    (0.1, "in tenths of a millimetre", "0.1 mm"),
    (0.025, "in plotter units, 40 a millimetre", "1/40 mm"),
    (0.0254, "in thousandths of an inch", "1/1000 in"),
];

/// A length that an edge is said to have, and what it is measured by.
#[derive(Debug, Clone, PartialEq)]
pub struct Stated {
    /// The edge.
    pub edge: String,
    /// Its length as stated, mm.
    pub length: f64,
    /// Where that is stated.
    pub span: Span,
    /// What a unit of the drawing is worth, mm, and where that is stated.
    pub unit: (f64, Span),
}

/// Whether an edge so long (mm) has the length stated; `says` is what the drawing itself says a unit is worth.
///
/// # Errors
/// When they differ by more than half a percent.
pub fn check(stated: &Stated, traced: f64, says: Option<f64>) -> Result<(), TraceError> {
    if (traced - stated.length).abs() <= OFF * stated.length {
        return Ok(());
    }
    let unit = stated.unit.0 * stated.length / traced;
    let known = UNITS.iter().find(|(mm, ..)| (unit / mm - 1.0).abs() <= 2.0 * OFF);
    Err(TraceError::Scale {
        edge: stated.edge.clone(),
        lengths: (stated.length, traced),
        unit,
        known: known.map(|(_, words, written)| (*words, *written)),
        says: says.filter(|s| (s / unit - 1.0).abs() <= 2.0 * OFF).is_some(),
        spans: (stated.span, stated.unit.1),
    })
}

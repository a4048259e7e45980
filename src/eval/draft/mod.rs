//! Drafting: from a panel's figures to its finished outline and cut line.
//!
//! Nothing here evaluates expressions: [`PanelInput`] is all numbers, with a span on each
//! so that what can't be drafted is reported at the right word.

mod input;

pub use input::*;

//! Drafting: from a panel's figures to its finished outline and cut line.
//!
//! Nothing here evaluates expressions: [`PanelInput`] is all numbers, with a span on each
//! so that what can't be drafted is reported at the right word.

mod input;
mod output;

pub use input::*;
pub use output::*;

use crate::diagnostic::Problems;

/// Drafts a panel; none when that can't be done, and `problems` says why.
#[must_use]
pub fn draft(input: &PanelInput, problems: &mut Problems) -> Option<Drafted> {
    let _ = (input, problems);
    None
}

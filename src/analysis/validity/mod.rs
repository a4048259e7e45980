//! Whether a resolved design can be sewn as it stands, and would be by someone who knows how.
//!
//! Only what can be decided from the design is reported. An error is certain; a warning is what a
//! master sewer would shake their head at, and the source can accept it with a reason.

mod applied;
mod bindings;
mod bounds;
mod casings;
mod caught;
mod closed;
mod cloth;
mod cutters;
mod cycles;
mod drills;
mod edges;
mod error;
mod joins;
mod naming;
mod openings;
mod pairs;
mod places;
mod split;
mod stacks;
mod symmetry;
#[cfg(test)]
mod tests;

pub use error::CODES;

use crate::diagnostic::Problems;
use crate::ir::Design;

/// Reports all that is wrong with a design in one size.
pub fn check(design: &Design, problems: &mut Problems) {
    let lays = crate::ir::lays(&design.pieces, &design.seams);
    let sewn = edges::sewn(design, &lays);
    edges::check(design, &sewn, problems);
    cloth::check(design, problems);
    bindings::check(design, problems);
    places::check(design, &lays, problems);
    caught::check(design, &sewn, problems);
    casings::check(design, &sewn, problems);
    pairs::check(design, &lays, problems);
    joins::check(design, problems);
    joins::sewn_twice(design, &sewn, problems);
    stacks::check(design, &lays, problems);
    closed::check(design, &lays, problems);
    openings::check(design, &lays, problems);
    applied::check(design, problems);
    bounds::check(design, problems);
    cycles::check(design, problems);
    cutters::check(design, problems);
    drills::check(design, problems);
}

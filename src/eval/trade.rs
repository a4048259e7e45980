//! What is done with the pieces: attachments, seams, work on the face, and the operations they ask for.

use super::evaluator::Evaluator;
use crate::ir;

/// Everything but the pieces.
#[derive(Debug, Default)]
pub(crate) struct Trade {
    /// Attachments.
    pub(crate) attachments: Vec<ir::Attachment>,
    /// Seams.
    pub(crate) seams: Vec<ir::Seam>,
    /// Pieces applied.
    pub(crate) applied: Vec<ir::Applied>,
    /// Quilting.
    pub(crate) quilting: Vec<ir::Quilting>,
    /// Operations.
    pub(crate) operations: Vec<ir::Operation>,
}

impl Evaluator<'_> {
    /// Works out everything but the pieces.
    pub(crate) fn trade(&mut self) -> Trade {
        Trade::default()
    }
}

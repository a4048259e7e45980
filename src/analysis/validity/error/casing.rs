//! Cords and the casings they run in.

use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, said_example, said_short};
use crate::source::Span;

/// Something wrong with a casing.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum CasingError {
    /// There is none.
    None { what: String, edge: String, at: Span, edge_at: Span },
    /// It is shut at all its ends, by these seams.
    ShutIn { what: String, edges: Vec<String>, seams: Vec<(String, Span)>, at: Span },
    /// Nothing runs in it.
    Empty { edge: String, cord: String, at: Span },
    /// Too narrow for the cord.
    Narrow { what: String, edge: String, width: Length, needs: Length, at: Span, casing_at: Span },
}

impl From<CasingError> for Diagnostic {
    fn from(error: CasingError) -> Self {
        match error {
            CasingError::None { what, edge, at, edge_at } => Self::error(
                "no-casing",
                format!("{what} is threaded through a casing, and `{edge}` has none"),
                at,
                "nothing here to run in",
            )
            .and(edge_at, "this edge has neither a hem nor a strip along it")
            .help(
                "Hem the edge as a casing, `finish EDGE with casing_hem(cord: …)`; or use `cord_casing(…)`, which brings its own strip \
                 and its own cord.",
            ),
            CasingError::ShutIn { what, edges, seams, at } => {
                let names: Vec<String> = edges.iter().map(|e| format!("`{e}`")).collect();
                let casing = if names.len() == 1 { "the casing of" } else { "the casings of" };
                let shut = if names.len() == 1 { "is sewn shut at both ends" } else { "are sewn shut at all ends" };
                let headline = format!("the cord of {what} never comes out: {casing} {} {shut}", names.join(" and "));
                let found = Self::warning("cord-shut-in", headline, at, "no way out");
                let found = seams.into_iter().fold(found, |d, (_, span)| d.and(span, "sewn right up to the casing"));
                found.help(said_example(
                    "End the seam a little below the casing, as `join a.left over a.left.length - 2 cm from foot to …`, and finish its \
                     allowances there; or make a hole in the casing before it is folded, for a buttonhole or an eyelet: `mark drill`.",
                ))
            }
            CasingError::Empty { edge, cord, at } => Self::warning(
                "casing-without-cord",
                format!("`{edge}` is hemmed as a casing for `{cord}`, and no cord runs in it"),
                at,
                "an empty casing",
            )
            .help(format!(
                "Thread one through: `attach cord = drawcord(cord: {cord}) along {edge}`. Where only a hem is wanted, `double_hem(…)` is one."
            )),
            CasingError::Narrow { what, edge, width, needs, at, casing_at } => {
                let (needs, width) = said_short(needs, width);
                Self::error(
                    "casing-too-narrow",
                    format!("the casing of `{edge}` is {width} wide inside, and the cord of {what} needs {needs}"),
                    at,
                    "does not slide",
                )
                .and(casing_at, format!("{width} from fold to stitching"))
                .help("Make the hem wider, or take a thinner cord.")
            }
        }
    }
}

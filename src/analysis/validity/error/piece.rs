//! Pieces, their edges and their cloth.

use super::{or_more, tape};
use crate::diagnostic::Diagnostic;
use crate::quantity::Length;
use crate::source::Span;

/// Something wrong with a piece.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum PieceError {
    /// Nothing is done with an edge.
    EdgeUnused { edge: String, at: Span },
    /// An edge of which only a part is sewn.
    EdgePartOpen { edge: String, raw: Length, of: Length, at: Span },
    /// Tape cut straight round a curve that is too tight for it.
    StraightBinding { finish: String, edge: String, width: Length, radius: Length, least: Length, at: Span },
    /// Nothing is done with a piece.
    PanelUnused { piece: String, at: Span },
    /// It does not fit across the roll.
    TooWide {
        piece: String,
        material: String,
        across: Length,
        usable: Length,
        widths: Option<(u32, Length)>,
        /// Lines for its panel that split it so, as they are written.
        splits: Vec<String>,
        on_fold: bool,
        turned: Option<Length>,
        at: Span,
        material_at: Span,
    },
    /// Any way is not allowed on this cloth.
    AnyOnOneWay { piece: String, material: String, at: Span, material_at: Span },
    /// Two identical copies where a mirrored pair is needed.
    NeedsMirrored { piece: String, first: String, second: String, seam: String, alike: bool, at: Span, seam_at: Span },
    /// A piece that fits an edge only turned over, and whether there are more copies of it.
    WrongWayRound { edge: String, on: String, seam: String, several: bool, at: Span, seam_at: Span },
    /// A hole drilled so near to a seam that it tears out, or is sewn into it.
    DrillNearSeam { drill: String, piece: String, edge: String, between: Length, clear: Length, at: Span, edge_at: Span },
    /// A piece sewn on the face hangs over.
    PatchPastEdge { patch: String, onto: String, past: Length, at: Span },
}

impl From<PieceError> for Diagnostic {
    fn from(error: PieceError) -> Self {
        match error {
            PieceError::EdgePartOpen { edge, raw, of, at } => Self::warning(
                "edge-part-open",
                format!("`{edge}` is sewn over a part of its {} only: {} of it stays raw and open", tape(of), tape(raw)),
                at,
                "this edge",
            )
            .help("Sew or zip the rest as well, or, if it is to stay open, finish it in a `step` and accept this."),
            PieceError::EdgeUnused { edge, at } => Self::error(
                "edge-unused",
                format!("nothing is done with `{edge}`: no seam, no hem, no binding"),
                at,
                "this edge would stay raw",
            )
            .help(
                "Sew it in a seam, finish it (`finish … with rolled_hem()`), or, if it is to stay raw, say why: \
                 `raw … because \"…\"` in its panel.",
            ),
            PieceError::StraightBinding { finish, edge, width, radius, least, at } => {
                let headline = format!("`{finish}` goes round `{edge}`, whose tightest radius is {}, with straight tape", tape(radius));
                Self::warning("straight-binding-on-curve", headline, at, "will pucker or pull").help(format!(
                    "Tape {} wide lies flat round curves of {} or more. Cloth cut on the bias goes round tighter ones: `bias_bound(cloth: …)`.",
                    tape(width),
                    or_more(least)
                ))
            }
            PieceError::PanelUnused { piece, at } => {
                Self::error("panel-unused", format!("`{piece}` is cut and then never sewn"), at, "no seam, hem or step uses it")
                    .help("Sew it in a seam, apply it to another piece, or cut fewer.")
            }
            PieceError::TooWide { piece, material, across, usable, widths, splits, on_fold, turned, at, material_at } => {
                let (mut help, [cut, take]) = match turned {
                    Some(turned) => (
                        format!("Turned a quarter it is {} across and fits: give it another grain. Otherwise ", tape(turned)),
                        ["cut", "take"],
                    ),
                    None => (String::new(), ["Cut", "Take"]),
                };
                match widths {
                    _ if on_fold => {
                        help.push_str(&format!("{take} it off the fold and cut a mirrored pair with a joining seam, or take wider cloth."))
                    }
                    Some((count, each)) => {
                        help.push_str(&format!(
                            "{cut} it as {count} pieces of {} across each, allowances and all, with a joining seam; or take wider cloth.",
                            tape(each)
                        ));
                        if !splits.is_empty() {
                            help.push_str(&format!(" In its panel: `{}`.", splits.join("` and `")));
                        }
                    }
                    None => help.push_str(&format!("{take} wider cloth.")),
                }
                Self::error(
                    "wider-than-cloth",
                    format!("`{piece}` is {} across the roll, and `{material}` gives {}", tape(across), tape(usable)),
                    at,
                    format!("{} too wide, allowances and all", tape(across - usable)),
                )
                .and(material_at, format!("{} between its selvedges", tape(usable)))
                .help(help)
            }
            PieceError::AnyOnOneWay { piece, material, at, material_at } => Self::warning(
                "grain-any-on-one-way",
                format!("`{piece}` may lie any way, but `{material}` runs one way"),
                at,
                "laid askew or head down it shows a different sheen",
            )
            .and(material_at, "one-way cloth")
            .help("Say which way its grain runs: `grain along left`."),
            PieceError::NeedsMirrored { .. } | PieceError::WrongWayRound { .. } => turned_over(error),
            error @ PieceError::DrillNearSeam { .. } => drill(error),
            PieceError::PatchPastEdge { patch, onto, past, at } => Self::warning(
                "patch-past-edge",
                format!("`{patch}` hangs {} over the edge of `{onto}`", tape(past)),
                at,
                "part of it lies on nothing",
            )
            .help("Move it inward, or make it smaller."),
        }
    }
}

/// What is to be cut turned over, or not.
fn turned_over(error: PieceError) -> Diagnostic {
    match error {
        PieceError::NeedsMirrored { piece, first, second, seam, alike: false, at, seam_at } => Diagnostic::warning(
            "needs-mirrored-pair",
            format!("`{first}` and `{second}` are each other's mirror image, and `{seam}` lays them the same way up"),
            at,
            format!("cut as a mirrored pair, and `{piece}` is not the same turned over"),
        )
        .and(seam_at, "here the left of one lies on the right of the other")
        .help("Turn one of the two over, `face up` and `face down`; or cut both alike, without `mirrored`."),
        PieceError::NeedsMirrored { piece, first, second, seam, at, seam_at, .. } => Diagnostic::warning(
            "needs-mirrored-pair",
            format!("`{first}` and `{second}` are cut alike, but `{seam}` lays them together as a left and a right"),
            at,
            format!("`{piece}` is not the same turned over, and its cloth has a face"),
        )
        .and(seam_at, "here they don't lie on each other")
        .help(
            "Of two layers cut alike, one face up and one face down, the left of one lies on the right of the other. Cut them as a \
             mirrored pair: `cut 2 mirrored of …`.",
        ),
        PieceError::WrongWayRound { edge, on, seam, several, at, seam_at } => {
            let how = if several {
                "Cut the copies as a mirrored pair, `cut 2 mirrored of …`, and sew the other one here."
            } else {
                "Cut it with its pattern turned over, face down on the face of the cloth, and accept this warning with that as the reason; \
                 or, where the other half needs one too, `cut 2 mirrored of …` and sew the turned one here."
            };
            Diagnostic::warning(
                "needs-mirrored-pair",
                format!("`{edge}` fits `{on}` only turned over, and `{seam}` lays it the other way round"),
                at,
                "cut like this, it lies the wrong way round",
            )
            .and(seam_at, "sewn together here")
            .help(how)
        }
        other => Diagnostic::from(other),
    }
}

fn drill(error: PieceError) -> Diagnostic {
    let PieceError::DrillNearSeam { drill, piece, edge, between, clear, at, edge_at } = error else { return error.into() };
    let near = match between.as_mm() > 0.0 {
        true => format!("comes within {} of", tape(between)),
        false => "lies on".to_owned(),
    };
    let headline = format!("the drilled hole `{drill}` of `{piece}` {near} the stitch line of `{edge}`");
    Diagnostic::warning("drill-near-seam", headline, at, "a seam tears from a hole").and(edge_at, "this edge").help(format!(
        "Leave {} of cloth between a hole and a seam: move it in, or drill it narrower. To mark a place say `mark point`.",
        tape(clear)
    ))
}

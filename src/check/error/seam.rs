//! What goes wrong inside seams and quiltings.

use crate::diagnostic::Diagnostic;
use crate::quantity::said_example;
use crate::source::Span;

/// Inside a seam or a quilting.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum SeamError {
    /// Neither a join nor a stack.
    NoForm { seam: String, span: Span, partly: bool },
    /// A join and a stack.
    TwoForms { join: Span, stack: Span },
    /// A line that belongs to the other form of seam.
    Stray { what: &'static str, form: &'static str, span: Span, other: Span },
    /// A stack that does not say which edges are sewn.
    NotSewn { seam: String, span: Span },
    /// An opening that is never closed.
    NoClose { span: Span },
    /// Something closed that was not left open.
    NoOpening { span: Span },
    /// Ease and gathering at once.
    EaseAndGather { ease: Span, gather: Span },
    /// A layer named beside an opening that is not in the stack.
    NotALayer { name: String, span: Span, layers: Vec<String> },
    /// An opening among three layers or more that does not say between which.
    BetweenWhich { span: Span, layers: Vec<String> },
    /// Layers named beside the opening of a join, which has none.
    BetweenSides { span: Span },
    /// A quilting that does not say which layers it holds.
    NoLayers { quilt: String, span: Span },
    /// A quilting without lines or ties.
    NothingQuilted { quilt: String, span: Span },
}

impl From<SeamError> for Diagnostic {
    fn from(error: SeamError) -> Self {
        match error {
            SeamError::NoForm { seam, span, partly } => {
                let cases = if partly { " in some cases" } else { "" };
                Self::error("seam-without-edges", format!("seam `{seam}` sews nothing{cases}"), span, "no `join` and no `stack` here").help(
                    "join two edges, `join body.left to body.right`, or lay pieces on each other, `stack front face up, back face down`",
                )
            }
            SeamError::TwoForms { join, stack } => {
                Self::error("seam-of-two-forms", "a seam either joins edges or sews round a stack", stack, "a stack")
                    .and(join, "a join")
                    .help("make two seams of it; the order of sewing is worked out")
            }
            SeamError::Stray { what, form, span, other } => {
                let headline = format!("{what} belongs to a seam that {form}");
                Self::error("stray-in-seam", headline, span, "does nothing here")
                    .and(other, "this seam is of the other form")
                    .help("take it out")
            }
            SeamError::NotSewn { seam, span } => Self::error(
                "stack-not-sewn",
                format!("seam `{seam}` lays a stack and does not say which edges are sewn"),
                span,
                "no `sew` here",
            )
            .help("write `sew around`, or name the edges: `sew left, foot, right`"),
            SeamError::NoClose { span } => Self::error("opening-without-close", "this opening is never closed", span, "left open")
                .help("say how it is shut once the piece is turned: `close with edgestitch()`"),
            SeamError::NoOpening { span } => Self::error("close-without-opening", "there is no opening to close", span, "nothing is open")
                .help(said_example("leave one: `opening 25 cm of outer.right starting 20% from foot between outer and inner`")),
            SeamError::EaseAndGather { ease, gather } => {
                Self::error("ease-and-gather", "a seam is either eased or gathered", gather, "gathered")
                    .and(ease, "eased")
                    .help("leave one of them out")
            }
            SeamError::NotALayer { name, span, layers } => {
                Self::error("not-a-layer", format!("`{name}` is not in this stack"), span, "not a layer")
                    .help(format!("its layers are {}", super::all_of(&layers)))
            }
            SeamError::BetweenWhich { span, layers } => {
                Self::error("opening-between-layers", "this opening must say between which two layers it lies", span, "between which?")
                    .help(format!(
                        "what is next to it ends outside: add `between … and …`, two that lie on each other of {}",
                        super::all_of(&layers)
                    ))
            }
            SeamError::BetweenSides { span } => {
                Self::error("stray-in-seam", "the opening of a join lies between its two edges", span, "says nothing here")
                    .help("leave `between … and …` out: only the opening of a stack says between which layers it lies")
            }
            SeamError::NoLayers { quilt, span } => Self::error(
                "quilt-without-layers",
                format!("`{quilt}` does not say which layers it holds together"),
                span,
                "no `layers` here",
            )
            .help("name them: `layers outer, batting, inner`"),
            SeamError::NothingQuilted { quilt, span } => {
                Self::error("nothing-quilted", format!("`{quilt}` has neither lines nor ties"), span, "nothing is sewn here")
                    .help(said_example("give it lines, `lines parallel to head every 25 cm`, or ties, `ties at (20 cm, 30 cm)`"))
            }
        }
    }
}

//! What can be wrong between the finished outline and the cut line: allowances, hems, their corners.

use super::{InPanel, also, mm, pair};
use crate::diagnostic::Diagnostic;
use crate::eval::draft::joint::Nothing;
use crate::quantity::{Length, said_example, said_room};
use crate::source::Span;

/// Allowances that can't be cut, or hems that won't lie flat.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum CutError {
    /// An allowance below nothing.
    Negative { edge: Option<String>, allowance: f64, span: Span },
    /// An edge hollowed out more tightly than its allowance is wide.
    ExceedsCurve { edge: String, allowance: f64, radius: f64, span: Span, said: Span },
    /// Allowances that run into each other.
    Crosses { first: String, second: String, allowances: (f64, f64), first_span: Span, second_span: Span },
    /// An edge eaten up by the allowances beside it.
    TooShort { edge: String, length: f64, neighbours: (String, f64, String, f64), span: Span },
    /// A hem folded in by more than half of the piece.
    DeepHem { edge: String, deep: f64, piece: f64, span: Span },
    /// A hem on an edge too curved to fold.
    CurvedHem { edge: String, deep: f64, radius: f64, span: Span },
    /// A fold outside the cloth.
    FoldPastAllowance { edge: String, fold: f64, allowance: f64, span: Span },
    /// A folded corner where nothing folds.
    FoldedWithoutHem { first: String, second: String, span: Span },
    /// A folded corner on an edge that bends there.
    FoldedOnCurve { edge: String, radius: f64, allowance: f64, span: Span },
    /// A way to meet that these two allowances can't take.
    JoinUnfit { first: (String, f64), second: (String, f64), join: &'static str, why: Unfit, span: Span },
    /// A way to meet where no allowances meet outside.
    JoinIdle { first: String, second: String, join: &'static str, why: Nothing, span: Span },
}

/// Why two allowances can't meet as asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unfit {
    /// One or both are no hems.
    NotTwoHems,
    /// A hem bends at a corner sharper than a right angle.
    Bends,
    /// Lines laid as asked miss the cut lines.
    LinesDontMeet,
}

/// Strain of a folded edge past which it won't lie flat, as a fraction: what steam and fingers take up in light cloth.
pub(crate) const MOST_STRAIN: f64 = 0.02;

/// A hem narrower than this (mm) can't be folded evenly. Common practice, no source; the library's rolled hem refuses less too.
const NARROWEST_HEM: f64 = 4.0;

impl From<InPanel<'_, CutError>> for Diagnostic {
    fn from(of: InPanel<'_, CutError>) -> Self {
        let panel = of.panel;
        match of.error {
            error @ (CutError::Negative { .. } | CutError::ExceedsCurve { .. } | CutError::Crosses { .. } | CutError::TooShort { .. }) => {
                allowance(panel, error)
            }
            CutError::JoinUnfit { first, second, join, why, span } => unfit(panel, first, second, (join, why, span)),
            CutError::JoinIdle { first, second, join, why, span } => idle(panel, &first, &second, (join, why, span)),
            error => hem(panel, error),
        }
    }
}

fn unfit(panel: &str, first: (String, f64), second: (String, f64), (join, why, span): (&str, Unfit, Span)) -> Diagnostic {
    let corner = format!("the corner of `{}` and `{}` of `{panel}`", first.0, second.0);
    let (headline, help) = match why {
        Unfit::NotTwoHems => (
            format!("{corner} can't be {join}: that is for two hems, and not both edges have one"),
            "Where one edge has a hem and the other a seam say `folded`; where neither has, `mitred` or `trimmed`.",
        ),
        Unfit::Bends => (
            format!("{corner} can't be {join}: a hem bends there, and the corner is sharper than a right angle"),
            "Say `mitred` or `square`, or draw the edges straight as far as the hem is wide.",
        ),
        Unfit::LinesDontMeet => (
            format!(
                "{corner} can't be {join}: with allowances of {} and {} the lines to cut there meet too far from it",
                mm(first.1),
                mm(second.1)
            ),
            "Make the two allowances more alike, or say `mitred`.",
        ),
    };
    Diagnostic::error("corner-join-impossible", headline, span, "").help(help)
}

fn idle(panel: &str, first: &str, second: &str, (join, why, span): (&str, Nothing, Span)) -> Diagnostic {
    let why = match why {
        Nothing::Straight => format!("`{first}` runs on into `{second}` there"),
        Nothing::Inward => "it turns inward".to_owned(),
        Nothing::NoAllowance => "neither edge has an allowance".to_owned(),
    };
    let headline = format!("`{join}` changes nothing at the corner of `{first}` and `{second}` of `{panel}`: {why}");
    Diagnostic::warning("corner-join-idle", headline, span, "no allowances meet outside this corner")
        .help("Take the line out, or name the corner that was meant.")
}

fn allowance(panel: &str, error: CutError) -> Diagnostic {
    match error {
        CutError::Negative { edge, allowance, span } => {
            let of = edge.map_or_else(|| format!("`{panel}`"), |e| format!("`{panel}.{e}`"));
            Diagnostic::error("negative-allowance", format!("the allowance of {of} is {}, less than nothing", mm(allowance)), span, "")
                .help(said_example(
                    "Allowances lie outside the finished edge. For a smaller piece make its outline smaller; for none say `allow 0 mm`.",
                ))
        }
        CutError::ExceedsCurve { edge, allowance, radius, span, said } => {
            let (wide, tight) = pair(allowance, radius);
            let headline =
                format!("an allowance of {wide} does not fit into `{panel}.{edge}`, which is hollowed out with a radius of {tight}");
            Diagnostic::error("allowance-exceeds-curve", headline, span, "hollow edge")
                .and(said, "its allowance")
                .help(format!("Cut less than {tight} on this edge, or draw the hollow wider. Binding the edge needs no allowance at all."))
        }
        CutError::Crosses { first, second, allowances, first_span, second_span } => {
            let headline = match first == second {
                true => format!("the allowance of `{panel}.{first}`, {}, runs into itself", mm(allowances.0)),
                false => format!(
                    "the allowances of `{panel}.{first}`, {}, and `{panel}.{second}`, {}, run into each other",
                    mm(allowances.0),
                    mm(allowances.1)
                ),
            };
            let d = Diagnostic::error("allowance-crosses", headline, first_span, "");
            let d = also(d, second_span, "too near this edge");
            d.help("There is no cloth to cut both from. Make the allowances smaller, or the gap between the edges wider.")
        }
        CutError::TooShort { edge, length, neighbours: (before, before_by, after, after_by), span } => {
            let headline = format!(
                "`{panel}.{edge}` is {} long: too short for the allowances around it, {} on `{before}` and {} on `{after}`",
                mm(length),
                mm(before_by),
                mm(after_by)
            );
            Diagnostic::error("edge-too-short-for-allowance", headline, span, "no cut line fits here")
                .help("Make these allowances smaller, the edge longer, or draw the corner without this short edge.")
        }
        other => hem(panel, other),
    }
}

fn hem(panel: &str, error: CutError) -> Diagnostic {
    match error {
        CutError::DeepHem { edge, deep, piece, span } => {
            let headline =
                format!("the hem on `{panel}.{edge}` folds in by {}, more than half of the piece, which is {} there", mm(deep), mm(piece));
            Diagnostic::warning("hem-deeper-than-half", headline, span, "")
                .help("Two such hems would meet in the middle. Look whether the hem's width or the piece's is wrong.")
        }
        CutError::CurvedHem { edge, deep, radius, span } => {
            let headline = format!(
                "a hem {} deep on `{panel}.{edge}`, whose tightest radius is {}, has to give {:.1} %",
                mm(deep),
                mm(radius),
                deep / radius * 100.0
            );
            let help = said_room(
                Length::mm(NARROWEST_HEM),
                Length::mm(radius * MOST_STRAIN),
                |wide| format!(": here {wide} folds well. Bind or face the edge, or hem it narrower."),
                ", and no hem narrow enough for this bend can be folded. Bind or face the edge.",
            );
            let help = format!("Past {:.0} % a folded edge won't lie flat{help}", MOST_STRAIN * 100.0);
            Diagnostic::warning("hem-on-curve", headline, span, "will pucker or pull").help(help)
        }
        CutError::FoldPastAllowance { edge, fold, allowance, span } => {
            let (fold, allowance) = pair(fold, allowance);
            let headline = format!("a fold {fold} outside `{panel}.{edge}` lies past its allowance of {allowance}");
            Diagnostic::error("fold-past-allowance", headline, span, "")
                .help("The allowance of a finished edge must hold all its folds. If another `allow` names this edge, take it out.")
        }
        CutError::FoldedOnCurve { edge, radius, allowance, span } => {
            let bends = if radius.is_finite() { format!("with a radius of {}", mm(radius)) } else { "at an angle".to_owned() };
            let headline =
                format!("this corner can't be folded: `{panel}.{edge}` bends {bends}, too tightly for its hem of {}", mm(allowance));
            Diagnostic::error("folded-corner-without-hem", headline, span, "")
                .help("A folded corner needs a hem that is straight there, or nearly. Say `mitred` or `square`.")
        }
        CutError::FoldedWithoutHem { first, second, span } => {
            let headline = format!("neither `{first}` nor `{second}` of `{panel}` has a hem to fold");
            Diagnostic::error("folded-corner-without-hem", headline, span, "")
                .help("A folded corner is for an edge finished with a hem. Finish one of the two, or say `mitred` or `square`.")
        }
        other => allowance(panel, other),
    }
}

//! What can go wrong while values are worked out.
//!
//! A mistake that checking or drafting can also find goes by the same code, whoever finds it.

use super::finish::FinishedIn;
use crate::diagnostic::{Diagnostic, nearest};
use crate::quantity::{ArithmeticError, Currency, Length, Quantity, said_apart, said_quantity};
use crate::source::Span;
use crate::syntax::ast::Name;

/// Every code that only this stage reports, drafting's and placing's apart.
pub const CODES: &[&str] = &[
    "not-in-this-case",
    "figure-not-stated",
    "divided-by-nothing",
    "not-a-whole-number",
    "not-positive",
    "too-many",
    "out-of-range",
    "not-a-choice",
    "requirement",
    "hung-too-deep",
    "smooth-impossible",
    "copies-and-count",
    "odd-mirrored-pair",
    "which-part",
    "drill-crosses",
    "hole-in-dart",
    "fold-edge-used",
    "calls-too-deep",
    "finish-out-of-place",
    "finish-by-length",
    "allowance-of-finish",
];

/// An error of evaluation.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum EvalError {
    /// A sine or cosine that no angle has.
    NoAngle { name: &'static str, value: String, span: Span },
    /// A finish of edges by themselves in a seam, an opening or on a piece laid on another.
    FinishForEdges { finish: String, by_edge: bool, place: FinishedIn, span: Span },
    /// A finish of seams on an edge by itself.
    FinishForSeams { finish: String, span: Span },
    /// An allowance or folds that depend on the length of an edge, which is known only once it is drafted.
    FinishByLength { finish: String, edge: String, span: Span },
    /// An allowance said of an edge whose finish takes another.
    AllowanceOfFinish { edges: Vec<String>, width: f64, finish: String, allow: f64, span: Span, finish_at: Span },
    /// A name that means nothing.
    Unknown { name: Name },
    /// A name declared only under `when`s that don't hold here.
    NotInThisCase { name: Name, declared: Option<Span> },
    /// A value that needs itself.
    Cycle { name: String, at: Span },
    /// A value of another kind than the place needs.
    WrongKind { wanted: &'static str, got: String, span: Span },
    /// A parameter asked for before it has its value.
    NotYet { name: Name },
    /// A figure that a material does not state.
    NoFigure { goods: String, figure: Name, declared: Option<Span> },
    /// An edge that a panel does not have in this case.
    NoEdge { owner: String, name: Name, known: Vec<String> },
    /// Arithmetic without an answer.
    Arithmetic { error: ArithmeticError, span: Span },
    /// A count that is none.
    NotACount { value: f64, least: u32, span: Span },
    /// More of something than anyone sews.
    TooMany { what: &'static str, count: f64, most: usize, span: Span },
    /// A size that takes longer to work out than any honest one.
    TooLong { most: usize, span: Span },
    /// A gap that fits nowhere on an edge.
    GapTooWide { on: String, gap: String, room: String, span: Span },
    /// A parameter outside its range.
    OutOfRange { name: String, value: String, from: String, to: String, set_at: Span, declared: Span },
    /// A parameter that is none of its choices.
    NotAChoice { name: String, value: String, choices: Vec<String>, set_at: Span, declared: Span },
    /// A `require` not met.
    Requirement { message: String, condition: String, span: Span, used_at: Option<Span> },
    /// A parameter set to a value of another dimension than its default.
    UnlikeDefault { name: String, wanted: String, got: String, set_at: Span },
    /// `--set` of a parameter that is not there.
    UnknownParameter { name: Name, known: Vec<String> },
    /// An outline that does not come back to its start.
    NotClosed { gap: String, span: Span },
    /// A curve between two ends that are one point.
    NoChord { span: Span },
    /// A hung edge deeper than any cloth hangs.
    HungTooDeep { sag: String, most: String, span: Span },
    /// A smooth arc that would turn too far, or straight back; the angle, if any.
    SmoothTurns { by: Option<String>, span: Span },
    /// A smooth curve whose handle lies on its end.
    SmoothReach { span: Span },
    /// A smooth stroke after strokes of no length.
    SmoothAfterNothing { span: Span },
    /// Names of copies that don't match the count.
    CopyNames { names: usize, count: u32, span: Span },
    /// A mirrored pair of an odd number.
    OddPair { count: u32, span: Span },
    /// A panel cut several times pointed at without saying which copy.
    WhichCopy { name: String, span: Span, copies: Vec<String> },
    /// A split panel pointed at, or a piece of it that is none in the end; `whole` when it is the panel's name.
    WhichPart { panel: String, name: String, whole: bool, known: Vec<String>, span: Span },
    /// A mark of a split panel that lies off all its pieces.
    MarkOffAllPieces { mark: String, panel: String, span: Span },
    /// A strip along the line of a split.
    StripOfSplit { panel: String, split: String, span: Span },
    /// A mark where a hole is cut.
    MarkInHole { mark: String, hole: String, panel: String, span: Span },
    /// A drilled hole without cloth all round: what it runs into.
    DrillCrosses { drill: String, panel: String, into: String, span: Span },
    /// A point or a drilled hole where a panel is split: where it is marked, and where the split is named.
    MarkOnSplit { mark: String, drilled: bool, panel: String, split: String, spans: [Span; 2] },
    /// A hole in the cloth that a dart takes in: where it is made, and where the dart.
    HoleInDart { hole: String, panel: String, edge: String, spans: [Span; 2] },
    /// Something done with the edge on the fold.
    FoldUsed { panel: String, edge: String, what: &'static str, span: Span, fold_span: Span },
    /// Values that need values that need values, beyond all use.
    TooDeep { span: Span },
    /// Something that must be more than nothing.
    NotPositive { what: &'static str, value: String, span: Span },
    /// Work that stopped without a reason of its own.
    Unsaid { span: Span },
}

impl From<EvalError> for Diagnostic {
    fn from(error: EvalError) -> Self {
        match error {
            EvalError::Arithmetic { error, span } => arithmetic(error, span),
            EvalError::OutOfRange { .. }
            | EvalError::NotAChoice { .. }
            | EvalError::UnlikeDefault { .. }
            | EvalError::UnknownParameter { .. }
            | EvalError::Requirement { .. } => parameter(error),
            EvalError::NotClosed { .. }
            | EvalError::NoChord { .. }
            | EvalError::HungTooDeep { .. }
            | EvalError::SmoothTurns { .. }
            | EvalError::SmoothReach { .. }
            | EvalError::SmoothAfterNothing { .. }
            | EvalError::CopyNames { .. }
            | EvalError::OddPair { .. }
            | EvalError::WhichCopy { .. }
            | EvalError::WhichPart { .. }
            | EvalError::MarkOffAllPieces { .. }
            | EvalError::StripOfSplit { .. }
            | EvalError::MarkInHole { .. }
            | EvalError::DrillCrosses { .. }
            | EvalError::MarkOnSplit { .. }
            | EvalError::HoleInDart { .. }
            | EvalError::FoldUsed { .. }
            | EvalError::NoEdge { .. } => panel(error),
            other => value(other),
        }
    }
}

fn value(error: EvalError) -> Diagnostic {
    match error {
        EvalError::Unknown { name } => {
            Diagnostic::error("unknown-name", format!("nothing here is called `{}`", name.text), name.span, "not known")
        }
        EvalError::NotInThisCase { name, declared } => {
            let headline = format!("`{}` is not there in this case", name.text);
            let d = Diagnostic::error("not-in-this-case", headline, name.span, "used here");
            let d = declared.map_or(d.clone(), |at| d.and(at, "declared under a `when` that does not hold"));
            d.help("Put what uses it under the same `when`, or give the other case one too.")
        }
        EvalError::Cycle { name, at } => {
            Diagnostic::error("cycle", format!("`{name}` needs its own value to be worked out"), at, "asked for again here")
                .help("Break the ring: let one of the values stand on its own.")
        }
        EvalError::NotYet { name } => {
            let headline = format!("`{}` has no value yet where this is worked out", name.text);
            Diagnostic::error("cycle", headline, name.span, "asked for too early").help("Set the parameter to a value of its own.")
        }
        EvalError::WrongKind { wanted, got, span } => {
            Diagnostic::error("wrong-kind", format!("this must be {wanted}, and it is {got}"), span, got)
        }
        EvalError::NoFigure { goods, figure, declared } => {
            let headline = format!("`{goods}` does not state its `{}`", figure.text);
            let d = Diagnostic::error("figure-not-stated", headline, figure.span, "not known");
            let d = declared.map_or(d.clone(), |at| d.and(at, "declared here"));
            d.help(format!("Add a line `{} = …` to the material, or give it where the material is called.", figure.text))
        }
        EvalError::NotACount { value, least, span } => {
            let words = said_quantity(Quantity::number(value));
            let headline = format!("this must be a whole number, {least} or more, and it comes to {words}");
            let d = Diagnostic::error("not-a-whole-number", headline, span, words);
            if value < f64::from(least) {
                d.help("If there is none in some sizes, put the line under a `when`.")
            } else {
                d.help("Round it up or down: `ceil(…)` or `floor(…)`.")
            }
        }
        EvalError::TooMany { what, count, most, span } => {
            let count = if count < 1e9 { format!("{count}") } else { "over a thousand million".to_owned() };
            Diagnostic::error("too-many", format!("{count} {what}, and no more than {most} can be worked out"), span, "")
                .help("A unit or a division is most likely wrong here.")
        }
        EvalError::GapTooWide { on, gap, room, span } => {
            Diagnostic::error("gap-too-wide", format!("places {gap} apart fit nowhere on `{on}`, with {room} of room"), span, gap)
                .help("The first stands one gap from where it is measured, the last one must still lie before the other end.")
        }
        EvalError::TooLong { most, span } => {
            Diagnostic::error("too-many", format!("this design takes more than {most} steps to work out"), span, "stopped here").help(
                "Look for a function that calls another one twice, which calls another one twice: let `let`s hold what is needed again.",
            )
        }
        EvalError::TooDeep { span } => {
            Diagnostic::error("calls-too-deep", "this needs a value that needs a value, too many times over", span, "")
                .help("Work it out in fewer steps.")
        }
        EvalError::FinishForEdges { finish, by_edge, place, span } => {
            let (what, instead) = match place {
                FinishedIn::Seam => ("the allowances of a seam", "`felled()`, `overlocked()`, `bound_seam()` and `plain()` are for seams"),
                FinishedIn::Opening => ("an opening", "`edgestitch()` and `slipstitched()` shut openings"),
                FinishedIn::Applied => ("a piece laid on another", "`edgestitch()` and `zigzagged()` sew a piece on"),
            };
            let why = if by_edge { "is for an edge by itself" } else { "does not say how much allowance it needs" };
            Diagnostic::error("finish-out-of-place", format!("`{finish}` {why} and can't finish {what}"), span, "says no `needs`")
                .help(format!("{instead}; a finish of your own for it says `needs` and a length."))
        }
        EvalError::FinishByLength { finish, edge, span } => {
            let headline = format!("what `{finish}` cuts depends on how long `{edge}` comes out, known only once its allowance is drafted");
            Diagnostic::error("finish-by-length", headline, span, "other folds or another allowance than drafted")
                .help("Let the finish take its width as a parameter instead of reading `stretch`, and give each edge its own.")
        }
        EvalError::AllowanceOfFinish { edges, width, finish, allow, span, finish_at } => {
            let (width, allow) = said_apart(Length::mm(width), Length::mm(allow));
            let (last, others) = edges.split_last().map_or(("", &[][..]), |(last, others)| (last.as_str(), others));
            let (named, are, its) = match others {
                [] => (format!("`{last}`"), "is", "its"),
                others => (format!("`{}` and `{last}`", others.join("`, `")), "are", "their"),
            };
            let headline = format!("{named} {are} given an allowance of {width}, and {its} finish, `{finish}`, takes {allow}");
            Diagnostic::error("allowance-of-finish", headline, span, format!("says {width}")).and(finish_at, format!("takes {allow}")).help(
                "A hem's or a binding's allowance is what it folds in. Take the edge out of `allow`, or give the finish the width that comes to it.",
            )
        }
        EvalError::NoAngle { name, value, span } => {
            let headline = format!("`{name}` takes a ratio from -1 to 1, and this one is {value}");
            Diagnostic::error("ratio-out-of-range", headline, span, "no angle has it")
                .help("It is one side of a right triangle over its longest side: look whether the two are the wrong way round.")
        }
        EvalError::FinishForSeams { finish, span } => {
            Diagnostic::error("finish-out-of-place", format!("`{finish}` does not finish an edge by itself"), span, "says no `allow`")
                .help("`rolled_hem()`, `double_hem()`, `bound()` and `overlocked()` finish edges; a finish of your own for them says `allow` and a length.")
        }
        EvalError::NotPositive { what, value, span } => Diagnostic::error("not-positive", format!("{what} can't be {value}"), span, value)
            .help("Look at the figures it is made of; in some size they come out too small. Keep them apart with a `require`."),
        EvalError::Unsaid { span } => Diagnostic::error("wrong-kind", "a part of this design can't be worked out", span, ""),
        // All others are worded elsewhere.
        _ => Diagnostic::error("wrong-kind", "this can't be worked out", Span::default(), ""),
    }
}

fn panel(error: EvalError) -> Diagnostic {
    match error {
        EvalError::NotClosed { gap, span } => {
            Diagnostic::error("outline-open", format!("the outline does not come back to its start: {gap} is open"), span, "ends here")
                .help("Let the last edge end in `to start`.")
        }
        EvalError::NoChord { span } => Diagnostic::error("zero-length-edge", "this curve begins and ends at one point", span, "no length")
            .help("In this size its ends fall together: keep them apart with a `require`, or leave the edge out with a `when`."),
        EvalError::HungTooDeep { sag, most, span } => {
            Diagnostic::error("hung-too-deep", format!("this edge hangs {sag} deep; no more than {most} can be worked out"), span, sag)
                .help("A sag is a length, or a share of the straight line between the ends: `sag 4%`.")
        }
        EvalError::SmoothTurns { by, span } => {
            let headline = match &by {
                Some(by) => format!("to join smoothly this arc would have to turn by {by}; a half circle is the most"),
                None => "this arc would have to go straight back, and can't join smoothly".to_owned(),
            };
            Diagnostic::error("smooth-impossible", headline, span, "its end lies behind")
                .help("It leaves in the direction in which the stroke before it arrives: move its end, or say its bend yourself, `rise …`.")
        }
        EvalError::SmoothReach { span } => {
            let headline = "the handle of this curve lies on its end, so it can't join smoothly";
            Diagnostic::error("smooth-impossible", headline, span, "no room to bend")
                .help("The curve runs on before it bends by as far as the handle lies from its end: move the handle off it.")
        }
        EvalError::SmoothAfterNothing { span } => {
            let headline = "the strokes before this one have no length, so there is no direction to run on in";
            Diagnostic::error("smooth-impossible", headline, span, "smooth with what?")
                .help("In this size their ends fall together: keep them apart with a `require`.")
        }
        EvalError::CopyNames { names, count, span } => {
            let (cut, named) = (pieces(f64::from(count)), if names == 1 { "1 name is".to_owned() } else { format!("{names} names are") });
            Diagnostic::error("copies-and-count", format!("{cut} cut, and {named} given"), span, "")
                .help("Give one name for each piece, or no names at all.")
        }
        EvalError::OddPair { count, span } => {
            let headline = format!("{} cut, which makes no mirrored pairs", pieces(f64::from(count)));
            Diagnostic::error("odd-mirrored-pair", headline, span, "an even number is needed")
                .help("Half of the pieces are cut as drawn and half turned over.")
        }
        EvalError::WhichCopy { name, span, copies } => which_copy(&name, span, &copies),
        EvalError::WhichPart { panel, name, whole, known, span } => {
            let headline = match whole {
                true => format!("`{name}` is split: say which of its pieces is meant"),
                false => format!("`{name}` is no piece of `{panel}` here: it is split again, or not made in this case"),
            };
            let d = Diagnostic::error("which-part", headline, span, "which piece?").help(format!("Its pieces are {}.", quoted(&known)));
            match known.first().filter(|_| whole) {
                Some(first) => d.edit(span, first.clone()),
                None => d,
            }
        }
        EvalError::MarkOffAllPieces { mark, panel, span } => {
            Diagnostic::error("mark-outside", format!("`{mark}` lies off `{panel}`"), span, "no cloth here")
        }
        EvalError::StripOfSplit { panel, split, span } => {
            let headline = format!("`{split}` is where `{panel}` is split, and no edge of its outline");
            Diagnostic::error("edge-not-here", headline, span, "a split")
                .help(format!("A strip to cover that seam is a rectangle as long as `{panel}.{split}.length`."))
        }
        EvalError::MarkInHole { mark, hole, panel, span } => {
            let headline = format!("`{mark}` lies in the hole `{hole}` of `{panel}`");
            Diagnostic::error("mark-outside", headline, span, "no cloth here").help("Set it beside the hole.")
        }
        EvalError::DrillCrosses { drill, panel, into, span } => {
            Diagnostic::error("drill-crosses", format!("the drilled hole `{drill}` of `{panel}` runs into {into}"), span, "")
                .help("Move it, or drill it narrower: there must be cloth all round a drilled hole.")
        }
        EvalError::MarkOnSplit { mark, drilled, panel, split, spans: [span, split_at] } => {
            let (code, headline) = if drilled {
                ("drill-crosses", format!("the drilled hole `{mark}` of `{panel}` runs into the split `{split}`"))
            } else {
                ("mark-outside", format!("`{mark}` lies on the split `{split}` of `{panel}`, which is the edge of two pieces"))
            };
            beside(Diagnostic::error(code, headline, span, "on the line of the split"), split_at, "split here").help(format!(
                "Move it onto one of the pieces. A place on the split is shown by a notch, cut into both: `notch {split} at …`."
            ))
        }
        EvalError::HoleInDart { hole, panel, edge, spans: [span, dart] } => {
            let headline = format!("`{hole}` lies in the cloth that a dart takes out of `{panel}.{edge}`");
            beside(Diagnostic::warning("hole-in-dart", headline, span, "folded away"), dart, "this dart").help(
                "Once the dart is sewn the hole is behind the seam. Move it past the legs; one drilled hole may mark the dart's middle line.",
            )
        }
        EvalError::FoldUsed { panel, edge, what, span, fold_span } => {
            let headline = format!("`{panel}.{edge}` lies on the fold: it is no edge of the piece, and can't have {what}");
            beside(Diagnostic::error("fold-edge-used", headline, span, ""), fold_span, "placed on the fold here")
                .help("Leave it out here; or, if the piece is to have a seam there, take the fold away and cut a mirrored pair.")
        }
        EvalError::NoEdge { owner, name, known } => {
            let d = Diagnostic::error("edge-not-here", format!("`{owner}` has no edge `{}`", name.text), name.span, "not one of its edges")
                .help(format!("In this case its edges are {}.", quoted(&known)));
            match nearest(&name.text, known.iter().map(String::as_str)) {
                Some(n) => d.edit(name.span, n),
                None => d,
            }
        }
        other => value(other),
    }
}

/// A second label, unless the first lies inside it.
fn beside(d: Diagnostic, at: Span, label: &str) -> Diagnostic {
    let inside = |s: Span| s.file == at.file && at.start <= s.start && s.end <= at.end;
    if d.labels.iter().any(|l| inside(l.span)) { d } else { d.and(at, label) }
}

fn either(words: &[String]) -> String {
    let words: Vec<String> = words.iter().map(|w| format!("`{w}`")).collect();
    match words.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        all => all.join(", "),
    }
}

fn pieces(count: f64) -> String {
    if count == 1.0 { "1 piece is".to_owned() } else { format!("{count} pieces are") }
}

fn quoted(names: &[String]) -> String {
    names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ")
}

fn which_copy(name: &str, span: Span, copies: &[String]) -> Diagnostic {
    let headline = format!("`{name}` is cut {} times: say which of them is meant", copies.len());
    let d = Diagnostic::error("which-copy", headline, span, "which copy?");
    match copies.iter().find(|c| !c.is_empty()) {
        None => {
            d.help(format!("Name the pieces where they are cut, `cut {} of … as outer, inner`, and use one of these names.", copies.len()))
        }
        Some(first) => d.help(format!("Its copies are {}.", quoted(copies))).edit(span, first.clone()),
    }
}

fn parameter(error: EvalError) -> Diagnostic {
    match error {
        EvalError::OutOfRange { name, value, from, to, set_at, declared } => {
            let headline = format!("`{name}` is {value}, and it may be from {from} to {to}");
            beside(Diagnostic::error("out-of-range", headline, set_at, value), declared, "its range")
                .help("Choose a value in its range, or widen the range where the parameter is declared.")
        }
        EvalError::NotAChoice { name, value, choices, set_at, declared } => {
            let d = Diagnostic::error("not-a-choice", format!("`{name}` can't be {value}"), set_at, value.clone());
            let d = beside(d, declared, "its choices").help(format!("It may be {}.", either(&choices)));
            match nearest(&value, choices.iter().map(String::as_str)) {
                Some(n) => d.edit(set_at, n),
                None => d,
            }
        }
        EvalError::UnlikeDefault { name, wanted, got, set_at } => {
            Diagnostic::error("dimension-mismatch", format!("`{name}` is {wanted}, and this is {got}"), set_at, got)
        }
        EvalError::UnknownParameter { name, known } => {
            let d = Diagnostic::error("unknown-name", format!("the design has no parameter `{}`", name.text), name.span, "not known").help(
                if known.is_empty() { "It has no parameters.".to_owned() } else { format!("Its parameters are {}.", quoted(&known)) },
            );
            match nearest(&name.text, known.iter().map(String::as_str)) {
                Some(n) => d.edit(name.span, n),
                None => d,
            }
        }
        EvalError::Requirement { message, condition, span, used_at } => {
            let d = match used_at {
                Some(at) => Diagnostic::error("requirement", message, at, "used here").and(span, "required here"),
                None => Diagnostic::error("requirement", message, span, ""),
            };
            d.help(format!("What is required: {condition}."))
        }
        other => value(other),
    }
}

fn arithmetic(error: ArithmeticError, span: Span) -> Diagnostic {
    match error {
        ArithmeticError::Unlike(a, b) => {
            let headline = format!("{} and {} can't be added or compared", a.describe(), b.describe());
            Diagnostic::error("dimension-mismatch", headline, span, "the two meet here")
        }
        ArithmeticError::Currencies(a, b) => {
            let headline = format!("{} and {} can't be put together", money(a), money(b));
            Diagnostic::error("currencies-mixed", headline, span, "the two meet here")
                .help("Give all prices of a design in one currency; no rate of exchange is known here.")
        }
        ArithmeticError::TemperaturePoint => {
            Diagnostic::error("temperature-reading", "a thermometer reading can't be used like this", span, "")
                .help("A difference of two readings can: write it in `K`.")
        }
        ArithmeticError::Root(d, n) => {
            let root = if n == 2 { "square" } else { "cube" };
            Diagnostic::error("impossible-root", format!("{} has no {root} root", d.describe()), span, d.describe())
        }
        ArithmeticError::PowerTooHigh => Diagnostic::error("power-too-high", "this power means nothing in cloth", span, ""),
        ArithmeticError::NotANumber => {
            let headline = "this has no value: a division by nothing, a root of less than nothing, or a figure far too large";
            Diagnostic::error("divided-by-nothing", headline, span, "no value")
                .help("Look which of its figures can reach 0 in some size, and keep it above with a `require`.")
        }
    }
}

fn money(c: Currency) -> String {
    String::from_utf8_lossy(&c.0).into_owned()
}

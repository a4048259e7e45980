//! What goes wrong inside panels and components.

use crate::diagnostic::Diagnostic;
use crate::quantity::said_example;
use crate::source::Span;

/// Inside a panel or a component.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum ConstructError {
    /// Something that may be said once is said again.
    SaidTwice { what: String, first: Span, second: Span },
    /// A panel without an outline; `partly` when only some cases lack it.
    NoShape { panel: String, span: Span, partly: bool },
    /// A panel that does not say what it is cut from.
    NoCut { panel: String, span: Span, partly: bool },
    /// A component that does not say what it sits on.
    NoSits { component: String, span: Span },
    /// A pair set on edges one by one.
    PairNeedsBetween { component: String, span: Span },
    /// A component that is no pair set between two edges.
    NotAPair { component: String, span: Span },
    /// A component for single places set along a stretch.
    SitsAtPlaces { component: String, span: Span, declared: Option<Span> },
    /// A component for a stretch set at single places.
    SitsAlongStretch { component: String, span: Span, declared: Option<Span> },
    /// An edge renamed to what another edge is called.
    EdgeTaken { name: String, span: Span },
    /// A split of a piece that no split makes.
    NoSuchPart { panel: String, part: String, known: Vec<String>, span: Span },
    /// A split in a component's panel.
    SplitInComponent { panel: String, span: Span },
    /// A range on something that has no order.
    RangeOnWords { name: String, span: Span, is: String },
}

impl From<ConstructError> for Diagnostic {
    fn from(error: ConstructError) -> Self {
        match error {
            ConstructError::SaidTwice { what, first, second } => {
                Self::error("said-twice", format!("{what} is said twice"), second, "again here")
                    .and(first, "first here")
                    .help("leave one of them out")
            }
            ConstructError::NoShape { panel, span, partly } => {
                let headline = format!("panel `{panel}` has no outline{}", in_some_cases(partly));
                Self::error("panel-without-shape", headline, span, "no `shape` here").help(said_example(
                    "give it one: `shape rectangle(width: 60 cm, height: 2 m)`, or the outline of another panel: `shape as shell`",
                ))
            }
            ConstructError::NoCut { panel, span, partly } => {
                let headline = format!("panel `{panel}` is cut from nothing{}", in_some_cases(partly));
                Self::error("panel-without-cut", headline, span, "no `cut` here").help("say how many and of what: `cut 2 of skin`")
            }
            ConstructError::EdgeTaken { name, span } => {
                let headline = format!("this panel already has an edge called `{name}`");
                Self::error("name-declared-twice", headline, span, "taken").help("choose another name, or rename the other edge as well")
            }
            ConstructError::NoSuchPart { panel, part, known, span } => {
                let headline = format!("no split of panel `{panel}` makes a piece called `{part}`");
                let error = Self::error("no-such-part", headline, span, "no such piece");
                match known.is_empty() {
                    true => error.help("leave `of …` out: the first split cuts the panel itself"),
                    false => error.help(format!("its other splits make {}", super::all_of(&known))),
                }
            }
            ConstructError::SplitInComponent { panel, span } => {
                let headline = format!("panel `{panel}` belongs to a component, and what a component brings can't be split");
                Self::error("split-in-component", headline, span, "a split").help("draw its parts as panels of their own")
            }
            ConstructError::RangeOnWords { name, span, is } => {
                let headline = format!("`{name}` is {is}, and only measures and numbers have a range");
                Self::error("range-without-order", headline, span, "a range").help("list what it may be: `one of a, b, c`")
            }
            ConstructError::NoSits { component, span } => {
                let headline = format!("component `{component}` does not say what it sits on");
                Self::error("component-without-sits", headline, span, "no `sits` here").help(
                    "write `sits at places` for something set here and there, `sits along stretch` for something that runs along an edge",
                )
            }
            ConstructError::PairNeedsBetween { component, span } => {
                let headline = format!("`{component}` has two halves, and each needs an edge");
                Self::error("pair-needs-between", headline, span, "only one edge at a time here")
                    .help("name both edges: `between outer.left and outer.right`")
            }
            ConstructError::NotAPair { component, span } => {
                let headline = format!("`{component}` has no two halves to set between two edges");
                Self::error("not-a-pair", headline, span, "`between` two edges").help("set one on each: `on outer.left, outer.right`")
            }
            ConstructError::SitsAtPlaces { component, span, declared } => {
                let headline = format!("`{component}` sits at single places, not along a stretch");
                let error = Self::error("wrong-place", headline, span, "a stretch");
                with_declaration(error, declared).help(said_example("say where: `at 25 cm, 60 cm from head on …`, `spaced 4 evenly on …`"))
            }
            ConstructError::SitsAlongStretch { component, span, declared } => {
                let headline = format!("`{component}` runs along an edge, and can't sit at a single place");
                let error = Self::error("wrong-place", headline, span, "single places");
                with_declaration(error, declared)
                    .help(said_example("say how far: `over 45 cm from foot on …`, or from end to end: `along …`"))
            }
        }
    }
}

fn in_some_cases(partly: bool) -> &'static str {
    if partly { " in some cases" } else { "" }
}

fn with_declaration(error: Diagnostic, declared: Option<Span>) -> Diagnostic {
    match declared {
        Some(span) => error.and(span, "said here"),
        None => error,
    }
}

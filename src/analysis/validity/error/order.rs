//! Steps that wait for each other.

use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// One step of a ring.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) struct Waiting {
    /// Its name and what it is.
    pub(in crate::analysis::validity) step: String,
    /// Why it waits for the next.
    pub(in crate::analysis::validity) because: String,
    /// Whether that is only asked for.
    pub(in crate::analysis::validity) asked: bool,
    /// Where it is asked for.
    pub(in crate::analysis::validity) at: Span,
}

/// No order of sewing.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::analysis::validity) enum OrderError {
    /// Each waits for the next, the last for the first. Never empty.
    Cycle(Vec<Waiting>),
}

/// A ring longer than this is told with its middle left out.
const MOST_TOLD: usize = 12;

/// More wishes than these are not told one by one.
const MOST_WISHES: usize = 4;

impl From<OrderError> for Diagnostic {
    fn from(error: OrderError) -> Self {
        let OrderError::Cycle(ring) = error;
        let mut steps: Vec<String> = ring.iter().take(MOST_TOLD).map(|w| w.step.clone()).collect();
        if ring.len() > MOST_TOLD {
            steps.push(format!("… {} more …", ring.len() - MOST_TOLD));
        }
        let first = ring.first();
        steps.extend(first.map(|w| w.step.clone()));
        let headline = format!("no order of sewing is possible: {}", steps.join(" waits for "));
        let label = |w: &Waiting| format!("waits, because {}", w.because);
        let mut found = Self::error("order-cycle", headline, first.map(|w| w.at).unwrap_or_default(), first.map(label).unwrap_or_default());
        for waiting in ring.iter().skip(1).take(MOST_TOLD) {
            found = found.and(waiting.at, label(waiting));
        }
        let next = |i: usize| ring.get((i + 1) % ring.len()).map(|w| w.step.as_str()).unwrap_or_default();
        let asked = ring.iter().enumerate().filter(|(_, w)| w.asked);
        let wishes: Vec<String> = asked.map(|(at, wish)| format!("{} comes after {}", wish.step, next(at))).collect();
        match wishes.as_slice() {
            [wish] => found.help(format!(
                "All but one of these follow from the work itself. What can give way is the wish that {wish}: take out the `after` or \
                 `before` that says so."
            )),
            [first, others @ ..] if others.len() < MOST_WISHES => found.help(format!(
                "What can give way is one of the wishes: that {first}, or that {}. Take out the `after` or `before` that says so.",
                others.join(", or that ")
            )),
            _ => found.help("Take one `after` or `before` out of the ring, or sew one of these edges in another seam."),
        }
    }
}

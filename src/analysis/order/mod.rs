//! The sewing order: every operation once, none before what it must follow.
//!
//! Where the design leaves a choice, the trade's habits decide: bench work before machine work,
//! small parts before big, flat work before tubes ([`OperationKind`] stands in that order), and
//! then the order of the source. The same design always gives the same order.

use crate::analysis::report::{OrderReport, OrderStep, WhyNow};
use crate::ir::{Design, Operation, OperationId, OperationKind, SeamForm, Subject};
use crate::source::Span;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

/// The sewing order of a design. Steps that wait for each other in a ring (an error of its own)
/// come last, in source order.
#[must_use]
pub fn order(design: &Design) -> OrderReport {
    let sequence = sequence(design);
    let mut numbers = BTreeMap::new();
    for (number, id) in (1u32..).zip(&sequence) {
        numbers.insert(*id, number);
    }
    let reasons = reasons(design, &numbers);
    let step = |id: &OperationId| {
        let op = design.operations.get(id.index())?;
        Some(OrderStep {
            number: numbers.get(id).copied()?,
            operation: *id,
            what: op.what.clone(),
            places: op.places.clone(),
            edge_names: op.places.iter().map(|p| design.edge_name(&p.side)).collect(),
            facing: op.facing.clone(),
            stitch: op.stitch.clone(),
            sewn: op.sewn,
            why_now: reasons.get(id).cloned(),
        })
    };
    OrderReport { steps: sequence.iter().filter_map(step).collect(), cautions: design.cautions.clone() }
}

/// What decides between operations that could both come next.
type Rank = (OperationKind, bool, Span, OperationId);

fn rank(design: &Design, id: OperationId, op: &Operation) -> Rank {
    (op.kind, closes_tube(design, op), op.origin, id)
}

/// Whether it joins a piece to itself, after which it no longer lies flat.
fn closes_tube(design: &Design, op: &Operation) -> bool {
    let Subject::Seam(seam) = op.subject else { return false };
    let Some(SeamForm::Join(join)) = design.seams.get(seam.index()).map(|s| &s.form) else { return false };
    join.closes_tube()
}

fn sequence(design: &Design) -> Vec<OperationId> {
    let count = design.operations.len();
    let mut waiting: BTreeMap<OperationId, BTreeSet<OperationId>> = BTreeMap::new();
    let mut followers: BTreeMap<OperationId, Vec<OperationId>> = BTreeMap::new();
    let mut ready = BinaryHeap::new();
    for (index, op) in design.operations.iter().enumerate() {
        let id = OperationId::at(index);
        let before: BTreeSet<_> = op.after.iter().map(|a| a.operation).filter(|b| b.index() < count).collect();
        for first in &before {
            followers.entry(*first).or_default().push(id);
        }
        if before.is_empty() {
            ready.push(Reverse(rank(design, id, op)));
        } else {
            waiting.insert(id, before);
        }
    }
    let mut sequence = Vec::with_capacity(count);
    while let Some(Reverse((.., done))) = ready.pop() {
        sequence.push(done);
        for next in followers.get(&done).into_iter().flatten() {
            let Some(before) = waiting.get_mut(next) else { continue };
            before.remove(&done);
            if before.is_empty() {
                waiting.remove(next);
                if let Some(op) = design.operations.get(next.index()) {
                    ready.push(Reverse(rank(design, *next, op)));
                }
            }
        }
    }
    let mut stuck: Vec<_> = waiting.into_keys().collect();
    stuck.sort_by_key(|id| (design.operations.get(id.index()).map(|op| op.origin), *id));
    sequence.extend(stuck);
    sequence
}

/// For each operation, the first later step that needs it and why.
fn reasons(design: &Design, numbers: &BTreeMap<OperationId, u32>) -> BTreeMap<OperationId, WhyNow> {
    let mut reasons: BTreeMap<OperationId, WhyNow> = BTreeMap::new();
    for (index, op) in design.operations.iter().enumerate() {
        let Some(&later) = numbers.get(&OperationId::at(index)) else { continue };
        for after in &op.after {
            if numbers.get(&after.operation).is_none_or(|&earlier| earlier >= later) {
                continue;
            }
            let sooner = reasons.get(&after.operation).is_none_or(|known| later < known.before);
            if sooner {
                reasons.insert(after.operation, WhyNow { before: later, because: after.because.clone() });
            }
        }
    }
    reasons
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::sample::{Sample, quilt, tarp};

    fn names(design: &Design) -> Vec<String> {
        let report = order(design);
        let op = |s: &OrderStep| design.operations.get(s.operation.index()).map(|o| format!("{} {}", o.kind.words(), o.name));
        report.steps.iter().filter_map(op).collect()
    }

    #[test]
    fn a_quilt_in_the_order_it_is_sewn() {
        let (s, _) = quilt();
        assert_eq!(
            names(&s.design),
            [
                "cut batt",
                "cut shell",
                "prepare loops",
                "set in place zip",
                "set in place loops",
                "sew the stack bag",
                "turn bag",
                "close bag"
            ]
        );
    }

    #[test]
    fn each_step_says_what_needs_it_first() {
        let (s, _) = quilt();
        let report = order(&s.design);
        let why: Vec<_> = report.steps.iter().map(|s| s.why_now.as_ref().map(|w| (w.before, w.because.as_str()))).collect();
        assert_eq!(
            why,
            [
                Some((6, "the batt lies in the stack")),
                Some((4, "the edge must be cut")),
                Some((5, "the loops must be ready to be set")),
                Some((6, "the seam catches its tapes")),
                Some((6, "the seam catches their ends")),
                Some((7, "only a sewn bag can be turned")),
                Some((8, "once closed it can't be turned")),
                None,
            ]
        );
        assert_eq!(report.cautions.len(), 1);
    }

    #[test]
    fn every_step_follows_all_it_must_and_stands_once() {
        let (s, _) = quilt();
        let report = order(&s.design);
        let mut done = BTreeSet::new();
        for step in &report.steps {
            let op = s.design.operations.get(step.operation.index()).expect("an operation");
            assert!(op.after.iter().all(|a| done.contains(&a.operation)));
            assert!(done.insert(step.operation));
        }
        assert_eq!(done.len(), s.design.operations.len());
    }

    #[test]
    fn flat_work_comes_before_tubes() {
        let (mut s, half, ridge) = tarp();
        let (a, b) = (s.side(half, Some(0), "head"), s.side(half, Some(0), "foot"));
        let tube = s.join("tube", a, b);
        // The tube stands first in the source.
        s.operation("tube", OperationKind::Join, Subject::Seam(tube), "Join head to foot.");
        s.operation("ridge", OperationKind::Join, Subject::Seam(ridge), "Join the ridge.");
        assert_eq!(names(&s.design), ["join ridge", "join tube"]);
    }

    #[test]
    fn nothing_else_deciding_the_source_does() {
        let mut s = Sample::new("steps", "Steps");
        for name in ["c", "a", "b"] {
            s.operation(name, OperationKind::Extra, Subject::Whole, name);
        }
        assert_eq!(names(&s.design), ["step c", "step a", "step b"]);
        s.design.operations.reverse();
        assert_eq!(names(&s.design), ["step c", "step a", "step b"]);
    }

    #[test]
    fn a_ring_is_left_for_last_and_nothing_is_lost() {
        let (mut s, _) = quilt();
        let first = s.operation("x", OperationKind::Extra, Subject::Whole, "x");
        let second = s.operation("y", OperationKind::Extra, Subject::Whole, "y");
        s.after(first, second, "y makes room");
        s.after(second, first, "x makes room");
        let cut = OperationId::at(7);
        s.after(cut, cut, "it waits for itself");
        let report = order(&s.design);
        assert_eq!(report.steps.len(), s.design.operations.len());
        // Nobody names an operation that is not there.
        s.after(first, OperationId(99), "nothing");
        assert_eq!(order(&s.design).steps.len(), s.design.operations.len());
    }

    proptest::proptest! {
        #[test]
        fn any_graph_is_told_once_and_in_order(links in proptest::collection::vec((0usize..24, 0usize..24), 0..60)) {
            let mut s = Sample::new("any", "Any");
            let ids: Vec<_> = (0..24).map(|n| s.operation(&n.to_string(), OperationKind::Extra, Subject::Whole, "x")).collect();
            for (later, earlier) in &links {
                if let (Some(a), Some(b)) = (ids.get(*later), ids.get(*earlier)) {
                    s.after(*a, *b, "it says so");
                }
            }
            let report = order(&s.design);
            let place = |n: usize| report.steps.iter().position(|step| step.operation.index() == n).expect("every step is told");
            proptest::prop_assert_eq!(report.steps.len(), 24);
            // An order exists when steps that nothing holds back can be taken away until none is left.
            let mut left: BTreeSet<usize> = (0..24).collect();
            while let Some(free) = left.iter().copied().find(|n| !links.iter().any(|(a, b)| a == n && left.contains(b))) {
                left.remove(&free);
            }
            if left.is_empty() {
                for (later, earlier) in &links {
                    proptest::prop_assert!(place(*earlier) < place(*later));
                }
            }
            let mut problems = crate::diagnostic::Problems::default();
            crate::analysis::validity::check(&s.design, &mut problems);
            proptest::prop_assert_eq!(problems.has_errors(), !left.is_empty());
        }
    }
}

//! Steps that wait for each other.

use super::error::{OrderError, Waiting};
use crate::diagnostic::Problems;
use crate::ir::{Design, OperationId};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Seen {
    Never,
    OnTheWay,
    Done,
}

/// Reports a ring for each set of steps that can't be ordered.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    let count = design.operations.len();
    let mut seen = vec![Seen::Never; count];
    for start in 0..count {
        if seen.get(start) == Some(&Seen::Never)
            && let Some(ring) = walk(design, start, &mut seen)
        {
            problems.push(OrderError::Cycle(told(design, &ring)));
        }
    }
}

/// Follows what each step waits for, with a stack of its own; the first ring met.
fn walk(design: &Design, start: usize, seen: &mut [Seen]) -> Option<Vec<usize>> {
    let mut path: Vec<(usize, usize)> = vec![(start, 0)];
    let mut ring = None;
    set(seen, start, Seen::OnTheWay);
    while let Some((at, next)) = path.pop() {
        let Some(after) = design.operations.get(at).and_then(|op| op.after.get(next)) else {
            set(seen, at, Seen::Done);
            continue;
        };
        path.push((at, next + 1));
        let first = after.operation.index();
        match seen.get(first) {
            Some(Seen::Never) => {
                set(seen, first, Seen::OnTheWay);
                path.push((first, 0));
            }
            Some(Seen::OnTheWay) if ring.is_none() => {
                ring = Some(path.iter().map(|(step, _)| *step).skip_while(|step| *step != first).collect());
            }
            _ => {}
        }
    }
    ring
}

fn set(seen: &mut [Seen], at: usize, state: Seen) {
    if let Some(slot) = seen.get_mut(at) {
        *slot = state;
    }
}

fn told(design: &Design, ring: &[usize]) -> Vec<Waiting> {
    let next = ring.iter().cycle().skip(1);
    let one = |(at, next): (&usize, &usize)| {
        let op = design.operations.get(*at)?;
        let after = op.after.iter().find(|a| a.operation == OperationId::at(*next));
        let (because, asked) = (after.map(|a| a.because.clone()), after.is_some_and(|a| a.asked));
        Some(Waiting { step: format!("{} `{}`", op.kind.words(), op.name), because: because.unwrap_or_default(), asked, at: op.origin })
    };
    ring.iter().zip(next).filter_map(one).collect()
}

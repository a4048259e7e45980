//! What needs what: an order in which each thing comes after all it needs, and the rings that have none.

use super::error::NameError;
use crate::source::Span;
use indexmap::IndexSet;

/// One thing needing another.
#[derive(Debug, Clone)]
pub(super) struct Need {
    /// What is needed.
    pub to: usize,
    /// Where.
    pub span: Span,
    /// As written there: `shell.left.length`.
    pub text: String,
}

/// Things by number, and what each needs.
pub(super) struct Graph<'n> {
    /// What each needs.
    pub needs: Vec<Vec<Need>>,
    /// What each is called.
    pub name: &'n dyn Fn(usize) -> String,
}

/// The outcome of [`Graph::sort`].
#[derive(Default)]
pub(super) struct Sorted {
    /// Each after all it needs, rings cut open somewhere.
    pub order: Vec<usize>,
    /// Everything that stands in a ring.
    pub ringed: IndexSet<usize>,
    /// Each ring once.
    pub rings: Vec<NameError>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    New,
    Open,
    Done,
}

struct Visit<'g> {
    node: usize,
    next: usize,
    by: Option<&'g Need>,
}

impl Graph<'_> {
    /// Depth first, without recursion: a chain of ten thousand `let`s is no reason to run out of stack.
    pub(super) fn sort(&self) -> Sorted {
        let mut sorted = Sorted::default();
        let mut state = vec![State::New; self.needs.len()];
        for start in 0..self.needs.len() {
            if state.get(start) != Some(&State::New) {
                continue;
            }
            set(&mut state, start, State::Open);
            let mut path = vec![Visit { node: start, next: 0, by: None }];
            while let Some(visit) = path.last_mut() {
                let (node, next) = (visit.node, visit.next);
                visit.next += 1;
                let Some(need) = self.needs.get(node).and_then(|all| all.get(next)) else {
                    set(&mut state, node, State::Done);
                    sorted.order.push(node);
                    path.pop();
                    continue;
                };
                match state.get(need.to) {
                    Some(State::New) => {
                        set(&mut state, need.to, State::Open);
                        path.push(Visit { node: need.to, next: 0, by: Some(need) });
                    }
                    Some(State::Open) => self.note_ring(&path, need, &mut sorted),
                    _ => {}
                }
            }
        }
        sorted
    }

    fn note_ring(&self, path: &[Visit<'_>], closing: &Need, sorted: &mut Sorted) {
        let from = path.iter().position(|v| v.node == closing.to).unwrap_or(0);
        let ring = path.get(from..).unwrap_or_default();
        let known = ring.iter().any(|v| sorted.ringed.contains(&v.node));
        sorted.ringed.extend(ring.iter().map(|v| v.node));
        if known {
            return;
        }
        let (mut chain, mut links) = (vec![(self.name)(closing.to)], Vec::new());
        let needs = ring.iter().skip(1).filter_map(|v| v.by).chain(std::iter::once(closing));
        for (need, needing) in needs.zip(ring) {
            let needed = (self.name)(need.to);
            links.push((need.span, (self.name)(needing.node), need.text.clone()));
            if need.text != needed {
                chain.push(need.text.clone());
            }
            chain.push(needed);
        }
        sorted.rings.push(NameError::Cycle { chain, links });
    }
}

fn set(state: &mut [State], at: usize, to: State) {
    if let Some(slot) = state.get_mut(at) {
        *slot = to;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sort(needs: &[&[usize]]) -> Sorted {
        let need = |to: &usize| Need { to: *to, span: Span::default(), text: to.to_string() };
        let needs = needs.iter().map(|all| all.iter().map(need).collect()).collect();
        Graph { needs, name: &|i| i.to_string() }.sort()
    }

    #[test]
    fn what_is_needed_comes_first() {
        let sorted = sort(&[&[1, 2], &[2], &[]]);
        assert_eq!(sorted.order, [2, 1, 0]);
        assert!(sorted.rings.is_empty() && sorted.ringed.is_empty());
    }

    #[test]
    fn each_ring_is_told_once_in_order() {
        let sorted = sort(&[&[1], &[2], &[0, 1], &[3]]);
        let chains: Vec<_> = sorted
            .rings
            .iter()
            .map(|ring| match ring {
                NameError::Cycle { chain, .. } => chain.join(">"),
                _ => String::new(),
            })
            .collect();
        assert_eq!(chains, ["0>1>2>0", "3>3"]);
        assert_eq!(sorted.order.len(), 4);
    }

    #[test]
    fn a_long_chain_does_not_run_out_of_stack() {
        let needs: Vec<Vec<Need>> = (0..200_000_usize)
            .map(|i| if i + 1 < 200_000 { vec![Need { to: i + 1, span: Span::default(), text: String::new() }] } else { Vec::new() })
            .collect();
        let sorted = Graph { needs, name: &|i| i.to_string() }.sort();
        assert_eq!(sorted.order.first(), Some(&199_999));
    }
}

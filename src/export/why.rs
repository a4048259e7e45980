//! How a figure came about: the chain from it back to the lines and parameters that made it.

use crate::ir::{Provenance, TraceId, TraceNode};
use serde::Serialize;
use std::collections::BTreeSet;

/// The chain behind a value that can be asked for by name, a line a step, what it was made from
/// set in under it. A step that several values share is told once. None when nothing has that name.
#[must_use]
pub fn text(provenance: &Provenance, name: &str) -> Option<String> {
    let mut out = String::new();
    walk(provenance, provenance.fact(name)?, |node, depth, told| {
        let how = if node.how.is_empty() { String::new() } else { format!(" ← {}", one_line(&node.how)) };
        let place = if node.place.is_empty() { String::new() } else { format!(" ({})", node.place) };
        let (indent, what) = ("  ".repeat(depth), one_line(&node.what));
        let line = if told {
            format!("{indent}{what}: {} (see above)", node.value)
        } else {
            format!("{indent}{what}: {}{how}{place}", node.value)
        };
        out.push_str(line.trim_end());
        out.push('\n');
    });
    Some(out)
}

/// The same chain as JSON: a list of steps, the value first, each with the numbers of those it was made from.
#[must_use]
pub fn json(provenance: &Provenance, name: &str) -> Option<String> {
    let mut steps = Vec::new();
    walk_ids(provenance, provenance.fact(name)?, |id, node, _, told| {
        if !told {
            steps.push(Step {
                id: id.0,
                what: &node.what,
                how: &node.how,
                value: &node.value,
                number: node.number,
                place: &node.place,
                inputs: node.inputs.iter().map(|i| i.0).collect(),
            });
        }
    });
    let mut text = serde_json::to_string_pretty(&steps).ok()?;
    text.push('\n');
    Some(text)
}

#[derive(Serialize)]
struct Step<'a> {
    id: u32,
    what: &'a str,
    how: &'a str,
    value: &'a str,
    number: Option<f64>,
    place: &'a str,
    inputs: Vec<u32>,
}

fn walk<'p>(provenance: &'p Provenance, from: TraceId, mut visit: impl FnMut(&'p TraceNode, usize, bool)) {
    walk_ids(provenance, from, |_, node, depth, told| visit(node, depth, told));
}

/// Depth first, each step once; `visit` is told whether it has come before. Chains can be long, so no recursion.
fn walk_ids<'p>(provenance: &'p Provenance, from: TraceId, mut visit: impl FnMut(TraceId, &'p TraceNode, usize, bool)) {
    let mut told = BTreeSet::new();
    let mut todo = vec![(from, 0)];
    while let Some((id, depth)) = todo.pop() {
        let Some(node) = provenance.node(id) else { continue };
        let first = told.insert(id);
        visit(id, node, depth, !first);
        if first {
            todo.extend(node.inputs.iter().rev().map(|input| (*input, depth + 1)));
        }
    }
}

/// An expression may be written over several lines.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::Fact;

    fn node(what: &str, how: &str, value: &str, place: &str, inputs: &[TraceId]) -> TraceNode {
        TraceNode {
            what: what.into(),
            how: how.into(),
            value: value.into(),
            number: None,
            origin: None,
            place: place.into(),
            inputs: inputs.to_vec(),
        }
    }

    fn sample() -> Provenance {
        let mut p = Provenance::default();
        let stature = p.add(node("stature", "176 cm", "176 cm", "a.fell:3", &[]));
        let long = p.add(node("long", "stature\n  + 8 cm", "184 cm", "a.fell:5", &[stature]));
        let left = p.add(node("length of shell.left", "taper", "184.1 cm", "a.fell:9", &[long, stature]));
        p.facts.push(Fact { name: "shell.left".into(), why: left });
        p
    }

    #[test]
    fn chains_are_told_step_by_step() {
        let expected = "\
length of shell.left: 184.1 cm ← taper (a.fell:9)
  long: 184 cm ← stature + 8 cm (a.fell:5)
    stature: 176 cm ← 176 cm (a.fell:3)
  stature: 176 cm (see above)
";
        assert_eq!(text(&sample(), "shell.left").as_deref(), Some(expected));
        assert_eq!(text(&sample(), "shell.right"), None);
    }

    #[test]
    fn json_holds_every_step_once() {
        let steps: serde_json::Value = serde_json::from_str(&json(&sample(), "shell.left").unwrap()).unwrap();
        let ids: Vec<_> = steps.as_array().unwrap().iter().map(|s| s["id"].as_u64().unwrap()).collect();
        assert_eq!(ids, [2, 1, 0]);
        assert_eq!(steps[0]["inputs"], serde_json::json!([1, 0]));
    }

    #[test]
    fn shared_steps_do_not_multiply() {
        let mut p = Provenance::default();
        let mut last = p.add(node("x0", "", "1", "", &[]));
        for i in 1..200 {
            last = p.add(node(&format!("x{i}"), "", "1", "", &[last, last]));
        }
        p.facts.push(Fact { name: "x".into(), why: last });
        assert_eq!(text(&p, "x").unwrap().lines().count(), 1 + 2 * 199);
    }
}

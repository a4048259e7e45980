//! The chain from a result back to the lines that made it.

use super::words::reworded;
use super::wrap::wrap;
use crate::ir::{Provenance, TraceId, TraceNode};
use crate::quantity::Style;
use std::collections::BTreeSet;

/// Steps deeper than this are told at this indent: the page has only so many columns.
const DEEPEST_INDENT: usize = 16;

/// A page of more steps than this helps nobody; the rest can be asked for by name.
const MOST_STEPS: usize = 300;

/// The chain behind a value: a step a line, what it was made from indented below it.
/// A step met again is named and not told again.
#[must_use]
pub fn why(provenance: &Provenance, last: TraceId, style: Style) -> String {
    let mut out = String::new();
    let mut told = BTreeSet::new();
    let mut steps = 0;
    let mut left_out = 0;
    let mut open = vec![(last, 0)];
    while let Some((id, depth)) = open.pop() {
        let Some(node) = provenance.node(id) else { continue };
        if steps >= MOST_STEPS {
            left_out += 1;
            continue;
        }
        steps += 1;
        let again = !told.insert(id);
        let indent = "  ".repeat(depth.min(DEEPEST_INDENT));
        out.push_str(&wrap(&line(node, again, style), &indent, &format!("{indent}    ")));
        if !again {
            // Ids only grow towards the result, so this ends whatever the graph.
            open.extend(node.inputs.iter().rev().filter(|input| **input < id).map(|input| (*input, depth + 1)));
        }
    }
    if left_out > 0 {
        let more = format!("… and {left_out} more branches: ask for one of the names above to go on from there.");
        out.push_str(&wrap(&more, "", "  "));
    }
    out
}

fn line(node: &TraceNode, again: bool, style: Style) -> String {
    let value = reworded(&node.value, node.number, style);
    let mut line = node.what.clone();
    if !value.is_empty() {
        line.push_str(&format!(" = {value}"));
    }
    if again {
        line.push_str(" (above)");
        return line;
    }
    // What is written as it is needs no telling twice.
    if !node.how.is_empty() && node.how != node.value {
        line.push_str(&format!(": {}", node.how));
    }
    if !node.place.is_empty() {
        line.push_str(&format!("  ({})", node.place));
    }
    line
}

//! How a figure came about, for programs.

use crate::ir::{Provenance, TraceId, pretty};
use serde::Serialize;
use serde_json::Error;
use std::collections::BTreeSet;

#[derive(Serialize)]
struct Step<'p> {
    id: u32,
    what: &'p str,
    how: &'p str,
    value: &'p str,
    number: Option<f64>,
    place: &'p str,
    inputs: Vec<u32>,
}

/// The chain behind a value: a list of steps, the value first, each once and with the ids of those it was made from.
///
/// # Errors
/// When a figure has no written form.
pub fn why(provenance: &Provenance, last: TraceId) -> Result<String, Error> {
    let mut steps = Vec::new();
    let mut told = BTreeSet::new();
    let mut open = vec![last];
    while let Some(id) = open.pop() {
        let Some(node) = provenance.node(id).filter(|_| told.insert(id)) else { continue };
        open.extend(node.inputs.iter().rev());
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
    pretty(&steps)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::TraceNode;

    fn step(p: &mut Provenance, what: &str, inputs: &[TraceId]) -> TraceId {
        let node = TraceNode {
            what: what.into(),
            how: String::new(),
            value: "1 mm".into(),
            number: Some(1.0),
            origin: None,
            place: "a.fell:3".into(),
            inputs: inputs.to_vec(),
        };
        p.add(node)
    }

    #[test]
    fn every_step_is_told_once_with_what_it_was_made_from() {
        let mut p = Provenance::default();
        let stature = step(&mut p, "stature", &[]);
        let long = step(&mut p, "long", &[stature]);
        let left = step(&mut p, "left", &[long, stature]);
        let steps: serde_json::Value = serde_json::from_str(&why(&p, left).unwrap()).unwrap();
        let ids: Vec<_> = steps.as_array().unwrap().iter().map(|s| s["id"].as_u64().unwrap()).collect();
        assert_eq!(ids, [2, 1, 0]);
        assert_eq!(steps[0]["inputs"], serde_json::json!([1, 0]));
        assert_eq!(steps[1]["what"], "long");
    }

    #[test]
    fn shared_steps_do_not_multiply() {
        let mut p = Provenance::default();
        let mut last = step(&mut p, "first", &[]);
        for _ in 1..200 {
            last = step(&mut p, "next", &[last, last]);
        }
        let steps: serde_json::Value = serde_json::from_str(&why(&p, last).unwrap()).unwrap();
        assert_eq!(steps.as_array().unwrap().len(), 200);
    }
}

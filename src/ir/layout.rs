//! How JSON is set in lines: what fits on one is written on one, anything longer an item a line. So a point, a line or a
//! step of the provenance is a line of its own, and two versions of a file can be compared line by line.

use std::io::{self, Write};

/// Columns, the indent included.
const WIDTH: usize = 120;

/// What marks a place where a line could end, in what is written to a [`Galley`]: the first byte before an opening bracket,
/// the whole between two items, the first byte before a closing bracket. JSON itself holds none of these bytes.
pub(super) const OPEN: u8 = 1;
pub(super) const NEXT: u8 = 2;
pub(super) const CLOSE: u8 = 3;

/// A text on one line, with the places where lines could end.
pub(super) struct Galley {
    text: Vec<u8>,
    places: Vec<Place>,
}

/// Before a bracket, or before the comma between two items.
#[derive(Clone, Copy)]
struct Place {
    at: u32,
    mark: u8,
}

impl Place {
    fn at(self) -> usize {
        self.at as usize
    }
}

impl Galley {
    pub(super) fn with_capacity(bytes: usize) -> Self {
        Self { text: Vec::with_capacity(bytes), places: Vec::with_capacity(bytes / 10) }
    }

    fn mark(&mut self, mark: u8, rest: &[u8]) {
        // Beyond four gigabytes all stays on one line.
        self.places.extend(u32::try_from(self.text.len()).map(|at| Place { at, mark }));
        self.text.extend_from_slice(if mark == NEXT { b", " } else { rest });
    }

    /// The text in lines.
    pub(super) fn set(&self) -> Vec<u8> {
        let mut out = Vec::with_capacity(self.text.len() + self.text.len() / 8);
        let (mut from, mut next, mut depth) = (0, 0, 0);
        let part = |from: usize, to: usize| self.text.get(from..to).unwrap_or_default();
        while let Some(place) = self.places.get(next) {
            let at = place.at();
            next += 1;
            match place.mark {
                OPEN => {
                    if let Some((end, behind)) = self.line(next - 1, WIDTH.saturating_sub(2 * depth)) {
                        out.extend_from_slice(part(from, end));
                        (from, next) = (end, behind);
                        continue;
                    }
                    out.extend_from_slice(part(from, at + 1));
                    depth += 1;
                    from = at + 1;
                }
                CLOSE => {
                    out.extend_from_slice(part(from, at));
                    depth = depth.saturating_sub(1);
                    from = at;
                }
                _ => {
                    out.extend_from_slice(part(from, at + 1));
                    from = at + 2;
                }
            }
            new_line(&mut out, depth);
        }
        out.extend_from_slice(part(from, self.text.len()));
        out.push(b'\n');
        out
    }

    /// Where the group that opens at a place ends, and the place behind it, when it is no wider than a line.
    fn line(&self, first: usize, width: usize) -> Option<(usize, usize)> {
        let places = self.places.get(first..)?;
        let (start, mut open) = (places.first()?.at(), 0_usize);
        for (place, behind) in places.iter().zip(first + 1..) {
            let end = place.at() + 1;
            if end - start > width {
                return None;
            }
            match place.mark {
                OPEN => open += 1,
                CLOSE if open == 1 => return Some((end, behind)),
                CLOSE => open -= 1,
                _ => {}
            }
        }
        None
    }
}

impl Write for Galley {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match bytes {
            &[mark @ OPEN..=CLOSE, ref rest @ ..] => self.mark(mark, rest),
            plain => self.text.extend_from_slice(plain),
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

fn new_line(out: &mut Vec<u8>, depth: usize) {
    out.push(b'\n');
    out.resize(out.len() + 2 * depth, b' ');
}

#[cfg(test)]
mod tests {
    use crate::ir::pretty;
    use proptest::prelude::*;
    use serde_json::{Value, json};

    #[test]
    fn what_fits_is_a_line() {
        for line in ["[]", "{}", "null", r#""a, [b] \\\" {""#, r#""\u0001\u0002\u0003""#, r#"{"x": 150.0, "y": [0.5, {"k": "a, b"}]}"#] {
            assert_eq!(pretty(&serde_json::from_str::<Value>(line).unwrap()).unwrap(), format!("{line}\n"));
        }
    }

    #[test]
    fn what_does_not_fit_is_an_item_a_line() {
        let long = "x".repeat(60);
        let value = json!({ "a": long, "b": [1, 2], "c": [long, long, {}], "d": { "e": [[]] } });
        let lines = [
            "{".to_owned(),
            format!(r#"  "a": "{long}","#),
            r#"  "b": [1, 2],"#.to_owned(),
            r#"  "c": ["#.to_owned(),
            format!(r#"    "{long}","#),
            format!(r#"    "{long}","#),
            "    {}".to_owned(),
            "  ],".to_owned(),
            r#"  "d": {"e": [[]]}"#.to_owned(),
            "}\n".to_owned(),
        ];
        assert_eq!(pretty(&value).unwrap(), lines.join("\n"));
    }

    #[test]
    fn a_line_is_as_wide_as_it_may_be_with_its_indent() {
        let array = |width: usize| json!(["1".repeat(width - 4)]);
        let lines = |value: &Value| pretty(value).unwrap().lines().count();
        assert_eq!(lines(&array(120)), 1);
        assert_eq!(lines(&array(121)), 3);
        let nested = |width: usize| json!([array(width), array(90)]);
        assert_eq!(lines(&nested(118)), 4);
        assert_eq!(lines(&nested(119)), 6);
    }

    #[test]
    fn at_any_depth_it_says_the_same() {
        let deep = (0..40).fold(json!({"a": 1, "b": [], "c": {}}), |inner, _| json!([inner, {"d": [1.5, null]}, "e\"]\\"]));
        for value in [json!([]), Value::Null, json!([[], [1, [2]], {"k": {"l": "m"}}]), deep] {
            assert_eq!(serde_json::from_str::<Value>(&pretty(&value).unwrap()).unwrap(), value);
        }
    }

    fn on_one_line(value: &Value) -> String {
        match value {
            Value::Array(items) => format!("[{}]", items.iter().map(on_one_line).collect::<Vec<_>>().join(", ")),
            Value::Object(items) => {
                let items: Vec<String> = items.iter().map(|(key, item)| format!("{}: {}", json!(key), on_one_line(item))).collect();
                format!("{{{}}}", items.join(", "))
            }
            other => other.to_string(),
        }
    }

    /// The rule said plainly, without a thought of what it takes.
    fn plainly_in_lines(value: &Value, depth: usize) -> String {
        let line = on_one_line(value);
        if line.len() + 2 * depth <= super::WIDTH {
            return line;
        }
        let (open, close, items) = match value {
            Value::Array(items) => ('[', ']', items.iter().map(|item| plainly_in_lines(item, depth + 1)).collect::<Vec<_>>()),
            Value::Object(items) => {
                ('{', '}', items.iter().map(|(key, item)| format!("{}: {}", json!(key), plainly_in_lines(item, depth + 1))).collect())
            }
            _ => return line,
        };
        let indent = |depth: usize| format!("\n{}", "  ".repeat(depth));
        format!("{open}{}{}{}{close}", indent(depth + 1), items.join(&format!(",{}", indent(depth + 1))), indent(depth))
    }

    fn value() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![Just(Value::Null), "[a-z\"\\\\,\\[{]{0,40}".prop_map(Value::from), (0..1_000_000_u32).prop_map(Value::from)];
        leaf.prop_recursive(6, 80, 8, |inner| {
            let items = prop::collection::vec(inner.clone(), 0..8).prop_map(Value::from);
            let keyed = prop::collection::vec(("[a-z]{1,20}", inner), 0..8).prop_map(|v| Value::Object(v.into_iter().collect()));
            prop_oneof![items, keyed]
        })
    }

    proptest! {
        #[test]
        fn lines_end_where_the_rule_says(value in value()) {
            prop_assert_eq!(pretty(&value).unwrap(), plainly_in_lines(&value, 0) + "\n");
        }
    }
}

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

/// So much text waits, in bytes, before it is set: a few pages of memory, used over and over.
const FULL: usize = 1 << 12;

/// A text being set in lines.
pub(super) struct Galley {
    /// What is set.
    out: Vec<u8>,
    /// How many groups that are set an item a line are open.
    depth: usize,
    /// What waits, on one line.
    text: Vec<u8>,
    /// Where in it lines could end.
    places: Vec<Place>,
}

/// Before a bracket, or before the comma between two items.
#[derive(Clone, Copy)]
struct Place {
    at: usize,
    mark: u8,
}

impl Galley {
    /// A galley for a text of about so many bytes.
    pub(super) fn with_capacity(bytes: usize) -> Self {
        Self { out: Vec::with_capacity(bytes), depth: 0, text: Vec::with_capacity(2 * FULL), places: Vec::new() }
    }

    /// The text in lines.
    pub(super) fn done(mut self) -> Vec<u8> {
        self.set(self.text.len());
        self.take(0, self.text.len());
        self.out.push(b'\n');
        self.out
    }

    fn mark(&mut self, mark: u8, rest: &[u8]) {
        if self.text.len() > FULL {
            // What begins before this either ends on its line, or is known not to.
            self.set(self.text.len() - WIDTH);
        }
        self.places.push(Place { at: self.text.len(), mark });
        self.text.extend_from_slice(if mark == NEXT { b", " } else { rest });
    }

    /// Sets what waits, up to the last place before a byte.
    fn set(&mut self, until: usize) {
        let (mut from, mut next) = (0, 0);
        while let Some(&Place { at, mark }) = self.places.get(next).filter(|p| p.at < until) {
            next += 1;
            match mark {
                OPEN => {
                    if let Some((end, behind)) = self.line(next - 1, WIDTH.saturating_sub(2 * self.depth)) {
                        self.take(from, end);
                        (from, next) = (end, behind);
                        continue;
                    }
                    self.take(from, at + 1);
                    self.depth += 1;
                    from = at + 1;
                }
                CLOSE => {
                    self.take(from, at);
                    self.depth = self.depth.saturating_sub(1);
                    from = at;
                }
                _ => {
                    self.take(from, at + 1);
                    from = at + 2;
                }
            }
            self.out.push(b'\n');
            self.out.resize(self.out.len() + 2 * self.depth, b' ');
        }
        self.text.drain(..from);
        self.places.drain(..next);
        self.places.iter_mut().for_each(|place| place.at -= from);
    }

    fn take(&mut self, from: usize, to: usize) {
        self.out.extend_from_slice(self.text.get(from..to).unwrap_or_default());
    }

    /// Where the group that opens at a place ends, and the place behind it, when it is no wider than a line.
    fn line(&self, first: usize, width: usize) -> Option<(usize, usize)> {
        let places = self.places.get(first..)?;
        let (start, mut open) = (places.first()?.at, 0_usize);
        for (place, behind) in places.iter().zip(first + 1..) {
            let end = place.at + 1;
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
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    // Most of what is written is a byte or two that are known beforehand.
    #[inline(always)]
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        match bytes {
            [mark @ OPEN..=CLOSE, rest @ ..] => self.mark(*mark, rest),
            plain => self.text.extend_from_slice(plain),
        }
        Ok(())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
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
            // Many are more than waits at once.
            for value in [json!({ "all": vec![&value; 40] }), value] {
                prop_assert_eq!(pretty(&value).unwrap(), plainly_in_lines(&value, 0) + "\n");
            }
        }
    }
}

//! How JSON is set in lines: what fits on one is written on one, anything longer an item a line. So a point, a line or a
//! step of the provenance is a line of its own, and two versions of a file can be compared line by line.

use std::cell::RefCell;
use std::io::{self, Write};

/// Columns, the indent included.
const WIDTH: usize = 120;

/// A text being set as it is written. Only what may still fit on a line waits: a group of brackets too long for one is
/// broken as soon as it is known to be.
#[derive(Default)]
pub(super) struct Galley(RefCell<Set>);

#[derive(Default)]
struct Set {
    /// What is set.
    out: Vec<u8>,
    /// Groups that are open and set an item a line.
    depth: usize,
    /// What waits: a group that may fit on a line, from its opening bracket on. Empty when none does.
    line: Vec<u8>,
    /// In what waits, each place where a line could end.
    marks: Vec<Mark>,
    /// The groups in what waits that are open, by their places among the marks.
    open: Vec<usize>,
}

/// A place in what waits.
#[derive(Clone, Copy)]
enum Mark {
    /// Before an opening bracket: where its group ends, and how many marks there are up to there, once it is closed.
    Open { at: usize, closed: Option<(usize, usize)> },
    /// Between two items: after the comma, and before the blank that follows it.
    Next { at: usize },
    /// Before a closing bracket.
    Close { at: usize },
}

impl Galley {
    pub(super) fn with_capacity(bytes: usize) -> Self {
        Self(RefCell::new(Set { out: Vec::with_capacity(bytes), ..Set::default() }))
    }

    pub(super) fn open(&self, bracket: u8) {
        let set = &mut *self.0.borrow_mut();
        set.open.push(set.marks.len());
        set.marks.push(Mark::Open { at: set.line.len(), closed: None });
        set.line.push(bracket);
    }

    pub(super) fn next(&self) {
        let set = &mut *self.0.borrow_mut();
        if set.open.is_empty() {
            set.out.push(b',');
            new_line(&mut set.out, set.depth);
        } else {
            set.marks.push(Mark::Next { at: set.line.len() + 1 });
            set.write(b", ");
        }
    }

    pub(super) fn close(&self, bracket: u8) {
        let set = &mut *self.0.borrow_mut();
        let Some(group) = set.open.pop() else {
            set.depth = set.depth.saturating_sub(1);
            new_line(&mut set.out, set.depth);
            return set.out.push(bracket);
        };
        set.marks.push(Mark::Close { at: set.line.len() });
        set.line.push(bracket);
        let end = (set.line.len(), set.marks.len());
        if let Some(Mark::Open { closed, .. }) = set.marks.get_mut(group) {
            *closed = Some(end);
        }
        set.settle();
    }

    /// What was written, in lines.
    pub(super) fn set(self) -> Vec<u8> {
        let mut set = self.0.into_inner();
        set.out.push(b'\n');
        set.out
    }
}

impl Set {
    fn write(&mut self, bytes: &[u8]) {
        if self.open.is_empty() {
            return self.out.extend_from_slice(bytes);
        }
        self.line.extend_from_slice(bytes);
        self.settle();
    }

    /// Sets all of what waits that is known to fit on a line, or not to.
    fn settle(&mut self) {
        if !self.open.is_empty() && self.fits(0, self.line.len()) {
            return;
        }
        let (mut from, mut next) = (0, 0);
        while let Some(&mark) = self.marks.get(next) {
            match mark {
                Mark::Open { at, closed: Some((end, marks)) } if self.fits(at, end) => {
                    self.take(from, end);
                    (from, next) = (end, marks);
                    continue;
                }
                Mark::Open { at, closed: None } if self.fits(at, self.line.len()) => {
                    self.take(from, at);
                    from = at;
                    break;
                }
                Mark::Open { at, .. } => {
                    self.take(from, at + 1);
                    self.depth += 1;
                    from = at + 1;
                }
                Mark::Next { at } => {
                    self.take(from, at);
                    from = at + 1;
                }
                Mark::Close { at } => {
                    self.take(from, at);
                    self.depth = self.depth.saturating_sub(1);
                    from = at;
                }
            }
            new_line(&mut self.out, self.depth);
            next += 1;
        }
        self.forget(from, next);
    }

    /// Whether what stands between two places of what waits fits on a line.
    fn fits(&self, at: usize, end: usize) -> bool {
        end.saturating_sub(at) + 2 * self.depth <= WIDTH
    }

    fn take(&mut self, from: usize, to: usize) {
        self.out.extend_from_slice(self.line.get(from..to).unwrap_or_default());
    }

    /// Drops what has been set: so many bytes and marks of what waits. Of groups that are set an item a line, none waits.
    fn forget(&mut self, bytes: usize, marks: usize) {
        self.open.retain_mut(|group| {
            let waits = *group >= marks;
            *group = group.saturating_sub(marks);
            waits
        });
        if self.open.is_empty() {
            self.take(bytes, self.line.len());
            self.line.clear();
            return self.marks.clear();
        }
        self.line.drain(..bytes);
        self.marks.drain(..marks);
        for mark in &mut self.marks {
            match mark {
                Mark::Open { at, closed } => {
                    *at -= bytes;
                    *closed = closed.map(|(end, before)| (end - bytes, before - marks));
                }
                Mark::Next { at } | Mark::Close { at } => *at -= bytes,
            }
        }
    }
}

/// Text between the marks.
impl Write for &Galley {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes);
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
        for line in ["[]", "{}", "null", r#""a, [b] \\\" {""#, r#"{"x": 150.0, "y": [0.5, {"k": "a, b"}]}"#] {
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
    fn in_lines(value: &Value, depth: usize) -> String {
        let line = on_one_line(value);
        if line.len() + 2 * depth <= super::WIDTH {
            return line;
        }
        let (open, close, items) = match value {
            Value::Array(items) => ('[', ']', items.iter().map(|item| in_lines(item, depth + 1)).collect::<Vec<_>>()),
            Value::Object(items) => {
                ('{', '}', items.iter().map(|(key, item)| format!("{}: {}", json!(key), in_lines(item, depth + 1))).collect())
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
            prop_assert_eq!(pretty(&value).unwrap(), in_lines(&value, 0) + "\n");
        }
    }
}

//! How JSON is set in lines: what fits on one is written on one, anything longer an item a line. So a point, a line or a
//! step of the provenance is a line of its own, and two versions of a file can be compared line by line.

use std::cell::RefCell;
use std::io::{self, Write};

/// Columns, the indent included.
const WIDTH: usize = 120;

/// A text being written on one line, with what could become a line's end.
#[derive(Default)]
pub(super) struct Galley(RefCell<Set>);

#[derive(Default)]
struct Set {
    line: Vec<u8>,
    marks: Vec<Mark>,
    /// The brackets that are open, by their places among the marks.
    open: Vec<usize>,
}

/// A place in the line.
enum Mark {
    /// Before an opening bracket: where its group ends, and how many marks there are up to there.
    Open { at: usize, end: usize, marks: usize },
    /// Between two items: after the comma, and before the blank that follows it.
    Next { at: usize },
    /// Before a closing bracket.
    Close { at: usize },
}

impl Galley {
    pub(super) fn with_capacity(bytes: usize) -> Self {
        Self(RefCell::new(Set { line: Vec::with_capacity(bytes), ..Set::default() }))
    }

    pub(super) fn open(&self, bracket: u8) {
        let set = &mut *self.0.borrow_mut();
        set.open.push(set.marks.len());
        set.marks.push(Mark::Open { at: set.line.len(), end: 0, marks: 0 });
        set.line.push(bracket);
    }

    pub(super) fn next(&self) {
        let set = &mut *self.0.borrow_mut();
        set.marks.push(Mark::Next { at: set.line.len() + 1 });
        set.line.extend_from_slice(b", ");
    }

    pub(super) fn close(&self, bracket: u8) {
        let set = &mut *self.0.borrow_mut();
        set.marks.push(Mark::Close { at: set.line.len() });
        set.line.push(bracket);
        let (close, all) = (set.line.len(), set.marks.len());
        if let Some(Mark::Open { end, marks, .. }) = set.open.pop().and_then(|index| set.marks.get_mut(index)) {
            (*end, *marks) = (close, all);
        }
    }

    /// What was written, in lines.
    pub(super) fn set(self) -> Vec<u8> {
        let Set { line, marks, .. } = self.0.into_inner();
        let mut out = Vec::with_capacity(line.len() + line.len() / 8);
        let (mut from, mut next, mut depth) = (0, 0, 0);
        let part = |from: usize, to: usize| line.get(from..to).unwrap_or_default();
        while let Some(mark) = marks.get(next) {
            next += 1;
            match *mark {
                Mark::Open { at, end, marks } if end.saturating_sub(at) + 2 * depth <= WIDTH => {
                    out.extend_from_slice(part(from, end));
                    (from, next) = (end, marks);
                }
                Mark::Open { at, .. } => {
                    out.extend_from_slice(part(from, at + 1));
                    depth += 1;
                    new_line(&mut out, depth);
                    from = at + 1;
                }
                Mark::Next { at } => {
                    out.extend_from_slice(part(from, at));
                    new_line(&mut out, depth);
                    from = at + 1;
                }
                Mark::Close { at } => {
                    out.extend_from_slice(part(from, at));
                    depth = depth.saturating_sub(1);
                    new_line(&mut out, depth);
                    from = at;
                }
            }
        }
        out.extend_from_slice(part(from, line.len()));
        out.push(b'\n');
        out
    }
}

/// Text between the marks.
impl Write for &Galley {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().line.extend_from_slice(bytes);
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
}

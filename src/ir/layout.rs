//! How JSON is set in lines: what fits on one is written on one, anything longer an item a line. So a point, a line or a
//! step of the provenance is a line of its own, and two versions of a file can be compared line by line.

/// Columns, the indent included.
const WIDTH: usize = 120;

/// Marks in a text to be set, which JSON itself never holds: before an opening bracket, between two items, before a
/// closing bracket.
pub(super) const OPEN: u8 = 1;
pub(super) const NEXT: u8 = 2;
pub(super) const CLOSE: u8 = 3;

/// Sets a marked text in lines.
pub(super) fn in_lines(text: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(text.len() + text.len() / 8);
    let (mut rest, mut depth) = (text, 0);
    while let Some((before, mark, after)) = next_mark(rest) {
        out.extend_from_slice(before);
        rest = match (mark, after.split_first()) {
            (OPEN, Some((bracket, inside))) => match push_group(&mut out, after, WIDTH.saturating_sub(2 * depth)) {
                Some(behind) => behind,
                None => {
                    out.push(*bracket);
                    depth += 1;
                    new_line(&mut out, depth);
                    inside
                }
            },
            (CLOSE, _) => {
                depth = depth.saturating_sub(1);
                new_line(&mut out, depth);
                after
            }
            _ => {
                out.push(b',');
                new_line(&mut out, depth);
                after
            }
        };
    }
    out.extend_from_slice(rest);
    out.push(b'\n');
    out
}

/// What stands before the first mark, the mark, and what stands behind it.
fn next_mark(text: &[u8]) -> Option<(&[u8], u8, &[u8])> {
    let at = text.iter().position(|&byte| byte <= CLOSE)?;
    let (before, from) = text.split_at_checked(at)?;
    let (mark, after) = from.split_first()?;
    Some((before, *mark, after))
}

/// Writes the group that begins with a bracket on one line; what stands behind it, or nothing when the line would be wider.
fn push_group<'t>(out: &mut Vec<u8>, group: &'t [u8], width: usize) -> Option<&'t [u8]> {
    let start = out.len();
    let (mut open, mut bytes) = (0_usize, group.iter());
    while out.len() - start <= width {
        match bytes.next()? {
            &OPEN => open += 1,
            &NEXT => out.extend_from_slice(b", "),
            &CLOSE if open > 0 => open -= 1,
            &CLOSE if out.len() - start < width => {
                out.extend(bytes.next());
                return Some(bytes.as_slice());
            }
            &CLOSE => break,
            &byte => out.push(byte),
        }
    }
    out.truncate(start);
    None
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

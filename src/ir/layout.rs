//! How JSON is set in lines: what fits on one is written on one, anything longer an item a line. So a point, a line or a
//! step of the provenance is a line of its own, and two versions of a file can be compared line by line.

/// Columns, the indent included.
const WIDTH: usize = 120;

/// An object or an array in the text.
struct Group {
    /// Where it ends, its bracket included.
    end: usize,
    /// The group that comes after it and all that it holds.
    after: usize,
}

/// Sets a text in lines that is on one: valid JSON, a comma and a space between items and nothing else outside of strings
/// but what is in between a key and its value.
pub(super) fn laid_out(line: &[u8]) -> Vec<u8> {
    let groups = groups(line);
    let mut out = Vec::with_capacity(line.len() + line.len() / 4);
    let (mut at, mut group, mut depth) = (0, 0, 0);
    while let Some(rest) = line.get(at..).filter(|r| !r.is_empty()) {
        let upto = plain(rest);
        let (before, rest) = rest.split_at_checked(upto).unwrap_or((rest, &[]));
        out.extend_from_slice(before);
        at += upto;
        match rest.first() {
            Some(open @ (b'{' | b'[')) => {
                let Some(Group { end, after }) = groups.get(group) else { break };
                let whole = line.get(at..*end).unwrap_or_default();
                if whole.len() + 2 * depth <= WIDTH {
                    out.extend_from_slice(whole);
                    (at, group) = (*end, *after);
                } else {
                    depth += 1;
                    group += 1;
                    at += 1;
                    out.push(*open);
                    new_line(&mut out, depth);
                }
            }
            Some(close @ (b'}' | b']')) => {
                depth = depth.saturating_sub(1);
                new_line(&mut out, depth);
                out.push(*close);
                at += 1;
            }
            Some(comma) => {
                out.push(*comma);
                new_line(&mut out, depth);
                at += 2;
            }
            None => {}
        }
    }
    out.push(b'\n');
    out
}

fn new_line(out: &mut Vec<u8>, depth: usize) {
    out.push(b'\n');
    out.resize(out.len() + 2 * depth, b' ');
}

/// All groups, in the order in which they begin.
fn groups(line: &[u8]) -> Vec<Group> {
    let (mut found, mut open): (Vec<Group>, Vec<usize>) = (Vec::new(), Vec::new());
    let mut at = 0;
    while let Some(rest) = line.get(at..).filter(|r| !r.is_empty()) {
        at += plain(rest) + 1;
        match line.get(at - 1) {
            Some(b'{' | b'[') => {
                open.push(found.len());
                found.push(Group { end: at, after: found.len() + 1 });
            }
            Some(b'}' | b']') => {
                let after = found.len();
                if let Some(group) = open.pop().and_then(|index| found.get_mut(index)) {
                    *group = Group { end: at, after };
                }
            }
            _ => {}
        }
    }
    found
}

/// How much there is before the next bracket or comma that is not part of a string.
fn plain(text: &[u8]) -> usize {
    let (mut is_string, mut is_escaped) = (false, false);
    let is_next = |&byte: &u8| {
        match byte {
            _ if is_escaped => is_escaped = false,
            b'"' => is_string = !is_string,
            b'\\' => is_escaped = true,
            b'{' | b'}' | b'[' | b']' | b',' => return !is_string,
            _ => {}
        }
        false
    };
    text.iter().position(is_next).unwrap_or(text.len())
}

#[cfg(test)]
mod tests {
    use super::laid_out;
    use serde_json::{Value, json};

    fn set(line: &str) -> String {
        String::from_utf8(laid_out(line.as_bytes())).unwrap()
    }

    #[test]
    fn what_fits_is_a_line() {
        for line in ["[]", "{}", "null", r#""a, [b] \\\" {""#, r#"{"x": 150.0, "y": [0.5, {"k": "a, b"}]}"#] {
            assert_eq!(set(line), format!("{line}\n"));
        }
    }

    #[test]
    fn what_does_not_fit_is_an_item_a_line() {
        let long = "x".repeat(60);
        let line = format!(r#"{{"a": "{long}", "b": [1, 2], "c": ["{long}", "{long}", {{}}], "d": {{"e": [[]]}}}}"#);
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
        assert_eq!(set(&line), lines.join("\n"));
    }

    #[test]
    fn a_line_is_as_wide_as_it_may_be_with_its_indent() {
        let array = |width: usize| format!("[{}]", "1".repeat(width - 2));
        assert_eq!(set(&array(120)).lines().count(), 1);
        assert_eq!(set(&array(121)).lines().count(), 3);
        let nested = |width: usize| format!("[{}, {}]", array(width), array(90));
        assert_eq!(set(&nested(118)).lines().count(), 4);
        assert_eq!(set(&nested(119)).lines().count(), 6);
    }

    #[test]
    fn at_any_depth_it_says_the_same() {
        let deep = (0..40).fold(json!({"a": 1, "b": [], "c": {}}), |inner, _| json!([inner, {"d": [1.5, null]}, "e\"]\\"]));
        for value in [json!([]), Value::Null, json!([[], [1, [2]], {"k": {"l": "m"}}]), deep] {
            let line = serde_json::to_string(&value).unwrap();
            assert_eq!(serde_json::from_str::<Value>(&set(&line.replace(',', ", "))).unwrap(), value);
        }
    }
}

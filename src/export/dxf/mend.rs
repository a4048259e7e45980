//! What the library writes for an entity, put right: numbers trimmed, layers of vertices, owners, handles, text.

use super::library::{Given, Value};
use crate::export::pairs::{BULGE_DECIMALS, DECIMALS, push_code, push_fixed};

/// Gives out handles: hexadecimal numbers, each once.
#[derive(Debug, Default)]
pub(super) struct Handles(u64);

impl Handles {
    /// The next.
    pub(super) fn next(&mut self) -> String {
        self.0 += 1;
        format!("{:X}", self.0)
    }
}

/// Release 12: without the codes of later releases; a polyline's vertices on its own layer.
pub(super) fn r12(entities: &[Given<'_>]) -> String {
    let mut text = String::new();
    let (mut kind, mut layer) = (Value::Text(""), Value::Text(""));
    for &Given { code, value } in entities {
        let of_polyline = kind == Value::Text("VERTEX") || kind == Value::Text("SEQEND");
        match code {
            0 => {
                kind = value;
                push(&mut text, 0, value);
                if kind == Value::Text("SEQEND") {
                    // The library writes no layer at all here.
                    push(&mut text, 8, layer);
                }
            }
            // Handles, subclass markers, lines of weight zero; and on vertices a curve's direction that nothing uses.
            5 | 100 | 330 | 370 => {}
            50 if kind == Value::Text("VERTEX") => {}
            8 if kind == Value::Text("VERTEX") => push(&mut text, 8, layer),
            8 if of_polyline => {}
            8 => {
                layer = value;
                push(&mut text, 8, layer);
            }
            _ => push(&mut text, code, value),
        }
    }
    text
}

/// Release 2000: new handles, and an owner behind each.
pub(super) fn r2000(entities: &[Given<'_>], handles: &mut Handles, owner: &str) -> String {
    let mut text = String::new();
    for &Given { code, value } in entities {
        match code {
            5 => {
                push(&mut text, 5, Value::Text(&handles.next()));
                push(&mut text, 330, Value::Text(owner));
            }
            // A line weight of zero: left to the layer.
            330 | 370 => {}
            _ => push(&mut text, code, value),
        }
    }
    text
}

/// Writes a pair; letters outside ASCII by their number, which release 2000 asks for.
fn push(text: &mut String, code: u16, value: Value<'_>) {
    push_code(text, code);
    match value {
        Value::Text(words) if words.is_ascii() => text.push_str(words),
        Value::Text(words) => {
            for c in words.chars() {
                match u32::from(c) {
                    ..128 => text.push(c),
                    number => text.push_str(&format!("\\U+{number:04X}")),
                }
            }
        }
        Value::Number(number) => push_fixed(text, number, if code == 42 { BULGE_DECIMALS } else { DECIMALS }),
        Value::Whole(number) => text.push_str(&number.to_string()),
    }
    text.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn vertices_take_the_layer_of_their_polyline() {
        let given = [
            (0, Value::Text("POLYLINE")),
            (5, Value::Text("14")),
            (8, Value::Text("CUT")),
            (0, Value::Text("VERTEX")),
            (5, Value::Text("11")),
            (8, Value::Text("0")),
            (100, Value::Text("AcDbVertex")),
            (10, Value::Number(-0.0)),
            (70, Value::Whole(1)),
            (0, Value::Text("SEQEND")),
            (5, Value::Text("15")),
        ];
        let wanted = "  0\nPOLYLINE\n  8\nCUT\n  0\nVERTEX\n  8\nCUT\n 10\n0.0\n 70\n1\n  0\nSEQEND\n  8\nCUT\n";
        assert_eq!(r12(&given.map(|(code, value)| Given { code, value })), wanted);
    }

    #[test]
    fn letters_outside_ascii_stand_by_their_number() {
        let text = Given { code: 1, value: Value::Text("Größe") };
        assert_eq!(r2000(&[text], &mut Handles::default(), "1"), "  1\nGr\\U+00F6\\U+00DFe\n");
    }
}

//! What the library writes for an entity, put right: numbers trimmed, layers of vertices, owners, handles, text.

use super::library::{Given, Value};
use super::pairs::{Pair, bulge, decimal, pair};

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
pub(super) fn r12(entities: Vec<Given>) -> Vec<Pair> {
    let mut kind = String::new();
    let mut layer = String::new();
    let mut all = Vec::with_capacity(entities.len());
    for Given { code, value } in entities {
        match code {
            0 => {
                let value = worded(value);
                let ends = value == "SEQEND";
                kind.clone_from(&value);
                all.push(pair(0, value));
                if ends {
                    // The library writes no layer at all here.
                    all.push(pair(8, &layer));
                }
            }
            // Handles, subclass markers, lines of weight zero; and on vertices a curve's direction that nothing uses.
            5 | 100 | 330 | 370 => {}
            50 if kind == "VERTEX" => {}
            8 if kind == "VERTEX" || kind == "SEQEND" => {
                if kind == "VERTEX" {
                    all.push(pair(8, &layer));
                }
            }
            8 => {
                layer = worded(value);
                all.push(pair(8, &layer));
            }
            _ => all.push(tidy(code, value)),
        }
    }
    all
}

/// Release 2000: new handles, and an owner behind each.
pub(super) fn r2000(entities: Vec<Given>, handles: &mut Handles, owner: &str) -> Vec<Pair> {
    let mut all = Vec::with_capacity(entities.len());
    for Given { code, value } in entities {
        match code {
            5 => all.extend([pair(5, handles.next()), pair(330, owner)]),
            // A line weight of zero: left to the layer.
            330 | 370 => {}
            _ => all.push(tidy(code, value)),
        }
    }
    all
}

fn tidy(code: u16, value: Value) -> Pair {
    match value {
        Value::Number(number) if code == 42 => pair(42, bulge(number)),
        Value::Number(number) => pair(code, decimal(number)),
        value => pair(code, worded(value)),
    }
}

/// A value as text, its letters outside ASCII by their number, which release 2000 asks for.
fn worded(value: Value) -> String {
    match value {
        Value::Text(text) if text.is_ascii() => text,
        Value::Text(text) => text.chars().map(|c| if c.is_ascii() { c.to_string() } else { format!("\\U+{:04X}", u32::from(c)) }).collect(),
        Value::Number(number) => decimal(number),
        Value::Whole(number) => number.to_string(),
    }
}

/// Text of which no letter is taken for a control code: `%%d` would print as a degree sign, `^J` as a new line.
pub(super) fn without_codes(text: &str) -> String {
    let mut clean = String::new();
    for c in text.chars() {
        match c {
            '%' if clean.ends_with('%') => clean.push_str(" %"),
            '^' => clean.push_str("^ "),
            '\\' => clean.push('/'),
            c if c.is_control() => clean.push(' '),
            c => clean.push(c),
        }
    }
    clean
}

/// The same in ASCII, which is all that release 12 holds for certain: letters without their accents, signs spelt, `?` for the rest.
pub(super) fn ascii(text: &str) -> String {
    let mut plain = String::new();
    for c in without_codes(text).chars() {
        if c.is_ascii() {
            plain.push(c);
        } else {
            plain.push_str(spelt(c));
        }
    }
    plain
}

const fn spelt(c: char) -> &'static str {
    match c {
        'À'..='Å' | 'Ā' | 'Ă' | 'Ą' => "A",
        'Æ' => "AE",
        'Ç' | 'Ć' | 'Č' => "C",
        'È'..='Ë' | 'Ē' | 'Ę' | 'Ě' => "E",
        'Ì'..='Ï' | 'Ī' | 'İ' => "I",
        'Ð' | 'Ď' | 'Đ' => "D",
        'Ñ' | 'Ń' | 'Ň' => "N",
        'Ò'..='Ö' | 'Ø' | 'Ő' => "O",
        'Ù'..='Ü' | 'Ū' | 'Ů' | 'Ű' => "U",
        'Ý' => "Y",
        'Ł' => "L",
        'Ś' | 'Š' | 'Ş' => "S",
        'Ź' | 'Ż' | 'Ž' => "Z",
        'ß' => "ss",
        'à'..='å' | 'ā' | 'ă' | 'ą' => "a",
        'æ' => "ae",
        'ç' | 'ć' | 'č' => "c",
        'è'..='ë' | 'ē' | 'ę' | 'ě' => "e",
        'ì'..='ï' | 'ī' | 'ı' => "i",
        'ð' | 'ď' | 'đ' => "d",
        'ñ' | 'ń' | 'ň' => "n",
        'ò'..='ö' | 'ø' | 'ő' => "o",
        'œ' => "oe",
        'ù'..='ü' | 'ū' | 'ů' | 'ű' => "u",
        'ý' | 'ÿ' => "y",
        'ł' => "l",
        'ś' | 'š' | 'ş' => "s",
        'ź' | 'ż' | 'ž' => "z",
        'ř' => "r",
        'ť' => "t",
        '·' | '–' | '—' | '−' | '‐' | '‑' => "-",
        '×' => "x",
        '…' => "...",
        '‘' | '’' => "'",
        '“' | '”' | '„' => "\"",
        '°' => " deg",
        '²' => "2",
        '³' => "3",
        'µ' | 'μ' => "u",
        '±' => "+/-",
        '¼' => "1/4",
        '½' => "1/2",
        '¾' => "3/4",
        '\u{a0}' | '\u{202f}' | '\u{2009}' => " ",
        '€' => "EUR",
        '£' => "GBP",
        _ => "?",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_becomes_ascii_that_is_no_code() {
        assert_eq!(ascii("Kohlmeise – Größe 2, 33 g/m²"), "Kohlmeise - Grosse 2, 33 g/m2");
        assert_eq!(ascii("50%%d ^J \\U+0041\nΩ"), "50% %d ^ J /U+0041 ?");
        assert_eq!(without_codes("Größe"), "Größe");
    }

    #[test]
    fn vertices_take_the_layer_of_their_polyline() {
        let text = |t: &str| Value::Text(t.to_owned());
        let given = [
            (0, text("POLYLINE")),
            (5, text("14")),
            (8, text("CUT")),
            (0, text("VERTEX")),
            (5, text("11")),
            (8, text("0")),
            (100, text("AcDbVertex")),
            (10, Value::Number(-0.0)),
            (70, Value::Whole(1)),
            (0, text("SEQEND")),
            (5, text("15")),
        ];
        let mended = r12(given.map(|(code, value)| Given { code, value }).to_vec());
        let wanted = [(0, "POLYLINE"), (8, "CUT"), (0, "VERTEX"), (8, "CUT"), (10, "0.0"), (70, "1"), (0, "SEQEND"), (8, "CUT")];
        assert_eq!(mended, wanted.map(|(c, v)| pair(c, v)));
    }
}

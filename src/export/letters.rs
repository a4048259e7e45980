//! Letters for readers that know only the oldest: plain ASCII.

/// Text in ASCII: letters without their accents, signs spelt, spaces for control characters, `?` for the rest.
pub(crate) fn ascii(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            c if c.is_control() => plain.push(' '),
            c if c.is_ascii() => plain.push(c),
            c => plain.push_str(spelt(c)),
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
    fn letters_lose_their_accents_and_nothing_else() {
        assert_eq!(ascii("Kohlmeise – Größe 2, 33 g/m²\u{3}"), "Kohlmeise - Grosse 2, 33 g/m2 ");
        assert_eq!(ascii("Ω"), "?");
    }
}

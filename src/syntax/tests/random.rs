//! Whatever the text, the reader ends, does not panic, and points into the text.

use super::{Read, WHOLE, read};
use proptest::prelude::*;

/// Words and marks that make the reader go deep.
const WORDS: &[&str] = &[
    "design", "panel", "when", "else", "then", "let", "attach", "seam", "cut", "of", "use", "outline", "edge", "param", "one", "from", "{",
    "}", "(", ")", "[", "]", "\"", "\\", "=", "==", ",", ":", ".", "-", "+", "/", "//", "*", "^", "<", "12", "1", "0.5", "1/2", "mm", "in",
    "%", "a", "b.c", "\n", "\n  ", "'", "½", "“", "”", "°", "\u{0}", "\r", "é", "#", "/*", ";", "&&",
];

fn holds(read: &Read, text: &str) -> Result<(), TestCaseError> {
    for diagnostic in read.problems.sorted() {
        for label in &diagnostic.labels {
            let (start, end) = (label.span.start as usize, label.span.end as usize);
            prop_assert!(text.get(start..end).is_some(), "{:?} points outside the text or into a character", diagnostic);
        }
        if let Some(edit) = &diagnostic.edit {
            prop_assert!(text.get(edit.span.start as usize..edit.span.end as usize).is_some(), "{:?}", diagnostic);
        }
    }
    prop_assert!(read.problems.sorted().len() <= 100);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_characters(text in "\\PC{0,200}") {
        holds(&read(&text), &text)?;
    }

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        holds(&read(&text), &text)?;
    }

    #[test]
    fn any_words(words in prop::collection::vec(prop::sample::select(WORDS), 0..120)) {
        let text = words.join(" ");
        holds(&read(&text), &text)?;
        let tight = words.concat();
        holds(&read(&tight), &tight)?;
    }

    #[test]
    fn the_whole_language_with_words_among_it(at in 0usize..6000, word in prop::sample::select(WORDS), gone in 0usize..40) {
        let start = WHOLE.char_indices().map(|(i, _)| i).nth(at).unwrap_or(0);
        let end = WHOLE.char_indices().map(|(i, _)| i).nth(at + gone).unwrap_or(start).max(start);
        let text = format!("{}{word}{}", WHOLE.get(..start).unwrap_or(""), WHOLE.get(end..).unwrap_or(""));
        holds(&read(&text), &text)?;
    }

    #[test]
    fn figures_are_read_as_written(whole in 0u32..10_000, hundredths in 0u32..100, unit in prop::sample::select(&["mm", "cm", "g/m2", "EUR/m"][..])) {
        let text = format!("let a = {whole}.{hundredths:02} {unit}");
        let read = read(&text);
        prop_assert_eq!(read.found(), vec![]);
        prop_assert_eq!(read.file.declarations.len(), 1);
    }
}

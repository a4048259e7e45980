//! Prose broken into lines that a terminal holds.

use textwrap::{Options, WordSplitter, fill};

/// Paragraphs and lists, each broken anew: `first` stands before the first line of a paragraph, `rest` before the others.
/// Lines set in by two blanks or more are examples, and stay as they are.
#[must_use]
pub fn paragraphs(text: &str, width: usize, first: &str, rest: &str) -> String {
    let mut blocks: Vec<(bool, String)> = Vec::new();
    let mut open = false;
    for line in text.lines() {
        let item = line.starts_with("- ");
        let kept = line.starts_with("  ") && !(open && blocks.last().is_some_and(|(item, _)| *item));
        match blocks.last_mut().filter(|_| open && !item && !kept) {
            Some((_, words)) if !line.trim().is_empty() => {
                words.push(' ');
                words.push_str(line.trim());
            }
            _ => blocks.push((item, line.to_owned())),
        }
        open = !line.trim().is_empty() && !kept;
    }
    let broken = |(item, words): &(bool, String)| {
        let rest = if *item { format!("{rest}  ") } else { rest.to_owned() };
        let options = Options::new(width).initial_indent(first).subsequent_indent(&rest).word_splitter(WordSplitter::NoHyphenation);
        let options = options.break_words(false);
        if words.starts_with("  ") || words.is_empty() { words.clone() } else { fill(words, options) }
    };
    blocks.iter().map(|block| broken(block) + "\n").collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_and_lists_are_broken_and_examples_are_kept() {
        let text =
            "One two three four\nfive six.\n\n- seven eight nine ten\n  eleven\n- twelve\n\n  attach a = b() at middle on c.left\n\nEnd.";
        let broken = paragraphs(text, 14, "", "");
        assert_eq!(
            broken,
            "One two three\nfour five six.\n\n- seven eight\n  nine ten\n  eleven\n- twelve\n\n  attach a = b() at middle on c.left\n\nEnd.\n"
        );
        assert_eq!(paragraphs("cloth: light_nylon-two", 9, "  ", "      "), "  cloth:\n      light_nylon-two\n");
        assert_eq!(paragraphs("", 9, "", ""), "");
    }
}

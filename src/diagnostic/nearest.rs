//! The nearest known name to one that is not known.

/// Nobody mistypes a longer name by a letter; measuring two of a megabyte would take hours.
const LONGEST: usize = 64;

/// The candidate nearest to `word`, when it is near enough to have been meant.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.len() > LONGEST {
        return None;
    }
    let limit = (word.chars().count() / 3).max(1) + 1;
    candidates
        .into_iter()
        .filter(|c| c.len() <= LONGEST)
        .map(|c| (strsim::damerau_levenshtein(word, c), c))
        .filter(|(d, _)| *d < limit.max(2))
        .min_by_key(|(d, c)| (*d, *c))
        .map(|(_, c)| c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_a_letter_is_understood_and_another_word_is_not() {
        let known = ["left", "right", "foot", "head"];
        assert_eq!(nearest("lefft", known), Some("left"));
        assert_eq!(nearest("haed", known), Some("head"));
        assert_eq!(nearest("mouth", known), None);
        assert_eq!(nearest("", known), None);
    }

    #[test]
    fn names_of_a_megabyte_are_not_compared() {
        let (a, b) = ("x".repeat(1 << 20), "y".repeat(1 << 20));
        assert_eq!(nearest(&a, [b.as_str(), "x"]), None);
        assert_eq!(nearest("xx", [b.as_str(), "x"]), Some("x"));
    }
}

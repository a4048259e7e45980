//! The nearest known name to one that is not known.

/// The candidate nearest to `word`, when it is near enough to have been meant.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = (word.chars().count() / 3).max(1) + 1;
    candidates
        .into_iter()
        .map(|c| (strsim::damerau_levenshtein(word, c), c))
        .filter(|(d, _)| *d < limit.max(2))
        .min_by_key(|(d, c)| (*d, *c))
        .map(|(_, c)| c)
}

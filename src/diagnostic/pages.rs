//! The page behind every code: what goes wrong at the machine if it is ignored, and how to mend it.
//!
//! A file a stage under `pages/`; each page is a section that starts with `## code`.

const FILES: &[&str] = &[
    include_str!("pages/syntax.md"),
    include_str!("pages/check.md"),
    include_str!("pages/trace.md"),
    include_str!("pages/eval.md"),
    include_str!("pages/analysis.md"),
    include_str!("pages/io.md"),
];

/// The page of a code, without its heading.
#[must_use]
pub fn explain(code: &str) -> Option<&'static str> {
    pages().find(|(name, _)| *name == code).map(|(_, page)| page)
}

/// Every code that has a page, in the order of the stages.
#[must_use]
pub fn all_codes() -> Vec<&'static str> {
    pages().map(|(name, _)| name).collect()
}

fn pages() -> impl Iterator<Item = (&'static str, &'static str)> {
    FILES.iter().flat_map(|file| {
        let marked = file.strip_prefix("## ").into_iter().chain(file.split("\n## ").skip(1));
        marked.map(|section| {
            let (name, page) = section.split_once('\n').unwrap_or((section, ""));
            // When the file opens with a page, the first section still holds the others.
            let page = page.split("\n## ").next().unwrap_or("");
            (name.trim(), page.trim())
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_kebab_case_and_distinct_and_pages_say_something() {
        let mut codes = all_codes();
        for code in &codes {
            assert!(code.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'), "{code}");
            assert!(explain(code).is_some_and(|page| page.len() > 80 && !page.contains("<!--")), "{code} has no page fit to read");
        }
        codes.sort_unstable();
        for pair in codes.windows(2) {
            assert_ne!(pair.first(), pair.last());
        }
    }

    #[test]
    fn a_code_nobody_has_has_no_page() {
        assert_eq!(explain("no-such-code"), None);
        assert_eq!(explain(""), None);
    }
}

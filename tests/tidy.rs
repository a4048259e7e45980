//! The house kept tidy: which room may know which, how long a file may be, what lies at the top.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "reads the project's own files")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// What each room may import, and nothing else. A path names a part of a room: `syntax::ast`.
const MAY_KNOW: &[(&str, &[&str])] = &[
    ("source", &[]),
    ("quantity", &[]),
    ("geometry", &["quantity"]),
    ("diagnostic", &["quantity", "source"]),
    ("stdlib", &["source"]),
    ("syntax", &["source", "diagnostic"]),
    ("trace", &["quantity", "geometry", "source", "diagnostic"]),
    // A module is parsed, and a drawing read, where it is named.
    ("check", &["syntax::ast", "syntax::parse", "syntax::excerpt", "trace", "quantity", "source", "diagnostic"]),
    ("ir", &["quantity", "geometry", "source"]),
    ("eval", &["check", "syntax::ast", "trace", "ir", "geometry", "quantity", "source", "diagnostic"]),
    ("analysis", &["ir", "geometry", "quantity", "source", "diagnostic"]),
    // A span is part of what the design holds.
    ("export", &["ir", "analysis::report", "geometry", "quantity", "source::Span"]),
    (
        "pipeline",
        &["analysis", "check", "diagnostic", "eval", "export", "geometry", "ir", "quantity", "source", "stdlib", "syntax", "trace"],
    ),
    ("cli", &["pipeline", "source", "stdlib", "diagnostic"]),
];

/// Rooms made of rooms: none knows a sibling but those named.
const APART: &[(&str, &[&str])] = &[("analysis", &["report"]), ("export", &["cutting", "drawing", "letters", "pairs"])];

const TOP: &[&str] =
    &["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "LICENSE", "grammar", "src", "stdlib", "examples", "tests"];
/// Made by building, and not kept.
const MADE: &[&str] = &["target", "out", ".venv"];

const LONGEST: usize = 500;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Files under a folder, by path from the root.
fn files(folder: &str) -> Vec<(String, String)> {
    let mut all = Vec::new();
    gather(&root().join(folder), &mut all);
    all.sort();
    assert!(!all.is_empty(), "{folder} holds nothing");
    all
}

fn gather(folder: &Path, all: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            if !MADE.contains(&path.file_name().unwrap().to_str().unwrap()) {
                gather(&path, all);
            }
        } else if let Ok(text) = fs::read_to_string(&path) {
            all.push((path.strip_prefix(root()).unwrap().to_str().unwrap().replace('\\', "/"), text));
        }
    }
}

fn sources() -> Vec<(String, String)> {
    files("src").into_iter().filter(|(name, _)| name.ends_with(".rs")).collect()
}

/// Files that hold nothing but tests may know everything and be as long as they need.
fn is_tests(name: &str) -> bool {
    name.ends_with("/tests.rs") || name.contains("/tests/") || name.ends_with("/sample.rs")
}

/// The text above a file's own tests.
fn without_tests(text: &str) -> &str {
    const MARK: &str = "\n#[cfg(test)]\nmod ";
    let opens = |at: &usize| {
        let line = text[at + MARK.len()..].lines().next().unwrap_or_default();
        line.ends_with('{') || line == "tests;"
    };
    text.match_indices(MARK).map(|(at, _)| at).find(opens).map_or(text, |at| &text[..at])
}

/// The names between the parts of a path, `src/eval/draft/mod.rs` being `eval`, `draft`.
fn module(name: &str) -> Vec<&str> {
    let mut parts: Vec<_> = name.trim_start_matches("src/").trim_end_matches(".rs").split('/').collect();
    if matches!(parts.last(), Some(&"mod" | &"lib" | &"main")) {
        parts.pop();
    }
    parts
}

/// Every path that starts at the crate's root: `ir::Design`, `syntax::ast`.
fn imports(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let code: String = text.lines().filter(|l| !l.trim_start().starts_with("//")).map(|l| format!("{l}\n")).collect();
    for (at, _) in code.match_indices("crate::") {
        let before = code[..at].chars().next_back();
        if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == '$') {
            continue;
        }
        expand("", &code[at + "crate::".len()..], &mut found);
    }
    found
}

/// Paths of a use tree: `a::{b, c::d}` is `a::b`, `a::c::d`. Returns where it ends.
fn expand(prefix: &str, text: &str, found: &mut Vec<String>) -> usize {
    let trimmed = text.trim_start();
    let skipped = text.len() - trimmed.len();
    if let Some(inside) = trimmed.strip_prefix('{') {
        let mut at = 0;
        loop {
            at += expand(prefix, &inside[at..], found);
            let mut rest = inside[at..].trim_start();
            if let Some(renamed) = rest.strip_prefix("as ") {
                rest = renamed.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_' || c == ' ');
            }
            at = inside.len() - rest.len();
            match rest.chars().next() {
                Some(',') => at += 1,
                _ => return skipped + 1 + at + 1,
            }
        }
    }
    let name: String = trimmed.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    let after = &trimmed[name.len()..];
    let path = if prefix.is_empty() { name.clone() } else { format!("{prefix}::{name}") };
    match after.strip_prefix("::").filter(|_| !name.is_empty()) {
        Some(rest) => skipped + name.len() + 2 + expand(&path, rest, found),
        None => {
            if !name.is_empty() {
                found.push(path);
            }
            skipped + name.len()
        }
    }
}

fn allowed(path: &str, may: &[&str]) -> bool {
    may.iter().any(|m| path == *m || path.starts_with(&format!("{m}::")))
}

#[test]
fn use_trees_are_read_whole() {
    let text =
        "use crate::{ir::{Design, PieceId as P}, quantity};\n// use crate::cli::X;\nfn f() { crate::syntax::parse(x); mycrate::y(); }\n";
    assert_eq!(imports(text), ["ir::Design", "ir::PieceId", "quantity", "syntax::parse"]);
}

#[test]
fn no_room_knows_more_than_it_may() {
    let mut wrong = Vec::new();
    for (name, text) in sources().into_iter().filter(|(name, _)| !is_tests(name)) {
        let module = module(&name);
        let Some(room) = module.first().copied() else { continue };
        let (_, may) = MAY_KNOW.iter().find(|(r, _)| *r == room).unwrap_or_else(|| panic!("{name} is in no room"));
        for path in imports(without_tests(&text)) {
            let mut parts = path.split("::");
            let to = parts.next().unwrap_or_default();
            if to != room && !allowed(&path, may) {
                wrong.push(format!("{name} imports {path}"));
            }
            let apart = APART.iter().find(|(r, _)| *r == room && to == room).map(|(_, shared)| shared);
            let inside = apart.zip(parts.next()).zip(module.get(1));
            if inside.is_some_and(|((shared, sibling), here)| sibling != *here && !shared.contains(&sibling)) {
                wrong.push(format!("{name} imports its sibling {path}"));
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// A path made of `super::` alone could leave a room unseen.
#[test]
fn nobody_leaves_a_room_by_the_back_door() {
    for (name, text) in sources().into_iter().filter(|(name, _)| !is_tests(name)) {
        let module = module(&name);
        // From `eval::draft`, one `super` is still in the room; in a room of rooms, the room inside it is the one to stay in.
        let inside = APART.iter().any(|(room, shared)| module.first() == Some(room) && module.get(1).is_some_and(|m| !shared.contains(m)));
        let limit = module.len().saturating_sub(if inside { 1 } else { 0 });
        if limit > 0 {
            let leaves = without_tests(&text).contains(&"super::".repeat(limit));
            assert!(!leaves, "{name} goes up and out of its room: name what it wants from the crate's root");
        }
    }
}

#[test]
fn every_module_says_what_it_is_for() {
    for (name, text) in sources().into_iter().chain(files("tests")).filter(|(name, _)| name.ends_with(".rs")) {
        let opening = text.trim_start_matches("#![no_main]\n");
        assert!(opening.starts_with("//! ") && opening.lines().next().is_some_and(|l| l.len() > 8), "{name} does not open with //!");
    }
}

#[test]
fn no_file_is_too_long_to_read() {
    let long: Vec<_> = sources()
        .into_iter()
        .filter(|(name, _)| !is_tests(name))
        .map(|(name, text)| (without_tests(&text).lines().count(), name))
        .filter(|(lines, _)| *lines >= LONGEST)
        .collect();
    assert!(long.is_empty(), "{long:?}");
}

#[test]
fn the_top_holds_what_it_should_and_no_more() {
    let there: BTreeSet<String> = fs::read_dir(root()).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    for name in &there {
        assert!(TOP.contains(&name.as_str()) || MADE.contains(&name.as_str()) || name.starts_with('.'), "{name} at the top");
    }
    for name in TOP {
        assert!(there.contains(*name), "{name} is missing at the top");
    }
}

#[test]
fn no_order_is_left_to_chance() {
    for (name, text) in sources().into_iter().filter(|(name, _)| !is_tests(name)) {
        for word in ["HashMap", "HashSet", "SystemTime", "Instant::now"] {
            assert!(!without_tests(&text).contains(word), "{name} uses {word}: output must be the same on every run");
        }
    }
}

#[test]
fn the_project_stands_alone() {
    let words =
        [concat!("../", "shared"), concat!("the ", "seed"), concat!("the ", "brief"), concat!("this ", "issue"), concat!("trans", "cript")];
    let everywhere = ["src", "tests", "grammar", "stdlib", "examples"].into_iter().flat_map(files);
    for (name, text) in everywhere {
        let small = text.to_lowercase();
        for word in words {
            assert!(!small.contains(word), "{name} speaks of {word:?}");
        }
    }
}

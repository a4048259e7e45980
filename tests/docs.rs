//! Every block of Lapfell in the documents is read and checked, so that what a maker copies from them works.
//!
//! A block marked `fell` is a whole file, and nothing at all may be wrong with it in any size. One marked
//! `fell design` stands inside the design of `docs_preamble.fell`, in the place of its line that says FRAGMENT;
//! a few lines can't be a whole piece of gear, so it is only read and checked.

use lapfell::check::check;
use lapfell::cli::Folder;
use lapfell::diagnostic::{Look, Problems, render_text};
use lapfell::pipeline::{Request, compile};
use lapfell::source::{Loaded, SourceMap};
use lapfell::stdlib::{Nothing, WithLibrary};

/// A block: the document's line it starts on, its mark, its text.
struct Block {
    line: usize,
    mark: String,
    text: String,
}

#[allow(clippy::disallowed_methods, reason = "the documents are files of this folder")]
fn read(name: &str) -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn blocks(document: &str) -> Vec<Block> {
    let mut found = Vec::new();
    let mut open: Option<Block> = None;
    for (index, line) in document.lines().enumerate() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(mark), None) => open = Some(Block { line: index + 1, mark: mark.to_owned(), text: String::new() }),
            (Some(_), Some(_)) => found.extend(open.take()),
            (None, Some(block)) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "the last block is not closed");
    found
}

/// The errors of a source, as a reader would see them; warnings are a fragment's right.
fn errors(name: &str, text: &str) -> Option<String> {
    let (mut sources, mut problems) = (SourceMap::default(), Problems::default());
    let main = sources.add(name, text);
    let program = check(main, &WithLibrary(Nothing), &mut sources, &mut problems);
    program.is_err().then(|| render_text(&problems, &sources, Look::plain(120)))
}

/// Whatever a whole file is told, in any size; drawings that it is traced from lie beside the document.
fn anything(name: &str, text: &str, folder: &std::path::Path) -> Option<String> {
    let main = Loaded { name: name.to_owned(), text: text.to_owned() };
    let loader = WithLibrary(Folder::at(folder).expect("the document's folder"));
    let compiled = compile(main, &loader, &Request::default(), &|_| {}).expect("no settings are given");
    let report = || render_text(&compiled.problems, &compiled.sources, Look::plain(120));
    (!compiled.problems.is_empty()).then(report)
}

fn all_hold(document: &str) -> usize {
    let preamble = read("tests/docs_preamble.fell");
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(document).parent().expect("a folder").to_owned();
    let mut wrong = Vec::new();
    let mut seen = 0;
    for block in blocks(&read(document)) {
        let name = format!("{document}:{}", block.line);
        let found = match block.mark.as_str() {
            "fell" => anything(&name, &block.text, &folder),
            "fell design" => errors(&name, &preamble.replace("// FRAGMENT", &block.text)),
            other if other.starts_with("fell") => panic!("{document}:{}: no such mark: {other}", block.line),
            _ => continue,
        };
        seen += 1;
        wrong.extend(found);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    seen
}

#[test]
fn the_reference_holds() {
    assert!(all_hold("grammar/REFERENCE.md") >= 20, "blocks went missing");
}

#[test]
fn the_readme_holds() {
    assert!(all_hold("README.md") >= 1, "blocks went missing");
}

#[test]
fn the_developers_page_holds() {
    assert!(all_hold("DEVELOPERS.md") >= 1, "blocks went missing");
}

#[test]
fn the_preamble_alone_holds() {
    let text = read("tests/docs_preamble.fell");
    assert!(text.matches("// FRAGMENT").count() == 1);
    assert_eq!(errors("docs_preamble.fell", &text), None);
}

#[test]
fn the_reference_leaves_nothing_out() {
    use lapfell::check::{BUILTINS, goods, words};
    let reference = read("grammar/REFERENCE.md");
    let mut lacking = Vec::new();
    let mut wants = |word: &str, all: &[&str]| {
        // As code by itself, or at the start of a longer phrase of code.
        let there = ["`", " ", "(", ":"].iter().any(|after| reference.contains(&format!("`{word}{after}")));
        if !there && !all.iter().any(|form| reference.contains(form)) {
            lacking.push(word.to_owned());
        }
    };
    for unit in lapfell::quantity::unit_names() {
        wants(unit, &[]);
    }
    for row in BUILTINS {
        wants(row.name, &[]);
    }
    for (name, sort) in goods::SORTS {
        wants(name, &[]);
        for field in sort.fields() {
            wants(field.name, &[]);
        }
    }
    let lists = [words::SIDES, words::POINTING, words::SYMBOLS, words::MAY_CROSS, words::CORNER_JOINS, words::FACE_WAYS];
    let more = [words::STITCHES, words::STEP_KINDS, words::PANEL_MEASURES, words::COMPONENT_WORDS];
    for word in lists.into_iter().chain(more).flatten() {
        wants(word, &[&format!(" {word}`")]);
    }
    // Every fixed word of the grammar.
    let grammar = read("grammar/lapfell.pest");
    let mut keywords = 0;
    for line in grammar.lines().filter(|l| l.starts_with("kw_")) {
        let word = line.split('"').nth(1).expect("a keyword rule quotes its word");
        wants(word, &[&format!(" {word} "), &format!(" {word}`")]);
        keywords += 1;
    }
    assert!(keywords > 90, "keyword rules are no longer found: {keywords}");
    assert!(lacking.is_empty(), "not in the reference: {}", lacking.join(", "));
}

/// The numbered sections of a document, their titles and texts.
fn sections(document: &str, heading: impl Fn(&str) -> Option<&str>) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    for line in document.lines() {
        if let Some(title) = heading(line) {
            all.push((title.to_owned(), String::new()));
        } else if let Some((_, text)) = all.last_mut() {
            text.push_str(line);
            text.push('\n');
        }
    }
    all
}

fn has_word(text: &str, word: &str) -> bool {
    text.split(|c: char| !(c.is_alphanumeric() || c == '_')).any(|w| w == word)
}

/// What stands between quotes in a source is no word of the language.
fn without_texts(text: &str) -> String {
    text.lines().map(|line| line.split('"').step_by(2).collect::<Vec<_>>().join(" ") + "\n").collect()
}

#[test]
fn every_construct_stands_in_an_example_and_in_its_own_section() {
    let (reference, grammar) = (read("grammar/REFERENCE.md"), read("grammar/lapfell.pest"));
    let told = sections(&reference, |line| line.strip_prefix("## "));
    let ruled = sections(&grammar, |line| line.strip_prefix("// --").map(|l| l.trim_start_matches('-').trim()));
    let code: String = blocks(&reference).iter().map(|b| without_texts(&b.text)).collect();
    let mut lacking = Vec::new();
    let mut seen = 0;
    // From the sixteenth on the grammar has no constructs.
    for ((title, rules), (_, told)) in ruled.iter().zip(&told).take(15) {
        let words = rules.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter_map(|w| w.strip_prefix("kw_"));
        for word in words {
            seen += 1;
            // A pattern in DXF, which `block` is for, lies beside no document; `else` is told once, with `when`.
            if !(has_word(&code, word) || word == "block") || !(has_word(told, word) || word == "else") {
                lacking.push(format!("{word} ({title})"));
            }
        }
    }
    assert!(seen > 150, "the sections are no longer found: {seen}");
    assert!(lacking.is_empty(), "without an example: {}", lacking.join(", "));
}

#[test]
fn a_wrong_block_is_found() {
    assert!(errors("wrong.fell", "design d { let a = }").is_some());
    assert!(errors("wrong.fell", "design d { let a = nothing_of_the_kind \n let a = 2 }").is_some());
}

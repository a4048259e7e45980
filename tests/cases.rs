//! Every code, seen in a source that earns it.
//!
//! A case is a file `tests/cases/<stage>/<code>.fell`, or a folder of that name with a `main.fell`. A code
//! with several cases has them as `<code>.<what differs>.fell`. The snapshot beside it holds the source and
//! what a maker reads about it; `INSTA_UPDATE=always cargo test --test cases` writes it. Adding a case is adding a file.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "cases are files of this folder")]

use lapfell::cli::Folder;
use lapfell::diagnostic::{Look, Problems, all_codes, render_text};
use lapfell::pipeline::{self, Compiled, Request};
use lapfell::source::{Loaded, Loader};
use lapfell::stdlib::{Nothing, WithLibrary};
use std::collections::BTreeSet;
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

struct Case {
    stage: String,
    /// The file's or folder's name without its ending.
    name: String,
    /// The folder the snapshot lies in.
    beside: PathBuf,
    main: PathBuf,
    /// Where its modules are, when it has any.
    modules: Option<PathBuf>,
}

fn sorted(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    let mut all: Vec<_> = entries.map(|e| e.expect("an entry").path()).collect();
    all.sort();
    all
}

fn name_of(path: &Path) -> String {
    path.file_name().expect("a name").to_str().expect("a name in UTF-8").to_owned()
}

fn cases() -> Vec<Case> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut all = Vec::new();
    for stage in sorted(&root).into_iter().filter(|p| p.is_dir()) {
        for path in sorted(&stage) {
            let name = name_of(&path);
            let case =
                |name: &str, main, modules| Case { stage: name_of(&stage), name: name.to_owned(), beside: stage.clone(), main, modules };
            if path.is_dir() {
                all.push(case(&name, path.join("main.fell"), Some(path.clone())));
            } else if let Some(stem) = name.strip_suffix(".fell") {
                all.push(case(stem, path.clone(), None));
            } else {
                assert!(name.ends_with(".snap") || name.ends_with(".snap.new"), "{} is no case", path.display());
            }
        }
    }
    assert!(all.len() > 40, "only {} cases were found", all.len());
    all
}

fn compile(case: &Case) -> Compiled {
    let text = fs::read_to_string(&case.main).unwrap_or_else(|e| panic!("{}: {e}", case.main.display()));
    let main = Loaded { name: name_of(&case.main), text };
    let loader: Box<dyn Loader> = match &case.modules {
        Some(folder) => Box::new(WithLibrary(Folder::at(folder).expect("the case's folder"))),
        None => Box::new(WithLibrary(Nothing)),
    };
    let request = Request { settings: Vec::new(), jobs: Some(1), ..Request::default() };
    pipeline::compile(main, loader.as_ref(), &request, &|_| {}).expect("no settings are made")
}

/// What was found, accepted or not.
fn reported(compiled: &Compiled) -> BTreeSet<&'static str> {
    let open = compiled.problems.sorted().into_iter().map(|d| d.code);
    open.chain(compiled.remarks.iter().map(|r| r.diagnostic.code)).collect()
}

/// The case's own files, then the report.
fn told(case: &Case, compiled: &Compiled) -> String {
    let mut out = String::new();
    let own = compiled.sources.files().filter(|f| !f.name.starts_with("std/"));
    for file in own {
        let heading = if case.modules.is_some() { format!("// {}\n", file.name) } else { String::new() };
        out.push_str(&format!("{heading}{}\n", file.text.trim_end()));
    }
    out.push_str(&format!("{}\n", "═".repeat(80)));
    out.push_str(&render_text(&compiled.problems, &compiled.sources, Look { colour: false, width: 80 }));
    for remark in &compiled.remarks {
        out.push_str(&format!("accepted: {} ({}), because {}\n", remark.diagnostic.headline, remark.diagnostic.code, remark.because));
    }
    without_library_lines(&out)
}

/// The library grows; a case is not about the line something stands on there.
fn without_library_lines(text: &str) -> String {
    let mut parts = text.split("std/");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (name, rest) = part.split_once(".fell:").unwrap_or((part, ""));
        let rest = rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == ':');
        let place = if name.len() == part.len() { name.to_owned() } else { format!("{name}.fell:… {}", rest.trim_start()) };
        out.push_str(&format!("std/{place}"));
    }
    out
}

#[test]
fn every_case_reads_as_before() {
    let mut differ = Vec::new();
    for case in cases() {
        let text = told(&case, &compile(&case));
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path(&case.beside);
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        settings.set_input_file(&case.main);
        let same = catch_unwind(AssertUnwindSafe(|| settings.bind(|| insta::assert_snapshot!(case.name.as_str(), text))));
        if same.is_err() {
            differ.push(format!("{}/{}", case.stage, case.name));
        }
    }
    assert!(differ.is_empty(), "these read otherwise than their snapshots: {}", differ.join(", "));
}

#[test]
fn every_case_reports_the_code_it_is_named_after() {
    let wrong: Vec<_> = cases()
        .iter()
        .filter_map(|case| {
            let found = compile(case);
            let code = case.name.split('.').next().unwrap_or_default();
            let reported = reported(&found);
            (!reported.contains(code)).then(|| format!("{}/{} reports {reported:?}", case.stage, case.name))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_code_has_a_page_and_a_case() {
    let codes: BTreeSet<_> = pipeline::codes().into_iter().collect();
    assert_eq!(codes.len(), pipeline::codes().len(), "a code stands in two lists");
    let pages: BTreeSet<_> = all_codes().into_iter().collect();
    let seen: BTreeSet<_> = cases().iter().flat_map(|c| reported(&compile(c))).collect();
    let missing = |from: &BTreeSet<&'static str>| codes.difference(from).copied().collect::<Vec<_>>();
    let unknown = |of: &BTreeSet<&'static str>| of.difference(&codes).copied().collect::<Vec<_>>();
    assert!(unknown(&seen).is_empty(), "reported, but in no list of codes: {:?}", unknown(&seen));
    assert!(unknown(&pages).is_empty(), "pages of codes that nothing reports: {:?}", unknown(&pages));
    assert!(missing(&pages).is_empty(), "codes without a page: {:?}", missing(&pages));
    assert!(missing(&seen).is_empty(), "codes without a case: {:?}", missing(&seen));
}

#[test]
fn every_snapshot_has_its_case() {
    let all: BTreeSet<_> = cases().into_iter().map(|c| c.beside.join(format!("{}.snap", c.name))).collect();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    for stage in sorted(&root).into_iter().filter(|p| p.is_dir()) {
        for path in sorted(&stage).into_iter().filter(|p| name_of(p).ends_with(".snap")) {
            assert!(all.contains(&path), "{} belongs to no case", path.display());
        }
    }
}

#[test]
fn every_example_and_its_sizes_are_without_errors() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let folders: Vec<_> = sorted(&root).into_iter().filter(|p| p.is_dir()).collect();
    assert!(folders.len() >= 4);
    for folder in folders {
        let name = name_of(&folder);
        let main = folder.join(format!("{name}.fell"));
        let case = Case { stage: "examples".into(), name, beside: folder.clone(), main, modules: Some(folder) };
        let compiled = compile(&case);
        let problems: &Problems = &compiled.problems;
        assert!(!problems.has_errors(), "{}", told(&case, &compiled));
        assert!(!compiled.sizes.is_empty());
    }
}

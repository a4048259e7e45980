//! Whole sources through [`check`].

use super::{Program, check};
use crate::diagnostic::Problems;
use crate::source::{LoadError, Loaded, Loader, SourceMap};
use crate::stdlib::WithLibrary;
use std::path::{Path, PathBuf};

/// Serves the files of a folder, as the command line's loader does.
struct Folder(PathBuf);

impl Loader for Folder {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        let relative = format!("{}.fell", path.replace('.', "/"));
        match std::fs::read_to_string(self.0.join(&relative)) {
            Ok(text) => Ok(Loaded { name: relative, text }),
            Err(_) => Err(LoadError::Missing { known: self.known() }),
        }
    }
}

impl Folder {
    fn known(&self) -> Vec<String> {
        let entries = std::fs::read_dir(&self.0).into_iter().flatten().flatten();
        let mut names: Vec<_> = entries.filter_map(|e| e.file_name().to_str()?.strip_suffix(".fell").map(str::to_owned)).collect();
        names.sort();
        names
    }
}

/// Checks a file of a folder; the report as text stands beside what was found.
fn run(folder: &Path, name: &str) -> (Option<Program>, Problems, SourceMap) {
    let text = std::fs::read_to_string(folder.join(name)).unwrap();
    run_text(folder, name, &text)
}

fn run_text(folder: &Path, name: &str, text: &str) -> (Option<Program>, Problems, SourceMap) {
    let (mut sources, mut problems) = (SourceMap::default(), Problems::default());
    let main = sources.add(name, text);
    let file = crate::syntax::parse(main, text, &mut problems);
    let program = check(main, file, &WithLibrary(Folder(folder.to_owned())), &mut sources, &mut problems);
    (program, problems, sources)
}

fn shown(problems: &Problems, sources: &SourceMap) -> String {
    use crate::diagnostic::{Look, render_text};
    render_text(problems, sources, Look { colour: false, width: 120 })
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn examples_are_in_order() {
    for entry in std::fs::read_dir(root().join("examples")).unwrap() {
        let folder = entry.unwrap().path();
        let name = format!("{}.fell", folder.file_name().unwrap().to_str().unwrap());
        if !folder.join(&name).exists() {
            continue;
        }
        let (program, problems, sources) = run(&folder, &name);
        assert!(problems.is_empty(), "{}", shown(&problems, &sources));
        assert!(program.is_some_and(|p| !p.panels.is_empty() && p.design_scope.is_some()));
    }
}

#[test]
fn the_library_is_in_order() {
    let (mut sources, mut problems) = (SourceMap::default(), Problems::default());
    let text: String = crate::stdlib::modules()
        .map(|(path, source)| {
            let file = crate::syntax::parse(crate::source::FileId(0), source, &mut Problems::default());
            format!("use {path} {{ {} }}\n", file.declarations.first().unwrap().name().text)
        })
        .collect();
    let main = sources.add("main.fell", text.as_str());
    let file = crate::syntax::parse(main, &text, &mut problems);
    let program = check(main, file, &WithLibrary(Folder(root())), &mut sources, &mut problems);
    problems.retain(|d| d.code != "no-design" && d.code != "unused-import");
    assert!(problems.is_empty(), "{}", shown(&problems, &sources));
    assert!(program.is_none(), "a file without a design is no program");
}

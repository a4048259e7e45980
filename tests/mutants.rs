//! Sources gone wrong: every example with words swapped, dropped and doubled and figures made absurd.
//! Whatever becomes of it, the compiler ends, in words or in files, and soon.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "reads the examples; a test may fail loudly")]

use lapfell::cli::Folder;
use lapfell::diagnostic::{Look, render_json, render_text};
use lapfell::pipeline::{self, Options, Request, Style};
use lapfell::source::Loaded;
use lapfell::stdlib::WithLibrary;
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::time::Duration;

/// Long past what any of these takes on a slow machine without optimisation.
const PATIENCE: Duration = Duration::from_secs(120);

/// Small steps of a fixed walk: the same mutants on every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % sides.max(1)
    }
}

/// Words, figures and marks, each with the white space after it.
fn tokens(text: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let kind = |c: char| {
        if c.is_alphanumeric() || c == '_' || c == '.' {
            1
        } else if c.is_whitespace() {
            2
        } else {
            3
        }
    };
    let mut last = 0;
    for c in text.chars() {
        let now = kind(c);
        match all.last_mut() {
            Some(token) if now == 2 || (now == last && now == 1) => token.push(c),
            _ => all.push(c.to_string()),
        }
        last = now;
    }
    all
}

const ABSURD: &[&str] = &[
    "0 ",
    "-1 ",
    "0 mm ",
    "-7 cm ",
    "1000000000 m ",
    "0.0000001 mm ",
    "99999999999999999999999999 ",
    "1 ",
    "360 deg ",
    "1000% ",
    "0% ",
    "-40 degC ",
    "\"{",
    "}",
    "{",
    "\u{202e}",
    "🧵 ",
    "[ ",
    ") ",
    "(1 mm, 2 mm) ",
    "yes ",
    "middle ",
    "when ",
    "else ",
    "from ",
    "as ",
    "\n",
    "// ",
    "0.5 in ",
    "1/0 in ",
];

fn mutant(text: &str, dice: &mut Dice) -> String {
    let mut all = tokens(text);
    // Half of them stay readable, with figures no maker would write, to get past the first stages.
    let readable = dice.roll(2) == 0;
    for _ in 0..=dice.roll(3) {
        let (at, other) = (dice.roll(all.len()), dice.roll(all.len()));
        match if readable { 5 } else { dice.roll(6) } {
            0 => {
                all.remove(at);
            }
            1 => all.swap(at, other),
            2 => {
                let again = all[at].clone();
                all.insert(at, again);
            }
            3 => all.insert(at, ABSURD[dice.roll(ABSURD.len())].to_owned()),
            4 => all[at] = all[other].clone(),
            // A figure, if there is one hereabouts, made absurd.
            _ => {
                let figure = all.iter().skip(at).position(|t| t.starts_with(|c: char| c.is_ascii_digit()));
                let figures = ["0", "0.000001", "1000000000", "3", "12345.678", "99999999999999999999"];
                if let Some(found) = figure {
                    let space: String = all[at + found].chars().filter(|c| c.is_whitespace()).collect();
                    all[at + found] = format!("{}{space}", figures[dice.roll(figures.len())]);
                }
            }
        }
    }
    all.concat()
}

/// Everything that can be made of a source is made.
fn make_all(text: String, folder: &Path) {
    let loader = WithLibrary(Folder::at(folder).unwrap());
    let main = Loaded { name: "mutant.fell".into(), text };
    let request = Request { settings: Vec::new(), jobs: Some(2), ..Request::default() };
    let compiled = pipeline::compile(main, &loader, &request, &|_| {}).unwrap();
    let shown = render_text(&compiled.problems, &compiled.sources, Look { colour: false, width: 80 });
    assert!(!shown.chars().any(|c| c.is_control() && c != '\n'), "{shown}");
    serde_json::from_str::<serde_json::Value>(&render_json(&compiled.problems, &compiled.sources)).unwrap();
    if !compiled.problems.has_errors() {
        let sizes: Vec<_> = compiled.sizes.iter().collect();
        let files = pipeline::files(&compiled, &sizes, &Options { style: Style::INCH, ..Options::default() });
        for file in files.unwrap_or_else(|e| panic!("no errors, and yet: {e}")) {
            assert!(!file.contents.contains("NaN") && !file.contents.contains("inf "), "{}", file.path);
        }
        assert!(pipeline::listing(&compiled, false).lines().count() > 2);
    }
}

fn examples() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut folders: Vec<_> = std::fs::read_dir(root).unwrap().map(|e| e.unwrap().path()).filter(|p| p.is_dir()).collect();
    folders.sort();
    let main = |folder: &PathBuf| folder.join(format!("{}.fell", folder.file_name().unwrap().to_str().unwrap()));
    folders.iter().map(|f| (f.clone(), std::fs::read_to_string(main(f)).unwrap())).collect()
}

fn walk(each: usize, seed: u64) {
    for (folder, text) in examples() {
        let mut dice = Dice(seed);
        for number in 0..each {
            let mutant = mutant(&text, &mut dice);
            let (done, end) = mpsc::channel();
            let (source, from) = (mutant.clone(), folder.clone());
            let worker = std::thread::spawn(move || {
                make_all(source, &from);
                let _ = done.send(());
            });
            match end.recv_timeout(PATIENCE) {
                Ok(()) => worker.join().unwrap(),
                Err(mpsc::RecvTimeoutError::Disconnected) => {
                    panic!("mutant {number} of {} broke the compiler:\n{mutant}", folder.display())
                }
                Err(mpsc::RecvTimeoutError::Timeout) => {
                    panic!("mutant {number} of {} keeps the compiler busy:\n{mutant}", folder.display())
                }
            }
        }
    }
}

#[test]
fn no_mutant_breaks_the_compiler() {
    walk(40, 7);
}

#[test]
#[ignore = "takes minutes; run it after a change to a stage"]
fn no_mutant_of_many_breaks_the_compiler() {
    for seed in 1..=5 {
        walk(100, seed);
    }
}

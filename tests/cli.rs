//! The command as a maker runs it: exit codes, what is written and what is not.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "runs the real program on real files")]

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

const MAT: &str = r#"use std.cloths { sack_cloth }
use std.finishes { rolled_hem }
use std.shapes { rectangle }

design mat "A mat to sit on" {
  param side = 40 cm from 20 cm to 80 cm "as long as it is wide"
  size small { side = 30 cm }
  size wide "For two" { side = 70 cm }
  panel seat {
    cut 1 of sack_cloth
    shape rectangle(width: side, height: side)
    finish foot, right, head, left with rolled_hem(width: 8 mm)
    grain along left
  }
}
"#;

/// A folder of its own for each test, taken away at its end.
struct Bench(PathBuf);

impl Bench {
    fn new() -> Self {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let name = format!("lapfell-cli-{}-{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed));
        let folder = std::env::temp_dir().join(name);
        fs::create_dir_all(&folder).unwrap();
        Self(folder.canonicalize().unwrap())
    }

    fn with(files: &[(&str, &str)]) -> Self {
        let bench = Self::new();
        files.iter().for_each(|(name, text)| bench.write(name, text));
        bench
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lapfell"));
        command.current_dir(&self.0).args(arguments).env_remove("NO_COLOR").stdin(Stdio::null());
        command
    }

    fn run(&self, arguments: &[&str]) -> Run {
        Run::of(self.command(arguments).output().unwrap())
    }

    /// Every file under a folder with its bytes.
    fn files(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let mut all = BTreeMap::new();
        collect(&self.0.join(folder), "", &mut all);
        all
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn collect(folder: &Path, prefix: &str, all: &mut BTreeMap<String, Vec<u8>>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries {
        let entry = entry.unwrap();
        let name = format!("{prefix}{}", entry.file_name().to_str().unwrap());
        if entry.file_type().unwrap().is_dir() {
            collect(&entry.path(), &format!("{name}/"), all);
        } else {
            all.insert(name, fs::read(entry.path()).unwrap());
        }
    }
}

struct Run {
    code: Option<i32>,
    out: String,
    err: String,
}

impl Run {
    fn of(output: Output) -> Self {
        Self { code: output.status.code(), out: String::from_utf8(output.stdout).unwrap(), err: String::from_utf8(output.stderr).unwrap() }
    }

    #[track_caller]
    fn ends_with(self, code: i32) -> Self {
        assert_eq!(self.code, Some(code), "\n{}\n{}", self.out, self.err);
        self
    }

    #[track_caller]
    fn says(self, words: &str) -> Self {
        assert!(self.out.contains(words) || self.err.contains(words), "{words:?} is not in\n{}\n{}", self.out, self.err);
        self
    }
}

#[test]
fn a_clean_source_ends_with_0_and_check_writes_nothing() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    let run = bench.run(&["check", "mat.fell"]).ends_with(0).says("mat: nothing wrong, as drawn and in small, wide");
    assert_eq!(run.err, "");
    assert_eq!(bench.files("").keys().collect::<Vec<_>>(), ["mat.fell"]);
}

#[test]
fn errors_in_the_source_end_with_1_and_nothing_is_written() {
    let bench = Bench::with(&[("mat.fell", &MAT.replace("rectangle(width: side", "rectangel(width: side"))]);
    bench.run(&["check", "mat.fell"]).ends_with(1).says("rectangel").says("1 error");
    for command in ["build", "order", "goods", "list"] {
        let run = bench.run(&[command, "mat.fell"]).ends_with(1);
        assert_eq!(run.out, "", "{command}");
        assert!(run.err.contains("rectangel"), "{command}: {}", run.err);
    }
    assert_eq!(bench.files("").len(), 1);
}

#[test]
fn an_error_in_one_size_stops_every_size() {
    let bench = Bench::with(&[("mat.fell", &MAT.replace("side = 70 cm", "side = 90 cm"))]);
    bench.run(&["build", "mat.fell", "--size", "small"]).ends_with(1).says("90 cm").says("wide");
    assert_eq!(bench.files("").len(), 1);
}

#[test]
fn wrong_usage_ends_with_2() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&[]).ends_with(2);
    bench.run(&["sew", "mat.fell"]).ends_with(2);
    bench.run(&["check"]).ends_with(2);
    bench.run(&["check", "mat.fell", "--jobs", "0"]).ends_with(2);
    bench.run(&["build", "mat.fell", "--size", "smal"]).ends_with(2).says("Did you mean small?");
    bench.run(&["order", "mat.fell", "--size", "huge"]).ends_with(2).says("as-drawn, small, wide");
    bench.run(&["why", "mat.fell", "seet"]).ends_with(2);
    bench.run(&["library", "ribon_loop"]).ends_with(2).says("Did you mean ribbon_loop?");
    bench.run(&["explain", "unknown-nam"]).ends_with(2).says("Did you mean unknown-name?");
    assert_eq!(bench.files("").len(), 1);
}

#[test]
fn settings_that_make_no_sense_end_with_2() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell", "--set", "side"]).ends_with(2).says("sets nothing");
    bench.run(&["build", "mat.fell", "--set", "=3"]).ends_with(2).says("sets nothing");
    bench.run(&["build", "mat.fell", "--set", "sid=30 cm"]).ends_with(2).says("sid");
    bench.run(&["build", "mat.fell", "--set", "side=30"]).ends_with(2).says("--set:1");
    bench.run(&["build", "mat.fell", "--set", "side=3 m"]).ends_with(2).says("80 cm");
    bench.run(&["build", "mat.fell", "--set", "side=30 cm +"]).ends_with(2).says("--set:1");
    bench.run(&["build", "mat.fell", "--set", "side=30 bananas"]).ends_with(2).says("bananas");
    assert_eq!(bench.files("").len(), 1);
}

#[test]
fn settings_win_over_sizes() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    let plain = bench.run(&["why", "mat.fell", "side", "--size", "wide"]).ends_with(0).says("70 cm");
    assert!(plain.err.is_empty());
    bench.run(&["why", "mat.fell", "side", "--size", "wide", "--set", "side = 55 cm"]).ends_with(0).says("55 cm");
}

#[test]
fn a_copy_answers_for_its_panel() {
    let bench = Bench::with(&[("mat.fell", &MAT.replace("cut 1 of sack_cloth", "cut 2 of sack_cloth as day, night"))]);
    let panel = bench.run(&["why", "mat.fell", "seat.left"]).ends_with(0).says("40 cm").out;
    assert_eq!(bench.run(&["why", "mat.fell", "night.left"]).ends_with(0).out, panel);
    bench.run(&["why", "mat.fell", "noon.left"]).ends_with(2);
}

#[test]
fn warnings_are_told_once_by_check_and_counted_elsewhere() {
    let bench = Bench::with(&[("mat.fell", &MAT.replace("{ sack_cloth }", "{ light_nylon, sack_cloth }"))]);
    bench.run(&["check", "mat.fell"]).ends_with(0).says("unused-import").says("1 warning");
    let run = bench.run(&["goods", "mat.fell"]).ends_with(0);
    assert_eq!(run.err, "1 warning; `lapfell check mat.fell` says more\n");
    let run = bench.run(&["build", "mat.fell"]).ends_with(0);
    assert!(run.err.contains("unused-import"), "{}", run.err);
}

#[test]
fn files_that_cannot_be_read_end_with_3() {
    let bench = Bench::with(&[("mat.fell", MAT), ("folder.fell/x", "")]);
    bench.run(&["check", "none.fell"]).ends_with(3).says("can't read none.fell: there is no such file");
    bench.run(&["check", "folder.fell"]).ends_with(3).says("it is a folder");
    fs::write(bench.0.join("latin.fell"), b"design a {\n  // caf\xe9\n}\n").unwrap();
    bench.run(&["check", "latin.fell"]).ends_with(3).says("line 2").says("UTF-8");
    fs::write(bench.0.join("large.fell"), " ".repeat((4 << 20) + 1)).unwrap();
    bench.run(&["check", "large.fell"]).ends_with(3).says("larger than 4 MiB");
}

#[test]
fn a_byte_order_mark_and_crlf_change_nothing() {
    let bench = Bench::with(&[("mat.fell", MAT), ("marked.fell", &format!("\u{feff}{}", MAT.replace('\n', "\r\n")))]);
    let plain = bench.run(&["goods", "mat.fell"]).ends_with(0);
    let marked = bench.run(&["goods", "marked.fell"]).ends_with(0);
    assert_eq!(plain.out, marked.out);
}

#[test]
fn standard_input_is_read_for_a_dash() {
    let bench = Bench::with(&[("cloths.fell", "use std.cloths { sack_cloth }\nlet hide = sack_cloth\n")]);
    let text = MAT.replace("std.cloths { sack_cloth }", "cloths { hide }").replace("cut 1 of sack_cloth", "cut 1 of hide");
    let mut child = bench.command(&["check", "-"]).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    Run::of(child.wait_with_output().unwrap()).ends_with(0).says("mat: nothing wrong");
}

#[test]
fn modules_come_from_the_folder_of_the_main_file_and_nowhere_else() {
    let text = MAT.replace("std.cloths { sack_cloth }", "shelf.cloths { hide }").replace("cut 1 of sack_cloth", "cut 1 of hide");
    let shelf = "use std.cloths { sack_cloth }\nlet hide = sack_cloth\n";
    let bench = Bench::with(&[("den/mat.fell", &text), ("den/shelf/cloths.fell", shelf), ("other.fell", shelf)]);
    bench.run(&["check", "den/mat.fell"]).ends_with(0);
    bench.write("den/up.fell", &MAT.replace("std.cloths", "other"));
    bench.run(&["check", "den/up.fell"]).ends_with(1).says("other");
    bench.write("den/near.fell", &MAT.replace("std.cloths", "shelf.cloth"));
    bench.run(&["check", "den/near.fell"]).ends_with(1).says("shelf.cloths");
}

#[cfg(unix)]
#[test]
fn links_out_of_the_folder_and_pipes_are_refused() {
    let text = MAT.replace("std.cloths { sack_cloth }", "cloths { hide }").replace("cut 1 of sack_cloth", "cut 1 of hide");
    let bench = Bench::with(&[("den/mat.fell", &text), ("cloths.fell", "use std.cloths { sack_cloth }\nlet hide = sack_cloth\n")]);
    std::os::unix::fs::symlink("../cloths.fell", bench.0.join("den/cloths.fell")).unwrap();
    bench.run(&["check", "den/mat.fell"]).ends_with(1).says("module-outside");
    fs::remove_file(bench.0.join("den/cloths.fell")).unwrap();
    let made = Command::new("mkfifo").arg(bench.0.join("den/cloths.fell")).status();
    if made.is_ok_and(|s| s.success()) {
        bench.run(&["check", "den/mat.fell"]).ends_with(1).says("it is not a file");
    }
}

#[test]
fn a_build_is_the_same_every_time() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell"]).ends_with(0).says("for 3 sizes into out/mat");
    bench.run(&["build", "mat.fell", "--out", "again", "--jobs", "1"]).ends_with(0);
    bench.run(&["build", "./mat.fell", "--out", "four", "--jobs", "4"]).ends_with(0);
    let first = bench.files("out/mat");
    for folder in ["as-drawn", "small", "wide"] {
        for name in [
            "pieces.svg",
            "pieces/seat.svg",
            "order.txt",
            "order.json",
            "materials.txt",
            "goods.csv",
            "cut-list.csv",
            "cutter.dxf",
            "cutter.plt",
            "pattern.dxf",
            "geometry.json",
        ] {
            let contents = first.get(&format!("{folder}/{name}")).unwrap_or_else(|| panic!("no {folder}/{name}"));
            assert!(contents.len() > 40, "{folder}/{name} is next to empty");
        }
    }
    for name in ["sizes.txt", "pattern.dxf", "nested.svg"] {
        assert!(first.contains_key(name), "no {name}");
    }
    assert_eq!(first, bench.files("again"));
    assert_eq!(first, bench.files("four"));
}

#[test]
fn sizes_are_laid_over_one_another_where_there_are_two() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell", "--out", "corner"]).ends_with(0);
    bench.run(&["build", "mat.fell", "--out", "head", "--nest-at", "seat.head"]).ends_with(0);
    // One size is built, and all are drawn: what is drawn of all sizes never leaves one out.
    bench.run(&["build", "mat.fell", "--out", "one", "--size", "wide"]).ends_with(0);
    let [corner, head, one] = ["corner", "head", "one"].map(|f| bench.files(f));
    assert_ne!(corner.get("nested.svg"), head.get("nested.svg"));
    assert_eq!(corner.get("nested.svg"), one.get("nested.svg"));
    assert_eq!(corner.get("pattern.dxf"), one.get("pattern.dxf"));
    bench.run(&["build", "mat.fell", "--out", "none", "--nest-at", "seat.heed"]).ends_with(2).says("seat.heed").says("seat.head");
    assert!(bench.files("none").is_empty());

    let alone: String = MAT.lines().filter(|l| !l.trim_start().starts_with("size ")).map(|l| format!("{l}\n")).collect();
    bench.write("alone.fell", &alone);
    bench.run(&["build", "alone.fell", "--out", "alone"]).ends_with(0);
    let files = bench.files("alone");
    assert!(!files.contains_key("nested.svg") && files.contains_key("pattern.dxf"), "{:?}", files.keys());
}

#[test]
fn units_change_pages_and_not_geometry() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell", "--out", "cm"]).ends_with(0);
    bench.run(&["build", "mat.fell", "--out", "in", "--units", "in"]).ends_with(0);
    let (cm, inch) = (bench.files("cm"), bench.files("in"));
    assert_eq!(cm.get("wide/geometry.json"), inch.get("wide/geometry.json"));
    assert_ne!(cm.get("wide/materials.txt"), inch.get("wide/materials.txt"));
    // 40 cm is 15.75 in.
    bench.run(&["goods", "mat.fell", "--units", "in"]).ends_with(0).says("15 3/4 in");
}

#[test]
fn a_failed_build_leaves_the_earlier_one_whole() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell"]).ends_with(0);
    let before = bench.files("out");
    bench.write("mat.fell", &MAT.replace("cut 1 of", "cut 1 from"));
    bench.run(&["build", "mat.fell"]).ends_with(1);
    assert_eq!(before, bench.files("out"));

    // A folder where a file should go: found only while files are being moved in.
    bench.write("mat.fell", &MAT.replace("40 cm", "45 cm"));
    fs::remove_file(bench.0.join("out/mat/wide/order.txt")).unwrap();
    bench.write("out/mat/wide/order.txt/mine", "notes");
    let before = bench.files("out");
    bench.run(&["build", "mat.fell"]).ends_with(3).says("order.txt").says("Nothing was changed");
    assert_eq!(before, bench.files("out"));
    assert!(before.keys().all(|k| !k.contains("staging")), "{:?}", before.keys());
}

#[test]
fn a_file_in_the_place_of_the_folder_ends_with_3() {
    let bench = Bench::with(&[("mat.fell", MAT), ("taken", "mine")]);
    bench.run(&["build", "mat.fell", "--out", "taken"]).ends_with(3).says("can't write taken");
    assert_eq!(fs::read_to_string(bench.0.join("taken")).unwrap(), "mine");
}

#[test]
fn what_a_build_no_longer_makes_goes_and_what_is_not_its_own_stays() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell"]).ends_with(0);
    bench.write("out/mat/wide/notes.txt", "mine");
    bench.write("precious.txt", "mine");
    // A list that was tampered with leads nowhere outside.
    let list = fs::read_to_string(bench.0.join("out/mat/.lapfell-files")).unwrap();
    bench.write("out/mat/.lapfell-files", &format!("{list}../../precious.txt\n"));
    bench.write("mat.fell", &MAT.replace("panel seat", "panel cover").replace("  size small { side = 30 cm }\n", ""));

    bench.run(&["build", "mat.fell", "--size", "wide"]).ends_with(0);
    let files = bench.files("out/mat");
    assert!(files.contains_key("wide/pieces/cover.svg") && !files.contains_key("wide/pieces/seat.svg"), "{:?}", files.keys());
    assert!(files.contains_key("small/pieces/seat.svg"), "{:?}", files.keys());

    bench.run(&["build", "mat.fell"]).ends_with(0);
    let files = bench.files("out/mat");
    assert!(!files.keys().any(|k| k.starts_with("small/") || k.contains("seat")), "{:?}", files.keys());
    assert!(files.contains_key("wide/notes.txt") && bench.0.join("precious.txt").exists());
}

#[cfg(unix)]
#[test]
fn links_in_the_output_folder_lead_nowhere_outside() {
    let bench = Bench::with(&[("mat.fell", MAT), ("elsewhere/order.txt", "mine"), ("out/mat/notes", "")]);
    std::os::unix::fs::symlink("../../elsewhere", bench.0.join("out/mat/wide")).unwrap();
    bench.run(&["build", "mat.fell"]).ends_with(3).says("a link leads out of the folder");
    assert_eq!(bench.files("elsewhere").len(), 1);
    assert_eq!(fs::read_to_string(bench.0.join("elsewhere/order.txt")).unwrap(), "mine");
}

#[test]
fn reports_are_json_for_programs() {
    let bench = Bench::with(&[("mat.fell", &MAT.replace("rectangle(width: side", "rectangel(width: side"))]);
    let run = bench.run(&["check", "mat.fell", "--format", "json"]).ends_with(1);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let error = value.as_array().unwrap().iter().find(|d| d["severity"] == "error").unwrap();
    assert_eq!(error["labels"][0]["file"], "mat.fell");
    assert_eq!(error["labels"][0]["line"], 11);
    bench.write("mat.fell", MAT);
    assert_eq!(bench.run(&["check", "mat.fell", "--format", "json"]).ends_with(0).out, "[]\n");
    for command in ["order", "goods", "list"] {
        let run = bench.run(&[command, "mat.fell", "--format", "json"]).ends_with(0);
        serde_json::from_str::<serde_json::Value>(&run.out).unwrap_or_else(|e| panic!("{command}: {e}\n{}", run.out));
    }
    let run = bench.run(&["why", "mat.fell", "side", "--format", "json"]).ends_with(0);
    let steps: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(steps[0]["value"], "40 cm");
}

#[test]
fn colours_only_where_they_are_wanted() {
    let bench = Bench::with(&[("mat.fell", &MAT.replace("rectangle(width: side", "rectangel(width: side"))]);
    let coloured = |arguments: &[&str], no_color: Option<&str>| {
        let mut command = bench.command(arguments);
        if let Some(value) = no_color {
            command.env("NO_COLOR", value);
        }
        Run::of(command.output().unwrap()).ends_with(1).out.contains('\u{1b}')
    };
    assert!(!coloured(&["check", "mat.fell"], None));
    assert!(!coloured(&["check", "mat.fell", "--colour", "never"], None));
    assert!(coloured(&["check", "mat.fell", "--colour", "always"], None));
    assert!(coloured(&["--colour", "always", "check", "mat.fell"], Some("1")));
}

#[test]
fn a_reader_who_leaves_is_no_failure() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    for arguments in [&["library"][..], &["manual"], &["explain"], &["goods", "mat.fell"], &["schema"], &["--help"]] {
        let mut child = bench.command(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        Run { out: String::new(), ..Run::of(child.wait_with_output().unwrap()) }.ends_with(0);
    }
}

#[test]
fn every_code_can_be_explained() {
    let bench = Bench::new();
    let list = bench.run(&["explain"]).ends_with(0).out;
    let codes: Vec<_> = list.lines().collect();
    assert!(codes.contains(&"accepted-nothing"), "{list}");
    for code in codes.into_iter().take(5) {
        assert!(bench.run(&["explain", code]).ends_with(0).out.len() > code.len() + 80);
    }
}

#[test]
fn help_manual_and_completions_know_every_command() {
    let bench = Bench::new();
    let help = bench.run(&["--help"]).ends_with(0).says("Exit codes").says("the source has errors; nothing is written").out;
    let manual = bench.run(&["manual"]).ends_with(0).says("Exit codes").out;
    let commands = ["check", "build", "why", "order", "goods", "list", "explain", "library", "schema", "completions", "manual"];
    for command in commands {
        assert!(help.contains(&format!("\n  {command}")), "{command} is not in\n{help}");
        assert!(manual.contains(&format!(".SH \"{}\"", command.to_uppercase())), "{command} is not in the manual");
        bench.run(&[command, "--help"]).ends_with(0).says("Usage: lapfell");
    }
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = bench.run(&["completions", shell]).ends_with(0).out;
        assert!(commands.iter().all(|c| script.contains(c)), "{shell}");
    }
    bench.run(&["--version"]).ends_with(0).says(env!("CARGO_PKG_VERSION"));
}

#[test]
fn a_list_names_parameters_sizes_and_edges() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    let run = bench.run(&["list", "mat.fell"]).ends_with(0);
    for words in [
        "A mat to sit on",
        "side",
        "40 cm",
        "from 20 cm to 80 cm",
        "as long as it is wide",
        "as-drawn",
        "side = 70 cm",
        "For two",
        "foot, right, head, left",
    ] {
        assert!(run.out.contains(words), "{words} is not in\n{}", run.out);
    }
}

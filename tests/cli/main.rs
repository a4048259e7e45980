//! The command as a maker runs it: exit codes, what is written and what is not.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::indexing_slicing, reason = "runs the real program on real files")]

mod folder;
mod harness;

use harness::{Bench, MAT, Run};
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

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
    bench.run(&["library", "felled", "--units", "in"]).ends_with(0).says("allowance 2 * width or more");
    bench.run(&["explain", "no-casing", "--units", "in"]).ends_with(0).says("changes nothing here");
    bench.run(&["explain", "unknown-nam"]).ends_with(2).says("Did you mean unknown-name?");
    assert_eq!(bench.files("").len(), 1);
}

#[test]
fn settings_that_make_no_sense_end_with_2() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell", "--set", "side"]).ends_with(2).says("sets nothing");
    bench.run(&["build", "mat.fell", "--set", "=3"]).ends_with(2).says("sets nothing");
    let twice = bench.run(&["check", "mat.fell", "--set", "side=30 cm", "--set", " side = 40 cm"]).ends_with(2);
    twice.says("`--set` gives side two values, `side=30 cm` and `side = 40 cm`: leave one out");
    bench.run(&["build", "mat.fell", "--set", "sid=30 cm"]).ends_with(2).says("sid");
    bench.run(&["build", "mat.fell", "--set", "side=30"]).ends_with(2).says("--set:1");
    bench.run(&["build", "mat.fell", "--set", "side=3 m"]).ends_with(2).says("80 cm");
    bench.run(&["build", "mat.fell", "--set", "side=30 cm +"]).ends_with(2).says("--set:1");
    bench.run(&["build", "mat.fell", "--set", "side=30 bananas"]).ends_with(2).says("bananas");
    assert_eq!(bench.files("").len(), 1);
}

#[test]
fn a_setting_made_of_its_own_parameter_ends_with_2() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    for setting in ["side=side", "side = 2 * side", "side=min(side, 30 cm)"] {
        let run = bench.run(&["check", "mat.fell", "--set", setting]).ends_with(2).says("`--set` can't make side of side itself");
        assert!(!run.err.contains("cycle") && run.out.is_empty(), "{}", run.err);
    }
}

#[test]
fn a_size_named_twice_is_built_once() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell", "--size", "small", "--size", "small"]).ends_with(0).says("for 1 size into");
    assert!(bench.files("out/mat").keys().all(|k| !k.contains("small-2")));
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
fn reports_are_in_the_readers_units_whatever_the_command() {
    // 3 m is 118.11 in, and the range ends at 80 cm, which is 31.496 in: 31 7/16 is still within it.
    let bench = Bench::with(&[("mat.fell", &MAT.replace("side = 70 cm", "side = 3 m"))]);
    for command in ["check", "build", "order", "goods", "list"] {
        bench.run(&[command, "mat.fell", "--units", "in"]).ends_with(1).says("`side` is 118 1/8 in").says("to 31 7/16 in");
        bench.run(&[command, "mat.fell"]).ends_with(1).says("`side` is 300 cm").says("to 80 cm");
    }
    bench.run(&["why", "mat.fell", "side", "--units", "in"]).ends_with(1).says("`side` is 118 1/8 in");
    let run = bench.run(&["check", "mat.fell", "--units", "in", "--format", "json"]).ends_with(1);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let headline = value[0]["headline"].as_str().unwrap();
    assert!(headline.starts_with("`side` is 118 1/8 in, and it may be from") && value[0]["labels"][0]["text"] == "118 1/8 in", "{value:#}");
    assert!(!run.out.contains('\u{fdd0}') && !run.out.contains("fdd0"), "{}", run.out);
}

#[test]
fn an_accepted_warning_is_told_in_the_readers_units() {
    let accepting =
        MAT.replace("  panel", "  accept hem-deeper-than-half because \"a rug\"\n  panel").replace("width: 8 mm", "width: 12 in");
    let bench = Bench::with(&[("mat.fell", &accepting)]);
    let run = bench.run(&["check", "mat.fell", "--units", "in"]);
    assert!(run.out.contains("accepted at mat.fell:") && run.out.contains(" folds in by 12 in"), "{}{}", run.out, run.err);
}

#[test]
fn where_a_figure_comes_from_is_told_in_the_readers_units() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    for figure in ["thread", "mass", "side", "seat.cut_area"] {
        let run = bench.run(&["why", "mat.fell", figure, "--units", "in"]).ends_with(0);
        // A line is a value, and behind a dash how it came about: as the source says it, or in words without measures.
        let values = run.out.lines().filter_map(|line| line.split(" = ").nth(1)).filter_map(|rest| rest.split("  ").next());
        let metric: Vec<_> =
            values.filter(|v| [" mm", " cm", " m", " m2", " cm2", " g", " kg"].iter().any(|unit| v.ends_with(unit))).collect();
        assert!(metric.is_empty(), "{figure}: {metric:?}\n{}", run.out);
    }
}

#[cfg(unix)]
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
fn the_library_is_json_for_programs() {
    let bench = Bench::new();
    let all = |arguments: &[&str]| -> serde_json::Value { serde_json::from_str(&bench.run(arguments).ends_with(0).out).unwrap() };
    let modules = all(&["library", "--format", "json"]);
    assert!(modules.as_array().unwrap().len() > 5 && modules[0]["items"][0]["heading"].is_string());
    let trims = all(&["library", "trims", "--format", "json"]);
    assert_eq!((trims.as_array().unwrap().len(), &trims[0]["path"]), (1, &serde_json::json!("std.trims")));
    assert!(trims[0]["items"].as_array().unwrap().len() > 3);
    let one = all(&["library", "ribbon_loop", "--format", "json"]);
    assert_eq!((&one[0]["path"], one[0]["items"].as_array().unwrap().len()), (&serde_json::json!("std.trims"), 1));
    assert_eq!(one[0]["items"][0]["name"], "ribbon_loop");
}

#[test]
fn what_stops_a_command_is_json_for_programs() {
    let bench = Bench::with(&[("mat.fell", MAT), ("taken", "mine")]);
    let cases: [(&[&str], i32, &str); 4] = [
        (&["build", "mat.fell", "--out", "taken"], 3, "can't write taken"),
        (&["check", "none.fell"], 3, "can't read none.fell"),
        (&["order", "mat.fell", "--size", "huge"], 2, "no size called huge"),
        (&["library", "ribon_loop"], 2, "Did you mean ribbon_loop?"),
    ];
    for (arguments, code, words) in cases {
        let run = bench.run(&[arguments, &["--format", "json"]].concat()).ends_with(code);
        let reports: serde_json::Value = serde_json::from_str(&run.err).unwrap_or_else(|e| panic!("{e}: {}", run.err));
        assert_eq!((&reports[0]["severity"], &reports[0]["code"]), (&serde_json::json!("error"), &serde_json::Value::Null));
        assert!(reports[0]["headline"].as_str().unwrap().contains(words), "{reports}");
        assert_eq!(run.out, "");
    }
}

#[test]
fn control_characters_reach_no_terminal_and_no_file() {
    let tame = |text: &str| !text.chars().any(|c| c.is_control() && c != '\n');
    let evil = "A\u{1b}[31m mat\u{9b}2J \u{7}to\u{7f} sit on";
    for place in ["A mat to sit on", "For two", "as long as it is wide"] {
        let bench = Bench::with(&[("mat.fell", &MAT.replace(place, evil))]);
        for command in ["check", "list", "order", "build"] {
            for format in ["text", "json"] {
                let run = bench.run(&[command, "mat.fell", "--format", format]).ends_with(1).says("control-character");
                assert!(tame(&run.out) && tame(&run.err), "{command} as {format}: {:?} {:?}", run.out, run.err);
            }
        }
        assert_eq!(bench.files("").len(), 1, "nothing is written");
    }
    // Nor do they come in by the command line.
    let bench = Bench::with(&[("mat.fell", MAT)]);
    for arguments in [["build", "mat.fell", "--set", evil], ["check", evil, "--format", "json"], ["order", "mat.fell", "--size", evil]] {
        let run = bench.run(&arguments);
        assert!(run.code != Some(0) && tame(&run.out) && tame(&run.err), "{:?} {:?}", run.out, run.err);
    }
    // What Unicode keeps for the inside of programs is used there, and would swallow words.
    let kept = "a\u{fdd1} b \u{fdd0}c\u{fdd2}";
    bench.run(&["check", "mat.fell", "--set", &format!("side=\"{kept}\"")]).ends_with(2).says("control-character");
    bench.write("mat.fell", &MAT.replace("A mat to sit on", kept));
    bench.run(&["check", "mat.fell"]).ends_with(1).says("control-character");
    // A new line may stand in a title, and breaks no line of a file that is read line by line.
    bench.write(
        "mat.fell",
        &MAT.replace("A mat to sit on", r"A mat\n  0\nEOF\nto sit on").replace("panel seat {", r#"panel seat "Seat\n  0\nEOF" {"#),
    );
    bench.run(&["build", "mat.fell"]).ends_with(0);
    for (name, bytes) in bench.files("out") {
        let text = String::from_utf8(bytes).unwrap();
        if name.ends_with(".dxf") {
            assert_eq!((text.lines().count() % 2, text.lines().filter(|l| *l == "EOF").count()), (0, 1), "{name}");
        } else if name.ends_with(".svg") || name.ends_with(".plt") {
            assert!(!text.contains("\nEOF"), "{name}");
        }
    }
}

#[test]
fn the_readme_gives_each_option_to_the_commands_that_take_it() {
    let bench = Bench::new();
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let rows = readme.lines().filter_map(|line| line.strip_prefix("| `--")?.split_once("` | "));
    let mut seen = 0;
    for (option, rest) in rows {
        let option = format!("--{}", option.split(' ').next().unwrap());
        let commands = rest.split(" | ").next().unwrap();
        for command in ["check", "build", "order", "goods", "why", "list"] {
            let takes = bench.run(&[command, "--help"]).ends_with(0).out.contains(&format!("{option} "));
            let said = commands == "all" || commands.split(", ").any(|c| c == command);
            assert_eq!(takes, said, "{option} of {command}");
            seen += 1;
        }
    }
    assert!(seen >= 6 * 8, "the table of options is not where it was");
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
        let page = bench.run(&["explain", code]).ends_with(0).out;
        assert!(page.len() > code.len() + 80, "{page}");
        assert!(page.lines().all(|line| line.chars().count() <= 80 || line.starts_with("  ")), "{page}");
        let told: serde_json::Value = serde_json::from_str(&bench.run(&["explain", code, "--format", "json"]).ends_with(0).out).unwrap();
        assert!(told["code"] == code && told["page"].as_str().is_some_and(|page| page.len() > 80), "{told}");
    }
    let told: Vec<String> = serde_json::from_str(&bench.run(&["explain", "--format", "json"]).ends_with(0).out).unwrap();
    assert!(told.len() > 100 && told.iter().any(|code| code == "accepted-nothing"));
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

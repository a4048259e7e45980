//! The examples as they come out, so that a change of wording, geometry or drawing is seen in review.
//!
//! Pages are snapshots under `tests/golden`. The picture in each example's folder is the build's own drawing of one
//! size. `INSTA_UPDATE=always cargo test --test golden` writes both again.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, reason = "examples and golden files are files of this project")]

use lapfell::cli::Folder;
use lapfell::pipeline::{self, Compiled, Options, OutputFile, Request};
use lapfell::source::Loaded;
use lapfell::stdlib::WithLibrary;
use std::fs;
use std::path::{Path, PathBuf};

/// Each example and the size that its picture and pages show.
const EXAMPLES: &[(&str, &str)] = &[("pouch", "small"), ("stuff_sack", "quilt"), ("tarp", "solo"), ("top_quilt", "regular")];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn compile(example: &str) -> Compiled {
    compile_file(&root().join("examples").join(example), &format!("{example}.fell"))
}

fn compile_file(folder: &Path, name: &str) -> Compiled {
    let text = fs::read_to_string(folder.join(name)).unwrap();
    let loader = WithLibrary(Folder::at(folder).unwrap());
    pipeline::compile(Loaded { name: name.to_owned(), text }, &loader, &Request::default(), &|_| {}).expect("no settings are made")
}

fn built(example: &str, size: &str) -> Vec<OutputFile> {
    let compiled = compile(example);
    assert!(!compiled.problems.has_errors(), "{example} has errors");
    let chosen = [compiled.size(size).expect("the size is there")];
    pipeline::files(&compiled, &chosen, &Options::default()).expect("every figure can be written")
}

fn file<'a>(files: &'a [OutputFile], path: &str) -> &'a str {
    &files.iter().find(|f| f.path == path).unwrap_or_else(|| panic!("no {path}")).contents
}

fn keep(name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(root().join("tests/golden"));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(name, text));
}

fn keep_picture(path: &Path, text: &str) {
    let kept = fs::read_to_string(path).unwrap_or_default();
    if kept == text {
        return;
    }
    assert!(std::env::var("INSTA_UPDATE").is_ok_and(|v| v == "always"), "{} is not what a build draws now", path.display());
    fs::write(path, text).unwrap();
}

#[test]
fn the_pages_of_every_example() {
    for (example, size) in EXAMPLES {
        let files = built(example, size);
        for page in ["order.txt", "materials.txt", "cut-list.csv"] {
            keep(&format!("{example}-{page}"), file(&files, &format!("{size}/{page}")));
        }
        keep(&format!("{example}-sizes.txt"), file(&files, "sizes.txt"));
    }
}

#[test]
fn the_picture_of_every_example() {
    for (example, size) in EXAMPLES {
        let files = built(example, size);
        keep_picture(&root().join("examples").join(example).join("picture.svg"), file(&files, &format!("{size}/pieces.svg")));
    }
}

/// The pieces of a drawing without its furniture, and of their words the titles alone.
fn pieces_alone(svg: &str) -> String {
    let head = svg.lines().next().unwrap();
    let (mut body, mut inside, mut words) = (Vec::new(), false, false);
    let mut reach = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    for line in svg.lines() {
        inside |= line.starts_with("<g class=\"piece\"");
        words = if line.starts_with("<g class=\"text\"") { true } else { words && line != "</g>" };
        let kept = inside && (!words || line.contains("bold") || line.starts_with("<g "));
        if line.starts_with("<g class=\"frame\"") || line.starts_with("<g id=\"sheet") {
            break;
        }
        if kept {
            for (x, y) in points(line) {
                reach = [reach[0].min(x), reach[1].min(y), reach[2].max(x), reach[3].max(y)];
            }
            body.push(line);
        }
    }
    let [x, y, right, top] = reach.map(|n| n.round());
    let (x, y, wide, high) = (x - 4.0, y - 4.0, right - x + 8.0, top - y + 8.0);
    let font = head.split("height=").next().unwrap();
    let open =
        format!("{font}height=\"{high}mm\" viewBox=\"{x} {y} {wide} {high}\" width=\"{wide}mm\" xmlns=\"http://www.w3.org/2000/svg\">");
    let ground = format!("<rect fill=\"#ffffff\" height=\"{high}\" width=\"{wide}\" x=\"{x}\" y=\"{y}\"/>");
    format!("{open}\n{ground}\n{}\n</svg>\n", body.join("\n"))
}

/// Ends of the strokes of a path in the drawing; about where a title stands.
fn points(line: &str) -> Vec<(f64, f64)> {
    let number =
        |name: &str| line.split(&format!(" {name}=\"")).nth(1).and_then(|n| n.split('"').next()).and_then(|n| n.parse::<f64>().ok());
    if let (true, Some(x), Some(y)) = (line.starts_with("<text"), number("x"), number("y")) {
        return vec![(x - 15.0, y), (x + 15.0, y)];
    }
    let Some(d) = line.split(" d=\"").nth(1).or_else(|| line.strip_prefix("<path d=\"")).and_then(|d| d.split('"').next()) else {
        return Vec::new();
    };
    let strokes = d.split_inclusive(|c: char| c.is_ascii_alphabetic()).flat_map(|s| s.split(|c: char| c.is_ascii_alphabetic()));
    let ends = strokes.filter_map(|s| {
        let numbers: Vec<f64> = s.split([' ', ',']).filter_map(|n| n.parse().ok()).collect();
        numbers.last_chunk::<2>().map(|[x, y]| (*x, *y))
    });
    ends.collect()
}

/// Each source in `grammar/pictures` has its picture beside it, which the reference shows: the drawing of all its pieces, or of
/// the only one.
#[test]
fn the_pictures_of_the_reference() {
    let folder = root().join("grammar/pictures");
    let mut sources: Vec<PathBuf> = fs::read_dir(&folder).unwrap().map(|e| e.unwrap().path()).collect();
    sources.retain(|p| p.extension().is_some_and(|e| e == "fell"));
    sources.sort();
    assert!(sources.len() >= 2, "only {} pictures", sources.len());
    for path in sources {
        let compiled = compile_file(&folder, path.file_name().unwrap().to_str().unwrap());
        assert!(compiled.problems.is_empty(), "{}: {:?}", path.display(), compiled.problems.sorted());
        let chosen = [compiled.size(pipeline::AS_DRAWN).expect("it is there")];
        let files = pipeline::files(&compiled, &chosen, &Options::default()).expect("every figure can be written");
        let single: Vec<&OutputFile> = files.iter().filter(|f| f.path.contains("/pieces/")).collect();
        let picture = if let [one] = single.as_slice() { &one.contents } else { file(&files, "as-drawn/pieces.svg") };
        let small = path.file_stem().is_some_and(|name| name == "corners" || name == "notches");
        let picture = if small { &pieces_alone(picture) } else { picture };
        keep_picture(&path.with_extension("svg"), picture);
    }
}

#[test]
fn the_files_of_a_small_piece() {
    let files = built("pouch", "small");
    keep("pouch-pocket.svg", file(&files, "small/pieces/pocket.svg"));
    keep("pouch-cutter.dxf", file(&files, "small/cutter.dxf"));
}

#[test]
fn what_is_read_at_a_cutter_and_what_it_is_given() {
    let files = built("stuff_sack", "quilt");
    keep("stuff_sack-table_knife.txt", file(&files, "quilt/cut/table_knife.txt"));
    keep("stuff_sack-table_knife_03.dxf", file(&files, "quilt/cut/table_knife_03.dxf"));
    keep("stuff_sack-table_knife_03.plt", file(&files, "quilt/cut/table_knife_03.plt"));
}

#[test]
fn the_schema_in_the_grammar_folder_is_the_one_the_program_prints() {
    keep_picture(&root().join("grammar/ir.schema.json"), &pipeline::schema());
}

#[test]
fn resolved_geometry_reads_back_as_it_was_written() {
    for (example, size) in EXAMPLES {
        let text = file(&built(example, size), &format!("{size}/geometry.json")).to_owned();
        let design = lapfell::ir::from_json(&text).expect("it reads back");
        assert_eq!(lapfell::ir::to_json(&design).expect("it is written again"), text, "{example}");
    }
}

//! The folder a build writes into: what it replaces, what it leaves alone, and what is there when it is stopped.

use super::harness::{Bench, MAT};
use std::collections::BTreeMap;
use std::fs;
use std::process::Stdio;
use std::time::Duration;

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
    bench.run(&["build", "mat.fell", "--out", "taken"]).ends_with(3).says("can't write taken: it is a file");
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

#[test]
fn links_in_the_output_folder_lead_nowhere_outside() {
    let bench = Bench::with(&[("mat.fell", MAT), ("elsewhere/order.txt", "mine"), ("out/mat/notes", "")]);
    std::os::unix::fs::symlink("../../elsewhere", bench.0.join("out/mat/wide")).unwrap();
    bench.run(&["build", "mat.fell"]).ends_with(3).says("wide").says("it is in the way");
    assert_eq!(bench.files("elsewhere").len(), 1);
    assert_eq!(fs::read_to_string(bench.0.join("elsewhere/order.txt")).unwrap(), "mine");
}

/// The folders of sizes, each with its files.
fn sizes(bench: &Bench, folder: &str) -> BTreeMap<String, BTreeMap<String, Vec<u8>>> {
    let mut all: BTreeMap<String, BTreeMap<String, Vec<u8>>> = BTreeMap::new();
    for (path, bytes) in bench.files(folder) {
        if let Some((size, name)) = path.split_once('/').filter(|(size, _)| !size.starts_with('.')) {
            all.entry(size.to_owned()).or_default().insert(name.to_owned(), bytes);
        }
    }
    all
}

#[test]
fn a_build_stopped_at_any_moment_leaves_each_size_whole() {
    let bench = Bench::with(&[("one.fell", MAT), ("other.fell", &MAT.replace("8 mm", "9 mm").replace("panel seat", "panel cover"))]);
    bench.run(&["build", "one.fell", "--out", "one"]).ends_with(0);
    bench.run(&["build", "other.fell", "--out", "other"]).ends_with(0);
    let (one, other) = (sizes(&bench, "one"), sizes(&bench, "other"));
    bench.run(&["build", "one.fell", "--out", "den"]).ends_with(0);
    for round in 0..40_u64 {
        let source = if round % 2 == 0 { "other.fell" } else { "one.fell" };
        let mut child = bench.command(&["build", source, "--out", "den"]).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(Duration::from_micros(500 * round));
        let _ = child.kill();
        child.wait().unwrap();
        for (size, files) in sizes(&bench, "den") {
            assert!(Some(&files) == one.get(&size) || Some(&files) == other.get(&size), "{size} is a mixture: {:?}", files.keys());
        }
    }
    // The next build puts all in order, and leaves nothing of those before it.
    bench.run(&["build", "one.fell", "--out", "den"]).ends_with(0);
    assert_eq!(bench.files("den"), bench.files("one"));
}

#[test]
fn a_folder_moved_aside_by_a_stopped_build_comes_back() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell"]).ends_with(0);
    let before = bench.files("out/mat");
    bench.write("out/mat/.lapfell-staging/new/wide/half.txt", "hal");
    fs::create_dir(bench.0.join("out/mat/.lapfell-staging/folders")).unwrap();
    fs::rename(bench.0.join("out/mat/wide"), bench.0.join("out/mat/.lapfell-staging/folders/wide")).unwrap();
    bench.run(&["build", "mat.fell", "--size", "small"]).ends_with(0);
    assert_eq!(bench.files("out/mat"), before);

    // A build that is refused puts it back too, or leaves it where it is.
    fs::create_dir_all(bench.0.join("out/mat/.lapfell-staging/folders")).unwrap();
    fs::rename(bench.0.join("out/mat/wide"), bench.0.join("out/mat/.lapfell-staging/folders/wide")).unwrap();
    bench.write("rug.fell", &MAT.replace("design mat", "design rug"));
    bench.run(&["build", "rug.fell", "--out", "out/mat"]).ends_with(3);
    assert_eq!(bench.files("out/mat"), before);
}

#[test]
fn two_builds_into_one_folder_do_not_mix() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell"]).ends_with(0);
    let before = bench.files("out/mat");
    bench.write("out/mat/.lapfell-staging/lock", "");
    let lock = fs::File::create(bench.0.join("out/mat/.lapfell-staging/lock")).unwrap();
    lock.lock().unwrap();
    bench.run(&["build", "mat.fell", "--set", "side=50 cm"]).ends_with(3).says("another build is writing there");
    drop(lock);
    bench.run(&["build", "mat.fell"]).ends_with(0);
    assert_eq!(bench.files("out/mat"), before);
}

#[test]
fn a_file_of_another_origin_is_never_overwritten() {
    for (name, said) in [("sizes.txt", "sizes.txt"), ("wide/pieces/seat.svg", "seat.svg"), ("wide", "wide"), ("small/pieces", "pieces")] {
        let bench = Bench::with(&[("mat.fell", MAT)]);
        bench.write(&format!("den/{name}"), "mine");
        bench
            .run(&["build", "mat.fell", "--out", "den"])
            .ends_with(3)
            .says(said)
            .says("no build of this design wrote it")
            .says("Nothing was changed");
        assert_eq!(bench.files("den").into_iter().collect::<Vec<_>>(), [(name.to_owned(), b"mine".to_vec())]);
    }
}

#[test]
fn a_folder_holds_one_design() {
    let bench = Bench::with(&[("mat.fell", MAT), ("rug.fell", &MAT.replace("design mat", "design rug"))]);
    bench.run(&["build", "mat.fell", "--out", "den"]).ends_with(0);
    let before = bench.files("den");
    bench.run(&["build", "rug.fell", "--out", "den"]).ends_with(3).says("a build of the design mat, and this is rug").says("--out");
    assert_eq!(bench.files("den"), before);
    // Deleted as a whole, it is free for another.
    fs::remove_dir_all(bench.0.join("den")).unwrap();
    bench.run(&["build", "rug.fell", "--out", "den"]).ends_with(0);
    // A text that is no list of ours says nothing about what may be replaced.
    bench.write("den/.lapfell-files", "sizes.txt\n");
    bench.run(&["build", "rug.fell", "--out", "den"]).ends_with(3).says("it is not the list of a build");
}

#[test]
fn what_has_not_changed_is_not_written_again() {
    let bench = Bench::with(&[("mat.fell", MAT)]);
    bench.run(&["build", "mat.fell"]).ends_with(0);
    let written = |name: &str| fs::metadata(bench.0.join("out/mat").join(name)).unwrap().modified().unwrap();
    let before = bench.files("out/mat");
    let times: Vec<_> = before.keys().map(|n| written(n)).collect();
    bench.run(&["build", "mat.fell"]).ends_with(0);
    assert_eq!(before.keys().map(|n| written(n)).collect::<Vec<_>>(), times);
    bench.write("mat.fell", &MAT.replace("side = 70 cm", "side = 71 cm"));
    bench.run(&["build", "mat.fell"]).ends_with(0);
    let after = bench.files("out/mat");
    for ((name, contents), time) in before.iter().zip(times) {
        assert_eq!(written(name) == time, Some(contents) == after.get(name), "{name}");
    }
    assert_ne!(before.get("wide/pieces.svg"), after.get("wide/pieces.svg"));
    assert_eq!(before.get("small/pieces.svg"), after.get("small/pieces.svg"));
}

//! The written file read back, by a library and pair by pair.

use super::*;
use crate::export::sample;
use crate::ir::sample::Sample;
use ::dxf::entities::{Entity, EntityType};
use ::dxf::{Block, Drawing};

fn blocks<'d>(sizes: &[&'d Design]) -> Vec<Blocks<'d>> {
    sizes.iter().map(|d| Blocks::of(d, &InterchangeOptions::default())).collect()
}

fn write(sizes: &[&Design]) -> String {
    pattern(&blocks(sizes)).expect("the sample can be written")
}

fn load(text: &str) -> Drawing {
    Drawing::load(&mut text.as_bytes()).expect("the library reads the file")
}

fn on<'a>(block: &'a Block, layer: &'a str) -> impl Iterator<Item = &'a Entity> {
    block.entities.iter().filter(move |e| e.common.layer == layer)
}

/// Closed lines on a layer, their repeated vertex left out.
fn rings(block: &Block, layer: &str) -> Vec<Vec<Point>> {
    let polylines = on(block, layer).filter_map(|e| if let EntityType::Polyline(p) = &e.specific { Some(p) } else { None });
    polylines
        .filter(|p| p.is_closed())
        .map(|p| {
            let mut points: Vec<Point> = p.vertices().map(|v| Point::new(v.location.x, v.location.y)).collect();
            let last = points.pop();
            assert_eq!(points.first(), last.as_ref(), "the first vertex stands again at the end");
            points
        })
        .collect()
}

fn area(points: &[Point]) -> f64 {
    points.iter().zip(points.iter().cycle().skip(1)).map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>() / 2.0
}

fn places(block: &Block, layer: &str) -> Vec<Point> {
    let points = on(block, layer).filter_map(|e| if let EntityType::ModelPoint(p) = &e.specific { Some(&p.location) } else { None });
    points.map(|p| Point::new(p.x, p.y)).collect()
}

fn texts(block: &Block, layer: &str) -> Vec<String> {
    on(block, layer).filter_map(|e| if let EntityType::Text(t) = &e.specific { Some(t.value.clone()) } else { None }).collect()
}

#[test]
fn a_piece_has_its_block_with_all_that_the_standard_asks() {
    for design in [sample::quilt(), sample::tarp(), sample::sack()] {
        let file = load(&write(&[&design]));
        assert_eq!(file.blocks().count(), design.pieces.len());
        for (block, piece) in file.blocks().zip(&design.pieces) {
            let outlines = rings(block, "1");
            let [outline] = outlines.as_slice() else { panic!("{} outlines", outlines.len()) };
            let off = area(outline) / piece.cut_line.signed_area();
            // Chords within s of a circle of radius r enclose 4/3 s / r less than it: of the base, 0.03 %.
            assert!((off - 1.0).abs() < 4e-4, "{}: {off}", piece.name);
            assert_eq!(rings(block, "14").len(), 1);
            assert_eq!(rings(block, "11").len(), piece.holes.len());
            assert_eq!(places(block, "4").len(), piece.notches.len());
            assert_eq!(on(block, "7").filter(|e| matches!(e.specific, EntityType::Line(_))).count(), 1);
            let said = texts(block, "1");
            for wanted in
                [format!("PIECE NAME: {}", piece.name), format!("SIZE: {}", design.size_title), format!("QUANTITY: {}", piece.copies.len())]
            {
                assert!(said.contains(&wanted), "{wanted} in {said:?}");
            }
            assert!(said.iter().any(|t| t.starts_with("MATERIAL: ")));
        }
        let inserted: Vec<_> =
            file.entities().filter_map(|e| if let EntityType::Insert(i) = &e.specific { Some(i.name.clone()) } else { None }).collect();
        assert_eq!(inserted, file.blocks().map(|b| b.name.clone()).collect::<Vec<_>>());
    }
}

#[test]
fn every_vertex_is_a_turn_or_on_a_curve() {
    for design in [sample::quilt(), sample::tarp(), sample::sack()] {
        for block in load(&write(&[&design])).blocks() {
            let (turns, curves) = (places(block, "2"), places(block, "3"));
            let near = |all: &[Point], p: Point| all.iter().filter(|q| q.distance(p) < 1e-3).count();
            for outline in rings(block, "1") {
                for p in outline {
                    assert_eq!(near(&turns, p) + near(&curves, p), 1, "{p:?}");
                }
            }
        }
    }
    // The quilt's shell: six corners cut, and as many sewn.
    let quilt = load(&write(&[&sample::quilt()]));
    let shell = quilt.blocks().next().expect("a shell");
    assert!(places(shell, "3").is_empty(), "it has no curve");
    // The sack's base: no corner at all, so each circle starts with its only turn.
    let sack = load(&write(&[&sample::sack()]));
    let base = sack.blocks().next().expect("a base");
    assert_eq!(places(base, "2"), [Point::new(75.0, 0.0), Point::new(85.0, 0.0)]);
}

#[test]
fn what_is_mirrored_is_said() {
    let file = load(&write(&[&sample::quilt()]));
    let said = texts(file.blocks().next().expect("a shell"), "1");
    let wanted = "ANNOTATION: Shell; cut 2: 1 as drawn, 1 mirrored; outer, inner (mirrored); face up";
    assert!(said.iter().any(|t| t == wanted), "{said:?}");
}

#[test]
fn marks_lie_on_the_layers_of_their_kind() {
    let file = load(&write(&[&sample::quilt()]));
    let shell = file.blocks().next().expect("a shell");
    // Three snaps; six loops, the zip's stretch, and two strokes where the name tag's point is marked.
    assert_eq!(places(shell, "13").len(), 3);
    assert_eq!(on(shell, "8").filter(|e| matches!(e.specific, EntityType::Polyline(_))).count(), 9);
    assert!(texts(shell, "15").contains(&"loop 2, 60 cm from head".to_owned()), "{:?}", texts(shell, "15"));
    // A slit's depth is its z, its direction stands as 50.
    let text = write(&[&sample::quilt()]);
    assert!(text.contains("  0\nPOINT\n  8\n4\n 10\n315.0\n 20\n-8.0\n 30\n4.0\n 39\n0.0\n 50\n90.0\n"));
}

#[test]
fn all_sizes_stand_in_one_file() {
    let (mut long, mut plain) = (sample::quilt(), sample::quilt());
    long.size = Some("long".into());
    plain.size_title = "as drawn".into();
    let text = write(&[&long, &plain]);
    let file = load(&text);
    assert_eq!(file.blocks().count(), 2 * plain.pieces.len());
    assert_eq!(file.blocks().next().map(|b| b.name.as_str()), Some("SHELL_LONG"));
    let style: Vec<String> =
        file.entities().filter_map(|e| if let EntityType::Text(t) = &e.specific { Some(t.value.clone()) } else { None }).collect();
    assert_eq!(style, ["STYLE NAME: larch", "UNITS: METRIC", "SAMPLE SIZE: as drawn"]);
    assert!(!text.contains("CREATION"), "there is no clock");
}

#[test]
fn the_file_is_release_12_without_what_readers_stumble_over() {
    let mut design = sample::sack();
    design.materials.iter_mut().for_each(|m| m.title = "Größe 50 %%d — 33 g/m²\n".into());
    let text = write(&[&design]);
    assert!(text.is_ascii());
    assert!(text.starts_with("  0\nSECTION\n  2\nHEADER\n  0\nENDSEC\n  0\nSECTION\n  2\nBLOCKS\n"));
    assert!(text.contains("MATERIAL: Grosse 50 % %d - 33 g/m2\n"));
    for word in ["LWPOLYLINE", "SPLINE", "MTEXT", "ELLIPSE", "TABLES", "CLASSES", "OBJECTS", "Model_Space"] {
        assert!(!text.contains(word), "{word}");
    }
    assert_eq!(text.lines().count() % 2, 0);
}

#[test]
fn a_piece_without_numbers_is_an_error_that_names_it() {
    let mut design = sample::sack();
    design.pieces.iter_mut().for_each(|p| p.cut_line.start = Point::new(f64::NAN, 0.0));
    let error = pattern(&blocks(&[&design, &design])).expect_err("it can't be written");
    assert!(error.to_string().starts_with("Round base, Body, Flap"), "{error}");
    let mut nothing = Sample::new("none", "None").design;
    nothing.pieces.clear();
    assert_eq!(load(&write(&[&nothing])).blocks().count(), 0);
    assert_eq!(load(&write(&[])).entities().count(), 0);
}

#[test]
fn the_legs_of_a_dart_are_sewn_and_its_middle_is_folded() {
    let mut design = sample::sack();
    design.pieces.truncate(1);
    let piece = &mut design.pieces[0];
    let (low, middle) = (piece.edges[0].path.start, piece.edges[0].path.point_at(60.0));
    let inward = piece.edges[0].path.tangent_at(60.0).left();
    let legs = [middle + (low - middle).unit() * 10.0, middle + inward * 80.0, middle - (low - middle).unit() * 10.0];
    piece.folds = vec![crate::ir::FoldLine { of: "dart foot".into(), path: crate::geometry::Path::polyline(&legs).expect("a line") }];
    let file = load(&write(&[&design]));
    let block = file.blocks().next().expect("a block");
    let open = |layer| {
        let lines = on(block, layer).filter_map(|e| if let EntityType::Polyline(p) = &e.specific { Some(p) } else { None });
        lines.filter(|p| !p.is_closed()).map(|p| p.vertices().count()).collect::<Vec<_>>()
    };
    assert_eq!(open("14"), [3]);
    assert!(open("8").contains(&2) && !open("8").contains(&3), "{:?}", open("8"));
}

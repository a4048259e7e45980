//! The written file read back.

use super::*;
use crate::export::{drawing, sample};
use crate::geometry::{self, Point};
use crate::ir::PieceId;
use crate::quantity::Style;
use resvg::usvg::roxmltree;
use svg::node::element::path::{Command, Data};

fn sheet(design: &Design) -> String {
    write(design, &drawing::sheet(design, Style::default()))
}

/// A line as the file tells it: its length, and the points it passes through.
struct Read {
    length: f64,
    points: Vec<Point>,
}

/// The only line of one layer of a piece, read back from the file.
fn read(svg: &str, piece: &str, layer: &str) -> Read {
    let document = roxmltree::Document::parse(svg).expect("well-formed XML");
    let group = document.descendants().find(|n| n.attribute("id") == Some(&format!("{piece}-{layer}"))).expect("the layer's group");
    let lines: Vec<&str> = group.children().filter_map(|n| n.attribute("d")).collect();
    let [d] = lines.try_into().expect("one line");
    assert!(d.ends_with('Z'), "it does not close: {d}");
    measure(d)
}

fn measure(d: &str) -> Read {
    let mut read = Read { length: 0.0, points: Vec::new() };
    for command in Data::parse(d).expect("path data").iter() {
        let numbers: Vec<f64> = match command {
            Command::Move(_, n) | Command::Line(_, n) | Command::CubicCurve(_, n) | Command::EllipticalArc(_, n) => {
                n.iter().map(|n| f64::from(*n)).collect()
            }
            _ => Vec::new(),
        };
        let start = read.points.last().copied().unwrap_or_default();
        let end = match numbers.as_slice() {
            [.., x, y] => Point::new(*x, *y),
            _ => read.points.first().copied().expect("a path that closes has begun"),
        };
        read.length += match (command, numbers.as_slice()) {
            (Command::Move(..), _) => 0.0,
            (Command::CubicCurve(..), [a, b, c, d, ..]) => {
                geometry::Path::new(start).cubic_to(Point::new(*a, *b), Point::new(*c, *d), end).length()
            }
            // The angle from chord and radius, at most half a turn.
            (Command::EllipticalArc(..), [radius, ..]) => 2.0 * radius * (start.distance(end) / (2.0 * radius)).min(1.0).asin(),
            _ => start.distance(end),
        };
        read.points.push(end);
    }
    read
}

#[test]
fn a_file_measures_what_the_design_measures() {
    for design in [sample::quilt(), sample::tarp(), sample::sack()] {
        let svg = sheet(&design);
        for (drawing, piece) in drawing::sheet(&design, Style::default()).drawings.iter().zip(&design.pieces) {
            let (cut, wanted) = (read(&svg, &drawing.id, "cut").length, piece.cut_line.length());
            assert!((cut - wanted).abs() < 0.02, "{}: {cut} and {wanted}", piece.name);
            let stitch = read(&svg, &drawing.id, "stitch").length;
            let finished: f64 = piece.edges.iter().map(|e| e.length.as_mm()).sum();
            assert!((stitch - finished).abs() < 0.02, "{}: {stitch} and {finished}", piece.name);
        }
    }
}

#[test]
fn a_tab_and_a_round_base_measure_as_worked_out_by_hand() {
    // 80 by 25, and 5 all round: twice 90 and 35.
    let tab = read(&sheet(&sample::quilt()), "piece-4-tab", "cut");
    assert!((tab.length - 250.0).abs() < 1e-3, "{}", tab.length);
    // 150 across, and 10 all round: 170 π; every point read back lies 85 from the middle.
    let base = read(&sheet(&sample::sack()), "piece-1-base", "cut");
    assert!((base.length - 534.0708).abs() < 1e-2, "{}", base.length);
    let right = base.points.iter().copied().max_by(|a, b| a.x.total_cmp(&b.x)).expect("points");
    let middle = Point::new(right.x - 85.0, right.y);
    assert!(base.points.iter().all(|p| (p.distance(middle) - 85.0).abs() < 2e-3));
}

#[test]
fn a_unit_is_a_millimetre() {
    let sack = sample::sack();
    let svg = write(&sack, &drawing::single(&sack, PieceId(1), Style::default()));
    let document = roxmltree::Document::parse(&svg).expect("well-formed XML");
    let root = document.root_element();
    let size = |name: &str| root.attribute(name).and_then(|s| s.strip_suffix("mm")).expect("in millimetres");
    assert_eq!(root.attribute("viewBox"), Some(format!("0 0 {} {}", size("width"), size("height")).as_str()));
    let frame = document.descendants().find(|n| n.attribute("id") == Some("sheet-frame")).expect("the frame");
    let around: Vec<f64> = frame.children().filter_map(|n| n.attribute("d")).map(|d| measure(d).length).collect();
    for side in [100.0, 101.6] {
        assert!(around.iter().any(|a| (a - 4.0 * side).abs() < 1e-3), "no square of {side} among {around:?}");
    }
}

#[test]
fn any_text_leaves_the_file_well_formed() {
    let mut design = sample::sack();
    let nasty = "a<b>&\"c\"'\u{1}\u{7f}\u{fffe}é\n--> ]]> &#0;";
    design.title = nasty.into();
    design.size_title = nasty.into();
    design.cautions = vec![crate::ir::Text::words(nasty)];
    for piece in &mut design.pieces {
        piece.name = nasty.into();
        piece.label = nasty.into();
        piece.edges.iter_mut().for_each(|e| e.name = nasty.into());
    }
    let svg = sheet(&design);
    let document = roxmltree::Document::parse(&svg).expect("well-formed XML");
    let title = document.descendants().find(|n| n.has_tag_name("title")).and_then(|n| n.text()).expect("a title");
    assert!(title.starts_with("a<b>&\"c\"'  é --> ]]> &#0;"), "{title}");
    let mut ids: Vec<&str> = document.descendants().filter_map(|n| n.attribute("id")).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "an id stands twice");
}

#[test]
fn a_piece_without_numbers_is_named_and_not_drawn() {
    let mut design = sample::sack();
    let base = design.pieces.first_mut().expect("a piece");
    base.cut_line.start = Point::new(f64::NAN, 0.0);
    let svg = sheet(&design);
    assert!(!svg.contains("NaN") && !svg.contains("piece-1-base"));
    assert!(svg.contains("Not drawn: Round base"), "the sheet does not say what is missing");
    design.pieces.clear();
    roxmltree::Document::parse(&sheet(&design)).expect("a sheet without pieces is a sheet");
}

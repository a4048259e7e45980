//! Tests of tracing: what single drawings give.

use super::{Drawn, Request, TraceError, read};
use crate::geometry::{Path, Segment};
use crate::source::Span;
use std::f64::consts::PI;

fn request(path: Option<&str>, block: Option<&str>) -> Request {
    let choice = |name: Option<&str>| name.map(|n| (n.to_owned(), Span::default()));
    Request { file: ("drawing".into(), Span::default()), path: choice(path), block: choice(block), layer: None, around: None }
}

fn outline(drawing: &str) -> Path {
    read(&request(None, None), drawing.as_bytes()).as_ref().map(Drawn::outline).expect("an outline").clone()
}

fn refused(result: Result<Drawn, TraceError>) -> String {
    match result {
        Err(TraceError::Unreadable { reason, .. }) => reason,
        other => panic!("it is not refused as unreadable: {other:?}"),
    }
}

fn svg(d: &str, style: &str) -> String {
    format!(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200"><g style="{style}"><path d="{d}"/></g></svg>"#)
}

/// A polyline of a DXF drawing: x, y and bulge of each vertex.
fn polyline(vertices: &[(f64, f64, f64)], closed: bool) -> String {
    let mut text = format!("0\nPOLYLINE\n8\n1\n66\n1\n70\n{}\n", u8::from(closed));
    for (x, y, bulge) in vertices {
        text.push_str(&format!("0\nVERTEX\n8\n1\n10\n{x}\n20\n{y}\n42\n{bulge}\n"));
    }
    text + "0\nSEQEND\n"
}

fn section(name: &str, entities: &str) -> String {
    format!("0\nSECTION\n2\n{name}\n{entities}0\nENDSEC\n")
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-6, "{a} is not {b}");
}

#[test]
fn flags_of_an_arc_may_run_together_and_exponents_are_read() {
    // The two flags and the next coordinate without a blank between, as SVG 1.1, 8.3.9, allows.
    for d in ["M0 0h100v50a50 50 0 01-100 0z", "M0,0H1e2V5.0e+1A50,50,0,010,50Z", "m0 0 100 0 0 50a50 50 0 0 1-100 0z"] {
        let path = outline(&svg(d, ""));
        near(path.signed_area(), 100.0 * 50.0 + PI * 50.0 * 50.0 / 2.0);
        assert!(path.segments.iter().any(|s| matches!(s, Segment::Arc { .. })), "{path:?}");
    }
}

#[test]
fn whichever_way_it_is_drawn_and_closed_it_is_one_outline() {
    for d in ["M0 0H100V50H0Z", "M0 0V50H100V0Z", "M0 0H100V50H0V0", "M0 0H100V50H0V0Z"] {
        let path = outline(&svg(d, "fill:none; transform:none"));
        assert_eq!(path.segments.len(), 4, "{d}");
        near(path.signed_area(), 5000.0);
    }
}

#[test]
fn a_style_that_moves_a_shape_is_refused() {
    // A mirrored outline has every edge as long as before: no stated length would tell.
    for style in ["transform: scale(-1, 1)", "fill:none;Transform:matrix(-1,0,0,1,0,0)", "scale: -1 1", "rotate:90deg"] {
        let reason = refused(read(&request(None, None), svg("M0 0H100V50H0Z", style).as_bytes()));
        assert!(reason.contains("its style says"), "{reason}");
    }
    let reason = refused(read(&request(None, None), svg("M0 0H100V50H0Zx", "").as_bytes()));
    assert_eq!(reason, "the data of a path without an id can't be read");
}

#[test]
fn a_negative_bulge_turns_in_and_a_first_vertex_that_stands_twice_is_one() {
    // A half circle of radius 25 bitten out of the right side.
    let bitten = [(0.0, 0.0, 0.0), (100.0, 0.0, -1.0), (100.0, 50.0, 0.0), (0.0, 50.0, 0.0)];
    let twice: Vec<_> = bitten.iter().copied().chain([(0.0, 0.0, 0.5)]).collect();
    for (vertices, closed) in [(bitten.as_slice(), true), (twice.as_slice(), true), (twice.as_slice(), false)] {
        let path = outline(&section("ENTITIES", &polyline(vertices, closed)));
        near(path.signed_area(), 5000.0 - PI * 25.0 * 25.0 / 2.0);
        assert_eq!(path.segments.len(), 4);
    }
}

#[test]
fn a_block_that_is_only_placed_mirrored_is_refused() {
    let square = polyline(&[(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 50.0, 0.0), (0.0, 50.0, 0.0)], true);
    let blocks = section("BLOCKS", &format!("0\nBLOCK\n2\nHALF\n70\n0\n10\n0\n20\n0\n{square}0\nENDBLK\n"));
    let insert = |x: f64| format!("0\nINSERT\n8\n1\n2\nHALF\n10\n0\n20\n0\n41\n{x}\n42\n1\n");
    let drawing = |inserts: &str| format!("{blocks}{}0\nEOF\n", section("ENTITIES", inserts));
    let read = |inserts: &str| read(&request(None, Some("half")), drawing(inserts).as_bytes());
    assert!(refused(read(&insert(-1.0))).contains("that block is mirrored"));
    for as_drawn in [String::new(), insert(1.0), insert(1.0) + &insert(-1.0)] {
        near(read(&as_drawn).expect("a block").outline().signed_area(), 5000.0);
    }
}

/// A whole drawing on a sheet of 200 by 200.
fn sheet_of(inside: &str) -> String {
    format!(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">{inside}</svg>"#)
}

#[test]
fn basic_shapes_are_the_paths_they_stand_for() {
    let areas = [
        (r#"<rect x="10" y="20" width="100" height="50"/>"#, 5000.0, 4),
        // Of one radius the other is alike; of a square of 20 four rounded corners take 20² - π 10².
        (r#"<rect width="100px" height="50" rx="10"/>"#, 5000.0 - (400.0 - PI * 100.0), 8),
        // Radii are held to half of the sides: here half circles at both ends.
        (r#"<rect width="100" height="50" ry="99" rx="25"/>"#, 50.0 * 50.0 + PI * 625.0, 6),
        (r#"<circle cx="60" cy="70" r="40"/>"#, PI * 1600.0, 2),
        (r#"<polygon points="0,0 100,0 100,50"/>"#, 2500.0, 3),
        (r#"<polyline points="0,0 100,0 100,50 0,0"/>"#, 2500.0, 3),
        (r#"<line x2="100"/><line x1="100" x2="100" y2="50"/><polyline points="100,50 0,0"/>"#, 2500.0, 3),
    ];
    for (shape, area, strokes) in areas {
        let path = outline(&sheet_of(shape));
        near(path.signed_area(), area);
        let strokes_of = path.curves().filter(|c| c.length() > 1e-9).count();
        assert_eq!(strokes_of, strokes, "{shape}");
    }
    // Curves for an ellipse stray by no more than a ten-millionth of its size.
    let area = outline(&sheet_of(r#"<ellipse cx="100" cy="100" rx="80" ry="40"/>"#)).signed_area();
    assert!((area / (PI * 3200.0) - 1.0).abs() < 1e-6, "{area}");
}

#[test]
fn what_is_hidden_and_the_ground_of_the_sheet_are_no_outlines() {
    let piece = r#"<path id="p" d="M0 0H100V50H0Z"/>"#;
    let other = r#"<circle cx="150" cy="150" r="20"/>"#;
    let hidden = [
        format!(r#"<g style="display:none">{other}</g>"#),
        format!(r#"<g display="none"><g>{other}</g></g>"#),
        format!(r#"<g visibility="hidden">{other}</g>"#),
        r#"<circle cx="150" cy="150" r="20" style="fill:red; visibility: hidden"/>"#.to_owned(),
        r##"<rect width="200" height="200" fill="#fff"/>"##.to_owned(),
        r#"<rect width="100%" height="100%"/>"#.to_owned(),
        // Dots and frames beside a path that is closed.
        format!(r#"{other}<rect x="1" y="1" width="190" height="190"/>"#),
    ];
    for more in hidden {
        near(outline(&sheet_of(&format!("{more}{piece}"))).signed_area(), 5000.0);
    }
    // What lies in a shape is no outline; a shape beside an open line is none either.
    near(outline(&sheet_of(r#"<rect width="100" height="50"/><path d="M10 10V40"/>"#)).signed_area(), 5000.0);
    let open = sheet_of(&format!(r#"<path d="M0 0H100V50H40"/>{other}"#));
    assert!(matches!(read(&request(None, None), open.as_bytes()), Err(TraceError::Open { .. })));
    // A child may be shown in a group that is not; a rectangle by itself is the piece, however large.
    near(outline(&sheet_of(r#"<g visibility="hidden"><rect width="9" height="9" visibility="visible"/></g>"#)).signed_area(), 81.0);
    near(outline(&sheet_of(r#"<rect width="200" height="200"/>"#)).signed_area(), 40_000.0);
    // Asked for by its name it is what is meant, hidden or not.
    let named = sheet_of(&format!(r#"<g display="none">{piece}</g>{other}"#));
    near(read(&request(Some("p"), None), named.as_bytes()).expect("it is there").outline().signed_area(), 5000.0);
}

#[test]
fn files_of_16_bit_characters_and_of_old_line_ends_are_read() {
    let drawing = sheet_of(r#"<rect width="100" height="50"/>"#);
    let units: Vec<u16> = drawing.encode_utf16().collect();
    let little: Vec<u8> = [0xff, 0xfe].into_iter().chain(units.iter().flat_map(|u| u.to_le_bytes())).collect();
    let big: Vec<u8> = [0xfe, 0xff].into_iter().chain(units.iter().flat_map(|u| u.to_be_bytes())).collect();
    for bytes in [little.as_slice(), &little[2..], &big] {
        near(read(&request(None, None), bytes).expect("an outline").outline().signed_area(), 5000.0);
    }
    let square = section("ENTITIES", &polyline(&[(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 50.0, 0.0), (0.0, 50.0, 0.0)], true));
    near(outline(&format!("{square}0\nEOF\n").replace('\n', "\r")).signed_area(), 5000.0);
}

/// A spline as the DXF reference lists it.
fn spline(degree: usize, knots: &[f64], points: &[(f64, f64)]) -> String {
    let mut text = format!("0\nSPLINE\n8\n1\n70\n8\n71\n{degree}\n72\n{}\n73\n{}\n74\n0\n", knots.len(), points.len());
    knots.iter().for_each(|k| text.push_str(&format!("40\n{k}\n")));
    points.iter().for_each(|(x, y)| text.push_str(&format!("10\n{x}\n20\n{y}\n30\n0\n")));
    text
}

#[test]
fn splines_are_the_free_curves_they_are_made_of() {
    let line = "0\nLINE\n8\n1\n10\n0\n20\n0\n11\n100\n21\n0\n";
    // A parabola over a chord of 100, its handle 60 high: two thirds of 100 · 30 below it.
    let two = spline(2, &[0.0, 0.0, 0.0, 1.0, 1.0, 1.0], &[(0.0, 0.0), (50.0, 60.0), (100.0, 0.0)]);
    near(outline(&section("ENTITIES", &format!("{line}{two}"))).signed_area(), 2.0 / 3.0 * 100.0 * 30.0);
    // One of the third degree, cut in two at a knot in its middle, is the same curve: by knot insertion (0.5 of 0 and 1).
    let whole = spline(3, &[0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &[(0.0, 0.0), (0.0, 80.0), (100.0, 40.0), (100.0, 0.0)]);
    let cut =
        spline(3, &[0.0, 0.0, 0.0, 0.0, 0.5, 1.0, 1.0, 1.0, 1.0], &[(0.0, 0.0), (0.0, 40.0), (50.0, 60.0), (100.0, 20.0), (100.0, 0.0)]);
    let [one, other] = [whole, cut].map(|s| outline(&section("ENTITIES", &format!("{line}{s}"))));
    near(one.signed_area(), other.signed_area());
    near(one.length(), other.length());
    assert_eq!((one.segments.len(), other.segments.len()), (2, 3));
    // Of the first degree it is straights.
    let straight = spline(1, &[0.0, 0.0, 1.0, 2.0, 2.0], &[(0.0, 0.0), (100.0, 50.0), (100.0, 0.0)]);
    near(outline(&section("ENTITIES", &format!("{line}{straight}"))).signed_area(), 2500.0);
}

#[test]
fn a_spline_that_is_not_read_is_named_where_the_outline_is_open() {
    let line = "0\nLINE\n8\n1\n10\n0\n20\n0\n11\n100\n21\n0\n";
    let ends = [(0.0, 0.0), (0.0, 80.0), (100.0, 40.0), (100.0, 0.0)];
    let third = spline(3, &[0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &ends);
    let fitted = "0\nSPLINE\n8\n1\n70\n8\n71\n3\n74\n2\n11\n0\n21\n0\n31\n0\n11\n100\n21\n0\n31\n0\n";
    let cases = [
        (third.clone() + "41\n1\n41\n2\n41\n1\n41\n1\n", "1 SPLINE with weights"),
        (spline(5, &[0.0; 12], &[(0.0, 0.0); 6]), "1 SPLINE of a degree above 3"),
        (spline(3, &[0.0, 1.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0], &ends), "1 SPLINE with unsound knots"),
        (fitted.to_owned(), "1 SPLINE given by the points it runs through"),
        ("60\n1\n".to_owned(), "1 hidden"),
    ];
    for (curve, named) in cases {
        let curve = if curve.starts_with('6') { third.replacen("70\n8", &format!("{curve}70\n8"), 1) } else { curve };
        match read(&request(None, None), section("ENTITIES", &format!("{line}{curve}")).as_bytes()) {
            Err(TraceError::Open { passed_over, .. }) => assert_eq!(passed_over, [named]),
            other => panic!("{named}: {other:?}"),
        }
    }
}

#[test]
fn layers_off_or_frozen_are_not_read_unless_they_are_asked_for() {
    let ring = |layer: &str, size: f64| {
        polyline(&[(0.0, 0.0, 0.0), (size, 0.0, 0.0), (size, size, 0.0), (0.0, size, 0.0)], true)
            .replace("8\n1\n", &format!("8\n{layer}\n"))
    };
    let entities = section("ENTITIES", &[ring("1", 10.0), ring("notes", 20.0), ring("OLD", 30.0)].concat());
    // As the DXF reference lists a layer: its flags (70, the first is frozen) and its colour (62, less than nothing is off).
    let layer = |name: &str, flags: i32, colour: i32| format!("0\nLAYER\n2\n{name}\n70\n{flags}\n62\n{colour}\n6\nCONTINUOUS\n");
    let table = format!("0\nTABLE\n2\nLAYER\n70\n3\n{}{}{}0\nENDTAB\n", layer("1", 0, 7), layer("Notes", 0, -3), layer("old", 65, 7));
    let drawing = format!("{}{entities}", section("TABLES", &table));
    near(outline(&drawing).signed_area(), 100.0);
    near(outline(&drawing.replace('\n', "\r\n")).signed_area(), 100.0);
    let asked = Request { layer: Some(("Old".into(), Span::default())), ..request(None, None) };
    near(read(&asked, drawing.as_bytes()).expect("an outline").outline().signed_area(), 900.0);
}

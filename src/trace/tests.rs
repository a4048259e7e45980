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

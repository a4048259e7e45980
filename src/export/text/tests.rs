//! The pages as a maker reads them.

use super::*;
use crate::analysis::{materials::materials as bill, order::order as sequence};
use crate::ir::sample::{quilt, tarp};
use crate::ir::{Parameter, SetBy};
use crate::quantity::Style;

fn narrow(page: &str) {
    assert!(page.lines().all(|l| l.chars().count() <= 88), "a line is too long:\n{page}");
    assert!(page.lines().all(|l| l.trim_end() == l), "blanks at the end of a line:\n{page}");
}

#[test]
fn the_sewing_order() {
    let (s, _) = quilt();
    let page = order(&s.design, &sequence(&s.design), Style::METRIC);
    narrow(&page);
    insta::assert_snapshot!(page);
}

#[test]
fn the_sewing_order_in_inches() {
    let (s, _) = quilt();
    let page = order(&s.design, &sequence(&s.design), Style::INCH);
    narrow(&page);
    assert!(page.contains("9 13/16 in and 23 5/8 in from head"), "{page}");
    assert!(page.contains("over 17 11/16 in from foot"), "{page}");
}

#[test]
fn edges_that_share_their_distances_stand_together() {
    let (mut s, ids) = quilt();
    let (right, inner) = (s.side(ids.shell, Some(0), "right"), s.side(ids.shell, Some(1), "left"));
    let set = s.design.operations.iter_mut().find(|o| o.name == "loops" && !o.places.is_empty()).expect("the loops");
    let first = set.places.first().expect("a place").clone();
    set.places.push(crate::ir::Where { side: right, ..first.clone() });
    set.places.push(crate::ir::Where { side: inner, distances: Vec::new(), from_end: String::new() });
    let page = order(&s.design, &sequence(&s.design), Style::METRIC);
    assert!(page.contains("on outer.left and outer.right, 25 cm and 60 cm from head."), "{page}");
    assert!(page.contains("on inner.left."), "{page}");
}

#[test]
fn the_bill() {
    let (s, _) = quilt();
    let page = materials(&s.design, &bill(&s.design), Style::METRIC);
    narrow(&page);
    insta::assert_snapshot!(page);
}

#[test]
fn the_bill_in_inches() {
    let (s, _) = quilt();
    let page = materials(&s.design, &bill(&s.design), Style::INCH);
    narrow(&page);
    // 4.525 m² is 5.41 yd²; 149.33 g is 5.27 oz.
    assert!(page.contains("5.41 yd2") && page.contains("5.27 oz"), "{page}");
}

#[test]
fn all_sizes() {
    let (mut tall, half, _) = tarp();
    let short = tall.design.clone();
    tall.design.size = Some("tall".into());
    tall.design.size_title = "Two sleepers".into();
    let why = tall.trace("ridge", "3 m", 3000.0);
    let set = |name: &str, set_by| Parameter { name: name.into(), value: "300 cm".into(), set_by, doc: String::new(), why };
    tall.design.parameters = vec![set("ridge", SetBy::Size), set("half", SetBy::Default)];
    tall.piece_mut(half).finished.height = crate::quantity::Length::mm(3000.0);
    let (a, b) = (bill(&short), bill(&tall.design));
    let page = sizes(&[(&short, &a), (&tall.design, &b)], Style::METRIC);
    narrow(&page);
    insta::assert_snapshot!(page);
    // 300 cm is 118 1/8 in.
    let inches = sizes(&[(&tall.design, &b)], Style::INCH);
    assert!(inches.contains("ridge 118 1/8 in"), "{inches}");
    assert_eq!(sizes(&[], Style::METRIC), "");
}

#[test]
fn why_prints_the_chain_to_the_source() {
    let (s, _) = quilt();
    let report = bill(&s.design);
    let provenance = report.provenance(&s.design);
    let page = why(&provenance, provenance.fact("mass").expect("the mass"), Style::METRIC);
    narrow(&page);
    insta::assert_snapshot!(page);
}

#[test]
fn why_speaks_inches_when_asked() {
    let (mut s, _) = quilt();
    let long = s.trace("long", "184 cm", 1840.0);
    let words = s.trace("foot", "zipped", f64::NAN);
    let of = |id, style| why(&s.design.provenance, id, style);
    assert!(of(long, Style::METRIC).contains("long = 184 cm"));
    assert!(of(long, Style::INCH).contains("long = 72 7/16 in"), "{}", of(long, Style::INCH));
    assert!(of(words, Style::INCH).contains("foot = zipped"));
}

#[test]
fn why_ends_whatever_the_graph() {
    let (mut s, _) = quilt();
    // A ladder in which every step is made twice from the one before: told once each.
    let mut last = s.trace("start", "1 mm", 1.0);
    for _ in 0..200 {
        let mut node = s.design.provenance.node(last).expect("a step").clone();
        node.inputs = vec![last, last];
        last = s.design.provenance.add(node);
    }
    let page = why(&s.design.provenance, last, Style::METRIC);
    assert!(page.lines().count() <= 300 * 3);
    assert!(page.contains("(above)"));
    // A node that names itself, or a later one, is not followed.
    let mut node = s.design.provenance.node(last).expect("a step").clone();
    node.inputs = vec![crate::ir::TraceId(u32::MAX), crate::ir::TraceId::at(s.design.provenance.nodes.len())];
    let odd = s.design.provenance.add(node);
    assert_eq!(why(&s.design.provenance, odd, Style::METRIC).lines().count(), 1);
    assert_eq!(why(&s.design.provenance, crate::ir::TraceId(u32::MAX), Style::METRIC), "");
}

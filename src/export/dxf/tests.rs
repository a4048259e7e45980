//! The written file read back.

use super::*;
use crate::export::sample;
use crate::geometry::Point;
use crate::ir::{Design, Piece};
use crate::quantity::Style;
use ::dxf::Drawing;
use ::dxf::entities::{Entity, EntityType};
use std::collections::BTreeMap;

const BOTH: [Flavour; 2] = [Flavour::R12, Flavour::R2000];

fn write(design: &Design, flavour: Flavour) -> String {
    cutter(design, &drawing::sheet(design, Style::default()), flavour).expect("the sample can be written")
}

fn load(text: &str) -> Drawing {
    Drawing::load(&mut text.as_bytes()).expect("the library reads the file")
}

/// A polyline as read: closed or not, its corners with their bulges.
fn polyline(entity: &Entity) -> Option<(bool, Vec<(Point, f64)>)> {
    match &entity.specific {
        EntityType::Polyline(p) => Some((p.is_closed(), p.vertices().map(|v| (Point::new(v.location.x, v.location.y), v.bulge)).collect())),
        EntityType::LwPolyline(p) => Some((p.is_closed(), p.vertices.iter().map(|v| (Point::new(v.x, v.y), v.bulge)).collect())),
        _ => None,
    }
}

/// Length of a closed polyline: a chord, or an arc of four times the bulge's angle.
fn around(corners: &[(Point, f64)]) -> f64 {
    let next = corners.iter().skip(1).chain(corners.first());
    let side = |(&(a, bulge), &(b, _)): (&(Point, f64), &(Point, f64))| {
        let chord = a.distance(b);
        if bulge == 0.0 { chord } else { chord / (2.0 * bulge.atan()).sin().abs() * 2.0 * bulge.atan().abs() }
    };
    corners.iter().zip(next).map(side).sum()
}

fn on_layer<'a>(drawing: &'a Drawing, layer: &'a str) -> Vec<&'a Entity> {
    drawing.entities().filter(|e| e.common.layer == layer).collect()
}

#[test]
fn cut_lines_are_closed_and_as_long_as_the_design_says() {
    for design in [sample::quilt(), sample::tarp(), sample::sack()] {
        for flavour in BOTH {
            let file = load(&write(&design, flavour));
            let finished = |p: &Piece| p.edges.iter().map(|e| e.length.as_mm()).sum::<f64>();
            let wanted: [(&str, Vec<f64>); 2] = [
                ("CUT", design.pieces.iter().map(|p| p.cut_line.length()).collect()),
                ("STITCH", design.pieces.iter().map(finished).collect()),
            ];
            for (layer, wanted) in wanted {
                let lines: Vec<_> = on_layer(&file, layer).into_iter().filter_map(polyline).collect();
                assert_eq!(lines.len(), wanted.len(), "{} {flavour:?} {layer}", design.name);
                for ((closed, corners), wanted) in lines.iter().zip(wanted) {
                    assert!(closed);
                    // Chords of a free curve are shorter than it by far less than a tenth of a per mille.
                    assert!(
                        (around(corners) - wanted).abs() < 0.05,
                        "{} {flavour:?} {layer}: {} and {wanted}",
                        design.name,
                        around(corners)
                    );
                }
            }
        }
    }
}

#[test]
fn a_round_base_is_two_half_turns() {
    for flavour in BOTH {
        let file = load(&write(&sample::sack(), flavour));
        let (_, corners) = on_layer(&file, "CUT").into_iter().find_map(polyline).expect("a cut line");
        assert_eq!(corners.iter().map(|c| c.1).collect::<Vec<_>>(), [1.0, 1.0]);
        // 170 across.
        assert!((around(&corners) - 534.0708).abs() < 1e-3);
    }
}

#[test]
fn holes_and_notches_come_before_the_outline() {
    for flavour in BOTH {
        let file = load(&write(&sample::quilt(), flavour));
        let layers: Vec<&str> = file.entities().map(|e| e.common.layer.as_str()).collect();
        let last = |layer: &str| layers.iter().rposition(|l| *l == layer).expect("it is there");
        // The strip is the third of four pieces: its outline is the last but one.
        let cuts: Vec<usize> = (0..layers.len()).filter(|&i| layers.get(i) == Some(&"CUT")).collect();
        assert_eq!(cuts.len(), 4);
        let strip = cuts.get(2).copied().expect("a third outline");
        assert!(last("HOLE") < strip && last("NOTCH") < strip);
        assert_eq!(on_layer(&file, "NOTCH").len(), 4);
        assert_eq!(on_layer(&file, "HOLE").len(), 2);
    }
}

#[test]
fn every_layer_used_is_declared_and_every_declared_once() {
    for flavour in BOTH {
        let text = write(&sample::quilt(), flavour);
        let file = load(&text);
        let mut names: Vec<&str> = file.layers().map(|l| l.name.as_str()).collect();
        let all = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), all);
        assert!(file.entities().all(|e| names.contains(&e.common.layer.as_str())));
        assert!(["CUT", "STITCH", "FOLD", "NOTCH", "MARK", "GRAIN", "TEXT", "HOLE"].iter().all(|l| names.contains(l)));
    }
}

/// Every pair of a file.
fn pairs_of(text: &str) -> Vec<(u16, &str)> {
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0);
    lines.chunks(2).map(|c| if let [code, value] = c { (code.trim().parse().expect("a code"), *value) } else { (0, "") }).collect()
}

#[test]
fn millimetres_are_declared() {
    for flavour in BOTH {
        let text = write(&sample::sack(), flavour);
        let pairs = pairs_of(&text);
        let value = |name: &str| {
            let at = pairs.iter().position(|p| *p == (9, name)).expect("the variable");
            pairs.get(at + 1).map(|p| p.1)
        };
        assert_eq!(value("$INSUNITS"), Some("4"));
        assert_eq!(value("$MEASUREMENT"), Some("1"));
    }
}

#[test]
fn handles_are_unique_and_every_owner_exists() {
    let text = write(&sample::quilt(), Flavour::R2000);
    let mut seen = BTreeMap::new();
    let pairs = pairs_of(&text);
    let begin = pairs.iter().position(|p| *p == (2, "TABLES")).expect("tables");
    let last = pairs.iter().position(|p| *p == (9, "$HANDSEED")).and_then(|i| pairs.get(i + 1)).expect("a handle").1;
    for &(code, value) in pairs.iter().skip(begin) {
        if code == 5 {
            *seen.entry(value).or_insert(0) += 1;
        }
    }
    assert!(seen.len() > 100);
    assert!(seen.values().all(|&n| n == 1), "a handle stands twice");
    let number = |h: &str| u64::from_str_radix(h, 16).expect("hexadecimal");
    assert!(seen.keys().all(|h| number(h) < number(last)), "$HANDSEED is not past every handle");
    for (_, owner) in pairs.iter().filter(|p| p.0 == 330 && p.1 != "0") {
        assert!(seen.contains_key(owner), "no {owner}");
    }
}

#[test]
fn release_12_holds_ascii_and_no_later_codes() {
    let mut design = sample::sack();
    design.size_title = "Größe 50 % — klein".into();
    let text = write(&design, Flavour::R12);
    assert!(text.is_ascii());
    assert!(text.contains("size: Grosse 50 % - klein"));
    assert!(pairs_of(&text).iter().all(|p| !matches!(p.0, 100 | 330 | 102 | 370)));
    assert!(!text.contains("LWPOLYLINE") && !text.contains("CLASSES") && !text.contains("OBJECTS"));
    let modern = load(&write(&design, Flavour::R2000));
    let found = modern.entities().any(|e| matches!(&e.specific, EntityType::Text(t) if t.value == "size: Größe 50 % — klein"));
    assert!(found, "release 2000 keeps the letters");
}

#[test]
fn a_piece_without_numbers_is_an_error_that_names_it() {
    let mut design = sample::sack();
    design.pieces.iter_mut().for_each(|p| p.cut_line.start = Point::new(f64::INFINITY, 0.0));
    let error = cutter(&design, &drawing::sheet(&design, Style::default()), Flavour::R12).expect_err("it can't be written");
    assert_eq!(error.to_string(), "Round base, Body, Flap can't be written for a cutter: a number in it is too large, or is none");
    design.pieces.clear();
    assert!(load(&write(&design, Flavour::R12)).entities().next().is_none());
}

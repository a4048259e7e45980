//! The written file read back.

use super::*;
use crate::export::sample;
use crate::geometry::Path;

fn written(design: &Design) -> Result<String, PlotterError> {
    plot(design, &crate::export::drawing::sheet(design, crate::quantity::Style::default()))
}

/// A stroke: its pen and its points, in units.
type Stroke = (u8, Vec<(i64, i64)>);

/// What a plotter would do: strokes, and labels with their pens.
fn run(text: &str) -> (Vec<Stroke>, Vec<(u8, String)>) {
    let (mut strokes, mut labels): (Vec<Stroke>, Vec<(u8, String)>) = (Vec::new(), Vec::new());
    let (mut pen, mut at, mut down) = (0, (0, 0), false);
    let mut rest = text;
    while !rest.trim_start().is_empty() {
        rest = rest.trim_start();
        let (name, after) = rest.split_at(2);
        let end = if name == "LB" { '\u{3}' } else { ';' };
        let (given, left) = after.split_once(end).expect("every command ends");
        rest = left;
        let numbers = || given.split(',').filter(|n| !n.is_empty()).map(|n| n.parse::<i64>().expect("a whole number")).collect::<Vec<_>>();
        match name {
            "IN" | "PA" | "DI" | "SI" => {}
            "SP" => pen = given.parse().expect("a pen"),
            "PU" => {
                down = false;
                at = numbers().chunks(2).next_back().map_or(at, |c| (c[0], c[1]));
            }
            "PD" => {
                if !down {
                    strokes.push((pen, vec![at]));
                }
                down = true;
                for c in numbers().chunks(2) {
                    at = (c[0], c[1]);
                    strokes.last_mut().expect("just made").1.push(at);
                }
            }
            "LB" => labels.push((pen, given.to_owned())),
            other => panic!("{other}"),
        }
    }
    assert_eq!(pen, 0, "the pen is put away");
    (strokes, labels)
}

fn length(points: &[(i64, i64)]) -> f64 {
    points.windows(2).map(|w| ((w[1].0 - w[0].0) as f64).hypot((w[1].1 - w[0].1) as f64) / 40.0).sum()
}

#[test]
fn pens_come_in_order_and_the_outline_is_the_last_of_its_piece() {
    for design in [sample::quilt(), sample::tarp(), sample::sack()] {
        let (strokes, labels) = run(&written(&design).expect("the sample can be written"));
        let pens: Vec<u8> = strokes.iter().map(|s| s.0).collect();
        assert!(pens.is_sorted() && pens.first() == Some(&1) && pens.last() == Some(&3), "{pens:?}");
        assert!(!labels.is_empty() && labels.iter().all(|l| l.0 == 1));
        // Cut: of each piece its holes, its notches, then its outline.
        let mut cuts = strokes.iter().filter(|s| s.0 == 3).map(|s| length(&s.1));
        for piece in &design.pieces {
            let mut wanted: Vec<f64> = piece.holes.iter().map(|h| h.path.length()).collect();
            wanted.extend(piece.notches.iter().map(|n| n.depth.as_mm()));
            wanted.push(piece.cut_line.length());
            for wanted in wanted {
                let found = cuts.next().expect("a stroke");
                // Rounding to units moves each end of a chord by up to 0.0177 mm.
                assert!((found - wanted).abs() < 0.05 + wanted * 1e-4, "{} {}: {found} and {wanted}", design.name, piece.name);
            }
        }
        assert_eq!(cuts.next(), None);
    }
}

#[test]
fn nothing_lies_below_the_origin_and_something_on_it() {
    let (strokes, _) = run(&written(&sample::quilt()).expect("it can be written"));
    let low = |get: fn(&(i64, i64)) -> i64| strokes.iter().flat_map(|s| &s.1).map(get).min().expect("there are strokes");
    assert!(low(|p| p.0) >= 0 && low(|p| p.1) >= 0);
}

#[test]
fn a_square_as_a_whole_file() {
    let mut sample = crate::ir::sample::Sample::new("mat", "Mat");
    let cloth = sample.material("cloth", crate::ir::MaterialKind::Cloth);
    let id = sample.rectangle("seat", cloth, (100.0, 100.0), 0.0);
    let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)].map(|(x, y)| Point::new(x, y));
    sample.piece_mut(id).cut_line = Path::polygon(&corners).expect("it has corners");
    let text = written(&sample.design).expect("it can be written");
    assert!(text.starts_with("IN;\nPU;SP1;PA;\n"), "{text}");
    assert!(text.ends_with("PU;SP3;PA;\nPU0,0;PD4000,0,4000,4000,0,4000,0,0;\nPU;\nSP0;\n"), "{text}");
    assert!(text.is_ascii());
}

#[test]
fn a_piece_without_numbers_is_an_error_that_names_it() {
    let mut design = sample::sack();
    design.pieces.iter_mut().for_each(|p| p.cut_line.start = Point::new(f64::NAN, 0.0));
    let error = written(&design).expect_err("it can't be written");
    assert_eq!(error.to_string(), "Round base, Body, Flap can't be written for a plotter: a number in it is too large, or is none");
    design.pieces.clear();
    assert_eq!(written(&design).expect("nothing is easily written"), "IN;\nPU;\nSP0;\n");
}

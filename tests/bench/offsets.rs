//! The cut line of outlines with ten to ten thousand corners, each edge with an allowance of its own, beside what a
//! general-purpose polygon library takes to move the same outline out by one distance, with the same mitres.
//!
//! `cargo bench --bench offsets`. Prints a table. It asserts that both find the same area, and that ten times the corners
//! take no more than ten times the time and what n log n adds to that, with room for a machine that does other work.

#![allow(
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "a benchmark reads the clock, prints, and may fail loudly"
)]

use i_overlay::mesh::float::outline::offset::OutlineOffset;
use i_overlay::mesh::float::style::{LineJoin, OutlineStyle};
use lapfell::diagnostic::Problems;
use lapfell::eval::draft::{EdgeInput, PanelInput, draft};
use lapfell::geometry::{Path, Point};
use lapfell::source::Span;
use std::hint::black_box;
use std::time::Instant;

/// The allowance, mm.
const OUT: f64 = 10.0;
/// Both hold a corner's tip within four times the allowance: 2 asin(1/4), in radians.
const SHARPEST: f64 = 0.505_360_510_284_157_3;

/// A ring of five lobes, a metre across, and so many corners.
fn ring(corners: u32) -> Vec<Point> {
    let at = |i: u32| {
        let angle = f64::from(i) / f64::from(corners) * std::f64::consts::TAU;
        let radius = 500.0 + 60.0 * (5.0 * angle).sin();
        Point { x: radius * angle.cos(), y: radius * angle.sin() }
    };
    (0..corners).map(at).collect()
}

fn panel(points: &[Point]) -> PanelInput {
    let mut input = PanelInput { name: "ring".into(), ..PanelInput::default() };
    for (i, (from, to)) in points.iter().zip(points.iter().cycle().skip(1)).enumerate() {
        let name = format!("e{i}");
        input.allow.push((name.clone(), OUT, Span::default()));
        input.edges.push(EdgeInput { name, path: Path::line(*from, *to), taken: None, span: Span::default() });
    }
    input
}

fn ours(input: &PanelInput) -> f64 {
    let mut problems = Problems::default();
    let drafted = draft(input, &mut problems).unwrap_or_else(|| panic!("{:?}", problems.sorted()));
    drafted.cut.area
}

fn theirs(ring: &[[f64; 2]]) -> f64 {
    let mut style = OutlineStyle::new(OUT).line_join(LineJoin::Miter(SHARPEST));
    style.miter_min_turn = 0.0;
    let shapes = ring.outline_as::<i64>(&style);
    let shoelace = |contour: &Vec<[f64; 2]>| {
        let next = contour.iter().cycle().skip(1);
        contour.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
    };
    shapes.iter().flatten().map(shoelace).sum::<f64>().abs()
}

/// The least time that one of several runs takes, ms, and what it finds.
fn timed(runs: u32, work: impl Fn() -> f64) -> (f64, f64) {
    let mut least = f64::INFINITY;
    let mut found = 0.0;
    for _ in 0..runs {
        let begun = Instant::now();
        found = black_box(work());
        least = least.min(begun.elapsed().as_secs_f64() * 1000.0);
    }
    (least, found)
}

fn main() {
    println!("{:>8} {:>12} {:>12} {:>8}   area apart by", "corners", "ours", "library", "ratio");
    let mut before: Option<(u32, f64)> = None;
    for corners in [10, 100, 1_000, 10_000] {
        let points = ring(corners);
        let (input, plain) = (panel(&points), points.iter().map(|p| [p.x, p.y]).collect::<Vec<_>>());
        let runs = (200_000 / corners).clamp(20, 2_000);
        let (mine, area) = timed(runs, || ours(&input));
        let (other, same) = timed(runs, || theirs(&plain));
        let apart = (area - same).abs() / area;
        println!("{corners:>8} {mine:>9.3} ms {other:>9.3} ms {:>8.2}   {apart:.1e}", mine / other);
        assert!(apart < 1e-6, "{area} and {same} mm²");
        if let Some((fewer, took)) = before.filter(|(fewer, _)| *fewer >= 100) {
            let grown = |n: u32| f64::from(n) * f64::from(n).ln();
            let most = grown(corners) / grown(fewer);
            println!("{:>8} {:>12.1} times the time; n log n: {most:.1}", "", mine / took);
            assert!(mine / took <= 1.5 * most, "{corners} corners take {:.1} times as long as {fewer}", mine / took);
        }
        before = Some((corners, mine));
    }
}

//! What holds of every outline a panel may have: ten thousand of them from a fixed walk, convex, star-shaped, tapered,
//! with straight, bent and hung edges, one allowance all round or one for each edge.
//!
//! The checks are worked out here and not by the geometry under test: crossings by trying straights against each other,
//! areas by the shoelace formula, distances point by point.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may fail loudly")]

use lapfell::diagnostic::{Problems, Severity};
use lapfell::eval::draft::{
    Along, CornerJoin, Drafted, EdgeInput, JoinInput, Layout, PanelInput, SplitInput, TaperInput, draft, draft_all,
};
use lapfell::geometry::{Path, Point, Side, Vector};
use lapfell::pipeline::{self, Request};
use lapfell::source::{Loaded, Span};
use lapfell::stdlib::{Nothing, WithLibrary};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::cell::Cell;
use std::f64::consts::TAU;
use std::fmt::Write as _;

const OUTLINES: u32 = 10_000;

/// Curves are looked at as chains of points no farther (mm) off than this.
const FINE: f64 = 0.01;

/// The codes with which an outline or its allowance may be refused.
const REFUSALS: &[&str] =
    &["allowance-crosses", "edge-too-short-for-allowance", "outline-crosses-itself", "allowance-exceeds-curve", "outline-empty"];

/// How an edge bends, as a share of its chord: straight, an arc outward or inward, a free curve, hung inward or outward.
#[derive(Debug, Clone, Copy)]
enum Bow {
    Straight,
    Arc(f64),
    Curve(f64, f64),
    Hung(f64),
}

#[derive(Debug, Clone)]
struct Drawn {
    corners: Vec<Point>,
    bows: Vec<Bow>,
    /// One for all edges, or one each.
    allowances: Vec<f64>,
    /// By, over which share, from the end at the last edge: only where it is a trapezoid.
    taper: Option<(f64, f64)>,
}

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

fn ring(steps: &[f64], radius: impl Fn(usize) -> (f64, f64)) -> Vec<Point> {
    let total: f64 = steps.iter().sum();
    let mut angle = 0.0;
    let mut corner = |(i, step): (usize, &f64)| {
        angle += step / total * TAU;
        let (a, b) = radius(i);
        at(a * f64::cos(angle), b * f64::sin(angle))
    };
    steps.iter().enumerate().map(&mut corner).collect()
}

fn convex() -> impl Strategy<Value = Vec<Point>> {
    (prop::collection::vec(0.2..1.0_f64, 3..9), 60.0..900.0_f64, 60.0..900.0_f64).prop_map(|(steps, a, b)| ring(&steps, |_| (a, b)))
}

fn star() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec(80.0..500.0_f64, 4..10).prop_map(|radii| ring(&vec![1.0; radii.len()], |i| (radii[i], radii[i])))
}

/// A block with a slot from its head, its mouth narrower or wider than its floor: allowances across it may meet.
fn slotted() -> impl Strategy<Value = Vec<Point>> {
    (300.0..900.0_f64, 200.0..600.0_f64, 4.0..120.0_f64, 60.0..120.0_f64, 0.2..0.8_f64).prop_map(|(width, height, mouth, floor, deep)| {
        let (middle, bottom) = (width / 2.0, height * (1.0 - deep));
        let slot = [(mouth, height), (floor, bottom), (-floor, bottom), (-mouth, height)].map(|(w, y)| at(middle + w / 2.0, y));
        let mut corners = vec![at(0.0, 0.0), at(width, 0.0), at(width, height)];
        corners.extend(slot);
        corners.push(at(0.0, height));
        corners
    })
}

fn bow() -> impl Strategy<Value = Bow> {
    prop_oneof![
        3 => Just(Bow::Straight),
        1 => (-0.15..0.25_f64).prop_map(Bow::Arc),
        1 => (-0.15..0.3_f64, -0.15..0.3_f64).prop_map(|(a, b)| Bow::Curve(a, b)),
        1 => (-0.12..0.12_f64).prop_map(Bow::Hung),
    ]
}

fn outline() -> impl Strategy<Value = Drawn> {
    let allowances = || prop_oneof![prop::collection::vec(0.5..25.0_f64, 1), prop::collection::vec(0.5..25.0_f64, 12)];
    let ringed = |corners: BoxedStrategy<Vec<Point>>, bent: bool| {
        let bows = if bent { prop::collection::vec(bow(), 1..9).boxed() } else { Just(vec![Bow::Straight]).boxed() };
        (corners, bows, allowances()).prop_map(|(corners, bows, allowances)| Drawn { corners, bows, allowances, taper: None })
    };
    let tapered = (200.0..1500.0_f64, 200.0..2200.0_f64, 0.02..0.3_f64, 0.2..1.0_f64, allowances()).prop_map(
        |(width, height, by, over, allowances)| Drawn {
            corners: vec![at(0.0, 0.0), at(width, 0.0), at(width, height), at(0.0, height)],
            bows: vec![Bow::Straight],
            allowances,
            taper: Some((by * width, over)),
        },
    );
    prop_oneof![
        ringed(convex().boxed(), false),
        ringed(star().boxed(), false),
        ringed(convex().boxed(), true),
        ringed(star().boxed(), true),
        ringed(slotted().boxed(), false),
        tapered
    ]
}

impl Drawn {
    /// The same with every point taken elsewhere. A mirror image is drawn the other way round, and its handles with it.
    fn panel(&self, map: impl Fn(Point) -> Point) -> PanelInput {
        let next = self.corners.iter().cycle().skip(1);
        let mut input = PanelInput { name: "drawn".into(), ..PanelInput::default() };
        let mirrors = {
            let (o, x, y) = (map(at(0.0, 0.0)), map(at(1.0, 0.0)), map(at(0.0, 1.0)));
            (x - o).cross(y - o) < 0.0
        };
        for (i, ((from, to), bow)) in self.corners.iter().zip(next).zip(self.bows.iter().cycle()).enumerate() {
            let (chord, start) = (*to - *from, Path::new(map(*from)));
            let handle = |t: f64, off: f64| map(*from + chord * t + chord.right() * off);
            let path = match *bow {
                Bow::Straight => start.line_to(map(*to)),
                Bow::Arc(bulge) => start.arc_to(map(*to), if mirrors { -bulge } else { bulge }),
                Bow::Curve(a, b) => start.cubic_to(handle(0.3, a), handle(0.7, b), map(*to)),
                Bow::Hung(sag) => {
                    let inside = if mirrors { Side::Right } else { Side::Left };
                    Path::catenary(start.start, map(*to), sag * chord.length(), inside)
                }
            };
            input.edges.push(EdgeInput { name: format!("e{i}"), path, taken: None, span: Span::default() });
            if let Some(own) = self.allowances.get(i).filter(|_| self.allowances.len() > 1) {
                input.allow.push((format!("e{i}"), *own, Span::default()));
            }
        }
        if let [all] = self.allowances[..] {
            input.allow_all = Some((all, Span::default()));
        }
        if let Some((by, over)) = self.taper {
            for edge in ["e1", "e3"] {
                let (edge, from) = ((edge.to_owned(), Span::default()), ("e2".to_owned(), Span::default()));
                input.tapers.push(TaperInput { edge, by, over: Along::Fraction(over), from, span: Span::default() });
            }
        }
        input
    }

    /// The panel in the language, every measure in one unit of so many millimetres.
    fn source(&self, name: &str, unit: &str, mm: f64) -> String {
        let point = |p: Point| format!("({:.9} {unit}, {:.9} {unit})", p.x / mm, p.y / mm);
        let names: Vec<String> = (0..self.corners.len()).map(|i| format!("e{i}")).collect();
        let mut text = format!("panel {name} {{ cut 1 of plain_cloth shape {{ start {}\n", point(self.corners[0]));
        let next = self.corners.iter().cycle().skip(1);
        for (i, ((from, to), bow)) in self.corners.iter().zip(next).zip(self.bows.iter().cycle()).enumerate() {
            let chord = *to - *from;
            let end = if i + 1 == names.len() { "start".to_owned() } else { point(*to) };
            let handle = |t: f64, off: f64| point(*from + chord * t + chord.right() * off);
            let _ = match *bow {
                Bow::Straight => writeln!(text, "edge e{i} line to {end}"),
                Bow::Arc(bulge) => writeln!(text, "edge e{i} arc to {end} rise {:.9} {unit}", bulge * chord.length() / 2.0 / mm),
                Bow::Curve(a, b) => writeln!(text, "edge e{i} curve to {end} by {}, {}", handle(0.3, a), handle(0.7, b)),
                Bow::Hung(sag) => writeln!(text, "edge e{i} hung to {end} sag {:.9} {unit}", sag * chord.length() / mm),
            };
        }
        text.push_str("}\n");
        if let [all] = self.allowances[..] {
            let _ = writeln!(text, "allow {:.9} {unit}", all / mm);
        } else {
            for (name, own) in names.iter().zip(&self.allowances) {
                let _ = writeln!(text, "allow {:.9} {unit} on {name}", own / mm);
            }
        }
        if let Some((by, over)) = self.taper {
            let _ = writeln!(text, "taper e1, e3 by {:.9} {unit} over {:.9}% from e2", by / mm, over * 100.0);
        }
        let _ = writeln!(text, "raw {} because \"only the outline matters here\" }}", names.join(", "));
        text
    }
}

fn shoelace(points: &[Point]) -> f64 {
    let origin = points[0];
    points.windows(2).map(|w| (w[0] - origin).cross(w[1] - origin)).sum::<f64>() / 2.0
}

/// Two straights that cross or touch, neighbours left aside; straights are tried in the order of their left ends.
fn crossing(points: &[Point]) -> Option<(Point, Point)> {
    let mut straights: Vec<(usize, Point, Point)> =
        points.windows(2).enumerate().filter(|(_, w)| w[0].distance(w[1]) > 1e-6).map(|(i, w)| (i, w[0], w[1])).collect();
    let count = straights.len();
    for (place, straight) in straights.iter_mut().enumerate() {
        straight.0 = place;
    }
    straights.sort_by(|a, b| a.1.x.min(a.2.x).total_cmp(&b.1.x.min(b.2.x)));
    for (k, (i, a, b)) in straights.iter().enumerate() {
        let farthest = a.x.max(b.x);
        for (j, c, d) in straights[k + 1..].iter().take_while(|(_, c, d)| c.x.min(d.x) <= farthest) {
            let apart = i.abs_diff(*j);
            if apart <= 1 || apart == count - 1 || a.y.max(b.y) < c.y.min(d.y) || c.y.max(d.y) < a.y.min(b.y) {
                continue;
            }
            let sides = |p: Point, q: Point, r: Point, s: Point| (q - p).cross(r - p) * (q - p).cross(s - p);
            if sides(*a, *b, *c, *d) <= 0.0 && sides(*c, *d, *a, *b) <= 0.0 {
                return Some((*a, *c));
            }
        }
    }
    None
}

/// How far a place lies from a closed chain, and whether inside it: a ray from it crosses the chain an odd number of times.
fn within(points: &[Point], place: Point) -> (f64, bool) {
    let (mut nearest, mut inside) = (f64::INFINITY, false);
    for w in points.windows(2) {
        let (a, b) = (w[0] - place, w[1] - place);
        let along = b - a;
        let t = if along.dot(along) > 0.0 { (-a.dot(along) / along.dot(along)).clamp(0.0, 1.0) } else { 0.0 };
        let p = a + along * t;
        nearest = nearest.min(p.dot(p));
        if (a.y > 0.0) != (b.y > 0.0) && a.x - a.y * along.x / along.y > 0.0 {
            inside = !inside;
        }
    }
    (nearest.sqrt(), inside)
}

/// The cut line is one closed line that crosses itself nowhere, and the stitch line lies inside by at least the smallest allowance.
fn cut_line_holds(d: &Drafted) -> Result<(), TestCaseError> {
    let cut = d.cut_line.flatten(FINE);
    prop_assert!(d.cut_line.is_closed());
    prop_assert_eq!(crossing(&cut), None);
    let least = d.edges.iter().map(|e| e.allowance).fold(f64::INFINITY, f64::min);
    for edge in &d.edges {
        for p in (0..8).map(|i| edge.path.point_at(edge.length * f64::from(i) / 8.0)) {
            let (away, inside) = within(&cut, p);
            prop_assert!(inside && away >= least - 2.0 * FINE, "{} {p:?}: {away}, at least {least}", edge.name);
        }
    }
    Ok(())
}

/// What is said of its area and length is so.
fn figures_hold(d: &Drafted) -> Result<(), TestCaseError> {
    let cut = d.cut_line.flatten(FINE);
    let finished: Vec<Point> = d.edges.iter().flat_map(|e| e.path.flatten(FINE)).collect();
    let lengths: f64 = d.edges.iter().map(|e| e.length).sum();
    // A chord cuts off two thirds of its length by its rise.
    prop_assert!((shoelace(&cut) - d.cut.area).abs() <= FINE * d.cut_line.length(), "{} {}", shoelace(&cut), d.cut.area);
    prop_assert!((shoelace(&finished) - d.finished.area).abs() <= FINE * lengths, "{} {}", shoelace(&finished), d.finished.area);
    Ok(())
}

fn same(what: &str, a: f64, b: f64, relative: f64) -> Result<(), TestCaseError> {
    prop_assert!((a - b).abs() <= relative * a.abs().max(1.0), "{what}: {a} and {b}");
    Ok(())
}

/// Split anywhere and joined again it is as long, and starts and ends where it did.
fn splits_and_joins(path: &Path, share: f64) -> Result<(), TestCaseError> {
    let length = path.length();
    let (first, second) = path.split_at(share * length);
    same("the first part", first.length(), share * length, 1e-6)?;
    same("both parts", first.length() + second.length(), length, 1e-7)?;
    let whole = first.then(&second);
    same("joined again", whole.length(), length, 1e-7)?;
    prop_assert!(whole.start.distance(path.start) < 1e-9 && whole.end().distance(path.end()) < 1e-9);
    // As long as its chords, but for what they cut off.
    let chords: f64 = whole.flatten(1e-3).windows(2).map(|w| w[0].distance(w[1])).sum();
    same("its chords", chords, length, 1e-4)
}

/// What became of outlines: drafted, refused in words, and of these because a cut line would cross itself.
#[derive(Debug)]
struct Became {
    made: u32,
    refused: u32,
    crossed: u32,
}

/// Runs a check on ten thousand outlines from a fixed start.
fn over_outlines(check: impl Fn(&Drawn, &Drafted, f64) -> Result<(), TestCaseError>) -> Became {
    let (made, refused, crossed) = (Cell::new(0), Cell::new(0), Cell::new(0));
    let config = Config { cases: OUTLINES, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let ran = runner.run(&(outline(), 0.0..1.0_f64), |(drawn, share)| {
        let mut problems = Problems::default();
        if let Some(d) = draft(&drawn.panel(|p| p), &mut problems) {
            made.set(made.get() + 1);
            return check(&drawn, &d, share);
        }
        refused.set(refused.get() + 1);
        let codes: Vec<&str> = problems.sorted().iter().map(|p| p.code).collect();
        crossed.set(crossed.get() + u32::from(codes.contains(&"allowance-crosses")));
        prop_assert!(!codes.is_empty() && codes.iter().all(|c| REFUSALS.contains(c)), "{codes:?}");
        Ok(())
    });
    if let Err(error) = ran {
        panic!("{error}");
    }
    Became { made: made.get(), refused: refused.get(), crossed: crossed.get() }
}

/// Most outlines can be drafted, and some lie on either side of where allowances meet: a check that saw neither would check nothing.
fn assert_mostly_made(became: &Became) {
    assert_eq!(became.made + became.refused, OUTLINES);
    assert!(became.made >= OUTLINES * 8 / 10 && became.crossed >= OUTLINES / 100, "{became:?}");
}

#[test]
fn the_stitch_line_lies_inside_a_cut_line_that_crosses_itself_nowhere() {
    assert_mostly_made(&over_outlines(|_, d, _| cut_line_holds(d)));
}

#[test]
fn splitting_and_joining_keeps_length_and_areas_are_what_they_are_said_to_be() {
    assert_mostly_made(&over_outlines(|_, d, share| {
        figures_hold(d)?;
        splits_and_joins(&d.cut_line, share)?;
        d.edges.iter().try_for_each(|e| splits_and_joins(&e.path, share))
    }));
}

#[test]
fn turned_moved_or_mirrored_a_panel_takes_the_same_cloth() {
    assert_mostly_made(&over_outlines(|drawn, d, share| {
        let turn = |p: Point| p.rotated(at(40.0, -7.0), share * TAU) + Vector::new(1000.0 * share, -300.0);
        let mirror = |p: Point| p.mirrored(at(25.0, 0.0), Vector::at_angle(share * TAU));
        for (what, input) in [("turned", drawn.panel(turn)), ("mirrored", drawn.panel(mirror))] {
            let mut problems = Problems::default();
            let other = draft(&input, &mut problems);
            prop_assert!(other.is_some(), "{what}: {:?}", problems.sorted());
            let other = other.unwrap();
            same(what, d.finished.area, other.finished.area, 1e-7)?;
            same(what, d.cut.area, other.cut.area, 1e-5)?;
            same(what, d.cut_line.length(), other.cut_line.length(), 1e-5)?;
        }
        Ok(())
    }));
}

/// The panel split along a line across its middle; none when the line does not cut it in two, or a piece has no allowance.
fn split(drawn: &Drawn, direction: f64) -> Result<Option<Layout>, TestCaseError> {
    let mut input = drawn.panel(|p| p);
    let count = drawn.corners.len() as f64;
    let middle = drawn.corners.iter().fold(at(0.0, 0.0), |sum, p| at(sum.x + p.x / count, sum.y + p.y / count));
    let along = Vector::at_angle(direction) * 5_000.0;
    let name = |text: &str| (text.to_owned(), Span::default());
    let (from, to, pieces) = (middle - along, middle + along, [name("port"), name("starboard")]);
    input.splits.push(SplitInput { name: name("middle"), of: None, from, to, pieces, span: Span::default() });
    input.allow.push(("middle".to_owned(), 7.0, Span::default()));
    let mut problems = Problems::default();
    let layout = draft_all(&input, &mut problems);
    let refused = |code: &&str| REFUSALS.contains(code) || ["split-not-across", "edge-split-twice"].contains(code);
    let codes: Vec<&str> = problems.sorted().iter().map(|p| p.code).collect();
    prop_assert!(layout.is_some() || (!codes.is_empty() && codes.iter().all(refused)), "{codes:?}");
    Ok(layout)
}

/// How long all edges are that come of each drawn edge.
fn lengths<'d>(pieces: &'d [Drafted], of: &str) -> impl Iterator<Item = f64> + use<'d> {
    let of = of.to_owned();
    pieces.iter().flat_map(|p| &p.edges).filter(move |e| e.of == of).map(|e| e.length)
}

/// The pieces of a split panel add up to it, edge by edge.
fn adds_up(whole: &Drafted, layout: &Layout) -> Result<(), TestCaseError> {
    prop_assert_eq!(layout.pieces.len(), 2);
    same("areas", layout.pieces.iter().map(|p| p.finished.area).sum(), whole.finished.area, 1e-7)?;
    for edge in &whole.edges {
        same(&edge.name, lengths(&layout.pieces, &edge.name).sum(), edge.length, 1e-6)?;
    }
    let joined: Vec<f64> = lengths(&layout.pieces, "middle").collect();
    prop_assert_eq!(joined.len(), 2);
    same("both sides of the split", joined[0], joined[1], 1e-9)?;
    layout.pieces.iter().try_for_each(cut_line_holds)
}

/// A piece of a split, its new edge laid on the fold, is laid open to twice itself, the same on both sides. None when that can't be.
fn laid_open(drawn: &Drawn, half: &Drafted) -> Result<Option<()>, TestCaseError> {
    let mut input = drawn.panel(|p| p);
    input.tapers.clear();
    input.edges = half.edges.iter().map(|e| EdgeInput { name: e.name.clone(), path: e.path.clone(), taken: None, span: e.span }).collect();
    input.allow.retain(|(name, ..)| half.edges.iter().any(|e| e.name == *name));
    input.fold = Some(("middle".to_owned(), Span::default()));
    let mut problems = Problems::default();
    let Some(whole) = draft(&input, &mut problems) else {
        let codes: Vec<&str> = problems.sorted().iter().map(|p| p.code).collect();
        let refused = |code: &&str| REFUSALS.contains(code) || *code == "half-over-fold";
        prop_assert!(!codes.is_empty() && codes.iter().all(refused), "{codes:?}");
        return Ok(None);
    };
    same("area", whole.finished.area, 2.0 * half.finished.area, 1e-7)?;
    for edge in half.edges.iter().filter(|e| e.name != "middle") {
        same(&edge.name, lengths(std::slice::from_ref(&whole), &edge.name).sum(), 2.0 * edge.length, 1e-6)?;
    }
    let fold = whole.fold_line.clone().unwrap();
    let image = whole.cut_line.mirrored(fold.start, fold.end() - fold.start);
    let cut = whole.cut_line.flatten(FINE);
    for p in (0..16).map(|i| image.point_at(image.length() * f64::from(i) / 16.0)) {
        prop_assert!(within(&cut, p).0 <= 2.0 * FINE, "{p:?} has no image");
    }
    cut_line_holds(&whole)?;
    Ok(Some(()))
}

#[test]
fn pieces_of_a_split_panel_add_up_to_it_and_a_half_on_the_fold_is_laid_open_to_twice_itself() {
    let (parted, opened) = (Cell::new(0), Cell::new(0));
    over_outlines(|drawn, d, share| {
        let Some(layout) = split(drawn, share * TAU)? else { return Ok(()) };
        parted.set(parted.get() + 1);
        adds_up(d, &layout)?;
        opened.set(opened.get() + laid_open(drawn, &layout.pieces[0])?.map_or(0, |()| 1));
        Ok(())
    });
    assert!(parted.get() >= OUTLINES / 2 && opened.get() >= OUTLINES / 3, "{} and {}", parted.get(), opened.get());
}

/// However two allowances meet, the cut line is one line round all of the piece; a corner cut out touches the piece at most.
#[test]
fn whichever_way_allowances_meet_the_cut_line_crosses_itself_nowhere() {
    let (mut made, mut refused) = ([0_u32; CornerJoin::ALL.len()], 0_u32);
    let config = Config { cases: OUTLINES, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let counts = Cell::new((made, refused));
    let ran = runner.run(&(outline(), 0..CornerJoin::ALL.len()), |(drawn, kind)| {
        let (_, join) = CornerJoin::ALL[kind];
        let mut input = drawn.panel(|p| p);
        let names: Vec<String> = input.edges.iter().map(|e| e.name.clone()).collect();
        for (i, name) in names.iter().enumerate() {
            let edges = (name.clone(), names[(i + 1) % names.len()].clone(), Span::default());
            input.joins.push(JoinInput { edges, join });
            if matches!(join, CornerJoin::Stepped | CornerJoin::Folded) {
                input.folds.push((name.clone(), vec![0.0], Span::default()));
            }
        }
        let mut problems = Problems::default();
        let (mut made, mut refused) = counts.get();
        if let Some(d) = draft(&input, &mut problems) {
            made[kind] += 1;
            let cut = d.cut_line.flatten(FINE);
            prop_assert_eq!(crossing(&cut), None, "{:?}", join);
            for edge in &d.edges {
                for p in (0..8).map(|i| edge.path.point_at(edge.length * f64::from(i) / 8.0)) {
                    let (away, inside) = within(&cut, p);
                    prop_assert!(inside || away <= 2.0 * FINE, "{join:?} {} {p:?}: {away}", edge.name);
                }
            }
        } else {
            refused += 1;
            let errors = problems.sorted().into_iter().filter(|p| p.severity == Severity::Error).map(|p| p.code);
            let known = |c: &str| REFUSALS.contains(&c) || ["corner-join-impossible", "folded-corner-without-hem"].contains(&c);
            prop_assert!(problems.has_errors() && errors.clone().all(known), "{:?}", errors.collect::<Vec<_>>());
        }
        counts.set((made, refused));
        Ok(())
    });
    if let Err(error) = ran {
        panic!("{error}");
    }
    (made, refused) = counts.get();
    assert!(made.iter().all(|n| *n >= OUTLINES / 20) && refused >= OUTLINES / 100, "{made:?}, {refused} refused");
}

/// Areas of every panel of a source, finished and cut, mm².
fn areas(text: String) -> Vec<(f64, f64)> {
    let main = Loaded { name: "outlines.fell".into(), text };
    let request = Request { settings: Vec::new(), jobs: Some(1), ..Request::default() };
    let compiled = pipeline::compile(main, &WithLibrary(Nothing), &request, &|_| {}).expect("no settings are made");
    assert!(!compiled.problems.has_errors(), "{:?}", compiled.problems.sorted());
    let design = &compiled.size(pipeline::AS_DRAWN).unwrap().design;
    design.pieces.iter().map(|p| (p.finished.area.as_mm2(), p.cut.area.as_mm2())).collect()
}

fn design(drawn: &[Drawn], unit: &str, mm: f64) -> String {
    let panels: String = drawn.iter().enumerate().map(|(i, d)| d.source(&format!("p{i}"), unit, mm)).collect();
    let cloth = "material plain_cloth is cloth \"Plain cloth\" { mass = 50 g/m2 width = 5 m source = \"memory\" }";
    format!("design outlines {{ {cloth}\n{panels} step look inspect \"Look at the outlines\" }}\n")
}

#[test]
fn drawn_in_inches_or_metres_a_panel_takes_the_same_cloth() {
    let drawn: Cell<Vec<Drawn>> = Cell::default();
    let config = Config { cases: OUTLINES, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let ran = runner.run(&outline(), |d| {
        if draft(&d.panel(|p| p), &mut Problems::default()).is_some() {
            let mut all = drawn.take();
            all.push(d);
            drawn.set(all);
        }
        Ok(())
    });
    assert!(ran.is_ok());
    let drawn = drawn.take();
    assert!(drawn.len() >= OUTLINES as usize * 8 / 10, "{}", drawn.len());
    for some in drawn.chunks(500) {
        let [mm, inches, metres] = [("mm", 1.0), ("in", 25.4), ("m", 1000.0)].map(|(unit, mm)| areas(design(some, unit, mm)));
        assert_eq!(mm.len(), some.len());
        let drafted = some.iter().map(|d| draft(&d.panel(|p| p), &mut Problems::default()).unwrap());
        for (i, (((a, b), c), d)) in mm.iter().zip(&inches).zip(&metres).zip(drafted).enumerate() {
            for (x, y, z, said) in [(a.0, b.0, c.0, d.finished.area), (a.1, b.1, c.1, d.cut.area)] {
                for other in [y, z, said] {
                    assert!((x - other).abs() <= 1e-5 * x, "{:?}: {x} mm² and {other} mm²", some[i]);
                }
            }
        }
    }
}

//! Nearest places, rings moved, rings combined.

use super::*;
use std::f64::consts::PI;

fn ring(path: &Path) -> Vec<Path> {
    path.curves().map(|c| Path::of_curves(c.start, [c])).collect()
}

fn square(x: f64, y: f64, side: f64) -> Vec<Path> {
    ring(&rectangle(side, side).translated(Vector::new(x, y)))
}

fn disc(x: f64, y: f64, radius: f64) -> Vec<Path> {
    vec![Path::circle(pt(x, y), radius)]
}

fn area(paths: &[Path]) -> f64 {
    paths.iter().skip(1).fold(paths[0].clone(), |p, q| p.then(q)).signed_area()
}

fn areas(first: &[Path], second: &[Path], how: Combine) -> Vec<f64> {
    let rings = combine(first, second, how).expect("rings");
    let of = |ring: &Vec<Bit>| area(&ring.iter().map(|b| b.path.clone()).collect::<Vec<_>>());
    let mut all: Vec<f64> = rings.iter().map(of).collect();
    all.sort_by(f64::total_cmp);
    all
}

#[track_caller]
fn are(found: &[f64], wanted: &[f64]) {
    assert_eq!(found.len(), wanted.len(), "{found:?}");
    for (f, w) in found.iter().zip(wanted) {
        near!(*f, *w, 1e-3);
    }
}

#[test]
fn the_nearest_place_on_each_kind_of_curve() {
    let line = Path::line(pt(0.0, 0.0), pt(100.0, 0.0));
    let n = line.nearest(pt(30.0, 40.0)).unwrap();
    near!(n.along, 30.0, 1e-9);
    near!(n.distance, 40.0, 1e-9);
    near!(line.nearest(pt(-30.0, 40.0)).unwrap().distance, 50.0, 1e-9);
    // Three quarters of a circle of radius 100 about the origin, from the right over the top and left to below.
    let arc = Path::new(pt(100.0, 0.0)).arc_to(pt(0.0, -100.0), (3.0 * PI / 8.0).tan());
    near!(arc.length(), 150.0 * PI, 1e-9);
    let n = arc.nearest(pt(-30.0, -40.0)).unwrap();
    near!(n.distance, 50.0, 1e-9);
    near!(n.along, 100.0 * (PI + (4.0_f64 / 3.0).atan()), 1e-6);
    // In the gap the nearer end is nearest.
    near!(arc.nearest(pt(60.0, -200.0)).unwrap().along, 150.0 * PI, 1e-9);
    // The same way round the other way: a negative bulge.
    near!(arc.reversed().nearest(pt(-30.0, -40.0)).unwrap().along, 150.0 * PI - n.along, 1e-6);
    // The lowest point of a hung curve lies under its middle.
    let hung = Path::catenary(pt(0.0, 0.0), pt(1000.0, 0.0), 100.0, Side::Right);
    let n = hung.nearest(pt(500.0, -300.0)).unwrap();
    near!(n.distance, 200.0, 1e-6);
    near!(n.along, hung.length() / 2.0, 1e-3);
}

#[test]
fn a_ring_is_moved_each_path_by_its_own_distance() {
    let moved = |by: [f64; 4]| Path::shifted(&square(0.0, 0.0, 100.0).into_iter().zip(by).collect::<Vec<_>>());
    // 100 less 10 and 20 wide, less 5 high.
    let paths = moved([5.0, 10.0, 0.0, 20.0]).unwrap();
    near!(area(&paths), 70.0 * 95.0, 1e-9);
    assert_eq!(paths[0], Path::line(pt(20.0, 5.0), pt(90.0, 5.0)));
    near!(area(&moved([-5.0; 4]).unwrap()), 110.0 * 110.0, 1e-9);
    // The two sides pass each other: nothing is left of the foot.
    assert!(matches!(moved([0.0, 60.0, 0.0, 60.0]), Err(ShiftError::Vanishes { path: 0 })), "{:?}", moved([0.0, 60.0, 0.0, 60.0]));
}

#[test]
fn arcs_that_are_moved_stay_arcs() {
    // Half a disc of radius 100: 10 in, its straight is a chord of a circle of 90, 10 above the middle.
    let arc = Path::arc_by_rise(pt(100.0, 0.0), pt(-100.0, 0.0), 100.0, Side::Right);
    let half = [(Path::line(pt(-100.0, 0.0), pt(100.0, 0.0)), 10.0), (arc, 10.0)];
    let moved = Path::shifted(&half).unwrap();
    near!(moved[0].length(), 2.0 * (90.0_f64 * 90.0 - 100.0).sqrt(), 1e-9);
    assert!(matches!(moved[1].segments[..], [Segment::Arc { .. }]), "{:?}", moved[1]);
    near!(moved[1].length(), 90.0 * (PI - 2.0 * (10.0_f64 / 90.0).asin()), 1e-6);
}

#[test]
fn squares_that_overlap() {
    let (a, b) = (square(0.0, 0.0, 100.0), square(50.0, 50.0, 100.0));
    are(&areas(&a, &b, Combine::Both), &[2500.0]);
    are(&areas(&a, &b, Combine::FirstAlone), &[7500.0]);
    are(&areas(&a, &b, Combine::Either), &[17_500.0]);
}

#[test]
fn a_disc_about_a_corner_is_cut_at_its_own_joints() {
    // The joints of the circle's arcs lie on the sides of the square.
    let (a, b) = (square(0.0, 0.0, 400.0), disc(0.0, 0.0, 100.0));
    let quarter = PI * 2500.0;
    are(&areas(&a, &b, Combine::Both), &[quarter]);
    are(&areas(&a, &b, Combine::FirstAlone), &[160_000.0 - quarter]);
    are(&areas(&a, &b, Combine::Either), &[160_000.0 + 3.0 * quarter]);
    let kept = combine(&a, &b, Combine::Both).unwrap();
    let arcs: Vec<&Bit> = kept[0].iter().filter(|b| b.of_second).collect();
    assert!(arcs.iter().all(|b| b.path.segments.iter().all(|s| matches!(s, Segment::Arc { .. }))));
    near!(arcs.iter().map(|b| b.path.length()).sum::<f64>(), 50.0 * PI, 1e-6);
}

#[test]
fn edges_that_lie_on_each_other() {
    let a = square(0.0, 0.0, 100.0);
    // Flush with the foot, from inside and from outside; flush with all but one side.
    are(&areas(&a, &square(20.0, 0.0, 40.0), Combine::FirstAlone), &[8400.0]);
    are(&areas(&a, &square(20.0, -40.0, 40.0), Combine::Either), &[11_600.0]);
    are(&areas(&a, &square(20.0, -40.0, 40.0), Combine::FirstAlone), &[10_000.0]);
    are(&areas(&a, &ring(&rectangle(60.0, 100.0)), Combine::FirstAlone), &[4000.0]);
    are(&areas(&a, &a, Combine::Both), &[10_000.0]);
    assert_eq!(areas(&a, &a, Combine::FirstAlone), [0.0; 0]);
    // Arcs of one circle, started elsewhere: a cap of the disc flush with its rim, above y = 60.
    let cap = vec![
        Path::line(pt(-80.0, 60.0), pt(80.0, 60.0)),
        Path::new(pt(80.0, 60.0)).arc_to(pt(-80.0, 60.0), ((4.0_f64 / 3.0).atan() / 2.0).tan()),
    ];
    let angle = 2.0 * (4.0_f64 / 3.0).atan();
    let of_cap = 5000.0 * (angle - angle.sin());
    are(&areas(&disc(0.0, 0.0, 100.0), &cap, Combine::Both), &[of_cap]);
    are(&areas(&disc(0.0, 0.0, 100.0), &cap, Combine::FirstAlone), &[PI * 10_000.0 - of_cap]);
    are(&areas(&disc(0.0, 0.0, 100.0), &cap, Combine::Either), &[PI * 10_000.0]);
}

#[test]
fn what_is_no_single_ring_is_given_as_it_is() {
    let a = square(0.0, 0.0, 100.0);
    assert_eq!(areas(&a, &square(200.0, 0.0, 50.0), Combine::Both), [0.0; 0]);
    are(&areas(&a, &square(200.0, 0.0, 50.0), Combine::Either), &[2500.0, 10_000.0]);
    are(&areas(&a, &disc(50.0, 50.0, 20.0), Combine::FirstAlone), &[-PI * 400.0, 10_000.0]);
    let bar = ring(&rectangle(300.0, 20.0).translated(Vector::new(-100.0, 40.0)));
    are(&areas(&a, &bar, Combine::FirstAlone), &[4000.0, 4000.0]);
}

/// A deterministic walk of numbers below `n`.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % n) as f64
    }
}

/// A staircase on a grid of 10: nearly everything about two of them lies on each other somewhere.
fn stairs(dice: &mut Dice) -> Vec<Path> {
    let (x, y) = (dice.below(6) * 10.0, dice.below(6) * 10.0);
    let heights: Vec<f64> = (0..3).map(|_| (1.0 + dice.below(5)) * 10.0).collect();
    let mut points = vec![pt(x, y), pt(x + 30.0, y)];
    for (i, height) in heights.iter().enumerate().rev() {
        let left = x + 10.0 * i as f64;
        points.extend([pt(left + 10.0, y + height), pt(left, y + height)]);
    }
    points.dedup();
    ring(&Path::polygon(&points).expect("points").tidied())
}

#[test]
fn areas_add_up_however_two_outlines_lie_on_each_other() {
    let mut dice = Dice(7);
    for round in 0..600 {
        let first = stairs(&mut dice);
        let second =
            if round % 3 == 0 { disc(dice.below(9) * 10.0, dice.below(9) * 10.0, 10.0 + dice.below(3) * 10.0) } else { stairs(&mut dice) };
        let sum = |a: &[Path], b: &[Path], how| areas(a, b, how).iter().sum::<f64>();
        let both = sum(&first, &second, Combine::Both);
        let (a, b) = (area(&first), area(&second));
        near!(sum(&first, &second, Combine::FirstAlone), a - both, 1e-3);
        near!(sum(&second, &first, Combine::FirstAlone), b - both, 1e-3);
        near!(sum(&first, &second, Combine::Either), a + b - both, 1e-3);
        near!(sum(&second, &first, Combine::Both), both, 1e-3);
    }
}

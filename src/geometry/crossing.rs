//! Where chains of straights cross themselves or each other, and what lies inside them.
//!
//! Crossings are looked for by halving: the chain's straights are shared out between the two sides of a line
//! again and again until few are left together, and only those are tried against each other. For the
//! chains that outlines make, the effort grows little faster than their number.

use super::{Bounds, COINCIDENT, Point};

/// Straights nearer than this (mm) touch. Below [`COINCIDENT`], so that the two neighbours of a shortest straight don't.
const TOUCH: f64 = 1e-7;

/// So few straights are simply tried against each other.
const FEW: usize = 12;

/// Halving ends here whatever is left.
const DEEPEST: u32 = 48;

/// A crossing or touching of two straights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// Where.
    pub at: Point,
    /// The straight from this point of the first chain to the next …
    pub first: usize,
    /// … meets the one from this point, of the same chain or the second.
    pub second: usize,
}

#[derive(Debug, Clone, Copy)]
struct Straight {
    from: Point,
    to: Point,
    chain: u8,
    index: usize,
    /// Places in its chain without straights of no length; `last` is the place of the chain's last.
    place: usize,
    last: usize,
    closed: bool,
}

/// A straight and the part of it that lies in the region looked at.
#[derive(Debug, Clone, Copy)]
struct Part {
    straight: usize,
    from: Point,
    to: Point,
}

/// Where a chain of points crosses, touches or runs back over itself. Closed when its last point is its first.
#[must_use]
pub fn self_crossing(points: &[Point]) -> Option<Crossing> {
    let straights = straights(points, 0)?;
    search(&straights, |a, b| if neighbours(a, b) { folds_back(a, b) } else { touch(a, b) })
}

/// The point where a chain of points crosses itself; see [`self_crossing`].
#[must_use]
pub fn first_self_crossing(points: &[Point]) -> Option<Point> {
    self_crossing(points).map(|c| c.at)
}

/// Where two chains of points cross or touch.
#[must_use]
pub fn crossing_between(first: &[Point], second: &[Point]) -> Option<Crossing> {
    let mut all = straights(first, 0)?;
    all.extend(straights(second, 1)?);
    let found = search(&all, |a, b| if a.chain == b.chain { None } else { touch(a, b) })?;
    Some(found)
}

/// Whether a closed chain of points winds round a place. On the chain itself either may be answered.
#[must_use]
pub fn encloses(points: &[Point], place: Point) -> bool {
    let mut winding = 0_i64;
    let closing = points.last().zip(points.first()).map(|(a, b)| (*a, *b));
    for (a, b) in pairs(points).chain(closing) {
        let side = || (b - a).cross(place - a);
        if a.y <= place.y && b.y > place.y {
            winding += i64::from(side() > 0.0);
        } else if b.y <= place.y && a.y > place.y {
            winding -= i64::from(side() < 0.0);
        }
    }
    winding != 0
}

/// How far a place lies from a chain of points; infinite for an empty one.
#[must_use]
pub fn distance_to(points: &[Point], place: Point) -> f64 {
    let single = points.first().map_or(f64::INFINITY, |p| p.distance(place));
    pairs(points).map(|(a, b)| from_straight(place, a, b)).fold(single, f64::min)
}

fn pairs(points: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    points.iter().zip(points.iter().skip(1)).map(|(a, b)| (*a, *b))
}

/// The straights of a chain, those of no length left out; none when a coordinate is no number.
fn straights(points: &[Point], chain: u8) -> Option<Vec<Straight>> {
    if !points.iter().all(|p| p.is_finite()) {
        return None;
    }
    let closed = points.len() > 2 && points.first().zip(points.last()).is_some_and(|(a, b)| a.distance(*b) <= COINCIDENT);
    let mut list: Vec<Straight> = Vec::with_capacity(points.len());
    let mut from = points.first().copied()?;
    for (index, (_, to)) in pairs(points).enumerate() {
        if from.distance(to) <= COINCIDENT {
            continue;
        }
        list.push(Straight { from, to, chain, index, place: list.len(), last: 0, closed });
        from = to;
    }
    let last = list.len().saturating_sub(1);
    list.iter_mut().for_each(|s| s.last = last);
    Some(list)
}

fn neighbours(a: &Straight, b: &Straight) -> bool {
    let (low, high) = (a.place.min(b.place), a.place.max(b.place));
    high - low == 1 || (a.closed && low == 0 && high == a.last)
}

/// Neighbours meet at their common end; more than that is running back.
fn folds_back(a: &Straight, b: &Straight) -> Option<Point> {
    let (a, b) = if a.place < b.place { (a, b) } else { (b, a) };
    let ends = if b.place - a.place == 1 { [(a.from, b), (b.to, a)] } else { [(a.to, b), (b.from, a)] };
    ends.into_iter().find(|(p, other)| from_straight(*p, other.from, other.to) <= TOUCH).map(|(p, _)| p)
}

fn from_straight(p: Point, a: Point, b: Point) -> f64 {
    let along = b - a;
    let square = along.dot(along);
    if square == 0.0 {
        return p.distance(a);
    }
    p.distance(a.lerp(b, ((p - a).dot(along) / square).clamp(0.0, 1.0)))
}

fn touch(a: &Straight, b: &Straight) -> Option<Point> {
    let (r, s, gap) = (a.to - a.from, b.to - b.from, b.from - a.from);
    let turn = r.cross(s);
    if turn.abs() > 1e-12 * r.length() * s.length() {
        let (t, u) = (gap.cross(s) / turn, gap.cross(r) / turn);
        if (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u) {
            return Some(a.from.lerp(a.to, t));
        }
    }
    let ends = [(a.from, b), (a.to, b), (b.from, a), (b.to, a)];
    ends.into_iter().find(|(p, other)| from_straight(*p, other.from, other.to) <= TOUCH).map(|(p, _)| p)
}

fn search(straights: &[Straight], meet: impl Fn(&Straight, &Straight) -> Option<Point>) -> Option<Crossing> {
    let all = straights.iter().enumerate().map(|(i, s)| Part { straight: i, from: s.from, to: s.to }).collect();
    let mut regions: Vec<(Vec<Part>, u32)> = vec![(all, 0)];
    while let Some((parts, depth)) = regions.pop() {
        let halves = if parts.len() <= FEW || depth >= DEEPEST { None } else { halve(&parts) };
        if let Some((low, high)) = halves {
            regions.push((high, depth + 1));
            regions.push((low, depth + 1));
        } else if let Some(found) = try_all(straights, &parts, &meet) {
            return Some(found);
        }
    }
    None
}

fn try_all(straights: &[Straight], parts: &[Part], meet: impl Fn(&Straight, &Straight) -> Option<Point>) -> Option<Crossing> {
    for (i, first) in parts.iter().enumerate() {
        let box_of = |p: &Part| Bounds::of(p.from).with(p.to).grown(TOUCH);
        let bounds = box_of(first);
        for second in parts.iter().skip(i + 1).filter(|p| bounds.meets(box_of(p))) {
            let (a, b) = (straights.get(first.straight)?, straights.get(second.straight)?);
            let (a, b) = if (a.chain, a.index) <= (b.chain, b.index) { (a, b) } else { (b, a) };
            if let Some(at) = meet(a, b) {
                return Some(Crossing { at, first: a.index, second: b.index });
            }
        }
    }
    None
}

/// Shares parts out between the sides of an upright or level line through their middle; none when that parts too few.
fn halve(parts: &[Part]) -> Option<(Vec<Part>, Vec<Part>)> {
    let bounds = parts.iter().map(|p| Bounds::of(p.from).with(p.to)).reduce(Bounds::union)?;
    let wide = bounds.width() >= bounds.height();
    [wide, !wide].into_iter().find_map(|upright| {
        let (low, high) = share(parts, upright);
        (low.len() + high.len() <= parts.len() + parts.len() / 2 && low.len().max(high.len()) < parts.len()).then_some((low, high))
    })
}

fn share(parts: &[Part], upright: bool) -> (Vec<Part>, Vec<Part>) {
    let coordinate = |p: Point| if upright { p.x } else { p.y };
    let mut middles: Vec<f64> = parts.iter().map(|p| f64::midpoint(coordinate(p.from), coordinate(p.to))).collect();
    let half = middles.len() / 2;
    let (_, middle, _) = middles.select_nth_unstable_by(half, f64::total_cmp);
    let line = *middle;
    let (mut low, mut high) = (Vec::new(), Vec::new());
    for part in parts {
        let (a, b) = (coordinate(part.from), coordinate(part.to));
        let (below, above) = (a.min(b) <= line + TOUCH, a.max(b) >= line - TOUCH);
        let across = (a - line) * (b - line) < 0.0;
        let cut = if across { part.from.lerp(part.to, (line - a) / (b - a)) } else { part.to };
        let clipped = |wanted: bool| match (across, wanted) {
            (false, _) => *part,
            (true, true) => Part { to: cut, ..*part },
            (true, false) => Part { from: cut, ..*part },
        };
        if below {
            low.push(clipped(a < line));
        }
        if above {
            high.push(clipped(a > line));
        }
    }
    (low, high)
}

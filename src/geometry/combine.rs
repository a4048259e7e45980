//! Two closed rings of paths made one: what lies in both, in the first alone, or in either.
//!
//! Both rings are cut wherever they meet; of the bits those are kept that bound the result, and put together end to
//! start. The curves themselves are cut, so that arcs stay arcs.

use super::{Bounds, FLATTEN, Path, Point, encloses, meetings};

/// Nearer than this (mm) two boundaries lie on each other: rounding of the figures behind them.
const ON: f64 = 1e-4;

/// Cuts nearer along a path than this (mm) are one.
const SAME: f64 = 1e-3;

/// Ends of bits nearer than this (mm) are one corner: two cuts may each be off by [`SAME`].
const JOINED: f64 = 5e-3;

/// Places of a bit that are held against the other ring, as shares of its length.
const TRIED: [f64; 7] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95];

/// What is kept of two rings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Combine {
    /// What lies in both.
    Both,
    /// What lies in the first and not in the second.
    FirstAlone,
    /// What lies in either.
    Either,
}

/// A stretch of a ring's path.
#[derive(Debug, Clone, PartialEq)]
pub struct Bit {
    /// Whether it is of the second ring.
    pub of_second: bool,
    /// The path's place in its ring.
    pub index: usize,
    /// Where it starts along that path.
    pub from: f64,
    /// Where it ends along that path.
    pub to: f64,
    /// Its course in the result; a bit of a second ring that is taken off runs the other way.
    pub path: Path,
}

/// Where a bit lies, seen from the other ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lies {
    Inside,
    Outside,
    /// On the other ring, going the same way or the other.
    On {
        same_way: bool,
    },
}

/// A ring made ready for questions about it.
struct Ring<'a> {
    paths: &'a [Path],
    bounds: Vec<Bounds>,
}

impl<'a> Ring<'a> {
    fn new(paths: &'a [Path]) -> Self {
        Self { paths, bounds: paths.iter().map(Path::bounds).collect() }
    }

    /// The nearest place: which path, how far along, how far off.
    fn nearest(&self, to: Point) -> Option<(&Path, f64, f64)> {
        let mut found: Option<(&Path, f64, f64)> = None;
        for (path, bounds) in self.paths.iter().zip(&self.bounds) {
            if found.is_some_and(|(.., off)| bounds.distance(to) >= off) {
                continue;
            }
            if let Some(n) = path.nearest(to)
                && found.is_none_or(|(.., off)| n.distance < off)
            {
                found = Some((path, n.along, n.distance));
            }
        }
        found
    }

    fn flat(&self, tolerance: f64) -> Vec<Point> {
        self.paths.iter().flat_map(|p| p.flatten(tolerance)).collect()
    }

    fn lies(&self, bit: &Path, flat: &[Point]) -> Option<Lies> {
        let length = bit.length();
        let tried = TRIED.iter().map(|share| bit.point_at(share * length)).filter_map(|p| self.nearest(p).map(|n| (p, n)));
        let (place, (path, along, off)) = tried.max_by(|a, b| a.1.2.total_cmp(&b.1.2))?;
        if off <= ON {
            let middle = bit.point_at(length / 2.0);
            let (path, along) = self.nearest(middle).map_or((path, along), |(p, a, _)| (p, a));
            return Some(Lies::On { same_way: bit.tangent_at(length / 2.0).dot(path.tangent_at(along)) > 0.0 });
        }
        let inside = if off > 2.0 * FLATTEN { encloses(flat, place) } else { encloses(&self.flat(off / 4.0), place) };
        Some(if inside { Lies::Inside } else { Lies::Outside })
    }
}

/// The rings that bound what is kept of two counter-clockwise rings: outer ones counter-clockwise, gaps clockwise.
/// None when the bits can't be put together, which happens only where the rings run along each other and part again and again
/// within a few microns.
#[must_use]
pub fn combine(first: &[Path], second: &[Path], how: Combine) -> Option<Vec<Vec<Bit>>> {
    let (one, two) = (Ring::new(first), Ring::new(second));
    let (flat_one, flat_two) = (one.flat(FLATTEN), two.flat(FLATTEN));
    let (cuts_one, cuts_two) = cuts(first, second);
    let mut kept = Vec::new();
    for bit in bits(first, &cuts_one, false) {
        let lies = two.lies(&bit.path, &flat_two)?;
        let keep = match how {
            Combine::Both => matches!(lies, Lies::Inside | Lies::On { same_way: true }),
            Combine::FirstAlone => matches!(lies, Lies::Outside | Lies::On { same_way: false }),
            Combine::Either => matches!(lies, Lies::Outside | Lies::On { same_way: true }),
        };
        kept.extend(keep.then_some(bit));
    }
    for bit in bits(second, &cuts_two, true) {
        let lies = one.lies(&bit.path, &flat_one)?;
        match how {
            Combine::Both if lies == Lies::Inside => kept.push(bit),
            Combine::Either if lies == Lies::Outside => kept.push(bit),
            Combine::FirstAlone if lies == Lies::Inside => kept.push(Bit { path: bit.path.reversed(), ..bit }),
            _ => {}
        }
    }
    rings(kept)
}

/// Where each path of either ring is cut.
fn cuts(first: &[Path], second: &[Path]) -> (Vec<Vec<f64>>, Vec<Vec<f64>>) {
    let (mut one, mut two) = (vec![Vec::new(); first.len()], vec![Vec::new(); second.len()]);
    for (a, on_a) in first.iter().zip(&mut one) {
        for (b, on_b) in second.iter().zip(&mut two) {
            for meeting in meetings(a, b) {
                on_a.push(meeting.first);
                on_b.push(meeting.second);
            }
            // Where one runs along the other, it begins and ends to do so at a joint of either.
            on_a.extend(joints_on(b, a));
            on_b.extend(joints_on(a, b));
        }
    }
    (one, two)
}

/// Where joints of one path lie on another.
fn joints_on(of: &Path, on: &Path) -> Vec<f64> {
    let near = on.bounds().grown(ON);
    let joints = std::iter::once(of.start).chain(of.segments.iter().map(super::Segment::end));
    joints.filter(|p| near.distance(*p) == 0.0).filter_map(|p| on.nearest(p)).filter(|n| n.distance <= ON).map(|n| n.along).collect()
}

fn bits(ring: &[Path], cuts: &[Vec<f64>], of_second: bool) -> Vec<Bit> {
    let mut all = Vec::new();
    for (index, (path, cuts)) in ring.iter().zip(cuts).enumerate() {
        let length = path.length();
        let mut ends: Vec<f64> = cuts.iter().copied().filter(|c| *c > SAME && *c < length - SAME).collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|b, a| *b - *a <= SAME);
        ends.push(length);
        let mut from = 0.0;
        for to in ends {
            all.push(Bit { of_second, index, from, to, path: path.subpath(from, to) });
            from = to;
        }
    }
    all
}

/// Bits put together end to start.
fn rings(mut bits: Vec<Bit>) -> Option<Vec<Vec<Bit>>> {
    let mut all = Vec::new();
    while !bits.is_empty() {
        let first = bits.remove(0);
        let start = first.path.start;
        let mut ring = vec![first];
        loop {
            let last = ring.last()?;
            let end = last.path.end();
            // At a point that both rings only touch, one goes on along one's own.
            let off = |b: &Bit| (b.of_second != last.of_second, b.path.start.distance(end));
            let next = bits.iter().enumerate().filter(|(_, b)| b.path.start.distance(end) <= JOINED);
            let next = next.min_by(|(_, a), (_, b)| off(a).0.cmp(&off(b).0).then(off(a).1.total_cmp(&off(b).1))).map(|(i, _)| i);
            let closed = end.distance(start) <= JOINED;
            match next {
                _ if closed => break,
                Some(i) => ring.push(bits.remove(i)),
                None => return None,
            }
        }
        join(&mut ring);
        all.push(ring);
    }
    Some(all)
}

/// Lets each bit end where the next begins.
fn join(ring: &mut [Bit]) {
    let starts: Vec<Point> = ring.iter().map(|b| b.path.start).collect();
    for (bit, next) in ring.iter_mut().zip(starts.iter().cycle().skip(1)) {
        if let Some(last) = bit.path.segments.last_mut() {
            last.move_end(*next);
        }
    }
}

//! A piece larger than the bed, in frames: windows of the bed's size that have a strip in common with the next.
//!
//! Each line is parted in the strip, in its middle or beside what is small there, so that every bit of it is in one frame. A knife, which leaves a thread where
//! two cuts only meet, goes on past the border in the later frame by its overcut. In the strip stand crosses, in both frames at the
//! same places of the piece: what the first frame has drawn on the cloth, the second is laid by.

use super::border;
use super::lines::Line;
use crate::export::drawing::Shape;
use crate::geometry::{Bounds, Path, Point, Vector, meetings};
use crate::ir::frames_along;

/// A cross reaches this far from its middle (mm), and no farther than this part of the strip.
const ARM: f64 = 5.0;
const ARM_OF_STRIP: f64 = 0.4;
/// A border lies no farther than this part of the strip from its middle.
const PLAY_OF_STRIP: f64 = 0.25;
/// Between a piece and the cross beside it, mm.
const CLEAR: f64 = 5.0;
/// Stretches of a line shorter than this (mm) are noise.
const SLIVER: f64 = 1e-6;

/// What is done of a piece in one frame, its lower left corner at the origin.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Window {
    /// Its lines.
    pub(super) lines: Vec<Line>,
    /// Its crosses, two strokes each.
    pub(super) crosses: Vec<Path>,
    /// The middles of those that no frame before it has.
    pub(super) new: Vec<Point>,
}

/// One direction of the grid.
struct Steps {
    /// Where each window begins.
    corners: Vec<f64>,
    /// The middle of the strip that each window has in common with the next.
    middles: Vec<f64>,
    /// Where lines are parted between each window and the next.
    borders: Vec<f64>,
}

impl Steps {
    fn of((from, to): (f64, f64), bed: f64, overlap: f64, clear: f64, part_at: impl Fn(f64) -> f64) -> Self {
        let count = frames_along(to - from, bed, overlap);
        let over = f64::from(count) * (bed - overlap) + overlap - (to - from);
        // What the bed has to spare is shared out; beside a single row of frames no more than the crosses need.
        let origin = from - if count == 1 { (over / 2.0).min(clear) } else { over / 2.0 };
        let corner = |i: u32| origin + f64::from(i) * (bed - overlap);
        let middles: Vec<f64> = (1..count).map(|i| corner(i) + overlap / 2.0).collect();
        Self { corners: (0..count).map(corner).collect(), borders: middles.iter().map(|m| part_at(*m)).collect(), middles }
    }

    fn window(&self, at: f64) -> usize {
        self.borders.iter().filter(|b| at >= **b).count()
    }

    fn corner(&self, index: usize) -> f64 {
        self.corners.get(index).copied().unwrap_or_default()
    }

    fn count(&self) -> usize {
        self.corners.len()
    }
}

/// The frames of a piece, column after column along the bed.
pub(super) fn divided(lines: &[Line], around: Bounds, bed: (f64, f64), overlap: f64, run_on: impl Fn(&Line) -> f64) -> Vec<Window> {
    let arm = ARM.min(overlap * ARM_OF_STRIP);
    let clear = CLEAR + 2.0 * arm;
    // What goes on past a border has to stay on both beds.
    let past = lines.iter().map(&run_on).fold(0.0, f64::max);
    let play = (overlap / 2.0 - past).clamp(0.0, overlap * PLAY_OF_STRIP);
    let beside = |along| {
        let small = border::small(lines, overlap / 2.0, along);
        move |middle| border::place(middle, play, &small)
    };
    let grid = Grid {
        across: Steps::of((around.min.x, around.max.x), bed.0, overlap, clear, beside(|b| (b.min.x, b.max.x))),
        up: Steps::of((around.min.y, around.max.y), bed.1, overlap, clear, beside(|b| (b.min.y, b.max.y))),
        bed,
    };
    let mut windows: Vec<Window> = (0..grid.count()).map(|_| Window { lines: Vec::new(), crosses: Vec::new(), new: Vec::new() }).collect();
    for line in lines {
        for (index, shape) in grid.parted(&line.shape, run_on(line)) {
            if let Some(window) = windows.get_mut(index) {
                window.lines.push(Line { shape, ..line.clone() });
            }
        }
    }
    for (at, sharers) in grid.crosses(around, arm) {
        let first = sharers.iter().copied().min();
        for index in sharers {
            if let Some(window) = windows.get_mut(index) {
                let (x, y) = (Vector::new(arm, 0.0), Vector::new(0.0, arm));
                window.crosses.extend([Path::line(at - x, at + x), Path::line(at - y, at + y)]);
                window.new.extend(first.filter(|f| *f == index).map(|_| at));
            }
        }
    }
    for (index, window) in windows.iter_mut().enumerate() {
        let by = Point::default() - grid.corner(index);
        window.lines.iter_mut().for_each(|l| l.shape = l.shape.moved(by));
        window.crosses.iter_mut().for_each(|c| *c = c.translated(by));
        window.new.iter_mut().for_each(|at| *at = *at + by);
    }
    windows
}

struct Grid {
    across: Steps,
    up: Steps,
    bed: (f64, f64),
}

impl Grid {
    fn count(&self) -> usize {
        self.across.count() * self.up.count()
    }

    fn index(&self, column: usize, row: usize) -> usize {
        column * self.up.count() + row
    }

    fn window(&self, p: Point) -> usize {
        self.index(self.across.window(p.x), self.up.window(p.y))
    }

    fn corner(&self, index: usize) -> Point {
        Point::new(self.across.corner(index / self.up.count()), self.up.corner(index % self.up.count()))
    }

    /// What the bed reaches in a frame.
    fn bed_of(&self, index: usize) -> Bounds {
        let low = self.corner(index);
        Bounds { min: low, max: Point::new(low.x + self.bed.0, low.y + self.bed.1) }
    }

    /// A shape in parts, each with its frame.
    fn parted(&self, shape: &Shape, run_on: f64) -> Vec<(usize, Shape)> {
        match shape {
            Shape::Line(path) => self.parts(path, run_on).into_iter().map(|(i, p)| (i, Shape::Line(p))).collect(),
            Shape::Symbol(path) | Shape::Solid(path) => {
                let parts = self.parts(path, run_on);
                if let [(index, _)] = parts.as_slice() {
                    return vec![(*index, shape.clone())];
                }
                parts.into_iter().map(|(i, p)| (i, Shape::Symbol(p))).collect()
            }
            Shape::Circle { centre, radius } => {
                let parts = self.parts(&Path::circle(*centre, *radius), run_on);
                if let [(index, _)] = parts.as_slice() {
                    return vec![(*index, shape.clone())];
                }
                parts.into_iter().map(|(i, p)| (i, Shape::Symbol(p))).collect()
            }
            // Words are not parted: they stand in a frame that holds them whole, or nowhere.
            Shape::Words(words) => {
                let corners = words.corners();
                let middle = self.window(corners[0].lerp(corners[2], 0.5));
                let holds = |index: &usize| corners.iter().all(|c| self.bed_of(*index).holds(Bounds::of(*c)));
                let found = std::iter::once(middle).chain(0..self.count()).find(holds);
                found.map(|index| (index, shape.clone())).into_iter().collect()
            }
        }
    }

    /// A path parted at the borders, stretches that follow each other in one frame left together.
    fn parts(&self, path: &Path, run_on: f64) -> Vec<(usize, Path)> {
        let stops = self.stops(path);
        let (total, closed) = (path.length(), path.is_closed());
        let mut bounds: Vec<f64> = stops.iter().copied().filter(|s| closed || (*s > SLIVER && *s < total - SLIVER)).collect();
        if closed {
            match bounds.first().copied() {
                Some(first) => bounds.push(first + total),
                None => return vec![(self.window(path.point_at(total / 2.0)), path.clone())],
            }
        } else {
            bounds.insert(0, 0.0);
            bounds.push(total);
        }
        // A closed path goes on and on: three times round is enough to go past either end.
        let long = if closed { path.clone().then(path).then(path) } else { path.clone() };
        let before = if closed { total } else { 0.0 };
        let mut parts: Vec<(usize, f64, f64)> = Vec::new();
        for (from, to) in bounds.iter().zip(bounds.iter().skip(1)).filter(|(a, b)| *b - *a > SLIVER) {
            let window = self.window(long.point_at(before + f64::midpoint(*from, *to)));
            match parts.last_mut().filter(|(known, ..)| *known == window) {
                Some(last) => last.2 = *to,
                None => parts.push((window, *from, *to)),
            }
        }
        if let (true, Some(last)) = (closed && parts.len() > 1, parts.last().copied())
            && let Some(first) = parts.first_mut().filter(|first| first.0 == last.0)
        {
            first.1 = last.1 - total;
            parts.pop();
        }
        if let [(window, ..)] = parts.as_slice() {
            return vec![(*window, path.clone())];
        }
        let count = parts.len();
        let neighbour = |i: Option<usize>| i.and_then(|i| parts.get(i)).map(|p| p.0);
        let stretch = |(i, (window, from, to)): (usize, &(usize, f64, f64))| {
            let (last, next) = if closed { (Some((i + count - 1) % count), (i + 1) % count) } else { (i.checked_sub(1), i + 1) };
            let past = |other: Option<usize>| if neighbour(other).is_some_and(|o| o < *window) { run_on } else { 0.0 };
            (*window, long.subpath(before + from - past(last), before + to + past(Some(next))))
        };
        parts.iter().enumerate().map(stretch).collect()
    }

    /// Distances along a path where it meets a border.
    fn stops(&self, path: &Path) -> Vec<f64> {
        let around = path.bounds().grown(1.0);
        let upright = self.across.borders.iter().filter(|x| around.min.x < **x && **x < around.max.x);
        let level = self.up.borders.iter().filter(|y| around.min.y < **y && **y < around.max.y);
        let upright = upright.map(|x| Path::line(Point::new(*x, around.min.y), Point::new(*x, around.max.y)));
        let level = level.map(|y| Path::line(Point::new(around.min.x, *y), Point::new(around.max.x, *y)));
        let mut stops: Vec<f64> = upright.chain(level).flat_map(|border| meetings(path, &border)).map(|m| m.first).collect();
        stops.sort_by(f64::total_cmp);
        stops.dedup_by(|a, b| (*a - *b).abs() < SLIVER);
        stops
    }

    /// The crosses, each with the frames that it stands in: where the middles of two strips meet, and at their ends, beside the piece
    /// where the bed has room for that.
    fn crosses(&self, around: Bounds, arm: f64) -> Vec<(Point, Vec<usize>)> {
        let ends = |steps: &Steps, bed: f64, (from, to): (f64, f64)| {
            let out = CLEAR + arm;
            let high = steps.corner(steps.count() - 1) + bed;
            [(from - out).max(steps.corner(0) + arm), (to + out).min(high - arm)]
        };
        let [left, right] = ends(&self.across, self.bed.0, (around.min.x, around.max.x));
        let [low, high] = ends(&self.up, self.bed.1, (around.min.y, around.max.y));
        let mut places = Vec::new();
        for x in &self.across.middles {
            places.extend([low, high].iter().chain(&self.up.middles).map(|y| Point::new(*x, *y)));
        }
        for y in &self.up.middles {
            places.extend([left, right].map(|x| Point::new(x, *y)));
        }
        let sharers = |at: Point| (0..self.count()).filter(|index| self.bed_of(*index).holds(Bounds::of(at).grown(arm - SLIVER))).collect();
        places.into_iter().map(|at| (at, sharers(at))).collect()
    }
}

//! The split lines that would make pieces of a width that fits its cloth.

use crate::geometry::{FLATTEN, Path, Point, Vector};
use crate::ir::Piece;
use crate::quantity::{Length, Style, UnitSystem, format_length, push_decimal, said};

/// The end of a line may lie this far (mm) from the outline, and still cuts it.
const REACH: f64 = 0.5;

/// Places are rounded to these steps (mm), the first that fits: what is easily read off a tape, and last what can be typed.
const fn steps(style: Style) -> [f64; 3] {
    match style.system {
        UnitSystem::Metric => [10.0, 1.0, 0.1],
        UnitSystem::Inch => [25.4, 25.4 / 16.0, 0.0254],
    }
}

/// What rounding may add to a place, in steps.
const NOISE: f64 = 1e-6;

/// Lines along the warp, as they are written in the piece's panel, for so many pieces with allowances so wide; none where a
/// straight line does not cut the piece once, or it is no piece of a panel's own.
pub(super) fn lines(piece: &Piece, along: f64, usable: f64, of: (u32, f64)) -> Option<Vec<String>> {
    let (metric, inch) = (lines_in(Style::METRIC, piece, along, usable, of)?, lines_in(Style::INCH, piece, along, usable, of)?);
    let both =
        |(metric, inch): (String, String)| said(|style| if style.system == UnitSystem::Metric { metric.clone() } else { inch.clone() });
    Some(metric.into_iter().zip(inch).map(both).collect())
}

/// These lines in the units of one reader.
fn lines_in(style: Style, piece: &Piece, along: f64, usable: f64, (count, allowance): (u32, f64)) -> Option<Vec<String>> {
    // What a component brings goes by the name of its line, and can't be split.
    if piece.fold_line.is_some() || piece.name.contains('.') {
        return None;
    }
    // Upwards, so that what lies to its left comes first.
    let along = Vector::at_angle(along);
    let along = if along.y < -1e-9 || (along.y.abs() < 1e-9 && along.x < 0.0) { -along } else { along };
    let origin = Point::default();
    let extent = |points: &[Point], way: Vector| {
        let at = points.iter().map(|p| (*p - origin).dot(way));
        at.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
    };
    let start = piece.edges.first()?.path.start;
    let finished = Path { start, segments: piece.edges.iter().flat_map(|e| e.path.segments.iter().copied()).collect() };
    let (left, right) = extent(&piece.cut_line.flatten(FLATTEN), along.right());
    let (low, high) = extent(&finished.flatten(FLATTEN), along);
    let each = (right - left + 2.0 * allowance * f64::from(count - 1)) / f64::from(count);
    let exact = |i: u32| left + f64::from(i) * (each - 2.0 * allowance) + allowance;
    let places = steps(style).iter().find_map(|step| {
        let places: Vec<f64> = (1..count).map(|i| (exact(i) / step).round() * step).collect();
        let starts = std::iter::once(left).chain(places.iter().map(|x| x - allowance));
        let ends = places.iter().map(|x| x + allowance).chain([right]);
        starts.zip(ends).all(|(a, b)| b - a <= usable).then_some(places)
    })?;
    let [coarse, _, fine] = steps(style);
    // Past the outline by less than a step; by none where it ends on one, but for rounding.
    let (low, high) = ((low / coarse + NOISE).floor() * coarse, (high / coarse - NOISE).ceil() * coarse);
    let mut all = Vec::new();
    for (place, number) in places.iter().zip(1..) {
        let at = |far: f64| origin + along.right() * *place + along * far;
        finished.chord(at(low), at(high), REACH).ok()?;
        // Noise is rounded off, and adding nothing makes a plain zero of a negative one.
        let length = |mm: f64| typed((mm / fine).round() * fine + 0.0, style);
        let point = |p: Point| format!("({}, {})", length(p.x), length(p.y));
        all.push(line(&piece.name, piece.split_from.is_some(), number, count, &point(at(low)), &point(at(high))));
    }
    Some(all)
}

/// A place as it is typed: finer on an inch tape than its marks, which lie further apart than [`REACH`].
fn typed(mm: f64, style: Style) -> String {
    match style.system {
        UnitSystem::Metric => format_length(Length::mm(mm), style),
        UnitSystem::Inch => {
            let mut text = String::new();
            push_decimal(&mut text, mm / 25.4, 3);
            text + " in"
        }
    }
}

/// The line of one of several splits, each of which cuts what the one before it leaves.
fn line(piece: &str, again: bool, number: u32, count: u32, from: &str, to: &str) -> String {
    let rest = |n: u32| {
        if n + 1 == count {
            format!("{piece}_{count}")
        } else {
            format!("{piece}_rest{}", if n == 1 { String::new() } else { n.to_string() })
        }
    };
    let of = match number {
        1 if again => format!(" of {piece}"),
        1 => String::new(),
        n => format!(" of {}", rest(n - 1)),
    };
    let name = if again { format!("{piece}_join") } else { "join".to_owned() };
    let name = if count > 2 { format!("{name}_{number}") } else { name };
    format!("split {name}{of} from {from} to {to} as {piece}_{number}, {}", rest(number))
}

//! Tests of the room, against hand calculation and the golden values g1–g10
//! (each with its origin: `computed` elsewhere, or worked out beside the test).

mod crossings;
mod derived;
mod joins;
mod offsets;
mod paths;
mod rings;

use super::*;

/// Asserts that two numbers agree within a tolerance.
macro_rules! near {
    ($left:expr, $right:expr, $within:expr) => {{
        let (left, right): (f64, f64) = ($left, $right);
        assert!((left - right).abs() <= $within, "{} is {left}, not {right} within {}", stringify!($left), $within);
    }};
}
pub(crate) use near;

pub(crate) fn pt(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

pub(crate) fn rectangle(width: f64, height: f64) -> Path {
    Path::polygon(&[pt(0.0, 0.0), pt(width, 0.0), pt(width, height), pt(0.0, height)]).expect("four points")
}

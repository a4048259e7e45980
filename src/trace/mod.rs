//! Outlines traced elsewhere: from the text of an SVG or DXF drawing to one closed path whose edges have names.
//!
//! [`read`] finds the outline, in the drawing's own units: `svg` and `dxf` gather its lines, `chain` joins those that
//! follow each other, `pick` says which of the closed ones is meant and whether a piece can be cut to it. What a unit
//! is worth may depend on the size; so scaling, and giving names to the runs between corners, comes later and apart, in
//! [`Drawn::edges`].
//!
//! Inside, y runs up as everywhere in the house. In words a place stands as the drawing's own program shows it.

mod chain;
mod data;
mod dxf;
mod edges;
mod error;
mod pick;
mod scale;
mod shapes;
mod spline;
mod svg;

pub use edges::{End, Named};
pub use error::{CODES, TraceError};
pub use scale::{Stated, check as check_scale};

use crate::geometry::{Path, Point, Segment};
use crate::source::Span;

/// A drawing and which of its outlines is meant.
#[derive(Debug, Clone, PartialEq)]
pub struct Request {
    /// The file's name, and where it is named.
    pub file: (String, Span),
    /// In an SVG drawing, the id of the path, or of what it stands in.
    pub path: Option<(String, Span)>,
    /// In a DXF drawing, the block that the outline stands in.
    pub block: Option<(String, Span)>,
    /// In a DXF drawing, the layer of its lines.
    pub layer: Option<(String, Span)>,
    /// A place that it runs round, in the drawing's own units and directions.
    pub around: Option<((f64, f64), Span)>,
}

/// An outline as drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// Closed, counter-clockwise, in the drawing's units.
    path: Path,
    /// Whether y runs down in the drawing.
    down: bool,
    /// What the file says a unit is worth, mm.
    says: Option<f64>,
}

impl Drawn {
    /// The outline: closed, counter-clockwise, in the drawing's units, y up.
    #[must_use]
    pub const fn outline(&self) -> &Path {
        &self.path
    }

    /// What the drawing itself says a unit is worth, mm.
    #[must_use]
    pub const fn says(&self) -> Option<f64> {
        self.says
    }
}

/// How many straights, arcs and curves a drawing may hold: a thousand pieces of a hundred, all of them drawn finely.
const MOST_STROKES: usize = 400_000;

/// How many an outline may be made of: a hundred times what a tracing by hand has.
const MOST_IN_OUTLINE: usize = 20_000;

/// Farther from its origin than this nothing is drawn, whatever the unit.
const FARTHEST: f64 = 1e7;

/// Ends nearer to each other than this part of the drawing's size are one: a hundredth of a millimetre on half a metre.
const CLOSE: f64 = 2e-5;

/// Curves are held to their chords within this part of the drawing's size.
const FINE: f64 = 1e-5;

/// Finds the outline asked for.
///
/// # Errors
/// [`TraceError`] when the drawing can't be read, or holds no such outline, or one that no piece can be cut to.
pub fn read(request: &Request, bytes: &[u8]) -> Result<Drawn, TraceError> {
    let refused = |reason: String| TraceError::Unreadable { file: request.file.0.clone(), reason, span: request.file.1 };
    let decoded = utf16(bytes);
    let bytes = decoded.as_deref().map_or(bytes, str::as_bytes);
    let sheet = match bytes.iter().find(|b| !b.is_ascii_whitespace() && !matches!(b, 0xef | 0xbb | 0xbf)) {
        None => return Err(refused("it is empty".to_owned())),
        Some(b'<') => svg::sheet(request, bytes)?,
        Some(b'0'..=b'9') => dxf::sheet(request, bytes)?,
        Some(_) => return Err(refused("it is neither an SVG drawing nor a DXF in text form".to_owned())),
    };
    let strokes: usize = sheet.lines.iter().chain(&sheet.shapes).map(|l| l.path.segments.len()).sum();
    if strokes > MOST_STROKES {
        return Err(refused(format!("it holds {strokes} lines, and no more than {MOST_STROKES} are read")));
    }
    if sheet.lines.iter().chain(&sheet.shapes).any(|l| too_far(&l.path)) {
        return Err(refused(format!("a line in it reaches farther out than {FARTHEST} units, or to no place at all")));
    }
    let path = pick::outline(request, &sheet)?;
    Ok(Drawn { path, down: sheet.down, says: sheet.says })
}

/// A file of 16-bit characters as text: some programs save drawings so.
fn utf16(bytes: &[u8]) -> Option<String> {
    let (rest, little) = match bytes {
        [0xff, 0xfe, rest @ ..] => (rest, true),
        [0xfe, 0xff, rest @ ..] => (rest, false),
        [b'<', 0, ..] => (bytes, true),
        [0, b'<', ..] => (bytes, false),
        _ => return None,
    };
    let read = |pair| if little { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) };
    let units: Vec<u16> = rest.chunks_exact(2).filter_map(|pair| <[u8; 2]>::try_from(pair).ok()).map(read).collect();
    Some(String::from_utf16_lossy(&units))
}

/// Whether a line reaches farther out than anything is drawn; a figure that is no number does.
fn too_far(path: &Path) -> bool {
    let near = |p: Point| p.x.abs() <= FARTHEST && p.y.abs() <= FARTHEST;
    let held = path.segments.iter().all(|segment| match *segment {
        Segment::Line { end } => near(end),
        Segment::Arc { end, bulge } => near(end) && bulge.abs() <= FARTHEST,
        Segment::Cubic { leaving, arriving, end } => near(leaving) && near(arriving) && near(end),
    });
    if !(held && near(path.start)) {
        return true;
    }
    let bounds = path.bounds();
    !(near(bounds.min) && near(bounds.max))
}

/// What a drawing holds, as far as it was asked for.
#[derive(Debug, Default)]
struct Sheet {
    lines: Vec<Line>,
    /// Closed shapes that are as often marks as outlines: dots at corners, frames.
    shapes: Vec<Line>,
    down: bool,
    says: Option<f64>,
    /// What stands there that no outline is read from: `2 SPLINE`.
    passed_over: Vec<String>,
}

/// A line of a drawing.
#[derive(Debug, Clone, PartialEq)]
struct Line {
    path: Path,
    /// Whether the drawing closes it.
    closed: bool,
    /// What it goes by: an id, or the layer.
    label: String,
    /// Only lines of one group follow each other.
    group: String,
}

/// A place as the drawing's own program shows it.
fn place(p: Point, down: bool) -> String {
    let mut text = String::from("(");
    crate::quantity::push_decimal(&mut text, p.x, 3);
    text.push_str(", ");
    crate::quantity::push_decimal(&mut text, if down { -p.y } else { p.y }, 3);
    text.push(')');
    text
}

/// A measure of a drawing, in its units.
fn measure(value: f64) -> String {
    let mut text = String::new();
    crate::quantity::push_decimal(&mut text, value, if value < 0.1 { 6 } else { 3 });
    text
}

#[cfg(test)]
mod tests;

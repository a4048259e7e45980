//! Which sizes are drawn in one line, and which pieces they have.

use crate::export::drawing::{LARGEST, placed, shape};
use crate::geometry::{COINCIDENT, Path, Point, Segment};
use crate::ir::{Design, Piece, PieceId};
use std::collections::BTreeSet;

/// Lines that are told apart: past so many no eye follows them.
pub(super) const MOST: usize = 64;

/// Sizes of one design, those that are alike together.
pub(super) struct Family<'a> {
    /// Sizes by their line.
    pub(super) groups: Vec<Vec<&'a Design>>,
    /// Sizes for which there is no line left.
    pub(super) left_out: Vec<&'a Design>,
}

impl<'a> Family<'a> {
    pub(super) fn of(sizes: &[&'a Design]) -> Self {
        let mut family = Self { groups: Vec::new(), left_out: Vec::new() };
        for &design in sizes {
            let alike = |group: &&mut Vec<&Design>| group.first().is_some_and(|other| all_alike(other, design));
            if let Some(group) = family.groups.iter_mut().find(alike) {
                group.push(design);
            } else if family.groups.len() < MOST {
                family.groups.push(vec![design]);
            } else {
                family.left_out.push(design);
            }
        }
        family
    }

    /// A size of each line.
    pub(super) fn designs(&self) -> impl Iterator<Item = (usize, &'a Design)> + '_ {
        self.groups.iter().enumerate().filter_map(|(line, group)| group.first().map(|d| (line, *d)))
    }

    /// Names of all pieces.
    pub(super) fn pieces(&self) -> Vec<&'a str> {
        let mut seen = BTreeSet::new();
        self.designs().flat_map(|(_, d)| &d.pieces).map(|p| p.name.as_str()).filter(|n| seen.insert(*n)).collect()
    }

    /// A piece in each line that has it and can be drawn.
    pub(super) fn piece(&self, name: &str) -> Vec<(usize, &'a Design, &'a Piece)> {
        let find = |d: &'a Design| {
            let drawable = |(i, p): &(usize, &Piece)| shape::drawable(p, &placed::marks(d, PieceId::at(*i), p), LARGEST);
            d.pieces.iter().enumerate().find(|(_, p)| p.name == name).filter(drawable).map(|(_, p)| p)
        };
        self.designs().filter_map(|(line, d)| Some((line, d, find(d)?))).collect()
    }

    /// Short names of the sizes of a line.
    pub(super) fn names(&self, line: usize) -> Vec<String> {
        self.groups.get(line).into_iter().flatten().map(|d| name_of(d).to_owned()).collect()
    }
}

/// What a size is called where it is set.
pub(super) fn name_of(design: &Design) -> &str {
    design.size.as_deref().unwrap_or(&design.size_title)
}

fn all_alike(a: &Design, b: &Design) -> bool {
    let cut_alike = |(a, b): (&Piece, &Piece)| {
        let holes = a.holes.len() == b.holes.len() && a.holes.iter().zip(&b.holes).all(|(a, b)| same(&a.path, &b.path));
        let slit = |(a, b): (&crate::ir::Notch, &crate::ir::Notch)| near(a.point, b.point) && a.depth == b.depth && a.shape == b.shape;
        let notches = a.notches.len() == b.notches.len() && a.notches.iter().zip(&b.notches).all(slit);
        a.name == b.name && same(&a.cut_line, &b.cut_line) && holes && notches
    };
    a.pieces.len() == b.pieces.len() && a.pieces.iter().zip(&b.pieces).all(cut_alike)
}

fn near(a: Point, b: Point) -> bool {
    a.distance(b) <= COINCIDENT
}

/// Whether two paths run alike, but for rounding.
pub(super) fn same(a: &Path, b: &Path) -> bool {
    let alike = |(a, b): (&Segment, &Segment)| match (a, b) {
        (Segment::Line { end: a }, Segment::Line { end: b }) => near(*a, *b),
        (Segment::Arc { end: a, bulge: s }, Segment::Arc { end: b, bulge: t }) => near(*a, *b) && (s - t).abs() < 1e-9,
        (Segment::Cubic { leaving: a, arriving: b, end: c }, Segment::Cubic { leaving: d, arriving: e, end: f }) => {
            near(*a, *d) && near(*b, *e) && near(*c, *f)
        }
        _ => false,
    };
    near(a.start, b.start) && a.segments.len() == b.segments.len() && a.segments.iter().zip(&b.segments).all(alike)
}

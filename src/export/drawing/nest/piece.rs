//! One piece in all its sizes.

use super::common::{Common, EdgeStart};
use super::family::{Family, same};
use super::{shared, tags};
use crate::export::drawing::piece::Draft;
use crate::export::drawing::room::Slot;
use crate::export::drawing::{Drawing, Item, Layer, Shape, words};
use crate::geometry::{Path, Point, Vector};
use crate::ir::{Design, Piece, PieceId};
use crate::quantity::Style;

/// Whom an item belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Owner {
    /// Several sizes.
    Shared,
    /// One of the piece's lines, by its place in their list.
    Line(usize),
    /// The piece.
    Piece,
}

/// A piece drawn, in the panel space of its smallest size.
pub(super) struct Nested {
    pub(super) drawing: Drawing,
    pub(super) label: String,
    /// Lines and the sizes they stand for.
    pub(super) lines: Vec<(usize, Vec<String>)>,
    /// The owner of each item.
    pub(super) owners: Vec<Owner>,
}

/// A size of the piece, or sizes that are alike.
struct Size<'a> {
    line: usize,
    names: Vec<String>,
    design: &'a Design,
    piece: &'a Piece,
    /// By how much it is moved.
    by: Vector,
    cut: Path,
}

/// Draws a piece of a name; none when no size has it.
pub(super) fn draw(family: &Family<'_>, (index, name): (usize, &str), at: &[EdgeStart], style: Style) -> Option<Nested> {
    let found = family.piece(name);
    let common = Common::choose(found.first()?.2, at);
    let area = |p: &Piece| p.cut.area.as_mm2();
    let &(_, design, least) = found.iter().min_by(|a, b| area(a.2).total_cmp(&area(b.2)))?;
    let centre = common.on(least);
    let (all_lines, sizes) = (found.len(), laid(family, &found, &common, centre));
    let in_all = all_lines == family.groups.len() && family.left_out.is_empty();

    let mut base = least.clone();
    if found.iter().any(|(_, _, p)| differ(p, least)) {
        base.grain.angle = None;
    }
    let mut draft = Draft::new(design, &base, style);
    let mut owners = Vec::new();
    cut_lines(&mut draft, &mut owners, &sizes);
    let ring = draft.size * 0.35;
    draft.items.extend(ring_at(centre, ring));
    draft.room.take(Slot::new(centre, 0.0, ring * 3.0, ring * 3.0));
    draft.title(label(&sizes, in_all));
    owners.resize(draft.items.len(), Owner::Piece);
    if sizes.len() > 1 {
        let names: Vec<String> = sizes.iter().map(|s| listed(&s.names)).collect();
        tags::write(&mut draft, &mut owners, &names, centre);
    }
    let lines = sizes.iter().map(|s| (s.line, s.names.clone())).collect();
    Some(Nested { drawing: draft.done(PieceId::at(index)), label: least.label.clone(), lines, owners })
}

/// Sizes laid over one another, those alike taken together.
fn laid<'a>(family: &Family<'a>, found: &[(usize, &'a Design, &'a Piece)], common: &Common, centre: Point) -> Vec<Size<'a>> {
    let mut sizes: Vec<Size<'a>> = Vec::new();
    for &(line, design, piece) in found {
        let by = centre - common.on(piece);
        let cut = piece.notched().cut.translated(by);
        let names = family.names(line);
        match sizes.iter_mut().find(|s| same(&s.cut, &cut) && slits_alike(s.piece, piece)) {
            Some(alike) => alike.names.extend(names),
            None => sizes.push(Size { line, names, design, piece, by, cut }),
        }
    }
    sizes
}

fn slits_alike(a: &Piece, b: &Piece) -> bool {
    a.notches.len() == b.notches.len()
        && a.holes.len() == b.holes.len()
        && a.notches.iter().zip(&b.notches).all(|(a, b)| (a.at - b.at).as_mm().abs() < 1e-6)
        && a.holes.iter().zip(&b.holes).all(|(a, b)| same(&a.path, &b.path))
}

/// Whether the grain of two sizes runs differently.
fn differ(a: &Piece, b: &Piece) -> bool {
    let angle = |p: &Piece| p.grain.angle.map(|a| (a.as_radians() * 1e6).round());
    angle(a) != angle(b)
}

/// What is cut: of each size, and of several together.
fn cut_lines(draft: &mut Draft<'_>, owners: &mut Vec<Owner>, sizes: &[Size<'_>]) {
    let mut put = |draft: &mut Draft<'_>, owner: Owner, layer: Layer, shape: Shape| {
        draft.items.push(Item::new(layer, shape));
        owners.push(owner);
    };
    let alone = sizes.len() == 1;
    let cuts: Vec<Path> = sizes.iter().map(|s| s.cut.clone()).collect();
    for (index, (size, parts)) in sizes.iter().zip(shared::parts(&cuts)).enumerate() {
        let owner = if alone { Owner::Shared } else { Owner::Line(index) };
        draft.room.take_line(&size.cut);
        for path in parts.own {
            put(draft, owner, Layer::Cut, Shape::Line(path));
        }
        for path in parts.shared {
            put(draft, Owner::Shared, Layer::Cut, Shape::Line(path));
        }
        for hole in &size.piece.holes {
            let path = hole.path.translated(size.by);
            draft.room.take_line(&path);
            put(draft, owner, Layer::Hole, Shape::Line(path));
        }
        for line in size.piece.notched().others.iter().flat_map(|n| &n.lines) {
            // A slit is too short for dashes.
            put(draft, owner, Layer::Notch, Shape::Symbol(line.translated(size.by)));
        }
    }
}

/// The ring and cross at the common point; the legend shows it too.
pub(super) fn ring_at(centre: Point, radius: f64) -> Vec<Item> {
    let arm = |v: Vector| Item::new(Layer::Frame, Shape::Symbol(Path::line(centre - v, centre + v)));
    let ring = Item::new(Layer::Frame, Shape::Circle { centre, radius });
    vec![ring, arm(Vector::new(radius * 1.5, 0.0)), arm(Vector::new(0.0, radius * 1.5))]
}

/// The lines of the label: what all sizes have in common.
fn label(sizes: &[Size<'_>], in_all: bool) -> Vec<String> {
    let Some(first) = sizes.first() else { return Vec::new() };
    let same_in_all = |said: &dyn Fn(&Size<'_>) -> Option<String>| {
        let mut all = sizes.iter().map(said);
        let first = all.next().flatten();
        first.filter(|f| all.all(|other| other.as_ref() == Some(f)))
    };
    let mut lines = words::titles(first.piece);
    match (sizes, in_all) {
        ([_], true) => lines.push("alike in all sizes".to_owned()),
        (_, true) => {}
        _ => lines.push(format!("sizes: {}", listed(&sizes.iter().flat_map(|s| s.names.clone()).collect::<Vec<_>>()))),
    }
    lines.extend(same_in_all(&|s| Some(words::quantity(&s.piece.copies))));
    lines.extend(same_in_all(&|s| s.piece.fold_line.as_ref().map(|_| words::WHOLE.to_owned())));
    lines.extend(same_in_all(&|s| words::copies(&s.piece.copies)));
    lines.extend(same_in_all(&|s| s.design.material(s.piece.material).map(|m| format!("of {}", m.title))));
    lines.extend(same_in_all(&|s| s.piece.grain.angle.is_none().then(|| "grain: any way".to_owned())));
    lines.push("face up".to_owned());
    lines.iter().filter(|l| !l.trim().is_empty()).map(|l| words::clipped(l)).collect()
}

/// `short, regular, long and 7 more`
pub(super) fn listed(names: &[String]) -> String {
    const MOST: usize = 4;
    match names.get(..MOST) {
        Some(few) if names.len() > MOST + 1 => format!("{} and {} more", few.join(", "), names.len() - MOST),
        _ => names.join(", "),
    }
}

//! Marks for what is set on a piece: attachments, pieces sewn on its face, openings, quilting.
//! What the piece's own marks name already is not marked again.

use crate::geometry::{COINCIDENT, Path, Point};
use crate::ir::{Attachment, Design, Mark, MarkShape, Piece, PieceId, Place, Quilting, SeamForm, Stack, Text};
use crate::quantity::Length;
use crate::source::Span;
use std::collections::BTreeSet;

/// A stretch that stops this short of an edge's end (mm) still runs all along it.
const ALL_ALONG: f64 = 1.0;

/// All marks of a piece: its own, then these in the design's order.
pub(super) fn marks(design: &Design, id: PieceId, piece: &Piece) -> Vec<Mark> {
    let own: BTreeSet<&str> = piece.marks.iter().map(|m| m.name.as_str()).collect();
    let several: BTreeSet<&str> = design.attachments.iter().filter(|a| a.number > 1).map(|a| a.name.as_str()).collect();
    let attached = design.attachments.iter().filter(|a| a.piece == id);
    let attached = attached.filter_map(|a| attachment(piece, a, several.contains(a.name.as_str())));
    let placed = attached.chain(applied(design, id)).chain(openings(design, id, piece)).filter(|mark| !own.contains(mark.name.as_str()));
    let quilted = design.quilting.iter().filter(|q| !own.contains(q.name.as_str())).flat_map(|q| quilting(q, id));
    piece.marks.iter().cloned().chain(placed).chain(quilted).collect()
}

fn mark(name: &str, text: Text, copy: Option<u32>, shape: MarkShape, origin: Span) -> Mark {
    Mark { name: name.to_owned(), text, copies: copy.into_iter().collect(), shape, origin }
}

fn attachment(piece: &Piece, attachment: &Attachment, several: bool) -> Option<Mark> {
    let mut called = attachment.name.clone();
    if several {
        called = format!("{called} {}", attachment.number);
    }
    if let Some(pair) = &attachment.pair {
        called = format!("{called} {}", pair.half.replace('_', " "));
    }
    let called = Text::words(called);
    let (text, shape) = match &attachment.place {
        Place::Edge { edge, from, to, distance, from_end, stretch, .. } => {
            let path = &piece.edges.get(edge.index())?.path;
            let (from, to) = (from.as_mm(), to.as_mm());
            let middle = (from + to) / 2.0;
            let shape = MarkShape::OnEdge {
                edge: *edge,
                stretch: path.subpath(from, to),
                at: path.point_at(middle),
                inward: path.tangent_at(middle).left(),
                symbol: attachment.symbol,
            };
            let whole = *stretch && from <= ALL_ALONG && to >= path.length() - ALL_ALONG;
            (if whole { called.then(", all along") } else { measured(called, *stretch, to - from, *distance, from_end) }, shape)
        }
        Place::Corner { first, second, at } => {
            let (before, after) = (&piece.edges.get(first.index())?.path, &piece.edges.get(second.index())?.path);
            let inward = (after.tangent_at_start() - before.tangent_at_end()).unit();
            let inward = if inward.length() < COINCIDENT { after.tangent_at_start().left() } else { inward };
            // Between the two edges, and on a corner that points inward still into the cloth.
            let inward = if inward.dot(before.tangent_at_end().left()) < 0.0 { -inward } else { inward };
            (called, MarkShape::OnEdge { edge: *first, stretch: Path::new(*at), at: *at, inward, symbol: attachment.symbol })
        }
        Place::Point { at, .. } => (called, MarkShape::Point { at: *at }),
    };
    Some(mark(&attachment.name, text, attachment.copy, shape, attachment.origin))
}

/// `loops 2, 60 cm from head`; of a stretch `zip, 45 cm, from foot on`.
fn measured(called: Text, stretch: bool, long: f64, distance: Length, from_end: &str) -> Text {
    if !stretch {
        return called.then(", ").length(distance).then(format!(" from {from_end}"));
    }
    let text = called.then(", ").length(Length::mm(long));
    if distance.as_mm().abs() <= ALL_ALONG {
        return text.then(format!(", from {from_end} on"));
    }
    text.then(", ").length(distance).then(format!(" from {from_end}"))
}

/// The outline of each piece sewn on the face of this one.
fn applied(design: &Design, id: PieceId) -> impl Iterator<Item = Mark> + '_ {
    design.applied.iter().filter(move |a| a.onto == id).filter_map(|a| {
        let piece = design.piece(a.piece)?;
        let start = piece.edges.first()?.path.start;
        let outline = piece.edges.iter().fold(Path::new(start), |all, e| all.then(&e.path)).translated(a.at - Point::default());
        let text = Text::words(format!("{} here", piece.label));
        Some(mark(&piece.name, text, a.onto_copy, MarkShape::Line { path: outline }, a.origin))
    })
}

/// The stretch that a seam leaves open to turn the work through.
fn openings<'a>(design: &'a Design, id: PieceId, piece: &'a Piece) -> impl Iterator<Item = Mark> + 'a {
    design.seams.iter().filter_map(move |seam| {
        let SeamForm::Stack(Stack { opening: Some(opening), .. }) = &seam.form else { return None };
        let side = &opening.side;
        let edge = piece.edges.get(side.edge.index()).filter(|_| side.piece == id)?;
        let path = edge.path.subpath(side.from.as_mm(), side.to.as_mm());
        let text = Text::words("leave open, ").length(side.to - side.from);
        let text = text.then(", ").length(opening.distance).then(format!(" from {}", opening.from_end));
        Some(mark(&format!("opening of {}", seam.name), text, side.copy, MarkShape::Line { path }, opening.origin))
    })
}

/// Quilting lines and ties on the layer that carries them; the first of them alone is named.
fn quilting(quilting: &Quilting, id: PieceId) -> Vec<Mark> {
    let Some((_, copy)) = quilting.layers.first().filter(|(piece, _)| *piece == id) else { return Vec::new() };
    let lines = quilting.lines.iter().map(|path| MarkShape::Line { path: path.clone() });
    let shapes = lines.chain(quilting.ties.iter().map(|&at| MarkShape::Point { at }));
    let name = |i: usize| if i == 0 { quilting.name.as_str() } else { "" };
    shapes.enumerate().map(|(i, shape)| mark(name(i), Text::words(name(i)), *copy, shape, quilting.origin)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::sample::{self, Sample, finish};
    use crate::ir::{Applied, AttachmentId, EdgeId, MaterialKind, Pair};
    use crate::quantity::Style;

    /// A body 400 wide and 300 high, and a pocket of 120 by 90.
    fn body() -> (Sample, PieceId, PieceId) {
        let mut sample = Sample::new("bag", "Bag");
        let cloth = sample.material("cloth", MaterialKind::Cloth);
        let body = sample.rectangle("body", cloth, (400.0, 300.0), 10.0);
        let pocket = sample.rectangle("pocket", cloth, (120.0, 90.0), 10.0);
        (sample, body, pocket)
    }

    fn read(design: &Design, id: PieceId) -> Vec<(String, MarkShape)> {
        let piece = design.piece(id).expect("it is there");
        marks(design, id, piece).into_iter().map(|m| (m.text.worded(Style::default()), m.shape)).collect()
    }

    #[test]
    fn attachments_are_marked_where_they_lie() {
        let (mut sample, body, _) = body();
        // `right` runs up from the foot, `left` down from the head, `head` from right to left.
        let [right, head, left] = ["right", "head", "left"].map(|edge| sample.side(body, None, edge));
        sample.attach("loops", &right, (90.0, 110.0), false);
        sample.attach("loops", &right, (190.0, 210.0), false);
        let zip = sample.attach("zip", &left, (0.0, 200.0), true);
        sample.attachment(zip).pair = Some(Pair { half: "socket".into(), first: true, with: AttachmentId(0) });
        sample.attach("casing", &head, (0.0, 400.0), true);
        let found = read(&sample.design, body);
        let texts: Vec<&str> = found.iter().map(|(t, _)| t.as_str()).collect();
        assert_eq!(texts, ["loops 1, 10 cm from foot", "loops 2, 20 cm from foot", "zip socket, 20 cm, from head on", "casing, all along"]);
        let Some((_, MarkShape::OnEdge { at, inward, stretch, .. })) = found.first() else { panic!("{found:?}") };
        assert!(at.distance(Point::new(400.0, 100.0)) < 1e-9 && (inward.x + 1.0).abs() < 1e-9);
        assert!((stretch.length() - 20.0).abs() < 1e-9);
    }

    #[test]
    fn what_the_piece_marks_itself_is_not_marked_again() {
        let (mut sample, body, _) = body();
        let right = sample.side(body, None, "right");
        sample.attach("loops", &right, (90.0, 110.0), false);
        let shape = MarkShape::Point { at: Point::new(1.0, 1.0) };
        sample.piece_mut(body).marks.push(mark("loops", Text::words("here"), None, shape, Span::default()));
        assert_eq!(read(&sample.design, body).into_iter().map(|(t, _)| t).collect::<Vec<_>>(), ["here"]);
    }

    #[test]
    fn a_corner_points_between_its_edges() {
        let (mut sample, body, _) = body();
        let right = sample.side(body, None, "right");
        let tie = sample.attach("tie", &right, (0.0, 0.0), false);
        sample.attachment(tie).place = Place::Corner { first: EdgeId(0), second: EdgeId(1), at: Point::new(400.0, 0.0) };
        let found = read(&sample.design, body);
        let Some((_, MarkShape::OnEdge { inward, .. })) = found.first() else { panic!("{found:?}") };
        let half = std::f64::consts::FRAC_1_SQRT_2;
        assert!((inward.x + half).abs() < 1e-9 && (inward.y - half).abs() < 1e-9, "{inward:?}");
    }

    #[test]
    fn a_pocket_is_outlined_where_it_is_sewn() {
        let (mut sample, body, pocket) = body();
        let origin = sample.span();
        let finish = finish("edgestitch", 5.0, true, origin);
        let at = Point::new(140.0, 80.0);
        let edges = vec![EdgeId(0), EdgeId(1), EdgeId(3)];
        let sewn = Applied { piece: pocket, onto: body, onto_copy: None, at, edges, finish, length: Length::mm(300.0), origin };
        sample.design.applied = vec![sewn];
        let found = read(&sample.design, body);
        let Some((text, MarkShape::Line { path })) = found.first() else { panic!("{found:?}") };
        assert_eq!(text, "pocket here");
        let b = path.bounds();
        assert!(path.is_closed() && b.min.distance(at) < 1e-9 && b.max.distance(Point::new(260.0, 170.0)) < 1e-9, "{b:?}");
        assert!(read(&sample.design, pocket).is_empty());
    }

    #[test]
    fn the_opening_is_marked_on_its_layer() {
        let (quilt, ids) = sample::quilt();
        let found = read(&quilt.design, ids.shell);
        let open: Vec<_> = found.iter().filter(|(text, _)| text.starts_with("leave open")).collect();
        let [(text, MarkShape::Line { path })] = open.as_slice() else { panic!("{found:?}") };
        assert_eq!(text, "leave open, 30 cm, 80 cm from foot");
        assert!((path.length() - 300.0).abs() < 1e-6);
    }
}

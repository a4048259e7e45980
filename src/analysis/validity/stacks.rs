//! Layers laid on each other and sewn round.
//!
//! Turning a sewn stack through an opening between two layers brings the sides next to the opening
//! outside: the upper side of the layer below it and the lower side of the layer above it.

use super::error::{AllowanceError, CaughtError, LengthError, Measured, PieceError, StackError};
use super::naming::{attachment as named, edge as edge_name, layer as layer_name};
use super::symmetry::{is_same, is_symmetric};
use crate::diagnostic::Problems;
use crate::ir::Lay;
use crate::ir::{Attachment, Design, Edge, EdgeId, Layer, Material, MaterialKind, Opening, Place, Pointing, Seam, Side, Stack, Symbol};
use crate::quantity::Length;

/// Checks every stack but for its opening's own measures.
pub(super) fn check(design: &Design, lays: &[Lay], problems: &mut Problems) {
    for lay in lays {
        let (seam, stack) = (lay.seam, lay.stack);
        if stack.layers.len() < 2 {
            problems.push(StackError::TooFew { seam: seam.name.clone(), count: stack.layers.len(), at: seam.origin });
            continue;
        }
        let twisted = mirrored_pairs(design, seam, stack, problems);
        if !twisted {
            lengths(design, seam, stack, lay, problems);
            wrong_way_round(design, seam, stack, problems);
        }
        allowances(design, seam, stack, lay, problems);
        match &stack.opening {
            Some(opening) => {
                if let Some(lower) = neighbours(design, seam, stack, opening, problems) {
                    outside(design, seam, stack, (opening, lower), problems);
                    for attachment in &design.attachments {
                        ends_inside(seam, (lay, lower), attachment, problems);
                    }
                }
            }
            None => unturned(design, seam, stack, problems),
        }
        raw_edges(design, seam, stack, lay, problems);
    }
}

fn material<'d>(design: &'d Design, layer: &Layer) -> Option<&'d Material> {
    design.piece(layer.piece).and_then(|p| design.material(p.material))
}

fn is_batting(design: &Design, layer: &Layer) -> bool {
    material(design, layer).is_some_and(|m| m.kind == MaterialKind::Batting)
}

fn has_face(design: &Design, layer: &Layer) -> bool {
    material(design, layer).is_some_and(|m| m.one_sided)
}

/// Index of the lower of the two layers that the opening lies between, when they are neighbours.
fn neighbours(design: &Design, seam: &Seam, stack: &Stack, opening: &Opening, problems: &mut Problems) -> Option<usize> {
    let (low, high) = (opening.between.0.min(opening.between.1) as usize, opening.between.0.max(opening.between.1) as usize);
    let (first, second) = (stack.layers.get(low)?, stack.layers.get(high)?);
    if high == low + 1 {
        return Some(low);
    }
    let between = stack.layers.iter().take(high).skip(low + 1).map(|l| layer_name(design, l)).collect();
    problems.push(StackError::NotNeighbours {
        seam: seam.name.clone(),
        first: layer_name(design, first),
        second: layer_name(design, second),
        between,
        at: opening.origin,
    });
    None
}

fn outside(design: &Design, seam: &Seam, stack: &Stack, (opening, lower): (&Opening, usize), problems: &mut Problems) {
    let pair = stack.layers.get(lower).into_iter().map(|l| (l, true)).chain(stack.layers.get(lower + 1).map(|l| (l, false)));
    for (layer, face_must_be_up) in pair {
        let (seam, name) = (seam.name.clone(), layer_name(design, layer));
        if is_batting(design, layer) {
            let instead = two_cloths(design, stack);
            let (at, opening_at) = (layer.origin, opening.origin);
            problems.push(StackError::BattingOutside { seam, layer: name, instead, at, opening_at });
        } else if has_face(design, layer) && layer.face_up == Some(!face_must_be_up) {
            let (now, turned) = if face_must_be_up { ("down", "up") } else { ("up", "down") };
            let (at, opening_at) = (layer.origin, opening.origin);
            problems.push(StackError::BackOutside { seam, layer: name, now, turned, at, opening_at });
        }
    }
}

/// Two neighbouring layers of cloth, between which an opening would turn the batting in.
fn two_cloths(design: &Design, stack: &Stack) -> Option<[String; 2]> {
    let pair = stack.layers.windows(2).find(|w| w.iter().all(|l| !is_batting(design, l)))?;
    match pair {
        [a, b] => Some([layer_name(design, a), layer_name(design, b)]),
        _ => None,
    }
}

/// Sewn all round and never turned, what lies outermost stays outside.
fn unturned(design: &Design, seam: &Seam, stack: &Stack, problems: &mut Problems) {
    if !stack.around {
        return;
    }
    let ends = stack.layers.first().map(|l| (l, false)).into_iter().chain(stack.layers.last().map(|l| (l, true)));
    for (layer, up) in ends {
        let name = layer_name(design, layer);
        let inside = if is_batting(design, layer) {
            format!("its batting, `{name}`, outside")
        } else if has_face(design, layer) && layer.face_up == Some(!up) {
            format!("the face of `{name}` inside")
        } else {
            continue;
        };
        problems.push(StackError::NoOpening { seam: seam.name.clone(), inside, at: seam.origin, layer_at: layer.origin });
        return;
    }
}

/// The layers of cloth with their edge along each named edge of the stack.
fn cloth_edges<'d>(design: &'d Design, stack: &'d Stack, lay: &Lay, name: &str) -> Vec<(&'d Layer, Option<(EdgeId, &'d Edge)>)> {
    let cloths = stack.layers.iter().filter(|l| !is_batting(design, l));
    cloths.map(|l| (l, lay.edge(l, name).and_then(|id| design.edge(l.piece, id).map(|e| (id, e))))).collect()
}

fn lengths(design: &Design, seam: &Seam, stack: &Stack, lay: &Lay, problems: &mut Problems) {
    for name in &stack.edges {
        let edges = cloth_edges(design, stack, lay, name);
        let mut found = edges.iter().filter_map(|(l, e)| e.map(|(id, e)| (l, id, e)));
        let Some((first_layer, first_id, first)) = found.next() else { continue };
        if let Some((lacking, _)) = edges.iter().find(|(_, e)| e.is_none()) {
            problems.push(LengthError::LayerLacks {
                seam: seam.name.clone(),
                edge: name.clone(),
                layer: layer_name(design, lacking),
                at: seam.origin,
                layer_at: lacking.origin,
            });
        }
        let Some((layer, id, edge)) = found.find(|(_, _, e)| !e.sewn_length.is_same(first.sewn_length)) else { continue };
        let measured = |l: &Layer, id: EdgeId, e: &Edge| Measured {
            name: format!("`{}`", edge_name(design, l.piece, l.copy, id)),
            length: e.sewn_length,
            at: e.origin,
        };
        let (a, b) = (measured(first_layer, first_id, first), measured(layer, id, edge));
        let (long, short) = if a.length < b.length { (b, a) } else { (a, b) };
        problems.push(LengthError::LayersDiffer { seam: seam.name.clone(), long, short, at: seam.origin });
    }
}

fn allowances(design: &Design, seam: &Seam, stack: &Stack, lay: &Lay, problems: &mut Problems) {
    let mut told = false;
    for name in &stack.edges {
        let edges: Vec<_> = cloth_edges(design, stack, lay, name).into_iter().filter_map(|(l, e)| e.map(|(id, e)| (l, id, e))).collect();
        let name_of = |l: &Layer, id| edge_name(design, l.piece, l.copy, id);
        if let Some(finish) = seam.finish.as_ref().filter(|_| !told)
            && let Some((layer, id, edge)) =
                edges.iter().find(|(_, _, e)| e.allowance.as_mm() + Length::SAME.as_mm() < finish.needs.as_mm())
        {
            told = true;
            problems.push(AllowanceError::TooNarrow {
                finish: finish.name.clone(),
                seam: seam.name.clone(),
                needs: finish.needs,
                edge: name_of(layer, *id),
                allowance: edge.allowance,
                at: finish.origin,
                edge_at: edge.origin,
            });
        }
        let Some((first_layer, first_id, first)) = edges.first() else { continue };
        if let Some((layer, id, edge)) = edges.iter().find(|(_, _, e)| !e.allowance.is_same(first.allowance)) {
            problems.push(AllowanceError::Differ {
                seam: seam.name.clone(),
                first: (name_of(first_layer, *first_id), first.allowance),
                second: (name_of(layer, *id), edge.allowance),
                at: seam.origin,
                edges_at: [first.origin, edge.origin],
            });
        }
    }
}

/// Whether two layers are copies cut alike that lie as a left and a right and are no mirror image of themselves.
fn mirrored_pairs(design: &Design, seam: &Seam, stack: &Stack, problems: &mut Problems) -> bool {
    for (i, a) in stack.layers.iter().enumerate() {
        for b in stack.layers.iter().skip(i + 1).filter(|b| b.piece == a.piece) {
            let Some(piece) = design.piece(a.piece) else { continue };
            let opposed = matches!((a.face_up, b.face_up), (Some(x), Some(y)) if x != y);
            let same_way = matches!((a.face_up, b.face_up), (Some(x), Some(y)) if x == y);
            let alike = piece.is_mirrored(a.copy) == piece.is_mirrored(b.copy);
            if (opposed && alike && has_face(design, a) || same_way && !alike) && !is_symmetric(piece) {
                problems.push(PieceError::NeedsMirrored {
                    piece: piece.name.clone(),
                    first: layer_name(design, a),
                    second: layer_name(design, b),
                    seam: seam.name.clone(),
                    alike,
                    at: piece.origin,
                    seam_at: seam.origin,
                });
                return true;
            }
        }
    }
    false
}

/// Whether layers of two panels that have one outline lie as a left and a right, and neither can be laid the other side up.
fn wrong_way_round(design: &Design, seam: &Seam, stack: &Stack, problems: &mut Problems) {
    for (i, a) in stack.layers.iter().enumerate() {
        for b in stack.layers.iter().skip(i + 1).filter(|b| b.piece != a.piece && has_face(design, a) && has_face(design, b)) {
            let (Some(one), Some(other), Some(up), Some(other_up)) = (design.piece(a.piece), design.piece(b.piece), a.face_up, b.face_up)
            else {
                continue;
            };
            let turned = (up != other_up) != (one.is_mirrored(a.copy) != other.is_mirrored(b.copy));
            if turned && is_same(one, other) && !is_symmetric(one) {
                problems.push(PieceError::WrongWayRound {
                    edge: layer_name(design, b),
                    on: layer_name(design, a),
                    seam: seam.name.clone(),
                    several: other.copies.len() > 1,
                    at: other.origin,
                    seam_at: seam.origin,
                });
                return;
            }
        }
    }
}

/// Warns of what is set to stick out and ends inside a turned stack.
fn ends_inside(seam: &Seam, (lay, lower): (&Lay, usize), attachment: &Attachment, problems: &mut Problems) {
    let Place::Edge { edge, .. } = &attachment.place else { return };
    let Some((index, layer)) = lay.layer_of(attachment.piece, attachment.copy).filter(|(l, _)| lay.sews(*l, *edge)) else { return };
    if attachment.catches.as_mm() <= 0.0 {
        return;
    }
    let face_up = layer.face_up;
    let on_top = match attachment.side {
        Side::Face => face_up,
        Side::Back => face_up.map(|up| !up),
        Side::Either => None,
    };
    // The side of its layer that lies next to the opening.
    let gap_is_above = index == lower;
    let next_to_opening = index == lower || index == lower + 1;
    let in_gap = next_to_opening && on_top.is_none_or(|top| top == gap_is_above);
    let (what, seam_name, at, seam_at) = (named(attachment), seam.name.clone(), attachment.origin, seam.origin);
    // Elastic and tape may well be meant for the inside; a loop, a tab or a zipper never is.
    let sticks_out = attachment.symbol == Symbol::Bar || attachment.pair.is_some();
    if in_gap && attachment.points == Pointing::Out {
        problems.push(CaughtError::PointsOut { what, seam: seam_name, at, seam_at });
    } else if !in_gap && attachment.points == Pointing::In && sticks_out {
        let side = if attachment.side == Side::Back { "back" } else { "face" };
        problems.push(CaughtError::WrongSide { what, seam: seam_name, side, at, seam_at });
    }
}

/// Raw edges that stay in view: round a stack that is never turned, or inside one turned through an edge left open.
fn raw_edges(design: &Design, seam: &Seam, stack: &Stack, lay: &Lay, problems: &mut Problems) {
    let lined = stack.layers.len() > 2 || stack.layers.iter().any(|l| is_batting(design, l));
    let hidden = stack.opening.is_some() || !stack.around && lined;
    if hidden || seam.finish.is_some() {
        return;
    }
    let covered = |layer: &Layer, id: EdgeId, edge: &Edge| {
        let by_itself = edge.raw_because.is_some() || edge.finish.as_ref().is_some_and(|f| f.encloses);
        let along = |a: &Attachment| matches!(&a.place, Place::Edge { edge, stretch: true, .. } if *edge == id) && a.depth.as_mm() > 0.0;
        by_itself || design.attachments.iter().any(|a| a.piece == layer.piece && a.copy == layer.copy && along(a))
    };
    let open = stack.edges.iter().any(|name| {
        let edges = cloth_edges(design, stack, lay, name);
        let mut found = edges.iter().filter_map(|(l, e)| e.map(|(id, e)| (*l, id, e))).peekable();
        found.peek().is_some() && !found.any(|(l, id, e)| covered(l, id, e))
    });
    if open {
        problems.push(AllowanceError::Exposed { seam: seam.name.clone(), at: seam.origin });
    }
}

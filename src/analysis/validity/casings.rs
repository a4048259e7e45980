//! Cords that run in a casing: that their edge has one, and that it is wide enough.

use super::error::CasingError;
use super::naming::{attachment as named, shared};
use super::places::{OnEdge, on_edges};
use crate::diagnostic::Problems;
use crate::ir::{Design, MaterialKind};
use crate::quantity::Length;
use std::f64::consts::PI;

/// Room for a cord to slide, beside the half of its own girth that it flattens a casing to, mm. Trade habit.
const TO_SLIDE: f64 = 3.0;

/// Measures closer than this are the same to who sews, mm.
const SAME: f64 = 0.5;

/// Checks everything that needs a casing.
pub(super) fn check(design: &Design, problems: &mut Problems) {
    let all = on_edges(design);
    for one in all.iter().filter(|o| o.attachment.needs_casing) {
        let (what, edge, at, edge_at) = (named(one.attachment), one.edge_name(design), one.attachment.origin, one.edge.origin);
        match (casing(design, &all, one), narrowest(design, one)) {
            (None, _) => problems.push(CasingError::None { what, edge, at, edge_at }),
            (Some((width, casing_at)), Some(needs)) if width.as_mm() + SAME < needs.as_mm() => {
                problems.push(CasingError::Narrow { what, edge, width, needs, at, casing_at });
            }
            _ => {}
        }
    }
}

/// How wide a casing must lie flat for the cord that a thing uses.
fn narrowest(design: &Design, one: &OnEdge) -> Option<Length> {
    let cords = one.attachment.uses.iter().filter_map(|u| design.material(u.material)).filter(|m| m.kind == MaterialKind::Cord);
    let across = cords.filter_map(|m| m.thickness).map(Length::as_mm).reduce(f64::max)?;
    Some(Length::mm(PI * across / 2.0 + TO_SLIDE))
}

/// The casing that an edge has, how wide and where it is asked for: its hem up to the stitching, or a strip of cloth along it.
fn casing(design: &Design, all: &[OnEdge], one: &OnEdge) -> Option<(Length, crate::source::Span)> {
    let hem = one.edge.finish.as_ref().filter(|f| f.folds.iter().any(|fold| fold.as_mm() > 0.0));
    if let Some(hem) = hem {
        return Some((hem.stitch_at, hem.origin));
    }
    let (a, key) = (one.attachment, |o: &OnEdge| (o.attachment.piece, o.attachment.copy, o.id));
    let strips = all.iter().filter(|o| key(o) == key(one) && o.attachment.name != a.name && shared(o.stretch, one.stretch) > 0.0);
    let strip = strips.into_iter().find(|o| {
        let brings = format!("{}.", o.attachment.name);
        o.attachment.depth.as_mm() > 0.0 && design.pieces.iter().any(|p| p.name.starts_with(&brings))
    })?;
    Some((strip.attachment.depth, strip.attachment.origin))
}

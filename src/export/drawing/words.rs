//! What is written on and beside a piece.

use crate::ir::{Copy, Design, Edge, EdgePart, Mark, Piece};
use crate::quantity::{Style, format_length};

/// `cut 2: 1 as drawn, 1 mirrored`
pub(crate) fn quantity(copies: &[Copy]) -> String {
    let mirrored = copies.iter().filter(|c| c.mirrored).count();
    match (copies.len(), mirrored) {
        (all, 0) => format!("cut {all}"),
        (all, m) if m == all => format!("cut {all}, mirrored"),
        (all, m) => format!("cut {all}: {} as drawn, {m} mirrored", all - m),
    }
}

/// Said of a piece cut on the fold where all of it is drawn.
pub(super) const WHOLE: &str = "cut on the fold, drawn whole";

/// `left, right (mirrored)`: the names of the copies, when they have any.
pub(crate) fn copies(copies: &[Copy]) -> Option<String> {
    let mixed = copies.iter().any(|c| c.mirrored) && copies.iter().any(|c| !c.mirrored);
    let named: Vec<String> = copies
        .iter()
        .filter_map(|c| c.name.as_ref().map(|n| if mixed && c.mirrored { format!("{n} (mirrored)") } else { n.clone() }))
        .collect();
    (!named.is_empty()).then(|| named.join(", "))
}

/// A piece's label, and its name where that says more.
pub(super) fn titles(piece: &Piece) -> Vec<String> {
    let name = Some(piece.name.clone()).filter(|_| plain(&piece.label) != plain(&piece.name));
    std::iter::once(piece.label.clone()).chain(name).collect()
}

/// The lines of a piece's label, the title first.
pub(super) fn block(design: &Design, piece: &Piece, style: Style) -> Vec<String> {
    let mut lines = titles(piece);
    lines.push(format!("size: {}", design.size_title));
    lines.push(quantity(&piece.copies));
    lines.extend(piece.fold_line.as_ref().map(|_| WHOLE.to_owned()));
    lines.extend(copies(&piece.copies));
    if let Some(material) = design.material(piece.material) {
        lines.push(format!("of {}", material.title));
        if material.laser == Some(false) {
            lines.push("not for the laser".to_owned());
        }
    }
    if let Some(allowance) = shared_allowance(piece) {
        lines.push(if allowance == 0.0 {
            "no allowance".to_owned()
        } else {
            format!("allowance {} all round", format_length(crate::quantity::Length::mm(allowance), style))
        });
    }
    if piece.grain.angle.is_none() {
        lines.push("grain: any way".to_owned());
    }
    lines.push("face up".to_owned());
    lines.iter().filter(|l| !l.trim().is_empty()).map(|l| clipped(l)).collect()
}

/// The allowance that all edges share, if they do.
pub(super) fn shared_allowance(piece: &Piece) -> Option<f64> {
    let first = piece.edges.first()?.allowance.as_mm();
    piece.edges.iter().all(|e| (e.allowance.as_mm() - first).abs() < 0.05).then_some(first)
}

/// What is written along an edge, the fullest wording first.
pub(super) fn edge(piece: &Piece, edge: &Edge, style: Style) -> Vec<String> {
    let plain = format!("{} {}", clipped(&edge.name), format_length(edge.length, style));
    if shared_allowance(piece).is_some() {
        return vec![plain];
    }
    vec![format!("{plain}, allowance {}", format_length(edge.allowance, style)), plain]
}

/// The parts of an edge that has several, and what is written along each.
pub(super) fn parts(edge: &Edge, style: Style) -> Vec<(&EdgePart, String)> {
    if edge.parts.len() < 2 {
        return Vec::new();
    }
    edge.parts.iter().map(|p| (p, format!("{} {}", p.name.replace('_', " "), format_length(p.to - p.from, style)))).collect()
}

/// What is written beside a mark: its text, and the copies it is on when it is not on all.
pub(crate) fn mark(piece: &Piece, mark: &Mark, style: Style) -> String {
    let on = &mark.copies;
    let text = mark.text.worded(style);
    let text = clipped(if text.trim().is_empty() { &mark.name } else { &text });
    let named: Vec<&str> = on.iter().filter_map(|&c| piece.copies.get(c as usize)).filter_map(|c| c.name.as_deref()).collect();
    let some_only = !on.is_empty() && on.len() < piece.copies.len();
    if some_only && !named.is_empty() { format!("{text} ({})", named.join(", ")) } else { text }
}

/// A text cut off where no piece could hold it.
pub(super) fn clipped(text: &str) -> String {
    const MOST: usize = 90;
    if text.chars().count() <= MOST { text.to_owned() } else { text.chars().take(MOST).chain(['…']).collect() }
}

/// A name without what does not tell names apart: capitals and signs.
pub(super) fn plain(name: &str) -> String {
    name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect::<String>().trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn copy(name: &str, mirrored: bool) -> Copy {
        Copy { name: Some(name.to_owned()), mirrored }
    }

    #[test]
    fn quantities_say_what_is_mirrored() {
        assert_eq!(quantity(&[copy("a", false)]), "cut 1");
        assert_eq!(quantity(&[copy("a", false), copy("b", false)]), "cut 2");
        assert_eq!(quantity(&[copy("a", false), copy("b", true), copy("c", true)]), "cut 3: 1 as drawn, 2 mirrored");
        assert_eq!(quantity(&[copy("a", true)]), "cut 1, mirrored");
    }

    #[test]
    fn copies_are_named_and_told_apart() {
        assert_eq!(copies(&[copy("outer", false), copy("inner", false)]).as_deref(), Some("outer, inner"));
        assert_eq!(copies(&[copy("left", false), copy("right", true)]).as_deref(), Some("left, right (mirrored)"));
        assert_eq!(copies(&[Copy { name: None, mirrored: false }]), None);
    }
}

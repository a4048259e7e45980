//! All sizes of each piece in one drawing.

use super::shapes::shapes;
use super::style::{self, LineStyle};
use super::{CLOSED, Drawn, dashes, layers, number, opened, push_title};
use crate::export::drawing::{self, EdgeStart, Item, NestedPiece, Shape, SizeLine};
use crate::ir::Design;
use crate::quantity::Style;

/// How to draw.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NestedOptions {
    /// How measures are worded.
    pub style: Style,
    /// Edges at whose starts sizes are laid over one another, instead of at their lower left corners.
    pub at: Vec<EdgeStart>,
}

/// Every piece of a design in all these sizes.
#[must_use]
pub fn nested(sizes: &[&Design], options: &NestedOptions) -> String {
    let nest = drawing::nest(sizes, &options.at, options.style);
    let on = Drawn { height: nest.height, pen: nest.pen };
    let title = sizes.first().map_or_else(String::new, |d| format!("{}, all sizes", d.title));
    let mut text = opened(&title, "One unit is one millimetre. Lines are cut lines.", (nest.width, nest.height));
    for piece in &nest.pieces {
        piece_group(&mut text, piece, on);
    }
    text.push_str("<g id=\"sheet\">\n");
    layers(&mut text, "sheet", &nest.furniture, on);
    for (line, item) in &nest.samples {
        text.push_str("<g");
        sized(&mut text, *line, std::slice::from_ref(item), on);
    }
    text.push_str("</g>\n");
    text.push_str(CLOSED);
    text
}

fn piece_group(text: &mut String, piece: &NestedPiece, on: Drawn) {
    text.extend(["<g class=\"piece\" id=\"", &piece.id, "\">\n"]);
    push_title(text, &piece.label);
    if !piece.shared.is_empty() {
        text.push_str("<g class=\"shared\">\n");
        layers(text, &format!("{}-shared", piece.id), &piece.shared, on);
        text.push_str("</g>\n");
    }
    for (index, SizeLine { line, sizes, items }) in piece.lines.iter().enumerate() {
        if !items.is_empty() {
            let number = (index + 1).to_string();
            text.extend(["<g class=\"size\" id=\"", &piece.id, "-size-", &number, "\">\n"]);
            push_title(text, &sizes.join(", "));
            text.push_str("<g");
            sized(text, *line, items, on);
            text.push_str("</g>\n");
        }
    }
    text.push_str("<g class=\"all\">\n");
    layers(text, &format!("{}-all", piece.id), &piece.items, on);
    text.push_str("</g>\n</g>\n");
}

/// The rest of a group's tag, and items in the line of a size: dashed lines, then what is unbroken, in groups of their own.
fn sized(text: &mut String, line: usize, items: &[Item], on: Drawn) {
    let style: LineStyle = style::of_size(line);
    let width = number(style.width * on.pen);
    text.extend([" fill=\"none\" stroke=\"", style.colour, "\" stroke-linejoin=\"round\" stroke-width=\"", &width, "\">\n"]);
    let (dashed, whole): (Vec<&Item>, Vec<&Item>) = items.iter().partition(|i| matches!(i.shape, Shape::Line(_)));
    if !dashed.is_empty() {
        text.extend(["<g stroke-dasharray=\"", &dashes(&style, on.pen), "\">\n"]);
        shapes(text, &dashed, &style, on.height);
        text.push_str("</g>\n");
    }
    shapes(text, &whole, &style, on.height);
    text.push_str("</g>\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::sample;
    use crate::geometry::Vector;

    #[test]
    fn each_size_is_a_group_in_its_line() {
        let (plain, mut wide) = (sample::quilt(), sample::quilt());
        wide.size = Some("w\"<i>de".into());
        for piece in &mut wide.pieces {
            piece.cut_line = piece.cut_line.translated(Vector::new(0.0, -40.0));
        }
        let text = nested(&[&plain, &wide], &NestedOptions::default());
        let ids: Vec<&str> = text.split("id=\"").skip(1).filter_map(|t| t.split('"').next()).collect();
        let mut unique = ids.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), ids.len(), "{ids:?}");
        assert!(ids.contains(&"piece-1-shell-size-2"), "{ids:?}");
        // The title of the second size's group, escaped.
        assert!(text.contains("w\"&lt;i&gt;de"), "names are text, and escaped");
        let group = text.split("id=\"piece-1-shell-size-2\"").nth(1).and_then(|t| t.split("</g>").next()).expect("the group");
        assert!(group.contains("stroke-dasharray"), "{group}");
        assert!(text.starts_with("<svg") && text.ends_with("</svg>\n"));
        assert_eq!(text, nested(&[&plain, &wide], &NestedOptions::default()));
    }
}

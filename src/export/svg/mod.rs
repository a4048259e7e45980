//! Pieces as SVG: true millimetres, one group a piece, in it one group a layer.
//!
//! The document and its groups are composed with the `svg` crate, which escapes text. It does not escape quotes in
//! attributes nor control characters anywhere, so attributes hold only names and numbers made here, and text is cleaned
//! first. What stands in a layer's group, thousands of shapes of three kinds, is written straight out by `shapes`.

mod number;
mod shapes;
mod style;

use crate::export::drawing::{Drawing, Item, Layer, Sheet};
use crate::ir::Design;
use number::number;
use shapes::shapes;
use style::LineStyle;
use svg::Document;
use svg::node::Blob;
use svg::node::element::{Description, Group, Rectangle, Title};

/// The order in which a piece's layers are painted: what is cut lies over what is sewn.
const PAINTED: [Layer; 9] =
    [Layer::Stitch, Layer::Fold, Layer::Hole, Layer::Notch, Layer::Cut, Layer::Mark, Layer::Grain, Layer::Text, Layer::Frame];

/// A sheet of a design as a file.
#[must_use]
pub fn write(design: &Design, sheet: &Sheet) -> String {
    let (width, height) = (number(sheet.width), number(sheet.height));
    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("font-family", "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif")
        .add(Title::new(clean(&format!("{}, {}", design.title, design.size_title))))
        .add(Description::new().add(svg::node::Text::new("One unit is one millimetre. The stitch line is the finished outline.")))
        .add(Rectangle::new().set("width", width).set("height", height).set("fill", "#ffffff"));
    for drawing in &sheet.drawings {
        document = document.add(piece_group(design, drawing, sheet));
    }
    let mut furniture = Group::new().set("id", "sheet");
    for layer in PAINTED {
        let items: Vec<&Item> = sheet.furniture.iter().filter(|i| i.layer == layer).collect();
        if let Some(group) = layer_group("sheet", layer, &items, sheet) {
            furniture = furniture.add(group);
        }
    }
    let mut text = document.add(furniture).to_string();
    text.push('\n');
    text
}

fn piece_group(design: &Design, drawing: &Drawing, sheet: &Sheet) -> Group {
    let label = design.piece(drawing.piece).map_or("", |p| p.label.as_str());
    let mut group = Group::new().set("id", drawing.id.as_str()).set("class", "piece").add(Title::new(clean(label)));
    for layer in PAINTED {
        let items: Vec<&Item> = drawing.items.iter().filter(|i| i.layer == layer).collect();
        if let Some(layer) = layer_group(&drawing.id, layer, &items, sheet) {
            group = group.add(layer);
        }
    }
    group
}

fn layer_group(owner: &str, layer: Layer, items: &[&Item], sheet: &Sheet) -> Option<Group> {
    if items.is_empty() {
        return None;
    }
    let style = style::of(layer);
    let mut group = Group::new()
        .set("id", format!("{owner}-{}", layer.name()))
        .set("class", layer.name())
        .set("fill", "none")
        .set("stroke", style.colour)
        .set("stroke-width", number(style.width * sheet.pen))
        .set("stroke-linejoin", "round");
    if !style.dashes.is_empty() {
        group = group.set("stroke-dasharray", dashes(&style, sheet.pen));
    }
    Some(group.add(Blob::new(shapes(items, &style, sheet.height))))
}

fn dashes(style: &LineStyle, pen: f64) -> String {
    style.dashes.iter().map(|d| number(d * pen)).collect::<Vec<_>>().join(" ")
}

/// Text that XML 1.0 may hold: spaces for control characters, without the two places that are no character.
fn clean(text: &str) -> String {
    text.chars().filter(|c| !matches!(c, '\u{fffe}' | '\u{ffff}')).map(|c| if c.is_control() { ' ' } else { c }).collect()
}

#[cfg(test)]
mod tests;

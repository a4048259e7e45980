//! Pieces as SVG: true millimetres, one group a piece, in it one group a layer.
//!
//! The document is composed with the `svg` crate, which escapes text. It does not escape quotes in attributes nor
//! control characters anywhere, so attributes hold only names and numbers made here, and text is cleaned first. The
//! groups, and in them thousands of shapes of three kinds, are written straight out.

mod nested;
mod number;
mod shapes;
mod style;

pub use nested::{NestedOptions, nested};

use crate::export::drawing::{Item, Layer, Sheet};
use crate::ir::Design;
use number::number;
use shapes::shapes;
use style::LineStyle;
use svg::Document;
use svg::node::Blob;
use svg::node::element::{Description, Rectangle, Title};

/// The order in which a piece's layers are painted: what is cut lies over what is sewn.
const PAINTED: [Layer; 9] =
    [Layer::Stitch, Layer::Fold, Layer::Hole, Layer::Notch, Layer::Cut, Layer::Mark, Layer::Grain, Layer::Text, Layer::Frame];

/// A sheet of a design as a file.
#[must_use]
pub fn write(design: &Design, sheet: &Sheet) -> String {
    let title = format!("{}, {}", design.title, design.size_title);
    let what = "One unit is one millimetre. The stitch line is the finished outline.";
    let on = Drawn { height: sheet.height, pen: sheet.pen };
    let mut groups = String::with_capacity(1 << 15);
    for drawing in &sheet.drawings {
        let label = design.piece(drawing.piece).map_or("", |p| p.label.as_str());
        groups.extend(["<g class=\"piece\" id=\"", &drawing.id, "\">\n", &Title::new(clean(label)).to_string(), "\n"]);
        layers(&mut groups, &drawing.id, &drawing.items, on);
        groups.push_str("</g>\n");
    }
    groups.push_str("<g id=\"sheet\">\n");
    layers(&mut groups, "sheet", &sheet.furniture, on);
    groups.push_str("</g>");
    document(&title, what, (sheet.width, sheet.height), groups)
}

/// What the writing of items needs to know of their sheet.
#[derive(Debug, Clone, Copy)]
struct Drawn {
    height: f64,
    pen: f64,
}

/// A white sheet with these groups on it.
fn document(title: &str, what: &str, (width, height): (f64, f64), groups: String) -> String {
    let (width, height) = (number(width), number(height));
    let document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("font-family", "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif")
        .add(Title::new(clean(title)))
        .add(Description::new().add(svg::node::Text::new(what)))
        .add(Rectangle::new().set("width", width).set("height", height).set("fill", "#ffffff"));
    let mut text = document.add(Blob::new(groups)).to_string();
    text.push('\n');
    text
}

/// Writes a group for each layer that holds something, in the order they are painted.
fn layers(text: &mut String, owner: &str, items: &[Item], on: Drawn) {
    for layer in PAINTED {
        let items: Vec<&Item> = items.iter().filter(|i| i.layer == layer).collect();
        if items.is_empty() {
            continue;
        }
        let style = style::of(layer);
        text.extend(["<g class=\"", layer.name(), "\" fill=\"none\" id=\"", owner, "-", layer.name(), "\" stroke=\"", style.colour, "\""]);
        if !style.dashes.is_empty() {
            text.extend([" stroke-dasharray=\"", &dashes(&style, on.pen), "\""]);
        }
        text.extend([" stroke-linejoin=\"round\" stroke-width=\"", &number(style.width * on.pen), "\">\n"]);
        shapes(text, &items, &style, on.height);
        text.push_str("</g>\n");
    }
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

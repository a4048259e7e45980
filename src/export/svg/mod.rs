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
use std::sync::LazyLock;
use style::LineStyle;
use svg::Document;
use svg::node::element::{Description, Rectangle, Title};

/// The order in which a piece's layers are painted: what is cut lies over what is sewn.
const PAINTED: [Layer; 9] =
    [Layer::Stitch, Layer::Fold, Layer::Hole, Layer::Notch, Layer::Cut, Layer::Mark, Layer::Grain, Layer::Text, Layer::Frame];

/// A sheet of a design as a file.
#[must_use]
pub fn write(design: &Design, sheet: &Sheet) -> String {
    let title = format!("{}, {}", design.title, design.size_title);
    let what = "One unit is one millimetre. Dashes show the finished outline.";
    let on = Drawn { height: sheet.height, pen: sheet.pen };
    let mut text = opened(&title, what, (sheet.width, sheet.height));
    for drawing in &sheet.drawings {
        text.extend(["<g class=\"piece\" id=\"", &drawing.id, "\">\n"]);
        push_title(&mut text, design.piece(drawing.piece).map_or("", |p| p.label.as_str()));
        layers(&mut text, &drawing.id, &drawing.items, on);
        text.push_str("</g>\n");
    }
    text.push_str("<g id=\"sheet\">\n");
    layers(&mut text, "sheet", &sheet.furniture, on);
    text.push_str("</g>\n");
    text.push_str(CLOSED);
    text
}

/// What the writing of items needs to know of their sheet.
#[derive(Debug, Clone, Copy)]
struct Drawn {
    height: f64,
    pen: f64,
}

/// What ends a document, on a line of its own.
const CLOSED: &str = "</svg>\n";

/// The beginning of a document, with names in brackets for what differs: a white sheet, for groups to be written on.
static OPENED: LazyLock<String> = LazyLock::new(|| {
    let document = Document::new()
        .set("width", "[width]mm")
        .set("height", "[height]mm")
        .set("viewBox", "0 0 [width] [height]")
        .set("font-family", "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif")
        .add(Title::new("[title]"))
        .add(Description::new().add(svg::node::Text::new("[what]")))
        .add(Rectangle::new().set("width", "[width]").set("height", "[height]").set("fill", "#ffffff"));
    let whole = document.to_string();
    whole.strip_suffix(CLOSED.trim_end()).unwrap_or(&whole).to_owned()
});

/// The beginning of a document of a size.
fn opened(title: &str, what: &str, (width, height): (f64, f64)) -> String {
    let (width, height) = (number(width), number(height));
    let mut text = String::with_capacity(1 << 15);
    for part in OPENED.split('[') {
        let (named, rest) = part.split_once(']').unwrap_or(("", part));
        match named {
            "width" => text.push_str(&width),
            "height" => text.push_str(&height),
            "title" => push_words(&mut text, title),
            "what" => push_words(&mut text, what),
            _ => {}
        }
        text.push_str(rest);
    }
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

/// Writes the text of an element.
fn push_words(text: &mut String, words: &str) {
    // The library escapes it; most words hold nothing to escape or to clean.
    match words.bytes().all(|b| matches!(b, b' '..=b'~') && !matches!(b, b'&' | b'<' | b'>')) {
        true => text.push_str(words),
        false => text.push_str(&svg::node::Text::new(clean(words)).to_string()),
    }
}

/// Writes the title of a group.
fn push_title(text: &mut String, words: &str) {
    text.push_str("<title>");
    push_words(text, words);
    text.push_str("</title>\n");
}

#[cfg(test)]
mod tests;

//! The shapes of one layer as elements, a line each.

use super::number::{number, push, push_data};
use super::push_words;
use super::style::LineStyle;
use crate::export::drawing::{Anchor, Item, Shape, Words};
use crate::geometry::{Path, Point};

/// Writes items in their order, on a sheet of a height: y runs down in the file.
pub(super) fn shapes(text: &mut String, items: &[&Item], style: &LineStyle, height: f64) {
    for item in items {
        match &item.shape {
            Shape::Line(path) => line(text, path, height, &[]),
            Shape::Symbol(path) => line(text, path, height, &[("stroke-dasharray", "none")]),
            Shape::Solid(path) => line(text, path, height, &[("fill", style.colour), ("stroke", "none")]),
            Shape::Circle { centre, radius } => circle(text, *centre, *radius, height),
            Shape::Words(set) => words(text, set, style, height),
        }
        text.push('\n');
    }
}

fn line(text: &mut String, path: &Path, height: f64, attributes: &[(&str, &str)]) {
    text.push_str("<path d=\"");
    push_data(text, path, height);
    text.push('"');
    for (name, value) in attributes {
        text.extend([" ", name, "=\"", value, "\""]);
    }
    text.push_str("/>");
}

fn circle(text: &mut String, centre: Point, radius: f64, height: f64) {
    text.push_str("<circle");
    for (name, value) in [("cx", centre.x), ("cy", height - centre.y), ("r", radius)] {
        text.extend([" ", name, "=\""]);
        push(text, value);
        text.push('"');
    }
    text.push_str(" stroke-dasharray=\"none\"/>");
}

fn words(text: &mut String, words: &Words, style: &LineStyle, height: f64) {
    let anchor = match words.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    text.extend(["<text fill=\"", style.colour, "\" font-size=\""]);
    push(text, words.size);
    text.push_str(if words.bold { "\" font-weight=\"bold" } else { "" });
    text.extend(["\" stroke=\"none\" text-anchor=\"", anchor, "\""]);
    let place = (words.at.x, height - words.at.y);
    let turned = if words.angle == 0.0 { String::new() } else { number(-words.angle.to_degrees()) };
    if !matches!(turned.as_str(), "" | "0") {
        text.extend([" transform=\"rotate(", &turned, " "]);
        push_both(text, place, " ");
        text.push_str(")\"");
    }
    text.push_str(" x=\"");
    push_both(text, place, "\" y=\"");
    text.push_str("\">");
    push_words(text, &words.text);
    text.push_str("</text>");
}

fn push_both(text: &mut String, (x, y): (f64, f64), between: &str) {
    push(text, x);
    text.push_str(between);
    push(text, y);
}

//! The shapes of SVG that are no paths: each as the path that the standard says it stands for (SVG 1.1, chapter 9).

use roxmltree::Node;
use svgtypes::{Length, LengthUnit};

/// Shapes that a path is made of.
pub(super) const SHAPES: &[&str] = &["rect", "circle", "ellipse", "line", "polyline", "polygon"];

/// The path data of a shape: nothing of one that draws nothing. An error says what of it can't be followed.
pub(super) fn data(shape: Node<'_, '_>) -> Result<String, String> {
    let figure = |name: &str| figure(shape, name);
    let or = |value: Option<f64>| value.unwrap_or(0.0);
    Ok(match shape.tag_name().name() {
        "rect" => {
            let (x, y) = (or(figure("x")?), or(figure("y")?));
            let (rx, ry) = (figure("rx")?, figure("ry")?);
            let (rx, ry) = (or(rx.or(ry)), or(ry.or(rx)));
            rect((x, y), (or(figure("width")?), or(figure("height")?)), (rx, ry))
        }
        "circle" => {
            let r = or(figure("r")?);
            oval((or(figure("cx")?), or(figure("cy")?)), (r, r))
        }
        "ellipse" => oval((or(figure("cx")?), or(figure("cy")?)), (or(figure("rx")?), or(figure("ry")?))),
        "line" => {
            let [x1, y1, x2, y2] = [figure("x1")?, figure("y1")?, figure("x2")?, figure("y2")?].map(or);
            format!("M{x1} {y1}L{x2} {y2}")
        }
        name => {
            let points = svgtypes::PointsParser::from(shape.attribute("points").unwrap_or(""));
            let mut text: Vec<String> = points.map(|(x, y)| format!("{x} {y}")).collect();
            if text.len() < 2 {
                text.clear();
            }
            let close = if name == "polygon" && !text.is_empty() { "Z" } else { "" };
            if text.is_empty() { String::new() } else { format!("M{}{close}", text.join("L")) }
        }
    })
}

/// A figure of a shape, in units of the drawing.
fn figure(shape: Node<'_, '_>, name: &str) -> Result<Option<f64>, String> {
    let Some(text) = shape.attribute(name).filter(|t| t.trim() != "auto") else { return Ok(None) };
    match text.parse::<Length>() {
        Ok(Length { number, unit: LengthUnit::None | LengthUnit::Px }) => Ok(Some(number)),
        _ => Err(format!("`{}` with {name}=\"{text}\"", shape.tag_name().name())),
    }
}

/// Clockwise from behind its first corner; one that has no area is nothing.
fn rect((x, y): (f64, f64), (width, height): (f64, f64), (rx, ry): (f64, f64)) -> String {
    if !(width > 0.0 && height > 0.0) {
        return String::new();
    }
    let (right, foot) = (x + width, y + height);
    let (rx, ry) = (rx.clamp(0.0, width / 2.0), ry.clamp(0.0, height / 2.0));
    if rx == 0.0 || ry == 0.0 {
        return format!("M{x} {y}H{right}V{foot}H{x}Z");
    }
    let turn = |x: f64, y: f64| format!("A{rx} {ry} 0 0 1 {x} {y}");
    let corners = [turn(right, y + ry), turn(right - rx, foot), turn(x, foot - ry), turn(x + rx, y)];
    let [one, two, three, four] = corners;
    format!("M{} {y}H{}{one}V{}{two}H{}{three}V{}{four}Z", x + rx, right - rx, foot - ry, x + rx, y + ry)
}

/// In two halves: an arc can't turn all the way round.
fn oval((x, y): (f64, f64), (rx, ry): (f64, f64)) -> String {
    if !(rx > 0.0 && ry > 0.0) {
        return String::new();
    }
    let (right, left) = (x + rx, x - rx);
    format!("M{right} {y}A{rx} {ry} 0 0 1 {left} {y}A{rx} {ry} 0 0 1 {right} {y}Z")
}

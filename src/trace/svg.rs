//! The lines of an SVG drawing.
//!
//! Outlines are read from `path` and the basic shapes; of what else is drawn it is only said that it is there. Transforms
//! are followed, and what is hidden counts for nothing. A unit of the drawing is one of its `viewBox`, or where there is none,
//! one of its coordinates.

use super::error::TraceError;
use super::{Request, Sheet};
use super::{data, shapes};
use crate::geometry::{Bounds, Point};
use kurbo::Affine;
use roxmltree::{Document, Node, ParsingOptions};
use svgtypes::{Length, LengthUnit, Transform, ViewBox};

/// More elements than any drawing of pieces has.
const MOST_NODES: u32 = 500_000;

/// Groups in groups in groups: deeper than drawing programs nest them.
const DEEPEST: usize = 100;

/// What is not drawn by itself, only where something else calls for it.
const NOT_DRAWN: &[&str] = &["defs", "symbol", "clipPath", "mask", "pattern", "marker", "font", "linearGradient", "radialGradient"];

/// What no outline is read from.
const NOT_READ: &[&str] = &["use", "text", "image"];

/// A rectangle that reaches so near to the sides of the sheet, as a part of its width, is its ground.
const NEARLY: f64 = 1e-3;

/// Scales of the two directions that differ by more than this part stretch a drawing.
const UNEVEN: f64 = 1e-3;

/// Reads what was asked for of a drawing.
pub(super) fn sheet(request: &Request, bytes: &[u8]) -> Result<Sheet, TraceError> {
    let (file, span) = (&request.file.0, request.file.1);
    let refused = |reason: String| TraceError::Unreadable { file: file.clone(), reason, span };
    for (word, choice) in [("block", &request.block), ("layer", &request.layer)] {
        if let Some((_, at)) = choice {
            return Err(TraceError::OtherKind { word, kind: "DXF", file: file.clone(), instead: "path \"…\"", span: *at });
        }
    }
    let text = std::str::from_utf8(bytes).map_err(|_| refused("it is no text (save it as plain SVG, not compressed)".to_owned()))?;
    if text.contains("<!ENTITY") {
        return Err(refused("it declares entities of its own (save it as plain SVG)".to_owned()));
    }
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|e| refused(format!("it is no sound XML: {e}")))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(refused("it is no SVG drawing".to_owned()));
    }
    let says = says(root).map_err(|()| refused("it is stretched more in one direction than in the other".to_owned()))?;
    let within = match &request.path {
        None => root,
        Some((id, at)) => root.descendants().find(|n| n.attribute("id") == Some(id)).ok_or_else(|| {
            let known = drawn(root).filter_map(|n| label(n)).fold(Vec::new(), |mut all: Vec<String>, id| {
                if !all.contains(&id) {
                    all.push(id);
                }
                all
            });
            TraceError::NoSuch { what: "path", name: id.clone(), file: file.clone(), known, span: *at }
        })?,
    };
    let mut sheet = Sheet { down: true, says, ..Sheet::default() };
    let mut passed_over: Vec<(String, usize)> = Vec::new();
    let mut pass_over = |what: String| match passed_over.iter_mut().find(|(known, _)| *known == what) {
        Some((_, count)) => *count += 1,
        None => passed_over.push((what, 1)),
    };
    // What lies under everything, as large as the sheet.
    let mut ground = Vec::new();
    for node in drawn(within) {
        let name = node.tag_name().name();
        if is_hidden(node, within) {
            pass_over("hidden".to_owned());
            continue;
        }
        let data = match name {
            "path" => node.attribute("d").unwrap_or("").to_owned(),
            _ if NOT_READ.contains(&name) => {
                pass_over(format!("`{name}`"));
                continue;
            }
            _ => match shapes::data(node) {
                Ok(data) => data,
                Err(what) => {
                    pass_over(what);
                    continue;
                }
            },
        };
        let (label, to_sheet) = (label(node).unwrap_or_default(), transform(node).map_err(&refused)?);
        let lines = data::lines(&data, &to_sheet, &label).ok_or_else(|| {
            let which = if label.is_empty() { "a path without an id".to_owned() } else { format!("path {label:?}") };
            refused(format!("the data of {which} can't be read"))
        })?;
        let covers = |sheet: Bounds| lines.iter().any(|l| l.path.bounds().grown(NEARLY * sheet.width()).holds(sheet));
        match name {
            "rect" if view(root).is_some_and(covers) => ground.extend(lines),
            "rect" | "circle" | "ellipse" => sheet.shapes.extend(lines),
            _ => sheet.lines.extend(lines),
        }
    }
    if sheet.shapes.is_empty() {
        sheet.shapes = ground;
    }
    sheet.passed_over = passed_over.into_iter().map(|(what, count)| format!("{count} {what}")).collect();
    Ok(sheet)
}

/// The box of the drawing, y up, where it says one.
fn view(root: Node<'_, '_>) -> Option<Bounds> {
    let view = root.attribute("viewBox")?.parse::<ViewBox>().ok()?;
    Some(Bounds { min: Point::new(view.x, -view.y - view.h), max: Point::new(view.x + view.w, -view.y) })
}

/// Whether a shape is not shown; what was asked for by its name is, whatever stands round it.
fn is_hidden(node: Node<'_, '_>, within: Node<'_, '_>) -> bool {
    let inside = || node.ancestors().take(DEEPEST).take_while(|n| *n != within);
    let says = |n: Node<'_, '_>, property: &str| {
        // A style goes over an attribute.
        let styled = n.attribute("style").into_iter().flat_map(|s| s.split(';')).filter_map(|line| line.split_once(':'));
        let styled = styled.filter(|(name, _)| name.trim() == property).map(|(_, value)| value.trim()).next_back();
        styled.or_else(|| n.attribute(property).map(str::trim)).map(str::to_owned)
    };
    let unshown = inside().any(|n| says(n, "display").is_some_and(|v| v == "none"));
    // Of visibility the nearest word holds.
    unshown || inside().find_map(|n| says(n, "visibility")).is_some_and(|v| v != "visible")
}

/// Everything drawn in an element, itself included.
fn drawn<'a, 'd>(within: Node<'a, 'd>) -> impl Iterator<Item = Node<'a, 'd>> {
    // What is not drawn by itself is stepped over with all that it holds.
    let mut hidden_before = 0;
    within.descendants().filter(move |node| {
        let name = node.tag_name().name();
        if node.id().get_usize() < hidden_before {
            return false;
        }
        if NOT_DRAWN.contains(&name) {
            hidden_before = node.descendants().map(|n| n.id().get_usize() + 1).max().unwrap_or_default();
            return false;
        }
        name == "path" || shapes::SHAPES.contains(&name) || NOT_READ.contains(&name)
    })
}

/// The id of a shape, or of the nearest group round it that has one.
fn label(node: Node<'_, '_>) -> Option<String> {
    let named = node.ancestors().take(DEEPEST).filter(|n| n.tag_name().name() != "svg").find_map(|n| n.attribute("id"));
    named.map(str::to_owned)
}

/// The declaration of a style that moves, turns, stretches or mirrors a shape.
fn moved_by_style(style: &str) -> Option<&str> {
    let moves = |line: &&str| {
        line.split_once(':').is_some_and(|(name, value)| {
            let name = name.trim().to_ascii_lowercase();
            ["transform", "translate", "rotate", "scale"].contains(&name.as_str()) && value.trim() != "none"
        })
    };
    style.split(';').map(str::trim).find(moves)
}

/// From a shape's coordinates to those of the drawing.
fn transform(node: Node<'_, '_>) -> Result<Affine, String> {
    let mut to_sheet = Affine::IDENTITY;
    let mut above = node.ancestors().filter(Node::is_element);
    for element in above.by_ref().take(DEEPEST) {
        if element.tag_name().name() == "svg" && element.parent_element().is_some() {
            return Err("the outline stands in a drawing inside the drawing (`svg` in `svg`): take it out of there".to_owned());
        }
        if let Some(moving) = element.attribute("style").and_then(moved_by_style) {
            return Err(format!("its style says `{moving}`, which is not followed: move the shapes themselves, and save it as plain SVG"));
        }
        let Some(text) = element.attribute("transform") else { continue };
        let t: Transform = text.parse().map_err(|_| format!("the transform {text:?} can't be read"))?;
        to_sheet = Affine::new([t.a, t.b, t.c, t.d, t.e, t.f]) * to_sheet;
    }
    match above.next() {
        None => Ok(to_sheet),
        Some(_) => Err(format!("its groups are nested deeper than {DEEPEST}")),
    }
}

/// What a unit is worth by the drawing's own word, mm: its width on paper over that of its `viewBox`. Pixels are no word.
fn says(root: Node<'_, '_>) -> Result<Option<f64>, ()> {
    let Some(view) = root.attribute("viewBox").and_then(|v| v.parse::<ViewBox>().ok()) else { return Ok(None) };
    let size = |name: &str| root.attribute(name).and_then(|v| v.parse::<Length>().ok());
    let (Some(width), Some(height)) = (size("width"), size("height")) else { return Ok(None) };
    let stretched = root.attribute("preserveAspectRatio").is_some_and(|v| v.trim_start().starts_with("none"));
    let uneven = (width.number / view.w) / (height.number / view.h) - 1.0;
    if stretched && width.unit == height.unit && uneven.abs() > UNEVEN {
        return Err(());
    }
    let mm = |unit| match unit {
        LengthUnit::Mm => Some(1.0),
        LengthUnit::Cm => Some(10.0),
        LengthUnit::In => Some(25.4),
        LengthUnit::Pt => Some(25.4 / 72.0),
        LengthUnit::Pc => Some(25.4 / 6.0),
        _ => None,
    };
    let scales = [(width, view.w), (height, view.h)].map(|(on_paper, units)| mm(on_paper.unit).map(|mm| mm * on_paper.number / units));
    // Where the sheet has another shape than the view box, the smaller scale holds.
    let [Some(across), Some(up)] = scales else { return Ok(None) };
    let scale = across.min(up);
    Ok((scale.is_finite() && scale > 0.0).then_some(scale))
}

//! The lines of a DXF drawing: polylines with their bulges, straights, arcs, circles, ellipses and splines.
//!
//! The `dxf` crate reads entities. It is given the sections that hold some, and the header; what else a drawing holds
//! says nothing of an outline.

use super::error::TraceError;
use super::{Line, Request, Sheet, spline};
use crate::geometry::{Path, Point, Vector};
use ::dxf::Drawing;
use ::dxf::entities::{Entity, EntityType};
use ::dxf::enums::Units;
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::TAU;

/// Sections that are read.
const READ: &[&str] = &["HEADER", "BLOCKS", "ENTITIES"];

/// Reads what was asked for of a drawing.
pub(super) fn sheet(request: &Request, bytes: &[u8]) -> Result<Sheet, TraceError> {
    let (file, span) = (&request.file.0, request.file.1);
    let refused = |reason: &str| TraceError::Unreadable { file: file.clone(), reason: reason.to_owned(), span };
    if let Some((_, at)) = &request.path {
        return Err(TraceError::OtherKind { word: "path", kind: "SVG", file: file.clone(), instead: "layer \"…\"", span: *at });
    }
    let mut text = String::from_utf8_lossy(bytes);
    if !text.contains('\n') {
        // Lines may end as they did on machines of old.
        text = text.replace('\r', "\n").into();
    }
    let off = hidden_layers(&text);
    let text = sections(&text).ok_or_else(|| refused("it is no sound DXF: a section does not end"))?;
    let drawing = Drawing::load(&mut text.as_bytes()).map_err(|e| refused(&format!("it is no sound DXF: {e}")))?;
    let entities: Vec<&Entity> = match &request.block {
        Some((name, at)) => {
            let found = drawing.blocks().find(|b| b.name.eq_ignore_ascii_case(name));
            let known = || drawing.blocks().map(|b| b.name.clone()).filter(|n| !n.starts_with('*')).collect();
            if turned_over(&drawing, name) {
                return Err(refused(
                    "that block is mirrored where it is put into the drawing: break it up there, save, and leave `block` out",
                ));
            }
            let missing = || TraceError::NoSuch { what: "block", name: name.clone(), file: file.clone(), known: known(), span: *at };
            found.ok_or_else(missing)?.entities.iter().collect()
        }
        None => drawing.entities().filter(|e| !e.common.is_in_paper_space).collect(),
    };
    let on_layer = |e: &&Entity| request.layer.as_ref().is_none_or(|(name, _)| e.common.layer.eq_ignore_ascii_case(name));
    let mut sheet = Sheet { says: says(&drawing), ..Sheet::default() };
    let mut passed_over: BTreeMap<&'static str, usize> = BTreeMap::new();
    // What is hidden is not read, unless it is asked for.
    let hidden = |e: &Entity| !e.common.is_visible || request.layer.is_none() && off.contains(&e.common.layer.to_lowercase());
    for entity in entities.iter().copied().filter(on_layer) {
        match line(entity) {
            Ok(Some(_)) | Err(_) if hidden(entity) => *passed_over.entry("hidden").or_default() += 1,
            Ok(line) => sheet.lines.extend(line),
            Err(Passed::Over(what)) => *passed_over.entry(what).or_default() += 1,
            Err(Passed::Turned) => {
                return Err(refused("lines in it are drawn on the back of their plane: mirror them in the drawing and save them flat"));
            }
        }
    }
    if let Some((name, at)) = request.layer.as_ref().filter(|_| sheet.lines.is_empty() && passed_over.is_empty()) {
        let mut known: Vec<String> = entities.iter().map(|e| e.common.layer.clone()).collect();
        known.sort();
        known.dedup();
        return Err(TraceError::NoSuch { what: "layer", name: name.clone(), file: file.clone(), known, span: *at });
    }
    if sheet.lines.is_empty() && request.block.is_none() {
        let known: Vec<String> =
            drawing.blocks().filter(|b| b.entities.iter().any(|e| line(e).is_ok_and(|l| l.is_some()))).map(|b| b.name.clone()).collect();
        if !known.is_empty() {
            return Err(TraceError::InBlocks { file: file.clone(), known, span });
        }
    }
    sheet.passed_over = passed_over.into_iter().map(|(name, count)| format!("{count} {name}")).collect();
    Ok(sheet)
}

/// The layers that are switched off or frozen, in small letters. They stand in a section that is not read otherwise, since what else
/// is in it need not be sound.
fn hidden_layers(text: &str) -> BTreeSet<String> {
    let mut hidden = BTreeSet::new();
    // The table's entry that is read: whether it is a layer, and the name of that.
    let (mut of_layer, mut name) = (false, String::new());
    for (code, value) in pairs(text) {
        let figure = value.trim().parse::<i64>().unwrap_or(0);
        match code {
            "0" => (of_layer, name) = (value.trim() == "LAYER", String::new()),
            "2" if of_layer => name = value.trim().to_lowercase(),
            // A colour less than nothing is that of a layer switched off; the first flag is frozen.
            "62" if of_layer && figure < 0 => _ = hidden.insert(name.clone()),
            "70" if of_layer && figure & 1 == 1 => _ = hidden.insert(name.clone()),
            _ => {}
        }
    }
    hidden
}

/// The codes of a file and the values behind them.
fn pairs(text: &str) -> impl Iterator<Item = (&str, &str)> {
    let mut lines = text.trim_start_matches('\u{feff}').lines();
    std::iter::from_fn(move || Some((lines.next()?.trim(), lines.next()?)))
}

/// Whether a block is put into the drawing, and everywhere mirrored.
fn turned_over(drawing: &Drawing, block: &str) -> bool {
    let mut placed = drawing
        .entities()
        .filter_map(|e| if let EntityType::Insert(insert) = &e.specific { Some(insert) } else { None })
        .filter(|insert| insert.name.eq_ignore_ascii_case(block))
        .map(|insert| insert.x_scale_factor * insert.y_scale_factor * insert.extrusion_direction.z < 0.0)
        .peekable();
    placed.peek().is_some() && placed.all(|mirrored| mirrored)
}

/// The sections of a file that are read, and its end; none when one begins inside another or does not end.
fn sections(text: &str) -> Option<String> {
    let mut kept = String::with_capacity(text.len());
    // A section that is read or skipped; none between sections.
    let mut inside: Option<bool> = None;
    let mut begins = false;
    let mut written = false;
    for (number, value) in pairs(text) {
        match (number, value.trim()) {
            ("0", "SECTION") if inside.is_some() || begins => return None,
            ("0", "SECTION") => begins = true,
            ("2", name) if begins => {
                begins = false;
                written = READ.contains(&name);
                inside = Some(written);
                if written {
                    kept.extend(["  0\nSECTION\n  2\n", name, "\n"]);
                }
            }
            ("0", "ENDSEC") => {
                if inside.take()? {
                    kept.push_str("  0\nENDSEC\n");
                }
                written = false;
            }
            ("0", "EOF") => break,
            _ if written => kept.extend([number, "\n", value.trim_end_matches('\r'), "\n"]),
            _ => {}
        }
    }
    (inside.is_none() && !begins).then(|| kept + "  0\nEOF\n")
}

/// Why no line comes of an entity.
enum Passed {
    /// It is of a sort that no outline is read from.
    Over(&'static str),
    /// It is drawn on the back of its plane.
    Turned,
}

/// What an entity draws; none when that is no line at all, a text or a point.
fn line(entity: &Entity) -> Result<Option<Line>, Passed> {
    let facing = |normal: &::dxf::Vector| if normal.z < 0.0 { Err(Passed::Turned) } else { Ok(()) };
    let at = |p: &::dxf::Point| Point::new(p.x, p.y);
    let (path, closed) = match &entity.specific {
        EntityType::Polyline(line) => {
            facing(&line.normal)?;
            // A spline's frame (16) is not on its line; meshes (16, 64) are no lines.
            if line.flags & (16 | 64) != 0 {
                return Err(Passed::Over("POLYLINE MESH"));
            }
            let vertices = line.vertices().filter(|v| v.flags & 16 == 0).map(|v| (at(&v.location), v.bulge));
            (chain(vertices, line.is_closed()), line.is_closed())
        }
        EntityType::LwPolyline(line) => {
            facing(&line.extrusion_direction)?;
            let vertices = line.vertices.iter().map(|v| (Point::new(v.x, v.y), v.bulge));
            (chain(vertices, line.is_closed()), line.is_closed())
        }
        EntityType::Line(line) => (Some(Path::line(at(&line.p1), at(&line.p2))), false),
        EntityType::Arc(arc) => {
            facing(&arc.normal)?;
            let sweep = (arc.end_angle - arc.start_angle).to_radians().rem_euclid(TAU);
            let sweep = if sweep == 0.0 { TAU } else { sweep };
            let first = arc.start_angle.to_radians();
            let on = |angle: f64| at(&arc.center) + Vector::at_angle(angle) * arc.radius;
            // In halves: a bulge can't turn all the way round.
            let bulge = (sweep / 8.0).tan();
            (Some(Path::new(on(first)).arc_to(on(first + sweep / 2.0), bulge).arc_to(on(first + sweep), bulge)), false)
        }
        EntityType::Circle(circle) => (Some(Path::circle(at(&circle.center), circle.radius)), true),
        EntityType::Spline(of) => {
            facing(&of.normal)?;
            (Some(spline::spline(of).map_err(Passed::Over)?), false)
        }
        EntityType::Ellipse(of) => {
            facing(&of.normal)?;
            let Some((path, whole)) = spline::ellipse(of) else { return Ok(None) };
            (Some(path), whole)
        }
        EntityType::Insert(_) => return Err(Passed::Over("INSERT")),
        _ => return Ok(None),
    };
    let label = entity.common.layer.clone();
    Ok(path.map(|path| Line { path, closed, group: label.clone(), label }))
}

/// From vertex to vertex, each with the bulge of what leaves it. A closed line goes back to its first vertex, unless the
/// last is there already.
fn chain(vertices: impl Iterator<Item = (Point, f64)>, closed: bool) -> Option<Path> {
    let all: Vec<(Point, f64)> = vertices.collect();
    let (&(start, _), &(last, bulge)) = all.first().zip(all.last())?;
    let stroke = |path: Path, end: Point, bulge: f64| if bulge == 0.0 { path.line_to(end) } else { path.arc_to(end, bulge) };
    let path = all.iter().zip(all.iter().skip(1)).fold(Path::new(start), |path, ((_, bulge), (end, _))| stroke(path, *end, *bulge));
    let path = if closed && last.distance(start) > 0.0 { stroke(path, start, bulge) } else { path };
    (!path.segments.is_empty()).then_some(path)
}

/// What a unit is worth by the drawing's own word, mm.
fn says(drawing: &Drawing) -> Option<f64> {
    match drawing.header.default_drawing_units {
        Units::Inches => Some(25.4),
        Units::Feet => Some(304.8),
        Units::Millimeters => Some(1.0),
        Units::Centimeters => Some(10.0),
        Units::Meters => Some(1000.0),
        _ => None,
    }
}

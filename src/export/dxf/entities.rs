//! A sheet's shapes as entities of the `dxf` crate.

use super::{Flavour, WRITTEN, layer_name};
use crate::export::drawing::{Anchor, CAPITAL, Item, Shape, Sheet, Words};
use crate::export::pairs;
use crate::geometry::{COINCIDENT, FLATTEN, Path, Point, Segment};
use dxf::entities::{Circle, Entity, EntityType, Line, LwPolyline, Polyline, Text, Vertex};
use dxf::enums::{AcadVersion, HorizontalTextJustification};
use dxf::{Drawing, LwPolylineVertex};

/// A corner of a polyline, and the bulge of the line that leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Corner {
    at: Point,
    bulge: f64,
}

/// The pieces of a sheet, without its furniture.
pub(super) fn drawing(sheet: &Sheet, flavour: Flavour) -> Drawing {
    let mut drawing = Drawing::new();
    drawing.header.version = match flavour {
        Flavour::R12 => AcadVersion::R12,
        Flavour::R2000 => AcadVersion::R2000,
    };
    for piece in &sheet.drawings {
        for layer in WRITTEN {
            for item in piece.items.iter().filter(|i| i.layer == layer) {
                add(&mut drawing, item, flavour);
            }
        }
    }
    drawing
}

fn add(drawing: &mut Drawing, item: &Item, flavour: Flavour) {
    let made = match &item.shape {
        Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) => line(drawing, path, flavour),
        Shape::Circle { centre, radius } => Some(EntityType::Circle(Circle::new(place(*centre), *radius))),
        Shape::Words(words) => text(words, flavour),
    };
    if let Some(made) = made {
        let mut entity = Entity::new(made);
        entity.common.layer = layer_name(item.layer);
        drawing.add_entity(entity);
    }
}

fn place(p: Point) -> dxf::Point {
    dxf::Point::new(p.x, p.y, 0.0)
}

/// A LINE for one straight, else a polyline; nothing for a path that goes nowhere.
fn line(drawing: &mut Drawing, path: &Path, flavour: Flavour) -> Option<EntityType> {
    if let [Segment::Line { end }] = path.segments.as_slice() {
        return (path.start.distance(*end) > COINCIDENT).then(|| EntityType::Line(Line::new(place(path.start), place(*end))));
    }
    let corners = corners(path);
    if corners.len() < 2 {
        return None;
    }
    Some(match flavour {
        Flavour::R12 => {
            let mut polyline = Polyline::default();
            polyline.set_is_closed(path.is_closed());
            for corner in corners {
                let vertex = Vertex { location: place(corner.at), bulge: corner.bulge, ..Vertex::default() };
                polyline.add_vertex(drawing, vertex);
            }
            EntityType::Polyline(polyline)
        }
        Flavour::R2000 => {
            let mut polyline = LwPolyline::default();
            polyline.set_is_closed(path.is_closed());
            let vertex = |c: Corner| LwPolylineVertex { x: c.at.x, y: c.at.y, bulge: c.bulge, ..LwPolylineVertex::default() };
            polyline.vertices = corners.into_iter().map(vertex).collect();
            EntityType::LwPolyline(polyline)
        }
    })
}

/// A path's corners: straights and arcs as they are, curves as chords; the end of a closed path is its start again and left out.
fn corners(path: &Path) -> Vec<Corner> {
    let mut all = vec![Corner { at: path.start, bulge: 0.0 }];
    let mut go = |bulge: f64, end: Point| {
        if let Some(last) = all.last_mut() {
            if last.at.distance(end) <= COINCIDENT {
                return;
            }
            last.bulge = bulge;
        }
        all.push(Corner { at: end, bulge: 0.0 });
    };
    let mut from = path.start;
    for segment in &path.segments {
        match *segment {
            Segment::Line { end } => go(0.0, end),
            Segment::Arc { end, bulge } => go(bulge, end),
            Segment::Cubic { leaving, arriving, end } => {
                let chords = Path::new(from).cubic_to(leaving, arriving, end).flatten(FLATTEN);
                chords.into_iter().skip(1).for_each(|p| go(0.0, p));
            }
        }
        from = segment.end();
    }
    if path.is_closed() && all.len() > 1 {
        all.pop();
    }
    all
}

fn text(words: &Words, flavour: Flavour) -> Option<EntityType> {
    let value = match flavour {
        Flavour::R12 => pairs::plain(&words.text),
        Flavour::R2000 => pairs::without_codes(&words.text),
    };
    let justification = match words.anchor {
        Anchor::Start => HorizontalTextJustification::Left,
        Anchor::Middle => HorizontalTextJustification::Center,
        Anchor::End => HorizontalTextJustification::Right,
    };
    let text = Text {
        location: place(words.at),
        second_alignment_point: place(words.at),
        text_height: words.size * CAPITAL,
        rotation: words.angle.to_degrees(),
        horizontal_text_justification: justification,
        value,
        ..Text::default()
    };
    (!text.value.trim().is_empty()).then_some(EntityType::Text(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arcs_stay_arcs_and_curves_become_chords() {
        let p = Point::new;
        let path = Path::new(p(0.0, 0.0))
            .line_to(p(100.0, 0.0))
            .arc_to(p(100.0, 50.0), 1.0)
            .cubic_to(p(60.0, 90.0), p(40.0, 90.0), p(0.0, 50.0))
            .line_to(p(0.0, 0.0));
        let all = corners(&path);
        assert_eq!(all.first(), Some(&Corner { at: p(0.0, 0.0), bulge: 0.0 }));
        assert_eq!(all.get(1), Some(&Corner { at: p(100.0, 0.0), bulge: 1.0 }));
        assert_eq!(all.last(), Some(&Corner { at: p(0.0, 50.0), bulge: 0.0 }), "the start stands once");
        assert!(all.len() > 10);
        // A circle of two half turns has two corners.
        assert_eq!(corners(&Path::circle(p(0.0, 0.0), 85.0)).iter().map(|c| c.bulge).collect::<Vec<_>>(), [1.0, 1.0]);
    }
}

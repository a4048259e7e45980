//! A sheet's shapes as entities.

use super::frame::Handles;
use super::{WRITTEN, layer_name};
use crate::export::drawing::{Anchor, CAPITAL, Item, Shape, Sheet, Words};
use crate::export::pairs::{self, BULGE_DECIMALS, push_code, push_fixed, push_length, push_number, push_text};
use crate::geometry::{COINCIDENT, FLATTEN, Path, Point, Segment};

/// Which form of entities, and what it needs.
pub(super) enum Form<'h> {
    /// Release 12.
    R12,
    /// Release 2000: every entity has a handle, and the space it lies in as its owner.
    R2000 { handles: &'h mut Handles, owner: &'h str },
}

/// A corner of a polyline, and the bulge of the line that leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Corner {
    at: Point,
    bulge: f64,
}

/// The pieces of a sheet, without its furniture.
pub(super) fn entities(sheet: &Sheet, form: Form<'_>) -> String {
    let mut file = Entities { text: String::with_capacity(1 << 15), form };
    for piece in &sheet.drawings {
        for layer in WRITTEN {
            let name = layer_name(layer);
            for item in piece.items.iter().filter(|i| i.layer == layer) {
                file.add(item, &name);
            }
        }
    }
    file.text
}

/// Entities being written.
struct Entities<'h> {
    text: String,
    form: Form<'h>,
}

impl Entities<'_> {
    fn add(&mut self, item: &Item, layer: &str) {
        match &item.shape {
            Shape::Line(path) | Shape::Symbol(path) | Shape::Solid(path) => self.line(path, layer),
            Shape::Circle { centre, radius } => {
                self.begin("CIRCLE", layer, "AcDbCircle");
                self.place(10, *centre);
                push_length(&mut self.text, 40, *radius);
            }
            Shape::Words(words) => self.words(words, layer),
        }
    }

    /// What every entity begins with; release 2000 also names its class.
    fn begin(&mut self, kind: &str, layer: &str, class: &str) {
        push_text(&mut self.text, 0, kind);
        if let Form::R2000 { handles, owner } = &mut self.form {
            push_text(&mut self.text, 5, &handles.next());
            push_text(&mut self.text, 330, owner);
            push_text(&mut self.text, 100, "AcDbEntity");
        }
        push_text(&mut self.text, 8, layer);
        self.class(class);
    }

    fn class(&mut self, class: &str) {
        if matches!(self.form, Form::R2000 { .. }) {
            push_text(&mut self.text, 100, class);
        }
    }

    fn place(&mut self, first: u16, at: Point) {
        push_length(&mut self.text, first, at.x);
        push_length(&mut self.text, first + 10, at.y);
        push_length(&mut self.text, first + 20, 0.0);
    }

    /// How the line bends that leaves a corner; nothing for a straight one.
    fn bulge(&mut self, bulge: f64) {
        if bulge != 0.0 {
            push_code(&mut self.text, 42);
            push_fixed(&mut self.text, bulge, BULGE_DECIMALS);
            self.text.push('\n');
        }
    }

    /// A LINE for one straight, else a polyline; nothing for a path that goes nowhere.
    fn line(&mut self, path: &Path, layer: &str) {
        if let [Segment::Line { end }] = path.segments.as_slice() {
            if path.start.distance(*end) > COINCIDENT {
                self.begin("LINE", layer, "AcDbLine");
                self.place(10, path.start);
                self.place(11, *end);
            }
            return;
        }
        let corners = corners(path);
        match self.form {
            _ if corners.len() < 2 => {}
            Form::R12 => self.polyline(&corners, path.is_closed(), layer),
            Form::R2000 { .. } => self.light_polyline(&corners, path.is_closed(), layer),
        }
    }

    fn polyline(&mut self, corners: &[Corner], closed: bool, layer: &str) {
        self.begin("POLYLINE", layer, "");
        push_number(&mut self.text, 66, 1);
        self.place(10, Point::default());
        if closed {
            push_number(&mut self.text, 70, 1);
        }
        for corner in corners {
            self.begin("VERTEX", layer, "");
            self.place(10, corner.at);
            self.bulge(corner.bulge);
            push_number(&mut self.text, 70, 0);
        }
        self.begin("SEQEND", layer, "");
    }

    fn light_polyline(&mut self, corners: &[Corner], closed: bool, layer: &str) {
        self.begin("LWPOLYLINE", layer, "AcDbPolyline");
        push_number(&mut self.text, 90, corners.len() as u64);
        push_number(&mut self.text, 70, u64::from(closed));
        for corner in corners {
            push_length(&mut self.text, 10, corner.at.x);
            push_length(&mut self.text, 20, corner.at.y);
            self.bulge(corner.bulge);
        }
    }

    /// A TEXT; nothing for one without a letter.
    fn words(&mut self, words: &Words, layer: &str) {
        let value = match self.form {
            Form::R12 => pairs::plain(&words.text),
            Form::R2000 { .. } => numbered(&pairs::without_codes(&words.text)),
        };
        if value.trim().is_empty() {
            return;
        }
        self.begin("TEXT", layer, "AcDbText");
        self.place(10, words.at);
        push_length(&mut self.text, 40, words.size * CAPITAL);
        push_text(&mut self.text, 1, &value);
        let turned = words.angle.to_degrees();
        if turned != 0.0 {
            push_length(&mut self.text, 50, turned);
        }
        match words.anchor {
            Anchor::Start => {}
            Anchor::Middle => push_number(&mut self.text, 72, 1),
            Anchor::End => push_number(&mut self.text, 72, 2),
        }
        self.place(11, words.at);
        self.class("AcDbText");
    }
}

/// Letters outside ASCII by their number, which release 2000 asks for.
fn numbered(text: &str) -> String {
    let mut all = String::with_capacity(text.len());
    for c in text.chars() {
        match u32::from(c) {
            ..128 => all.push(c),
            number => all.push_str(&format!("\\U+{number:04X}")),
        }
    }
    all
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

    #[test]
    fn letters_outside_ascii_stand_by_their_number() {
        assert_eq!(numbered("Größe"), "Gr\\U+00F6\\U+00DFe");
    }
}

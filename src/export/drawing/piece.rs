//! One piece drawn in panel space: its lines first, then words where room is left.

use super::half::{self, Half};
use super::room::{Room, Slot};
use super::shape::{Anchor, Item, Layer, Shape, Words, bounds_of, text_width};
use super::{Drawing, block, edges, grain, marks, words};
use crate::geometry::{Bounds, Path, Point, Vector};
use crate::ir::{Design, Mark, Piece, PieceId};
use crate::quantity::Style;

/// Type is this times a piece's mean side to the power of three quarters: 7 mm on 200 mm, 34 mm on 1600 mm, since small
/// pieces are looked at from nearer by. It is no less than this part of the longer side …
const TYPE_OF_PIECE: f64 = 0.135;
const TYPE_OF_LENGTH: f64 = 0.008;
/// … but never so small that it can't be read at full size, nor so large that it fills a shelf (mm).
const TYPE_LEAST: f64 = 4.5;
const TYPE_MOST: f64 = 40.0;
/// Small type beside the main one, and its least height, mm.
const SMALL: f64 = 0.68;
const SMALL_LEAST: f64 = 3.4;
/// From one line of words to the next, as a part of their height.
pub(super) const LEADING: f64 = 1.45;
/// A note below a piece is broken past this many letters.
const NOTE_LETTERS: usize = 60;

/// A piece being drawn.
pub(super) struct Draft<'a> {
    /// Its design.
    pub(super) design: &'a Design,
    /// The piece.
    pub(super) piece: &'a Piece,
    /// How measures are worded.
    pub(super) style: Style,
    /// Height of the main type, mm.
    pub(super) size: f64,
    /// What is taken.
    pub(super) room: Room,
    /// What is drawn so far.
    pub(super) items: Vec<Item>,
    /// What found no room on the piece and is written below it.
    pub(super) notes: Vec<String>,
}

/// Draws a piece, in panel space.
pub(super) fn draw(design: &Design, id: PieceId, piece: &Piece, marks: &[Mark], style: Style) -> Drawing {
    let mut draft = Draft::new(design, piece, style);
    draft.lines();
    marks::draw(&mut draft, marks);
    edges::label(&mut draft);
    draft.title(words::block(design, piece, style));
    draft.done(id)
}

/// Draws the half of a piece that is cut on the fold.
pub(super) fn draw_half(design: &Design, id: PieceId, half: &Half, style: Style) -> Drawing {
    let mut draft = Draft::new(design, &half.piece, style);
    draft.lines();
    // The cut line ends on the fold at both sides.
    let open = draft.items.iter_mut().find(|i| i.layer == Layer::Cut);
    if let Some(Item { shape: Shape::Line(path), .. }) = open {
        path.segments.pop();
    }
    half::bracket(&mut draft, &half.fold);
    marks::draw(&mut draft, &half.marks);
    edges::label(&mut draft);
    draft.title(half::block(words::block(design, &half.piece, style), &half.piece));
    draft.done(id)
}

impl<'a> Draft<'a> {
    pub(super) fn new(design: &'a Design, piece: &'a Piece, style: Style) -> Self {
        let room = Room::new(&outline(piece), &piece.cut_line);
        let b = room.bounds();
        let mean = (b.width() * b.height()).sqrt();
        // To the power of three quarters, by roots alone: these are the same on every machine.
        let size = TYPE_OF_PIECE * mean.sqrt() * mean.sqrt().sqrt();
        let size = size.max(b.width().max(b.height()) * TYPE_OF_LENGTH).clamp(TYPE_LEAST, TYPE_MOST);
        Self { design, piece, style, size, room, items: Vec::new(), notes: Vec::new() }
    }

    /// Height of small type.
    pub(super) fn small(&self) -> f64 {
        (self.size * SMALL).max(SMALL_LEAST)
    }

    /// Sets words down and takes their room.
    pub(super) fn write(&mut self, words: Words) {
        self.room.take(Slot::of(&words));
        self.items.push(Item::new(Layer::Text, Shape::Words(words)));
    }

    /// A thin line that leads from words to what they are about.
    pub(super) fn lead(&mut self, from: Point, to: Point) {
        let line = Item::line(Layer::Text, from, to);
        self.room.take_shape(&line.shape);
        self.items.push(line);
    }

    /// The lines that the piece itself brings.
    fn lines(&mut self) {
        let piece = self.piece;
        for hole in &piece.holes {
            self.room.take_line(&hole.path);
            self.items.push(Item::new(Layer::Hole, Shape::Line(hole.path.clone())));
        }
        let notched = piece.notched();
        let apart = notched.others.iter().flat_map(|n| &n.lines);
        self.items.extend(apart.map(|line| Item::new(Layer::Notch, Shape::Line(line.clone()))));
        self.items.push(Item::new(Layer::Cut, Shape::Line(notched.cut)));
        self.items.push(Item::new(Layer::Stitch, Shape::Line(outline(piece))));
        for fold in &piece.folds {
            self.room.take_line(&fold.path);
            self.items.extend(fold.sewn().map(|legs| Item::new(Layer::Stitch, Shape::Line(legs.clone()))));
            self.items.push(Item::new(Layer::Fold, Shape::Line(fold.folded())));
        }
    }

    /// Sets the lines of the label and the grain arrow beside it, and below the piece what found no room on it.
    pub(super) fn title(&mut self, lines: Vec<String>) {
        let below = match block::place(self, lines) {
            Ok(beside) => {
                grain::place(self, beside);
                None
            }
            Err(lines) => {
                let middle = self.room.middle();
                grain::place(self, middle);
                Some(lines)
            }
        };
        self.write_below(below);
    }

    /// The piece as drawn, in panel space.
    pub(super) fn done(self, id: PieceId) -> Drawing {
        let bounds = self.bounds();
        let name = format!("piece-{}-{}", id.0 + 1, identifier(&self.piece.name));
        Drawing { piece: id, id: name, origin: Vector::default(), items: self.items, bounds }
    }

    /// Writes the label that found no room on the piece, and the notes, below it.
    fn write_below(&mut self, label: Option<Vec<String>>) {
        let around = self.bounds();
        let size = self.size.min(TYPE_LEAST.max(around.width() * 0.05));
        let mut y = around.min.y - size * 1.6;
        let x = around.centre().x;
        let labelled = label.is_some();
        for (i, text) in label.into_iter().flatten().enumerate() {
            let size = if i == 0 { size * block::TITLE } else { size };
            if i == 0 {
                self.lead_into(Point::new(x, y + size * 0.55), text_width(&text, size, true) / 2.0);
            }
            self.write(Words { at: Point::new(x, y - size * 0.3), angle: 0.0, size, anchor: Anchor::Middle, bold: i == 0, text });
            y -= size * LEADING;
        }
        let size = self.small();
        if labelled && !self.notes.is_empty() {
            y -= size * 0.5;
        }
        for text in std::mem::take(&mut self.notes).into_iter().flat_map(|n| wrap(&n, NOTE_LETTERS)) {
            self.write(Words { at: Point::new(x, y), angle: 0.0, size, anchor: Anchor::Middle, bold: false, text });
            y -= size * LEADING;
        }
    }

    /// Leads from words below the piece, which reach `half` to either side, up to a dot inside it and past other words;
    /// without room for that there is no leader.
    fn lead_into(&mut self, from: Point, half: f64) {
        let b = self.room.bounds();
        let deep = (b.height() * 0.3).min(self.size * 3.0);
        let upright = [0.0, -0.5, 0.5, -1.0, 1.0].map(|side| from.x + half * side).map(|x| (x, x));
        let slanted = [0.4, 0.6, 0.25, 0.75, 0.1, 0.9].map(|part| (from.x, b.min.x + b.width() * part));
        let tries = upright
            .into_iter()
            .chain(slanted)
            .flat_map(|(x, to)| [1.0, 0.6, 0.3].map(|d| (Point::new(x, from.y), Point::new(to, b.min.y + deep * d))));
        let free = |&(from, to): &(Point, Point)| self.room.encloses(to) && self.room.clear(from, to);
        let found = tries.into_iter().find(free);
        if let Some((from, to)) = found {
            self.lead(from, to);
            self.items.push(Item::new(Layer::Text, Shape::Solid(Path::circle(to, self.small() * 0.14))));
        }
    }

    pub(super) fn bounds(&self) -> Bounds {
        bounds_of(&self.items).unwrap_or(Bounds::of(self.piece.cut_line.start))
    }
}

/// The finished outline in one.
pub(crate) fn outline(piece: &Piece) -> Path {
    let start = piece.edges.first().map_or(piece.cut_line.start, |e| e.path.start);
    piece.edges.iter().fold(Path::new(start), |all, e| all.then(&e.path))
}

/// Text broken into lines of at most so many letters: at spaces, and a longer word anywhere.
pub(super) fn wrap(text: &str, letters: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    break_up(text, letters, |part, goes_on| match lines.last_mut().filter(|_| goes_on) {
        Some(line) => {
            line.push(' ');
            line.push_str(part);
        }
        None => {
            let mut line = String::with_capacity(letters.max(part.len()));
            line.push_str(part);
            lines.push(line);
        }
    });
    lines
}

/// The lengths of a text's words, in letters.
pub(super) fn word_lengths(text: &str) -> Vec<usize> {
    text.split_whitespace().map(|word| word.chars().count()).collect()
}

/// How many lines a text takes whose words are so long: those of [`wrap`].
fn count_lines(words: &[usize], letters: usize) -> usize {
    let letters = letters.max(1);
    let (mut count, mut room) = (0, 0);
    for &length in words {
        if length < room {
            room -= length + 1;
        } else {
            count += length.div_ceil(letters);
            room = letters - (length - 1) % letters - 1;
        }
    }
    count
}

/// Gives out a text's words, or parts of words, and whether each goes on in the line that the one before it stands in.
fn break_up<'t>(text: &'t str, letters: usize, mut give: impl FnMut(&'t str, bool)) {
    let mut room = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if length < room {
            give(word, true);
            room -= length + 1;
            continue;
        }
        if length <= letters {
            give(word, false);
            room = letters - length;
            continue;
        }
        let mut rest = word;
        while !rest.is_empty() {
            let end = rest.char_indices().nth(letters.max(1)).map_or(rest.len(), |(at, _)| at);
            let (part, after) = rest.split_at_checked(end).unwrap_or((rest, ""));
            give(part, false);
            room = letters.saturating_sub(part.chars().count());
            rest = after;
        }
    }
}

/// Text broken to fit a width.
pub(super) fn wrap_to(text: &str, size: f64, width: f64) -> Vec<String> {
    wrap(text, letters_in(size, width))
}

/// How many lines a text takes in a width whose words are so long.
pub(super) fn count_lines_to(words: &[usize], size: f64, width: f64) -> usize {
    count_lines(words, letters_in(size, width))
}

fn letters_in(size: f64, width: f64) -> usize {
    let letters = (width / text_width("m", size, false)).floor();
    // Clamped first, so that the cast is exact.
    letters.clamp(8.0, 200.0) as usize
}

/// A name in letters, digits, `-` and `_`.
fn identifier(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_breaks_at_spaces() {
        assert_eq!(wrap("keep cords away from a child's neck", 14), ["keep cords", "away from a", "child's neck"]);
        assert_eq!(wrap("unbreakable it", 5), ["unbre", "akabl", "e it"]);
        assert!(wrap("  ", 5).is_empty());
        for (text, letters) in
            [("keep cords away from a child's neck", 14), ("unbreakable it is", 5), (" ", 5), ("ab cd", 5), ("abcdefghij k", 5)]
        {
            assert_eq!(count_lines(&word_lengths(text), letters), wrap(text, letters).len(), "{text}");
        }
    }

    #[test]
    fn identifiers_hold_nothing_that_markup_minds() {
        assert_eq!(identifier("hem_cord.strip \"é<"), "hem_cord-strip----");
    }
}

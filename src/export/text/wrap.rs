//! Lines that fit a page, and tables whose columns line up.

/// Columns that a page holds: what a terminal and a sheet in a fixed-width face both show.
pub(super) const WIDTH: usize = 88;

/// A column of words is never squeezed narrower than this to make a table fit.
const NARROWEST: usize = 10;

/// Between two columns.
const GAP: usize = 2;

/// Breaks words into lines: `first` stands before the first line, `rest` before the others.
/// A word longer than a line stands on one of its own.
pub(super) fn wrap(words: &str, first: &str, rest: &str) -> String {
    let mut out = String::with_capacity(words.len() + words.len() / 4 + first.len());
    let (mut start, mut room) = (out.len(), WIDTH.saturating_sub(width(first)));
    out.push_str(first);
    let mut fresh = true;
    for group in together(words).groups() {
        if !fresh && 1 + group.width > room {
            end_line(&mut out, start);
            start = out.len();
            out.push_str(rest);
            (room, fresh) = (WIDTH.saturating_sub(width(rest)), true);
        }
        if !fresh {
            out.push(' ');
        }
        room = room.saturating_sub(group.width + usize::from(!fresh));
        group.push(&mut out);
        fresh = false;
    }
    end_line(&mut out, start);
    out
}

/// A text's words, and which of them read badly apart: figures with what they count, `no.` with its number.
struct Together<'t> {
    words: Vec<&'t str>,
    /// How many words stay on one line, and how wide they are with the spaces between them.
    groups: Vec<(usize, usize)>,
}

/// Words that stay on one line.
struct Group<'w> {
    words: &'w [&'w str],
    width: usize,
}

fn together(text: &str) -> Together<'_> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut groups: Vec<(usize, usize)> = Vec::with_capacity(words.len());
    let mut goes_on = false;
    for word in &words {
        let wide = width(word);
        match groups.last_mut().filter(|(_, width)| goes_on && *width + wide < NARROWEST) {
            Some((count, width)) => {
                *count += 1;
                *width += 1 + wide;
            }
            None => groups.push((1, wide)),
        }
        goes_on = *word == "no." || word.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/'));
    }
    Together { words, groups }
}

impl Together<'_> {
    fn groups(&self) -> impl Iterator<Item = Group<'_>> {
        let mut rest = self.words.as_slice();
        self.groups.iter().map(move |&(count, width)| {
            let (words, after) = rest.split_at_checked(count).unwrap_or((rest, &[]));
            rest = after;
            Group { words, width }
        })
    }
}

impl Group<'_> {
    fn push(&self, out: &mut String) {
        for (i, word) in self.words.iter().enumerate() {
            if i > 0 {
                out.push(' ');
            }
            out.push_str(word);
        }
    }
}

/// Ends the line that starts at a byte, without blanks.
fn end_line(out: &mut String, start: usize) {
    let line = out.get(start..).unwrap_or_default();
    out.truncate(start + line.trim_end().len());
    out.push('\n');
}

fn push_line(out: &mut String, line: &str) {
    out.push_str(line.trim_end());
    out.push('\n');
}

fn width(text: &str) -> usize {
    text.chars().count()
}

/// A heading and the line under it.
pub(super) fn heading(text: &str, under: char) -> String {
    let line: String = std::iter::repeat_n(under, width(text)).collect();
    format!("{text}\n{line}\n")
}

/// How a column stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Column {
    /// Words, from the left; broken into lines when the table is too wide.
    Words,
    /// Figures, from the right.
    Figures,
}

/// A table under construction.
pub(super) struct Table {
    columns: Vec<Column>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new(head: &[(&str, Column)]) -> Self {
        let titles = head.iter().map(|(title, _)| (*title).to_owned()).collect();
        Self { columns: head.iter().map(|(_, column)| *column).collect(), rows: vec![titles] }
    }

    pub(super) fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().collect());
    }

    /// Whether it has no row under its head.
    pub(super) fn is_empty(&self) -> bool {
        self.rows.len() < 2
    }

    /// As text; columns in which no row says anything are left out.
    pub(super) fn text(&self) -> String {
        let wide = self.widths();
        let mut out = String::new();
        for (number, row) in self.rows.iter().enumerate() {
            let cells: Vec<Vec<String>> =
                row.iter().zip(&wide).map(|(cell, w)| if *w == 0 { Vec::new() } else { lines_of(cell, *w) }).collect();
            let height = cells.iter().map(Vec::len).max().unwrap_or(0).max(1);
            for line in 0..height {
                self.line(&mut out, cells.iter().map(|c| c.get(line).map_or("", String::as_str)), &wide);
            }
            if number == 0 {
                let total: usize = wide.iter().filter(|w| **w > 0).map(|w| w + GAP).sum();
                push_line(&mut out, &"-".repeat(total.saturating_sub(GAP)));
            }
        }
        out
    }

    fn line<'c>(&self, out: &mut String, cells: impl Iterator<Item = &'c str>, wide: &[usize]) {
        let mut line = String::new();
        for ((cell, column), wide) in cells.zip(&self.columns).zip(wide).filter(|(_, w)| **w > 0) {
            let gap = if line.is_empty() { 0 } else { GAP };
            let pad = wide.saturating_sub(width(cell));
            let (before, after) = if *column == Column::Words { (gap, pad) } else { (gap + pad, 0) };
            line.extend(std::iter::repeat_n(' ', before));
            line.push_str(cell);
            line.extend(std::iter::repeat_n(' ', after));
        }
        push_line(out, &line);
    }

    /// Width of each column; nought for one that is left out.
    fn widths(&self) -> Vec<usize> {
        let natural = |i: usize| {
            let cells = || self.rows.iter().filter_map(move |r| r.get(i)).map(|c| width(c));
            let said = cells().skip(1).max().unwrap_or(0) > 0 || self.is_empty();
            if said { cells().max().unwrap_or(0) } else { 0 }
        };
        let mut wide: Vec<usize> = (0..self.columns.len()).map(natural).collect();
        loop {
            let total: usize = wide.iter().filter(|w| **w > 0).map(|w| w + GAP).sum();
            if total <= WIDTH + GAP {
                return wide;
            }
            let widest = wide.iter_mut().zip(&self.columns).filter(|(_, c)| **c == Column::Words).map(|(w, _)| w).max();
            match widest.filter(|w| **w > NARROWEST) {
                Some(w) => *w -= 1,
                None => return wide,
            }
        }
    }
}

/// A cell in lines no wider than a column, long words broken.
fn lines_of(cell: &str, wide: usize) -> Vec<String> {
    if width(cell) <= wide {
        return vec![cell.to_owned()];
    }
    let mut lines: Vec<String> = Vec::new();
    let wide = wide.max(1);
    let (mut line, mut room) = (String::new(), wide);
    for group in together(cell).groups() {
        if !line.is_empty() && 1 + group.width > room {
            lines.push(std::mem::take(&mut line));
            room = wide;
        }
        if !line.is_empty() {
            line.push(' ');
            room = room.saturating_sub(1);
        }
        if group.width <= room {
            group.push(&mut line);
            room -= group.width;
            continue;
        }
        for c in group.words.join(" ").chars() {
            if room == 0 {
                lines.push(std::mem::take(&mut line));
                room = wide;
            }
            line.push(c);
            room -= 1;
        }
    }
    lines.push(line);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_hold_88_columns() {
        let text = wrap(&"stitch ".repeat(40), " 1. ", "    ");
        assert!(text.lines().all(|l| l.chars().count() <= 88), "{text}");
        assert!(text.lines().skip(1).all(|l| l.starts_with("    stitch")));
        assert_eq!(text.split_whitespace().filter(|w| *w == "stitch").count(), 40);
        assert_eq!(wrap("", "a", ""), "a\n");
    }

    #[test]
    fn columns_line_up() {
        let mut t = Table::new(&[("What", Column::Words), ("Nobody says", Column::Words), ("Mass", Column::Figures)]);
        t.row(["Ribbon".into(), String::new(), "0.5 g".into()]);
        t.row(["Cloth for all of it".into(), String::new(), "149.3 g".into()]);
        assert_eq!(
            t.text(),
            "What                    Mass\n----------------------------\nRibbon                 0.5 g\nCloth for all of it  149.3 g\n"
        );
    }

    #[test]
    fn a_table_too_wide_breaks_its_words() {
        let mut t = Table::new(&[("What", Column::Words), ("Of", Column::Words), ("Length", Column::Figures)]);
        t.row(["word ".repeat(20), "unbreakable".repeat(12), "12 mm".into()]);
        let text = t.text();
        assert!(text.lines().all(|l| l.chars().count() <= 88), "{text}");
        assert_eq!(text.matches("word").count(), 20);
        assert!(text.contains("12 mm"));
    }
}

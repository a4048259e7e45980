//! Wording shared by the pages.

use crate::ir::{Amount, Design, Text, Where};
use crate::quantity::{Area, Currency, Dimension, Length, Mass, Money, Quantity, Style, UnitSystem, format_length, format_quantity, unit};

/// Text as it is read, measures in the system asked for.
#[must_use]
pub fn words(text: &Text, style: Style) -> String {
    text.worded(style)
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

pub(super) fn area(area: Area, style: Style) -> String {
    of(area.as_mm2(), Dimension::AREA, style)
}

pub(super) fn mass(mass: Mass, style: Style) -> String {
    of(mass.as_grams(), Dimension::MASS, style)
}

fn of(value: f64, dimension: Dimension, style: Style) -> String {
    format_quantity(Quantity { value, dimension, currency: None }, style)
}

/// How long a stitch is: as machines are set, or as many to the inch.
pub(super) fn stitch_length(length: Length, style: Style) -> String {
    match style.system {
        UnitSystem::Metric => format!("{} long", format_length(length, style)),
        UnitSystem::Inch => format!("{:.1} to the inch", 25.4 / length.as_mm()).replace(".0 ", " "),
    }
}

pub(super) fn money(money: &Money, style: Style) -> String {
    let currency = money.currency.as_bytes().try_into().ok().map(Currency);
    format_quantity(Quantity { value: money.amount, dimension: Dimension::MONEY, currency }, style)
}

pub(super) fn amount(amount: Amount, style: Style) -> String {
    match amount {
        Amount::Length(l) => format_length(l, style),
        Amount::Area(a) => area(a, style),
        Amount::Count(n) => of(n, Dimension::NUMBER, style),
        Amount::Mass(m) => mass(m, style),
    }
}

/// A value as the source would write it (`184 cm`), in the system asked for. Its own unit says what it measures;
/// `number` is its figure in base units, where that is known more exactly.
pub(super) fn reworded(value: &str, number: Option<f64>, style: Style) -> String {
    let read = || {
        let (figure, name) = value.rsplit_once(' ')?;
        let unit = unit(name).ok()?;
        match number.filter(|n| n.is_finite()) {
            Some(value) => Some(Quantity { value, dimension: unit.dimension, currency: unit.currency }),
            None => Quantity::of(figure.parse().ok()?, &unit).ok(),
        }
    };
    match read() {
        Some(quantity) if style != Style::default() => format_quantity(quantity, style),
        _ => value.to_owned(),
    }
}

/// `140 × 184 cm`; both figures with their unit when they differ in it.
pub(super) fn box_of((width, height): (Length, Length), style: Style) -> String {
    let (w, h) = (format_length(width, style), format_length(height, style));
    match (w.rsplit_once(' '), h.rsplit_once(' ')) {
        (Some((figure, unit)), Some((_, other))) if unit == other => format!("{figure} × {h}"),
        _ => format!("{w} × {h}"),
    }
}

/// The design's title and size, as the page's first line.
pub(super) fn title(design: &Design, page: &str) -> String {
    format!("{}: {page}", design.title)
}

/// The size's line under the title.
pub(super) fn size_line(design: &Design) -> String {
    match &design.size {
        Some(name) if *name != design.size_title => format!("Size: {} ({name})", design.size_title),
        _ => format!("Size: {}", design.size_title),
    }
}

/// Where a step is done: edges that share their distances stand together.
pub(super) fn places(design: &Design, places: &[Where], names: &[String], style: Style) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (place, name) in places.iter().zip(names) {
        let at = at(design, place, style);
        match groups.iter_mut().find(|(known, _)| *known == at) {
            Some((_, edges)) if edges.contains(name) => {}
            Some((_, edges)) => edges.push(name.clone()),
            None => groups.push((at, vec![name.clone()])),
        }
    }
    groups.into_iter().map(|(at, edges)| format!("on {}{at}", listed(&edges))).collect()
}

/// `, 25 cm and 60 cm from head`; `, over 45 cm from foot`; nothing for a whole edge.
fn at(design: &Design, place: &Where, style: Style) -> String {
    let whole = design.edge(place.side.piece, place.side.edge).map(|e| e.length);
    let stretch = place.side.to - place.side.from;
    let all = whole.is_none_or(|l| l.is_same(stretch));
    let end = &place.from_end;
    match place.distances.as_slice() {
        [] if all => String::new(),
        [] => format!(", over {}", format_length(stretch, style)),
        [start] if !all && start.is_same(Length::mm(0.0)) => format!(", over {} from {end}", format_length(stretch, style)),
        [start] if !all => format!(", over {}, starting {} from {end}", format_length(stretch, style), format_length(*start, style)),
        many => {
            let many: Vec<String> = many.iter().map(|d| format_length(*d, style)).collect();
            let from = if end.is_empty() { String::new() } else { format!(" from {end}") };
            format!(", {}{from}", listed(&many))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stitches_are_told_apart_in_inches() {
        let words = |mm| stitch_length(Length::mm(mm), Style { system: UnitSystem::Inch });
        assert_eq!([2.5, 3.0, 2.54].map(words), ["10.2 to the inch", "8.5 to the inch", "10 to the inch"]);
        assert_eq!(stitch_length(Length::mm(2.5), Style::default()), "2.5 mm long");
    }
}

//! The legend of sizes, and what to heed before cutting from a nest.

use super::family::{Family, name_of};
use super::piece::{listed, ring_at};
use crate::export::drawing::legend::{self, Entry, Legend, Listed, SAMPLE};
use crate::export::drawing::{Drawing, Item, Layer, title, words};
use crate::geometry::{Point, Vector};
use crate::ir::{Design, NotchShape};
use crate::quantity::Style;
use std::collections::BTreeSet;

/// The lines of the sizes, and what else is drawn.
pub(super) fn of(family: &Family<'_>, drawings: &[Drawing], has_shared: bool, size: f64) -> Legend {
    let end = Point::new(SAMPLE * size, 0.0);
    let sample = || Item::line(Layer::Cut, Point::default(), end);
    let size_line = |(line, group): (usize, &Vec<&Design>)| {
        let names: Vec<String> = group.iter().map(|d| titled(d)).collect();
        Listed { text: words::clipped(&listed(&names)), items: Vec::new(), samples: vec![(line, sample())] }
    };
    let mut entries: Vec<Listed> = family.groups.iter().enumerate().map(size_line).collect();
    let plain = |text: &str, items: Vec<Item>| Listed { text: text.to_owned(), items, samples: Vec::new() };
    if has_shared {
        entries.push(plain("several sizes run together", vec![sample()]));
    }
    let used: BTreeSet<Layer> = drawings.iter().flat_map(|d| &d.items).map(|i| i.layer).collect();
    let notches: BTreeSet<NotchShape> = family.designs().flat_map(|(_, d)| &d.pieces).flat_map(|p| &p.notches).map(|n| n.shape).collect();
    entries.extend(notches.into_iter().map(|shape| legend::explained(Entry::Notch(shape), size)));
    for layer in [Layer::Hole, Layer::Grain].into_iter().filter(|l| used.contains(l)) {
        entries.push(legend::explained(Entry::Line(layer), size));
    }
    entries.push(plain("the sizes are laid over one another here", ring_at(Point::default() + Vector::new(end.x / 2.0, 0.0), size * 0.4)));
    Legend { heading: "Sizes", entries }
}

/// A size's title, and its name where that says more.
fn titled(design: &Design) -> String {
    let (title, name) = (design.size_title.as_str(), name_of(design));
    if words::plain(title) == words::plain(name) { title.to_owned() } else { format!("{title} ({name})") }
}

/// What the sheet shows and does not, then what any sheet says.
pub(super) fn heed(family: &Family<'_>, style: Style) -> Vec<String> {
    let mut all = vec![
        "Cut along the line of one size, and where sizes run together along the plain line. Stitch lines, folds, marks and lengths are on \
         each size's own sheets."
            .to_owned(),
    ];
    if !family.left_out.is_empty() {
        let names: Vec<String> = family.left_out.iter().map(|d| name_of(d).to_owned()).collect();
        all.push(format!("Not drawn, since so many lines can't be told apart: {}.", listed(&names)));
    }
    let mut seen = BTreeSet::new();
    for (_, design) in family.designs() {
        let undrawn = crate::export::drawing::undrawable(design);
        all.extend(title::heed(design, &undrawn, style).into_iter().filter(|note| seen.insert(note.clone())));
    }
    all
}

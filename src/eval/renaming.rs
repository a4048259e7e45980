//! New names of edges, where an outline or another panel's shape is taken over.

use super::draft::PanelInput;
use crate::syntax::ast::PanelItem;
use std::collections::BTreeMap;

/// Old names of edges and the new ones.
pub(crate) fn renames<'p>(items: &[&'p PanelItem]) -> BTreeMap<&'p str, &'p str> {
    let found = items.iter().filter_map(|i| if let PanelItem::Rename(r) = i { Some(r) } else { None });
    found.map(|r| (r.from.text.as_str(), r.to.text.as_str())).collect()
}

/// Gives edges their new names, all at once, so that two may change places. Tapers and corners taken over from
/// another panel follow; edges that its corners make get theirs when they are made.
pub(crate) fn rename(input: &mut PanelInput, renamed: &BTreeMap<&str, &str>) {
    if renamed.is_empty() {
        return;
    }
    let new = |name: &str| renamed.get(name).map_or_else(|| name.to_owned(), |n| (*n).to_owned());
    let mut of_corners: Vec<(String, String)> = Vec::new();
    for corner in &input.corners {
        let (a, b) = (&corner.edges.0, &corner.edges.1);
        for (old_a, old_b) in [(a, b), (b, a)] {
            for end in ["", "_1", "_2"] {
                of_corners.push((format!("{old_a}_{old_b}{end}"), format!("{}_{}{end}", new(old_a), new(old_b))));
            }
        }
    }
    for (made, name) in &mut input.made {
        *name = new(name);
        if let Some((_, now)) = of_corners.iter().find(|(old, _)| old == made) {
            made.clone_from(now);
        }
    }
    for (old, now) in of_corners {
        let known = input.made.iter().any(|(made, _)| *made == now);
        if let (Some(name), false) = (renamed.get(old.as_str()), known) {
            input.made.push((now, (*name).to_owned()));
        }
    }
    for edge in &mut input.edges {
        edge.name = new(&edge.name);
    }
    for taper in &mut input.tapers {
        taper.edge.0 = new(&taper.edge.0);
        taper.from.0 = new(&taper.from.0);
    }
    for corner in &mut input.corners {
        corner.edges.0 = new(&corner.edges.0);
        corner.edges.1 = new(&corner.edges.1);
    }
}

//! New names of edges, where an outline or another panel's shape is taken over.

use super::draft::PanelInput;
use crate::syntax::ast::PanelItem;
use std::collections::BTreeMap;

/// Old names of edges and the new ones.
pub(crate) fn renames<'p>(items: &[&'p PanelItem]) -> BTreeMap<&'p str, &'p str> {
    let found = items.iter().filter_map(|i| if let PanelItem::Rename(r) = i { Some(r) } else { None });
    found.map(|r| (r.from.text.as_str(), r.to.text.as_str())).collect()
}

/// Gives edges their new names, all at once, so that two may change places. Edges that corners of another panel made, and
/// the ends and parts named after an edge, follow.
pub(crate) fn rename(input: &mut PanelInput, renamed: &BTreeMap<&str, &str>) {
    if renamed.is_empty() {
        return;
    }
    let new = |name: &str| renamed.get(name).map_or_else(|| name.to_owned(), |n| (*n).to_owned());
    let mut of_corners: BTreeMap<String, String> = BTreeMap::new();
    for edge in &input.edges {
        let Some((_, after)) = edge.taken.as_ref().map(|t| &t.ends) else { continue };
        for end in ["", "_1", "_2"] {
            of_corners.insert(format!("{}_{after}{end}", edge.name), format!("{}_{}{end}", new(&edge.name), new(after)));
        }
    }
    let follow = |name: &str| match of_corners.get(name) {
        Some(now) if !renamed.contains_key(name) => now.clone(),
        _ => new(name),
    };
    for edge in &mut input.edges {
        edge.name = follow(&edge.name);
        if let Some(taken) = &mut edge.taken {
            taken.ends = (follow(&taken.ends.0), follow(&taken.ends.1));
            for (part, _, _) in &mut taken.parts {
                if let Some(end) = part.strip_prefix("tapered_") {
                    *part = format!("tapered_{}", follow(end));
                }
            }
        }
    }
}

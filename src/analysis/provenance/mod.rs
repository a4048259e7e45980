//! Finding what a maker asks about: `shell.left`, `mass`, `cost.skin`.

mod error;

pub use error::NotAFact;

use crate::diagnostic::nearest;
use crate::ir::{Design, Piece, Provenance, TraceId};

/// The last step of a value asked for by name. A copy's edges are those of its panel: `outer.left` is `shell.left`.
///
/// # Errors
/// [`NotAFact`], with the names that come nearest, when there is no such value.
pub fn find(design: &Design, provenance: &Provenance, name: &str) -> Result<TraceId, NotAFact> {
    let name = name.trim();
    // An edge by itself is asked about as its length.
    let edge = name.strip_suffix(".length").filter(|edge| edge.contains('.'));
    let known = |name: &str| provenance.fact(name).or_else(|| provenance.fact(&by_panel(design, name)?));
    if let Some(found) = known(name).or_else(|| known(edge?)) {
        return Ok(found);
    }
    let names = || provenance.facts.iter().map(|f| f.name.as_str());
    // What is inside the name, or beside it: `amount.thread` for `amount.cord`.
    let owner = name.rsplit_once('.').map_or(name, |(owner, _)| owner);
    let inside = |of: &str| {
        let of = format!("{of}.");
        let all: Vec<String> = names().filter(|n| of.len() > 1 && n.starts_with(&of)).map(str::to_owned).collect();
        all
    };
    let mut parts = inside(name);
    // An edge asked about without its piece.
    let of_pieces = format!(".{name}");
    parts.extend(names().filter(|n| of_pieces.len() > 1 && n.ends_with(&of_pieces)).map(str::to_owned));
    if parts.is_empty() {
        parts = inside(owner);
    }
    parts.truncate(error::MOST_NAMES);
    let totals = error::TOTALS.into_iter().filter(|total| provenance.fact(total).is_some()).collect();
    let nearest = nearest(name, names()).map(str::to_owned);
    Err(NotAFact { name: name.to_owned(), nearest, parts, totals })
}

/// The name with a copy's name replaced by its panel's.
fn by_panel(design: &Design, name: &str) -> Option<String> {
    let (owner, rest) = name.split_once('.')?;
    let named = |p: &&Piece| p.copies.iter().any(|c| c.name.as_deref() == Some(owner));
    design.pieces.iter().find(named).map(|p| format!("{}.{rest}", p.name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::Fact;
    use crate::ir::sample::quilt;

    fn asked(names: &[&str], name: &str) -> Result<TraceId, NotAFact> {
        let facts = (0..).zip(names).map(|(i, n)| Fact { name: (*n).into(), why: TraceId(i) }).collect();
        find(&quilt().0.design, &Provenance { nodes: Vec::new(), facts }, name)
    }

    const KNOWN: &[&str] = &["amount.skin", "long", "mass", "shell.left", "shell.right"];

    #[test]
    fn a_name_is_found_and_a_slip_is_guessed() {
        assert_eq!(asked(KNOWN, " mass ").expect("known"), TraceId(2));
        let slip = asked(KNOWN, "mas").expect_err("not known");
        assert_eq!(slip.nearest.as_deref(), Some("mass"));
        assert!(slip.to_string().contains("did you mean `mass`"), "{slip}");
        assert!(asked(KNOWN, "").expect_err("nothing asked").to_string().ends_with("an edge (`shell.left`), `mass`"));
        assert!(asked(KNOWN, "cost").expect_err("not known").to_string().ends_with("none of its goods states a price"));
    }

    #[test]
    fn a_copy_is_asked_about_by_its_own_name() {
        assert_eq!(asked(KNOWN, "outer.left").expect("the shell's"), TraceId(3));
        assert!(asked(KNOWN, "outer.top").is_err());
    }

    #[test]
    fn an_edge_is_asked_about_by_its_length() {
        assert_eq!(asked(KNOWN, "shell.left.length").expect("the edge"), TraceId(3));
        assert_eq!(asked(KNOWN, "outer.right.length").expect("the copy's edge"), TraceId(4));
        assert!(asked(KNOWN, "long.length").is_err());
        assert_eq!(asked(KNOWN, "left").expect_err("no edge by itself").parts, ["shell.left"]);
    }

    #[test]
    fn what_else_there_is_to_ask_about() {
        let owner = asked(KNOWN, "shell").expect_err("not a value");
        assert_eq!(owner.parts, ["shell.left", "shell.right"]);
        assert!(owner.to_string().contains("`shell.right`"), "{owner}");
        assert_eq!(asked(KNOWN, "amount.cord").expect_err("no cord").parts, ["amount.skin"]);
    }
}

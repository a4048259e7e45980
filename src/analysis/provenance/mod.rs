//! Finding what a maker asks about: `shell.left`, `mass`, `cost.skin`.

mod error;

pub use error::NotAFact;

use crate::diagnostic::nearest;
use crate::ir::{Provenance, TraceId};

/// The last step of a value asked for by name.
///
/// # Errors
/// [`NotAFact`], with the names that come nearest, when there is no such value.
pub fn find(provenance: &Provenance, name: &str) -> Result<TraceId, NotAFact> {
    let name = name.trim();
    if let Some(found) = provenance.fact(name) {
        return Ok(found);
    }
    let names = || provenance.facts.iter().map(|f| f.name.as_str());
    let inside = format!("{name}.");
    let mut parts: Vec<String> = names().filter(|n| !name.is_empty() && n.starts_with(&inside)).map(str::to_owned).collect();
    parts.truncate(error::MOST_NAMES);
    Err(NotAFact { name: name.to_owned(), nearest: nearest(name, names()).map(str::to_owned), parts })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ir::Fact;

    fn provenance(names: &[&str]) -> Provenance {
        let facts = (0..).zip(names).map(|(i, n)| Fact { name: (*n).into(), why: TraceId(i) }).collect();
        Provenance { nodes: Vec::new(), facts }
    }

    #[test]
    fn a_name_is_found_and_a_slip_is_guessed() {
        let known = provenance(&["long", "mass", "shell.left", "shell.right"]);
        assert_eq!(find(&known, " mass ").expect("known"), TraceId(1));
        let slip = find(&known, "shell.lefft").expect_err("not known");
        assert_eq!(slip.nearest.as_deref(), Some("shell.left"));
        assert!(slip.to_string().contains("shell.left"), "{slip}");
        let owner = find(&known, "shell").expect_err("not a value");
        assert_eq!(owner.parts, ["shell.left", "shell.right"]);
        assert!(owner.to_string().contains("`shell.right`"), "{owner}");
        assert!(!find(&known, "").expect_err("nothing asked").to_string().is_empty());
    }
}

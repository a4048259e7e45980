//! Names of blocks: what release 12 allows, and each once.

use std::collections::BTreeSet;

/// Release 12 allows names of so many letters.
const LONGEST: usize = 31;

/// Names given so far.
#[derive(Debug, Default)]
pub(super) struct Names(BTreeSet<String>);

impl Names {
    /// A name for a piece in a size: capitals, digits, `-` and `_`.
    pub(super) fn free(&mut self, piece: &str, size: &str) -> String {
        let (piece, size) = (letters(piece), letters(size));
        // A long name gives up letters of the piece first: what tells blocks of one piece apart is the size.
        let size = cut(&size, LONGEST / 2);
        let mut name = format!("{}_{size}", cut(&piece, LONGEST - 1 - size.len()));
        let mut number = 1;
        while !self.0.insert(name.clone()) {
            number += 1;
            let tail = format!("-{number}_{size}");
            name = format!("{}{}", cut(&piece, LONGEST.saturating_sub(tail.len())), cut(&tail, LONGEST));
        }
        name
    }
}

fn letters(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '_' { c.to_ascii_uppercase() } else { '-' }).collect()
}

/// The first so many letters; all of them are ASCII.
fn cut(name: &str, most: usize) -> &str {
    name.get(..most).unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_short_plain_and_unlike_each_other() {
        let mut names = Names::default();
        assert_eq!(names.free("shell", "regular"), "SHELL_REGULAR");
        assert_eq!(names.free("hem_cord.strip", "as drawn"), "HEM_CORD-STRIP_AS-DRAWN");
        assert_eq!(names.free("Shell", "regular"), "SHELL-2_REGULAR");
        let long = "a".repeat(40);
        let all: Vec<String> = (0..12).map(|_| names.free(&long, &long)).collect();
        assert!(all.iter().all(|n| n.len() <= LONGEST), "{all:?}");
        assert_eq!(all.iter().collect::<BTreeSet<_>>().len(), 12);
        assert_eq!(names.free("größe", "é"), "GR--E_-");
    }
}

//! What is written about a resolved design: every file of a build, and what single commands print.

use super::{Resolved, UsageError};
use crate::analysis::materials::materials;
use crate::export::{svg, why as chain};
use crate::ir::{self, Design, PieceId};
use crate::quantity::Style;
use std::collections::BTreeSet;

/// A file of a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutputFile {
    /// Relative path, parts joined by `/`.
    pub path: String,
    /// Its text.
    pub contents: String,
}

/// Whom an output is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// People, with measures worded so.
    Text(Style),
    /// Programs.
    Json,
}

/// Every file of a build: a folder a size.
///
/// # Errors
/// When a figure of the design has no written form; in words.
pub fn files(sizes: &[&Resolved], style: Style) -> Result<Vec<OutputFile>, String> {
    let mut paths = Paths::default();
    let mut all = Vec::new();
    for sized in sizes {
        let folder = paths.free(&sized.name, "");
        for (path, contents) in of_size(&sized.design, style)? {
            all.push(OutputFile { path: format!("{folder}/{path}"), contents });
        }
    }
    Ok(all)
}

fn of_size(design: &Design, style: Style) -> Result<Vec<(String, String)>, String> {
    let options = svg::SvgOptions { style };
    let mut paths = Paths::default();
    let mut all = vec![("pieces.svg".to_owned(), svg::sheet(design, &options))];
    for (index, piece) in design.pieces.iter().enumerate() {
        let path = paths.free(&format!("pieces/{}", piece.name), ".svg");
        all.push((path, svg::piece(design, PieceId::at(index), &options)));
    }
    all.push(("geometry.json".to_owned(), ir::to_json(design).map_err(|e| e.to_string())?));
    Ok(all)
}

/// File names that differ in more than the case of their letters, which some systems do not tell apart.
#[derive(Default)]
struct Paths(BTreeSet<String>);

impl Paths {
    fn free(&mut self, stem: &str, ending: &str) -> String {
        let mut path = format!("{stem}{ending}");
        let mut number = 1;
        while !self.0.insert(path.to_lowercase()) {
            number += 1;
            path = format!("{stem}-{number}{ending}");
        }
        path
    }
}

/// The chain behind a figure.
///
/// # Errors
/// When no figure has that name.
pub fn why(sized: &Resolved, name: &str, kind: Kind) -> Result<String, UsageError> {
    let provenance = materials(&sized.design).provenance;
    let found = match kind {
        Kind::Text(_) => chain::text(&provenance, name),
        Kind::Json => chain::json(&provenance, name),
    };
    let known = || provenance.facts.iter().map(|f| f.name.clone()).collect();
    found.ok_or_else(|| UsageError::UnknownFigure { name: name.to_owned(), known: known() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_differ_in_case_alone_get_a_number() {
        let mut paths = Paths::default();
        assert_eq!(paths.free("pieces/outer", ".svg"), "pieces/outer.svg");
        assert_eq!(paths.free("pieces/Outer", ".svg"), "pieces/Outer-2.svg");
        assert_eq!(paths.free("pieces/OUTER", ".svg"), "pieces/OUTER-3.svg");
    }
}

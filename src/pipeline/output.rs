//! What is written about a resolved design: every file of a build, and what single commands print.

use super::{Compiled, Resolved, UsageError};
use crate::analysis::materials::materials;
use crate::analysis::order::order as steps;
use crate::analysis::provenance;
use crate::analysis::report::MaterialsReport;
use crate::export::drawing::{Drawings, EdgeStart};
use crate::export::dxf::{self as cutter, Flavour};
use crate::export::interchange::{self, InterchangeOptions};
use crate::export::svg::NestedOptions;
use crate::export::{csv, json, plotter, svg, text};
use crate::ir::{self, Design, PieceId};
use crate::quantity::Style;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// A file of a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutputFile {
    /// Relative path, parts joined by `/`.
    pub path: String,
    /// Its text.
    pub contents: String,
}

/// What a build is asked for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Options {
    /// How measures are worded.
    pub style: Style,
    /// Which form of cutter file.
    pub dxf: Flavour,
    /// Edges at whose starts sizes are laid over one another: `head`, `shell.head`. Where none is, their lower left corners are.
    pub nest_at: Vec<String>,
}

/// Whom an output is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// People, with measures worded so.
    Text(Style),
    /// Programs.
    Json,
}

/// Whether some piece has each of the edges at which sizes are to be laid over one another.
///
/// # Errors
/// When no piece of any size has one of them.
pub fn nest_at(compiled: &Compiled, names: &[String]) -> Result<(), UsageError> {
    let pieces = || compiled.sizes.iter().flat_map(|s| &s.design.pieces);
    let known = || {
        let named = pieces().flat_map(|p| p.edges.iter().map(|e| format!("{}.{}", p.name, e.name)));
        let all: BTreeSet<String> = named.collect();
        all.into_iter().collect()
    };
    let unknown = names.iter().find(|name| {
        let start = EdgeStart::named(name);
        !pieces().any(|p| start.on(p).is_some())
    });
    unknown.map_or(Ok(()), |name| Err(UsageError::UnknownEdge { name: name.clone(), known: known() }))
}

/// Every file of a build: a folder a size asked for, and what there is on all sizes together.
///
/// # Errors
/// When a figure of the design has no written form; in words.
pub fn files(compiled: &Compiled, chosen: &[&Resolved], options: &Options) -> Result<Vec<OutputFile>, String> {
    compiled.at_once(|| {
        let reports: Vec<MaterialsReport> = compiled.sizes.par_iter().map(|s| materials(&s.design)).collect();
        let by_name: BTreeMap<&str, &MaterialsReport> = compiled.sizes.iter().map(|s| s.name.as_str()).zip(&reports).collect();
        let one = |size: &&Resolved| match by_name.get(size.name.as_str()) {
            Some(goods) => of_size(&size.design, goods, options),
            None => of_size(&size.design, &materials(&size.design), options),
        };
        // Collected in the order of the sizes, whichever is ready first.
        let by_size = chosen.par_iter().map(one).collect::<Result<Vec<_>, _>>()?;
        let mut paths = Paths::default();
        let mut all = Vec::new();
        for (resolved, files) in chosen.iter().zip(by_size) {
            let folder = paths.free(&resolved.name, "");
            all.extend(files.into_iter().map(|(path, contents)| OutputFile { path: format!("{folder}/{path}"), contents }));
        }
        let pairs: Vec<_> = compiled.sizes.iter().map(|s| &s.design).zip(&reports).collect();
        all.push(OutputFile { path: paths.free("sizes", ".txt"), contents: text::sizes(&pairs, options.style) });
        for (stem, ending, contents) in of_all_sizes(compiled, options)? {
            all.push(OutputFile { path: paths.free(stem, ending), contents });
        }
        Ok(all)
    })
}

/// What shows all sizes together, however many were asked for.
fn of_all_sizes(compiled: &Compiled, options: &Options) -> Result<Vec<(&'static str, &'static str, String)>, String> {
    let family: Vec<&Design> = compiled.sizes.iter().map(|s| &s.design).collect();
    let pattern = interchange::pattern(&family, &InterchangeOptions { style: options.style }).map_err(|e| e.to_string())?;
    let mut all = vec![("pattern", ".dxf", pattern)];
    if family.len() > 1 {
        let at = options.nest_at.iter().map(|name| EdgeStart::named(name)).collect();
        all.push(("nested", ".svg", svg::nested(&family, &NestedOptions { style: options.style, at })));
    }
    Ok(all)
}

fn of_size(design: &Design, goods: &MaterialsReport, &Options { style, dxf, .. }: &Options) -> Result<Vec<(String, String)>, String> {
    let words = |e: &dyn std::fmt::Display| e.to_string();
    let mut paths = Paths::default();
    let drawings = Drawings::of(design, style);
    let sheet = drawings.sheet();
    let mut all = vec![("pieces.svg".to_owned(), svg::write(design, &sheet))];
    for (index, piece) in design.pieces.iter().enumerate() {
        let path = paths.free(&format!("pieces/{}", piece.name), ".svg");
        all.push((path, svg::write(design, &drawings.single(PieceId::at(index)))));
    }
    let cutter = cutter::cutter(design, &sheet, dxf).map_err(|e| words(&e))?;
    all.push(("cutter.dxf".to_owned(), cutter));
    let plot = plotter::plot(design, &sheet).map_err(|e| words(&e))?;
    all.push(("cutter.plt".to_owned(), plot));
    let pattern = interchange::pattern(&[design], &InterchangeOptions { style }).map_err(|e| words(&e))?;
    all.push(("pattern.dxf".to_owned(), pattern));
    let steps = steps(design);
    all.push(("order.txt".to_owned(), text::order(design, &steps, style)));
    all.push(("order.json".to_owned(), json::order(design, &steps).map_err(|e| words(&e))?));
    all.push(("materials.txt".to_owned(), text::materials(design, goods, style)));
    all.push(("materials.json".to_owned(), json::materials(design, goods).map_err(|e| words(&e))?));
    all.push(("cut-list.csv".to_owned(), csv::cut_list(design, goods).map_err(|e| words(&e))?));
    all.push(("goods.csv".to_owned(), csv::goods(design, goods).map_err(|e| words(&e))?));
    all.push(("geometry.json".to_owned(), ir::to_json(design).map_err(|e| words(&e))?));
    Ok(all)
}

/// The sewing order of one size.
///
/// # Errors
/// As [`files`].
pub fn order(resolved: &Resolved, kind: Kind) -> Result<String, String> {
    let report = steps(&resolved.design);
    match kind {
        Kind::Text(style) => Ok(text::order(&resolved.design, &report, style)),
        Kind::Json => json::order(&resolved.design, &report).map_err(|e| e.to_string()),
    }
}

/// The cut list and bill of materials of one size.
///
/// # Errors
/// As [`files`].
pub fn goods(resolved: &Resolved, kind: Kind) -> Result<String, String> {
    let report = materials(&resolved.design);
    match kind {
        Kind::Text(style) => Ok(text::materials(&resolved.design, &report, style)),
        Kind::Json => json::materials(&resolved.design, &report).map_err(|e| e.to_string()),
    }
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
pub fn why(resolved: &Resolved, name: &str, kind: Kind) -> Result<String, UsageError> {
    let trail = materials(&resolved.design).provenance;
    let last = provenance::find(&resolved.design, &trail, name).map_err(|e| UsageError::UnknownFigure(e.to_string()))?;
    match kind {
        Kind::Text(style) => Ok(text::why(&trail, last, style)),
        Kind::Json => json::why(&trail, last).map_err(|e| UsageError::UnknownFigure(e.to_string())),
    }
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

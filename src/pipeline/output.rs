//! What is written about a resolved design: every file of a build, and what single commands print.

use super::{Compiled, Resolved, UsageError};
use crate::analysis::materials::materials;
use crate::analysis::order::order as steps;
use crate::analysis::provenance;
use crate::analysis::report::MaterialsReport;
use crate::export::drawing::{Drawings, EdgeStart};
use crate::export::dxf::{self as cutter, Flavour};
use crate::export::interchange::{self, Blocks, InterchangeOptions};
use crate::export::svg::NestedOptions;
use crate::export::{csv, cutting, json, plotter, svg, text};
use crate::ir::{self, CutterKind, Design, PieceId};
use crate::quantity::Style;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::fmt;
use std::sync::{Mutex, PoisonError};

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
/// When a figure of the design has no written form.
pub fn files(compiled: &Compiled, chosen: &[&Resolved], options: &Options) -> Result<Vec<OutputFile>, ExportError> {
    let all = Mutex::new(Vec::new());
    let keep = |file| {
        all.lock().unwrap_or_else(PoisonError::into_inner).push(file);
        Ok::<(), ExportError>(())
    };
    each_file(compiled, chosen, options, &keep)?;
    let mut all = all.into_inner().unwrap_or_else(PoisonError::into_inner);
    all.sort_by(|a: &OutputFile, b| a.path.cmp(&b.path));
    Ok(all)
}

/// Makes every file of a build, as [`files`], and gives each to `take` as soon as it is made: in any order, from several
/// threads, those of [`on_threads`](super::on_threads) where it is called there. So no file waits in memory for the last one.
///
/// # Errors
/// When a figure of the design has no written form, or `take` fails.
pub fn each_file<E: From<ExportError> + Send>(
    compiled: &Compiled,
    chosen: &[&Resolved],
    options: &Options,
    take: &(impl Fn(OutputFile) -> Result<(), E> + Sync),
) -> Result<(), E> {
    let mut paths = Paths::default();
    let folders: Vec<(String, usize)> = chosen.iter().filter_map(|c| Some((paths.free(&c.name, ""), compiled.place(c)?))).collect();
    let [sizes, pattern, nested] =
        [("sizes", ".txt"), ("pattern", ".dxf"), ("nested", ".svg")].map(|(stem, ending)| paths.free(stem, ending));
    let told = || {
        let interchange = InterchangeOptions { style: options.style };
        let (reports, blocks): (Vec<_>, Vec<_>) =
            compiled.sizes.par_iter().map(|s| (materials(&s.design), Blocks::of(&s.design, &interchange))).unzip();
        let by_size = || {
            folders.par_iter().try_for_each(|(folder, index)| {
                let put = |path: String, contents| take(OutputFile { path: format!("{folder}/{path}"), contents });
                let (Some(size), Some(report)) = (compiled.sizes.get(*index), reports.get(*index)) else { return Ok(()) };
                of_size(&size.design, report, blocks.get(*index..=*index).unwrap_or_default(), options, &put)
            })
        };
        let together = || {
            let pairs: Vec<_> = compiled.sizes.iter().map(|s| &s.design).zip(&reports).collect();
            take(OutputFile { path: sizes, contents: text::sizes(&pairs, options.style) })?;
            take(OutputFile { path: pattern, contents: written(interchange::pattern(&blocks))? })
        };
        let (sizes, together) = rayon::join(by_size, together);
        sizes.and(together)
    };
    // It takes long and needs nothing of the rest, so it comes first.
    let drawn = || {
        let family: Vec<&Design> = compiled.sizes.iter().map(|s| &s.design).collect();
        if family.len() < 2 {
            return Ok(());
        }
        let at = options.nest_at.iter().map(|name| EdgeStart::named(name)).collect();
        take(OutputFile { path: nested, contents: svg::nested(&family, &NestedOptions { style: options.style, at }) })
    };
    let (told, drawn) = rayon::join(told, drawn);
    told.and(drawn)
}

fn of_size<E: From<ExportError> + Send>(
    design: &Design,
    goods: &MaterialsReport,
    blocks: &[Blocks<'_>],
    &Options { style, dxf, .. }: &Options,
    put: &(impl Fn(String, String) -> Result<(), E> + Sync),
) -> Result<(), E> {
    let drawn = || {
        let drawings = Drawings::of(design, style);
        let singly = || {
            let mut paths = Paths::default();
            design.pieces.iter().enumerate().try_for_each(|(index, piece)| {
                let path = paths.free(&format!("pieces/{}", piece.name), ".svg");
                put(path, svg::write(design, &drawings.single(PieceId::at(index))))
            })
        };
        let together = || {
            let sheet = drawings.sheet();
            put("pieces.svg".to_owned(), svg::write(design, &sheet))?;
            put("cutter.dxf".to_owned(), written(cutter::cutter(design, &sheet, dxf))?)?;
            put("cutter.plt".to_owned(), written(plotter::plot(design, &sheet))?)?;
            of_cutters(design, put, style, dxf)
        };
        let (singly, together) = rayon::join(singly, together);
        singly.and(together)
    };
    let told = || {
        put("pattern.dxf".to_owned(), written(interchange::pattern(blocks))?)?;
        let steps = steps(design);
        put("order.txt".to_owned(), text::order(design, &steps, style))?;
        put("order.json".to_owned(), written(json::order(design, &steps))?)?;
        put("materials.txt".to_owned(), text::materials(design, goods, style))?;
        put("materials.json".to_owned(), written(json::materials(design, goods))?)?;
        put("cut-list.csv".to_owned(), written(csv::cut_list(design, goods))?)?;
        put("goods.csv".to_owned(), written(csv::goods(design, goods))?)?;
        put("geometry.json".to_owned(), written(ir::to_json(design))?)
    };
    let (drawn, told) = rayon::join(drawn, told);
    drawn.and(told)
}

/// What goes to the cutters that the design names: a page for each, and its frames. A laser reads no HP-GL.
fn of_cutters<E>(design: &Design, put: &impl Fn(String, String) -> Result<(), E>, style: Style, dxf: Flavour) -> Result<(), E> {
    let mut paths = Paths::default();
    for plan in cutting::plans(design, style) {
        let endings: &[&str] = if plan.cutter.kind == CutterKind::Laser { &[".dxf"] } else { &[".dxf", ".plt"] };
        put(paths.free(&format!("cut/{}", plan.cutter.name), ".txt"), text::cutting(design, &plan, endings, style))?;
        for frame in &plan.frames {
            for &ending in endings {
                let contents = if ending == ".plt" { plotter::frame(frame) } else { cutter::frame(plan.cutter, frame, dxf) };
                put(paths.free(&format!("cut/{}", frame.stem), ending), contents)?;
            }
        }
    }
    Ok(())
}

/// A figure of a design has no written form; in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExportError(pub String);

impl fmt::Display for ExportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for ExportError {}

fn written(result: Result<String, impl fmt::Display>) -> Result<String, ExportError> {
    result.map_err(|e| ExportError(e.to_string()))
}

/// The sewing order of one size.
///
/// # Errors
/// As [`files`].
pub fn order(resolved: &Resolved, kind: Kind) -> Result<String, ExportError> {
    let report = steps(&resolved.design);
    match kind {
        Kind::Text(style) => Ok(text::order(&resolved.design, &report, style)),
        Kind::Json => written(json::order(&resolved.design, &report)),
    }
}

/// The cut list and bill of materials of one size.
///
/// # Errors
/// As [`files`].
pub fn goods(resolved: &Resolved, kind: Kind) -> Result<String, ExportError> {
    let report = materials(&resolved.design);
    match kind {
        Kind::Text(style) => Ok(text::materials(&resolved.design, &report, style)),
        Kind::Json => written(json::materials(&resolved.design, &report)),
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
    let trail = materials(&resolved.design).provenance(&resolved.design);
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

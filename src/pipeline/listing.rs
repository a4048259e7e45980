//! A design's parameters and sizes, as its source states them.

use super::library::words;
use super::{AS_DRAWN, Compiled};
use crate::ir;
use crate::source::SourceMap;
use crate::syntax::ast::{Limits, Param, Size};
use serde::Serialize;

#[derive(Serialize)]
struct Listing {
    name: String,
    title: String,
    parameters: Vec<ParameterRow>,
    sizes: Vec<SizeRow>,
    panels: Vec<PanelRow>,
}

#[derive(Serialize)]
struct ParameterRow {
    name: String,
    default: String,
    limits: String,
    doc: String,
}

#[derive(Serialize)]
struct SizeRow {
    name: String,
    title: String,
    sets: Vec<String>,
}

/// A piece as drawn, with the names it can be pointed at by.
#[derive(Serialize)]
struct PanelRow {
    name: String,
    cut: usize,
    material: String,
    copies: Vec<String>,
    edges: Vec<String>,
}

/// The parameters with what they may be, the sizes with what they set, and the panels as drawn with
/// the names of their edges; as text or JSON.
#[must_use]
pub fn listing(compiled: &Compiled, json: bool) -> String {
    let listing = Listing::of(compiled);
    if json {
        // Strings can't fail to serialise.
        return serde_json::to_string_pretty(&listing).unwrap_or_default() + "\n";
    }
    let parameters = listing.parameters.iter().map(|p| vec![p.name.clone(), p.default.clone(), p.limits.clone(), p.doc.clone()]);
    let sizes = listing.sizes.iter().map(|s| vec![s.name.clone(), s.title.clone(), s.sets.join(", ")]);
    let mut out = format!("{}\n", listing.title);
    let panels = listing.panels.iter().map(PanelRow::cells);
    for (heading, rows) in
        [("Parameters", parameters.collect::<Vec<_>>()), ("Sizes", sizes.collect()), ("Panels and their edges", panels.collect())]
    {
        if !rows.is_empty() {
            out.push_str(&format!("\n{heading}\n{}", columns(&rows)));
        }
    }
    out
}

/// The JSON Schema of the resolved geometry.
#[must_use]
pub fn schema() -> String {
    ir::schema()
}

impl Listing {
    fn of(compiled: &Compiled) -> Self {
        let sources = &compiled.sources;
        let name = compiled.name().unwrap_or_default().to_owned();
        let Some(program) = &compiled.program else {
            return Self { title: name.clone(), name, parameters: Vec::new(), sizes: Vec::new(), panels: Vec::new() };
        };
        let title = program.title.as_ref().map_or_else(|| name.clone(), |t| words(t, sources));
        let as_drawn = SizeRow { name: AS_DRAWN.to_owned(), title: String::new(), sets: Vec::new() };
        Self {
            name,
            title,
            parameters: program.params.iter().map(|p| ParameterRow::of(&p.item, sources)).collect(),
            panels: compiled.size(AS_DRAWN).map(|s| panels(&s.design)).unwrap_or_default(),
            sizes: std::iter::once(as_drawn).chain(program.sizes.iter().map(|s| SizeRow::of(s, sources))).collect(),
        }
    }
}

fn panels(design: &ir::Design) -> Vec<PanelRow> {
    let row = |piece: &ir::Piece| PanelRow {
        name: piece.name.clone(),
        cut: piece.copies.len(),
        material: design.material(piece.material).map(|m| m.title.clone()).unwrap_or_default(),
        copies: piece.copies.iter().filter_map(|c| c.name.clone()).collect(),
        edges: piece.edges.iter().map(|e| e.name.clone()).collect(),
    };
    design.pieces.iter().map(row).collect()
}

impl PanelRow {
    fn cells(&self) -> Vec<String> {
        let copies = if self.copies.is_empty() { String::new() } else { format!(" as {}", self.copies.join(", ")) };
        vec![self.name.clone(), format!("{} of {}{copies}", self.cut, self.material), self.edges.join(", ")]
    }
}

impl ParameterRow {
    fn of(param: &Param, sources: &SourceMap) -> Self {
        let limits = match &param.limits {
            Limits::Free => String::new(),
            Limits::Range { from, to } => format!("from {} to {}", sources.snippet(from.span), sources.snippet(to.span)),
            Limits::OneOf(all) => {
                format!("one of {}", all.iter().map(|e| sources.snippet(e.span)).collect::<Vec<_>>().join(", "))
            }
        };
        Self {
            name: param.name.text.clone(),
            default: sources.snippet(param.default.span).to_owned(),
            limits,
            doc: param.doc.as_ref().map(|d| words(d, sources)).unwrap_or_default(),
        }
    }
}

impl SizeRow {
    fn of(size: &Size, sources: &SourceMap) -> Self {
        let set = |s: &crate::syntax::ast::Setting| format!("{} = {}", s.name.text, sources.snippet(s.value.span));
        Self {
            name: size.name.text.clone(),
            title: size.title.as_ref().map(|t| words(t, sources)).unwrap_or_default(),
            sets: size.settings.iter().map(set).collect(),
        }
    }
}

/// Rows set in, each column as wide as its widest entry; empty columns are left out.
fn columns(rows: &[Vec<String>]) -> String {
    let width = |column: usize| rows.iter().filter_map(|r| r.get(column)).map(|c| c.chars().count()).max().unwrap_or(0);
    let mut out = String::new();
    for row in rows {
        let mut line = String::from(" ");
        for (column, cell) in row.iter().enumerate().filter(|(c, _)| width(*c) > 0) {
            line.push_str(&format!(" {cell:<width$} ", width = width(column)));
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

//! Panels traced from drawings: what is said of them, and reading the drawings.

use super::checker::{Checker, Env};
use super::error::NameError;
use super::kind::Kind;
use super::nested::flat;
use super::panel_facts::PanelFacts;
use super::program::Program;
use crate::diagnostic::Problems;
use crate::source::{Loader, Span};
use crate::syntax::ast::{ComponentItem, Panel, PanelItem, ShapeKind, TextLiteral, TextPart, Traced};
use crate::trace::{self, Drawn, Request, TraceError};
use std::collections::BTreeMap;

/// All drawings of a design together may be so many bytes: far above what any needs, and read in no time.
const MOST_READ: usize = 64 << 20;

impl<'p> Checker<'p> {
    /// What is said of a traced outline.
    pub(super) fn traced(&mut self, traced: &'p Traced, facts: &PanelFacts, env: &Env<'p>) {
        self.expect(&traced.unit, env, &Kind::LENGTH.into(), "what a unit of the drawing is");
        if let Some(angle) = &traced.corners {
            self.expect(angle, env, &Kind::ANGLE.into(), "what a corner turns by");
        }
        let places = traced.around.iter().chain(traced.edges.iter().filter_map(|e| e.to.as_ref()));
        for unit in places.filter_map(|place| place.unit) {
            self.report(TraceError::PlaceWithUnit { span: unit });
        }
        for (i, edge) in traced.edges.iter().enumerate() {
            self.edge_name(&edge.name);
            if let Some(first) = traced.edges.iter().take(i).find(|e| e.name.text == edge.name.text) {
                let (name, is) = (edge.name.text.clone(), "an edge");
                self.report(NameError::Twice { name, first: first.name.span, first_is: is, second: edge.name.span, second_is: is });
            }
        }
        for stated in &traced.lengths {
            self.expect(&stated.length, env, &Kind::LENGTH.into(), "the length of an edge");
            if !traced.edges.iter().any(|e| e.name.text == stated.edge.text) {
                let edges: Vec<String> = traced.edges.iter().map(|e| e.name.text.clone()).collect();
                let nearest = crate::diagnostic::nearest(&stated.edge.text, edges.iter().map(String::as_str)).map(str::to_owned);
                let (panel, edge, span) = (facts.name.clone(), stated.edge.text.clone(), stated.edge.span);
                self.report(NameError::UnknownEdge { panel, edge, span, nearest, edges });
            }
        }
    }
}

/// Reads the drawings that panels are traced from; what is wrong with one is reported where it is named.
pub(super) fn read(program: &Program, loader: &dyn Loader, problems: &mut Problems) -> BTreeMap<Span, Drawn> {
    let mut files: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let mut left = MOST_READ;
    let mut tracings = BTreeMap::new();
    for traced in all(program) {
        let outline = request(traced).and_then(|request| {
            let (name, span) = request.file.clone();
            let bytes = match files.entry(name.clone()) {
                std::collections::btree_map::Entry::Occupied(known) => known.into_mut(),
                std::collections::btree_map::Entry::Vacant(free) => {
                    let read = loader.drawing(&name).map_err(|error| TraceError::of_load(error, name.clone(), span))?;
                    free.insert(read)
                }
            };
            // A drawing is gone through once for each panel that is traced from it.
            left = left.checked_sub(bytes.len()).ok_or_else(|| {
                let reason = format!("the drawings of this design are more than {} MiB together, counted once a panel", MOST_READ >> 20);
                TraceError::Unreadable { file: name, reason, span }
            })?;
            trace::read(&request, bytes)
        });
        match outline {
            Ok(outline) => drop(tracings.insert(traced.span, outline)),
            Err(error) => problems.push(error),
        }
    }
    tracings
}

/// Every tracing of a program, of its panels and of those that components bring.
fn all(program: &Program) -> impl Iterator<Item = &Traced> {
    let brought = program.components.iter().flat_map(|d| flat(&d.item.items)).filter_map(|(item, _)| match item {
        ComponentItem::Panel(panel) => Some(panel),
        _ => None,
    });
    program.panels.iter().map(|d| &d.item).chain(brought).flat_map(of_panel)
}

fn of_panel(panel: &Panel) -> Vec<&Traced> {
    let shapes = flat(&panel.items).into_iter().filter_map(|(item, _)| if let PanelItem::Shape(shape) = item { Some(shape) } else { None });
    shapes.filter_map(|shape| if let ShapeKind::Traced(traced) = &shape.kind { Some(traced.as_ref()) } else { None }).collect()
}

fn request(traced: &Traced) -> Result<Request, TraceError> {
    let choice = |text: &Option<TextLiteral>| text.as_ref().map(plain).transpose();
    Ok(Request {
        file: plain(&traced.file)?,
        path: choice(&traced.path)?,
        block: choice(&traced.block)?,
        layer: choice(&traced.layer)?,
        around: traced.around.map(|place| (place.at, place.span)),
    })
}

/// A text without holes: drawings are the same in every size.
fn plain(text: &TextLiteral) -> Result<(String, Span), TraceError> {
    let mut words = String::new();
    for part in &text.parts {
        match part {
            TextPart::Chunk(chunk) => words.push_str(chunk),
            TextPart::Hole(hole) => return Err(TraceError::Hole { span: hole.span }),
        }
    }
    Ok((words, text.span))
}

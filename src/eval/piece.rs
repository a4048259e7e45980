//! The parts of a piece that need its drafted outline: edges, extents, grain, marks.

use super::draft::{Drafted, DraftedEdge, Extents};
use super::error::EvalError;
use super::evaluator::{Eval, Evaluator};
use super::finish::FinishValue;
use super::panel::Sayings;
use super::value::{Env, Value, amount};
use crate::geometry::{COINCIDENT, FLATTEN, Path, Point, distance_to};
use crate::ir::{self, Mark, MarkShape, PieceId};
use crate::quantity::{Angle, Area, Dimension, Length};
use crate::source::Span;
use crate::syntax::ast::{GrainKind, MarkKind, PanelItem};

/// Structure cloth may lie this far off its grain when the source doesn't say: trade habit, two degrees.
const GRAIN_TOLERANCE: f64 = 2.0 * std::f64::consts::PI / 180.0;

/// Edges that turn by less than this (radians, five degrees) where they meet are bound in one. Common practice, no source.
const SMOOTHLY: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// A hole is drilled so wide (mm) when the source doesn't say. Common practice, no source.
const USUAL_DRILL: f64 = 3.0;

impl<'p> Evaluator<'p> {
    pub(crate) fn edges(&mut self, name: &str, drafted: &Drafted, said: &Sayings<'p>, env: &Env<'p>) -> Eval<Vec<ir::Edge>> {
        let mut all = Vec::new();
        let runs = runs(&drafted.edges, said);
        for (index, edge) in drafted.edges.iter().enumerate() {
            let finish = match said.finishes.get(&edge.of) {
                // Worked out again along the edge as it is finished, darts and pleats taken: its goods may depend on that.
                Some((as_drafted, call)) => {
                    let run = runs.iter().find(|r| r.edges.contains(&index));
                    let of_run = |r: &Run| r.edges.iter().filter_map(|&i| drafted.edges.get(i)).map(|e| e.sewn_length).sum();
                    let mut value = self.finish(call, env, run.map_or(edge.sewn_length, of_run))?;
                    self.cut_as_drafted(&format!("{name}.{}", edge.name), as_drafted, &value)?;
                    if let Some(run) = run {
                        (value.run, value.closes) = (run.names(&drafted.edges), run.closes);
                        // The goods of a run are those of its first edge.
                        if run.edges.first() != Some(&index) {
                            value.uses.clear();
                        }
                    }
                    let on_edge = value.on_edge();
                    self.edge_finishes.insert((name.to_owned(), edge.name.clone()), value);
                    Some(on_edge)
                }
                None => None,
            };
            let measured = self.edge_measures(name, edge, said, true);
            all.push(ir::Edge {
                name: edge.name.clone(),
                path: edge.path.clone(),
                length: measured.length,
                sewn_length: measured.sewn_length,
                parts: edge.parts.clone(),
                allowance: measured.allowance,
                finish,
                raw_because: said.raw.get(&edge.of).cloned(),
                start_neighbour: edge.start_neighbour.clone(),
                end_neighbour: edge.end_neighbour.clone(),
                why: measured.why,
                why_allowance: measured.why_allowance,
                // What is wrong with it on this panel is not to be looked for on the other.
                origin: said.taken_over.iter().find(|(there, _)| *there == edge.span).map_or(edge.span, |(_, here)| *here),
            });
        }
        Ok(all)
    }

    /// Finished and cut extents.
    pub(crate) fn extents(&mut self, name: &str, drafted: &Drafted, said: &Sayings<'p>, origin: Span) -> (ir::Extent, ir::Extent) {
        let finished = self.extent(name, &drafted.finished, said, origin, true);
        let inputs = std::iter::once(finished.why).chain(said.allow_why.values().copied()).collect();
        let area = amount(drafted.cut.area, Dimension::AREA);
        let cut_why = self.geometry_step(&format!("cut area of {name}"), "finished outline and its allowances", area, origin, inputs);
        (finished, extent(&drafted.cut, cut_why))
    }

    pub(crate) fn grain(&mut self, items: &[&'p PanelItem], env: &Env<'p>, drawn: &[DraftedEdge], origin: Span) -> Eval<ir::Grain> {
        let upright = Some(Angle::radians(std::f64::consts::FRAC_PI_2));
        let Some(grain) = items.iter().find_map(|i| if let PanelItem::Grain(g) = i { Some(g) } else { None }) else {
            return Ok(ir::Grain { angle: upright, within: Angle::radians(GRAIN_TOLERANCE), origin });
        };
        let within = match &grain.within {
            Some(e) => {
                let within = self.of_dimension(e, env, Dimension::ANGLE, "an angle")?;
                if within < 0.0 {
                    let value = self.said(&Value::Quantity(amount(within, Dimension::ANGLE)));
                    return self.fail(EvalError::NotPositive { what: "how far the grain may lie off", value, span: e.span });
                }
                within
            }
            None => GRAIN_TOLERANCE,
        };
        let angle = match &grain.kind {
            GrainKind::Any => None,
            GrainKind::Angle(e) => {
                let off = self.of_dimension(e, env, Dimension::ANGLE, "an angle")?;
                Some(Angle::radians(std::f64::consts::FRAC_PI_2 - off))
            }
            GrainKind::Along(edge) => {
                let Some(found) = drawn.iter().find(|e| e.name == edge.text) else {
                    let (owner, known) = (env.label.trim_end_matches('.').to_owned(), drawn.iter().map(|e| e.name.clone()).collect());
                    return self.fail(EvalError::NoEdge { owner, name: edge.clone(), known });
                };
                let chord = found.path.end() - found.path.start;
                // A line has two directions; the grain points towards the head.
                let angle = chord.angle();
                Some(Angle::radians(if angle <= 0.0 { angle + std::f64::consts::PI } else { angle }))
            }
        };
        Ok(ir::Grain { angle, within: Angle::radians(within), origin: grain.span })
    }

    pub(crate) fn panel_marks(&mut self, items: &[&'p PanelItem], env: &Env<'p>) -> Eval<Vec<Mark>> {
        let mut all = Vec::new();
        for item in items {
            let PanelItem::Mark(mark) = item else { continue };
            let shape = match &mark.kind {
                MarkKind::Point(at) => MarkShape::Point { at: self.point(at, env)? },
                MarkKind::Drill { at, wide } => {
                    let diameter = wide.as_ref().map_or(Ok(USUAL_DRILL), |w| self.length(w, env))?;
                    if !(diameter > 0.0 && diameter.is_finite()) {
                        let value = self.said(&Value::Quantity(amount(diameter, Dimension::LENGTH)));
                        return self.fail(EvalError::NotPositive { what: "the width of a drilled hole", value, span: mark.span });
                    }
                    MarkShape::Drill { at: self.point(at, env)?, diameter: Length::mm(diameter) }
                }
                MarkKind::Line(from, to) => {
                    let (from, to) = (self.point(from, env)?, self.point(to, env)?);
                    if from.distance(to) < crate::geometry::COINCIDENT {
                        let value = self.said(&Value::Quantity(amount(0.0, Dimension::LENGTH)));
                        return self.fail(EvalError::NotPositive { what: "the length of a marked line", value, span: mark.span });
                    }
                    MarkShape::Line { path: Path::line(from, to) }
                }
            };
            let text = match &mark.text {
                Some(t) => self.text(t, env)?,
                None => ir::Text::words(mark.name.text.clone()),
            };
            all.push(Mark { name: mark.name.text.clone(), text, copies: Vec::new(), shape, origin: mark.span });
        }
        Ok(all)
    }

    /// Stops where a finish, now that it knows how long its edge is, wants another allowance than was drafted, or other folds.
    fn cut_as_drafted(&mut self, edge: &str, drafted: &FinishValue, value: &FinishValue) -> Eval<()> {
        let differ = |a: f64, b: f64| (a - b).abs() > COINCIDENT;
        let of = |finish: &FinishValue| finish.allow.into_iter().chain(finish.folds.iter().copied()).collect::<Vec<f64>>();
        let (one, other) = (of(drafted), of(value));
        if one.len() == other.len() && !one.iter().zip(&other).any(|(a, b)| differ(*a, *b)) {
            return Ok(());
        }
        let (finish, edge, span) = (value.name.clone(), edge.to_owned(), value.origin);
        self.fail(EvalError::FinishByLength { finish, edge, span })
    }

    /// Stops at a mark that lies off its piece or in a hole of it, and at a drilled hole without cloth all round.
    pub(crate) fn marks_on_the_piece(&mut self, id: PieceId) -> Eval<()> {
        let marks = self.pieces.get(id.index()).map(|p| p.marks.clone()).unwrap_or_default();
        for mark in &marks {
            for at in places(&mark.shape) {
                self.on_the_piece(id, &mark.name, at, mark.origin)?;
                self.beside_holes(id, &mark.name, at, mark.origin)?;
            }
        }
        let drilled = |m: &Mark| if let MarkShape::Drill { at, diameter } = m.shape { Some((at, diameter.as_mm() / 2.0)) } else { None };
        for (index, mark) in marks.iter().enumerate() {
            let Some((at, radius)) = drilled(mark) else { continue };
            let near = |m: &&Mark| drilled(m).is_some_and(|(other, reach)| at.distance(other) < radius + reach - COINCIDENT);
            let runs_into = marks.iter().take(index).find(near).map(|m| format!("`{}`", m.name));
            if let Some(into) = runs_into.or_else(|| self.crossed_at(id, at, radius)) {
                let (drill, panel) = (mark.name.clone(), self.pieces.get(id.index()).map(|p| p.name.clone()).unwrap_or_default());
                return self.fail(EvalError::DrillCrosses { drill, panel, into, span: mark.origin });
            }
        }
        Ok(())
    }

    /// The edge of the cloth that lies nearer to a point than this, in words.
    fn crossed_at(&self, id: PieceId, at: Point, radius: f64) -> Option<String> {
        let piece = self.pieces.get(id.index())?;
        let nearer = |line: &Path| distance_to(&line.flatten(FLATTEN), at) < radius - FLATTEN;
        if nearer(&piece.cut_line) {
            return Some("the cut line".to_owned());
        }
        piece.holes.iter().find(|h| nearer(&h.path)).map(|h| format!("the hole `{}`", h.name))
    }
}

/// Edges that one binding goes along without a break.
struct Run {
    /// By their place in the outline, in its order.
    edges: Vec<usize>,
    /// Whether it comes back to its start.
    closes: bool,
}

impl Run {
    /// The names of its edges, where there are several.
    fn names(&self, edges: &[DraftedEdge]) -> Vec<String> {
        let names = self.edges.iter().filter_map(|&i| edges.get(i)).map(|e| e.name.clone());
        if self.edges.len() > 1 { names.collect() } else { Vec::new() }
    }
}

/// The runs of a piece: neighbours finished in one line of the source that meet smoothly, and edges that are a run by themselves. A
/// finish with folds is none: what is folded is the cloth itself, and is as long as its edge.
fn runs(edges: &[DraftedEdge], said: &Sayings<'_>) -> Vec<Run> {
    let count = edges.len();
    let call = |index: usize| {
        let (value, call) = said.finishes.get(&edges.get(index)?.of)?;
        value.folds.is_empty().then_some(*call)
    };
    let after = |index: usize| (index + 1) % count;
    let goes_on = |index: usize| {
        let (Some(first), Some(second)) = (edges.get(index), edges.get(after(index))) else { return false };
        let alike = call(index).zip(call(after(index))).is_some_and(|(a, b)| std::ptr::eq(a, b));
        alike && first.path.tangent_at_end().turn_to(second.path.tangent_at_start()).abs() < SMOOTHLY
    };
    let bound = || (0..count).filter(|&i| call(i).is_some());
    let closes = count > 0 && (0..count).all(goes_on);
    if closes {
        return vec![Run { edges: (0..count).collect(), closes }];
    }
    let starts = bound().filter(|&i| !goes_on((i + count - 1) % count));
    let from = |start: usize| {
        let mut edges = vec![start];
        let mut last = start;
        while goes_on(last) {
            last = after(last);
            edges.push(last);
        }
        edges
    };
    starts.map(|start| Run { edges: from(start), closes }).collect()
}

/// The points of a mark that must lie on cloth.
fn places(shape: &MarkShape) -> Vec<Point> {
    match shape {
        MarkShape::Point { at } | MarkShape::Drill { at, .. } => vec![*at],
        MarkShape::Line { path } => vec![path.start, path.end()],
        MarkShape::OnEdge { .. } => Vec::new(),
    }
}

/// A size as it is kept.
pub(crate) fn extent(of: &Extents, why: ir::TraceId) -> ir::Extent {
    ir::Extent { width: Length::mm(of.width), height: Length::mm(of.height), area: Area::mm2(of.area), why }
}

//! How the lines beside two neighbouring edges become one cut line round their corner.

use super::CornerJoin;
use super::allowance::{Beside, fold_line_is_straight};
use super::error::CutError;
use super::fold::{Hem, fold_over};
use super::outline::{End, SHORTEST, Work};
use crate::geometry::{MITRE_LIMIT, Meeting, Path, Point, Segment, Vector, line_meeting, meetings, mitre};
use crate::source::Span;

/// Edges that turn by less than this (radians, five degrees) have no corner for allowances of different widths to meet at:
/// the cut line steps straight across from one to the other.
const NO_CORNER: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// Below this (radians) a joint is smooth.
const SMOOTH: f64 = 1e-6;

/// The way round a corner: from a distance along the first line, over some segments, on to a distance along the second.
#[derive(Debug, Clone)]
pub(crate) struct Joint {
    pub(crate) leave: f64,
    pub(crate) between: Vec<Segment>,
    pub(crate) enter: f64,
}

/// An edge and the line beside it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flank<'a> {
    pub(crate) work: &'a Work,
    pub(crate) beside: &'a Beside,
}

/// Why there is no way round a corner.
#[derive(Debug, Clone)]
pub(crate) enum NoJoint {
    /// This edge is too short for it.
    TooShort { second: bool },
    /// What was asked for can't be done.
    Asked(CutError),
}

/// The way round the corner from one edge to the next. `asked` is the source's choice and where it stands.
pub(crate) fn joint(first: Flank<'_>, second: Flank<'_>, asked: Option<(CornerJoin, Span)>) -> Result<Joint, NoJoint> {
    let corner = second.work.path.start;
    let (arriving, leaving) = (first.work.path.tangent_at_end(), second.work.path.tangent_at_start());
    let turn = arriving.turn_to(leaving);
    let alike = (first.beside.allowance - second.beside.allowance).abs() < SHORTEST;
    let at = Corner { at: corner, arriving, leaving, first: first.beside, second: second.beside };
    if turn.abs() <= SMOOTH || (turn.abs() < NO_CORNER && !alike) || first.beside.allowance + second.beside.allowance == 0.0 {
        return Ok(at.across());
    }
    if turn < 0.0 {
        return at.crossed();
    }
    if let Some(folded) = folded(&at, first, second, asked)? {
        return Ok(folded);
    }
    Ok(match asked.map(|(join, _)| join) {
        Some(CornerJoin::Bevelled) => at.across(),
        Some(CornerJoin::Square) => at.squared().unwrap_or_else(|| at.mitred()),
        _ => at.mitred(),
    })
}

/// A corner's figures.
struct Corner<'a> {
    at: Point,
    arriving: Vector,
    leaving: Vector,
    first: &'a Beside,
    second: &'a Beside,
}

impl Corner<'_> {
    /// How far lines may run on before they meet.
    fn limit(&self) -> f64 {
        MITRE_LIMIT * self.first.allowance.max(self.second.allowance)
    }

    fn nearest(&self, met: Vec<Meeting>) -> Option<Meeting> {
        met.into_iter().min_by(|m, n| m.at.distance(self.at).total_cmp(&n.at.distance(self.at)))
    }

    /// Inside a corner both lines end where they cross; where that is very far from the corner, because one allowance is
    /// much wider and the turn slight, the cut line steps across instead.
    fn crossed(&self) -> Result<Joint, NoJoint> {
        if let Some(m) = self.nearest(meetings(&self.first.line, &self.second.line)) {
            return Ok(Joint { leave: m.first, between: Vec::new(), enter: m.second });
        }
        let (end, start) = (self.first.line.end(), self.second.line.start);
        let far = line_meeting(end, self.arriving, start, self.leaving).is_none_or(|(on, _)| {
            let tip = end + self.arriving * on;
            tip.distance(self.at) > self.limit()
        });
        let second = self.second.length < self.first.length;
        if far { Ok(self.across()) } else { Err(NoJoint::TooShort { second }) }
    }

    /// Straight from the end of the first line to the start of the second.
    const fn across(&self) -> Joint {
        Joint { leave: self.first.length, between: Vec::new(), enter: 0.0 }
    }

    /// The second line with a run-up of a length before it.
    fn second_run_up(&self, run_up: f64) -> Path {
        let start = self.second.line.start;
        Path::line(start - self.leaving * run_up, start).then(&self.second.line)
    }

    /// Both lines run on until they meet.
    fn mitred(&self) -> Joint {
        let reach = 2.0 * self.limit();
        let first = self.first.line.clone().then(&Path::line(self.first.line.end(), self.first.line.end() + self.arriving * reach));
        let met = meetings(&first, &self.second_run_up(reach));
        let met = met.into_iter().filter(|m| m.at.distance(self.at) <= self.limit() * (1.0 + 1e-9)).collect();
        if let Some(m) = self.nearest(met) {
            return Joint {
                leave: m.first.min(self.first.length),
                between: vec![Segment::Line { end: m.at }],
                enter: (m.second - reach).max(0.0),
            };
        }
        let points = mitre(self.at, (self.first.line.end(), self.arriving), (self.second.line.start, self.leaving));
        Joint { leave: self.first.length, between: points.into_iter().map(|end| Segment::Line { end }).collect(), enter: 0.0 }
    }

    /// The first line runs on until the second one's meets its stitch line, and ends there at right angles.
    fn squared(&self) -> Option<Joint> {
        let limit = self.limit();
        let stitch = Path::line(self.at, self.at + self.arriving * limit);
        let m = self.nearest(meetings(&stitch, &self.second_run_up(limit)))?;
        let outer = m.at + self.arriving.right() * self.first.allowance;
        Some(Joint {
            leave: self.first.length,
            between: vec![Segment::Line { end: outer }, Segment::Line { end: m.at }],
            enter: (m.second - limit).max(0.0),
        })
    }
}

/// Which of the two is folded over the other, if any: asked for, or because one has a hem and the other none.
fn folded(at: &Corner<'_>, first: Flank<'_>, second: Flank<'_>, asked: Option<(CornerJoin, Span)>) -> Result<Option<Joint>, NoJoint> {
    let (a, b) = (first.beside.is_hem(), second.beside.is_hem());
    let explicit = asked.filter(|(join, _)| *join == CornerJoin::Folded).map(|(_, span)| span);
    if asked.is_some() && explicit.is_none() || !a && !b && explicit.is_none() || a && b && explicit.is_none() {
        return Ok(None);
    }
    let second_folds = match (a, b) {
        (false, false) => {
            let (first, second) = (first.work.name.clone(), second.work.name.clone());
            let span = explicit.unwrap_or_default();
            return Err(NoJoint::Asked(CutError::FoldedWithoutHem { first, second, span }));
        }
        (a, b) if a != b => b,
        // Of two hems the longer is folded last, over the ends of the shorter.
        _ => second.work.path.length() + super::outline::SAME >= first.work.path.length(),
    };
    let (hem, end) = if second_folds { (second, End::Start) } else { (first, End::Finish) };
    if let Err(radius) = fold_line_is_straight(&hem.work.path, end, hem.beside.allowance) {
        let (edge, allowance) = (hem.work.name.clone(), hem.beside.allowance);
        return match explicit {
            Some(span) => Err(NoJoint::Asked(CutError::FoldedOnCurve { edge, radius, allowance, span })),
            None => Ok(None),
        };
    }
    // Worked out as if the hem came second; a hem that comes first is the same seen the other way round.
    let (side, hem_line, along) = match second_folds {
        true => (at.first.line.clone(), at.second.line.clone(), at.leaving),
        false => (at.second.line.reversed(), at.first.line.reversed(), -at.arriving),
    };
    let outward = if second_folds { along.right() } else { along.left() };
    let hem_figures = Hem { corner: at.at, along, outward, folds: &hem.beside.folds, line: hem_line, limit: at.limit() };
    let Some(found) = fold_over(&side, &hem_figures) else {
        // The side is too short to be mirrored so far out.
        return match explicit {
            Some(_) => Err(NoJoint::TooShort { second: !second_folds }),
            None => Ok(None),
        };
    };
    Ok(Some(match second_folds {
        true => Joint { leave: found.leave, between: found.way.segments, enter: found.enter },
        false => {
            let (leave, enter) = (first.beside.length - found.enter, second.beside.length - found.leave);
            Joint { leave, between: straight_to(&found.way.reversed()), enter }
        }
    }))
}

/// The segments of a path, first a straight to its start: the line it goes on from may end elsewhere by a rounding error.
fn straight_to(path: &Path) -> Vec<Segment> {
    std::iter::once(Segment::Line { end: path.start }).chain(path.segments.iter().copied()).collect()
}

//! How the lines beside two neighbouring edges become one cut line round their corner.

use super::CornerJoin;
use super::allowance::{Beside, fold_line_is_straight};
use super::error::{CutError, Unfit};
use super::fold::{Hem, fold_over};
use super::outline::{End, SHORTEST, Work};
use crate::geometry::{MITRE_LIMIT, Meeting, Path, Point, Segment, Vector, meetings, mitre};
use crate::source::Span;

/// Edges that turn by less than this (radians, five degrees) have no corner for allowances of different widths to meet at:
/// the cut line steps straight across from one to the other.
pub(super) const NO_CORNER: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// Below this (radians) a joint is smooth.
const SMOOTH: f64 = 1e-6;

/// The way round a corner: from a distance along the first line, over some segments, on to a distance along the second.
#[derive(Debug, Clone)]
pub(crate) struct Joint {
    pub(crate) leave: f64,
    pub(crate) between: Vec<Segment>,
    pub(crate) enter: f64,
    /// Whether stepping straight across would do as well, should this leave nothing of an edge.
    pub(crate) may_step: bool,
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
    let at = Corner::between(first, second);
    match at.nothing_outside() {
        Some(Nothing::Straight | Nothing::NoAllowance) => {
            return Ok(if at.turn() < -SMOOTH && at.limit() > 0.0 { at.stepped() } else { at.across() });
        }
        Some(Nothing::Inward) => return at.crossed(),
        None => {}
    }
    if let Some(folded) = folded(&at, first, second, asked)? {
        return Ok(folded);
    }
    Ok(match asked.map(|(join, _)| join) {
        Some(CornerJoin::Bevelled) => at.across(),
        Some(CornerJoin::Square) => at.squared().unwrap_or_else(|| at.mitred()),
        Some(CornerJoin::Rounded) => at.rounded(),
        Some(CornerJoin::Stepped) => return at.notched_out(first, second).map_err(|why| at_fault(first, second, asked, why)),
        Some(CornerJoin::Trimmed) => at.trimmed().ok_or_else(|| at_fault(first, second, asked, Unfit::LinesDontMeet))?,
        Some(CornerJoin::Mitred | CornerJoin::Folded) | None => at.mitred(),
    })
}

/// Why allowances don't meet outside a corner, so that no way for them to meet makes a difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Nothing {
    /// The edges run on, or nearly.
    Straight,
    /// The corner turns inward.
    Inward,
    /// There is no allowance.
    NoAllowance,
}

/// Why two allowances have nothing to meet at outside the corner between two edges; none when they have.
pub(crate) fn nothing_outside(first: Flank<'_>, second: Flank<'_>) -> Option<Nothing> {
    Corner::between(first, second).nothing_outside()
}

fn at_fault(first: Flank<'_>, second: Flank<'_>, asked: Option<(CornerJoin, Span)>, why: Unfit) -> NoJoint {
    let (join, span) = asked.map_or(("mitred", Span::default()), |(join, span)| (join.word(), span));
    let edge = |of: Flank<'_>| (of.work.name.clone(), of.beside.allowance);
    NoJoint::Asked(CutError::JoinUnfit { first: edge(first), second: edge(second), join, why, span })
}

/// Which of two lines at a corner lies farther out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wider {
    First,
    Second,
}

/// A corner's figures.
pub(super) struct Corner<'a> {
    pub(super) at: Point,
    pub(super) arriving: Vector,
    pub(super) leaving: Vector,
    pub(super) first: &'a Beside,
    pub(super) second: &'a Beside,
}

impl<'a> Corner<'a> {
    fn between(first: Flank<'a>, second: Flank<'a>) -> Self {
        let (arriving, leaving) = (first.work.path.tangent_at_end(), second.work.path.tangent_at_start());
        Self { at: second.work.path.start, arriving, leaving, first: first.beside, second: second.beside }
    }
}

impl Corner<'_> {
    /// By how much the outline turns here; less than nothing inward.
    pub(super) fn turn(&self) -> f64 {
        self.arriving.turn_to(self.leaving)
    }

    fn nothing_outside(&self) -> Option<Nothing> {
        let (a, b, turn) = (self.first.allowance, self.second.allowance, self.turn());
        let alike = (a - b).abs() < SHORTEST;
        if turn.abs() <= SMOOTH || (turn.abs() < NO_CORNER && !alike) {
            Some(Nothing::Straight)
        } else if a + b == 0.0 {
            Some(Nothing::NoAllowance)
        } else {
            (turn < 0.0).then_some(Nothing::Inward)
        }
    }

    /// How far lines may run on before they meet.
    pub(super) fn limit(&self) -> f64 {
        MITRE_LIMIT * self.first.allowance.max(self.second.allowance)
    }

    pub(super) fn nearest(&self, met: Vec<Meeting>) -> Option<Meeting> {
        met.into_iter().min_by(|m, n| m.at.distance(self.at).total_cmp(&n.at.distance(self.at)))
    }

    /// Inside a corner both lines end where they cross. Where one allowance is much wider and the turn slight, the wider
    /// line lies clear of the narrower one at the corner: then it runs on backwards until they meet, or, when that is too
    /// far off or past the end of the narrower one, the cut line steps across.
    fn crossed(&self) -> Result<Joint, NoJoint> {
        let (first, second) = (self.first, self.second);
        let lines = |within| self.meeting(&first.line, 0.0, &second.line, 0.0, within);
        // An edge that bends away from the corner may still bring its line up to the other's.
        let found = match self.clear() {
            None => lines(f64::INFINITY),
            Some(wider) => lines(self.limit()).or_else(|| match wider {
                Wider::First => self.meeting(&self.first_run_on(), first.length, &second.line, 0.0, self.limit()),
                Wider::Second => self.meeting(&first.line, 0.0, &self.second_run_up(), -self.reach(), self.limit()),
            }),
        };
        match (found, self.clear()) {
            (Some(joint), _) => Ok(joint),
            (None, Some(_)) => Ok(self.stepped()),
            (None, None) => Err(NoJoint::TooShort { second: second.length < first.length }),
        }
    }

    /// Which of the lines lies farther out than the other at the corner, seen along either edge; none when neither does.
    pub(super) fn clear(&self) -> Option<Wider> {
        let (first, second, cos) = (self.first.allowance, self.second.allowance, self.arriving.dot(self.leaving));
        if first * cos > second {
            Some(Wider::First)
        } else if second * cos > first {
            Some(Wider::Second)
        } else {
            None
        }
    }

    /// How far lines are run on to find where they meet.
    pub(super) fn reach(&self) -> f64 {
        2.0 * self.limit()
    }

    /// The straight on which the first line runs on past its end.
    fn first_run_on(&self) -> Path {
        let end = self.first.line.end();
        Path::line(end, end + self.arriving * self.reach())
    }

    /// The straight that leads up to the second line's start.
    fn second_run_up(&self) -> Path {
        let start = self.second.line.start;
        Path::line(start - self.leaving * self.reach(), start)
    }

    /// Round the meeting of two lines that lies nearest to the corner and within a distance of it. `before` is what lies
    /// of the first line before the path given, `skipped` what lies of the second (less than nothing for a run-up).
    fn meeting(&self, first: &Path, before: f64, second: &Path, skipped: f64, within: f64) -> Option<Joint> {
        let met = meetings(first, second).into_iter().filter(|m| m.at.distance(self.at) <= within * (1.0 + 1e-9));
        self.nearest(met.collect()).map(|m| Joint {
            leave: (before + m.first).min(self.first.length),
            between: vec![Segment::Line { end: m.at }],
            enter: (m.second + skipped).max(0.0),
            may_step: false,
        })
    }

    /// Inside a corner: straight out from the corner, at right angles to the edge with the wider
    /// allowance, so that the narrower one is kept up to the step.
    fn stepped(&self) -> Joint {
        let ray = |along: Vector| Path::line(self.at, self.at + along.right() * self.limit());
        if self.first.allowance <= self.second.allowance {
            let met = self.nearest(meetings(&self.first.line, &ray(self.leaving)));
            met.map_or_else(|| self.across(), |m| Joint { leave: m.first, ..self.across() })
        } else {
            let met = self.nearest(meetings(&self.second.line, &ray(self.arriving)));
            met.map_or_else(|| self.across(), |m| Joint { enter: m.first, ..self.across() })
        }
    }

    /// Straight from the end of the first line to the start of the second.
    pub(super) const fn across(&self) -> Joint {
        Joint { leave: self.first.length, between: Vec::new(), enter: 0.0, may_step: false }
    }

    /// Outside a corner both lines run on until they meet, or past the mitre limit are cut off. Where one is much wider and
    /// the turn slight, they meet on the narrower one's run-on and the wider one itself.
    pub(super) fn mitred(&self) -> Joint {
        let (first, second, limit) = (self.first, self.second, self.limit());
        let met = match self.clear() {
            None => self.meeting(&self.first_run_on(), first.length, &self.second_run_up(), -self.reach(), limit),
            Some(Wider::First) => self.meeting(&first.line, 0.0, &self.second_run_up(), -self.reach(), limit),
            Some(Wider::Second) => self.meeting(&self.first_run_on(), first.length, &second.line, 0.0, limit),
        };
        if let Some(joint) = met {
            return Joint { may_step: self.clear().is_some(), ..joint };
        }
        let points = mitre(self.at, (first.line.end(), self.arriving), (second.line.start, self.leaving));
        Joint { between: points.into_iter().map(|end| Segment::Line { end }).collect(), ..self.across() }
    }

    /// The first line runs on until the second one's meets its stitch line, and ends there at right angles.
    fn squared(&self) -> Option<Joint> {
        let stitch = Path::line(self.at, self.at + self.arriving * self.limit());
        let m = self.nearest(meetings(&stitch, &self.second_run_up().then(&self.second.line)))?;
        let outer = m.at + self.arriving.right() * self.first.allowance;
        Some(Joint {
            leave: self.first.length,
            between: vec![Segment::Line { end: outer }, Segment::Line { end: m.at }],
            enter: (m.second - self.reach()).max(0.0),
            may_step: false,
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
        true => Joint { leave: found.leave, between: found.way.segments, enter: found.enter, may_step: false },
        false => {
            let (leave, enter) = (first.beside.length - found.enter, second.beside.length - found.leave);
            Joint { leave, between: straight_to(&found.way.reversed()), enter, may_step: false }
        }
    }))
}

/// The segments of a path, first a straight to its start: the line it goes on from may end elsewhere by a rounding error.
fn straight_to(path: &Path) -> Vec<Segment> {
    std::iter::once(Segment::Line { end: path.start }).chain(path.segments.iter().copied()).collect()
}

//! Notches: cut in from the cut line, never so deep that they reach the stitching.

use super::allowance::Beside;
use super::cap::Leg;
use super::cut::CutLine;
use super::error::{MarkError, OutlineError, Report};
use super::outline::SHORTEST;
use super::sheet::{Drawn, Sheet, Stretch};
use super::take::Take;
use super::{PanelInput, outline};
use crate::geometry::{Path, Point, Vector, distance_to, meetings};
use crate::ir::{EdgeId, Notch, NotchReason, NotchShape};
use crate::quantity::Length;
use crate::source::Span;
use std::collections::BTreeSet;

/// A notch is so deep (mm) where the allowance holds it and nothing else is said: deep enough to see.
const DEEP: f64 = 5.0;

/// What a notch leaves between itself and the stitch line (mm): a seam may be sewn a thread's width off.
pub(super) const CLEAR: f64 = 2.0;

/// The narrowest allowance (mm) that is notched: the notch is then 2 mm deep.
pub(super) const NARROWEST: f64 = 4.0;

/// Notches of a row stand so far apart (mm), or with so much cloth between their mouths. Common practice, no source.
const APART: f64 = 6.0;
const BETWEEN: f64 = 3.0;

/// An edge to notch.
#[derive(Debug, Clone, Copy)]
pub struct Notched<'a> {
    /// The finished edge.
    pub edge: &'a Path,
    /// Which edge of its piece it is.
    pub id: EdgeId,
    /// Its allowance, mm.
    pub allowance: f64,
    /// The cut line of its piece.
    pub cut_line: &'a Path,
}

/// What is to be cut at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// How far along the edge, mm.
    pub at: f64,
    /// Its form.
    pub shape: NotchShape,
    /// Whether the edge runs the other way than the one it is drawn on, so that its sides are the other way round.
    pub turned: bool,
    /// How many stand side by side.
    pub rows: u32,
    /// How deep, mm, if it is said.
    pub deep: Option<f64>,
    /// Where a dart's leg, run on, meets the cut line, and the way in along it to the edge, so far off.
    pub leg: Option<(Point, Vector, f64)>,
    /// What it marks.
    pub reason: NotchReason,
    /// Where it is asked for.
    pub origin: Span,
}

impl Wanted {
    /// A slit.
    #[must_use]
    pub const fn slit(at: f64, reason: NotchReason, origin: Span) -> Self {
        Self { at, shape: NotchShape::Slit, turned: false, rows: 1, deep: None, leg: None, reason, origin }
    }
}

/// Why a place can't be notched.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoNotch {
    /// The allowance is so wide there, and too narrow.
    Narrow(f64),
    /// It may be so deep at most.
    Deep(f64),
    /// Its row, or its mouth, which is so wide, reaches round a corner.
    Corner(f64),
}

/// The notches of a place on an edge, in the order the outline runs.
///
/// # Errors
/// [`NoNotch`] says why there are none.
pub fn notches_on(on: &Notched<'_>, wanted: &Wanted) -> Result<Vec<Notch>, NoNotch> {
    let foot = |at: f64| wanted.leg.unwrap_or_else(|| foot(on, at));
    let (_, _, room) = foot(wanted.at);
    if room < NARROWEST - SHORTEST {
        return Err(NoNotch::Narrow(room));
    }
    let most = room - CLEAR;
    if wanted.deep.is_some_and(|d| d > most + SHORTEST) {
        return Err(NoNotch::Deep(most));
    }
    let depth = wanted.deep.unwrap_or(DEEP).min(most);
    let width = if wanted.shape == NotchShape::Slit { 0.0 } else { depth };
    let step = APART.max(width + BETWEEN);
    let all = step * f64::from(wanted.rows - 1);
    let length = on.edge.length();
    if wanted.at - all / 2.0 < -SHORTEST || wanted.at + all / 2.0 > length + SHORTEST {
        return Err(NoNotch::Corner(all + width));
    }
    let one = |row: u32| {
        let at = (wanted.at - all / 2.0 + step * f64::from(row)).clamp(0.0, length);
        let (point, inward, room) = foot(at);
        let depth = depth.min(room - CLEAR);
        if depth < SHORTEST {
            return Err(NoNotch::Narrow(room));
        }
        let lines = lines(on.cut_line, point, inward, (depth, width), wanted).ok_or(NoNotch::Corner(all + width))?;
        let (reason, origin, shape, rows) = (wanted.reason, wanted.origin, wanted.shape, wanted.rows);
        let (at, place) = (Length::mm(at), Length::mm(wanted.at));
        let (depth, width) = (Length::mm(depth), Length::mm(width));
        Ok(Notch { edge: on.id, at, place, shape, rows, point, inward, depth, width, lines, reason, origin })
    };
    (0..wanted.rows).map(one).collect()
}

/// The cut line outside a place on an edge, the way in from there, and how far it is to the edge.
fn foot(on: &Notched<'_>, at: f64) -> (Point, Vector, f64) {
    let (place, outward) = (on.edge.point_at(at), on.edge.tangent_at(at).right());
    let point = place + outward * on.allowance;
    // Near an inward corner the cut line lies nearer than the allowance, outside a kink farther.
    let on_line = distance_to(&on.cut_line.flatten(outline::LOOK), point) <= 2.0 * outline::LOOK;
    let point = if on_line || on.allowance < NARROWEST {
        point
    } else {
        let ray = Path::line(place + outward * SHORTEST, place + outward * (on.allowance * 4.0));
        meetings(&ray, on.cut_line).first().map_or(point, |m| m.at)
    };
    (point, -outward, point.distance(place))
}

/// The lines of a notch; none when its mouth reaches past where the cut line runs on.
fn lines(cut: &Path, point: Point, inward: Vector, (depth, width): (f64, f64), wanted: &Wanted) -> Option<Vec<Path>> {
    let (along, half) = (inward.right(), width / 2.0);
    let tip = point + inward * depth;
    // Where one side of the mouth lies on the cut line: near where it would on a straight one, or a corner is in between.
    let mouth = |side: f64| {
        let (level, near) = (point + along * side, inward * (half / 2.0));
        let across = Path::line(level - near, level + near);
        meetings(&across, cut).into_iter().map(|m| m.at).min_by(|a, b| a.distance(level).total_cmp(&b.distance(level)))
    };
    let open = |inside: fn(Path, Point, Point, Point) -> Path| {
        let (enter, leave) = (mouth(-half)?, mouth(half)?);
        Some(vec![inside(Path::new(enter), tip - along * half, tip, tip + along * half).line_to(leave)])
    };
    match wanted.shape {
        NotchShape::Slit => Some(vec![Path::line(point, tip)]),
        NotchShape::Tee => Some(vec![Path::line(point, tip), Path::line(tip - along * half, tip + along * half)]),
        NotchShape::Vee => open(|path, _, tip, _| path.line_to(tip)),
        NotchShape::Castle => open(|path, left, _, right| path.line_to(left).line_to(right)),
        NotchShape::Check if wanted.turned => open(|path, _, _, right| path.line_to(right)),
        NotchShape::Check => open(|path, left, _, _| path.line_to(left)),
        NotchShape::U => open(|path, left, _, right| {
            // Straight in, then half a circle that touches the bottom.
            let out = (right - left).right() * 0.5;
            path.line_to(left + out).arc_to(right + out, -1.0)
        }),
    }
}

/// A notch on an edge.
pub(crate) type OnEdge = (usize, Wanted);

/// All notches of a drawn outline: those asked for and those at the legs of darts and pleats.
pub(crate) fn wanted(drawn: &Drawn, takes: &[Take], input: &PanelInput, report: &mut Report<'_>) -> Vec<OnEdge> {
    let mut wanted: Vec<OnEdge> = Vec::new();
    for notch in &input.notches {
        let Some(edge) = report.take(drawn.find(&notch.edge.0, notch.edge.1)) else { continue };
        let Some(at) = report.take(drawn.place(edge, notch.at, notch.from.as_ref())) else { continue };
        let (name, length) = drawn.work(edge).map_or_else(Default::default, |e| (e.name.clone(), e.path.length()));
        let given = notch.at.on(length);
        if !(at >= -SHORTEST && at <= length + SHORTEST) {
            report.push(MarkError::NotchPastEnd { edge: name, length, at: given, span: notch.span });
            continue;
        }
        if let Some(deep) = notch.deep.filter(|d| !(d.is_finite() && *d >= SHORTEST)) {
            report.push(OutlineError::UnusableSize { what: "the depth of this notch", size: deep, span: notch.span });
            continue;
        }
        let slit = Wanted::slit(at.clamp(0.0, length), NotchReason::Asked, notch.span);
        wanted.push((edge, Wanted { shape: notch.shape, rows: notch.rows, deep: notch.deep, ..slit }));
    }
    for take in takes {
        wanted.extend([take.from, take.to].map(|at| (take.edge, Wanted::slit(at, NotchReason::Fold, take.span))));
    }
    wanted
}

/// Those that fall to a piece, in the order of its outline.
pub(crate) fn place(
    sheet: &Sheet,
    besides: &[Beside],
    drawn: &[OnEdge],
    takes: &[Take],
    cut: &CutLine,
    report: &mut Report<'_>,
) -> Vec<Notch> {
    let outline = &sheet.outline;
    let here = |(edge, asked): &OnEdge| {
        let found = sheet.find(*edge, asked.at, asked.at).into_iter();
        let on_piece = |s: Stretch| (s.edge, Wanted { at: s.from, turned: s.turned, leg: leg(takes, cut, s.edge, s.from), ..*asked });
        found.map(on_piece).collect::<Vec<OnEdge>>()
    };
    let mut wanted: Vec<OnEdge> = drawn.iter().flat_map(here).collect();
    wanted.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.at.total_cmp(&b.1.at)));
    // Asked for twice alike, or where a dart's leg is notched anyway, it is one notch.
    let alike = |a: &Wanted, b: &Wanted| {
        a.reason == NotchReason::Fold || b.reason == NotchReason::Fold || (a.shape, a.rows, a.deep) == (b.shape, b.rows, b.deep)
    };
    wanted.dedup_by(|a, b| a.0 == b.0 && (a.1.at - b.1.at).abs() < super::outline::SAME && alike(&a.1, &b.1));
    let mut notches = Vec::new();
    // Both legs of a dart, and both halves of what is cut on the fold, are told of once.
    let mut told: BTreeSet<(Span, Option<usize>)> = BTreeSet::new();
    for (index, wanted) in wanted {
        let (Some(work), Some(beside)) = (outline.edges.get(index), besides.get(index)) else { continue };
        let on = Notched { edge: &work.path, id: EdgeId::at(index), allowance: beside.allowance, cut_line: &cut.path };
        match notches_on(&on, &wanted) {
            Ok(found) => notches.extend(found),
            Err(why) if told.insert((wanted.origin, sheet.source(index))) => {
                report.push(MarkError::NoNotch { edge: work.name.clone(), wanted: Box::new(wanted), why });
            }
            Err(_) => {}
        }
    }
    notches
}

/// The end of a dart's leg that stands at a place on an edge, where the dart has a cap.
fn leg(takes: &[Take], cut: &CutLine, edge: usize, at: f64) -> Option<Leg> {
    takes.iter().zip(&cut.caps).filter(|(take, _)| take.edge == edge).find_map(|(take, cap)| {
        let [one, two] = (*cap)?;
        let stands = |place: f64| (place - at).abs() < super::outline::SAME;
        if stands(take.from) { Some(one) } else { stands(take.to).then_some(two) }
    })
}

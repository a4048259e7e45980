//! Goods consumed, added up by material and by how they are counted.

use super::trail::{Figure, Trail};
use crate::ir::{Amount, Design, MaterialId, Piece, TraceId, Use};
use crate::quantity::{Area, Dimension, Length, Mass};
use indexmap::IndexMap;

/// How an amount is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Counted {
    Area,
    Length,
    Count,
    Mass,
}

impl Counted {
    const fn of(amount: Amount) -> (Self, f64) {
        match amount {
            Amount::Area(a) => (Self::Area, a.as_mm2()),
            Amount::Length(l) => (Self::Length, l.as_mm()),
            Amount::Count(n) => (Self::Count, n),
            Amount::Mass(m) => (Self::Mass, m.as_grams()),
        }
    }

    pub(super) const fn amount(self, value: f64) -> Amount {
        match self {
            Self::Area => Amount::Area(Area::mm2(value)),
            Self::Length => Amount::Length(Length::mm(value)),
            Self::Count => Amount::Count(value),
            Self::Mass => Amount::Mass(Mass::grams(value)),
        }
    }

    pub(super) const fn figure(self, value: f64) -> Figure<'static> {
        let dimension = match self {
            Self::Area => Dimension::AREA,
            Self::Length => Dimension::LENGTH,
            Self::Count => Dimension::NUMBER,
            Self::Mass => Dimension::MASS,
        };
        Figure::Of(value, dimension)
    }
}

/// What there is of one material, counted one way.
#[derive(Debug, Default)]
pub(super) struct Total {
    pub(super) value: f64,
    pub(super) parts: Vec<TraceId>,
}

/// All goods.
pub(super) type Tally = IndexMap<(MaterialId, Counted), Total>;

/// Everything that pieces and their attachments, finishes and seams consume; thread stands elsewhere.
pub(super) fn tally(design: &Design, trail: &mut Trail<'_>) -> Tally {
    let mut tally = Tally::new();
    for piece in &design.pieces {
        add_piece(&mut tally, trail, piece);
    }
    let mut lines: IndexMap<String, Vec<(&Use, f64)>> = IndexMap::new();
    for attachment in &design.attachments {
        lines.entry(format!("`{}`", attachment.name)).or_default().extend(attachment.uses.iter().map(|u| (u, 1.0)));
    }
    for piece in &design.pieces {
        for edge in &piece.edges {
            let uses = edge.finish.iter().flat_map(|f| &f.uses);
            let name = || format!("the finish of `{}.{}`", piece.name, edge.name);
            for u in uses {
                lines.entry(name()).or_default().push((u, copies(piece)));
            }
        }
    }
    for (name, uses) in seam_uses(design) {
        lines.entry(name).or_default().extend(uses.iter().map(|u| (u, 1.0)));
    }
    for (line, uses) in lines {
        add_line(&mut tally, trail, design, &line, &uses);
    }
    tally
}

fn copies(piece: &Piece) -> f64 {
    f64::from(u32::try_from(piece.copies.len()).unwrap_or(u32::MAX))
}

fn seam_uses(design: &Design) -> Vec<(String, &[Use])> {
    let mut all: Vec<(String, &[Use])> = Vec::new();
    for seam in &design.seams {
        if let Some(finish) = &seam.finish {
            all.push((format!("the finish of `{}`", seam.name), &finish.uses));
        }
        if let Some(close) = seam.form.close() {
            all.push((format!("the closing of `{}`", seam.name), &close.uses));
        }
    }
    for applied in &design.applied {
        let name = design.piece(applied.piece).map_or("", |p| p.name.as_str());
        all.push((format!("sewing on `{name}`"), &applied.finish.uses));
    }
    all
}

fn add_piece(tally: &mut Tally, trail: &mut Trail<'_>, piece: &Piece) {
    let count = copies(piece);
    let value = piece.cut.area.as_mm2() * count;
    let how = if piece.copies.len() == 1 { "cut once".to_owned() } else { format!("{count} times the cut area of one") };
    let what = format!("cut area of `{}`, all copies", piece.name);
    let id = trail.step(what, how, Counted::Area.figure(value), &[piece.cut.why]);
    trail.fact(format!("cut_area.{}", piece.name), id);
    let total = tally.entry((piece.material, Counted::Area)).or_default();
    total.value += value;
    total.parts.push(id);
}

/// How much each time, how often, and where that comes from.
type Amounts = (f64, f64, TraceId);

fn add_line(tally: &mut Tally, trail: &mut Trail<'_>, design: &Design, line: &str, uses: &[(&Use, f64)]) {
    let mut sums: IndexMap<(MaterialId, Counted), Vec<Amounts>> = IndexMap::new();
    for (used, times) in uses {
        let (counted, each) = Counted::of(used.amount);
        sums.entry((used.material, counted)).or_default().push((each, *times, used.why));
    }
    for ((material, counted), amounts) in sums {
        let Some(goods) = design.material(material) else { continue };
        let value: f64 = amounts.iter().map(|(each, times, _)| each * times).sum();
        let number: f64 = amounts.iter().map(|(_, times, _)| times).sum();
        let inputs: Vec<TraceId> = amounts.iter().map(|(.., why)| *why).collect();
        let alike = amounts.windows(2).all(|w| matches!(w, [a, b] if (a.0 - b.0).abs() < 1e-9));
        let how = match number {
            1.0 => "once".to_owned(),
            n if alike => format!("{n} times as much"),
            n => format!("{n} amounts added up"),
        };
        let id = trail.step(format!("`{}` for {line}", goods.name), how, counted.figure(value), &inputs);
        // Cloth told by length takes the whole width of the roll.
        let by_length = goods.width.filter(|_| goods.kind.is_sheet() && counted == Counted::Length);
        let (counted, value, id) = match by_length {
            Some(width) => {
                let area = value * width.as_mm();
                let how = "its length times the width of the roll".to_owned();
                let what = format!("area of `{}` for {line}", goods.name);
                (Counted::Area, area, trail.step(what, how, Counted::Area.figure(area), &[id]))
            }
            None => (counted, value, id),
        };
        let total = tally.entry((material, counted)).or_default();
        total.value += value;
        total.parts.push(id);
    }
}

//! The sewing order and the bill of materials for programs. Millimetres, square millimetres and
//! grams; the units are stated in the file. The resolved geometry itself has its own form, [`crate::ir::to_json`].

mod why;

pub use why::why;

use crate::analysis::report::{GoodsRow, MaterialsReport, OrderReport, OrderStep};
use crate::ir::{Amount, Design, Text, pretty};
use crate::quantity::{Money, Style};
use serde::Serialize;
use serde_json::{Error, Value};

/// The version of these forms; it grows when a field changes its meaning or goes.
const FORMAT: u32 = 1;

const UNITS: Units = Units { length: "mm", area: "mm2", mass: "g", text: "metric" };

#[derive(Serialize)]
struct Units {
    length: &'static str,
    area: &'static str,
    mass: &'static str,
    text: &'static str,
}

#[derive(Serialize)]
struct Head<'d> {
    format: u32,
    design: &'d str,
    title: &'d str,
    size: Option<&'d str>,
    size_title: &'d str,
    units: Units,
}

impl<'d> Head<'d> {
    fn of(design: &'d Design) -> Self {
        Self {
            format: FORMAT,
            design: &design.name,
            title: &design.title,
            size: design.size.as_deref(),
            size_title: &design.size_title,
            units: UNITS,
        }
    }
}

#[derive(Serialize)]
struct Order<'d> {
    #[serde(flatten)]
    head: Head<'d>,
    cautions: Vec<String>,
    steps: Vec<Step<'d>>,
}

#[derive(Serialize)]
struct Step<'d> {
    number: u32,
    name: &'d str,
    kind: Value,
    what: String,
    places: Vec<Place<'d>>,
    facing: Option<&'d str>,
    stitch: Option<StitchOf>,
    sewn: f64,
    why_now: Option<WhyNow<'d>>,
}

#[derive(Serialize)]
struct Place<'d> {
    edge: &'d str,
    distances: Vec<f64>,
    from_end: &'d str,
    stretch: [f64; 2],
}

#[derive(Serialize)]
struct StitchOf {
    kind: Value,
    words: &'static str,
    length: f64,
}

#[derive(Serialize)]
struct WhyNow<'d> {
    before: u32,
    because: &'d str,
}

#[derive(Serialize)]
struct Materials<'d> {
    #[serde(flatten)]
    head: Head<'d>,
    cut_list: Vec<Cut<'d>>,
    goods: Vec<Goods<'d>>,
    thread: Vec<ThreadOf>,
    mass: f64,
    cost: &'d [Money],
    without_mass: &'d [String],
    without_price: &'d [String],
    assumptions: Vec<String>,
}

#[derive(Serialize)]
struct Cut<'d> {
    piece: &'d str,
    label: &'d str,
    count: u32,
    mirrored: u32,
    on_fold: bool,
    material: &'d str,
    finished: [f64; 2],
    cut: [f64; 2],
    finished_area: f64,
    cut_area: f64,
    mass: Option<f64>,
}

#[derive(Serialize)]
struct Goods<'d> {
    material: &'d str,
    title: &'d str,
    kind: &'d str,
    amount: f64,
    unit: &'static str,
    roll_at_least: Option<f64>,
    mass: Option<f64>,
    cost: Option<&'d Money>,
    source: &'d str,
}

#[derive(Serialize)]
struct ThreadOf {
    stitch: Value,
    words: &'static str,
    sewn: f64,
    thread: f64,
}

/// The sewing order as JSON, byte-identical for equal designs.
///
/// # Errors
/// When a figure has no written form.
pub fn order(design: &Design, report: &OrderReport) -> Result<String, Error> {
    let steps = report.steps.iter().map(|s| step(design, s)).collect::<Result<_, _>>()?;
    pretty(&Order { head: Head::of(design), cautions: said(&report.cautions), steps })
}

fn step<'d>(design: &'d Design, step: &'d OrderStep) -> Result<Step<'d>, Error> {
    let op = design.operations.get(step.operation.index());
    let place = |(place, edge): (&'d crate::ir::Where, &'d String)| Place {
        edge,
        distances: place.distances.iter().map(|d| d.as_mm()).collect(),
        from_end: &place.from_end,
        stretch: [place.side.from.as_mm(), place.side.to.as_mm()],
    };
    let stitch = match &step.stitch {
        Some(s) => Some(StitchOf { kind: serde_json::to_value(s.kind)?, words: s.kind.words(), length: s.length.as_mm() }),
        None => None,
    };
    Ok(Step {
        number: step.number,
        name: op.map_or("", |o| o.name.as_str()),
        kind: op.map(|o| serde_json::to_value(o.kind)).transpose()?.unwrap_or_default(),
        what: step.what.worded(Style::default()),
        places: step.places.iter().zip(&step.edge_names).map(place).collect(),
        facing: step.facing.as_deref(),
        stitch,
        sewn: step.sewn.as_mm(),
        why_now: step.why_now.as_ref().map(|w| WhyNow { before: w.before, because: &w.because }),
    })
}

/// The cut list and the bill of materials as JSON, byte-identical for equal designs.
///
/// # Errors
/// When a figure has no written form.
pub fn materials(design: &Design, report: &MaterialsReport) -> Result<String, Error> {
    let cut = |row: &'_ crate::analysis::report::CutRow| design.piece(row.piece).map_or("", |p| p.name.as_str());
    let cut_list = report
        .cuts
        .iter()
        .map(|row| Cut {
            piece: cut(row),
            label: &row.label,
            count: row.count,
            mirrored: row.mirrored,
            on_fold: row.on_fold,
            material: &row.material,
            finished: [row.finished.0.as_mm(), row.finished.1.as_mm()],
            cut: [row.cut.0.as_mm(), row.cut.1.as_mm()],
            finished_area: row.finished_area.as_mm2(),
            cut_area: row.cut_area.as_mm2(),
            mass: row.mass.map(|m| m.as_grams()),
        })
        .collect();
    let mut thread = Vec::new();
    for row in &report.thread {
        let stitch = serde_json::to_value(row.stitch)?;
        thread.push(ThreadOf { stitch, words: row.stitch.words(), sewn: row.sewn.as_mm(), thread: row.thread.as_mm() });
    }
    pretty(&Materials {
        head: Head::of(design),
        cut_list,
        goods: report.goods.iter().map(|row| goods(design, row)).collect(),
        thread,
        mass: report.mass.as_grams(),
        cost: &report.cost,
        without_mass: &report.without_mass,
        without_price: &report.without_price,
        assumptions: said(&report.assumptions),
    })
}

fn goods<'d>(design: &'d Design, row: &'d GoodsRow) -> Goods<'d> {
    let material = design.material(row.material);
    let (amount, unit) = match row.amount {
        Amount::Length(l) => (l.as_mm(), "mm"),
        Amount::Area(a) => (a.as_mm2(), "mm2"),
        Amount::Count(n) => (n, "pieces"),
        Amount::Mass(m) => (m.as_grams(), "g"),
    };
    Goods {
        material: material.map_or("", |m| m.name.as_str()),
        title: &row.title,
        kind: &row.kind,
        amount,
        unit,
        roll_at_least: row.roll_length.map(|l| l.as_mm()),
        mass: row.mass.map(|m| m.as_grams()),
        cost: row.cost.as_ref(),
        source: material.map_or("", |m| m.source.as_str()),
    }
}

fn said(texts: &[Text]) -> Vec<String> {
    texts.iter().map(|t| t.worded(Style::default())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis;
    use crate::ir::sample::quilt;

    fn at<'v>(value: &'v Value, path: &str) -> &'v Value {
        value.pointer(path).unwrap_or_else(|| panic!("nothing at {path}"))
    }

    #[test]
    fn the_order_for_programs() {
        let (s, _) = quilt();
        let report = analysis::order::order(&s.design);
        let text = order(&s.design, &report).expect("JSON");
        let value: Value = serde_json::from_str(&text).expect("JSON");
        assert_eq!(at(&value, "/units/length"), "mm");
        assert_eq!(at(&value, "/steps/4/name"), "loops");
        assert_eq!(at(&value, "/steps/4/kind"), "place");
        assert_eq!(at(&value, "/steps/4/places/0/edge"), "outer.left");
        assert_eq!(at(&value, "/steps/4/places/0/distances"), &serde_json::json!([250.0, 600.0]));
        assert_eq!(at(&value, "/steps/5/stitch/kind"), "lockstitch");
        assert_eq!(at(&value, "/steps/5/stitch/length"), 2.5);
        assert_eq!(at(&value, "/steps/4/why_now/before"), 6);
        assert_eq!(value.pointer("/steps").and_then(Value::as_array).map(Vec::len), Some(8));
        assert_eq!(text, order(&s.design, &report).expect("JSON"));
    }

    #[test]
    fn the_bill_for_programs() {
        let (s, _) = quilt();
        let report = analysis::materials::materials(&s.design);
        let value: Value = serde_json::from_str(&materials(&s.design, &report).expect("JSON")).expect("JSON");
        assert_eq!(at(&value, "/cut_list/0/cut_area"), 2_262_601.497);
        assert_eq!(at(&value, "/goods/0/unit"), "mm2");
        assert_eq!(at(&value, "/cost/0/currency"), "EUR");
        assert_eq!(at(&value, "/without_price/0"), "The loft");
        assert_eq!(at(&value, "/thread/0/words"), "lockstitch (301)");
    }
}

//! Cut list, bill of goods, mass and cost, each with the steps behind it.
//!
//! Lengths of roll are least lengths: what no lay could undercut. Mass is of what is in the
//! design; cost is of what must be had for it.

mod roll;
mod sewing;
mod tally;
#[cfg(test)]
mod tests;
mod thread;
mod trail;

use crate::analysis::report::{CutRow, GoodsRow, MaterialsReport};
use crate::ir::{Design, Material, MaterialId, MaterialKind, PricedBy, Text, TraceId};
use crate::quantity::{Dimension, Length, Mass, Money};
use sewing::Sewing;
use tally::{Counted, Total};
use trail::{Figure, Trail};

/// The cut list and the bill of materials of a design.
#[must_use]
pub fn materials(design: &Design) -> MaterialsReport {
    let mut trail = Trail::after(&design.provenance);
    let tally = tally::tally(design, &mut trail);
    let sewing = sewing::sewing(design, &mut trail);
    let mut bill = Bill { design, trail, rows: Vec::new(), masses: Vec::new(), costs: Vec::new(), left: Left::default() };
    let thread = bill.thread_material();
    for index in 0..design.materials.len() {
        let id = MaterialId::at(index);
        for counted in [Counted::Area, Counted::Length, Counted::Count, Counted::Mass] {
            if let Some(total) = tally.get(&(id, counted)) {
                bill.row(id, counted, total);
            }
        }
    }
    bill.sewing(&sewing, thread);
    let (mass, cost) = bill.totals();
    let mut assumptions = sewing.assumptions;
    if bill.rows.iter().any(|r| r.roll_length.is_some()) {
        let words = "Lengths of roll are the least that could hold the pieces; the lay that is cut from takes more.";
        assumptions.push(Text::words(words));
    }
    MaterialsReport {
        cuts: cuts(design),
        goods: bill.rows,
        thread: sewing.rows,
        mass,
        cost,
        without_mass: bill.left.mass,
        without_price: bill.left.price,
        assumptions,
        further: bill.trail.done(),
    }
}

fn cuts(design: &Design) -> Vec<CutRow> {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let row = |(index, piece): (usize, &crate::ir::Piece)| {
        let material = design.material(piece.material);
        let all = piece.cut.area * f64::from(count(piece.copies.len()));
        CutRow {
            piece: crate::ir::PieceId::at(index),
            label: piece.label.clone(),
            count: count(piece.copies.len()),
            mirrored: count(piece.copies.iter().filter(|c| c.mirrored).count()),
            material: material.map(|m| m.title.clone()).unwrap_or_default(),
            finished: (piece.finished.width, piece.finished.height),
            cut: (piece.cut.width, piece.cut.height),
            finished_area: piece.finished.area,
            cut_area: piece.cut.area,
            mass: material.and_then(|m| m.mass).map(|m| Mass::grams(m * all.as_mm2())),
        }
    };
    design.pieces.iter().enumerate().map(row).collect()
}

/// Titles left out of totals.
#[derive(Default)]
struct Left {
    mass: Vec<String>,
    price: Vec<String>,
}

/// The bill on its way.
struct Bill<'d> {
    design: &'d Design,
    trail: Trail<'d>,
    rows: Vec<GoodsRow>,
    masses: Vec<(f64, TraceId)>,
    costs: Vec<(Money, TraceId)>,
    left: Left,
}

/// What a price or a mass is reckoned from.
struct Held {
    counted: Counted,
    value: f64,
    why: TraceId,
    roll: Option<(Length, TraceId)>,
    /// What stays in the design, where that is less than the amount.
    kept: Option<(f64, TraceId)>,
}

impl Bill<'_> {
    /// The thread all sewing is done with: the design's last material, if it is thread.
    fn thread_material(&self) -> Option<MaterialId> {
        let last = self.design.materials.len().checked_sub(1)?;
        self.design.materials.last().filter(|m| m.kind == MaterialKind::Thread).map(|_| MaterialId::at(last))
    }

    fn row(&mut self, id: MaterialId, counted: Counted, total: &Total) {
        let Some(material) = self.design.material(id) else { return };
        let sliders = counted == Counted::Count && material.kind == MaterialKind::Zipper;
        let key = if sliders { format!("{}.sliders", material.name) } else { material.name.clone() };
        let what = format!("amount of `{key}`");
        let how = if total.parts.len() == 1 { "all of it" } else { "added up" };
        let why = self.trail.step(what, how.to_owned(), counted.figure(total.value), &total.parts);
        self.trail.fact(format!("amount.{key}"), why);
        let by_area = material.kind.is_sheet() && counted == Counted::Area;
        let roll = if by_area { roll::least(self.design, id, (total.value, why), &mut self.trail) } else { None };
        if let Some((_, step)) = roll {
            self.trail.fact(format!("roll.{key}"), step);
        }
        self.finish_row(id, &key, &Held { counted, value: total.value, why, roll, kept: None });
    }

    fn sewing(&mut self, sewing: &Sewing, thread: Option<MaterialId>) {
        if sewing.parts.is_empty() {
            return;
        }
        let needed = sewing.needed.as_mm();
        let why = self.trail.step("thread".into(), "all sewing added up".into(), Counted::Length.figure(needed), &sewing.parts);
        self.trail.fact("thread".into(), why);
        if let Some((id, name)) = thread.and_then(|id| self.design.material(id).map(|m| (id, m.name.clone()))) {
            self.trail.fact(format!("amount.{name}"), why);
            let how = "what is sewn in; ends and waste are not weighed".to_owned();
            let kept = sewing.kept.as_mm();
            let in_it = self.trail.step("thread in the design".into(), how, Counted::Length.figure(kept), &[why]);
            let held = Held { counted: Counted::Length, value: needed, why, roll: None, kept: Some((kept, in_it)) };
            self.finish_row(id, &name, &held);
        }
    }

    fn finish_row(&mut self, id: MaterialId, key: &str, held: &Held) {
        let Some(material) = self.design.material(id) else { return };
        let sliders = key != material.name;
        let title = if sliders { format!("{}: sliders", material.title) } else { material.title.clone() };
        let mass = self.mass(material, key, held);
        let cost = self.cost(material, key, held, mass);
        if mass.is_none() && !self.left.mass.contains(&title) {
            self.left.mass.push(title.clone());
        }
        if cost.is_none() && !self.left.price.contains(&title) {
            self.left.price.push(title.clone());
        }
        self.masses.extend(mass);
        self.costs.extend(cost.clone());
        self.rows.push(GoodsRow {
            material: id,
            title,
            kind: material.kind.words().into(),
            amount: held.counted.amount(held.value),
            roll_length: held.roll.map(|(l, _)| l),
            mass: mass.map(|(m, _)| Mass::grams(m)),
            cost: cost.map(|(m, _)| m),
            why: held.why,
        });
    }

    fn mass(&mut self, material: &Material, key: &str, held: &Held) -> Option<(f64, TraceId)> {
        let (amount, why) = held.kept.unwrap_or((held.value, held.why));
        let (value, how) = match (held.counted, material.kind) {
            (Counted::Mass, _) => (amount, "told by mass"),
            (Counted::Area, MaterialKind::Cloth | MaterialKind::Batting) => (amount * material.mass?, "area times its mass per area"),
            (Counted::Length, k) if !k.is_sheet() && k != MaterialKind::Hardware => {
                (amount * material.mass?, "length times its mass per length")
            }
            (Counted::Count, MaterialKind::Hardware) => (amount * material.mass?, "number times the mass of one"),
            (Counted::Count, MaterialKind::Zipper) => (amount * material.slider_mass?.as_grams(), "number times the mass of one"),
            _ => return None,
        };
        let step = self.trail.step(format!("mass of `{key}`"), how.into(), Figure::Of(value, Dimension::MASS), &[why, material.why_mass]);
        self.trail.fact(format!("mass.{key}"), step);
        Some((value, step))
    }

    fn cost(&mut self, material: &Material, key: &str, held: &Held, mass: Option<(f64, TraceId)>) -> Option<(Money, TraceId)> {
        let sliders = held.counted == Counted::Count && material.kind == MaterialKind::Zipper;
        let (unit, amount, why, how) = if sliders {
            (material.slider_price.as_ref()?, held.value, held.why, "number times the price of one")
        } else {
            let price = material.price.as_ref()?;
            let (amount, why, how) = match (price.per, held.counted) {
                (PricedBy::Length, Counted::Area) => {
                    held.roll.map(|(l, w)| (l.as_mm(), w, "least length of roll times its price per length"))?
                }
                (PricedBy::Length, Counted::Length) => (held.value, held.why, "length times its price per length"),
                (PricedBy::Area, Counted::Area) => (held.value, held.why, "area times its price per area"),
                (PricedBy::Each, Counted::Count) => (held.value, held.why, "number times the price of one"),
                (PricedBy::Mass, _) => mass.map(|(m, w)| (m, w, "mass times its price per mass"))?,
                _ => return None,
            };
            (&price.money, amount, why, how)
        };
        let money = Money { amount: unit.amount * amount, currency: unit.currency.clone() };
        let figure = Figure::Money(money.amount, &money.currency);
        let step = self.trail.step(format!("cost of `{key}`"), how.into(), figure, &[why, material.why_price]);
        self.trail.fact(format!("cost.{key}"), step);
        Some((money, step))
    }

    fn totals(&mut self) -> (Mass, Vec<Money>) {
        let mass: f64 = self.masses.iter().map(|(m, _)| m).sum();
        let parts: Vec<TraceId> = self.masses.iter().map(|(_, w)| *w).collect();
        let how = left_out("all goods added up", &self.left.mass);
        let step = self.trail.step("mass of the finished design".into(), how, Figure::Of(mass, Dimension::MASS), &parts);
        self.trail.fact("mass".into(), step);

        let mut sums: Vec<(Money, Vec<TraceId>)> = Vec::new();
        for (money, why) in &self.costs {
            match sums.iter_mut().find(|(sum, _)| sum.currency == money.currency) {
                Some((sum, parts)) => {
                    sum.amount += money.amount;
                    parts.push(*why);
                }
                None => sums.push((money.clone(), vec![*why])),
            }
        }
        let how = left_out("all goods added up", &self.left.price);
        let many = sums.len() > 1;
        let mut steps = Vec::new();
        for (sum, parts) in &sums {
            let what = if many { format!("cost in {}", sum.currency) } else { "cost of the goods".to_owned() };
            steps.push(self.trail.step(what, how.clone(), Figure::Money(sum.amount, &sum.currency), parts));
        }
        let step = match steps.as_slice() {
            [one] => Some(*one),
            [] => None,
            all => Some(self.trail.step("cost of the goods".into(), "one sum a currency".into(), Figure::None, all)),
        };
        if let Some(step) = step {
            self.trail.fact("cost".into(), step);
        }
        (Mass::grams(mass), sums.into_iter().map(|(sum, _)| sum).collect())
    }
}

/// The sentence behind a total, with what it leaves out.
fn left_out(how: &str, left: &[String]) -> String {
    if left.is_empty() { how.to_owned() } else { format!("{how}, without {}", left.join(", ")) }
}

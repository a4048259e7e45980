//! Cutters: their figures, and the materials that go to them.

mod error;

pub use error::CODES;

use super::evaluator::{Eval, Evaluator, Stop};
use super::value::{Env, Value};
use crate::check::{CROSSES, CutterId, Entity};
use crate::ir::{self, CutMaterial, CutterKind, LineSort, MaterialId, Text};
use crate::quantity::{Dimension, Length, said_least, said_length, said_most};
use crate::source::Span;
use crate::syntax::ast;
use error::CutterError;
use std::collections::BTreeMap;

/// Where a cutter says nothing of it, mm. Two frames have a thumb's width in common; a knife goes on by what its makers
/// recommend to try first; pieces lie apart by what is common practice (no source) for each sort of machine.
const OVERLAP: f64 = 20.0;
const OVERCUT: f64 = 1.0;
const GAP_LASER: f64 = 2.0;
const GAP_OTHER: f64 = 5.0;
/// Black on white, white on black.
const COLOUR: u8 = 7;
/// No bed is smaller (mm): less than a hand is a slip of the pen.
const LEAST_BED: f64 = 100.0;

/// Larger than this (mm) is a slip of the pen: ten times what is usual, from memory.
const MOST: &[(&str, f64)] = &[("kerf", 3.0), ("offset", 10.0), ("overcut", 20.0)];

/// What to heed at a laser. Common practice, no source, but for the gas of vinyl, for which workshops refuse it.
const AT_A_LASER: &[&str] = &[
    "Laser: never leave it alone while it runs. Have an extinguisher for it at hand and the bed free of scraps: nylon and polyester melt, \
     drip and burn.",
    "Laser: run the extraction, and let it run on after the last cut. The smoke of synthetic cloth harms eyes and lungs.",
    "Laser: nothing whose coating you don't know goes under it. Vinyl (PVC) and coatings with chlorine or fluorine give off poisonous gas \
     that also eats the machine. Ask the seller for a data sheet.",
    "Laser: cut one layer at a time; synthetic layers weld together. Try power and speed on a scrap.",
    "Laser: the machine's instructions, local rules and whoever answers for the machine come before this list.",
];
/// What to heed at a blade. Common practice, no source.
const AT_A_BLADE: &[&str] = &[
    "Blade: keep fingers, sleeves and hair away from it while it moves; switch off before you reach in or change it.",
    "Blade: close or cap every blade that is laid down, and count them at the end.",
    "Blade: the machine's instructions and local rules come before this list.",
];

impl<'p> Evaluator<'p> {
    /// The cutters that something goes to, in the order in which they are first named.
    pub(crate) fn cutters(&mut self) -> Vec<ir::Cutter> {
        let program = self.program;
        let mut all: Vec<(CutterId, ir::Cutter)> = Vec::new();
        let mut taken: BTreeMap<MaterialId, (String, Span)> = BTreeMap::new();
        for declared in &program.cut_withs {
            if self.stands(declared) {
                let outcome = self.cut_with(&declared.item, &Env::of(declared.scope), &mut all, &mut taken);
                self.each(outcome);
            }
        }
        let cutters: Vec<ir::Cutter> = all.into_iter().map(|(_, c)| c).filter(|c| !c.materials.is_empty()).collect();
        for caution in cutters.iter().flat_map(|c| &c.cautions) {
            if !self.cautions.contains(caution) {
                self.cautions.push(caution.clone());
            }
        }
        cutters
    }

    fn cut_with(
        &mut self,
        line: &'p ast::CutWith,
        env: &Env<'p>,
        all: &mut Vec<(CutterId, ir::Cutter)>,
        taken: &mut BTreeMap<MaterialId, (String, Span)>,
    ) -> Eval<()> {
        let Entity::Cutter(id) = self.entity(env.scope, &line.cutter)? else { return Err(Stop) };
        if !all.iter().any(|(known, _)| *known == id) {
            let cutter = self.cutter(id)?;
            all.push((id, cutter));
        }
        for expr in &line.materials {
            let goods = self.goods_of(expr, env)?;
            let (material, cutter) = (goods.name.clone(), line.cutter.text.clone());
            let known = self.stocked(&goods)?.filter(|&m| self.pieces.iter().any(|p| p.material == m));
            let Some(found) = known else {
                // A panel that could not be drawn is cut of nothing; that is said already.
                if self.problems.has_errors() {
                    continue;
                }
                self.problems.push(CutterError::NothingOfIt { material, cutter, span: expr.span });
                continue;
            };
            if let Some(first) = taken.insert(found, (cutter.clone(), expr.span)) {
                return self.fail(CutterError::TwoCutters { material, first, second: (cutter, expr.span) });
            }
            if let Some((_, cutter)) = all.iter_mut().find(|(known, _)| *known == id) {
                cutter.materials.push(CutMaterial { material: found, origin: expr.span });
            }
        }
        Ok(())
    }

    fn cutter(&mut self, id: CutterId) -> Eval<ir::Cutter> {
        let program = self.program;
        let Some(declared) = program.cutters.get(id.index()) else { return Err(Stop) };
        let (item, env) = (&declared.item, Env::of(declared.scope));
        let kind = kind_named(&item.kind.text).ok_or(Stop)?;
        let mut figures: BTreeMap<&str, (f64, Span)> = BTreeMap::new();
        for setting in &item.settings {
            let figure = self.traced(&format!("{}.{}", item.name.text, setting.name.text), &setting.value, &env)?;
            let Value::Quantity(q) = figure.value else { return self.wrong("a length", &figure.value, setting.value.span) };
            self.sound_figure(&setting.name.text, &Value::Quantity(q), setting.value.span)?;
            figures.insert(&setting.name.text, (q.value, setting.value.span));
        }
        let figure = |name: &str, otherwise: f64| Length::mm(figures.get(name).map_or(otherwise, |(value, _)| *value));
        let title = self.title(item.title.as_ref(), &env)?;
        let cutter = ir::Cutter {
            name: item.name.text.clone(),
            title: if title.is_empty() { item.name.text.clone() } else { title },
            kind,
            bed_length: figure("bed_length", 0.0),
            bed_width: figure("bed_width", 0.0),
            kerf: figure("kerf", 0.0),
            offset: figure("offset", 0.0),
            overcut: figure("overcut", if kind == CutterKind::Knife { OVERCUT } else { 0.0 }),
            smallest: figure("smallest", 0.0),
            overlap: figure("overlap", OVERLAP),
            gap: figure("gap", if kind == CutterKind::Laser { GAP_LASER } else { GAP_OTHER }),
            passes: item.passes.iter().map(|p| self.pass(p, &env)).collect::<Eval<_>>()?,
            crosses: CROSSES.to_owned(),
            materials: Vec::new(),
            cautions: cautions(kind),
            origin: item.name.span,
        };
        self.sound_bed(&cutter, &figures)?;
        Ok(cutter)
    }

    /// A bed has room, its frames are not all overlap, and what is set by a hair is not set by a hand.
    fn sound_bed(&mut self, cutter: &ir::Cutter, figures: &BTreeMap<&str, (f64, Span)>) -> Eval<()> {
        let span = |name: &str| figures.get(name).map_or(cutter.origin, |(_, span)| *span);
        for (name, most) in MOST {
            if let Some((value, span)) = figures.get(name).filter(|(value, _)| value > most) {
                let (value, most) = (said_length(Length::mm(*value)), said_most(Length::mm(*most)));
                return self.fail(CutterError::TooLarge { name, value, most, span: *span });
            }
        }
        for (name, side) in [("bed_length", cutter.bed_length), ("bed_width", cutter.bed_width)] {
            if side.as_mm() < LEAST_BED {
                let (side, least) = (said_length(side), said_least(Length::mm(LEAST_BED)));
                return self.fail(CutterError::BedTooSmall { side, least, span: span(name) });
            }
            if cutter.overlap.as_mm() > side.as_mm() / 2.0 {
                let (overlap, bed) = (said_length(cutter.overlap), said_length(side));
                return self.fail(CutterError::Overlap { overlap, bed, span: span("overlap") });
            }
        }
        Ok(())
    }

    fn pass(&mut self, pass: &'p ast::Pass, env: &Env<'p>) -> Eval<ir::Pass> {
        let layer = self.title(Some(&pass.layer), env)?.to_uppercase();
        let colour = match &pass.colour {
            None => COLOUR,
            Some(expr) => {
                let value = self.of_dimension(expr, env, Dimension::NUMBER, "a bare number")?;
                match (1..=u8::MAX).find(|n| (f64::from(*n) - value).abs() < 1e-9) {
                    Some(colour) => colour,
                    None => return self.fail(CutterError::Colour { value, span: expr.span }),
                }
            }
        };
        let named = |name: &ast::Name| LineSort::ALL.into_iter().find(|sort| sort.words() == name.text);
        Ok(ir::Pass { cuts: pass.cuts, lines: pass.lines.iter().filter_map(named).collect(), layer, colour })
    }
}

fn cautions(kind: CutterKind) -> Vec<Text> {
    let all = match kind {
        CutterKind::Laser => AT_A_LASER,
        CutterKind::Knife | CutterKind::Blade => AT_A_BLADE,
        CutterKind::Pen => &[],
    };
    all.iter().map(|caution| Text::words(*caution)).collect()
}

fn kind_named(word: &str) -> Option<CutterKind> {
    Some(match word {
        "laser" => CutterKind::Laser,
        "knife" => CutterKind::Knife,
        "blade" => CutterKind::Blade,
        "pen" => CutterKind::Pen,
        _ => return None,
    })
}

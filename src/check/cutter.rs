//! Cutters, and what is cut with which.

use super::checker::{Checker, Env, Wanted};
use super::error::{CutterError, MaterialError, NameError};
use super::goods::Sort;
use super::kind::{Kind, Want};
use super::program::Entity;
use super::tools::{CUTTER_SORTS, CutterSort};
use super::words::{CUT_LINES, DRAWN_LINES};
use crate::diagnostic::nearest;
use crate::source::Span;
use crate::syntax::ast::{CutWith, Cutter, Pass, TextLiteral, TextPart};
use indexmap::IndexMap;

/// The layer on which frames carry the crosses they are laid by.
pub const CROSSES: &str = "CROSSES";
/// What release 12 of the format takes for a name, from memory.
const LONGEST_LAYER: usize = 31;

impl<'p> Checker<'p> {
    /// A cutter: its figures, and what it does in which order.
    pub(super) fn cutter(&mut self, cutter: &'p Cutter, env: &Env<'p>) {
        cutter.title.iter().for_each(|t| self.text(t, env));
        let sort = CutterSort::named(&cutter.kind.text);
        if sort.is_none() {
            let known: Vec<&'static str> = CUTTER_SORTS.iter().map(|(name, _)| *name).collect();
            let nearest = nearest(&cutter.kind.text, known.iter().copied()).map(str::to_owned);
            self.report(CutterError::Sort { sort: cutter.kind.text.clone(), span: cutter.kind.span, nearest, known });
        }
        let settings: Vec<_> = cutter.settings.iter().map(|s| (&s.name, &s.value)).collect();
        self.figures(sort.map(|s| (with_article(s), s.fields())), &settings, env);
        for pass in &cutter.passes {
            self.pass(pass, env);
        }
        self.passes(cutter, sort);
        let Some(sort) = sort else { return };
        let lacks = |f: &&super::goods::Field| f.needed && settings.iter().all(|(name, _)| name.text != f.name);
        let fields: Vec<_> = sort.fields().iter().filter(lacks).map(|f| f.name).collect();
        if !fields.is_empty() {
            let (name, on) = (cutter.name.text.clone(), "machine");
            self.report_missing(MaterialError::Missing { name, sort: sort.name(), fields, on, span: cutter.name.span });
        }
    }

    fn pass(&mut self, pass: &'p Pass, env: &Env<'p>) {
        let (known, role) = if pass.cuts { (CUT_LINES, "line that can be cut") } else { (DRAWN_LINES, "line that can be drawn") };
        for line in pass.lines.iter().filter(|l| !known.contains(&l.text.as_str())) {
            let nearest = nearest(&line.text, known.iter().copied()).map(str::to_owned);
            self.report(NameError::UnknownWord { word: line.text.clone(), span: line.span, role, known, nearest });
        }
        if let Some(why) = layer_fault(&pass.layer) {
            self.report(CutterError::LayerName { why, span: pass.layer.span });
        }
        if let Some(colour) = &pass.colour {
            self.expect(colour, env, &Want::One(Kind::NUMBER), "a colour");
        }
    }

    /// What the passes are together.
    fn passes(&mut self, cutter: &'p Cutter, sort: Option<CutterSort>) {
        let pen = sort == Some(CutterSort::Pen);
        for pass in cutter.passes.iter().filter(|p| pen && p.cuts) {
            self.report(CutterError::PenCuts { span: pass.span });
        }
        let (mut done, mut layers): (IndexMap<&str, Span>, IndexMap<String, &Pass>) = (IndexMap::new(), IndexMap::new());
        for pass in &cutter.passes {
            for line in &pass.lines {
                if let Some(first) = done.insert(&line.text, line.span) {
                    self.report(CutterError::LineTwice { line: line.text.clone(), first, second: line.span });
                }
            }
            let Some(layer) = plain(&pass.layer).map(str::to_uppercase) else { continue };
            let other = *layers.entry(layer.clone()).or_insert(pass);
            if other.cuts != pass.cuts {
                let (drawn, cut) = if pass.cuts { (other, pass) } else { (pass, other) };
                self.report(CutterError::LayerShared { layer, drawn: drawn.layer.span, cut: cut.layer.span });
            }
        }
        if !done.contains_key("outlines") {
            let act = if pen { "draw" } else { "cut" };
            self.report_missing(CutterError::NoOutlines { cutter: cutter.name.text.clone(), act, span: cutter.name.span });
        }
        self.outlines_last(cutter);
    }

    fn outlines_last(&mut self, cutter: &'p Cutter) {
        let named = |pass: &'p Pass, word: &str| pass.lines.iter().find(|l| l.text == word);
        let mut cuts = cutter.passes.iter().filter(|p| p.cuts).skip_while(|p| named(p, "outlines").is_none());
        let Some(outlines) = cuts.next().and_then(|p| named(p, "outlines")) else { return };
        let later = cuts.flat_map(|p| &p.lines).find(|l| matches!(l.text.as_str(), "holes" | "notches"));
        if let Some(inner) = later {
            self.report(CutterError::OutlinesFirst { inner: inner.text.clone(), outlines: outlines.span, later: inner.span });
        }
    }

    /// `cut skin with bench`: cloth, and a cutter.
    pub(super) fn cut_with(&mut self, line: &'p CutWith, env: &Env<'p>) {
        let wanted = Wanted { bare: "cutter", full: "a cutter" };
        self.must_be(&line.cutter, env, wanted, |e| if let Entity::Cutter(id) = e { Some(id) } else { None });
        for material in &line.materials {
            self.expect(material, env, &Want::Goods(&[Sort::Cloth, Sort::Batting]), "what a cutter cuts");
        }
    }
}

fn with_article(sort: CutterSort) -> String {
    format!("a {}", sort.name())
}

/// The words of a text that holds nothing else.
fn plain(text: &TextLiteral) -> Option<&str> {
    match text.parts.as_slice() {
        [TextPart::Chunk(words)] => Some(words),
        _ => None,
    }
}

fn layer_fault(text: &TextLiteral) -> Option<&'static str> {
    let Some(name) = plain(text) else { return Some("it must be plain letters") };
    if name.eq_ignore_ascii_case(CROSSES) {
        return Some("the crosses of frames lie there");
    }
    if name.chars().count() > LONGEST_LAYER {
        return Some("it is too long");
    }
    let fits = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '$');
    (!name.chars().all(fits)).then_some("not every machine reads such letters")
}

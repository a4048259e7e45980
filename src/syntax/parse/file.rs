//! Section 4: files, what they import and what they declare.

use pest::iterators::Pair;

use super::builder::{Builder, Built, Fault};
use super::grammar::Rule;
use crate::syntax::ast::{Declaration, File, Imported, Use};

impl<'i> Builder<'_> {
    /// A whole file, without the items in which something slipped at one of these bytes.
    pub(super) fn file(&mut self, pair: Pair<'i, Rule>, slips: &[usize]) -> File {
        let mut parts = self.parts(pair);
        let mut file = File::default();
        while let Some(item) = parts.maybe(Rule::file_item) {
            let span = item.as_span();
            let built = self.file_item(item, &mut file, slips.iter().any(|at| (span.start()..span.end()).contains(at)));
            self.report(built);
        }
        file
    }

    /// One import or declaration. With a flaw it is left out, so that nothing follows from what it does not mean.
    pub(super) fn file_item(&mut self, pair: Pair<'i, Rule>, file: &mut File, slipped: bool) -> Built<()> {
        self.flawed = slipped;
        let mut parts = self.parts(pair);
        if let Some(import) = parts.maybe(Rule::use_decl) {
            let import = self.use_decl(import)?;
            file.uses.extend(Some(import).filter(|_| !self.flawed));
        } else {
            let declaration = self.one(&mut parts, Rule::declaration, Self::declaration)?;
            file.declarations.extend(Some(declaration).filter(|_| !self.flawed));
        }
        Ok(())
    }

    /// `use std.trims { ribbon_loop as loop }`
    fn use_decl(&mut self, pair: Pair<'i, Rule>) -> Built<Use> {
        let mut parts = self.parts(pair);
        let path = self.word(&parts.take(Rule::module_path)?);
        let names = self.all(&mut parts, Rule::imported, Self::imported)?;
        Ok(Use { path, names, span: parts.span })
    }

    fn imported(&mut self, pair: Pair<'i, Rule>) -> Built<Imported> {
        let mut parts = self.parts(pair);
        Ok(Imported { name: self.name(&mut parts)?, alias: self.maybe_name(&mut parts) })
    }

    /// One declaration.
    fn declaration(&mut self, pair: Pair<'i, Rule>) -> Built<Declaration> {
        let mut parts = self.parts(pair);
        let inner = parts.any()?;
        Ok(match inner.as_rule() {
            Rule::design => Declaration::Design(self.design(inner)?),
            Rule::material => Declaration::Material(self.material(inner)?),
            Rule::component => Declaration::Component(self.component(inner)?),
            Rule::outline => Declaration::Outline(self.outline(inner)?),
            Rule::finish => Declaration::Finish(self.finish(inner)?),
            Rule::cutter => Declaration::Cutter(self.cutter(inner)?),
            Rule::function => Declaration::Function(self.function(inner)?),
            Rule::constant => Declaration::Constant(self.constant(inner)?),
            _ => return Err(Fault::Mismatch(parts.span)),
        })
    }
}

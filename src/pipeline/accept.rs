//! Warnings that a source accepts become remarks.

use super::error::AcceptError;
use super::folding::fold;
use super::library::words;
use super::{Compiled, Found, Remark};
use crate::check::Program;
use crate::diagnostic::{Diagnostic, Problems, Severity};
use crate::ir::Accepted;
use crate::source::SourceMap;
use crate::syntax::ast::Accept;
use indexmap::IndexMap;

/// The sizes that got so far, and what was found in each.
type Stage<'a> = (Vec<&'a Found>, fn(&Found) -> &Problems);

/// Sorts what was found in every size, and in the source as a whole, into problems and remarks.
pub(super) fn settle(program: &Program, found: &[Found], compiled: &mut Compiled) {
    let mut reasons = Reasons::default();
    // A size that can't be worked out holds to what is written.
    let written = as_written(program.accepts.iter().map(|d| &d.item), &compiled.sources);
    let of_size = |f: &'_ Found| f.accepted.clone().unwrap_or_else(|| written.clone());
    let everywhere: Vec<Accepted> = found.iter().flat_map(of_size).collect();
    let source: Vec<Diagnostic> = compiled.problems.sorted().into_iter().cloned().collect();
    let mut problems = Problems::default();
    for diagnostic in reasons.sift(source, &everywhere) {
        problems.push(diagnostic);
    }
    let mut remarks: Vec<Diagnostic> = std::mem::take(&mut reasons.in_this_size);
    // A size that can't be worked out has nothing to say about the sewing: it does not count there.
    let resolved: Vec<&Found> = found.iter().filter(|f| f.accepted.is_some()).collect();
    let stages: [Stage<'_>; 2] = [(found.iter().collect(), |f| &f.resolving), (resolved, |f| &f.sewing)];
    for (sizes, stage) in stages {
        let (mut open, mut closed) = (Vec::new(), Vec::new());
        for f in sizes {
            let accepted = of_size(f);
            let list = stage(f).sorted().into_iter().cloned().collect();
            open.push((f.name.clone(), reasons.sift(list, &accepted)));
            closed.push((f.name.clone(), std::mem::take(&mut reasons.in_this_size)));
        }
        problems.extend(fold(open));
        remarks.extend(fold(closed).sorted().into_iter().cloned());
    }
    compiled.remarks = remarks.into_iter().map(|diagnostic| reasons.remark(diagnostic)).collect();
    for error in refused(program, &reasons, &problems) {
        problems.push(error);
    }
    compiled.problems = problems;
}

/// Sorts what was found where nothing can be worked out, and so no `when` asked: what is accepted in any case stays so.
pub(super) fn settle_unresolved<'a>(accepts: impl Iterator<Item = &'a Accept>, compiled: &mut Compiled) {
    let accepted = as_written(accepts, &compiled.sources);
    let mut reasons = Reasons::default();
    let mut problems = Problems::default();
    for diagnostic in reasons.sift(compiled.problems.sorted().into_iter().cloned().collect(), &accepted) {
        problems.push(diagnostic);
    }
    let remarks = std::mem::take(&mut reasons.in_this_size);
    compiled.remarks = remarks.into_iter().map(|diagnostic| reasons.remark(diagnostic)).collect();
    compiled.problems = problems;
}

fn as_written<'a>(accepts: impl Iterator<Item = &'a Accept>, sources: &SourceMap) -> Vec<Accepted> {
    accepts.map(|a| Accepted { code: a.code.text.clone(), because: words(&a.because, sources), origin: a.span }).collect()
}

/// Codes accepted so far, with the reasons given, and what they covered.
#[derive(Default)]
struct Reasons {
    given: IndexMap<String, String>,
    in_this_size: Vec<Diagnostic>,
}

impl Reasons {
    fn remark(&self, diagnostic: Diagnostic) -> Remark {
        let because = self.given.get(diagnostic.code).cloned().unwrap_or_default();
        Remark { diagnostic, because }
    }

    /// What stays a problem; the rest goes to `in_this_size`.
    fn sift(&mut self, list: Vec<Diagnostic>, accepted: &[Accepted]) -> Vec<Diagnostic> {
        let mut open = Vec::new();
        for diagnostic in list {
            let reason = accepted.iter().find(|a| a.code == diagnostic.code && diagnostic.severity == Severity::Warning);
            match reason {
                Some(reason) => {
                    self.given.insert(reason.code.clone(), reason.because.clone());
                    self.in_this_size.push(diagnostic);
                }
                None => open.push(diagnostic),
            }
        }
        open
    }
}

/// An `accept` that covers nothing, or names an error.
fn refused(program: &Program, reasons: &Reasons, problems: &Problems) -> Vec<AcceptError> {
    let all = problems.sorted();
    let accepts = program.accepts.iter().map(|d| &d.item.code);
    let unused = accepts.filter(|code| !reasons.given.contains_key(&code.text));
    unused
        .filter_map(|code| {
            let error = all.iter().find(|d| d.code == code.text && d.severity == Severity::Error);
            match error.and_then(|d| d.labels.first()) {
                Some(at) => Some(AcceptError::IsAnError { code: code.text.clone(), span: code.span, found_at: at.span }),
                // Where there are errors, not everything was looked at.
                None if problems.has_errors() => None,
                None => Some(AcceptError::Nothing { code: code.text.clone(), span: code.span }),
            }
        })
        .collect()
}

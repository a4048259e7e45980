//! From source text to resolved designs and everything written about them: the only file
//! that knows every stage.
//!
//! Every named size is checked along with the values as drawn, whichever is asked for.

mod accept;
mod error;
mod folding;
mod library;
mod listing;
mod output;
mod settings;

pub use crate::export::dxf::Flavour;
pub use crate::quantity::{Style, UnitSystem};
pub use error::UsageError;
pub use library::library;
pub use listing::{listing, schema};
pub use output::{ExportError, Kind, Options, OutputFile, each_file, files, goods, nest_at, order, why};

use crate::analysis::validity;
use crate::check::{self, Program};
use crate::diagnostic::{Diagnostic, Problems};
use crate::eval::{self, Override};
use crate::ir::{Accepted, Design};
use crate::source::{FileId, Loaded, Loader, SourceMap};
use crate::syntax;
use crate::trace;
use indexmap::IndexSet;
use rayon::ThreadPoolBuilder;
use rayon::prelude::*;
use std::cell::Cell;

/// What the size is called that takes every parameter as the source gives it.
/// Its hyphen keeps it apart from every name a source can hold.
pub const AS_DRAWN: &str = "as-drawn";

/// Every code that any stage reports, in the order of the stages.
#[must_use]
pub fn codes() -> Vec<&'static str> {
    [
        syntax::error::CODES,
        check::CODES,
        trace::CODES,
        eval::CODES,
        eval::TRADE_CODES,
        eval::CUTTER_CODES,
        eval::draft::CODES,
        validity::CODES,
        error::CODES,
    ]
    .concat()
}

/// Deep expressions recurse; a debug build on a worker's usual stack would not get through the deepest that syntax allows.
const STACK: usize = 64 << 20;

thread_local! {
    /// Whether this is the thread of [`on_threads`], which has such a stack and shares its work out.
    static ROOMY: Cell<bool> = const { Cell::new(false) };
}

/// What is asked of a compilation.
#[derive(Debug, Clone, Default)]
pub struct Request {
    /// Parameters set by hand, `name=value`; they win over every size.
    pub settings: Vec<String>,
    /// How many threads to work on, as many as the machine has cores when absent; within [`on_threads`] it says how many.
    pub jobs: Option<usize>,
    /// Whether only what is wrong is wanted: no design is kept, so that memory does not grow with the sizes.
    pub only_check: bool,
}

/// All there is to say about one source.
#[derive(Debug, Default)]
pub struct Compiled {
    /// Every file that was read, the main one first.
    pub sources: SourceMap,
    /// What was found, in any stage and size.
    pub problems: Problems,
    /// Warnings that the source accepts, with its reasons.
    pub remarks: Vec<Remark>,
    /// Sizes that could be resolved: as drawn, then the named ones in source order.
    pub sizes: Vec<Resolved>,
    program: Option<Program>,
    settings_from: Option<FileId>,
}

/// A design in one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    /// The size's name, or [`AS_DRAWN`].
    pub name: String,
    /// The design.
    pub design: Design,
}

/// A warning accepted on purpose.
#[derive(Debug, Clone, PartialEq)]
pub struct Remark {
    /// The warning.
    pub diagnostic: Diagnostic,
    /// Why it is accepted.
    pub because: String,
}

/// Compiles one source in every size, on threads of its own or within [`on_threads`] on those. `done` is called with the
/// number of sizes each time one is ready.
///
/// # Errors
/// When a setting is not of the form `name=value`. All that is wrong with the source is in [`Compiled::problems`].
pub fn compile(main: Loaded, loader: &dyn Loader, request: &Request, done: &(dyn Fn(usize) + Sync)) -> Result<Compiled, UsageError> {
    if ROOMY.get() {
        return compile_here(main, loader, request, done);
    }
    match threads(request.jobs).build() {
        Ok(pool) => pool.install(|| compile_here(main, loader, request, done)),
        // No threads to be had: the caller's own will do.
        Err(_) => compile_here(main, loader, request, done),
    }
}

/// Does some work on so many threads, or as many as the machine has cores; what it compiles and writes is shared out among
/// them. It is itself done on one of them, so that no result waits until a sleeping thread takes it over.
///
/// For a program that does it once: a few kilobytes stay taken until the program ends.
pub fn on_threads<T: Send>(jobs: Option<usize>, work: impl Fn() -> T + Sync) -> T {
    std::thread::scope(|scope| {
        let shared = || {
            ROOMY.set(true);
            // The other threads end with the program: none is waited for.
            std::mem::forget(threads(jobs).use_current_thread().build());
            work()
        };
        match std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, shared) {
            Ok(thread) => thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)),
            // No thread to be had: the caller's own will do.
            Err(_) => work(),
        }
    })
}

fn threads(jobs: Option<usize>) -> ThreadPoolBuilder {
    ThreadPoolBuilder::new().num_threads(jobs.unwrap_or(0)).stack_size(STACK)
}

fn compile_here(main: Loaded, loader: &dyn Loader, request: &Request, done: &(dyn Fn(usize) + Sync)) -> Result<Compiled, UsageError> {
    let mut compiled = Compiled::default();
    let (sources, problems) = (&mut compiled.sources, &mut compiled.problems);
    let file = sources.add(main.name, main.text);
    let program = check::check(file, loader, sources, problems);
    let first_setting = u32::try_from(sources.files().count()).ok().map(FileId);
    let overrides = settings::read(&request.settings, sources, problems)?;
    compiled.settings_from = first_setting;
    let program = match program {
        Ok(program) if !compiled.problems.has_errors() => program,
        Ok(program) => {
            accept::settle_unresolved(program.accepts.iter().map(|d| &d.item), &mut compiled);
            return Ok(compiled);
        }
        Err(accepts) => {
            accept::settle_unresolved(accepts.iter(), &mut compiled);
            return Ok(compiled);
        }
    };

    let names: Vec<Option<String>> = std::iter::once(None).chain(program.sizes.iter().map(|s| Some(s.name.text.clone()))).collect();
    let total = names.len();
    let one = |name: Option<String>| {
        let found = resolve(&program, &compiled.sources, name, &overrides);
        done(total);
        Found { design: found.design.filter(|_| !request.only_check), ..found }
    };
    let found: Vec<Found> = names.into_par_iter().map(one).collect();

    accept::settle(&program, &found, &mut compiled);
    compiled.sizes = found.into_iter().filter_map(|f| Some(Resolved { name: f.name, design: f.design? })).collect();
    compiled.program = Some(program);
    Ok(compiled)
}

/// What came of one size.
struct Found {
    name: String,
    /// When it could be worked out, and is wanted.
    design: Option<Design>,
    /// What it accepts, when it could be worked out.
    accepted: Option<Vec<Accepted>>,
    /// Found while it was worked out.
    resolving: Problems,
    /// Found in the design, if it could be worked out.
    sewing: Problems,
}

fn resolve(program: &Program, sources: &SourceMap, size: Option<String>, overrides: &[Override]) -> Found {
    let (mut resolving, mut sewing) = (Problems::default(), Problems::default());
    let name = size.clone().unwrap_or_else(|| AS_DRAWN.to_owned());
    let request = eval::Request { size, overrides: overrides.to_vec() };
    let design = eval::resolve(program, sources, &request, &mut resolving);
    if let Some(design) = &design {
        validity::check(design, &mut sewing);
    }
    let accepted = design.as_ref().map(|d| d.accepted.clone());
    Found { name, design, accepted, resolving, sewing }
}

impl Compiled {
    /// The design's name, when the source holds one that could be read.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        self.program.as_ref().and_then(|p| p.name.as_ref()).map(|n| n.text.as_str())
    }

    /// The names of the sizes that the source declares.
    pub fn size_names(&self) -> impl Iterator<Item = &str> {
        self.program.iter().flat_map(|p| &p.sizes).map(|s| s.name.text.as_str())
    }

    /// Whether an error lies in what was set by hand and not in the source.
    #[must_use]
    pub fn settings_are_wrong(&self) -> bool {
        let first = self.settings_from;
        let by_hand = |d: &&Diagnostic| d.labels.first().is_some_and(|l| first.is_some_and(|f| l.span.file >= f));
        self.problems.sorted().iter().filter(|d| d.severity == crate::diagnostic::Severity::Error).any(by_hand)
    }

    /// The sizes of these names, each once, in the order asked for; all when none is.
    ///
    /// # Errors
    /// When the source has no size of a name.
    pub fn chosen(&self, names: &[String]) -> Result<Vec<&Resolved>, UsageError> {
        if names.is_empty() {
            return Ok(self.sizes.iter().collect());
        }
        let once: IndexSet<&String> = names.iter().collect();
        once.into_iter().map(|name| self.size(name)).collect()
    }

    /// Where a size stands among all.
    fn place(&self, size: &Resolved) -> Option<usize> {
        self.sizes.iter().position(|s| s.name == size.name)
    }

    /// The size of a name.
    ///
    /// # Errors
    /// When the source has none.
    pub fn size(&self, name: &str) -> Result<&Resolved, UsageError> {
        let known = || self.sizes.iter().map(|s| s.name.clone()).collect();
        self.sizes.iter().find(|s| s.name == name).ok_or_else(|| UsageError::UnknownSize { name: name.to_owned(), known: known() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stdlib::{Nothing, WithLibrary};

    #[test]
    fn within_a_programs_own_threads_the_deepest_source_is_read() {
        let (open, close) = ("(".repeat(95), ")".repeat(95));
        let text = format!("design d {{ param a = 1 m  let b = {open}a{close}  require b > 2 m else \"short\" }}");
        let compile_deep = || {
            let main = Loaded { name: "deep.fell".into(), text: text.clone() };
            let compiled = compile(main, &WithLibrary(Nothing), &Request::default(), &|_| {}).unwrap();
            compiled.problems.sorted().iter().map(|d| d.code).collect::<Vec<_>>()
        };
        // Theirs may have small stacks; what the work needs is for it to bring.
        let pool = ThreadPoolBuilder::new().num_threads(1).stack_size(256 << 10).build().unwrap();
        let told = pool.install(compile_deep);
        assert_eq!(told, ["requirement"]);
        assert_eq!(on_threads(Some(2), compile_deep), told);
    }
}

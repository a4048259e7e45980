//! What goes wrong between files: imports, and where a design may stand.

use super::suggest;
use crate::diagnostic::Diagnostic;
use crate::source::Span;

/// Between files.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::check) enum ModuleError {
    /// No such module.
    Missing { path: String, span: Span, nearest: Option<String>, library: bool },
    /// It lies outside the project folder.
    Outside { path: String, span: Span },
    /// It can't be read.
    Unreadable { path: String, span: Span, reason: String },
    /// Its name is kept for the library.
    Reserved { path: String, span: Span },
    /// Modules that import each other in a ring; `chain` starts and ends with the same name.
    Cycle { chain: Vec<String>, span: Span },
    /// More modules than are read.
    TooMany { path: String, limit: usize, span: Span },
    /// The module declares no such name.
    NoSuchName { module: String, name: String, span: Span, nearest: Option<String>, imported_there: bool },
    /// An imported name that is already taken in this file.
    Clash { name: String, span: Span, other: Span, other_is_import: bool },
    /// One thing imported twice under one name.
    Twice { name: String, span: Span, other: Span },
    /// An imported name that nothing uses.
    Unused { name: String, module: String, span: Span },
    /// A design in a file that is imported.
    DesignInModule { name: String, module: String, span: Span },
    /// No design in the file that is built.
    NoDesign { span: Span },
    /// Two designs in one file.
    TwoDesigns { first: Span, second: Span, name: String },
}

impl From<ModuleError> for Diagnostic {
    fn from(error: ModuleError) -> Self {
        match error {
            ModuleError::Missing { path, span, nearest, library } => missing(&path, span, nearest.as_deref(), library),
            ModuleError::Outside { path, span } => Self::error(
                "module-outside",
                format!("`{path}` lies outside the project folder"),
                span,
                "only files in the project folder are read",
            )
            .help("copy the file into the project folder, so that the design stays complete when the folder is moved or shared"),
            ModuleError::Unreadable { path, span, reason } => {
                Self::error("module-unreadable", format!("`{path}` can't be read: {reason}"), span, "asked for here")
            }
            ModuleError::Reserved { path, span } => Self::error(
                "module-reserved",
                format!("`{path}` can't be a file of yours: names that start with `std` are the library's"),
                span,
                "",
            )
            .help("give the file and its folder names that do not start with `std`"),
            ModuleError::Cycle { chain, span } => Self::error(
                "module-cycle",
                format!("these files import each other in a ring: {}", chain.join(" → ")),
                span,
                "this import closes the ring",
            )
            .help("move what both need into a third file, and import it from there"),
            ModuleError::TooMany { path, limit, span } => {
                let headline = format!("`{path}` can't be read: {limit} files are read already, and that is the limit");
                Self::error("module-unreadable", headline, span, "asked for here").help("join small files into larger ones")
            }
            ModuleError::NoSuchName { module, name, span, nearest, imported_there } => {
                let headline = format!("`{module}` declares no `{name}`");
                let error = Self::error("import-missing", headline, span, "not declared there");
                if imported_there {
                    return error.help(format!(
                        "`{module}` imports `{name}` itself, and imports are not passed on: import it from where it is declared"
                    ));
                }
                suggest(error, span, nearest.as_deref())
            }
            ModuleError::Clash { name, span, other, other_is_import } => {
                let first = if other_is_import { "already imported here" } else { "already declared here" };
                Self::error("import-clash", format!("`{name}` would mean two things in this file"), span, "imported here")
                    .and(other, first)
                    .help(format!("call the imported one something else: `{name} as other_{name}`"))
            }
            ModuleError::Twice { name, span, other } => {
                Self::error("import-clash", format!("`{name}` is imported twice"), span, "imported again")
                    .and(other, "already imported here")
                    .help("it is the same both times: take one of the two out")
            }
            ModuleError::Unused { name, module, span } => {
                Self::warning("unused-import", format!("`{name}` is imported and never used"), span, "not used in this file")
                    .help(format!("take it out of `use {module} {{ … }}`"))
            }
            ModuleError::DesignInModule { name, module, span } => Self::error(
                "design-in-module",
                format!("`{module}` holds a design, `{name}`, so it can't be imported"),
                span,
                "a design stands here",
            )
            .help("move what you want to share out of the design's file into one of its own"),
            ModuleError::NoDesign { span } => Self::error("no-design", "there is no design in this file", span, "")
                .help("a file that is built holds one `design name \"Title\" { … }`; a file without one can only be imported"),
            ModuleError::TwoDesigns { first, second, name } => {
                Self::error("two-designs", format!("a second design, `{name}`, in one file"), second, "the second")
                    .and(first, "the first")
                    .help("give each design a file of its own; what they share goes into a third")
            }
        }
    }
}

fn missing(path: &str, span: Span, nearest: Option<&str>, library: bool) -> Diagnostic {
    let file = path.replace('.', "/");
    let (headline, label) = if library {
        (format!("the library has no module `{path}`"), "not in the library".to_owned())
    } else {
        (format!("there is no module `{path}`"), format!("no file `{file}.fell` in the project folder"))
    };
    let error = Diagnostic::error("module-missing", headline, span, label);
    match nearest {
        Some(_) => suggest(error, span, nearest),
        None if library => error,
        None => error.help("a module is a file beside the design, or in a folder beside it: `parts.hood` is `parts/hood.fell`"),
    }
}

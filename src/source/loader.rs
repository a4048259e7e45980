//! How the compiler asks for the text of a module, without knowing where text lives.

/// The text of a module and the name that reports show for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// Shown in reports, e.g. `larch.fell` or `std/trims.fell`.
    pub name: String,
    /// The source text, UTF-8, without a byte-order mark.
    pub text: String,
}

/// Why a module could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LoadError {
    /// No such module; `known` lists the names that the loader could have served.
    Missing {
        /// Dotted names of modules that exist.
        known: Vec<String>,
    },
    /// The file lies outside the project folder (through a link, say).
    Outside,
    /// The file is there but cannot be read as UTF-8 text, or is too large; `reason` says which.
    Unreadable {
        /// In the reader's words.
        reason: String,
    },
}

/// Serves source text by dotted module path (`std.trims`, `materials`, `parts.hood`).
pub trait Loader: Sync {
    /// The module's text.
    ///
    /// # Errors
    /// [`LoadError`] when there is no such module, or it may not or cannot be read.
    fn load(&self, path: &str) -> Result<Loaded, LoadError>;

    /// What is in a drawing, by its name relative to the project folder (`hood.svg`, `drawings/hood.dxf`).
    ///
    /// # Errors
    /// [`LoadError`] when there is no such file, or it may not or cannot be read.
    fn drawing(&self, _name: &str) -> Result<Vec<u8>, LoadError> {
        Err(LoadError::Missing { known: Vec::new() })
    }
}

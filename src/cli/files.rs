//! Reading sources: the main file, and modules from its folder.

use super::failure::Failure;
use crate::source::{LoadError, Loaded, Loader};
use crate::stdlib::WithLibrary;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// A source longer than this is no pattern: a hundred times the longest anyone has written by hand.
const LARGEST: u64 = 4 << 20;
/// How deep, and how many, modules are looked for when one is missing and the nearest name is wanted.
const DEEPEST: usize = 3;
const MOST_LISTED: usize = 500;

/// A main file and where its modules come from.
pub(super) struct Project {
    pub(super) main: Loaded,
    pub(super) loader: WithLibrary<Folder>,
}

impl Project {
    /// Opens the project whose main file this is; `-` reads standard input and takes the current folder.
    pub(super) fn open(file: &Path) -> Result<Self, Failure> {
        let (name, bytes, folder) = if file.as_os_str() == "-" {
            let bytes = bounded(io::stdin().lock()).map_err(|e| Failure::read(Path::new("standard input"), e))?;
            ("standard input".to_owned(), bytes, Path::new("."))
        } else {
            let bytes = fs::File::open(file).map_err(worded).and_then(whole).map_err(|e| Failure::read(file, e))?;
            let name = file.file_name().map_or_else(|| file.to_string_lossy(), |n| n.to_string_lossy()).into_owned();
            (name, bytes, file.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new(".")))
        };
        let text = text(bytes).map_err(|e| Failure::read(Path::new(&name), e))?;
        let modules = Folder::at(folder).map_err(|e| Failure::read(folder, worded(e)))?;
        Ok(Self { main: Loaded { name, text }, loader: WithLibrary(modules) })
    }
}

/// Serves `parts.hood` from `parts/hood.fell` under a folder, drawings by their names, and nothing outside it.
#[derive(Debug, Clone)]
pub struct Folder {
    /// Without links in it.
    root: PathBuf,
}

impl Loader for Folder {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        let parts: Vec<&str> = path.split('.').collect();
        if parts.iter().any(|p| p.is_empty() || p.contains(['/', '\\', '\0', ':'])) {
            return Err(self.missing());
        }
        let name = format!("{}.fell", parts.join("/"));
        let bytes = self.bytes(&name, Self::missing)?;
        text(bytes).map(|text| Loaded { name, text }).map_err(|reason| LoadError::Unreadable { reason })
    }

    fn drawing(&self, name: &str) -> Result<Vec<u8>, LoadError> {
        if name.is_empty() || name.contains('\0') {
            return Err(self.missing_drawing());
        }
        self.bytes(name, Self::missing_drawing)
    }
}

impl Folder {
    /// The modules under a folder.
    ///
    /// # Errors
    /// When there is no such folder.
    pub fn at(folder: &Path) -> io::Result<Self> {
        Ok(Self { root: fs::canonicalize(folder)? })
    }

    /// What is in a file under the folder.
    fn bytes(&self, name: &str, missing: fn(&Self) -> LoadError) -> Result<Vec<u8>, LoadError> {
        let real = match fs::canonicalize(self.root.join(name)) {
            Ok(real) => real,
            Err(error) if error.kind() == ErrorKind::NotFound || error.kind() == ErrorKind::NotADirectory => return Err(missing(self)),
            Err(error) => return Err(LoadError::Unreadable { reason: worded(error) }),
        };
        if !real.starts_with(&self.root) {
            return Err(LoadError::Outside);
        }
        // A pipe would keep the reader waiting.
        let file = fs::metadata(&real).map_err(worded).and_then(|m| if m.is_file() { Ok(()) } else { Err("it is not a file".to_owned()) });
        let read = file.and_then(|()| File::open(&real).map_err(worded)).and_then(whole);
        read.map_err(|reason| LoadError::Unreadable { reason })
    }

    fn missing(&self) -> LoadError {
        self.without(&|name| name.strip_suffix(".fell").map(|stem| stem.replace('/', ".")))
    }

    fn missing_drawing(&self) -> LoadError {
        let drawing = |name: &str| [".svg", ".dxf"].iter().any(|end| name.to_ascii_lowercase().ends_with(end));
        self.without(&|name| drawing(name).then(|| name.to_owned()))
    }

    /// That a file is not there; those that are, by what they are asked for as.
    fn without(&self, asked_for_as: &dyn Fn(&str) -> Option<String>) -> LoadError {
        let mut known = Vec::new();
        list(&self.root, "", 0, asked_for_as, &mut known);
        known.sort();
        LoadError::Missing { known }
    }
}

/// Names of files under a folder. What can't be listed is left out: this only feeds a suggestion.
fn list(folder: &Path, prefix: &str, depth: usize, asked_for_as: &dyn Fn(&str) -> Option<String>, known: &mut Vec<String>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten().take(MOST_LISTED) {
        let name = entry.file_name();
        let (Some(name), Ok(kind)) = (name.to_str(), entry.file_type()) else { continue };
        if kind.is_dir() && depth < DEEPEST && !name.starts_with('.') && !name.contains('.') {
            list(&entry.path(), &format!("{prefix}{name}/"), depth + 1, asked_for_as, known);
        } else if kind.is_file() && known.len() < MOST_LISTED {
            known.extend(asked_for_as(&format!("{prefix}{name}")));
        }
    }
}

fn whole(file: File) -> Result<Vec<u8>, String> {
    match file.metadata() {
        Ok(about) if about.is_dir() => Err("it is a folder".to_owned()),
        Ok(about) if about.is_file() && about.len() > LARGEST => Err(too_large()),
        _ => bounded(file),
    }
}

fn bounded(reader: impl Read) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    reader.take(LARGEST + 1).read_to_end(&mut bytes).map_err(worded)?;
    if bytes.len() as u64 > LARGEST { Err(too_large()) } else { Ok(bytes) }
}

fn too_large() -> String {
    format!("it is larger than {} MiB, more than any source or drawing needs", LARGEST >> 20)
}

fn text(bytes: Vec<u8>) -> Result<String, String> {
    let text = String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let line = error.as_bytes().iter().take(good).filter(|b| **b == b'\n').count() + 1;
        format!("line {line} holds something that is not text (save the file as UTF-8)")
    })?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

fn worded(error: io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        _ => error.to_string(),
    }
}

//! The standard library: Lapfell sources that travel inside the program, served as modules `std.*`.

use crate::source::{LoadError, Loaded, Loader};

/// Name and source of every module, in alphabetical order.
const MODULES: &[(&str, &str)] = &[
    ("battings", include_str!("../stdlib/battings.fell")),
    ("cloths", include_str!("../stdlib/cloths.fell")),
    ("finishes", include_str!("../stdlib/finishes.fell")),
    ("hardware", include_str!("../stdlib/hardware.fell")),
    ("narrow", include_str!("../stdlib/narrow.fell")),
    ("shapes", include_str!("../stdlib/shapes.fell")),
    ("threads", include_str!("../stdlib/threads.fell")),
    ("trims", include_str!("../stdlib/trims.fell")),
];

/// Every module: its path (`std.trims`) and its source, in alphabetical order.
pub fn modules() -> impl Iterator<Item = (String, &'static str)> {
    MODULES.iter().map(|(name, text)| (format!("std.{name}"), *text))
}

/// Serves `std.*` from the program and everything else through another loader.
#[derive(Debug, Clone, Copy)]
pub struct WithLibrary<L>(pub L);

impl<L: Loader> Loader for WithLibrary<L> {
    fn load(&self, path: &str) -> Result<Loaded, LoadError> {
        if path == "std" || path.starts_with("std.") {
            let found = modules().find(|(name, _)| name == path);
            let (_, text) = found.ok_or_else(|| LoadError::Missing { known: modules().map(|(name, _)| name).collect() })?;
            return Ok(Loaded { name: format!("{}.fell", path.replace('.', "/")), text: text.to_owned() });
        }
        self.0.load(path).map_err(|error| match error {
            LoadError::Missing { mut known } => {
                known.extend(modules().map(|(name, _)| name));
                LoadError::Missing { known }
            }
            other => other,
        })
    }

    fn drawing(&self, name: &str) -> Result<Vec<u8>, LoadError> {
        self.0.drawing(name)
    }
}

/// Serves nothing of its own: for a source that stands alone.
#[derive(Debug, Clone, Copy)]
pub struct Nothing;

impl Loader for Nothing {
    fn load(&self, _: &str) -> Result<Loaded, LoadError> {
        Err(LoadError::Missing { known: Vec::new() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[allow(clippy::disallowed_methods, reason = "asks the folder whether the list is whole")]
    fn every_file_of_the_folder_is_embedded() {
        let folder = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/stdlib")).unwrap();
        let mut there: Vec<_> = folder.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        there.sort();
        let here: Vec<_> = MODULES.iter().map(|(name, _)| format!("{name}.fell")).collect();
        assert_eq!(here, there);
    }

    #[test]
    fn modules_are_served_and_others_passed_on() {
        struct Own;
        impl Loader for Own {
            fn load(&self, path: &str) -> Result<Loaded, LoadError> {
                if path == "materials" {
                    return Ok(Loaded { name: "materials.fell".into(), text: String::new() });
                }
                Err(LoadError::Missing { known: vec!["materials".into()] })
            }
        }
        let loader = WithLibrary(Own);
        let trims = loader.load("std.trims").unwrap();
        assert_eq!(trims.name, "std/trims.fell");
        assert!(trims.text.contains("component"));
        assert_eq!(loader.load("materials").unwrap().name, "materials.fell");
        let Err(LoadError::Missing { known }) = loader.load("material") else { panic!("served") };
        assert!(known.contains(&"materials".to_owned()) && known.contains(&"std.cloths".to_owned()), "{known:?}");
        let Err(LoadError::Missing { known }) = loader.load("std.nothing") else { panic!("served") };
        assert!(known.iter().all(|k| k.starts_with("std.")) && !known.is_empty());
        assert!(loader.load("std").is_err());
    }
}

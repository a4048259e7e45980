//! A bench to run the command at, and a design to run it on.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

pub(crate) const MAT: &str = r#"use std.cloths { sack_cloth }
use std.finishes { rolled_hem }
use std.shapes { rectangle }

design mat "A mat to sit on" {
  param side = 40 cm from 20 cm to 80 cm "as long as it is wide"
  size small { side = 30 cm }
  size wide "For two" { side = 70 cm }
  panel seat {
    cut 1 of sack_cloth
    shape rectangle(width: side, height: side)
    finish foot, right, head, left with rolled_hem(width: 8 mm)
    grain along left
  }
}
"#;

/// A folder of its own for each test, taken away at its end.
pub(crate) struct Bench(pub(crate) PathBuf);

impl Bench {
    pub(crate) fn new() -> Self {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let name = format!("lapfell-cli-{}-{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed));
        let folder = std::env::temp_dir().join(name);
        fs::create_dir_all(&folder).unwrap();
        Self(folder.canonicalize().unwrap())
    }

    pub(crate) fn with(files: &[(&str, &str)]) -> Self {
        let bench = Self::new();
        files.iter().for_each(|(name, text)| bench.write(name, text));
        bench
    }

    pub(crate) fn write(&self, name: &str, text: &str) {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lapfell"));
        command.current_dir(&self.0).args(arguments).env_remove("NO_COLOR").stdin(Stdio::null());
        command
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        Run::of(self.command(arguments).output().unwrap())
    }

    /// Every file under a folder with its bytes.
    pub(crate) fn files(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let mut all = BTreeMap::new();
        collect(&self.0.join(folder), "", &mut all);
        all
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn collect(folder: &Path, prefix: &str, all: &mut BTreeMap<String, Vec<u8>>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries {
        let entry = entry.unwrap();
        let name = format!("{prefix}{}", entry.file_name().to_str().unwrap());
        if entry.file_type().unwrap().is_dir() {
            collect(&entry.path(), &format!("{name}/"), all);
        } else {
            all.insert(name, fs::read(entry.path()).unwrap());
        }
    }
}

pub(crate) struct Run {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Run {
    pub(crate) fn of(output: Output) -> Self {
        Self { code: output.status.code(), out: String::from_utf8(output.stdout).unwrap(), err: String::from_utf8(output.stderr).unwrap() }
    }

    #[track_caller]
    pub(crate) fn ends_with(self, code: i32) -> Self {
        assert_eq!(self.code, Some(code), "\n{}\n{}", self.out, self.err);
        self
    }

    #[track_caller]
    pub(crate) fn says(self, words: &str) -> Self {
        assert!(self.out.contains(words) || self.err.contains(words), "{words:?} is not in\n{}\n{}", self.out, self.err);
        self
    }
}

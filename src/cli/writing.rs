//! Writing a set of files: all of them, or none.
//!
//! Everything is first written into a staging folder beside its place. Only when all of it is there is it
//! moved in, file by file; what was there before waits in the staging folder and is moved back
//! should a step fail. Files of the last build that this one no longer makes go too, so that no piece
//! of an older version is left to be cut; a list in the folder says which files those are.

use super::failure::Failure;
use crate::pipeline::OutputFile;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Component, Path, PathBuf};

/// Lists what a build wrote, a path a line.
const LIST: &str = ".lapfell-files";

/// Writes all files into a folder, which is made if need be.
pub(super) fn write_all(folder: &Path, files: &[OutputFile]) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|e| Failure::write(folder, e))?;
    let staging = stage(folder)?;
    let mut moves = Moves { staging: &staging, done: Vec::new() };
    let result = fill(folder, files, &mut moves);
    if result.is_err() {
        moves.undo();
    }
    // Only what is of no more use is left in it.
    let _ = fs::remove_dir_all(&staging);
    result
}

fn fill(folder: &Path, files: &[OutputFile], moves: &mut Moves<'_>) -> Result<(), Failure> {
    let mut names: Vec<&str> = files.iter().map(|f| f.path.as_str()).collect();
    names.sort_unstable();
    let list: String = names.iter().map(|n| format!("{n}\n")).collect();
    let all = files.iter().map(|f| (f.path.as_str(), f.contents.as_str())).chain([(LIST, list.as_str())]);
    let all: Vec<_> = all.enumerate().collect();

    for (index, (path, contents)) in &all {
        fs::write(moves.fresh(*index), contents).map_err(|e| Failure::write(&folder.join(path), e))?;
    }
    for (index, old) in stale(folder, &names).into_iter().enumerate() {
        moves.take_away(&old, &format!("stale-{index}")).map_err(|e| Failure::write(&old, e))?;
    }
    for (index, (path, _)) in &all {
        let target = folder.join(path);
        room(folder, &target).and_then(|()| moves.put(*index, &target)).map_err(|e| Failure::write(&target, e))?;
    }
    Ok(())
}

/// A new folder inside the one written to, so that moving is renaming.
fn stage(folder: &Path) -> Result<PathBuf, Failure> {
    let mut number = 0;
    loop {
        let staging = folder.join(format!(".lapfell-staging-{}-{number}", std::process::id()));
        match fs::create_dir(&staging) {
            Ok(()) => return Ok(staging),
            Err(error) if error.kind() == ErrorKind::AlreadyExists && number < 100 => number += 1,
            Err(error) => return Err(Failure::write(folder, error)),
        }
    }
}

/// Files of the build before that this one does not make.
fn stale(folder: &Path, names: &[&str]) -> Vec<PathBuf> {
    let list = fs::read_to_string(folder.join(LIST)).unwrap_or_default();
    let plain = |line: &&str| Path::new(line).components().all(|c| matches!(c, Component::Normal(_)));
    let gone = list.lines().filter(plain).filter(|line| !names.contains(line));
    gone.map(|line| folder.join(line)).filter(|path| fs::symlink_metadata(path).is_ok_and(|m| m.is_file())).collect()
}

/// Makes the folders a file needs, and sees that they are where they seem to be.
fn room(folder: &Path, target: &Path) -> io::Result<()> {
    let Some(parent) = target.parent() else { return Ok(()) };
    fs::create_dir_all(parent)?;
    if !fs::canonicalize(parent)?.starts_with(fs::canonicalize(folder)?) {
        return Err(io::Error::other("a link leads out of the folder"));
    }
    if fs::symlink_metadata(target).is_ok_and(|m| m.is_dir()) {
        return Err(io::Error::other("there is a folder of that name"));
    }
    Ok(())
}

/// Moves made so far, so that they can be unmade.
struct Moves<'a> {
    staging: &'a Path,
    done: Vec<(PathBuf, PathBuf)>,
}

impl Moves<'_> {
    fn fresh(&self, index: usize) -> PathBuf {
        self.staging.join(format!("new-{index}"))
    }

    fn put(&mut self, index: usize, target: &Path) -> io::Result<()> {
        self.take_away(target, &format!("old-{index}"))?;
        self.rename(self.fresh(index), target.to_owned())
    }

    fn take_away(&mut self, target: &Path, name: &str) -> io::Result<()> {
        if fs::symlink_metadata(target).is_err() {
            return Ok(());
        }
        self.rename(target.to_owned(), self.staging.join(name))
    }

    fn rename(&mut self, from: PathBuf, to: PathBuf) -> io::Result<()> {
        fs::rename(&from, &to)?;
        self.done.push((from, to));
        Ok(())
    }

    fn undo(&mut self) {
        while let Some((from, to)) = self.done.pop() {
            // Nothing better can be done when even this fails; the first failure is the one reported.
            let _ = fs::rename(to, from);
        }
    }
}

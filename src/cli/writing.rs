//! Writing a set of files: all of them, or none.
//!
//! Everything is first written into a staging folder beside its place. Only when all of it is there is it
//! moved in, file by file or as a folder that is new; what was there before waits in the staging folder and is
//! moved back should a step fail. Files that are there already, word for word, are left alone. Files of the last build that this one no longer makes go too, so that no piece
//! of an older version is left to be cut; a list in the folder says which files those are.

use super::failure::Failure;
use crate::pipeline::OutputFile;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Component, Path, PathBuf};

/// Lists what a build wrote, a path a line.
const LIST: &str = ".lapfell-files";

/// Writes all files into a folder, which is made if need be. When they are not the `whole` of a build,
/// folders in it that these files do not touch are left as they are.
pub(super) fn write_all(folder: &Path, files: &[OutputFile], whole: bool) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|e| Failure::write(folder, e))?;
    let staging = stage(folder)?;
    let mut moves = Moves { staging: &staging, done: Vec::new() };
    let result = fill(folder, files, whole, &mut moves);
    if result.is_err() {
        moves.undo();
    }
    // Only what is of no more use is left in it.
    let _ = fs::remove_dir_all(&staging);
    result
}

fn fill(folder: &Path, files: &[OutputFile], whole: bool, moves: &mut Moves<'_>) -> Result<(), Failure> {
    let before = fs::read_to_string(folder.join(LIST)).unwrap_or_default();
    let names: BTreeSet<&str> = files.iter().map(|f| f.path.as_str()).collect();
    let touched: BTreeSet<&str> = names.iter().map(|n| top(n)).collect();
    let (old, kept): (Vec<&str>, Vec<&str>) = before.lines().partition(|n| whole || touched.contains(top(n)));
    let listed: BTreeSet<&str> = names.iter().copied().chain(kept).collect();
    let list: String = listed.iter().map(|n| format!("{n}\n")).collect();
    let listing = (LIST, list.as_str());
    let all: Vec<(&str, &str)> = files.iter().map(|f| (f.path.as_str(), f.contents.as_str())).chain([listing]).collect();
    let all = changed(folder, all);

    let new = moves.staging.join("new");
    let folders: BTreeSet<PathBuf> = all.iter().filter_map(|(path, _)| new.join(path).parent().map(Path::to_owned)).collect();
    folders.iter().try_for_each(fs::create_dir_all).map_err(|e| Failure::write(folder, e))?;
    all.par_iter()
        .try_for_each(|(path, contents)| fs::write(new.join(path), contents).map_err(|e| Failure::write(&folder.join(path), e)))?;
    let gone = old.into_iter().filter(|n| !names.contains(n)).filter_map(|n| stale(folder, n));
    for (index, old) in gone.enumerate() {
        moves.take_away(&old, &format!("stale-{index}")).map_err(|e| Failure::write(&old, e))?;
    }
    let (mut whole_folders, mut rooms) = (BTreeSet::new(), BTreeSet::new());
    for (index, (path, _)) in all.iter().enumerate() {
        let (top, target) = (top(path), folder.join(path));
        if whole_folders.contains(top) {
            continue;
        }
        // Where there is no such folder yet, what was staged can be moved in with it.
        if top != *path && fs::symlink_metadata(folder.join(top)).is_err() {
            moves.rename(new.join(top), folder.join(top)).map_err(|e| Failure::write(&target, e))?;
            whole_folders.insert(top);
            continue;
        }
        let parent = target.parent().unwrap_or(folder).to_owned();
        let made = if rooms.contains(&parent) { Ok(()) } else { room(folder, &target) };
        made.and_then(|()| moves.put(index, new.join(path), &target)).map_err(|e| Failure::write(&target, e))?;
        rooms.insert(parent);
    }
    Ok(())
}

/// Files that are not there already, word for word.
fn changed<'f>(folder: &Path, all: Vec<(&'f str, &'f str)>) -> Vec<(&'f str, &'f str)> {
    let parents: BTreeSet<PathBuf> = all.iter().filter_map(|(path, _)| folder.join(path).parent().map(Path::to_owned)).collect();
    let safe: BTreeSet<PathBuf> = parents.into_iter().filter(|parent| inside(folder, &parent.join(LIST))).collect();
    let same = |path: &str, contents: &str| {
        let target = folder.join(path);
        target.parent().is_some_and(|parent| safe.contains(parent))
            && fs::symlink_metadata(&target).is_ok_and(|m| m.is_file() && m.len() == contents.len() as u64)
            && fs::read(&target).is_ok_and(|there| there == contents.as_bytes())
    };
    all.into_par_iter().filter(|(path, contents)| !same(path, contents)).collect()
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

/// The first part of a path.
fn top(path: &str) -> &str {
    path.split('/').next().unwrap_or(path)
}

/// A file of the build before that this one does not make, if it is still there and inside the folder.
fn stale(folder: &Path, line: &str) -> Option<PathBuf> {
    let plain = Path::new(line).components().all(|c| matches!(c, Component::Normal(_)));
    let path = folder.join(line);
    (plain && inside(folder, &path) && fs::symlink_metadata(&path).is_ok_and(|m| m.is_file())).then_some(path)
}

/// Makes the folders a file needs, and sees that they are where they seem to be.
fn room(folder: &Path, target: &Path) -> io::Result<()> {
    let Some(parent) = target.parent() else { return Ok(()) };
    fs::create_dir_all(parent)?;
    if !inside(folder, target) {
        return Err(io::Error::other("a link leads out of the folder"));
    }
    Ok(())
}

/// Whether no link on the way leads out of the folder.
fn inside(folder: &Path, path: &Path) -> bool {
    let real = |p: &Path| fs::canonicalize(p).ok();
    path.parent().and_then(real).zip(real(folder)).is_some_and(|(parent, folder)| parent.starts_with(folder))
}

/// Moves made so far, so that they can be unmade.
struct Moves<'a> {
    staging: &'a Path,
    done: Vec<(PathBuf, PathBuf)>,
}

impl Moves<'_> {
    fn put(&mut self, index: usize, new: PathBuf, target: &Path) -> io::Result<()> {
        match fs::symlink_metadata(target) {
            Ok(there) if there.is_dir() => return Err(io::Error::other("there is a folder of that name")),
            Ok(_) => self.take_away(target, &format!("old-{index}"))?,
            Err(_) => {}
        }
        self.rename(new, target.to_owned())
    }

    fn take_away(&mut self, target: &Path, name: &str) -> io::Result<()> {
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

//! Writing a build into a folder: all of it, or none.
//!
//! Files are first written into a staging folder inside the one they are for. Only when all of them are there are
//! they moved in: the folder of a size in one step, with what it held before moved aside, and a single file over the one
//! before it. So whenever the program is stopped, every file is whole, and a folder of a size holds one build and not
//! parts of two. Should a step fail, all steps before it are undone. Files that are there already, word for word,
//! are left alone.
//!
//! A list in the folder says which design it belongs to and which files builds have written there. Only those are
//! replaced or taken away, and only by builds of that design: a file of any other origin is never touched. Files of the
//! last build that this one no longer makes go, so that no piece of an older version is left to be cut. The list is
//! written before anything is moved, and once more after: at every moment it names all that may be there.
//!
//! A build that was stopped leaves its staging folder behind. The next one into the same folder puts back what had been
//! moved aside and not yet replaced, and takes the rest away. A lock tells a build that was stopped from one that is
//! still at it.
//!
//! Where a folder of a size holds files of others, it is filled file by file instead. Nothing is forced out of the
//! system's own memory: what a loss of power leaves behind is up to the file system.

mod list;
mod moves;

use super::failure::Failure;
use crate::pipeline::OutputFile;
use list::List;
use moves::Moves;
use std::collections::BTreeSet;
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Where files wait until all are there.
const STAGING: &str = ".lapfell-staging";
/// In it: new files, single files that were replaced, whole folders that were, and what tells that it is in use.
const NEW: &str = "new";
const FILES: &str = "files";
const FOLDERS: &str = "folders";
const LOCK: &str = "lock";

/// A build being written.
pub(super) struct Writing<'a> {
    folder: &'a Path,
    /// Whether the folder was made for it.
    made: bool,
    staging: PathBuf,
    list: List,
    taken: Mutex<Vec<Taken>>,
    /// Whether the staging folder holds nothing that is of use to anyone else.
    clear: bool,
    /// Held until the end.
    lock: File,
}

/// A file that was given.
struct Taken {
    path: String,
    /// Whether it is there already, word for word.
    same: bool,
}

impl<'a> Writing<'a> {
    /// Begins to write a build of a design into a folder, which is made if need be.
    pub(super) fn into(folder: &'a Path, design: &str) -> Result<Self, Failure> {
        let made = fs::symlink_metadata(folder).is_err();
        fs::create_dir_all(folder).map_err(|e| match fs::metadata(folder) {
            Ok(there) if !there.is_dir() => Failure::write(folder, "it is a file; name a folder with --out"),
            Err(_) if fs::symlink_metadata(folder).is_ok_and(|m| m.is_symlink()) => {
                Failure::write(folder, "it is a link that leads nowhere; name a folder with --out")
            }
            _ => Failure::write(folder, e),
        })?;
        let staging = folder.join(STAGING);
        let lock = lock(&staging)?;
        let mut writing = Self { folder, made, staging, list: List::default(), taken: Mutex::default(), clear: false, lock };
        writing.list = List::read(folder, design)?;
        writing.recover().map_err(|e| Failure::write(folder, e))?;
        writing.clear = true;
        writing.list.is_of(design).map_err(|reason| Failure::write(folder, reason))?;
        Ok(writing)
    }

    /// Takes a file of the build.
    pub(super) fn take(&self, file: OutputFile) -> Result<(), Failure> {
        let target = self.folder.join(&file.path);
        let same = self.list.holds(&file.path) && is_same(&target, file.contents.as_bytes());
        if !same {
            put(&self.staging.join(NEW).join(&file.path), &file.contents).map_err(|e| Failure::write(&target, e))?;
        }
        self.taken.lock().unwrap_or_else(PoisonError::into_inner).push(Taken { path: file.path, same });
        Ok(())
    }

    /// Moves all that was taken into its place, and says how many files the build has. When it is not the `whole` of
    /// a design, folders that it does not touch are left as they are.
    pub(super) fn finish(mut self, whole: bool) -> Result<usize, Failure> {
        let taken = std::mem::take(&mut *self.taken.lock().unwrap_or_else(PoisonError::into_inner));
        let count = taken.len();
        let mut moves = Moves::new(self.folder, &self.staging);
        let result = self.move_in(&taken, whole, &mut moves);
        // What can't be moved back now, the next build may be able to.
        let undone = result.is_ok() || moves.undo();
        self.clear = undone;
        result.map(|()| count)
    }

    fn move_in(&self, taken: &[Taken], whole: bool, moves: &mut Moves<'_>) -> Result<(), Failure> {
        let names: BTreeSet<&str> = taken.iter().map(|t| t.path.as_str()).collect();
        let tops: BTreeSet<&str> = names.iter().map(|n| top(n)).collect();
        let in_scope = |name: &&str| whole || tops.contains(top(name));
        let stale: BTreeSet<&str> = self.list.names().filter(in_scope).filter(|n| !names.contains(n)).collect();
        let new: BTreeSet<&str> = taken.iter().filter(|t| !t.same).map(|t| t.path.as_str()).collect();
        self.refuse_others(&new)?;
        let kept = self.list.names().filter(|n| !in_scope(n));
        let (before, after) = (self.list.with(names.iter().copied()), List::of(self.list.design(), names.iter().copied().chain(kept)));

        moves.list(&before).map_err(|e| Failure::write(self.folder, e))?;
        let all: BTreeSet<&str> = new.iter().chain(&stale).map(|n| top(n)).collect();
        for top in all {
            let inside = |names: &BTreeSet<&str>| names.iter().filter(|n| self::top(n) == top).map(|n| (*n).to_owned()).collect::<Vec<_>>();
            let (new, stale, names) = (inside(&new), inside(&stale), inside(&names));
            let change = Change { top, new: &new, stale: &stale, names: &names };
            self.change(&change, moves).map_err(|e| Failure::write(&self.folder.join(top), e))?;
        }
        moves.list(&after).map_err(|e| Failure::write(self.folder, e))
    }

    /// Puts a file at the top, or a folder there, into its new state.
    fn change(&self, change: &Change<'_>, moves: &mut Moves<'_>) -> io::Result<()> {
        let place = self.folder.join(change.top);
        let there = fs::symlink_metadata(&place);
        let is_folder = change.names.iter().chain(change.stale).any(|n| n != change.top);
        if is_folder && there.is_err() {
            // Of what was listed there, nothing is left.
            return if change.new.is_empty() { Ok(()) } else { moves.place_folder(change.top) };
        }
        if is_folder && there.is_ok_and(|t| t.is_dir()) && self.is_ours(&place, change.top) {
            let same = change.names.iter().filter(|n| !change.new.contains(n));
            return moves.swap_folder(change.top, same, change.names.is_empty());
        }
        change.stale.iter().filter(|n| self.is_file(n)).try_for_each(|n| moves.take_away(n))?;
        change.new.iter().try_for_each(|n| moves.place_file(n))
    }

    /// Whether a folder holds nothing but files on the list.
    fn is_ours(&self, folder: &Path, name: &str) -> bool {
        let Ok(entries) = fs::read_dir(folder) else { return false };
        entries.into_iter().all(|entry| {
            let Ok(entry) = entry else { return false };
            let file_name = entry.file_name();
            let (Some(own), Ok(kind)) = (file_name.to_str(), entry.file_type()) else { return false };
            let path = format!("{name}/{own}");
            if kind.is_dir() {
                self.list.reaches_into(&path) && self.is_ours(&entry.path(), &path)
            } else {
                kind.is_file() && self.list.holds(&path)
            }
        })
    }

    /// Nothing that was not written by a build of this design may stand in the way of a file.
    fn refuse_others(&self, new: &BTreeSet<&str>) -> Result<(), Failure> {
        let mut missing = BTreeSet::new();
        for name in new {
            let mut parents: Vec<&Path> = Path::new(name).ancestors().skip(1).filter(|p| !p.as_os_str().is_empty()).collect();
            parents.reverse();
            let gone = parents.into_iter().try_fold(false, |gone, parent| {
                if gone || missing.contains(parent) {
                    return Ok(true);
                }
                let path = self.folder.join(parent);
                match fs::symlink_metadata(&path) {
                    Ok(there) if there.is_dir() => Ok(false),
                    Ok(_) => Err(Failure::write(&path, IN_THE_WAY)),
                    Err(_) => {
                        missing.insert(parent);
                        Ok(true)
                    }
                }
            })?;
            let path = self.folder.join(name);
            if !gone && fs::symlink_metadata(&path).is_ok_and(|there| !there.is_file() || !self.list.holds(name)) {
                return Err(Failure::write(&path, IN_THE_WAY));
            }
        }
        Ok(())
    }

    /// Whether a name on the list is still a file, with no link on the way to it.
    fn is_file(&self, name: &str) -> bool {
        let folders = Path::new(name).ancestors().skip(1).filter(|p| !p.as_os_str().is_empty());
        let is = |path: &Path, wanted: fn(&fs::Metadata) -> bool| fs::symlink_metadata(self.folder.join(path)).is_ok_and(|m| wanted(&m));
        folders.into_iter().all(|p| is(p, fs::Metadata::is_dir)) && is(Path::new(name), fs::Metadata::is_file)
    }

    /// Puts back folders that a build, stopped on its way, had moved aside and not replaced; clears away the rest.
    fn recover(&self) -> io::Result<()> {
        for aside in fs::read_dir(self.staging.join(FOLDERS)).into_iter().flatten() {
            let aside = aside?;
            let place = self.folder.join(aside.file_name());
            // What is no longer on the list was on its way out.
            let is_listed = aside.file_name().to_str().is_some_and(|name| self.list.reaches_into(name));
            if is_listed && fs::symlink_metadata(&place).is_err() {
                fs::rename(aside.path(), place)?;
            }
        }
        [NEW, FILES, FOLDERS].iter().try_for_each(|name| match fs::remove_dir_all(self.staging.join(name)) {
            Err(error) if error.kind() != ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        })
    }
}

/// What is to become of a file at the top of the folder, or of a folder there.
struct Change<'c> {
    top: &'c str,
    new: &'c [String],
    stale: &'c [String],
    /// All that the build has there.
    names: &'c [String],
}

const IN_THE_WAY: &str = "it is in the way, and no build of this design wrote it; move it, or name another folder with --out";

impl Drop for Writing<'_> {
    fn drop(&mut self) {
        // What can't be taken away now, the next build will.
        let _ = if self.clear { fs::remove_dir_all(&self.staging) } else { fs::remove_file(self.staging.join(LOCK)) };
        let _ = fs::remove_dir(&self.staging);
        let _ = self.lock.unlock();
        if self.made {
            // It stays unless it is empty.
            let _ = fs::remove_dir(self.folder);
        }
    }
}

/// Makes the staging folder and locks it.
fn lock(staging: &Path) -> Result<File, Failure> {
    match fs::create_dir(staging) {
        Ok(()) => {}
        Err(_) if fs::symlink_metadata(staging).is_ok_and(|there| there.is_dir()) => {}
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(Failure::write(staging, IN_THE_WAY)),
        Err(error) => return Err(Failure::write(staging, error)),
    }
    let lock = File::options().write(true).create(true).truncate(false).open(staging.join(LOCK)).map_err(|e| Failure::write(staging, e))?;
    match lock.try_lock() {
        Err(TryLockError::WouldBlock) => Err(Failure::write(staging, "another build is writing there; try again when it is done")),
        // A file system without locks does not keep anyone from writing.
        Ok(()) | Err(TryLockError::Error(_)) => Ok(lock),
    }
}

/// Writes a new file, its folders first where they are not there yet.
fn put(path: &Path, contents: &str) -> io::Result<()> {
    match fs::write(path, contents) {
        Err(error) if error.kind() == ErrorKind::NotFound => {
            path.parent().map_or(Ok(()), fs::create_dir_all)?;
            fs::write(path, contents)
        }
        done => done,
    }
}

fn is_same(path: &Path, contents: &[u8]) -> bool {
    fs::symlink_metadata(path).is_ok_and(|m| m.is_file() && m.len() == contents.len() as u64)
        && fs::read(path).is_ok_and(|there| there == contents)
}

/// The first part of a path.
fn top(path: &str) -> &str {
    path.split('/').next().unwrap_or(path)
}

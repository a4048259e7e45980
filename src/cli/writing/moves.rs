//! Moves from a staging folder into place, each with what unmakes it.

use super::list::{self, List};
use super::{FILES, FOLDERS, NEW, put};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Moves made so far.
pub(super) struct Moves<'a> {
    folder: &'a Path,
    staging: &'a Path,
    /// What unmakes each: a renaming, from where and to where.
    undo: Vec<(PathBuf, PathBuf)>,
}

impl<'a> Moves<'a> {
    pub(super) fn new(folder: &'a Path, staging: &'a Path) -> Self {
        Self { folder, staging, undo: Vec::new() }
    }

    /// Writes the list, unless it is there already.
    pub(super) fn list(&mut self, list: &List) -> io::Result<()> {
        let text = list.to_string();
        if fs::read_to_string(self.folder.join(list::NAME)).is_ok_and(|there| there == text) {
            return Ok(());
        }
        put(&self.staged(list::NAME), &text)?;
        self.place_file(list::NAME)
    }

    /// Moves a new file in, over the one before it: at no moment there is none.
    pub(super) fn place_file(&mut self, name: &str) -> io::Result<()> {
        let (new, target) = (self.staged(name), self.folder.join(name));
        target.parent().map_or(Ok(()), fs::create_dir_all)?;
        if fs::symlink_metadata(&target).is_ok() {
            let (aside, back) = self.aside(name)?;
            same_file(&target, &aside)?;
            fs::rename(&new, &target)?;
            self.undo.push((aside, back));
            return Ok(());
        }
        fs::rename(&new, &target)?;
        self.undo.push((target, new));
        Ok(())
    }

    /// Moves a file out of the way.
    pub(super) fn take_away(&mut self, name: &str) -> io::Result<()> {
        let (aside, target) = self.aside(name)?;
        fs::rename(&target, &aside)?;
        self.undo.push((aside, target));
        Ok(())
    }

    /// Moves in a folder where there is none.
    pub(super) fn place_folder(&mut self, name: &str) -> io::Result<()> {
        let (new, target) = (self.staged(name), self.folder.join(name));
        fs::rename(&new, &target)?;
        self.undo.push((target, new));
        Ok(())
    }

    /// Moves a folder aside and the new one into its place; the `same` files of it are taken over. Or no new one, when
    /// it is `gone`.
    pub(super) fn swap_folder<'n>(&mut self, name: &str, mut same: impl Iterator<Item = &'n String>, gone: bool) -> io::Result<()> {
        same.try_for_each(|file| {
            let new = self.staged(file);
            new.parent().map_or(Ok(()), fs::create_dir_all)?;
            same_file(&self.folder.join(file), &new)
        })?;
        let (aside, target) = (self.staging.join(FOLDERS).join(name), self.folder.join(name));
        fs::create_dir_all(self.staging.join(FOLDERS))?;
        fs::rename(&target, &aside)?;
        self.undo.push((aside, target));
        if gone { Ok(()) } else { self.place_folder(name) }
    }

    /// Unmakes all moves, the last first; whether that went well. The failure that led here is the one reported.
    pub(super) fn undo(&mut self) -> bool {
        let mut well = true;
        while let Some((from, to)) = self.undo.pop() {
            well &= fs::rename(from, to).is_ok();
        }
        well
    }

    fn staged(&self, name: &str) -> PathBuf {
        self.staging.join(NEW).join(name)
    }

    /// Where a file is kept while it is not needed, a name for each move; and its place.
    fn aside(&self, name: &str) -> io::Result<(PathBuf, PathBuf)> {
        let files = self.staging.join(FILES);
        fs::create_dir_all(&files)?;
        Ok((files.join(self.undo.len().to_string()), self.folder.join(name)))
    }
}

/// Gives a file a second name, or makes a copy where the file system knows no second names.
fn same_file(from: &Path, to: &Path) -> io::Result<()> {
    fs::hard_link(from, to).or_else(|_| fs::copy(from, to).map(|_| ()))
}

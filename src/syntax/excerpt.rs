//! Part of a long module, where only some of what it declares is wanted: told apart by lines, so that only those are read.
//!
//! For imports, and for modules known to be in order whose items each begin with a letter in the first column, as those of the
//! standard library do.

use super::ast::{File, Use};
use super::parse::{parse_known, parse_part};
use crate::diagnostic::Problems;
use crate::source::FileId;
use indexmap::IndexMap;
use std::collections::BTreeSet;
use std::ops::Range;

/// What a module holds, item by item.
pub struct Contents<'t> {
    text: &'t str,
    items: Vec<Item<'t>>,
}

/// An import or a declaration.
struct Item<'t> {
    range: Range<usize>,
    /// What it brings into the module: the declared name, or those imported.
    names: Vec<&'t str>,
}

impl<'t> Contents<'t> {
    /// Tells a module's items apart.
    #[must_use]
    pub fn of(text: &'t str) -> Self {
        Self { text, items: items(text) }
    }

    /// The names that `wanted` ones are made of, themselves among them; none when one is not declared here.
    #[must_use]
    pub fn needed(&self, wanted: &BTreeSet<&str>) -> Option<BTreeSet<&'t str>> {
        // Where two bring the same name, the first counts.
        let named = self.items.iter().rev().flat_map(|item| item.names.iter().map(move |name| (*name, item)));
        let by_name: IndexMap<&str, &Item<'t>> = named.collect();
        let declared = |name: &&str| by_name.get(name).copied().filter(|i| !is_import(self.text, i));
        let mut open: Vec<&Item<'t>> = wanted.iter().map(declared).collect::<Option<_>>()?;
        let mut found: BTreeSet<&'t str> = open.iter().flat_map(|i| i.names.iter().copied()).collect();
        while let Some(item) = open.pop() {
            if is_import(self.text, item) {
                continue;
            }
            for word in words(self.text.get(item.range.clone()).unwrap_or_default()) {
                if let Some(of) = by_name.get(word)
                    && found.insert(word)
                {
                    open.push(of);
                }
            }
        }
        Some(found)
    }

    /// Reads the imports that bring some of these names, of each those alone.
    pub fn imports(&self, file: FileId, names: &BTreeSet<&str>, problems: &mut Problems) -> Vec<Use> {
        let ranges = self.ranges(names, true);
        let mut uses: Vec<Use> = ranges.flat_map(|range| parse_item(file, self.text, range, problems).uses).collect();
        uses.iter_mut().for_each(|u| u.names.retain(|n| names.contains(n.alias.as_ref().unwrap_or(&n.name).text.as_str())));
        uses.retain(|u| !u.names.is_empty());
        uses
    }

    /// Where these names are declared.
    pub fn declarations(&self, names: &BTreeSet<&str>) -> impl Iterator<Item = Range<usize>> {
        self.ranges(names, false)
    }

    fn ranges(&self, names: &BTreeSet<&str>, imports: bool) -> impl Iterator<Item = Range<usize>> {
        let wanted = self.items.iter().filter(move |i| is_import(self.text, i) == imports && i.names.iter().any(|n| names.contains(n)));
        wanted.map(|i| i.range.clone())
    }
}

/// Reads an item of a module, which is in order.
pub fn parse_item(file: FileId, text: &str, range: Range<usize>, problems: &mut Problems) -> File {
    parse_known(file, range.start, text.get(range).unwrap_or_default(), problems)
}

/// The imports of any file, read before the rest of it, where each begins in the first column and nothing is wrong in it.
#[must_use]
pub fn imports(file: FileId, text: &str) -> Vec<Use> {
    let found = items(text).into_iter().filter(|i| is_import(text, i));
    let mut problems = Problems::default();
    let read = |i: Item<'_>| parse_part(file, i.range.start, text.get(i.range).unwrap_or_default(), &mut problems).uses;
    found.flat_map(read).collect()
}

/// The modules that a module imports from, in the order of its imports.
pub fn imported_paths(text: &str) -> impl Iterator<Item = &str> {
    text.lines().filter_map(|line| line.strip_prefix("use ")?.split_once('{')).map(|(path, _)| path.trim())
}

fn items(text: &str) -> Vec<Item<'_>> {
    let mut all: Vec<Item<'_>> = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let starts = line.starts_with(|c: char| c.is_ascii_alphabetic());
        if (starts || line.starts_with("//"))
            && let Some(last) = all.last_mut()
        {
            last.range.end = last.range.end.min(at);
        }
        if starts {
            all.push(Item { range: at..text.len(), names: Vec::new() });
        }
        at += line.len();
    }
    for item in &mut all {
        item.names = brought(text.get(item.range.clone()).unwrap_or_default());
    }
    all
}

fn is_import(text: &str, item: &Item<'_>) -> bool {
    text.get(item.range.clone()).is_some_and(|t| t.starts_with("use "))
}

/// The name behind an item's first word; of an import those in its braces, under the names they have here.
fn brought(item: &str) -> Vec<&str> {
    match item.strip_prefix("use ").and_then(|rest| rest.split_once('{')) {
        Some((_, names)) => names.split(['}', ',']).filter_map(|name| words(name).last()).collect(),
        None => words(item).nth(1).into_iter().collect(),
    }
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter(|word| !word.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::parse;

    const MODULE: &str = "// About.\nuse std.a { one, two as other }\nuse std.b { three }\n\nlet base = 2 mm\n// A heading: base.\n\
                          fn twice(d) = 2 * d\n\nfinish hem(rise = twice(base)) \"É {other}\" {\n  allow rise\n}\nlet last = three\n";

    fn set<'a>(names: &[&'a str]) -> BTreeSet<&'a str> {
        names.iter().copied().collect()
    }

    #[test]
    fn what_is_wanted_brings_what_it_is_made_of() {
        let needed = |wanted: &[&str]| Contents::of(MODULE).needed(&set(wanted));
        assert_eq!(needed(&["hem"]), Some(set(&["hem", "twice", "base", "other"])));
        assert_eq!(needed(&["last"]), Some(set(&["last", "three"])));
        assert_eq!(needed(&["hem", "lost"]), None);
        assert_eq!(needed(&["three"]), None, "it is only imported there");
    }

    #[test]
    fn modules_imported_from_are_in_the_order_written() {
        assert_eq!(imported_paths(MODULE).collect::<Vec<_>>(), ["std.a", "std.b"]);
    }

    fn read(text: &str) -> File {
        let mut problems = Problems::default();
        let file = parse(FileId(0), text, &mut problems);
        assert!(problems.is_empty(), "{text}");
        file
    }

    #[test]
    fn each_item_of_the_library_reads_alone_as_it_does_in_its_module() {
        for (path, text) in crate::stdlib::modules() {
            let whole = read(text);
            for declaration in &whole.declarations {
                let name = declaration.name().text.as_str();
                let contents = Contents::of(text);
                let needed = contents.needed(&set(&[name])).unwrap_or_else(|| panic!("{path} does not declare {name}"));
                let mut problems = Problems::default();
                let ranges = contents.declarations(&needed);
                let alone: Vec<_> = ranges.flat_map(|range| parse_item(FileId(0), text, range, &mut problems).declarations).collect();
                let wanted = whole.declarations.iter().filter(|d| needed.contains(d.name().text.as_str()));
                assert_eq!(alone, wanted.cloned().collect::<Vec<_>>(), "{name} in {path}");
                let mut uses = whole.uses.clone();
                uses.iter_mut().for_each(|u| u.names.retain(|n| needed.contains(n.alias.as_ref().unwrap_or(&n.name).text.as_str())));
                uses.retain(|u| !u.names.is_empty());
                assert_eq!(contents.imports(FileId(0), &needed, &mut problems), uses, "{name} in {path}");
                assert!(problems.is_empty());
            }
        }
    }
}

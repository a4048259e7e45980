//! The standard library's documentation, made from its sources.

mod details;

use super::UsageError;
use crate::diagnostic::{Problems, paragraphs};
use crate::source::SourceMap;
use crate::stdlib;
use crate::syntax::{
    self,
    ast::{Declaration, Parameter, TextLiteral, TextPart},
};
use serde::Serialize;

/// A module as documented.
#[derive(Serialize)]
struct Module {
    path: String,
    /// The comment it opens with.
    about: String,
    items: Vec<Item>,
}

/// Something declared in it.
#[derive(Serialize)]
struct Item {
    name: String,
    /// `component ribbon_loop(cut: length = 8 cm)`
    heading: String,
    doc: String,
    /// What else there is to know of it, a line each.
    details: Vec<String>,
}

/// The whole library when no name is given: its modules and what they hold. Of a module, or of one name, all there is to
/// read. As JSON always a list of modules, with all there is to read of what was asked for.
///
/// # Errors
/// When the library holds nothing of that name.
pub fn library(name: Option<&str>, json: bool) -> Result<String, UsageError> {
    let mut modules: Vec<Module> = stdlib::modules().map(|(path, text)| module(path, text)).collect();
    if !json {
        return in_words(&modules, name);
    }
    if let Some(name) = name {
        // Refused in the same words.
        in_words(&modules, Some(name))?;
        let is_module = modules.iter().any(|m| m.is_called(name));
        modules.iter_mut().filter(|_| !is_module).for_each(|m| m.items.retain(|i| i.name == name));
        modules.retain(|m| if is_module { m.is_called(name) } else { !m.items.is_empty() });
    }
    // Strings can't fail to serialise.
    Ok(serde_json::to_string_pretty(&modules).unwrap_or_default() + "\n")
}

fn in_words(modules: &[Module], name: Option<&str>) -> Result<String, UsageError> {
    let Some(name) = name else { return Ok(modules.iter().map(overview).collect()) };
    if let Some(found) = modules.iter().find(|m| m.is_called(name)) {
        return Ok(in_full(found));
    }
    let items = modules.iter().flat_map(|m| m.items.iter().map(move |i| (m, i)));
    let found: String = items.clone().filter(|(_, i)| i.name == name).map(|(m, i)| format!("{}\n\n{}", m.path, told_in_full(i))).collect();
    if found.is_empty() {
        let paths = modules.iter().map(|m| m.path.clone());
        let known = paths.chain(items.map(|(_, i)| i.name.clone())).collect();
        return Err(UsageError::UnknownModule { name: name.to_owned(), known });
    }
    Ok(found)
}

impl Module {
    /// `std.trims`, or `trims` for short.
    fn is_called(&self, name: &str) -> bool {
        self.path == name || self.path.strip_prefix("std.") == Some(name)
    }
}

fn overview(module: &Module) -> String {
    let first = module.about.lines().next().unwrap_or("");
    let names: Vec<_> = module.items.iter().map(|i| i.name.as_str()).collect();
    format!("{}\n  {first}\n{}\n", module.path, paragraphs(&names.join(", "), WIDTH, "    ", "    "))
}

/// Columns that a terminal holds.
const WIDTH: usize = 80;

fn in_full(module: &Module) -> String {
    let items: String = module.items.iter().map(|i| format!("\n{}", told(i))).collect();
    format!("{}\n\n{}\n{items}", module.path, module.about)
}

fn told(item: &Item) -> String {
    // Between two parameters only.
    let heading = item.heading.replace(' ', "\u{a0}").replace(",\u{a0}", ", ");
    let heading = paragraphs(&heading, WIDTH, "", "        ").replace('\u{a0}', " ");
    heading + &paragraphs(&item.doc, WIDTH, "    ", "    ")
}

fn told_in_full(item: &Item) -> String {
    // A detail is one line of two columns; what it says further goes on below the second.
    let details: String = item.details.iter().map(|line| paragraphs(line, WIDTH, "    ", "        ")).collect();
    told(item) + if details.is_empty() { "" } else { "\n" } + &details
}

fn module(path: String, text: &str) -> Module {
    let mut sources = SourceMap::default();
    let file = sources.add(path.clone(), text);
    let tree = syntax::parse(file, text, &mut Problems::default());
    let items = tree.declarations.iter().map(|d| item(d, &sources)).collect();
    Module { path, about: opening_comment(text), items }
}

/// Lines of `//` before the first line that is none.
fn opening_comment(text: &str) -> String {
    let lines = text.lines().map_while(|line| line.strip_prefix("//"));
    lines.map(|line| line.strip_prefix(' ').unwrap_or(line)).collect::<Vec<_>>().join("\n").trim_end().to_owned()
}

fn item(declaration: &Declaration, sources: &SourceMap) -> Item {
    let words = |text: Option<&TextLiteral>| text.map(|t| words(t, sources)).unwrap_or_default();
    let with = |parameters: &[Parameter]| signature(parameters, sources);
    let name = declaration.name().text.clone();
    let (heading, doc) = match declaration {
        Declaration::Design(d) => (format!("design {name}"), words(d.title.as_ref())),
        Declaration::Material(m) => (format!("material {name} is {}", m.kind.text), words(m.title.as_ref())),
        Declaration::Component(c) => (format!("component {name}{}", with(&c.parameters)), words(c.doc.as_ref())),
        Declaration::Outline(o) => (format!("outline {name}{}", with(&o.parameters)), words(o.doc.as_ref())),
        Declaration::Finish(f) => (format!("finish {name}{}", with(&f.parameters)), words(f.doc.as_ref())),
        Declaration::Cutter(c) => (format!("cutter {name} is {}", c.kind.text), words(c.title.as_ref())),
        Declaration::Function(f) => (format!("fn {name}{}", with(&f.parameters)), words(f.doc.as_ref())),
        Declaration::Constant(c) => (format!("let {name} = {}", sources.snippet(c.value.span)), words(c.doc.as_ref())),
    };
    Item { details: details::of(declaration, sources), name, heading, doc }
}

fn signature(parameters: &[Parameter], sources: &SourceMap) -> String {
    let one = |p: &Parameter| {
        let kind = p.kind.as_ref().map(|k| format!(": {}", k.text)).unwrap_or_default();
        let default = p.default.as_ref().map(|d| format!(" = {}", sources.snippet(d.span))).unwrap_or_default();
        format!("{}{kind}{default}", p.name.text)
    };
    format!("({})", parameters.iter().map(one).collect::<Vec<_>>().join(", "))
}

/// A text as written, its holes as the expressions in them.
pub(super) fn words(text: &TextLiteral, sources: &SourceMap) -> String {
    let part = |part: &TextPart| match part {
        TextPart::Chunk(chunk) => chunk.clone(),
        TextPart::Hole(hole) => format!("{{{}}}", sources.snippet(hole.span)),
    };
    text.parts.iter().map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_module_says_what_it_is_for_and_every_item_too() {
        for (path, text) in stdlib::modules() {
            let module = module(path, text);
            assert!(!module.about.is_empty(), "{} does not say what it is for", module.path);
            assert!(!module.items.is_empty(), "{} holds nothing", module.path);
            for item in &module.items {
                assert!(!item.doc.is_empty(), "{} in {} has no doc line", item.name, module.path);
            }
        }
    }

    #[test]
    fn modules_and_names_can_be_asked_for() {
        let all = library(None, false).unwrap();
        assert!(all.contains("std.trims\n") && all.contains("ribbon_loop"), "{all}");
        assert!(all.lines().all(|l| l.chars().count() <= 100), "{all}");
        assert_eq!(library(Some("trims"), false), library(Some("std.trims"), false));
        let loops = library(Some("ribbon_loop"), false).unwrap();
        assert!(loops.starts_with("std.trims\n\ncomponent ribbon_loop("), "{loops}");
        for line in ["cut     of the whole ribbon", "sits at places", "points in", "attach some = ribbon_loop() at 25 cm"] {
            assert!(loops.contains(line), "{line} in {loops}");
        }
        assert!(library(Some("rectangle"), false).unwrap().contains("edges: foot, right, head, left"));
        assert!(library(Some("ribbon_15mm"), false).unwrap().contains("width     = 15 mm"));
        assert!(library(Some("felled"), false).unwrap().contains("in a seam:   with felled()"));
        let Err(UsageError::UnknownModule { known, .. }) = library(Some("ribon_loop"), false) else { panic!("found") };
        assert!(known.contains(&"ribbon_loop".to_owned()));
    }
}

//! What an item of the library says of itself beyond its heading, in lines.

use super::words;
use crate::source::SourceMap;
use crate::syntax::ast::{Component, ComponentItem, Declaration, FinishItem, Material, Name, OutlineDecl, OutlineItem, Parameter, SitsAt};

/// Lines on one item.
pub(super) fn of(declaration: &Declaration, sources: &SourceMap) -> Vec<String> {
    match declaration {
        Declaration::Component(c) => [parameters(&c.parameters, sources), component(c, sources)].concat(),
        Declaration::Outline(o) => [parameters(&o.parameters, sources), outline(o)].concat(),
        Declaration::Finish(f) => {
            let call = call(&f.name, &f.parameters);
            let uses = f.items.iter().filter_map(|item| match item {
                FinishItem::Allow(e) => Some(format!("on an edge:  finish head with {call}, allowance {}", sources.snippet(e.span))),
                FinishItem::Needs(e) => Some(format!("in a seam:   with {call}, allowance {} or more", sources.snippet(e.span))),
                _ => None,
            });
            parameters(&f.parameters, sources).into_iter().chain(uses).collect()
        }
        Declaration::Function(f) => parameters(&f.parameters, sources),
        Declaration::Material(m) => material(m, sources),
        Declaration::Cutter(c) => vec![format!("cut skin with {}", c.name.text)],
        Declaration::Design(_) | Declaration::Constant(_) => Vec::new(),
    }
}

/// Each parameter that says what it is for.
fn parameters(parameters: &[Parameter], sources: &SourceMap) -> Vec<String> {
    let widest = parameters.iter().map(|p| p.name.text.chars().count()).max().unwrap_or(0);
    let doc = |p: &Parameter| p.doc.as_ref().map(|d| format!("{:widest$}  {}", p.name.text, words(d, sources)));
    parameters.iter().filter_map(doc).collect()
}

fn outline(outline: &OutlineDecl) -> Vec<String> {
    let edges = outline.items.iter().filter_map(|i| if let OutlineItem::Edge(e) = i { Some(e.name.text.as_str()) } else { None });
    vec![format!("edges: {}", edges.collect::<Vec<_>>().join(", ")), format!("shape {}", call(&outline.name, &outline.parameters))]
}

fn material(material: &Material, sources: &SourceMap) -> Vec<String> {
    let widest = material.settings.iter().map(|s| s.name.text.chars().count()).max().unwrap_or(0);
    material.settings.iter().map(|s| format!("{:widest$} = {}", s.name.text, sources.snippet(s.value.span))).collect()
}

fn component(component: &Component, sources: &SourceMap) -> Vec<String> {
    let (mut lines, mut stretch, mut pair, mut casing, mut face) = (Vec::new(), false, false, false, false);
    for item in &component.items {
        let line = match item {
            ComponentItem::Sits(sits, _) => {
                stretch = *sits == SitsAt::Stretch;
                format!("sits {}", if stretch { "along stretch" } else { "at places" })
            }
            ComponentItem::Pair(a, b) => {
                pair = true;
                format!("pair {}, {}", a.text, b.text)
            }
            ComponentItem::Catches(e) => format!("catches {}", sources.snippet(e.span)),
            ComponentItem::Faces(a, b) => {
                format!("faces {}", [Some(a), b.as_ref()].into_iter().flatten().map(|n| n.text.as_str()).collect::<Vec<_>>().join(", "))
            }
            ComponentItem::Points(n) => format!("points {}", n.text),
            ComponentItem::Needs(n) => {
                casing = true;
                format!("needs {}", n.text)
            }
            ComponentItem::Symbol(n) => {
                face = n.text == "cross";
                continue;
            }
            _ => continue,
        };
        lines.push(line);
    }
    let corner = component.doc.as_ref().is_some_and(|d| words(d, sources).contains("corner")) && !stretch;
    let place = match (stretch, pair) {
        (true, _) if casing => "along body.head",
        (true, true) => "over 45 cm from foot between front.left and back.left",
        (true, false) => "along body.head",
        (false, true) => "at 4 cm from head between front.left and back.left",
        (false, false) if face => "at (20 cm, 10 cm) on body",
        (false, false) if corner => "at corner head-left, right-head on body",
        (false, false) => "at 25 cm, 60 cm from head on body.left",
    };
    let uses = call(&component.name, &component.parameters);
    lines.push(format!("attach {} = {uses} {place}", if stretch { "one" } else { "some" }));
    lines
}

/// A call with what must be given.
fn call(name: &Name, parameters: &[Parameter]) -> String {
    let given: Vec<String> = parameters.iter().filter(|p| p.default.is_none()).map(|p| format!("{}: …", p.name.text)).collect();
    format!("{}({})", name.text, given.join(", "))
}

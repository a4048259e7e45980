//! What stands round the entities: header, tables, blocks, objects. The least that is legal.

use super::{WRITTEN, colour, layer_name};
use crate::export::pairs::{Pair, decimal, pair, section, text};
use crate::geometry::{Bounds, Point};

/// `$INSUNITS`: millimetres.
const MILLIMETRES: u16 = 4;
/// `$MEASUREMENT`: metric.
const METRIC: u16 = 1;

/// Gives out handles: hexadecimal numbers, each once.
#[derive(Debug, Default)]
pub(super) struct Handles(u64);

impl Handles {
    /// The next.
    pub(super) fn next(&mut self) -> String {
        self.0 += 1;
        format!("{:X}", self.0)
    }
}

/// A release 12 file.
pub(super) fn r12(bounds: Bounds, entities: &str) -> String {
    let mut all = header("AC1009", bounds, None);
    let tables = vec![
        table("LTYPE", vec![continuous("CONTINUOUS", &[])]),
        table("LAYER", layers().into_iter().map(|(name, colour)| layer(&name, colour, &[])).collect()),
        table("STYLE", vec![text_style(&[])]),
    ];
    all.extend(section("TABLES", tables.into_iter().flatten()));
    all.extend(section("BLOCKS", []));
    file(all, entities, Vec::new())
}

/// What stands before the entities, the entities, and what stands behind them.
fn file(mut before: Vec<Pair>, entities: &str, mut after: Vec<Pair>) -> String {
    before.extend([pair(0, "SECTION"), pair(2, "ENTITIES")]);
    after.insert(0, pair(0, "ENDSEC"));
    after.push(pair(0, "EOF"));
    [text(&before).as_str(), entities, &text(&after)].concat()
}

/// A release 2000 file; the entities are made with their handles and owner.
pub(super) fn r2000(bounds: Bounds, entities: impl FnOnce(&mut Handles, &str) -> String) -> String {
    let mut handles = Handles::default();
    let (model, paper) = (handles.next(), handles.next());
    let entities = entities(&mut handles, &model);
    let tables = tables(&mut handles, &model, &paper);
    let blocks: Vec<Pair> = [("*Model_Space", &model, false), ("*Paper_Space", &paper, true)]
        .into_iter()
        .flat_map(|(name, record, on_paper)| block(&mut handles, name, record, on_paper))
        .collect();
    let objects = objects(&mut handles);
    let seed = handles.next();
    let mut all = header("AC1015", bounds, Some(&seed));
    all.extend(section("CLASSES", []));
    all.extend(section("TABLES", tables));
    all.extend(section("BLOCKS", blocks));
    file(all, &entities, section("OBJECTS", objects))
}

fn header(version: &str, bounds: Bounds, seed: Option<&str>) -> Vec<Pair> {
    let corner = |p: Point| [pair(10, decimal(p.x)), pair(20, decimal(p.y)), pair(30, decimal(0.0))].to_vec();
    let mut variables = vec![("$ACADVER", vec![pair(1, version)]), ("$DWGCODEPAGE", vec![pair(3, "ANSI_1252")])];
    if let Some(seed) = seed {
        variables.push(("$HANDSEED", vec![pair(5, seed)]));
    }
    variables.extend([
        ("$INSUNITS", vec![pair(70, MILLIMETRES)]),
        ("$MEASUREMENT", vec![pair(70, METRIC)]),
        ("$EXTMIN", corner(bounds.min)),
        ("$EXTMAX", corner(bounds.max)),
    ]);
    section("HEADER", variables.into_iter().flat_map(|(name, values)| std::iter::once(pair(9, name)).chain(values)))
}

fn layers() -> Vec<(String, u8)> {
    let own = WRITTEN.iter().map(|&l| (layer_name(l), colour(l)));
    std::iter::once(("0".to_owned(), 7)).chain(own).collect()
}

/// A table of release 12.
fn table(name: &str, entries: Vec<Vec<Pair>>) -> Vec<Pair> {
    let mut all = vec![pair(0, "TABLE"), pair(2, name), pair(70, entries.len())];
    all.extend(entries.into_iter().flatten());
    all.push(pair(0, "ENDTAB"));
    all
}

/// What release 2000 puts between an entry's kind and its name: handle, owner, two class markers.
fn marked(handles: &mut Handles, owner: &str, class: &str) -> Vec<Pair> {
    vec![pair(5, handles.next()), pair(330, owner), pair(100, "AcDbSymbolTableRecord"), pair(100, class)]
}

fn entry(kind: &str, marks: &[Pair], values: impl IntoIterator<Item = Pair>) -> Vec<Pair> {
    let mut all = vec![pair(0, kind)];
    all.extend_from_slice(marks);
    all.extend(values);
    all
}

fn continuous(name: &str, marks: &[Pair]) -> Vec<Pair> {
    entry("LTYPE", marks, [pair(2, name), pair(70, 0), pair(3, ""), pair(72, 65), pair(73, 0), pair(40, decimal(0.0))])
}

fn layer(name: &str, colour: u8, marks: &[Pair]) -> Vec<Pair> {
    entry("LAYER", marks, [pair(2, name), pair(70, 0), pair(62, colour), pair(6, "CONTINUOUS")])
}

fn text_style(marks: &[Pair]) -> Vec<Pair> {
    let zero = || decimal(0.0);
    let values = [pair(2, "STANDARD"), pair(70, 0), pair(40, zero()), pair(41, decimal(1.0)), pair(50, zero()), pair(71, 0)];
    entry("STYLE", marks, values.into_iter().chain([pair(42, decimal(2.5)), pair(3, "txt"), pair(4, "")]))
}

/// The nine tables of release 2000; some are empty.
fn tables(handles: &mut Handles, model: &str, paper: &str) -> Vec<Pair> {
    let mut all = Vec::new();
    let mut add = |handles: &mut Handles, name: &str, entries: &dyn Fn(&mut Handles, &str) -> Vec<Vec<Pair>>| {
        let handle = handles.next();
        let entries = entries(handles, &handle);
        all.extend([
            pair(0, "TABLE"),
            pair(2, name),
            pair(5, &handle),
            pair(330, 0),
            pair(100, "AcDbSymbolTable"),
            pair(70, entries.len()),
        ]);
        if name == "DIMSTYLE" {
            all.push(pair(100, "AcDbDimStyleTable"));
        }
        all.extend(entries.into_iter().flatten());
        all.push(pair(0, "ENDTAB"));
    };
    let none = |_: &mut Handles, _: &str| Vec::new();
    add(handles, "VPORT", &none);
    add(handles, "LTYPE", &|handles, table| {
        ["BYBLOCK", "BYLAYER", "CONTINUOUS"].map(|name| continuous(name, &marked(handles, table, "AcDbLinetypeTableRecord"))).to_vec()
    });
    add(handles, "LAYER", &|handles, table| {
        layers().into_iter().map(|(name, colour)| layer(&name, colour, &marked(handles, table, "AcDbLayerTableRecord"))).collect()
    });
    add(handles, "STYLE", &|handles, table| vec![text_style(&marked(handles, table, "AcDbTextStyleTableRecord"))]);
    add(handles, "VIEW", &none);
    add(handles, "UCS", &none);
    add(handles, "APPID", &|handles, table| {
        let marks = marked(handles, table, "AcDbRegAppTableRecord");
        vec![entry("APPID", &marks, [pair(2, "ACAD"), pair(70, 0)])]
    });
    add(handles, "DIMSTYLE", &none);
    add(handles, "BLOCK_RECORD", &|_, table| {
        [("*Model_Space", model), ("*Paper_Space", paper)]
            .map(|(name, handle)| {
                let marks = [pair(5, handle), pair(330, table), pair(100, "AcDbSymbolTableRecord"), pair(100, "AcDbBlockTableRecord")];
                entry("BLOCK_RECORD", &marks, [pair(2, name)])
            })
            .to_vec()
    });
    all
}

fn block(handles: &mut Handles, name: &str, record: &str, on_paper: bool) -> Vec<Pair> {
    let mut all = Vec::new();
    let mut begin = |handles: &mut Handles, kind: &str, class: &str| {
        all.extend([pair(0, kind), pair(5, handles.next()), pair(330, record), pair(100, "AcDbEntity")]);
        if on_paper {
            all.push(pair(67, 1));
        }
        all.extend([pair(8, "0"), pair(100, class)]);
        if kind == "BLOCK" {
            all.extend([
                pair(2, name),
                pair(70, 0),
                pair(10, decimal(0.0)),
                pair(20, decimal(0.0)),
                pair(30, decimal(0.0)),
                pair(3, name),
                pair(1, ""),
            ]);
        }
    };
    begin(handles, "BLOCK", "AcDbBlockBegin");
    begin(handles, "ENDBLK", "AcDbBlockEnd");
    all
}

/// The root dictionary, and in it the one entry that readers insist on.
fn objects(handles: &mut Handles) -> Vec<Pair> {
    let (root, groups) = (handles.next(), handles.next());
    let dictionary = |handle: &str, owner: &str| {
        vec![pair(0, "DICTIONARY"), pair(5, handle), pair(330, owner), pair(100, "AcDbDictionary"), pair(281, 1)]
    };
    let mut all = dictionary(&root, "0");
    all.extend([pair(3, "ACAD_GROUP"), pair(350, &groups)]);
    all.extend(dictionary(&groups, &root));
    all
}

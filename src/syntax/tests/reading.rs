//! Sources that are right, and the tree they make.

#![allow(clippy::unwrap_used, reason = "a test may fail")]

use super::{WHOLE, read};
use crate::diagnostic::Problems;
use crate::source::{FileId, Span};
use crate::syntax::ast::{
    AttachOn, AttachWhere, BinaryOp, ComponentItem, Constant, Declaration, DesignItem, Expr, ExprKind, LayKind, LayPlace, Limits,
    PanelItem, PlaceKind, SeamItem, Shape, ShapeKind, StretchFrom, TextPart,
};
use crate::syntax::parse_expression;

fn value(text: &str) -> Expr {
    let mut problems = Problems::default();
    let value = parse_expression(FileId(0), text, &mut problems);
    assert!(problems.is_empty(), "{text}: {problems:?}");
    value.unwrap()
}

/// The tree of a value in brackets, so that how it is grouped can be read.
fn grouped(e: &Expr) -> String {
    match &e.kind {
        ExprKind::Number(n) => format!("{n}"),
        ExprKind::Quantity { value, unit } => format!("{value} {}", unit.text),
        ExprKind::Text(_) => "text".into(),
        ExprKind::Truth(t) => format!("{t}"),
        ExprKind::List(all) => format!("[{}]", all.iter().map(grouped).collect::<Vec<_>>().join(", ")),
        ExprKind::Point(x, y) => format!("point({}, {})", grouped(x), grouped(y)),
        ExprKind::Reference(n) => n.text.clone(),
        ExprKind::Call { callee, arguments } => {
            let all = arguments.items.iter().map(|a| {
                let name = a.name.as_ref().map_or(String::new(), |n| format!("{}: ", n.text));
                format!("{name}{}", grouped(&a.value))
            });
            format!("{}({})", callee.text, all.collect::<Vec<_>>().join(", "))
        }
        ExprKind::Member { of, member } => format!("({}.{})", grouped(of), member.text),
        ExprKind::Negate(a) => format!("(-{})", grouped(a)),
        ExprKind::Not(a) => format!("(not {})", grouped(a)),
        ExprKind::Binary { op, left, right } => format!("({} {op:?} {})", grouped(left), grouped(right)),
        ExprKind::Power(a, n) => format!("({} ^ {n})", grouped(a)),
        ExprKind::Choose { condition, then, otherwise } => {
            format!("(when {} then {} else {})", grouped(condition), grouped(then), grouped(otherwise))
        }
    }
}

#[test]
fn operators_bind_as_on_paper() {
    for (text, tree) in [
        ("1 + 2 * 3", "(1 Add (2 Multiply 3))"),
        ("1 - 2 - 3", "((1 Subtract 2) Subtract 3)"),
        ("8 / 2 / 2", "((8 Divide 2) Divide 2)"),
        ("-2 ^ 2", "(-(2 ^ 2))"),
        ("-a.b", "(-(a.b))"),
        ("-4 degC", "-4 degC"),
        ("-(2 cm) ^ 2", "(-(2 cm ^ 2))"),
        ("(1 + 2) * 3", "((1 Add 2) Multiply 3)"),
        ("not a == b and c or d", "(((not (a Equal b)) And c) Or d)"),
        ("a or b and c", "(a Or (b And c))"),
        ("a + 1 < b * 2", "((a Add 1) Less (b Multiply 2))"),
        ("- - a", "(-(-a))"),
        ("a.b.c ^ 3", "(((a.b).c) ^ 3)"),
        ("when a then 1 else when b then 2 else 3", "(when a then 1 else (when b then 2 else 3))"),
        ("((1, 2), (3, (4)))", "point(point(1, 2), point(3, 4))"),
        ("f(1, to_end: [a, 2 cm])", "f(1, to_end: [a, 2 cm])"),
        ("yes", "true"),
        ("12 mm", "12 mm"),
        ("12mm", "12 mm"),
        ("x * 3/4 in", "(x Multiply 0.75 in)"),
        ("6/2", "(6 Divide 2)"),
        ("36 g/m2 * 2", "(36 g/m2 Multiply 2)"),
        ("40%", "40 %"),
        ("a / b", "(a Divide b)"),
        ("3 cm // a note", "3 cm"),
    ] {
        assert_eq!(grouped(&value(text)), tree, "{text}");
    }
}

#[test]
fn tape_measures_are_read_as_on_the_tape() {
    // One and a half, three quarters, and 5 * 12 + 10.5.
    for (text, expected) in [("1 1/2 in", 1.5), ("3/4 in", 0.75), ("5 ft 10 1/2 in", 70.5), ("6 ft 0 in", 72.0), ("2\t3/8 in", 2.375)] {
        let ExprKind::Quantity { value, unit } = value(text).kind else { panic!("{text} is no quantity") };
        assert!((value - expected).abs() < 1e-12 && unit.text == "in", "{text}: {value} {}", unit.text);
    }
}

#[test]
fn what_stands_in_one_hole_of_a_text_tells_nothing_of_another() {
    for text in [
        "\"{a / 4} and {20 mm}\"",
        "\"{a - 1}, {1/2 in} and {5}\"",
        "\"{5 ft}-{10 in}, {b(0, 4)} {3 * 2} {4}\"",
        "4 \"a count, {20 mm} long\"",
    ] {
        assert_eq!(read(&format!("let a = {text}")).found(), [], "{text}");
    }
    // The last figure of a hole is looked at too.
    let read = read("let a = \"{[0,6]} and {b(1, 2)}, {b(0,6)} off\"");
    assert_eq!(read.found(), [("decimal-comma", "0,6"), ("decimal-comma", "0,6")]);
}

#[test]
fn escapes_and_holes_in_text() {
    let ExprKind::Text(text) = value(r#""a \"b\"\n{{c}} \\ {d + 1}é{"inner {e}"}""#).kind else { panic!("no text") };
    let [TextPart::Chunk(first), TextPart::Hole(hole), TextPart::Chunk(middle), TextPart::Hole(inner)] = text.parts.as_slice() else {
        panic!("{:?}", text.parts)
    };
    assert_eq!(first, "a \"b\"\n{c} \\ ");
    assert_eq!(grouped(hole), "(d Add 1)");
    assert_eq!(middle, "é");
    assert!(matches!(inner.kind, ExprKind::Text(_)));
}

#[test]
fn spans_hold_what_was_written_and_no_more() {
    let text = "let a = 3 cm // why\n\nlet b = (a + 2) * 3 \"doc\"\n// end\n";
    let read = read(text);
    let spans: Vec<&str> = read
        .file
        .declarations
        .iter()
        .map(|d| match d {
            Declaration::Constant(c) => read.sources.snippet(c.span),
            _ => "",
        })
        .collect();
    assert_eq!(spans, ["let a = 3 cm", "let b = (a + 2) * 3 \"doc\""]);
    let Some(Declaration::Constant(Constant { value, .. })) = read.file.declarations.get(1) else { panic!("no constant") };
    assert_eq!(read.sources.snippet(value.span), "(a + 2) * 3");
    let ExprKind::Binary { op: BinaryOp::Multiply, left, .. } = &value.kind else { panic!("{value:?}") };
    assert_eq!(read.sources.snippet(left.span), "(a + 2)");
}

#[test]
fn the_whole_language_is_read() {
    let read = read(WHOLE);
    assert_eq!(read.found(), []);
    assert_eq!((read.file.uses.len(), read.file.declarations.len()), (2, 8));
    let snap = read.file.uses.first().unwrap().names.get(1).unwrap();
    assert_eq!((snap.name.text.as_str(), snap.alias.as_ref().unwrap().text.as_str()), ("snap", "press_stud"));
    let Some(Declaration::Component(toggle)) = read.file.declarations.get(5) else { panic!("no component") };
    assert_eq!(toggle.items.len(), 17);
    let ComponentItem::When(when) = toggle.items.last().unwrap() else { panic!("no condition") };
    let [ComponentItem::When(chained)] = when.otherwise.as_slice() else { panic!("no chain") };
    assert_eq!((when.then.len(), chained.then.len(), chained.otherwise.len()), (1, 1, 1));
}

#[test]
fn a_design_keeps_all_it_says() {
    let read = read(WHOLE);
    let Some(Declaration::Design(design)) = read.file.declarations.last() else { panic!("no design") };
    assert_eq!(design.items.len(), 35);
    let ranges = design.items.iter().filter(|i| matches!(i, DesignItem::Param(p) if matches!(p.limits, Limits::Range { .. }))).count();
    assert_eq!(ranges, 1);
    let shell = design.items.iter().find_map(|i| if let DesignItem::Panel(p) = i { Some(p) } else { None }).unwrap();
    assert_eq!(shell.items.len(), 38);
    let moved: Vec<_> =
        shell.items.iter().filter_map(|i| if let PanelItem::Move(m) = i { Some((m.outward, m.edges.len())) } else { None }).collect();
    assert_eq!(moved, [(false, 0), (true, 2)]);
    let laid: Vec<_> = shell.items.iter().filter_map(|i| if let PanelItem::Lay(l) = i { Some(l) } else { None }).collect();
    assert_eq!(laid.iter().map(|l| l.kind).collect::<Vec<_>>(), [LayKind::Add, LayKind::Keep, LayKind::Remove]);
    assert!(matches!(&laid[1].at, LayPlace::Corner(c) if c.first.text == "head" && c.second.text == "left"));
    let strip = design.items.iter().find_map(|i| match i {
        DesignItem::Panel(p) if p.name.text == "facing" => p.items.get(1),
        _ => None,
    });
    let Some(PanelItem::Shape(Shape { kind: ShapeKind::Strip { panel, edge, .. }, .. })) = strip else { panic!("no strip") };
    assert_eq!((panel.text.as_str(), edge.text.as_str()), ("shell", "head"));
    let Some(PanelItem::Cut(cut)) = shell.items.get(2) else { panic!("no cut") };
    assert!(cut.mirrored && cut.copies.iter().map(|c| c.text.as_str()).eq(["outer", "inner"]));
    let attached: Vec<_> = design.items.iter().filter_map(|i| if let DesignItem::Attach(a) = i { Some(a) } else { None }).collect();
    assert_eq!(attached.len(), 10);
    let loops = attached.first().unwrap();
    let AttachWhere::At(places) = &loops.where_ else { panic!("no places") };
    assert!(matches!(&places.kind, PlaceKind::List { at, from: Some(from) } if at.len() == 2 && from.text == "head"));
    assert_eq!(loops.facing.as_ref().unwrap().text, "back");
    assert_eq!(loops.may_cross.len(), 1);
    let row = attached.get(2).unwrap();
    assert!(matches!(&row.on, AttachOn::Row(edges) if edges.len() == 2) && row.where_ == AttachWhere::Along);
    let zip = attached.get(3).unwrap();
    let AttachWhere::Over(stretch) = &zip.where_ else { panic!("no stretch") };
    assert!(matches!(&stretch.from, StretchFrom::End { starting: Some(_), end } if end.text == "foot"));
    assert!(matches!(&zip.on, AttachOn::Between(first, _) if first.path.len() == 2));
    let seams: Vec<_> = design.items.iter().filter_map(|i| if let DesignItem::Seam(s) = i { Some(s) } else { None }).collect();
    let Some(SeamItem::Join { first, second, .. }) = seams.first().unwrap().items.first() else { panic!("no join") };
    assert_eq!((first.len(), second.len()), (2, 1));
    assert!(first.get(1).unwrap().stretch.is_some());
}

#[test]
#[allow(clippy::disallowed_methods, reason = "reads the project's own files")]
fn the_standard_library_is_read() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("stdlib");
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let read = read(&std::fs::read_to_string(&path).unwrap());
        assert_eq!(read.found(), [], "{}", path.display());
        assert!(!read.file.declarations.is_empty());
    }
}

#[test]
fn a_byte_order_mark_and_foreign_line_ends_change_nothing() {
    let plain = read(WHOLE);
    let foreign = WHOLE.replace('\n', "\r\n");
    let crlf = read(&foreign);
    assert_eq!(crlf.found(), []);
    assert_eq!(crlf.file.declarations.len(), plain.file.declarations.len());
    let marked = read("\u{feff}let a = 3 cm");
    assert_eq!(marked.found(), []);
    let Some(Declaration::Constant(a)) = marked.file.declarations.first() else { panic!("no constant") };
    assert_eq!(a.span, Span::new(FileId(0), 3, 15));
    assert_eq!(read("\u{feff}let a 3 cm").found(), [("missing-equals", "3")]);
}

#[test]
fn order_carries_no_meaning_not_even_for_imports() {
    let read = read("let a = 1\nuse std.trims { b }\n");
    assert_eq!(read.found(), []);
    assert_eq!((read.file.uses.len(), read.file.declarations.len()), (1, 1));
}

#[test]
fn reserved_words_are_no_names_and_all_others_are() {
    let reserved = [
        "and", "or", "not", "when", "then", "else", "from", "to", "of", "on", "at", "by", "over", "along", "between", "starting", "every",
        "evenly", "mirrored", "with", "as", "is", "after", "before", "because", "one", "yes", "no",
    ];
    for word in reserved {
        assert_eq!(read(&format!("let {word} = 1")).found().first().map(|f| f.0), Some("reserved-word"), "{word}");
        assert_eq!(read(&format!("let {word}s = 1")).found(), [], "{word}s");
    }
    for word in ["panel", "cut", "design", "let", "middle", "stitch", "short", "ones", "inner"] {
        assert_eq!(read(&format!("let {word} = 1")).found(), [], "{word}");
    }
}

#[test]
fn a_hundred_brackets_are_read_and_one_more_is_told() {
    for (open, close) in [("(", ")"), ("[", "]"), ("f(", ")"), ("\"{", "}\""), ("when ", " then 1 else 2"), ("when a then ", " else 2")] {
        let nested = |n: usize| format!("let a = {}b{}", open.repeat(n), close.repeat(n));
        // A text and its hole are two.
        let deepest = if open == "\"{" { 50 } else { 100 };
        assert_eq!(read(&nested(deepest)).found(), [], "{open}");
        assert_eq!(read(&nested(deepest + 1)).found().first().map(|f| f.0), Some("nested-too-deep"), "{open}");
        assert_eq!(read(&nested(50_000)).found().first().map(|f| f.0), Some("nested-too-deep"), "{open}");
    }
    for chain in ["- ", "not ", "a + ", "a.", "a and "] {
        let long = |n: usize| format!("let a = {}b", chain.repeat(n));
        assert_eq!(read(&long(200)).found(), [], "{chain}");
        assert_eq!(read(&long(201)).found().first().map(|f| f.0), Some("expression-too-long"), "{chain}");
        assert_eq!(read(&long(5_000)).found().first().map(|f| f.0), Some("expression-too-long"), "{chain}");
    }
    let chained = |n: usize| format!("design d {{ when a {{ }} {} }}", "else when a { } ".repeat(n));
    assert_eq!(read(&chained(90)).found(), []);
    assert_eq!(read(&chained(5_000)).found().first().map(|f| f.0), Some("nested-too-deep"));
    // Choices one after the other are not nested.
    let many = "  let a = when b then 1 else 2\n  when c { let d = 3 }\n  require e else \"no\"\n".repeat(300);
    assert_eq!(read(&format!("design d {{\n{many}}}")).found(), []);
}

#[test]
fn a_file_too_large_is_not_read() {
    let read = read(&"// far too much\n".repeat(300_000));
    let [only] = read.problems.sorted()[..] else { panic!("{:?}", read.found()) };
    assert_eq!(only.headline.read_in(crate::quantity::Style::METRIC), "this file is 4.6 MiB large; no more than 4 MiB are read");
    assert_eq!(read.file.declarations.len(), 0);
}

//! Sources that are wrong: what is told, and where.

#![allow(clippy::unwrap_used, reason = "a test may fail")]

use super::{WHOLE, read};
use crate::diagnostic::Problems;
use crate::quantity::Style;
use crate::source::FileId;
use crate::syntax::error::CODES;
use crate::syntax::parse_expression;
use std::collections::BTreeSet;

/// A code, a source that earns it, and the text its main place lies under.
const EACH: &[(&str, &str, &str)] = &[
    ("brace-in-text", "let a = \"cut {b of it\"", "{"),
    ("brace-in-text", "let a = \"cut } it\"", "}"),
    ("chained-comparison", "let a = 1 < b < 2", "<"),
    ("comment-mark", "let a = 1 # why", "#"),
    ("comment-mark", "/* why */\nlet a = 1", "/*"),
    ("control-character", "let a = 1\u{7} cm", "\u{7}"),
    ("control-character", "// one\rlet a = 1\n", "\r"),
    ("control-character", "let a = \"\u{202e}evil\"", "\u{202e}"),
    ("control-character", "let a = \"b \u{fdd1} c\"", "\u{fdd1}"),
    ("control-character", "let a\u{ffff} = 1", "\u{ffff}"),
    ("control-character", "// one\u{10fffe}\nlet a = 1", "\u{10fffe}"),
    ("decimal-comma", "let a = 0,6 m", "0,6"),
    ("decimal-comma", "let a = [0,6 m]", "0,6"),
    ("equals-sign", "let a == 1", "=="),
    ("equals-sign", "let a: 1", ":"),
    ("equals-sign", "let a: length = 1", ": length"),
    ("keyword-read-as-unit", "design d { size s { a = 3  base = 4 } }", "base"),
    ("equals-sign", "design d { when a = 1 { } }", "="),
    ("equals-sign", "let a = f(b = 1)", "="),
    ("expression-too-long", "", ""),
    ("extra-comma", "let a = [1, 2,]", ","),
    ("extra-comma", "design d { panel p {\n cut 1 of a as b,\n grain any\n} }", ","),
    ("fraction-by-zero", "let a = 1/0 in", "1/0"),
    ("fraction-without-unit", "let a = 1 1/2", "1 1/2"),
    ("fraction-without-unit", "let a = 1 1/2 * b", "1 1/2"),
    ("hyphen-in-measure", "let a = 1-1/2 in", "1-1/2"),
    ("hyphen-in-measure", "let a = 5 ft-10 in", "5 ft-10"),
    ("inch-mark", "let a = 12\"", "12\""),
    ("inch-mark", "let a = 5′", "5′"),
    ("keyword-read-as-unit", "design d { panel p { dart head at 1 cm from left wide 2 deep 8 cm } }", "deep"),
    ("misplaced-statement", "design d {\n allow 12 mm\n}", "allow"),
    ("misplaced-statement", "panel p { cut 1 of a }", "panel"),
    ("missing-brace", "design d\n let a = 1\n}", ""),
    ("missing-comma", "let a = [1 cm 2 cm]", "2"),
    ("missing-comma", "design d { panel p { taper left right by 1 cm over 2 cm from foot } }", "right"),
    ("missing-comma", "design d { panel p { notch head, left, and foot at middle } }", "and"),
    ("missing-equals", "let a 1 cm", "1"),
    ("missing-equals", "design d { attach loop(cut: 1 cm) at middle on a.b }", "loop"),
    ("name-starts-with-figure", "design d { panel 2nd_layer { cut 1 of a } }", "2nd_layer"),
    ("name-with-blank", "let foot box = 1 cm", "foot box"),
    ("name-with-hyphen", "let foot-box = 1 cm", "foot-box"),
    ("needless-semicolon", "let a = 1;", ";"),
    ("nested-too-deep", "", ""),
    ("number-too-large", "let a = 99999999999999999999 mm", "99999999999999999999"),
    ("power-too-large", "let a = b ^ 99", "^ 99"),
    ("repeated-clause", "design d { attach a = b() at middle on c.d pointing in pointing out }", "pointing out"),
    ("reserved-word", "design d { panel over { cut 1 of a } }", "over"),
    ("single-quotes", "design d 'Larch' { }", "'Larch'"),
    ("stray-backslash", "let a = \"b \\ c\"", "\\"),
    ("stray-brace", "let a = 1\n}\nlet b = 2", "}"),
    ("stray-bracket", "let a = (1 + 2))", ")"),
    ("stray-else", "design d {\n let a = 1\n else { let a = 2 }\n}", "else"),
    ("syntax", "let a = *", "*"),
    ("syntax", "design d { seam s {\n join a.b to c.d\n right sides together\n} }", "right sides together"),
    ("syntax", "design d { seam s { join a.b to c.d wrong side together } }", "wrong side together"),
    ("syntax", "design d {\n let a =\n let b = 1\n}", ""),
    ("syntax", "design d { panel p { cut 1 off a } }", "off"),
    ("text-needs-quotes", "design d { panel p { raw foot because hot cut } }", "hot cut"),
    ("two-numbers", "let a = 1 000 mm", "1 000"),
    ("typographic-character", "design d “Larch” { }", "“Larch”"),
    ("typographic-character", "let a = 2 × 3", "×"),
    ("typographic-character", "let a = 1½ in", "½"),
    ("typographic-character", "let a =\u{a0}1", "\u{a0}"),
    ("unclosed-brace", "design d {\n let a = 1\n", "{"),
    ("unclosed-bracket", "let a = (1 + 2\nlet b = 3", "("),
    ("unclosed-bracket", "let a = [1, 2)", ")"),
    ("unclosed-text", "let a = \"b\nlet c = 1", "\"b"),
    ("unfinished-decimal", "let a = .5 cm", ".5"),
    ("unfinished-decimal", "let a = 5. cm", "5."),
    ("unit-on-next-line", "let a = 12\nmm", "mm"),
    ("unknown-mark", "let a = b @ c", "@"),
    ("unknown-statement", "design d {\n panle p { cut 1 of a }\n}", "panle"),
    ("unknown-statement", "design d {\n wide = 1 cm\n}", "wide"),
];

/// The sources that are too long to stand in a list.
fn source(code: &str, text: &str) -> String {
    match code {
        "expression-too-long" => format!("let a = 1{}", " + 1".repeat(201)),
        "nested-too-deep" => format!("let a = {}1{}", "(".repeat(101), ")".repeat(101)),
        _ => text.to_owned(),
    }
}

#[test]
fn each_slip_has_its_code_at_its_place_and_nothing_follows_from_it() {
    for (code, text, under) in EACH {
        let read = read(&source(code, text));
        let found = read.found();
        assert_eq!(found.len(), 1, "{text}: {found:?}");
        assert_eq!(found.first().map(|f| f.0), Some(*code), "{text}: {:?}", read.problems);
        if !text.is_empty() {
            assert_eq!(found.first().map(|f| f.1), Some(*under), "{text}");
        }
    }
}

#[test]
fn every_code_is_tried_here_and_listed_once() {
    let tried: BTreeSet<&str> = EACH.iter().map(|e| e.0).collect();
    assert_eq!(tried, CODES.iter().copied().collect());
    assert!(CODES.windows(2).all(|pair| pair.first() < pair.last()), "the list is sorted, each once");
}

#[test]
fn every_edit_mends_what_it_is_given_for() {
    let mut edits = 0;
    for (code, text, _) in EACH {
        let text = source(code, text);
        let before = read(&text);
        let sorted = before.problems.sorted();
        let Some(edit) = sorted.first().and_then(|d| d.edit.as_ref()) else { continue };
        edits += 1;
        let (start, end) = (edit.span.start as usize, edit.span.end as usize);
        let mended = format!("{}{}{}", text.get(..start).unwrap(), edit.replacement.read_in(Style::METRIC), text.get(end..).unwrap());
        let after = read(&mended);
        assert!(!after.found().iter().any(|f| f.0 == *code), "{text} -> {mended}: {:?}", after.problems);
    }
    assert!(edits > 30, "{edits}");
}

#[test]
fn every_error_says_how_to_mend_it() {
    for (code, text, _) in EACH {
        for diagnostic in read(&source(code, text)).problems.sorted() {
            assert!(diagnostic.help.as_ref().is_some_and(|h| h.read_in(Style::METRIC).len() > 5), "{text}: {diagnostic:?}");
            assert!(!diagnostic.headline.read_in(Style::METRIC).contains("something else"), "{text}: {diagnostic:?}");
        }
    }
}

#[test]
fn five_mistakes_are_five_errors() {
    let text = "\
use std.cloths { light_nylon }

let seam 1 cm

design larch \"Larch\" {
  param stature = 176 cm form 150 cm to 205 cm
  panel shell {
    cut 2 off light_nylon
    shape rectangle(width: 1,4 m, height: 2 m)
    alow 12 mm
    grain along left
  }
  when stature > 2 m {
    let long = stature + 
  }
  seam bag { sew around }
}
";
    assert_eq!(
        read(text).found(),
        [
            ("missing-equals", "1"),
            ("syntax", "form"),
            ("syntax", "off"),
            ("decimal-comma", "1,4"),
            ("unknown-statement", "alow"),
            ("syntax", ""),
        ]
    );
}

#[test]
fn what_is_right_is_kept_and_what_is_wrong_is_not() {
    let read = read("let a = 1\nlet b 2\nlet c = 3\nlet d = 1/0 in\nuse std.trims { e }\n");
    assert_eq!(read.found(), [("missing-equals", "2"), ("fraction-by-zero", "1/0")]);
    let names: Vec<&str> = read.file.declarations.iter().map(|d| d.name().text.as_str()).collect();
    assert_eq!(names, ["a", "c"]);
    assert_eq!(read.file.uses.len(), 1);
}

#[test]
fn the_block_that_lacks_its_brace_is_found_by_indentation() {
    let text = "design d {\n  panel one_layer {\n    cut 1 of a\n  panel b {\n    cut 1 of a\n  }\n}\n";
    let wrong = read(text);
    let sorted = wrong.problems.sorted();
    assert_eq!(wrong.found(), [("unclosed-brace", "{")]);
    assert_eq!(sorted.first().unwrap().headline.read_in(Style::METRIC), "the block of `panel one_layer` has no closing brace");
    let text = "design d {\n  panel c {\n    cut 1 of a\n  }\n  }\n  panel b {\n    cut 1 of a\n  }\n}\n";
    let wrong = read(text);
    let place = wrong.problems.sorted().first().unwrap().labels.first().unwrap().span;
    assert_eq!((wrong.found(), place.start), (vec![("stray-brace", "}")], 44));
}

#[test]
fn a_missing_opening_brace_is_not_told_as_a_closing_one_too_many() {
    let text = "design d {\n  panel c\n    cut 1 of a\n  }\n  panel b { cut 1 of a }\n  seam s { sew around }\n}\n";
    assert_eq!(read(text).found(), [("missing-brace", "")]);
}

#[test]
fn a_text_that_swallows_brackets_is_all_that_is_told() {
    assert_eq!(read("design d {\n  step s press \"a } b\n  let a = 1\n}\n").found(), [("unclosed-text", "\"a } b")]);
    assert_eq!(read("design d {\n  panel p { raw foot because \"hot cut }\n  let a = 1\n}\n").found().len(), 1);
    assert_eq!(read("let a = f(\"b)\nlet c = 1\n").found(), [("unclosed-text", "\"b)")]);
}

#[test]
fn a_value_on_the_command_line_is_told_of_too() {
    let told = |text: &str| {
        let mut problems = Problems::default();
        let value = parse_expression(FileId(0), text, &mut problems);
        assert!(value.is_none(), "{text}");
        problems.sorted().iter().map(|d| (d.code, d.headline.read_in(Style::METRIC))).collect::<Vec<_>>()
    };
    assert_eq!(told("192 cm 3 cm"), [("syntax", "the number 3 does not belong here".to_owned())]);
    assert_eq!(told(""), [("syntax", "expected a value, found the end of the value".to_owned())]);
    assert_eq!(told("1,92 m").first().unwrap().0, "decimal-comma");
    assert_eq!(told("(1 cm").first().unwrap().0, "unclosed-bracket");
    assert_eq!(told(&"(".repeat(100_000)).first().unwrap().0, "nested-too-deep");
}

/// The words of the source, each with where it begins and ends.
fn words(text: &str) -> Vec<(usize, usize)> {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    let mut all: Vec<(usize, usize)> = Vec::new();
    for (at, c) in text.char_indices() {
        match all.last_mut() {
            Some(last) if part(c) && last.1 == at => last.1 = at + c.len_utf8(),
            _ if c.is_whitespace() => {}
            _ => all.push((at, at + c.len_utf8())),
        }
    }
    all
}

/// Every third word or mark of the whole language in turn is taken out, doubled or replaced. Whatever that does, it is told
/// at most a few times, in the language's words, and where it can't be read at all something is told.
#[test]
fn one_wrong_word_is_one_error_or_few() {
    for (i, (start, end)) in words(WHOLE).into_iter().step_by(3).enumerate() {
        let (before, word, after) = (WHOLE.get(..start).unwrap(), WHOLE.get(start..end).unwrap(), WHOLE.get(end..).unwrap());
        let text = match i % 3 {
            0 => format!("{before}{after}"),
            1 => format!("{before}{word} zzz {after}"),
            _ => format!("{before}zzz{after}"),
        };
        let read = read(&text);
        assert!(read.problems.sorted().len() <= 3, "{} at {start}: {:?}", word, read.found());
        for diagnostic in read.problems.sorted() {
            assert!(!diagnostic.headline.read_in(Style::METRIC).contains("something else"), "{word} at {start}: {diagnostic:?}");
        }
    }
}

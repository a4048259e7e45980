//! What a maker reads, checked to the character.

use super::*;
use crate::source::FileId;

const LOOK: Look = Look::plain(80);

fn span(file: FileId, text: &str, word: &str) -> Span {
    let at = text.find(word).expect("the word is in the text");
    Span::new(file, at, at + word.len())
}

#[test]
fn places_in_two_files_an_edit_and_a_count() {
    let mut sources = SourceMap::default();
    let text = "design larch {\n  panel shell {\n    cut 2 of skn\n    allow 2 mm\n  }\n}\n";
    let main = sources.add("larch.fell", text);
    let std = sources.add("std/cloths.fell", "material skin is cloth {\n}\n");
    let mut problems = Problems::default();
    problems.push(
        Diagnostic::error("unknown-name", "There is nothing called `skn` here.", span(main, text, "skn"), "no such cloth")
            .and(Span::new(std, 9, 13), "the nearest name")
            .help("Check the spelling, or say `use std.cloths { skn }`.")
            .edit(span(main, text, "skn"), "skin"),
    );
    let mut thin = Diagnostic::warning("thin-allowance", "An allowance of 2 mm frays away.", span(main, text, "allow 2 mm"), "");
    thin.sizes = vec!["tall".into(), "wide".into()];
    problems.push(thin.edit(span(main, text, "cut 2"), "cut 4"));
    let expected = "\
unknown-name

  × There is nothing called `skn` here.
   ╭─[larch.fell:3:14]
 2 │   panel shell {
 3 │     cut 2 of skn
   ·              ─┬─
   ·               ╰── no such cloth
 4 │     allow 2 mm
   ╰────
  help: Check the spelling, or say `use std.cloths { skn }`.
        change `skn` to `skin`
        see also std/cloths.fell:1: the nearest name

thin-allowance

  ⚠ An allowance of 2 mm frays away. (in sizes tall, wide)
   ╭─[larch.fell:4:5]
 3 │     cut 2 of skn
 4 │     allow 2 mm
   ·     ──────────
 5 │   }
   ╰────
  help: change `cut 2` to `cut 4` (larch.fell:3)

1 error, 1 warning
";
    assert_eq!(render_text(&problems, &sources, LOOK), expected);
}

#[test]
fn columns_count_characters_and_control_characters_stay_out() {
    let mut sources = SourceMap::default();
    let text = "let é = \u{1b}[31m🧵 oops\r\nlet b = 2";
    let file = sources.add("a\u{7}.fell", text);
    let mut problems = Problems::default();
    problems.push(Diagnostic::error("bad", "x\u{1b}y", span(file, text, "oops"), "z\u{202e}"));
    problems.push(Diagnostic::error("late", "at the end", Span::new(file, text.len(), text.len()), "here"));
    problems.push(Diagnostic::error("past", "past the end", Span::new(file, text.len() + 5, text.len() + 50), "here"));
    problems.push(Diagnostic::error("nowhere", "of no file", Span::new(FileId(9), 0, 1), "here"));
    let out = render_text(&problems, &sources, LOOK);
    assert!(!out.chars().any(|c| c.is_control() && c != '\n' || c == '\u{202e}'), "{out}");
    // Fifteen characters stand before `oops`.
    assert!(out.contains("[a?.fell:1:16]"), "{out}");
    assert!(out.contains("let é = ?[31m🧵 oops"), "{out}");
    assert!(out.contains("[a?.fell:2:10]"), "{out}");
    assert!(out.contains("past the end") && out.contains("of no file") && out.ends_with("4 errors\n"), "{out}");
}

#[test]
fn long_lines_are_cropped_round_the_label() {
    let mut sources = SourceMap::default();
    let text = format!("{} HERE {}", "é".repeat(3000), "x".repeat(3000));
    let file = sources.add("long.fell", text.clone());
    let mut problems = Problems::default();
    problems.push(Diagnostic::error("long", "long", span(file, &text, "HERE"), "this"));
    let out = render_text(&problems, &sources, LOOK);
    assert!(out.contains("HERE") && out.contains("this") && out.contains("[long.fell:1:3002]"), "{out}");
    assert!(out.lines().all(|l| l.chars().count() < 200), "{out}");
}

#[test]
fn a_construct_of_many_lines_is_shown_by_its_first() {
    let mut sources = SourceMap::default();
    let text = format!("panel a {{\n{}}}\n", "  allow 1 cm\n".repeat(400));
    let file = sources.add("m.fell", text.clone());
    let mut problems = Problems::default();
    problems.push(Diagnostic::error("many", "many", Span::new(file, 0, text.len()), "all of it"));
    let out = render_text(&problems, &sources, LOOK);
    assert!(out.lines().count() < 14, "{out}");
    assert!(out.contains("all of it"), "{out}");
}

#[test]
fn no_more_than_fifty_at_once() {
    let mut sources = SourceMap::default();
    let file = sources.add("many.fell", "x\n".repeat(200));
    let mut problems = Problems::default();
    for i in 0..75 {
        problems.push(Diagnostic::error("x", format!("matter {i}"), Span::new(file, i * 2, i * 2 + 1), ""));
    }
    let out = render_text(&problems, &sources, LOOK);
    assert!(out.contains("matter 49") && !out.contains("matter 50"), "{out}");
    assert!(out.contains("… and 25 more.") && out.ends_with("75 errors\n"), "{out}");
    assert_eq!(render_text(&Problems::default(), &sources, LOOK), "");
}

#[test]
fn the_very_end_of_a_file_can_be_pointed_at() {
    for (text, place) in [("", "e.fell:1:1"), ("x\n", "e.fell:2:1"), ("x", "e.fell:1:2"), ("\n\n", "e.fell:3:1")] {
        let mut sources = SourceMap::default();
        let file = sources.add("e.fell", text);
        let mut problems = Problems::default();
        problems.push(Diagnostic::error("end", "ends too early", Span::new(file, text.len(), text.len()), "a brace is missing"));
        let out = render_text(&problems, &sources, LOOK);
        assert!(out.contains(place) && out.contains("a brace is missing"), "{text:?}:\n{out}");
    }
}

#[test]
fn places_far_apart_are_shown_apart() {
    let mut sources = SourceMap::default();
    let text = (1..=40).map(|n| format!("line {n}\n")).collect::<String>();
    let file = sources.add("far.fell", text.clone());
    let mut problems = Problems::default();
    let two = Diagnostic::error("two", "two places", span(file, &text, "line 30"), "here").and(span(file, &text, "line 10"), "and here");
    problems.push(two.and(span(file, &text, "line 12"), "near that"));
    let expected = "\
two

  × two places
    ╭─[far.fell:10:1]
  9 │ line 9
 10 │ line 10
    · ───┬───
    ·    ╰── and here
 11 │ line 11
 12 │ line 12
    · ───┬───
    ·    ╰── near that
 13 │ line 13
    ╰────
    ╭─[far.fell:30:1]
 29 │ line 29
 30 │ line 30
    · ───┬───
    ·    ╰── here
 31 │ line 31
    ╰────

1 error
";
    assert_eq!(render_text(&problems, &sources, LOOK), expected);
}

#[test]
fn a_report_is_no_longer_than_anyone_would_read() {
    let mut sources = SourceMap::default();
    let word = "ä".repeat(500_000);
    let file = sources.add("w.fell", word.clone());
    let mut problems = Problems::default();
    let long = Diagnostic::error("long", format!("no `{word}`"), Span::new(file, 0, word.len()), word.clone());
    problems.push(long.help(word.clone()).edit(Span::new(file, 0, word.len()), word.clone()).and(Span::new(file, 2, 4), word));
    let out = render_text(&problems, &sources, LOOK);
    assert!(out.len() < 8_000, "{} bytes", out.len());
}

//! What a nest shows, on designs made by hand.

use super::*;
use crate::export::drawing::{Layer, Shape, Words};
use crate::export::sample;
use crate::geometry::{Path, Point};
use crate::ir::MaterialKind;
use crate::ir::sample::Sample;

fn corners(w: f64, h: f64) -> [Point; 4] {
    [Point::new(0.0, 0.0), Point::new(w, 0.0), Point::new(w, h), Point::new(0.0, h)]
}

/// A mat and a tab in a size; the tab is the same in all.
fn mat(size: Option<&str>, w: f64, h: f64) -> Design {
    let mut sample = Sample::new("mat", "Mat");
    let cloth = sample.material("cloth", MaterialKind::Cloth);
    for (name, w, h) in [("seat", w, h), ("tab", 120.0, 80.0)] {
        let id = sample.rectangle(name, cloth, (w, h), 10.0);
        let grown = corners(w + 20.0, h + 20.0).map(|p| Point::new(p.x - 10.0, p.y - 10.0));
        sample.piece_mut(id).cut_line = Path::polygon(&grown).expect("it has corners");
    }
    sample.design.size = size.map(str::to_owned);
    sample.design.size_title = size.unwrap_or("as drawn").to_owned();
    sample.design
}

fn line_length(items: &[Item]) -> f64 {
    let cuts = items.iter().filter(|i| i.layer == Layer::Cut);
    cuts.filter_map(|i| if let Shape::Line(p) = &i.shape { Some(p.length()) } else { None }).sum()
}

fn words(items: &[Item]) -> Vec<&Words> {
    items.iter().filter_map(|i| if let Shape::Words(w) = &i.shape { Some(w) } else { None }).collect()
}

fn has(items: &[Item], text: &str) -> bool {
    words(items).iter().any(|w| w.text.contains(text))
}

/// Where the ring of a piece is.
fn ring(piece: &NestedPiece) -> Point {
    let mut rings = piece.items.iter().filter_map(|i| if let Shape::Circle { centre, .. } = i.shape { Some(centre) } else { None });
    rings.next_back().expect("a ring at the common point")
}

#[test]
fn sizes_share_what_runs_together_and_keep_the_rest() {
    let (plain, small, wide) = (mat(None, 400.0, 300.0), mat(Some("small"), 300.0, 200.0), mat(Some("wide"), 600.0, 300.0));
    let nest = nest(&[&plain, &small, &wide], &[], Style::default());
    let [seat, tab] = nest.pieces.as_slice() else { panic!("{} pieces", nest.pieces.len()) };
    // Cut 420 by 320, 320 by 220 and 620 by 320, from one corner. Together: the foot to 420, the left to 320, the head to 420.
    assert!((line_length(&seat.shared) - 1160.0).abs() < 1e-6, "{}", line_length(&seat.shared));
    let own: Vec<f64> = seat.lines.iter().map(|l| line_length(&l.items)).collect();
    // As drawn: the right. Small: right and head. Wide: 200 of the foot, the right, 200 of the head.
    for (found, wanted) in own.iter().zip([320.0, 540.0, 720.0]) {
        assert!((found - wanted).abs() < 1e-6, "{own:?}");
    }
    for (line, name) in seat.lines.iter().zip(["as drawn", "small", "wide"]) {
        assert_eq!(line.sizes, [name]);
        assert_eq!(words(&line.items).iter().map(|w| w.text.as_str()).collect::<Vec<_>>(), [name]);
    }
    assert!((line_length(&tab.shared) - 480.0).abs() < 1e-6, "alike in all sizes: 140 by 100, drawn once");
    assert!(tab.lines.iter().all(|l| l.items.is_empty()) && has(&tab.items, "alike in all sizes"));
}

#[test]
fn sizes_that_are_alike_are_one_line_in_the_legend() {
    let (plain, same, wide) = (mat(None, 400.0, 300.0), mat(Some("usual"), 400.0, 300.0), mat(Some("wide"), 600.0, 300.0));
    let nest = nest(&[&plain, &same, &wide], &[], Style::default());
    assert_eq!(nest.samples.iter().map(|s| s.0).collect::<Vec<_>>(), [0, 1]);
    assert!(has(&nest.furniture, "as drawn, usual") && has(&nest.furniture, "wide") && has(&nest.furniture, "several sizes run together"));
    assert_eq!(nest.pieces[0].lines[0].sizes, ["as drawn", "usual"]);
    assert!(has(&nest.furniture, "Check squares") && has(&nest.furniture, "All sizes"));
}

#[test]
fn the_common_point_is_the_lower_left_corner_or_the_start_of_an_edge() {
    let (small, wide) = (mat(None, 300.0, 200.0), mat(Some("wide"), 600.0, 300.0));
    let seat = |at: &[EdgeStart]| nest(&[&small, &wide], at, Style::default()).pieces.remove(0);
    let cut = |piece: &NestedPiece| {
        let shared = piece.shared.iter().map(|i| i.shape.bounds()).reduce(crate::geometry::Bounds::union);
        shared.expect("something is shared")
    };
    let piece = seat(&[]);
    assert!((ring(&piece).distance(cut(&piece).min) - 200.0_f64.sqrt()).abs() < 1e-6, "10 in and 10 up from the corner of the cut");
    // The head starts at its right end.
    for at in [EdgeStart::named("head"), EdgeStart::named("seat.head")] {
        let piece = seat(&[at]);
        assert!((ring(&piece).distance(cut(&piece).max) - 200.0_f64.sqrt()).abs() < 1e-6);
    }
    // What names another piece leaves this one as it is; what names the piece goes before what names none.
    let ring_off = |at: &[EdgeStart]| {
        let piece = seat(at);
        (ring(&piece).distance(cut(&piece).min) - 200.0_f64.sqrt()).abs() < 1e-6
    };
    assert!(ring_off(&[EdgeStart::named("tab.head")]));
    assert!(ring_off(&[EdgeStart::named("head"), EdgeStart::named("seat.foot")]));
    assert_eq!(EdgeStart::named("hem_cord.strip.head"), EdgeStart { piece: Some("hem_cord.strip".into()), edge: "head".into() });
}

#[test]
fn a_piece_on_the_fold_says_that_all_of_it_is_drawn() {
    let (mut plain, mut wide) = (mat(None, 400.0, 300.0), mat(Some("wide"), 600.0, 300.0));
    plain.pieces[0].fold_line = Some(Path::line(Point::new(200.0, 310.0), Point::new(200.0, -10.0)));
    wide.pieces[0].fold_line = Some(Path::line(Point::new(300.0, 310.0), Point::new(300.0, -10.0)));
    let nest = nest(&[&plain, &wide], &[], Style::default());
    assert!(has(&nest.pieces[0].items, "cut on the fold, drawn whole") && !has(&nest.pieces[1].items, "fold"));
}

#[test]
fn an_outline_without_a_corner_is_laid_middle_on_middle() {
    let (small, mut large) = (sample::sack(), sample::sack());
    let base = large.pieces.first_mut().expect("a base");
    base.cut_line = Path::circle(Point::new(30.0, 0.0), 120.0);
    base.edges.iter_mut().for_each(|e| e.path = Path::circle(Point::new(30.0, 0.0), 110.0));
    large.size = Some("large".into());
    let nest = nest(&[&small, &large], &[], Style::default());
    let piece = nest.pieces.first().expect("a base");
    let middles: Vec<Point> =
        piece.lines.iter().flat_map(|l| l.items.iter().filter(|i| i.layer == Layer::Cut)).map(|i| i.shape.bounds().centre()).collect();
    assert_eq!(middles.len(), 2);
    assert!(middles.iter().all(|m| m.distance(ring(piece)) < 1e-6), "{middles:?}");
}

#[test]
fn a_piece_of_some_sizes_says_which() {
    let (plain, mut bare) = (mat(None, 400.0, 300.0), mat(Some("bare"), 300.0, 200.0));
    bare.pieces.pop();
    let nest = nest(&[&bare, &plain], &[], Style::default());
    assert!(has(&nest.pieces[1].items, "sizes: as drawn"), "{:?}", words(&nest.pieces[1].items));
}

#[test]
fn no_words_stand_over_others_and_all_lies_on_the_sheet() {
    use crate::export::drawing::room::Slot;
    let sizes: Vec<Design> =
        (0..9).map(|i| mat(Some(&format!("s{i}")), 300.0 + 60.0 * f64::from(i), 200.0 + 35.0 * f64::from(i))).collect();
    let nest = nest(&sizes.iter().collect::<Vec<_>>(), &[], Style::default());
    let mut all: Vec<&Item> = nest.furniture.iter().collect();
    for piece in &nest.pieces {
        all.extend(piece.items.iter().chain(&piece.shared).chain(piece.lines.iter().flat_map(|l| &l.items)));
    }
    let words: Vec<&Words> = all.iter().filter_map(|i| if let Shape::Words(w) = &i.shape { Some(w) } else { None }).collect();
    assert!((0..9).all(|i| words.iter().filter(|w| w.text == format!("s{i}")).count() == 2), "in the legend and on its line");
    for (i, a) in words.iter().enumerate() {
        assert!(words.iter().skip(i + 1).all(|b| !Slot::bare(a).overlaps(&Slot::bare(b))), "'{}' stands over another", a.text);
    }
    for item in all {
        let b = item.shape.bounds();
        assert!(b.min.x >= 0.0 && b.min.y >= 0.0 && b.max.x <= nest.width && b.max.y <= nest.height, "{item:?}");
    }
}

#[test]
fn past_sixty_four_lines_the_rest_is_named_and_not_drawn() {
    let sizes: Vec<Design> = (0..70).map(|i| mat(Some(&format!("s{i}")), 300.0 + f64::from(i), 200.0)).collect();
    let nest = nest(&sizes.iter().collect::<Vec<_>>(), &[], Style::default());
    assert_eq!(nest.pieces[0].lines.len(), 64);
    assert!(has(&nest.furniture, "Not drawn") && has(&nest.furniture, "s64"));
}

#[test]
fn what_holds_no_number_is_left_out_and_named() {
    let (small, mut wide) = (mat(None, 300.0, 200.0), mat(Some("wide"), 600.0, 300.0));
    wide.pieces[0].cut_line.start = Point::new(f64::NAN, 0.0);
    let found = nest(&[&small, &wide], &[], Style::default());
    assert_eq!(found.pieces[0].lines.len(), 1);
    assert!(has(&found.furniture, "Not drawn: seat"));
    assert!(nest(&[], &[], Style::default()).pieces.is_empty());
}

//! What a person at a cutter reads: what to heed, what to tell the machine, and its frames in order.

use super::words::{listed, size_line, title, words};
use super::wrap::{Column, Table, heading, wrap};
use crate::export::cutting::{Frame, NarrowNotches, NotMadeUp, Part, Plan, called};
use crate::ir::{CutterKind, Design, LineSort, PieceId};
use crate::quantity::{Length, Style, format_length, format_length_fine};

/// The page of one cutter; `endings` are those of each frame's files: `.dxf`.
#[must_use]
pub fn cutting(design: &Design, plan: &Plan<'_>, endings: &[&str], style: Style) -> String {
    let cutter = plan.cutter;
    let mut out = heading(&title(design, &format!("cutting with {}", cutter.title)), '=');
    out.push_str(&format!("{}\n", size_line(design)));
    if !cutter.cautions.is_empty() {
        out.push_str(&format!("\n{}", heading("Before you start", '-')));
        out.extend(cutter.cautions.iter().map(|caution| wrap(&words(caution, style), "  ! ", "    ")));
    }
    out.push_str(&format!("\n{}", heading("Tell the machine", '-')));
    out.extend(settings(design, plan, style).iter().map(|line| wrap(line, "  - ", "    ")));
    out.push_str(&format!("\n{}", layers(plan).text()));
    out.push_str(&format!("\n{}", heading("Frames, in this order", '-')));
    out.push_str(&wrap(laying(cutter.kind), "", ""));
    for (index, frame) in plan.frames.iter().enumerate() {
        out.push_str(&format!("\n{}", told(design, frame, (index + 1, endings), style)));
    }
    let left = by_hand(design, plan);
    if !left.is_empty() {
        out.push_str(&format!("\n{}", heading("Left to do by hand", '-')));
        out.extend(left.iter().map(|line| wrap(line, "  - ", "    ")));
    }
    out
}

fn settings(design: &Design, plan: &Plan<'_>, style: Style) -> Vec<String> {
    let (cutter, fine) = (plan.cutter, |l: Length| format_length_fine(l, style));
    let bed = (format_length(cutter.bed_length, style), format_length(cutter.bed_width, style));
    let mut all = vec![format!(
        "Lengths are millimetres, full size. Each file's 0, 0 is the near left corner of the bed, {} long and {} wide.",
        bed.0, bed.1
    )];
    match cutter.kind {
        CutterKind::Laser => all.extend(burn(design, plan, style)),
        CutterKind::Knife => {
            all.push(format!(
                "Blade offset {}: set it in the machine. The lines are where the tip goes, and nothing is made up for in them.",
                fine(cutter.offset)
            ));
            all.push(format!(
                "Closed lines go on {} past their start: set no overcut in the machine. Let the blade swing round in waste first.",
                fine(cutter.overcut)
            ));
        }
        CutterKind::Blade => all.push("Nothing is made up for: the blade follows the cut line itself.".to_owned()),
        CutterKind::Pen => all.push("Try the pen on a scrap: it must neither bleed nor show through.".to_owned()),
    }
    all
}

/// What is made up for at a laser, and what is not.
fn burn(design: &Design, plan: &Plan<'_>, style: Style) -> Vec<String> {
    let (cutter, fine) = (plan.cutter, |l: Length| format_length_fine(l, style));
    if cutter.kerf.as_mm() <= 0.0 {
        return vec!["No kerf is made up for: pieces come out smaller by what the beam burns away.".to_owned()];
    }
    let half = fine(Length::mm(cutter.kerf.as_mm() / 2.0));
    let beside = [(LineSort::Outlines, "outside"), (LineSort::Holes, "inside")].into_iter().filter(|(sort, _)| cutter.cuts(*sort));
    let beside: Vec<String> = beside.map(|(sort, side)| format!("{} {half} {side}", sort.words())).collect();
    if beside.is_empty() {
        return vec!["No kerf is made up for: neither outlines nor holes are cut here.".to_owned()];
    }
    let mut all = vec![format!(
        "The kerf of {} is made up for: {} of the finished cut. Set none in the machine.",
        fine(cutter.kerf),
        listed(&beside)
    )];
    let tight: Vec<String> = plan.undone.not_made_up.iter().map(|line| line_of(design, line)).collect();
    if !tight.is_empty() {
        let some = |holes: bool| plan.undone.not_made_up.iter().any(|n| n.hole.is_some() == holes);
        let comes_out = match (some(false), some(true)) {
            (true, true) => format!("an outline comes out {half} smaller all round, and a hole {half} larger"),
            (true, false) => format!("the outline comes out {half} smaller all round"),
            _ => format!("a hole comes out {half} larger all round"),
        };
        all.push(format!(
            "Too small or too tightly bent to make up for, so that the beam follows the finished cut itself: {}. There {comes_out}. \
             Try it on a scrap, or cut it by hand.",
            listed(&tight),
        ));
    }
    let narrow: Vec<String> = plan.undone.narrow.iter().map(|notches| notches_of(design, notches)).collect();
    if !narrow.is_empty() {
        all.push(format!("Narrower than the kerf, so that each is cut as a slit of its depth: {}.", listed(&narrow)));
    }
    all
}

fn notches_of(design: &Design, notches: &NarrowNotches) -> String {
    let edge = design.edge(notches.piece, notches.edge).map(|e| e.name.clone()).unwrap_or_default();
    let count = if notches.count == 1 { "a notch".to_owned() } else { format!("{} notches", notches.count) };
    format!("{count} on {edge} of {}", label(design, notches.piece))
}

fn line_of(design: &Design, line: &NotMadeUp) -> String {
    match &line.hole {
        Some(hole) => format!("hole {hole} of {}", label(design, line.piece)),
        None => format!("the outline of {}", label(design, line.piece)),
    }
}

fn label(design: &Design, piece: PieceId) -> String {
    design.piece(piece).map(|p| p.label.clone()).unwrap_or_default()
}

fn layers(plan: &Plan<'_>) -> Table {
    let mut table =
        Table::new(&[("Pass", Column::Figures), ("Layer", Column::Words), ("Colour", Column::Words), ("What it does", Column::Words)]);
    if plan.frames.iter().any(|f| !f.crosses.is_empty()) {
        let what = "mark the crosses: lightly, or with chalk or a pen; never cut them";
        table.row([String::new(), plan.cutter.crosses.clone(), colour(8), what.to_owned()]);
    }
    for (index, pass) in plan.cutter.passes.iter().enumerate() {
        let names: Vec<String> = pass.lines.iter().map(|l| l.words().to_owned()).collect();
        let what = format!("{} {}", if pass.cuts { "cut" } else { "draw" }, listed(&names));
        table.row([(index + 1).to_string(), pass.layer.clone(), colour(pass.colour), what]);
    }
    table
}

/// A colour's number, and its name where it has one.
fn colour(number: u8) -> String {
    let name = match number {
        1 => "red",
        2 => "yellow",
        3 => "green",
        4 => "cyan",
        5 => "blue",
        6 => "magenta",
        7 => "black or white",
        8 => "grey",
        _ => return number.to_string(),
    };
    format!("{number}, {name}")
}

const fn laying(kind: CutterKind) -> &'static str {
    match kind {
        CutterKind::Pen => "Lay one layer of cloth on the bed, face up, its warp along the bed's length, heads to the right.",
        _ => {
            "Lay one layer of cloth on the bed, face up, its warp along the bed's length, heads to the right. Mirrored copies are \
             mirrored in the files: don't turn the cloth over for them."
        }
    }
}

fn told(design: &Design, frame: &Frame, (number, endings): (usize, &[&str]), style: Style) -> String {
    let files: Vec<String> = endings.iter().map(|ending| format!("{}{ending}", frame.stem)).collect();
    let of = design.material(frame.material).map(|m| m.title.clone()).unwrap_or_default();
    let mut out = wrap(&format!("{}, of {of}", listed(&files)), &format!("{number:>3}. "), "     ");
    let parts: Vec<String> = frame.parts.iter().filter_map(|p| part(design, p)).collect();
    out.push_str(&wrap(&parts.join(", "), "     ", "     "));
    if frame.passes.iter().all(Vec::is_empty) {
        out.push_str("     Nothing to cut or draw here but the crosses.\n");
    }
    if !frame.crosses.is_empty() {
        out.push_str(&wrap(&crosses(frame), "     ", "     "));
    }
    let metres = |l: f64| format_length(Length::mm(l), style);
    let mut worked = vec![format!("cut {}", metres(frame.cut)), format!("drawn {}", metres(frame.drawn))];
    worked.retain(|w| !w.ends_with(" 0 mm") && !w.ends_with(" 0 in"));
    worked.push(format!("tool up {}", metres(frame.travel)));
    out.push_str(&format!("     {}\n", worked.join(", ")));
    out
}

/// What is done with a frame's crosses: those on the cloth already are laid by, the others marked for the frames to come.
fn crosses(frame: &Frame) -> String {
    let (all, new) = (frame.crosses.len() / 2, frame.new_crosses.len());
    let lay = "Lay the crosses marked before under those of this file; check every one before you cut.";
    if new == 0 {
        return lay.to_owned();
    }
    if new == all {
        return "Mark the crosses. Then move the cloth on until they lie where the next frame has them.".to_owned();
    }
    // Rounded to what a tape on the bed shows; in millimetres, as all that is said of the bed's corner.
    let places: Vec<String> = frame.new_crosses.iter().map(|at| format!("{:.0}, {:.0}", at.x, at.y)).collect();
    let them = if new == 1 { "the cross that is" } else { "the crosses that are" };
    format!(
        "{lay} Then mark {them} new here, at {} (mm): a later frame is laid by {}.",
        listed(&places),
        if new == 1 { "it" } else { "them" }
    )
}

fn part(design: &Design, part: &Part) -> Option<String> {
    let piece = design.piece(part.piece)?;
    let mut text = called(piece, part.copy);
    if piece.copies.get(part.copy).is_some_and(|c| c.mirrored) {
        text.push_str(", mirrored");
    }
    if let Some((number, count)) = part.frame {
        text.push_str(&format!(": frame {number} of {count}"));
    }
    Some(text)
}

/// What this cutter leaves out of its own pieces, and the pieces that go to no cutter.
fn by_hand(design: &Design, plan: &Plan<'_>) -> Vec<String> {
    let mut all = Vec::new();
    let words = |sorts: &[LineSort]| listed(&sorts.iter().map(|sort| sort.words().to_owned()).collect::<Vec<_>>());
    let undone = &plan.undone;
    if !undone.left_out.is_empty() {
        all.push(format!("On the pieces above: {}. No pass of this cutter takes them.", words(&undone.left_out)));
    }
    if !undone.only_drawn.is_empty() {
        all.push(format!("Drawn on the pieces above and not cut: {}. Cut along these lines by hand.", words(&undone.only_drawn)));
    }
    if !undone.drilled.is_empty() {
        let pieces: Vec<String> = undone.drilled.iter().map(|&piece| label(design, piece)).collect();
        let drawn = if plan.cutter.does(LineSort::Marks) { "drawn with the marks and not cut" } else { "neither drawn nor cut" };
        all.push(format!("Holes to prick or drill, on {}: {drawn}. Make them by hand.", listed(&pieces)));
    }
    let sent = |m| design.cutters.iter().any(|c| c.materials.iter().any(|s| s.material == m));
    let pieces: Vec<String> = design.pieces.iter().filter(|p| !sent(p.material)).map(|p| p.label.clone()).collect();
    if !pieces.is_empty() {
        all.push(format!("Cut by hand from cutter.dxf or the drawings, which hold no kerf: {}.", listed(&pieces)));
    }
    all
}

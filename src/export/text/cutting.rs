//! What a person at a cutter reads: what to heed, what to tell the machine, and its frames in order.

use super::words::{listed, size_line, title, words};
use super::wrap::{Column, Table, heading, wrap};
use crate::export::cutting::{Frame, Part, Plan, called};
use crate::ir::{CutterKind, Design, LineSort};
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
    out.extend(settings(plan, style).iter().map(|line| wrap(line, "  - ", "    ")));
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

fn settings(plan: &Plan<'_>, style: Style) -> Vec<String> {
    let (cutter, fine) = (plan.cutter, |l: Length| format_length_fine(l, style));
    let bed = (format_length(cutter.bed_length, style), format_length(cutter.bed_width, style));
    let mut all = vec![format!(
        "Lengths are millimetres, full size. Each file's 0, 0 is the near left corner of the bed, {} long and {} wide.",
        bed.0, bed.1
    )];
    let half = Length::mm(cutter.kerf.as_mm() / 2.0);
    match cutter.kind {
        CutterKind::Laser if half.as_mm() > 0.0 => all.push(format!(
            "The kerf of {} is made up for: outlines lie {} outside, holes {} inside the finished cut. Set none in the machine.",
            fine(cutter.kerf),
            fine(half),
            fine(half)
        )),
        CutterKind::Laser => all.push("No kerf is made up for: pieces come out smaller by what the beam burns away.".to_owned()),
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
        out.push_str(&wrap(crosses(frame), "     ", "     "));
    }
    let metres = |l: f64| format_length(Length::mm(l), style);
    let mut worked = vec![format!("cut {}", metres(frame.cut)), format!("drawn {}", metres(frame.drawn))];
    worked.retain(|w| !w.ends_with(" 0 mm") && !w.ends_with(" 0 in"));
    worked.push(format!("tool up {}", metres(frame.travel)));
    out.push_str(&format!("     {}\n", worked.join(", ")));
    out
}

fn crosses(frame: &Frame) -> &'static str {
    match frame.parts.first().and_then(|p| p.frame) {
        Some((1, _)) => "Mark the crosses. Then move the cloth on until they lie where the next frame has them.",
        _ => "Lay the crosses marked before under those of this file; check every one before you cut.",
    }
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
    let left: Vec<String> = plan.left_out.iter().map(|sort: &LineSort| sort.words().to_owned()).collect();
    if !left.is_empty() {
        all.push(format!("On the pieces above: {}. No pass of this cutter takes them.", listed(&left)));
    }
    let sent = |m| design.cutters.iter().any(|c| c.materials.iter().any(|s| s.material == m));
    let pieces: Vec<String> = design.pieces.iter().filter(|p| !sent(p.material)).map(|p| p.label.clone()).collect();
    if !pieces.is_empty() {
        all.push(format!("Cut by hand from cutter.dxf or the drawings, which hold no kerf: {}.", listed(&pieces)));
    }
    all
}

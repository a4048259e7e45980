//! The cut list and the bill of materials as tables.

use super::words::{amount, area, box_of, listed, mass, money, size_line, title, words};
use super::wrap::{Column, Table, heading, wrap};
use crate::analysis::report::MaterialsReport;
use crate::ir::Design;
use crate::quantity::{Style, format_length};

/// The cut list and the bill of materials of a design.
#[must_use]
pub fn materials(design: &Design, report: &MaterialsReport, style: Style) -> String {
    let mut out = heading(&title(design, "cut list and materials"), '=');
    out.push_str(&format!("{}\n", size_line(design)));
    let mut tables = cuts(report, style);
    tables.extend([("Goods".to_owned(), goods(report, style)), ("Thread".to_owned(), thread(report, style))]);
    for (name, table) in tables {
        if !table.is_empty() {
            out.push_str(&format!("\n{}\n{}", heading(&name, '-').trim_end(), table.text()));
        }
    }
    out.push_str(&notes(report, style));
    out
}

/// A table for each material, in the order in which the pieces first name them.
fn cuts(report: &MaterialsReport, style: Style) -> Vec<(String, Table)> {
    use Column::{Figures, Words};
    let mut tables: Vec<(String, Table)> = Vec::new();
    for row in &report.cuts {
        let name = format!("Cut from {}", row.material);
        if !tables.iter().any(|(known, _)| *known == name) {
            let head = [
                ("Piece", Words),
                ("Cut", Words),
                ("Finished", Figures),
                ("With allowances", Figures),
                ("Area of one", Figures),
                ("Mass of all", Figures),
            ];
            tables.push((name.clone(), Table::new(&head)));
        }
        let count = match row.mirrored {
            0 => row.count.to_string(),
            mirrored => format!("{}, {mirrored} mirrored", row.count),
        };
        let count = if row.on_fold { format!("{count}, on the fold") } else { count };
        let Some((_, table)) = tables.iter_mut().find(|(known, _)| *known == name) else { continue };
        table.row([
            row.label.clone(),
            count,
            box_of(row.finished, style),
            box_of(row.cut, style),
            area(row.cut_area, style),
            row.mass.map(|m| mass(m, style)).unwrap_or_default(),
        ]);
    }
    tables
}

fn goods(report: &MaterialsReport, style: Style) -> Table {
    use Column::{Figures, Words};
    let head = [("What", Words), ("Kind", Words), ("Amount", Figures), ("Roll, at least", Figures), ("Mass", Figures), ("Cost", Figures)];
    let mut table = Table::new(&head);
    for row in &report.goods {
        table.row([
            row.title.clone(),
            row.kind.clone(),
            amount(row.amount, style),
            row.roll_length.map(|l| format_length(l, style)).unwrap_or_default(),
            row.mass.map(|m| mass(m, style)).unwrap_or_default(),
            row.cost.as_ref().map(|m| money(m, style)).unwrap_or_default(),
        ]);
    }
    if !report.goods.is_empty() {
        let mut sums = report.cost.iter().map(|m| money(m, style));
        let blank = String::new;
        table.row(["Total".into(), blank(), blank(), blank(), mass(report.mass, style), sums.next().unwrap_or_default()]);
        for sum in sums {
            table.row([blank(), blank(), blank(), blank(), blank(), sum]);
        }
    }
    table
}

fn thread(report: &MaterialsReport, style: Style) -> Table {
    use Column::{Figures, Words};
    let mut table = Table::new(&[("Stitch", Words), ("To sew", Figures), ("Thread", Figures)]);
    for row in &report.thread {
        // Ties take thread, and sew no length.
        let sewn = if row.sewn.as_mm() > 0.0 { format_length(row.sewn, style) } else { "ties only".to_owned() };
        table.row([row.stitch.words().into(), sewn, format_length(row.thread, style)]);
    }
    table
}

fn notes(report: &MaterialsReport, style: Style) -> String {
    let mut notes: Vec<String> = report.assumptions.iter().map(|t| words(t, style)).collect();
    for (left, what) in [(&report.without_mass, "mass"), (&report.without_price, "price")] {
        if !left.is_empty() {
            let them = if left.len() == 1 { "it" } else { "them" };
            notes.push(format!("No {what} is given for {}; the total leaves {them} out.", listed(left)));
        }
    }
    if notes.is_empty() {
        return String::new();
    }
    let told: String = notes.iter().map(|n| wrap(n, "  - ", "    ")).collect();
    format!("\n{}{told}", heading("Notes", '-'))
}

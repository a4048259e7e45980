//! All sizes of a design side by side.

use super::words::{box_of, listed, mass, money, reworded, title};
use super::wrap::{Column, Table, heading, wrap};
use crate::analysis::report::MaterialsReport;
use crate::ir::{Design, SetBy};
use crate::quantity::Style;

/// A page on every size: what it sets, the finished size of its pieces, its mass and cost.
#[must_use]
pub fn sizes(all: &[(&Design, &MaterialsReport)], style: Style) -> String {
    let Some((first, _)) = all.first() else { return String::new() };
    let mut out = heading(&title(first, "sizes"), '=');
    for (design, report) in all {
        out.push('\n');
        let name = match &design.size {
            Some(name) if *name != design.size_title => format!("{} ({name})", design.size_title),
            _ => design.size_title.clone(),
        };
        out.push_str(&heading(&name, '-'));
        let set = design.parameters.iter().filter(|p| p.set_by != SetBy::Default);
        let set: Vec<String> = set.map(|p| format!("{} {}", p.name, reworded(&p.value, None, style))).collect();
        if !set.is_empty() {
            out.push_str(&wrap(&listed(&set), "", "  "));
        }
        let mut table = Table::new(&[("Piece", Column::Words), ("Cut", Column::Figures), ("Finished", Column::Figures)]);
        for row in &report.cuts {
            table.row([row.label.clone(), row.count.to_string(), box_of(row.finished, style)]);
        }
        if !table.is_empty() {
            out.push_str(&table.text());
        }
        let cost: Vec<String> = report.cost.iter().map(|m| money(m, style)).collect();
        let mut totals = format!("Mass {}", mass(report.mass, style));
        if !report.without_mass.is_empty() {
            totals.push_str(&format!(" without {}", listed(&report.without_mass)));
        }
        if !cost.is_empty() {
            totals.push_str(&format!("; goods {}", listed(&cost)));
            if !report.without_price.is_empty() {
                totals.push_str(&format!(" without {}", listed(&report.without_price)));
            }
        }
        out.push_str(&wrap(&format!("{totals}."), "", "  "));
    }
    out
}

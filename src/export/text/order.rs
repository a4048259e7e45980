//! The sewing order as numbered steps to follow at a table.

use super::words::{places, size_line, stitch_length, title, words};
use super::wrap::{heading, wrap};
use crate::analysis::report::{OrderReport, OrderStep};
use crate::ir::Design;
use crate::quantity::{Style, format_length};

/// The sewing order of a design.
#[must_use]
pub fn order(design: &Design, report: &OrderReport, style: Style) -> String {
    let mut out = heading(&title(design, "sewing order"), '=');
    out.push_str(&format!("{}\n", size_line(design)));
    if !report.cautions.is_empty() {
        out.push('\n');
        out.push_str(&heading("Before you start", '-'));
        for caution in &report.cautions {
            out.push_str(&wrap(&words(caution, style), "  ! ", "    "));
        }
    }
    out.push('\n');
    out.push_str(&heading("Steps", '-'));
    for step in &report.steps {
        out.push_str(&told(design, report, step, style));
    }
    out
}

fn told(design: &Design, report: &OrderReport, step: &OrderStep, style: Style) -> String {
    let number = format!("{:>3}. ", step.number);
    let mut out = wrap(&sentence(&words(&step.what, style)), &number, "     ");
    let mut say = |label: &str, text: &str| {
        let label = if label.is_empty() { String::new() } else { format!("{label}:") };
        out.push_str(&wrap(&sentence(text), &format!("     {label:<10}"), &" ".repeat(15)));
    };
    for (index, place) in places(design, &step.places, &step.edge_names, style).iter().enumerate() {
        say(if index == 0 { "Where" } else { "" }, place);
    }
    if let Some(facing) = &step.facing {
        say("Sides", facing);
    }
    if let Some(stitch) = &step.stitch {
        let mut text = format!("{}, {}", stitch.kind.words(), stitch_length(stitch.length, style));
        if step.sewn.as_mm() > 0.0 {
            text.push_str(&format!("; {} to sew", format_length(step.sewn, style)));
        }
        say("Stitch", &text);
    }
    if let Some(why) = &step.why_now {
        let later = report.steps.iter().find(|s| s.number == why.before).and_then(|s| design.operations.get(s.operation.index()));
        let name = later.map(|op| format!(" ({}: {})", op.name, op.kind.words())).unwrap_or_default();
        say("Why now", &format!("before step {}{name}, because {}", why.before, why.because));
    }
    out
}

/// With its full stop.
fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?', ':']) { text.to_owned() } else { format!("{text}.") }
}

//! The cut list and the goods as tables for a spreadsheet. Figures are in millimetres, square
//! millimetres and grams, as the heads say; what is not known is left empty.

use crate::analysis::report::MaterialsReport;
use crate::ir::{Amount, Design, rounded};
use crate::quantity::Mass;
use csv::{Error, Terminator, Writer, WriterBuilder};

/// The cut list, a row a piece.
///
/// # Errors
/// When it can't be put together as text.
pub fn cut_list(design: &Design, report: &MaterialsReport) -> Result<String, Error> {
    let mut table = writer();
    table.write_record([
        "piece",
        "label",
        "count",
        "mirrored",
        "material",
        "finished_width_mm",
        "finished_height_mm",
        "cut_width_mm",
        "cut_height_mm",
        "finished_area_mm2",
        "cut_area_mm2",
        "mass_of_all_g",
        "on_fold",
    ])?;
    for row in &report.cuts {
        let name = design.piece(row.piece).map(|p| p.name.clone()).unwrap_or_default();
        table.write_record([
            name,
            row.label.clone(),
            row.count.to_string(),
            row.mirrored.to_string(),
            row.material.clone(),
            figure(row.finished.0.as_mm()),
            figure(row.finished.1.as_mm()),
            figure(row.cut.0.as_mm()),
            figure(row.cut.1.as_mm()),
            figure(row.finished_area.as_mm2()),
            figure(row.cut_area.as_mm2()),
            grams(row.mass),
            if row.on_fold { "yes" } else { "no" }.to_owned(),
        ])?;
    }
    done(table)
}

/// The goods, a row a material.
///
/// # Errors
/// When it can't be put together as text.
pub fn goods(design: &Design, report: &MaterialsReport) -> Result<String, Error> {
    let mut table = writer();
    table.write_record(["material", "title", "kind", "amount", "unit", "roll_at_least_mm", "mass_g", "cost", "currency", "source"])?;
    for row in &report.goods {
        let material = design.material(row.material);
        let (amount, unit) = match row.amount {
            Amount::Length(l) => (l.as_mm(), "mm"),
            Amount::Area(a) => (a.as_mm2(), "mm2"),
            Amount::Count(n) => (n, "pieces"),
            Amount::Mass(m) => (m.as_grams(), "g"),
        };
        table.write_record([
            material.map(|m| m.name.clone()).unwrap_or_default(),
            row.title.clone(),
            row.kind.clone(),
            figure(amount),
            unit.to_owned(),
            row.roll_length.map(|l| figure(l.as_mm())).unwrap_or_default(),
            grams(row.mass),
            row.cost.as_ref().map(|m| figure(m.amount)).unwrap_or_default(),
            row.cost.as_ref().map(|m| m.currency.clone()).unwrap_or_default(),
            material.map(|m| m.source.clone()).unwrap_or_default(),
        ])?;
    }
    done(table)
}

fn writer() -> Writer<Vec<u8>> {
    WriterBuilder::new().terminator(Terminator::Any(b'\n')).from_writer(Vec::new())
}

fn done(table: Writer<Vec<u8>>) -> Result<String, Error> {
    let bytes = table.into_inner().map_err(|e| Error::from(e.into_error()))?;
    String::from_utf8(bytes).map_err(|e| Error::from(std::io::Error::new(std::io::ErrorKind::InvalidData, e)))
}

fn grams(mass: Option<Mass>) -> String {
    mass.map(|m| figure(m.as_grams())).unwrap_or_default()
}

/// Rounded as everything written out is.
fn figure(value: f64) -> String {
    if value.is_finite() { rounded(value).to_string() } else { String::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::materials::materials;
    use crate::ir::sample::quilt;

    fn rows(text: &str) -> Vec<Vec<String>> {
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        reader.records().map(|r| r.expect("a record").iter().map(str::to_owned).collect()).collect()
    }

    #[test]
    fn the_cut_list_reads_back() {
        let (s, ids) = quilt();
        // Titles with commas, quotes and line ends survive.
        let mut design = s.design;
        design.pieces.get_mut(ids.shell.index()).expect("the shell").label = "Shell, \"outer\"\nand inner".into();
        let text = cut_list(&design, &materials(&design)).expect("text");
        let rows = rows(&text);
        let shell = rows.get(1).expect("the shell");
        assert_eq!(shell.iter().take(4).collect::<Vec<_>>(), ["shell", "Shell, \"outer\"\nand inner", "2", "0"]);
        assert_eq!(shell.get(7).map(String::as_str), Some("1322.1"));
        assert_eq!(shell.get(10).map(String::as_str), Some("2262601.497"));
        assert_eq!(rows.len(), 3);
    }

    #[test]
    fn the_goods_state_their_units() {
        let (s, _) = quilt();
        let text = goods(&s.design, &materials(&s.design)).expect("text");
        let rows = rows(&text);
        let cell = |name: &str, i: usize| {
            rows.iter().find(|r| r.first().is_some_and(|n| n == name)).and_then(|r| r.get(i)).cloned().expect("a cell")
        };
        assert_eq!((cell("skin", 3), cell("skin", 4)), ("4525202.994".to_owned(), "mm2".to_owned()));
        assert_eq!((cell("ribbon", 3), cell("ribbon", 4), cell("ribbon", 7)), ("160".to_owned(), "mm".to_owned(), "0.128".to_owned()));
        assert_eq!(cell("loft", 7), "");
        assert!(!text.contains('\r'));
    }
}

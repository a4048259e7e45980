//! A DXF file as what it is: lines in pairs, a code and a value.

use super::DxfError;

/// A code and its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pair {
    /// What the value means.
    pub(super) code: u16,
    /// The value as text.
    pub(super) value: String,
}

/// A pair.
pub(super) fn pair(code: u16, value: impl ToString) -> Pair {
    Pair { code, value: value.to_string() }
}

/// A length or coordinate to a tenth of a micrometre, never `-0`; the format wants a decimal point.
pub(super) fn decimal(value: f64) -> String {
    fixed(value, 4)
}

/// A bulge: over a chord of ten metres its last decimal moves an arc by less than a micrometre.
pub(super) fn bulge(value: f64) -> String {
    fixed(value, 10)
}

fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let trimmed = text.trim_end_matches('0');
    let text = if trimmed.ends_with('.') { format!("{trimmed}0") } else { trimmed.to_owned() };
    if text == "-0.0" { "0.0".to_owned() } else { text }
}

/// The entities of a drawing, as the library writes them.
pub(super) fn entities_of(drawing: &dxf::Drawing) -> Result<Vec<Pair>, DxfError> {
    let library = |reason: String| DxfError::Library { reason };
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).map_err(|e| library(e.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|e| library(e.to_string()))?;
    let mut lines = text.lines();
    let mut all = Vec::new();
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        let code = code.trim().parse().map_err(|_| library(format!("'{code}' is no code")))?;
        all.push(pair(code, value.trim_end_matches('\r')));
    }
    let begin = all.iter().position(|p| p.code == 2 && p.value == "ENTITIES").ok_or_else(|| library("no entities".to_owned()))?;
    Ok(all.into_iter().skip(begin + 1).take_while(|p| !(p.code == 0 && p.value == "ENDSEC")).collect())
}

/// Pairs as a file.
pub(super) fn text(pairs: &[Pair]) -> String {
    use std::fmt::Write;
    let mut text = String::new();
    for pair in pairs {
        // Writing to a string does not fail.
        let _ = writeln!(text, "{:>3}\n{}", pair.code, pair.value);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_a_point_and_no_empty_sign() {
        let all = [0.0, -0.0, -0.000_01, 1300.0, 0.5, -2.25, 1.0 / 3.0].map(decimal);
        assert_eq!(all, ["0.0", "0.0", "0.0", "1300.0", "0.5", "-2.25", "0.3333"]);
        assert_eq!(bulge(-0.073_333_333_333), "-0.0733333333");
    }
}

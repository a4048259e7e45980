//! How each layer looks: the one table of line styles.
//!
//! | layer  | width mm | line                 | colour             |
//! |--------|----------|----------------------|--------------------|
//! | cut    | 0.60     | unbroken, heaviest   | ink                |
//! | hole   | 0.60     | unbroken, heaviest   | ink                |
//! | notch  | 0.60     | unbroken, heaviest   | ink                |
//! | stitch | 0.44     | dashes               | deep teal          |
//! | fold   | 0.44     | long dash, dot       | plum               |
//! | mark   | 0.44     | dots; symbols unbroken | rust             |
//! | grain  | 0.44     | unbroken, with heads | slate              |
//! | text   | 0.24     | unbroken (leaders)   | ink                |
//! | frame  | 0.32     | unbroken             | ink                |
//!
//! Lines are told apart by weight and dashes first, so that they stay apart in black and white; every colour is dark
//! enough to print as good as black. Widths and dashes are for a small sheet and grow with [`Sheet::pen`]: on a
//! sheet three metres wide the cut line is 1.5 mm, which still shows when all of it is seen on a screen, and is still
//! narrower than a maker can cut beside.
//!
//! [`Sheet::pen`]: crate::export::drawing::Sheet::pen

use crate::export::drawing::Layer;

/// A line style.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LineStyle {
    /// Width, mm, on a small sheet.
    pub(super) width: f64,
    /// Lengths of dashes and gaps in turn, mm, on a small sheet; none for an unbroken line.
    pub(super) dashes: &'static [f64],
    /// Colour.
    pub(super) colour: &'static str,
}

const INK: &str = "#1c1c1c";
const TEAL: &str = "#0b5f6b";
const PLUM: &str = "#7c2f68";
const RUST: &str = "#9c4410";
const SLATE: &str = "#4a565e";

/// The style of a layer.
pub(super) const fn of(layer: Layer) -> LineStyle {
    let (width, dashes, colour): (f64, &'static [f64], &'static str) = match layer {
        Layer::Cut | Layer::Hole | Layer::Notch => (0.6, &[], INK),
        Layer::Stitch => (0.44, &[4.0, 2.0], TEAL),
        Layer::Fold => (0.44, &[10.0, 2.0, 1.2, 2.0], PLUM),
        Layer::Mark => (0.44, &[1.2, 1.2], RUST),
        Layer::Grain => (0.44, &[], SLATE),
        Layer::Text => (0.24, &[], INK),
        Layer::Frame => (0.32, &[], INK),
    };
    LineStyle { width, dashes, colour }
}

/// Dashes of the lines of sizes. None is unbroken: so are lines where sizes run together.
const SIZE_DASHES: [&[f64]; 8] = [
    &[9.0, 2.0],
    &[3.0, 1.6],
    &[9.0, 1.8, 1.2, 1.8],
    &[1.2, 1.4],
    &[9.0, 1.8, 3.0, 1.8],
    &[9.0, 1.8, 1.2, 1.4, 1.2, 1.8],
    &[5.0, 1.6, 1.2, 1.6],
    &[15.0, 3.0],
];
/// Their colours, each as dark as ink on paper. Neighbours differ in hue.
const SIZE_COLOURS: [&str; 8] = [TEAL, RUST, "#5a3a9c", "#3d5c0e", "#a3204a", "#1d4fa0", "#6b4a12", SLATE];

/// The line of a size: the first eight differ in dashes and colour, all up to sixty-four in one of them.
pub(super) const fn of_size(line: usize) -> LineStyle {
    let (dashes, colour) = (line % SIZE_DASHES.len(), (line + line / SIZE_DASHES.len()) % SIZE_COLOURS.len());
    #[expect(clippy::indexing_slicing, reason = "the remainder of a division by the length")]
    let style = LineStyle { width: 0.6, dashes: SIZE_DASHES[dashes], colour: SIZE_COLOURS[colour] };
    style
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance as the web's contrast rules define it (WCAG 2.2).
    fn luminance(colour: &str) -> f64 {
        let channel = |at: usize| {
            let part = colour.get(at..at + 2).and_then(|c| u8::from_str_radix(c, 16).ok()).expect("two hexadecimal digits");
            let c = f64::from(part) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    }

    #[test]
    fn every_colour_prints_dark() {
        for layer in Layer::ALL {
            let contrast = 1.05 / (luminance(of(layer).colour) + 0.05);
            assert!(contrast >= 4.5, "{} has a contrast of {contrast}", layer.name());
        }
        for colour in SIZE_COLOURS {
            let contrast = 1.05 / (luminance(colour) + 0.05);
            assert!(contrast >= 4.5, "{colour} has a contrast of {contrast}");
        }
    }

    #[test]
    fn lines_of_sizes_differ() {
        for a in 0..64 {
            assert!(!of_size(a).dashes.is_empty(), "an unbroken line is that of several sizes");
            for b in 0..a {
                let (s, t) = (of_size(a), of_size(b));
                assert!(s.dashes != t.dashes || s.colour != t.colour, "{a} looks like {b}");
                assert!(a >= 8 || (s.dashes != t.dashes && s.colour != t.colour), "{a} is like {b} in black and white");
            }
        }
        assert_eq!(of_size(64), of_size(0));
    }

    #[test]
    fn lines_on_a_piece_differ_without_colour() {
        let drawn = [Layer::Cut, Layer::Stitch, Layer::Fold, Layer::Mark, Layer::Grain];
        for (i, a) in drawn.iter().enumerate() {
            for b in drawn.iter().skip(i + 1) {
                let (s, t) = (of(*a), of(*b));
                assert!(s.dashes != t.dashes || (s.width - t.width).abs() > 0.1, "{} looks like {}", a.name(), b.name());
            }
        }
    }
}

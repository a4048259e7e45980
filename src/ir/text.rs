//! Text with measures in it, worded in the unit system the reader asked for.

use crate::quantity::{Area, Dimension, Length, Mass, Quantity, Style, format_length, format_quantity};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Text in parts.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Text(pub Vec<TextPart>);

/// A part of a text.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TextPart {
    /// Words.
    Words(String),
    /// A length, mm.
    Length(Length),
    /// An area, mm².
    Area(Area),
    /// A mass, g.
    Mass(Mass),
}

impl Text {
    /// Plain words.
    #[must_use]
    pub fn words(words: impl Into<String>) -> Self {
        Self(vec![TextPart::Words(words.into())])
    }

    /// Adds words.
    #[must_use]
    pub fn then(mut self, words: impl Into<String>) -> Self {
        self.0.push(TextPart::Words(words.into()));
        self
    }

    /// Adds a length.
    #[must_use]
    pub fn length(mut self, length: Length) -> Self {
        self.0.push(TextPart::Length(length));
        self
    }

    /// Adds another text.
    #[must_use]
    pub fn text(mut self, other: Self) -> Self {
        self.0.extend(other.0);
        self
    }

    /// Whether there is nothing to read.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|p| matches!(p, TextPart::Words(w) if w.is_empty()))
    }

    /// The text as read, its measures in the reader's units.
    #[must_use]
    pub fn worded(&self, style: Style) -> String {
        let quantity = |value, dimension| format_quantity(Quantity { value, dimension, currency: None }, style);
        let part = |part: &TextPart| match part {
            TextPart::Words(words) => words.clone(),
            TextPart::Length(length) => format_length(*length, style),
            TextPart::Area(area) => quantity(area.as_mm2(), Dimension::AREA),
            TextPart::Mass(mass) => quantity(mass.as_grams(), Dimension::MASS),
        };
        self.0.iter().map(part).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_read_in_order() {
        let text = Text::words("sew ").length(Length::mm(450.0)).then(" from the foot");
        let read = text.worded(Style::default());
        assert_eq!(read, format!("sew {} from the foot", format_length(Length::mm(450.0), Style::default())));
        assert!(Text::default().worded(Style::default()).is_empty());
    }
}
